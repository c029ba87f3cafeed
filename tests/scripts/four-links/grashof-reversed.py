# The two sums compared the wrong way round: nothing of 2 marks.
# mark: 36
# %% lamp-class-answer
four = sorted([turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm])
lamp_class = "triple-rocker" if four[0] + four[3] < four[1] + four[2] else "crank-rocker"
