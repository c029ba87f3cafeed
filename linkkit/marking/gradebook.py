"""nbgrader's gradebook, with one writer: each script's marks and their history in one transaction.

The rows are those that nbgrader's own commands make, so its pages, `generate_feedback` and `export` work on them.
Marks given by hand, and comments, are never touched.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import UTC
from pathlib import Path
from urllib.parse import quote

from sqlalchemy import bindparam, event, insert, inspect, select, update

from . import history
from .late import when
from .one_script import Marked

NETWORK = ("nfs", "nfs4", "cifs", "smb3", "smbfs", "fuse.sshfs", "9p", "ceph", "glusterfs", "lustre", "afs", "beegfs")
WAIT = 60_000  # milliseconds for another process, the formgrader say, to let go of the database


class GradebookError(RuntimeError):
    """The gradebook can't be used; the message says why and what to do."""


def quiet_nbgrader():
    """nbgrader's model of the gradebook. Loading it takes a second, of which a grammar for web addresses that
    nothing here needs is half: jsonschema does without where that package is missing."""
    import sys

    sys.modules.setdefault("rfc3987_syntax", None)
    import nbgrader.api

    return nbgrader.api


def file_of(db_url: str) -> Path | None:
    """The file of an SQLite gradebook; None for a database server."""
    return Path(db_url.removeprefix("sqlite:///")) if db_url.startswith("sqlite:///") else None


def file_system(place: Path, mounts: str | None = None) -> str:
    """The kind of file system that a path is on, from the table of mounts; "" if that can't be told."""
    try:
        lines = Path("/proc/mounts").read_text() if mounts is None else mounts
    except OSError:
        return ""
    found, kind = "", ""
    for line in lines.splitlines():
        _, where, this = line.split()[:3]
        where = where.replace("\\040", " ")
        inside = str(place) == where or str(place).startswith(where.rstrip("/") + "/")
        if inside and len(where) >= len(found):
            found, kind = where, this
    return kind


def refuse_damaged(file: Path) -> None:
    """Let SQLite look through the whole of a file.

    Raises
    ------
    GradebookError
        If it finds anything wrong.
    """
    connection = sqlite3.connect(f"file:{quote(str(file))}?mode=ro", uri=True)
    try:
        said = connection.execute("PRAGMA integrity_check").fetchone()[0]
    except sqlite3.DatabaseError as error:
        said = str(error)
    finally:
        connection.close()
    if said != "ok":
        raise GradebookError(f"{file} is damaged ({said[:200]}). Put a backup back before you mark")


@dataclass(frozen=True)
class _Notebook:
    """One notebook of the assignment in the database, with the ids of its cells by name."""

    id: str
    name: str
    graded: dict[str, str]
    commented: tuple[str, ...]


