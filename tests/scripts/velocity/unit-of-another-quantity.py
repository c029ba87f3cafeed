# A length where a velocity is asked for: nothing of 1 mark.
# mark: 27
# %% pin-speed-answer
pin_speed = (rack.crank_mm, "mm")
