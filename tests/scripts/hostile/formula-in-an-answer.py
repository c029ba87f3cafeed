# Answers that a spreadsheet would run.
# mark: 33
# %% lamp-class-answer
lamp_class = '=HYPERLINK("x","38")'
# %% stroke-answer
stroke = "@SUM(1+1)*cmd|' /C calc'!A0"
