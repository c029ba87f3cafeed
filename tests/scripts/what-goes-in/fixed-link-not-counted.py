# The fixed link not counted: nothing of 1 mark.
# mark: 12
# %% link-count-answer
link_count = len(lk.machine(str(machine.machine)).links) - 1
