# The answer is a text of a hundred megabytes.
# mark: 36
# %% lamp-class-answer
lamp_class = "crank-rocker" * 8_000_000
