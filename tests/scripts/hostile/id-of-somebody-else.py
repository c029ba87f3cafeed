# Another id is typed in, and the answers are for that id.
# mark: any
# %% your-id
student_id = "somebody-else"
