"""What was handed in: each student's notebook as bytes, and a sentence where there is none that can be read.

Nothing in a submission is followed or run: links are refused at every step of the path, and files beside the notebook
are left where they are.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import stat
from dataclasses import dataclass, field
from pathlib import Path

from .showable import line, words

LARGEST = 20_000_000  # bytes of one notebook
LONGEST_ID = 128  # characters
STAMP = "timestamp.txt"
SECRET = "submission_secret.txt"


@dataclass(frozen=True)
class HandedIn:
    """One script: its bytes (None if it can't be read, `fault` then says why), what there is to say about it.

    `numbers` are the student's by setting, where they were drawn beforehand (`numbers.DrawnAhead`).
    """

    student: str
    notebook: bytes | None = None
    stamp: str = ""
    fault: str = ""
    said: tuple[str, ...] = field(default=())
    numbers: dict[str, dict] | None = field(default=None, repr=False)

    @property
    def hash(self) -> str:
        """What tells two scripts apart."""
        return hashlib.sha256((self.notebook or b"") + self.fault.encode()).hexdigest()


class Refused(ValueError):
    """A file of a submission that is not read."""


def students(course: Path, assignment: str) -> list[str]:
    """The ids that have handed something in for this assignment."""
    place = course / "submitted"
    if not place.is_dir():
        return []
    return sorted(p.name for p in place.iterdir() if os.path.lexists(p / assignment) and not p.name.startswith("."))


def can_be_id(name: str) -> bool:
    """Can the name of a folder be an id: not too long, with nothing in it that can't be seen?"""
    return name.isprintable() and len(name) <= LONGEST_ID


def read(course: Path, assignment: str, student: str) -> HandedIn:
    """The script of one student; never an error for something that the student did."""
    try:
        folder = _open_folder(course / "submitted", student, assignment)
    except (OSError, Refused) as error:
        return HandedIn(student, fault=_words(error, "The folder that was handed in"))
    try:
        return _from_folder(folder, assignment, student)
    finally:
        os.close(folder)


def _open_folder(top: Path, *steps: str) -> int:
    """A descriptor of a folder, reached without following a link below `top`."""
    here = os.open(top, os.O_RDONLY | os.O_DIRECTORY)
    for step in steps:
        try:
            below = os.open(step, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW, dir_fd=here)
        finally:
            os.close(here)
        here = below
    return here


def _from_folder(folder: int, assignment: str, student: str) -> HandedIn:
    wanted = f"{assignment}.ipynb"
    names = sorted(name for name in os.listdir(folder) if name.endswith(".ipynb"))
    said = ()
    if wanted not in names:
        if len(names) != 1:
            found = f"there are {len(names)} notebooks of other names" if names else "there is no notebook"
            return HandedIn(student, fault=f"{wanted} was not handed in: {found}.", stamp=_stamp(folder))
        said = (f"The notebook was handed in as “{line(names[0], 60)}” and is taken for {wanted}.",)
        wanted = names[0]
    try:
        return HandedIn(student, read_regular(wanted, folder, LARGEST), _stamp(folder), said=said)
    except (OSError, Refused) as error:
        return HandedIn(student, fault=_words(error, "The notebook that was handed in"), stamp=_stamp(folder))


def read_regular(name: str, folder: int, largest: int) -> bytes:
    """The bytes of a plain file in a folder; links, devices, pipes and what is too large are refused."""
    fd = os.open(name, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK, dir_fd=folder)
    try:
        about = os.fstat(fd)
        if not stat.S_ISREG(about.st_mode):
            raise Refused("is no plain file")
        if about.st_size > largest:
            raise Refused(f"has {about.st_size / 1e6:.0f} MB; at most {largest / 1e6:.0f} MB are read")
        with open(fd, "rb", closefd=False) as file:
            return file.read(largest)
    finally:
        os.close(fd)


def slips(course: Path, assignment: str, student: str) -> dict[str, str]:
    """What nbgrader's exchange wrote beside a script, by file name: it is wanted again beside the feedback to release that."""
    found = {}
    try:
        folder = _open_folder(course, "submitted", student, assignment)
    except OSError:
        return found
    try:
        for name in (STAMP, SECRET):
            with contextlib.suppress(OSError, Refused):
                found[name] = read_regular(name, folder, 200).decode("ascii", "replace")
    finally:
        os.close(folder)
    return found


def _stamp(folder: int) -> str:
    """The time of handing in, as nbgrader's exchange wrote it."""
    try:
        return words(read_regular(STAMP, folder, 200).decode("ascii", "replace").strip(), 64)
    except (OSError, Refused):
        return ""


def _words(error: Exception, what: str) -> str:
    if isinstance(error, OSError) and error.errno in (errno.ELOOP, errno.ENOTDIR):
        return f"{what} is a link or no folder; links are not followed."
    return f"{what} {error}." if isinstance(error, Refused) else f"{what} can't be read: {error.strerror}."
