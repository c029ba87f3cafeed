"""A student's record of study on paper: every prediction and explanation, with what it said before."""

from __future__ import annotations

from pathlib import Path

import click

from ..solutions import pdf
from ..solutions.page import template
from ..workbook.record import Record, folder, keep_in


class NothingRecorded(ValueError):
    """There is no record to print; the message says where it was looked for."""


def notebooks(place: Path) -> list[str]:
    """The notebooks that have a record in a folder; records that could not be read are set aside under other names."""
    return sorted(p.stem for p in place.glob("*.json") if ".unreadable-" not in p.name)


def study_page(place: Path) -> str:
    """The records of all notebooks in a folder as one HTML page that prints.

    Raises
    ------
    NothingRecorded
    """
    keep_in(place)
    found = [_notebook(Record(name)) for name in notebooks(place)]
    if not any(one["entries"] or one["message"] for one in found):
        raise NothingRecorded(
            f"nothing has been recorded in {place}: run this where the notebooks are, or say --from FOLDER"
        )
    aside = sorted(p.name for p in place.glob("*.unreadable-*.json"))
    count = sum(len(one["entries"]) for one in found)
    return template("study.html", "linkkit.report").render(notebooks=found, aside=aside, count=count)


def _notebook(record: Record) -> dict:
    """One notebook's entries, in the order in which they were first made."""
    entries = [_entry(entry) for entry in record.entries().values()]
    return {"name": record.notebook, "message": record.message, "entries": sorted(entries, key=lambda e: e["first"])}


def _entry(entry: dict) -> dict:
    before = [one for one in entry.get("history", []) if isinstance(one, dict)]
    times = [str(one.get("when", "")) for one in (*before, entry)]
    return {
        "first": times[0], "when": _time(times[-1]), "question": str(entry.get("question", "")), "answer": _answer(entry),
        "before": [{"when": _time(str(one.get("when", ""))), "answer": _answer(one)} for one in before],
    }  # fmt: skip


def _time(stamp: str) -> str:
    return stamp.replace("T", " ")[:16]


def _answer(entry: dict) -> str:
    return f"{entry.get('answer', '')} {entry.get('unit', '')}".strip()


@click.command("record")
@click.option("--from", "place", type=click.Path(path_type=Path, file_okay=False), help="The folder of the records.")
@click.option(
    "--to", "page", default="my-record.html", show_default=True, type=click.Path(path_type=Path, dir_okay=False),
    help="The page that is written.",
)  # fmt: skip
@click.option("--pdf", "as_pdf", is_flag=True, help="A PDF of it too.")
def command(place, page, as_pdf):
    """Write your record of study as a page that prints: what you predicted and explained in every notebook."""
    if as_pdf:
        pdf.printer()
    text = study_page(place or folder())
    page.parent.mkdir(parents=True, exist_ok=True)
    page.write_text(text, encoding="utf-8")
    if as_pdf:
        pdf.print_page(page)
    click.echo(f"Your record is in {page}")
