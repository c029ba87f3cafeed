"""What every test may rely on: parts of the machine, and where the project lies."""

import os
import shutil
from collections import Counter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
NO_SKIPS = os.environ.get("LINKKIT_NO_SKIPS") == "1"

# part: (the names of its command, the one command that installs it)
PARTS = {
    "bubblewrap": (("bwrap",), "sudo apt-get install bubblewrap"),
    "chromium": (("chromium", "chromium-browser"), "sudo apt-get install chromium"),
}

CHROMIUM = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def pytest_configure(config):
    for part, (_, command) in PARTS.items():
        line = f"needs_{part}: skipped where {part} is not installed (`{command}` installs it)"
        config.addinivalue_line("markers", line)


def pytest_collection_modifyitems(items):
    for item in items:
        if ROOT / "tests" / "benchmarks" in item.path.parents:
            item.add_marker("speed")
    # the browser's driver keeps an event loop running, in which no other can start: its files come last, and the
    # longest of them first, so that of two processes that share the files none waits long for the other
    looking = Counter(item.path for item in items if in_browser(item))
    items.sort(key=lambda item: (item.path in looking, -looking[item.path]))


def in_browser(item):
    """Whether a test looks at a page."""
    return "browser" in getattr(item, "fixturenames", ())


def pytest_runtest_setup(item):
    for part in PARTS:
        if item.get_closest_marker(f"needs_{part}"):
            require(part)


def require(part):
    """Return the path of a part's command, or skip the running test where it is missing."""
    names, command = PARTS[part]
    found = next(filter(None, map(shutil.which, names)), None)
    if found is None:
        pytest.skip(f"{part} is not installed; this installs it: {command}")
    return found


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    return refuse_skip((yield))


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector):
    return refuse_skip((yield))


def refuse_skip(report):
    """Turn a skip into a failure where everything must be installed, as in CI."""
    if NO_SKIPS and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"LINKKIT_NO_SKIPS allows no skip: {report.longrepr[-1]}"
    return report


@pytest.fixture(scope="session")
def needs_bubblewrap():
    """The path of bubblewrap's command, for a test that starts it."""
    return require("bubblewrap")


@pytest.fixture(scope="session")
def needs_chromium():
    """The path of chromium's command, for a test that starts it."""
    return require("chromium")


@pytest.fixture(scope="session")
def browser(needs_chromium):
    """A headless chromium, the system's own: one for all tests, since its driver keeps the event loop of the process."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=needs_chromium, args=list(CHROMIUM))
        yield chromium
        chromium.close()


@pytest.fixture(scope="session")
def project_root():
    """The top folder of the repository."""
    return ROOT
