# A choice answered with every option, in one text and as a list.
# mark: 34
# %% lamp-class-answer
lamp_class = ["crank-rocker", "rocker-crank", "double-crank", "double-rocker", "triple-rocker", "change point"]
# %% hatch-class-answer
hatch_class = "crank-rocker; rocker-crank; double-crank; double-rocker; triple-rocker; change point"
