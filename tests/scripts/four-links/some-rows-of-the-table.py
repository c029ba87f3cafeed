# Two rows of four filled in: a half of 4 marks.
# mark: 36
# %% link-kinds-answer
found = lk.motion_kinds(lk.slider_crank(0.06, 0.2).with_fixed(str(chain.fixed)))
link_kinds = {"ground": found["ground"], "crank": found["crank"], "rod": "", "slider": "sideways"}
