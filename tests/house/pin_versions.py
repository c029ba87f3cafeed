"""Refresh the pinned versions in pyproject.toml: `uv run python tests/house/pin_versions.py`.

uv.lock is not kept in the repository (it holds download addresses), so the exact version of every package,
direct or not, stands under `[tool.uv] constraint-dependencies`. This script empties that list, lets uv
choose the newest versions that fit together, writes them back and locks again.
"""

import re
import subprocess
from pathlib import Path

PYPROJECT = Path(__file__).parents[2] / "pyproject.toml"
BLOCK = re.compile(r"(?ms)^constraint-dependencies = \[.*?\]\n(?=# END PINS)")
EXPORT = ("export", "--no-hashes", "--no-header", "--no-annotate", "--no-emit-project", "--all-extras")


def run_uv(*arguments):
    """Run uv in the project and return what it prints."""
    done = subprocess.run(["uv", *arguments], cwd=PYPROJECT.parent, check=True, stdout=subprocess.PIPE, text=True)
    return done.stdout


def with_pins(text, pins):
    """The text of pyproject.toml with its block of pins replaced by `pins`."""
    lines = "".join(f"    {quoted(pin)},\n" for pin in pins)
    return BLOCK.sub(lambda _: f"constraint-dependencies = [\n{lines}]\n", text)


def quoted(pin):
    """A TOML string; markers come with single quotes inside."""
    return f'"{pin}"'


def locked_pins():
    """One `name==version` a package of the lock, with a marker where the lock has one."""
    exported = run_uv(*EXPORT, "--all-groups").splitlines()
    return sorted(line.strip() for line in exported if "==" in line)


def main():
    text = PYPROJECT.read_text()
    if not BLOCK.search(text):
        raise SystemExit("pyproject.toml has no constraint-dependencies block ending in '# END PINS'.")
    PYPROJECT.write_text(with_pins(text, []))
    try:
        run_uv("lock", "--upgrade")
        pins = locked_pins()
    except BaseException:
        PYPROJECT.write_text(text)
        raise
    PYPROJECT.write_text(with_pins(text, pins))
    run_uv("lock")
    print(f"{len(pins)} versions pinned in {PYPROJECT.name}; now run `uv sync` and the tests.")


if __name__ == "__main__":
    main()
