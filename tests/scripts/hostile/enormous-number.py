# An integer of a hundred thousand digits, and one that no float holds.
# mark: 32
# %% stroke-answer
stroke = 10**100_000
# %% slider-at-answer
slider_at = (10**400, "mm")
