# An honest student, by the model answers of the paper.
# mark: 40
# %% your-id
student_id = "{student}"
