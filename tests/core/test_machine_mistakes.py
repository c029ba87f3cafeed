"""Machine files: each mistake reported with file, line and what would be right; a loss-free round trip."""

import re

import pytest

import linkkit as lk

GOOD = """name = "Net shaker"
unit = "mm"
fixed = "frame"

[points]
O = [0, 0]
A = [0, 60]
B = [420, 210]
Q = [400, -90]

[links]
frame = ["O", "Q"]
crank = ["O", "A"]
coupler = ["A", "B"]
tray = ["Q", "B"]

[inputs.crank]
pin = "O"
links = ["frame", "crank"]
"""
SLIDE = '\n[slides.s]\nblock = "nobody"\non = "frame"\nthrough = [0, 0]\nangle_deg = 0\n'
SECOND = '\n[inputs.rocker]\npin = "Q"\nlinks = ["frame", "tray"]\n'
MISTAKES = {
    "unknown point": ('"A", "B"]', '"A", "Z"]', 14, "carries point Z"),
    "link of one point": ('coupler = ["A", "B"]', 'coupler = ["A"]', 14, "needs two points or a slide"),
    "floating link": ('[inputs', 'loose = ["X", "Y"]\n\n[inputs', 16, "floats"),
    "slide on nothing": ('"crank"]\n', '"crank"]\n' + SLIDE, 21, "'nobody' is not a link"),
    "no input": ('[inputs.crank]\npin = "O"\nlinks = ["frame", "crank"]\n', "", None, "no input"),
    "two inputs on one freedom": ('"crank"]\n', '"crank"]\n' + SECOND, 21, "2 for 1 freedom"),
    "duplicate name": ('crank = ["O", "A"]', 'crank = ["O", "A"]\ncrank = ["O", "B"]', 14, "not TOML"),
    "wrong type": ("A = [0, 60]", 'A = "there"', 7, "two numbers"),
    "true for a number": ("A = [0, 60]", "A = [0, true]", 7, "two numbers"),
    "not a number": ("A = [0, 60]", "A = [0, nan]", 7, "finite"),
    "unknown unit": ('"mm"', '"inch"', 2, "unit is one of"),
    "unknown key": ('fixed = "frame"', 'fixed = "frame"\ngravity = 9.8', 4, "'gravity' means nothing here"),
    "no such fixed link": ('fixed = "frame"', 'fixed = "floor"', 3, "'floor' is not one of the links"),
    "not TOML at all": (GOOD, "this is a letter, not a machine", 1, "not TOML"),
    "no points": ("[points]", "[spots]", 5, "'spots' means nothing here"),
    "comma left out": ("A = [0, 60]", "A = [0 60]", 7, "a comma between two entries is missing"),
    "name with a space": ("crank = [", "main crank = [", 13, "a name with a space stands in quotes"),
    "unit with a number": ("A = [0, 60]", 'A = ["0 mm", "60 mm"]', 7, "without a unit"),
    "comma for a point": ("A = [0, 60]", "A = [0, 60,5]", 7, "decimals have a point"),
    "heading in the singular": ("[links]", "[link]", 11, "did you mean links?"),
    "wrong pin": ('pin = "O"', 'pin = "B"', 17, "not paired at a point B"),
}  # fmt: skip
LOOSE_POINTS = "X = [900, 0]\nY = [990, 0]\n"


def saying(tmp_path, text):
    file = tmp_path / "shaker.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(lk.MachineError) as caught:
        lk.read(file)
    return str(caught.value)


@pytest.mark.parametrize("mistake", MISTAKES)
def test_each_mistake_has_its_line_and_its_sentence(mistake, tmp_path):
    old, new, line, words = MISTAKES[mistake]
    text = GOOD.replace(old, new, 1) if mistake != "two inputs on one freedom" else GOOD + SECOND
    if mistake == "floating link":
        text, line = text.replace("Q = [400, -90]\n", "Q = [400, -90]\n" + LOOSE_POINTS), 18
    said = saying(tmp_path, text)
    assert words in said
    assert said.startswith("shaker.toml")
    if line:
        found = re.search(r"line (\d+)", said)
        assert found, said
        assert abs(int(found[1]) - line) <= 1, said


def test_huge_binary_and_missing_files(tmp_path):
    assert "at most" in saying(tmp_path, GOOD + "#" * 300_000)
    (tmp_path / "noise.toml").write_bytes(bytes(range(256)))
    with pytest.raises(lk.MachineError, match="not a text file"):
        lk.read(tmp_path / "noise.toml")
    with pytest.raises(lk.MachineError, match="no such file"):
        lk.read(tmp_path / "nowhere.toml")
    with pytest.raises(lk.MachineError, match="cannot be read"):
        lk.read(tmp_path)


@pytest.mark.parametrize("name", lk.machines())
@pytest.mark.parametrize("unit", ["m", "cm", "mm"])
def test_round_trip_loses_nothing(name, unit, tmp_path):
    machine = lk.machine(name)
    lk.write(machine, tmp_path / "copy.toml", unit=unit)
    assert lk.read(tmp_path / "copy.toml") == machine


def test_round_trip_of_awkward_numbers(tmp_path):
    linkage = lk.four_bar(1 / 3, 0.1, 0.2 + 1e-17, 2**0.5 / 5).with_point("coupler", "P", 1e-9, -1 / 7)
    for unit in ("m", "cm", "mm"):
        lk.write(linkage, tmp_path / "copy.toml", unit=unit)
        assert lk.read(tmp_path / "copy.toml") == linkage
