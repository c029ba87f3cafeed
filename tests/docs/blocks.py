"""The fenced blocks of a page, run in the order in which a reader would, in one folder.

A block whose first line is `# in FILE` is written to that file; `# at the end of FILE` adds to it. Other `python` blocks
run as scripts and `sh` blocks in a shell, where `linkkit` is the one that is tested. What a page only shows, because it
serves for ever or takes long, is indented and not fenced.
"""

import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
RUN = ("python", "sh")
INTO = re.compile(r"# (in|at the end of) (\S+)\n")


def blocks(page):
    """(language, text) of each fenced block of a page that is run or written to a file; others are only shown."""
    found = FENCE.findall(page.read_text(encoding="utf-8"))
    shown = lambda text: text.startswith("c.")  # lines for nbgrader's configuration  # noqa: E731
    return [(lang, text) for lang, text in found if INTO.match(text) or (lang in RUN and not shown(text))]


def run_page(page, folder):
    """Run every block of a page in a folder; the output of all."""
    return "".join(run_block(language, text, folder) for language, text in blocks(page))


def run_block(language, text, folder):
    into = INTO.match(text)
    if into:
        how, name = into.groups()
        with open(folder / name, "w" if how == "in" else "a", encoding="utf-8") as file:
            file.write(text[into.end() :])
        return ""
    command = {"python": [sys.executable, "-W", "error", "-c", text], "sh": ["bash", "-euo", "pipefail", "-c", text]}[
        language
    ]
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])
    plain = {k: v for k, v in os.environ.items() if k != "LINKKIT_COURSE"}
    done = subprocess.run(
        command, cwd=folder, env=plain | {"PATH": path, "COLUMNS": "120"}, text=True, capture_output=True
    )
    assert done.returncode == 0, f"{text}\nended with {done.returncode}:\n{done.stdout}\n{done.stderr}"
    return done.stdout