class Gradebook:
    """The gradebook of a course, open for marking one assignment. A context manager.

    Raises
    ------
    GradebookError
        If it lies on a network file system, is damaged, or does not have the assignment.
    """

    def __init__(self, db_url: str, assignment: str, mounts: str | None = None):
        file = file_of(db_url)
        if file:
            _refuse_network(file, mounts)
            if file.is_file():
                refuse_damaged(file)
        self.api, self.assignment, self.db_url = quiet_nbgrader(), assignment, db_url
        self._book = self._connected(_driver(db_url))
        self.engine = self._book.engine
        if file:
            event.listen(self.engine, "connect", _careful)
            self.engine.dispose()
        self._copy_before_first_use(file)
        history.TABLES.create_all(self.engine)
        self._load()

    def _connected(self, address: str):
        """nbgrader's gradebook at an address."""
        from sqlalchemy.exc import ArgumentError, OperationalError

        try:
            return self.api.Gradebook(address)
        except (ArgumentError, OperationalError, ImportError) as error:
            why = str(getattr(error, "orig", None) or error).strip().splitlines()[0]
            raise GradebookError(f"the gradebook can't be opened: {why[:200]}. Its address is c.CourseDirectory.db_url in "
                                 "nbgrader_config.py: sqlite:///FILE or postgresql://USER@HOST/NAME") from None  # fmt: skip

    def __enter__(self) -> Gradebook:
        return self

    def __exit__(self, *error) -> None:
        self._book.close()

    def _copy_before_first_use(self, file: Path | None) -> None:
        """A copy of a gradebook to which the table of the history is about to be added."""
        from .backup import keep_copy

        if file and history.HISTORY.name not in inspect(self.engine).get_table_names():
            keep_copy(self.db_url, file.parent / "backups", "before the first marking")

    def _load(self) -> None:
        """Read the assignment's cells once."""
        api = self.api
        with self.engine.connect() as db:
            found = db.execute(select(api.Assignment.id).where(api.Assignment.name == self.assignment)).scalar()
            if found is None:
                raise GradebookError(f"the gradebook does not know {self.assignment}. "
                                     f"Run `nbgrader generate_assignment {self.assignment}` in the course first")  # fmt: skip
            self._id = found
            rows = db.execute(
                select(api.Notebook.id, api.Notebook.name).where(api.Notebook.assignment_id == found)
            ).all()
            self._notebooks = [self._notebook(db, *row) for row in rows]

    def _notebook(self, db, notebook: str, name: str) -> _Notebook:
        cell = self.api.BaseCell
        rows = db.execute(select(cell.id, cell.name, cell.type).where(cell.notebook_id == notebook)).all()
        graded = {name: id_ for id_, name, kind in rows if kind in ("GradeCell", "TaskCell")}
        return _Notebook(
            notebook, name, graded, tuple(id_ for id_, _, kind in rows if kind in ("SolutionCell", "TaskCell"))
        )

    # --- reading -----------------------------------------------------------------------------------------------------

    def students(self) -> list[str]:
        """Every id on the course's list."""
        with self.engine.connect() as db:
            return sorted(db.execute(select(self.api.Student.id)).scalars())

    def latest(self) -> dict[str, history.Entry]:
        """The last entry in the history of each student."""
        with self.engine.connect() as db:
            return history.latest(db, self.assignment)

    def entries(self, student: str) -> list[history.Entry]:
        """All entries of a student."""
        with self.engine.connect() as db:
            return history.of_student(db, self.assignment, student)

    # --- writing -----------------------------------------------------------------------------------------------------

    def save(self, marked: Marked, *, reason: str, versions: dict, late: float) -> None:
        """Save one script's marks, lateness and history: all of it or nothing."""
        entry = history.Entry(
            marked.student, reason, marked.hash, marked.fingerprint, versions, marked.seed, marked.stamp, marked.marks,
            late, marked.verdicts, marked.said, marked.fault, marked.stopped,
        )  # fmt: skip
        self.record(entry)

    def record(self, entry: history.Entry) -> None:
        """Put an entry into the history and its marks into the gradebook, in one transaction."""
        with self.engine.begin() as db:
            submission = self._submission(db, entry)
            for notebook in self._notebooks:
                if submission and notebook.name == self.assignment:
                    self._save_notebook(db, submission, notebook, entry)
            history.add(db, self.assignment, entry)

    def _submission(self, db, entry: history.Entry) -> str | None:
        """The id of the student's submission; None where it is new, and was made with all that belongs to it."""
        table, student = self.api.SubmittedAssignment.__table__, self.api.Student.__table__
        of = (table.c.assignment_id == self._id) & (table.c.student_id == entry.student)
        found, stamp = db.execute(select(table.c.id).where(of)).scalar(), when(entry.stamp)
        naive = stamp.astimezone(UTC).replace(tzinfo=None) if stamp else None
        if found:
            db.execute(update(table).where(of).values(timestamp=naive))
            return found
        if db.execute(select(student.c.id).where(student.c.id == entry.student)).scalar() is None:
            db.execute(insert(student).values(id=entry.student))
        made = self.api.new_uuid()
        db.execute(insert(table).values(id=made, assignment_id=self._id, student_id=entry.student, timestamp=naive))
        for notebook in self._notebooks:
            self._new_notebook(db, made, notebook, entry)
        return None

    def _new_notebook(self, db, submission: str, notebook: _Notebook, entry: history.Entry) -> None:
        api, made = self.api, self.api.new_uuid()
        ours = notebook.name == self.assignment
        marked = entry.verdicts if ours else {}
        db.execute(insert(api.SubmittedNotebook.__table__).values(
            id=made, assignment_id=submission, notebook_id=notebook.id, flagged=False,
            late_submission_penalty=(entry.late or None) if ours else None))  # fmt: skip
        grades = [(id_, marked[cell].marks if cell in marked else None) for cell, id_ in notebook.graded.items()]
        for table, rows in (
            (api.Grade.__table__, [{"cell_id": cell, "auto_score": given, "needs_manual_grade": given is None}
                                   for cell, given in grades]),
            (api.Comment.__table__, [{"cell_id": cell} for cell in notebook.commented]),
        ):  # fmt: skip
            if rows:
                db.execute(insert(table), [{"id": api.new_uuid(), "notebook_id": made, **row} for row in rows])

    def _save_notebook(self, db, submission: str, notebook: _Notebook, entry: history.Entry) -> None:
        """Marks by machine; those by hand stay, and are to be looked at again where the machine's has changed."""
        table, grade = self.api.SubmittedNotebook.__table__, self.api.Grade.__table__
        of = (table.c.assignment_id == submission) & (table.c.notebook_id == notebook.id)
        own = db.execute(select(table.c.id).where(of)).scalar()
        rows = {row.cell_id: row for row in db.execute(select(grade).where(grade.c.notebook_id == own))}
        changed = []
        for cell, verdict in entry.verdicts.items():
            row = rows.get(notebook.graded.get(cell))
            if row is None:
                continue
            by_hand = row.manual_score is not None
            again = by_hand and (row.auto_score != verdict.marks or row.needs_manual_grade)
            look = again or (not by_hand and verdict.marks is None)
            changed.append({"row": row.id, "given": verdict.marks, "look": look})
        if changed:
            one = update(grade).where(grade.c.id == bindparam("row"))
            db.execute(one.values(auto_score=bindparam("given"), needs_manual_grade=bindparam("look")), changed)
        db.execute(update(table).where(table.c.id == own).values(late_submission_penalty=entry.late or None))


def _careful(connection, _) -> None:
    """How every SQLite connection is set: each commit is on the disk before it counts."""
    for setting in ("synchronous=FULL", f"busy_timeout={WAIT}", "foreign_keys=OFF"):
        connection.execute(f"PRAGMA {setting}")


def _driver(db_url: str) -> str:
    """PostgreSQL by psycopg where the address does not say by what."""
    return db_url.replace("postgresql://", "postgresql+psycopg://", 1) if db_url.startswith("postgresql://") else db_url


def _refuse_network(file: Path, mounts: str | None) -> None:
    kind = file_system(file.resolve(), mounts)
    if kind in NETWORK:
        raise GradebookError(
            f"{file} lies on a network file system ({kind}), where SQLite can lose marks. Put the course on a local disk, "
            "or name a PostgreSQL server in nbgrader_config.py: c.CourseDirectory.db_url"
        )
