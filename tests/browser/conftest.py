"""Fixtures for tests that look at a notebook the way a student does."""

import pytest

from lab import Lab


@pytest.fixture(scope="session")
def lab(browser, tmp_path_factory, project_root):
    """`linkkit workbook` running over a copy of the notebooks; tests may add notebooks of their own."""
    lab = Lab(tmp_path_factory.mktemp("lab"), browser)
    lab.copy_notebooks(project_root / "notebooks")
    try:
        lab.start()
        yield lab
    finally:
        lab.stop()


@pytest.fixture
def open_notebook(lab):
    """Open a notebook by file name; the pages are closed and their kernels stopped after the test."""
    pages = []

    def opened(name):
        pages.append(lab.open_notebook(name))
        return pages[-1]

    yield opened
    for page in pages:
        page.close()
