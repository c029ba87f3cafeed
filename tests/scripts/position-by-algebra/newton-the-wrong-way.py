# The step of Newton's method added instead of taken off: a half of 3 marks.
# mark: 17.5
# %% newton-step-answer
f = (guess.guess - guess.pin_x) ** 2 + (guess.offset - guess.pin_y) ** 2 - guess.rod**2
newton_step = (guess.guess + f / (2 * (guess.guess - guess.pin_x)), "m")
