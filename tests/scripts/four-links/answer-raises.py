# An answer that stops with an error: nothing of 3 marks, and the rest goes on.
# mark: 35
# %% far-limit-answer
far_limit = f"{np.degrees(np.arccos(undefined_name))} deg"
