"""Scripts in from a zip file or a folder with any sane names; feedback out as a zip file.

Names in an archive are only read to see whose script it is; nothing is ever unpacked under a name from the archive.
"""

from __future__ import annotations

import os
import re
import stat
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from .course import SAFE_ID, Course, CourseError
from .handed_in import LARGEST

MOST_ENTRIES, MOST_BYTES = 200_000, 20_000_000_000
BETWEEN = re.compile(r"[/\\\s_()\[\]+,;]+|\.ipynb$")


@dataclass
class Taken:
    """Whose scripts were taken in, and which entries were not, with the reason."""

    students: list[str] = field(default_factory=list)
    refused: dict[str, str] = field(default_factory=dict)


def take_in(source: Path, course: Course, assignment: str, listed: list[str]) -> Taken:
    """Put every notebook of a zip file or folder where nbgrader expects it.

    Parameters
    ----------
    listed : list of str
        The ids of the course; where there are none yet, ids are read from the names alone.
    """
    taken, claimed = Taken(), {}
    known = {student.casefold(): student for student in listed}
    for name, read in _entries(source, taken):
        student, why = whose(name, assignment, known)
        if not student:
            taken.refused[name] = why
        elif student in claimed:
            taken.refused[name] = f"there is another script of {student} in it: {claimed[student]}"
        else:
            claimed[student] = name
            _place(course, assignment, student, name, read, taken)
    return taken


def whose(name: str, assignment: str, known: dict[str, str]) -> tuple[str, str]:
    """Whose script an entry is, from its name; or "" and why that can't be told.

    Examples
    --------
    >>> whose("Wet, Anna_ab123_submission/four-links.ipynb", "four-links", {"ab123": "ab123"})
    ('ab123', '')
    >>> whose("ab123/four-links.ipynb", "four-links", {})
    ('ab123', '')
    """
    parts = [part for part in BETWEEN.split(name) if part]
    found = sorted({known[p.casefold()] for p in parts if p.casefold() in known})
    if len(found) == 1:
        return found[0], ""
    if found:
        return "", f"its name has several ids: {', '.join(found)}"
    if known:
        return "", "no id on the course's list is in its name"
    steps = re.sub(r"\.ipynb$", "", name).replace("\\", "/").split("/")
    guess = [step for step in steps if step.casefold() != assignment.casefold()]
    guess = [re.sub(rf"[-_ ]*{re.escape(assignment)}[-_ ]*", "", step, flags=re.IGNORECASE) for step in guess]
    last = guess[-1] if guess else ""
    return (last, "") if SAFE_ID.fullmatch(last) else ("", "whose it is can't be told from its name")


def _entries(source: Path, taken: Taken) -> Iterator[tuple[str, object]]:
    """(name, function that reads it) of every notebook; what is odd is refused with the reason."""
    yield from _in_folder(source, taken) if source.is_dir() else _in_zip(source, taken)


def _in_folder(source: Path, taken: Taken) -> Iterator:
    for here, folders, files in os.walk(source, followlinks=False):
        folders.sort()
        for file in sorted(f for f in files if f.endswith(".ipynb") and not f.startswith(".")):
            place = Path(here) / file
            if ".ipynb_checkpoints" in place.parts:
                continue
            name = place.relative_to(source).as_posix()
            if not stat.S_ISREG(place.lstat().st_mode):
                taken.refused[name] = "it is a link or no plain file; links are not followed"
            else:
                yield name, lambda place=place: _capped(place.open("rb"))


def _in_zip(source: Path, taken: Taken) -> Iterator:
    try:
        archive = zipfile.ZipFile(source)
    except (zipfile.BadZipFile, OSError) as error:
        raise CourseError(f"{source} is no zip file that can be read: {error}") from None
    with archive:
        entries, room = archive.infolist(), MOST_BYTES
        if len(entries) > MOST_ENTRIES:
            raise CourseError(f"{source} has {len(entries)} entries; at most {MOST_ENTRIES} are looked at")
        for entry in entries:
            hidden = entry.filename.startswith("__MACOSX") or ".ipynb_checkpoints" in entry.filename
            if entry.is_dir() or hidden or not entry.filename.endswith(".ipynb"):
                continue
            room -= min(entry.file_size, LARGEST)
            why = _odd(entry) or ("the archive is too large in all" if room < 0 else "")
            if why:
                taken.refused[entry.filename[:200]] = why
            else:
                yield entry.filename, lambda entry=entry: _capped(archive.open(entry))


def _odd(entry: zipfile.ZipInfo) -> str:
    """Why an entry is not read, "" if it is."""
    if stat.S_ISLNK(entry.external_attr >> 16):
        return "it is a link; links are not followed"
    if entry.flag_bits & 1:
        return "it is encrypted"
    if entry.file_size > LARGEST:
        return f"it has {entry.file_size / 1e6:.0f} MB; at most {LARGEST / 1e6:.0f} MB are read"
    steps = entry.filename.replace("\\", "/").split("/")
    return "its name leads out of the archive" if ".." in steps or entry.filename.startswith(("/", "\\")) else ""


def _capped(file) -> bytes | None:
    """The bytes of an open file; None if there are too many, whatever its heading says."""
    with file:
        data = file.read(LARGEST + 1)
    return data if len(data) <= LARGEST else None


def _place(course: Course, assignment: str, student: str, name: str, read, taken: Taken) -> None:
    """Write one script into the course; an earlier one is kept aside."""
    try:
        data = read()
    except (zipfile.BadZipFile, OSError, RuntimeError, NotImplementedError, ValueError, EOFError) as error:
        taken.refused[name] = f"it can't be read: {error}"
        return
    if data is None:
        taken.refused[name] = f"it has more than {LARGEST / 1e6:.0f} MB"
        return
    place = course.place / "submitted" / student / assignment / f"{assignment}.ipynb"
    if any(step.is_symlink() for step in (place, *list(place.parents)[:3])):
        taken.refused[name] = f"{place.parent} is a link; remove it first"
        return
    _keep_earlier(course, place, student, assignment, data)
    place.parent.mkdir(parents=True, exist_ok=True)
    draft = place.with_name(".coming-in")
    draft.write_bytes(data)
    os.replace(draft, place)
    taken.students.append(student)


def _keep_earlier(course: Course, place: Path, student: str, assignment: str, data: bytes) -> None:
    if place.is_file() and place.read_bytes() != data:
        at = datetime.now(UTC).strftime("%Y%m%dT%H%M%S%f")
        kept = course.place / "replaced" / student / assignment / f"{at}.ipynb"
        kept.parent.mkdir(parents=True, exist_ok=True)
        os.replace(place, kept)


def give_out(course: Course, assignment: str, target: Path) -> int:
    """Put every student's page into a zip file, a folder each; how many there are."""
    pages = sorted((course.place / "feedback").glob(f"*/{assignment}/{assignment}.html"))
    target.parent.mkdir(parents=True, exist_ok=True)
    draft = target.with_name(f".{target.name}.part")
    with zipfile.ZipFile(draft, "w", zipfile.ZIP_DEFLATED) as out:
        for page in pages:
            out.writestr(f"{page.parts[-3]}/{assignment}.html", page.read_text(encoding="utf-8"))
    os.replace(draft, target)
    return len(pages)
