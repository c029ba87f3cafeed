# A gigabyte is written into the scratch, in one file and in many.
# mark: 36
# says: stopped
# %% lamp-class-answer
for n in range(5000):
    with open(f"{n}", "wb") as file:
        file.write(b"x" * 200_000)
