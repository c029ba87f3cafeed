# The answer is a list in a list in a list, and holds itself.
# mark: 36
# %% lamp-class-answer
lamp_class = []
for _ in range(100_000):
    lamp_class = [lamp_class]
stroke_too = []
stroke_too.append(stroke_too)
