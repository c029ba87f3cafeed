"""Small pieces: files and functions stay short enough to be read in one go (bounds from DEVELOPERS.md)."""

import ast
from statistics import median

import pytest

from tree import PACKAGE, sources

LONGEST_FILE = 400
MEDIAN_BODY, NINE_IN_TEN_UNDER, LONGEST_BODY = 8, 20, 50


def body_lines(function):
    """How many lines a function's body has without its docstring."""
    body = function.body[1:] if ast.get_docstring(function) else function.body
    return body[-1].end_lineno - body[0].lineno + 1 if body else 0


def bodies():
    """Body lines of every function of the package, by where it stands."""
    return {
        f"{path.relative_to(PACKAGE)}:{node.lineno} {node.name}": body_lines(node)
        for path in sources()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    }


def test_files_are_short():
    lengths = {str(p.relative_to(PACKAGE)): len(p.read_text(encoding="utf-8").splitlines()) for p in sources()}
    assert {name: n for name, n in lengths.items() if n >= LONGEST_FILE} == {}


def test_no_function_is_long():
    assert {where: n for where, n in bodies().items() if n > LONGEST_BODY} == {}


def test_most_functions_are_short():
    lengths = sorted(bodies().values())
    assert median(lengths) <= MEDIAN_BODY
    longer = {where: n for where, n in bodies().items() if n >= NINE_IN_TEN_UNDER}
    assert len(longer) <= len(lengths) / 10, f"too many functions of 20 lines or more: {longer}"


@pytest.mark.parametrize("name", ["utils", "util", "helpers", "misc", "common"])
def test_no_module_without_an_idea(name):
    assert [path for path in sources() if path.stem == name] == []
