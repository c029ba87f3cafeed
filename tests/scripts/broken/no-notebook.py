"""Only a text file was handed in."""

MARK = None
SAYS = "there is no notebook"


def hand_in(folder, notebook):
    (folder / "answers.txt").write_text("stroke = 3 mm")
