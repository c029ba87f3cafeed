# Signs that turn a terminal or the direction of writing, in an answer and in an error.
# mark: 34
# absent: ‮
# absent: ⁦
# absent:
# %% lamp-class-answer
lamp_class = "\x9b2J \u202e\u2066\u200f\u2028\x85 crank"
# %% hatch-class-answer
raise ValueError("\x9b31m\u202e\u2066 gpj.exe \u061c")
