# The dearest answer left out: nothing of 5 marks.
# mark: 18
# %% slider-acceleration-answer
slider_acceleration = ""
