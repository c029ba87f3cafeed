"""Every package that is installed here is the one that pyproject.toml pins, whichever Python this is."""

import tomllib
from importlib.metadata import distributions

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from pin_versions import BLOCK, with_pins
from tree import ROOT, files

TEXT = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
NOT_OURS = {"linkkit", "pip", "uv"}  # a tool that made the environment is not a dependency


def pinned():
    """The exact version of each package that this Python and system should have."""
    pins = map(Requirement, tomllib.loads(TEXT)["tool"]["uv"]["constraint-dependencies"])
    return {canonicalize_name(p.name): str(p.specifier) for p in pins if not p.marker or p.marker.evaluate()}


def test_what_is_installed_is_what_is_pinned():
    # setuptools brings packages of its own, which are in sight once it is loaded
    found = (d for d in distributions() if "_vendor" not in str(d.locate_file("")))
    installed = {canonicalize_name(d.name): f"=={d.version}" for d in found}
    known = pinned()
    assert {name: v for name, v in installed.items() if name not in NOT_OURS and known.get(name) != v} == {}


def test_each_pin_is_exact():
    assert all(version.startswith("==") and "*" not in version for version in pinned().values())


def test_no_lock_file_is_kept():
    assert not [path for path in files() if path.name == "uv.lock"]


def test_the_script_replaces_the_block_and_nothing_else():
    made = with_pins(TEXT, ["a==1", "b==2 ; os_name == 'nt'"])
    assert tomllib.loads(made)["tool"]["uv"]["constraint-dependencies"] == ["a==1", "b==2 ; os_name == 'nt'"]
    assert BLOCK.sub("", made) == BLOCK.sub("", TEXT)
