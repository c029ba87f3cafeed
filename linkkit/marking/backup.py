"""Copies of the gradebook, made before what could spoil it, and put back when it did."""

from __future__ import annotations

import os
import re
import shutil
import sqlite3
import subprocess
from datetime import UTC, datetime
from pathlib import Path

import click

from .course import Course, CourseError
from .gradebook import GradebookError, file_of, refuse_damaged


def keep_copy(db_url: str, folder: Path, reason: str) -> Path | None:
    """Copy the gradebook into a folder; None if there is no gradebook yet.

    SQLite's own copying is used, so a copy made while somebody writes is sound; of a PostgreSQL gradebook, `pg_dump`
    makes a dump.
    """
    at = datetime.now(UTC).strftime("%Y%m%dT%H%M%S%f")
    name = f"gradebook-{at}-{re.sub(r'[^a-z0-9]+', '-', reason.lower()).strip('-')[:40]}"
    file = file_of(db_url)
    folder.mkdir(parents=True, exist_ok=True)
    if file is None:
        return _dump(db_url, folder / f"{name}.dump")
    if not file.is_file():
        return None
    kept, draft = folder / f"{name}.db", folder / f".{name}.part"
    source, target = sqlite3.connect(file), sqlite3.connect(draft)
    try:
        source.backup(target)
    finally:
        source.close()
        target.close()
    refuse_damaged(draft)
    os.replace(draft, kept)
    return kept


def put_back(db_url: str, kept: Path, folder: Path) -> Path | None:
    """Make a copy the gradebook again; the present one is kept beside the others, and its path returned."""
    file = file_of(db_url)
    if file is None:
        raise GradebookError(f"a PostgreSQL gradebook is restored with pg_restore --clean from {kept}")
    refuse_damaged(kept)
    present = keep_copy(db_url, folder, "before restoring") if file.is_file() else None
    draft = file.with_name(f".{file.name}.part")
    shutil.copyfile(kept, draft)
    for left in (file.with_name(f"{file.name}-journal"), file.with_name(f"{file.name}-wal")):
        left.unlink(missing_ok=True)  # it belongs to the database that is replaced
    os.replace(draft, file)
    return present


def _dump(db_url: str, target: Path) -> Path:
    program = shutil.which("pg_dump")
    if not program:
        raise GradebookError("a backup of a PostgreSQL gradebook needs pg_dump, which is not installed")
    address = re.sub(r"^postgresql\+\w+:", "postgresql:", db_url)
    done = subprocess.run(
        [program, "--format=custom", f"--file={target}", address], capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise GradebookError(f"pg_dump failed: {done.stderr.strip()[:300]}")
    return target


@click.command("backup")
@click.option(
    "--course", "place", default=".", type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course."
)
@click.option(
    "--restore", "kept", type=click.Path(path_type=Path, exists=True, dir_okay=False), help="Put this copy back."
)
def command(place: Path, kept: Path | None) -> None:
    """Copy the gradebook to backups/, or put a copy back (the present one is then kept there too).

    A PostgreSQL gradebook is copied by pg_dump, and restored by your own pg_restore.
    """
    course = Course.open(place)
    folder = course.place / "backups"
    with course.one_writer():
        if kept:
            present = put_back(course.db_url, kept, folder)
            click.echo(f"{kept} is the gradebook again." + (f" The one before is in {present}" if present else ""))
            return
        made = keep_copy(course.db_url, folder, "by hand")
    if made is None:
        raise CourseError("there is no gradebook to copy yet")
    click.echo(f"The gradebook is copied to {made}")
