"""What stands at the top of the repository, and what no file may name."""

import hashlib
import re

from tree import ROOT, files

TOP = {
    "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml",
    "linkkit", "notebooks", "tests", "exercises", "docs",
}  # fmt: skip

# The first twelve digits of SHA-256, so that this file does not name them either: addresses of package
# registries (they differ from site to site), folders of one person's machine, names without a place here.
NEVER = {
    "0d47e52d6aec",
    "10cfc5e832c4",
    "18f96ba1ecdb",
    "29ecd5e2b212",
    "3f966afc7325",
    "4a6fb97b6ad4",
    "53fc6c5b5d6e",
    "559813abfb2d",
    "584807d20205",
    "80c11f1e5321",
    "87ceb4922148",
    "87d2f8d9e337",
    "882c9c1c4f35",
    "92a121b2397c",
    "92b5287bb57f",
    "955197287f60",
    "99af54b1cc7c",
    "9c53c1f6c64c",
    "9f212a2dca24",
    "9f2287fcd657",
    "b3150af9706f",
    "b7ca9d510d59",
    "b8b79a0f1c8c",
    "c142b2414c99",
    "c7b18bef9d94",
    "cdeb7f458e9a",
    "cf7c3360d98f",
    "d06f6916ca56",
    "dc2ddc2f572a",
    "de97d75ca05c",
    "ea5c79eb681c",
    "ed0e0e832925",
    "f1a89599a6e6",
}
PATTERNS = (
    r"[a-z0-9-]+(?:\.[a-z0-9-]+)+",  # host names
    r"(?<![\w.])/[\w.-]+/[\w.-]+",  # the first two steps of a path
    r"[a-z]{3,}",  # words
)
TEXT_LIMIT = 4_000_000  # bytes


def digest(word):
    return hashlib.sha256(f"linkkit:{word}".encode()).hexdigest()[:12]


def names_in(text):
    """Every host name, path and word of a text, in lower case."""
    return {found for pattern in PATTERNS for found in re.findall(pattern, text.lower())}


def test_the_top_holds_what_it_should():
    found = {path.relative_to(ROOT).parts[0] for path in files()}
    assert {name for name in found if not name.startswith(".")} == TOP


def test_no_file_names_what_it_must_not():
    texts = ((path, path.read_text(encoding="utf-8", errors="replace")) for path in files()
             if path.stat().st_size < TEXT_LIMIT)  # fmt: skip
    found = {f"{path.relative_to(ROOT)}: {name}" for path, text in texts for name in names_in(text)
             if digest(name) in NEVER}  # fmt: skip
    assert found == set()


def test_the_search_finds_a_name():
    assert {"files.example.org", "/srv/someone", "someone"} <= names_in("see files.example.org or /srv/Someone/x")
