# Ten million characters are printed, in long lines and in short ones.
# mark: 38
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
for _ in range(10):
    print("x" * 1_000_000)
for n in range(20_000):
    print(n)
lamp_class = right
