"""A machine of a lecturer's own, as its file: a table on crossed arms that a ram lifts."""

TABLE = """name = "Lifting table"
unit = "mm"
fixed = "base"
output = "deck"
points = {F = [0, 0], G = [700, 0], E = [250, 0], H = [600, 350], K = [1300, 350], L = [330, 192.5]}

[links]
base = ["F", "G", "E"]
"left arm" = ["F", "L", "H"]
"right arm" = ["G", "K"]
deck = ["H", "K"]
cylinder = ["E"]
rod = ["L"]

[slides.ram]
block = "rod"
on = "cylinder"
through = "E"
toward = "L"

[inputs.ram]
slide = "ram"
links = ["cylinder", "rod"]
span = [190, 330]
"""
