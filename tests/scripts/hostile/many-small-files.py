# Files without end, each of no size.
# mark: 36
# %% lamp-class-answer
for number in range(10**9):
    open(f"{number}", "w").close()
