"""What a student predicted and explained, in a small file of their own that survives a restart.

One JSON file for each notebook, in a folder beside the notebooks. A file that can't be read is kept aside
under another name, never overwritten, and the student is told.
"""

from __future__ import annotations

import json
import os
import re
import tempfile
from datetime import UTC, datetime
from html import escape
from pathlib import Path

FOLDER = "my-work"
_chosen = {"folder": None}


def keep_in(folder) -> Path:
    """Keep records in another folder from now on; returns it as a path."""
    _chosen["folder"] = Path(folder)
    return _chosen["folder"]


def folder() -> Path:
    """The folder of the records: as chosen, or what LINKKIT_WORK says, or my-work beside the notebook."""
    return _chosen["folder"] or Path(os.environ.get("LINKKIT_WORK") or FOLDER)


class Record:
    """The entries of one notebook, read from its file and written back at each change.

    Attributes
    ----------
    path : Path
    message : str
        What the student should know about the file; empty if nothing.
    """

    def __init__(self, notebook):
        if not re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9._-]*", notebook):
            raise ValueError(f"{notebook!r} cannot name a record: use letters, digits, dots, dashes and underscores")
        self.notebook, self.path, self.message = notebook, folder() / f"{notebook}.json", ""

    def entries(self) -> dict:
        """All entries by name; a damaged file is moved aside and an empty record begun."""
        try:
            entries = json.loads(self.path.read_text(encoding="utf-8"))["entries"]
            if not isinstance(entries, dict) or not all(isinstance(e, dict) for e in entries.values()):
                raise ValueError("entries are not a table")
        except FileNotFoundError:
            return {}
        except (ValueError, KeyError, TypeError):
            self._set_aside()
            return {}
        return entries

    def get(self, name) -> dict | None:
        """One entry, or None."""
        return self.entries().get(name)

    def put(self, name, **entry) -> dict:
        """Store an entry with the time and write the file; what the entry said before is kept in its history.

        Raises
        ------
        OSError
            If the file cannot be written; then nothing has changed.
        """
        entries = self.entries()
        before = entries.get(name)
        entry = {"when": datetime.now(UTC).isoformat(timespec="seconds")} | entry
        if before:
            entry["history"] = [*before.pop("history", []), before]
        entries[name] = entry
        self._write({"notebook": self.notebook, "entries": entries})
        return entry

    def _write(self, content):
        """Replace the file in one step, so that a crash leaves the old one or the new one."""
        self.path.parent.mkdir(parents=True, exist_ok=True)
        number, name = tempfile.mkstemp(prefix=f".{self.notebook}-", suffix=".tmp", dir=self.path.parent)
        try:
            with os.fdopen(number, "w", encoding="utf-8") as file:
                json.dump(content, file, indent=1, ensure_ascii=False)
                file.flush()
                os.fsync(file.fileno())
            os.replace(name, self.path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise

    def _set_aside(self):
        stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S-%f")
        kept = self.path.with_name(f"{self.notebook}.unreadable-{stamp}.json")
        self.path.rename(kept)
        self.message = (
            f"Your record {self.path.name} could not be read. It is kept as {kept.name}; "
            "nothing in it was lost, and a new record has been begun."
        )


def split(key) -> tuple[str, str]:
    """The notebook and the entry that a key names: "02/swing" is the entry swing of notebook 02.

    Raises
    ------
    ValueError
        If there is not exactly one stroke between two names.
    """
    notebook, stroke, name = key.partition("/")
    if not stroke or not notebook or not name or "/" in name:
        raise ValueError(f"{key!r} is no key: give the notebook and a name, as in '02/swing'")
    return notebook, name


class StudyRecord:
    """A student's own record of one notebook or of all, to look at and to print."""

    def __init__(self, notebooks):
        self.records = [Record(notebook) for notebook in notebooks]

    def _repr_html_(self):
        return "".join(_table(record) for record in self.records) or "<p>Nothing has been recorded yet.</p>"

    def __repr__(self):
        entries = [e for record in self.records for e in record.entries().values()]
        return "\n".join(f"{e['when']}  {e.get('question', '')}  {_answer(e)}" for e in entries)

    def save(self, path) -> Path:
        """Write a page to print or to keep (.html). Returns the path."""
        from ..draw.animation import page

        path = Path(path)
        path.write_text(page("My record of study", self._repr_html_()), encoding="utf-8")
        return path


def my_record(notebook=None) -> StudyRecord:
    """The student's record of a notebook, or of all of them, as tables.

    Examples
    --------
    >>> from linkkit.workbook import my_record
    >>> _ = my_record("02")
    """
    return StudyRecord(kept() if notebook is None else [notebook])


def kept() -> list:
    """The notebooks that have a record."""
    return sorted(path.stem for path in folder().glob("*.json") if ".unreadable-" not in path.name)


def _table(record):
    rows = "".join(_row(e) for e in record.entries().values())
    note = f"<p>{escape(record.message)}</p>" if record.message else ""
    head = "".join(
        f"<th scope='col' style='text-align:left'>{h}</th>" for h in ("When", "Question", "My answer", "Outcome")
    )
    name = escape(record.notebook)
    table = f"<table><caption>My record of notebook {name}</caption><tr>{head}</tr>{rows}</table>"
    return note + (table if rows else f"<p>Nothing has been recorded in notebook {name} yet.</p>")


def _row(entry):
    cells = (entry["when"].replace("T", " ")[:16], entry.get("question", ""), _answer(entry), _outcome(entry))
    return "<tr>" + "".join(f"<td style='text-align:left'>{escape(str(c))}</td>" for c in cells) + "</tr>"


def _answer(entry):
    answer = entry.get("answer", "")
    return f"{f'{answer:g}' if isinstance(answer, float) else answer} {entry.get('unit', '')}".strip()


def _outcome(entry):
    """What came of it: of practice the last verdict, of anything written again how often."""
    times = 1 + len(entry.get("history", ()))
    if entry.get("kind") == "practice":
        came = {"right": "right", "shown": "working looked at"}.get(entry.get("code"), "not yet right")
        return f"{came}, {times} {'try' if times == 1 else 'tries'} so far"
    return f"written {times} times" if times > 1 else ""
