"""Panels are tried without a page; records go into a folder of their own."""

import pytest

from linkkit import workbook
from linkkit.workbook import record


@pytest.fixture(autouse=True)
def records(tmp_path):
    before = record._chosen["folder"]
    yield workbook.keep_in(tmp_path / "my-work")
    record._chosen["folder"] = before
