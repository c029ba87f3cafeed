"""The examples in docstrings and in the Markdown pages run, and print what they say."""

import doctest
from importlib import import_module

import pytest

from tree import ROOT, files, module_name, sources

FLAGS = doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS


@pytest.mark.parametrize("path", sources(), ids=module_name)
def test_examples_in_docstrings(path):
    module = import_module(module_name(path))
    assert doctest.testmod(module, optionflags=FLAGS).failed == 0


@pytest.mark.parametrize("path", [p for p in files() if p.suffix == ".md"], ids=lambda p: str(p.relative_to(ROOT)))
def test_examples_in_pages(path):
    assert doctest.testfile(str(path), module_relative=False, optionflags=FLAGS).failed == 0
