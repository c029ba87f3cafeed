"""`linkkit lesson`: from a machine file to a lesson and an assignment, in a folder that is an nbgrader course."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

import click
from rich.console import Console

from ..coursework.givens import IllPosedError
from ..coursework.own import look_in
from ..coursework.own.finding import load
from ..coursework.papers import OUTLINES
from ..coursework.release import write_assignment
from ..describe import find as find_machine
from ..machine_file import machines
from .notebook import lesson, questions, render
from .plan import IDS, LessonError, plan, slug_of


def files(slug: str, folder: Path) -> dict[str, Path]:
    """Where everything goes, by what it is."""
    work = folder / "source" / slug
    return {
        "the machine": folder / f"{slug}.toml",
        "the lesson": folder / f"{slug}.ipynb",
        "the machine, for the assignment": work / f"{slug}.toml",
        "the questions, for you to edit": work / f"{slug}.py",
        "the assignment": work / f"{slug}.ipynb",
        "the course's settings": folder / "nbgrader_config.py",
    }


def text_of(name: str) -> str:
    """The text of a machine's file."""
    if name in machines():
        return resources.files("linkkit").joinpath("machines", f"{name}.toml").read_text(encoding="utf-8")
    return Path(name).read_text(encoding="utf-8-sig")


def write(name: str, folder: Path) -> dict[str, Path]:
    """Write a lesson and an assignment for a machine.

    Raises
    ------
    LessonError
        If something of it is there already, or no lesson can be made of the machine.
    """
    import nbformat

    linkage, text = find_machine(name), text_of(name)
    slug = slug_of(Path(name).name)
    if slug in OUTLINES:
        raise LessonError(f"{slug} is the name of an assignment of the course: rename the machine's file")
    places = files(slug, folder)
    _refuse_to_overwrite(places, text)
    made = plan(linkage, slug)
    for what in ("the machine", "the machine, for the assignment"):
        _put(places[what], text)
    _put(places["the questions, for you to edit"], questions(made))
    if not places["the course's settings"].exists():
        _put(places["the course's settings"], render("nbgrader_config.py.txt"))
    _put(places["the lesson"], nbformat.writes(lesson(made)) + "\n")
    renew(slug, folder)
    return places


def renew(slug: str, folder: Path) -> Path:
    """Write the assignment's notebook anew from the lecturer's questions; the path."""
    asked = files(slug, folder)["the questions, for you to edit"]
    if not asked.is_file():
        raise LessonError(f"there is no {asked} to write a notebook from; without --renew it is written")
    look_in(folder)
    made = load(asked)
    for setting in made.settings:
        try:
            made.givens(setting.id, [f"invented {n}" for n in range(IDS)])
        except IllPosedError as error:
            raise LessonError(f"{asked.name}: {error}") from None
    return write_assignment(slug, folder)


def _refuse_to_overwrite(places: dict[str, Path], text: str) -> None:
    for what, place in places.items():
        same = what == "the machine" and place.exists() and place.read_text(encoding="utf-8-sig") == text
        if place.exists() and not same and what != "the course's settings":
            raise LessonError(
                f"{place} is there already and is not overwritten. Take another folder with --to; or, if you have edited "
                "the questions, --renew writes only the assignment's notebook from them"
            )


def _put(place: Path, text: str) -> None:
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_text(text, encoding="utf-8")


@click.command("lesson")
@click.argument("machine", metavar="MACHINE.toml")
@click.option("--to", "folder", default=".", show_default=True, type=click.Path(path_type=Path, file_okay=False),
              help="The folder to write to: an nbgrader course, or an empty folder that becomes one.")  # fmt: skip
@click.option(
    "--renew", "again", is_flag=True, help="Only write the assignment's notebook again, from the questions you edited."
)
def command(machine: str, folder: Path, again: bool) -> None:
    """Write a lesson and an assignment for a machine of your own.

    MACHINE.toml is a machine file, or the name of one of the machines of Marrow Quay. Every student gets a sketch with
    points of their own. The questions stand in a short Python file that is yours to edit.
    """
    console = Console()
    if again:
        place = renew(slug_of(Path(machine).name), folder)
        console.print(f"The assignment was written again: {place}", soft_wrap=True, highlight=False)
        return
    with console.status("Trying numbers and wrong answers on invented students ..."):
        written = write(machine, folder)
    for what, place in written.items():
        console.print(f"{what}: {place}", soft_wrap=True, highlight=False)
    slug = slug_of(Path(machine).name)
    console.print(f"\nTry it:  linkkit rehearse --course {folder} --assignment {slug}", soft_wrap=True, highlight=False)
