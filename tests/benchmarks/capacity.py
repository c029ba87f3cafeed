"""What a cohort costs, by its size: `python tests/benchmarks/capacity.py --scripts 3000` measures what docs/capacity.md says.

Scripts are handed in by and by: at each size those that are new are marked by `linkkit mark`, and what the course takes
on disk, the memory of the processes and the time of the run are noted. A second run at each size shows what it costs
to find that there is nothing to do.
"""

from __future__ import annotations

import argparse
import os
import tempfile
from dataclasses import dataclass
from pathlib import Path

from watching import Watched

from linkkit.coursework import find_assignment
from linkkit.marking import stock
from linkkit.marking.scripts import right

ROOT = Path(__file__).parents[2]
SIZES = 100, 300, 1000, 3000, 10_000, 30_000


@dataclass(frozen=True)
class Row:
    """One size of cohort: how many were new, what marking them took, and what the course takes on disk, in bytes."""

    size: int
    new: int
    seconds: float
    processor: float
    nothing_to_do: float
    memory: int
    gradebook: int
    marked: int
    pages: int


def bytes_below(place: Path) -> int:
    """The bytes of all files below a folder."""
    return sum(file.stat().st_size for file in place.rglob("*") if file.is_file())


def measured(course: Path, assignment: str, size: int, before: int) -> Row:
    """Hand in scripts up to a size, mark them, and look."""
    paper = find_assignment(assignment)
    stock.hand_in(course, assignment, (right(paper, f"many{n:06d}") for n in range(before, size)))
    workers = ("--workers", str(len(os.sched_getaffinity(0))))
    run, again = Watched(course, assignment, *workers), Watched(course, assignment, *workers)
    assert f"{size - before} marked now" in " ".join(run.said.split()), run.said
    return Row(size, size - before, run.seconds, run.processor_time(),
               again.seconds, run.most_memory(), (course / "gradebook.db").stat().st_size,
               bytes_below(course / "autograded"), bytes_below(course / "feedback"))  # fmt: skip


def table(rows: list[Row]) -> str:
    """The rows as they stand in docs/capacity.md."""
    heads = ("scripts", "of them new", "seconds", "ms a new one", "processor ms a new one", "seconds with nothing new",
             "MB memory", "kB gradebook", "kB marked notebook", "kB page")  # fmt: skip
    lines = [heads, ("---",) * len(heads), *map(_cells, rows)]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def _cells(row: Row) -> tuple[str, ...]:
    each = (f"{part / row.size / 1e3:.1f}" for part in (row.gradebook, row.marked, row.pages))
    return (f"{row.size:,}", f"{row.new:,}", f"{row.seconds:.1f}", f"{1e3 * row.seconds / row.new:.0f}",
            f"{1e3 * row.processor / row.new:.0f}", f"{row.nothing_to_do:.1f}", f"{row.memory / 1e6:.0f}", *each)  # fmt: skip


def main() -> None:
    """Measure up to the size that is asked for."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--scripts", type=int, default=3000, help="the largest cohort")
    asked.add_argument("--assignment", default="four-links")
    words, rows = asked.parse_args(), []
    with tempfile.TemporaryDirectory(prefix="capacity-") as folder:
        course = Path(folder)
        stock.scratch_course(ROOT / "exercises", words.assignment, course)
        stock.nbgrader(course, "generate_assignment", words.assignment)
        for size in (*(s for s in SIZES if s < words.scripts), words.scripts):
            rows.append(measured(course, words.assignment, size, rows[-1].size if rows else 0))
            print(f"{table(rows)}\n", flush=True)


if __name__ == "__main__":
    main()
