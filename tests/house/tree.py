"""What the repository holds, as the house checks see it."""

import subprocess
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "linkkit"


def files():
    """The repository's files: those git knows of or would add, or all of an unpacked archive."""
    if not (ROOT / ".git").exists():
        return [path for path in ROOT.rglob("*") if path.is_file() and ".venv" not in path.parts]
    # whoever owns the checkout, only its list of files is read
    listed = subprocess.run(
        ["git", "-c", "safe.directory=*", "ls-files", "-co", "--exclude-standard", "-z"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    return [ROOT / name for name in listed.stdout.split("\0") if name and (ROOT / name).is_file()]


def sources():
    """The Python files of the package."""
    return sorted(path for path in PACKAGE.rglob("*.py") if "__pycache__" not in path.parts)


def module_name(path):
    """The dotted name of a source file of the package."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
