# A linkage in place of a number: nothing of 3 marks.
# mark: 16
# %% eye-height-answer
eye_height = lk.four_bar(guide.ground, guide.crank, guide.arm, guide.rocker)
