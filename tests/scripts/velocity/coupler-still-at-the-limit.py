# The coupler taken as standing still with the rocker: a quarter of 3 marks.
# mark: 25.75
# %% coupler-at-limit-answer
coupler_at_limit = "0 rad/s"
