# Control signs, a change of writing direction and halves of characters in an answer.
# mark: 34
# absent: 
# %% lamp-class-answer
lamp_class = "\x1b[2J\x1b]0;taken\x07crank\x00\x08"
# %% hatch-class-answer
hatch_class = "\ud800\udfff\u202e change point"
