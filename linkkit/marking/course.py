"""The nbgrader course on disk: where things lie in it, and the files that marking writes, each whole or not at all."""

from __future__ import annotations

import contextlib
import fcntl
import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from ..coursework.own.finding import look_in

SAFE_ID = re.compile(r"[\w@][\w.@ -]{0,63}")


class CourseError(RuntimeError):
    """The course is not as marking needs it; the message says what to do."""


@dataclass(frozen=True)
class Course:
    """An nbgrader course: its folder and the address of its gradebook."""

    place: Path
    db_url: str

    @classmethod
    def open(cls, place: Path, db_url: str | None = None) -> Course:
        """The course in a folder.

        Raises
        ------
        CourseError
            If there is none, or its folders have other names than nbgrader gives them.
        """
        if not (place / "nbgrader_config.py").is_file() and not (place / "source").is_dir():
            raise CourseError(f"{place} is no nbgrader course: it has neither nbgrader_config.py nor a folder source")
        place = place.resolve()
        look_in(place)
        return cls(place, db_url or _configured(place) or f"sqlite:///{place / 'gradebook.db'}")

    def master(self, assignment: str) -> str:
        """The text of the released notebook."""
        place = self.place / "release" / assignment / f"{assignment}.ipynb"
        if not place.is_file():
            raise CourseError(
                f"{assignment} was not released here: there is no {place}. Run `nbgrader generate_assignment {assignment}`"
            )
        return place.read_text(encoding="utf-8")

    def marked_notebook(self, assignment: str, student: str) -> Path:
        """Where nbgrader looks for a marked script."""
        return self.place / "autograded" / student / assignment / f"{assignment}.ipynb"

    def page(self, assignment: str, student: str) -> Path:
        """Where nbgrader looks for feedback."""
        return self.place / "feedback" / student / assignment / f"{assignment}.html"

    def written(self, assignment: str, student: str) -> bool:
        """Are both of these there, to their ends?"""
        return _ends(self.marked_notebook(assignment, student), b"}") and _ends(
            self.page(assignment, student), b"</html>"
        )

    @contextlib.contextmanager
    def one_writer(self) -> Iterator[None]:
        """Nobody else marks this course meanwhile."""
        lock = os.open(self.place / ".marking", os.O_RDWR | os.O_CREAT, 0o600)
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise CourseError(f"another `linkkit mark` is at work on {self.place}; wait until it has ended") from None
        else:
            yield
        finally:
            os.close(lock)


def _configured(place: Path) -> str | None:
    """The gradebook's address in the course's configuration, if there is one."""
    from traitlets.config.loader import ConfigFileNotFound, PyFileConfigLoader

    try:
        config = PyFileConfigLoader("nbgrader_config.py", str(place)).load_config()
    except ConfigFileNotFound:
        return None
    except Exception as error:  # it is a program, and may fail in any way
        raise CourseError(f"{place / 'nbgrader_config.py'} can't be read: {type(error).__name__}: {error}") from None
    moved = [name for name in config.CourseDirectory if name.endswith("_directory") or name == "root"]
    if moved:
        raise CourseError(f"nbgrader_config.py moves {', '.join(moved)}; marking wants nbgrader's usual folders")
    address = config.CourseDirectory.get("db_url")
    return str(address) if address else None


def write_whole(place: Path, text: str) -> None:
    """Write a file so that it is there whole or not at all, however the process ends.

    It isn't forced onto the disk, which takes as long as the rest of saving. What a power cut leaves of it has
    no end (file systems write the blocks in turn), so `Course.written` does not count it, and it is made again.
    """
    place.parent.mkdir(parents=True, exist_ok=True)
    draft = place.with_name(f".{place.name}.{os.getpid()}")
    draft.write_text(text, encoding="utf-8", errors="replace")
    os.replace(draft, place)


def _ends(place: Path, end: bytes) -> bool:
    """Is a file there, and does it end as it should?"""
    try:
        with open(place, "rb") as file:
            file.seek(max(0, os.fstat(file.fileno()).st_size - 100))
            return file.read().rstrip().endswith(end)
    except OSError:
        return False
