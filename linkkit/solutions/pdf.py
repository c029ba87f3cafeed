"""Pages to PDF, by the chromium of the system."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

NAMES = ("chromium", "chromium-browser")
MISSING = (
    "A PDF is printed by chromium, which is not installed here (`sudo apt-get install chromium` installs it on Debian). "
    "The HTML page is made for printing too: open it in any browser and print it."
)
QUIET = ("--headless", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync", "--disable-extensions", "--no-pdf-header-footer")  # fmt: skip
SECONDS = 120


class PdfError(RuntimeError):
    """No PDF could be made; the message says why and what to do."""


def printer() -> str:
    """The path of chromium.

    Raises
    ------
    PdfError
        Where there is none.
    """
    found = next(filter(None, map(shutil.which, NAMES)), None)
    if found is None:
        raise PdfError(MISSING)
    return found


def print_page(page: Path, to: Path | None = None) -> Path:
    """Print an HTML file to PDF beside it, or elsewhere; the path.

    Raises
    ------
    PdfError
        Where chromium is missing or does not print.
    """
    command, to = printer(), (to or page.with_suffix(".pdf")).absolute()
    to.unlink(missing_ok=True)
    with tempfile.TemporaryDirectory(prefix="printing-") as own:
        words = [command, *QUIET, f"--user-data-dir={own}", f"--print-to-pdf={to}", page.absolute().as_uri()]
        words[1:1] = ["--no-sandbox"] if os.geteuid() == 0 else []  # its own sandbox refuses to start for root
        try:
            done = subprocess.run(words, capture_output=True, text=True, timeout=SECONDS, check=False)
        except subprocess.TimeoutExpired:
            raise PdfError(f"chromium did not print {page} within {SECONDS} s") from None
    if not to.is_file():
        raise PdfError(f"chromium did not print {page}: {done.stderr.strip()[-300:]}")
    return to
