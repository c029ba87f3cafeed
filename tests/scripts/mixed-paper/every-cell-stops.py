# Cells that stop one after the other; each costs its own marks only.
# mark: 42
# %% mobility-of-counts-answer
mobility_of_counts = parts.nothing
# %% swing-answer
swing = undefined
# %% twelve-positions-answer
raise RuntimeError("no idea")
