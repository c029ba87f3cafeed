# The table left as it was: nothing of 3 marks.
# mark: 16
# %% eye-table-answer
eye_table = {f"{turned} deg": None for turned in range(0, 360, 60)}
