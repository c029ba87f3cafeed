# Python that would do something in place of a formula: nothing of 2 marks, and it is not run.
# mark: 17
# %% joint-part-answer
joint_part = "__import__('os').remove('gradebook.db')"
