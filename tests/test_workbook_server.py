"""`linkkit workbook`: it opens, answers on loopback alone, says what it did, and leaves nothing behind."""

import json
import os
import re
import signal
import socket
import subprocess
import sys
import time
from importlib.metadata import version
from pathlib import Path
from urllib.request import Request, urlopen

import pytest

from linkkit import workbook_server
from linkkit.workbook_server import WorkbookError, choose_port, find_folders, front_page, is_free

LIMIT = 60  # seconds


@pytest.fixture
def course(tmp_path):
    """A clone's two folders, one notebook in the first."""
    (tmp_path / "exercises").mkdir()
    (tmp_path / "notebooks").mkdir()
    notebook = {"cells": [], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}
    (tmp_path / "notebooks" / "00 Start here.ipynb").write_text(json.dumps(notebook))
    return tmp_path


@pytest.fixture
def busy_port():
    """A port at which something listens already."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        yield taken.getsockname()[1]


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@pytest.fixture
def workbook(course):
    """Start `linkkit workbook` over the course; stopped at the end whatever happens."""
    started = []

    def start(*arguments):
        places = {"JUPYTER_DATA_DIR": str(course / "data"), "JUPYTER_CONFIG_DIR": str(course / "config")}
        process = subprocess.Popen(
            [sys.executable, "-m", "linkkit.cli", "workbook", "--no-browser", *arguments],
            cwd=course,
            env=os.environ | places | {"PYTHONUNBUFFERED": "1"},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        started.append(process)
        return process

    yield start
    for process in started:
        process.terminate()
        process.communicate(timeout=LIMIT)


def address_from(process):
    """The address that the command prints."""
    for line in process.stdout:
        if "token=" in line:
            return line.strip()
    pytest.fail(f"no address was printed: {process.stderr.read()}")


def asked(address, path):
    """The server's JSON answer at `path`, with the address's token."""
    base, token = re.fullmatch(r"(http://127\.0\.0\.1:\d+)/\S+\?token=(\w+)", address).groups()
    with urlopen(Request(base + path, headers={"Authorization": f"token {token}"}), timeout=LIMIT) as reply:
        return json.load(reply)


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_it_opens_answers_and_closes(workbook, course, how):
    port = free_port()
    process = workbook("--port", str(port), "--dir", str(course / "notebooks"))
    address = address_from(process)
    assert address.startswith(f"http://127.0.0.1:{port}/lab/tree/notebooks/00%20Start%20here.ipynb?token=")
    shown = {entry["name"] for entry in asked(address, "/api/contents")["content"]}
    assert {"notebooks", "exercises"} <= shown
    process.send_signal(how)
    said, complained = process.communicate(timeout=LIMIT)
    assert process.returncode == 0
    assert "Closing the workbook." in said
    assert complained == ""
    assert is_free(port)


def test_the_page_has_no_news_and_no_installing(workbook, course):
    address = address_from(workbook("--port", str(free_port()), "--dir", str(course / "notebooks")))
    base, token = address.partition("/lab/")[0], address.partition("token=")[2]
    page = urlopen(f"{base}/lab?token={token}", timeout=LIMIT).read().decode()
    settings = json.loads(re.search(r'id="jupyter-config-data"[^>]*>(.*?)</script>', page, re.DOTALL)[1])
    assert "@jupyterlab/apputils-extension:announcements" in settings["disabledExtensions"]
    assert settings["extensionManager"]["can_install"] is False


def test_nbgrader_is_set_up(workbook, course):
    address = address_from(workbook("--port", str(free_port()), "--dir", str(course / "notebooks")))
    assert asked(address, f"/nbgrader_version?version={version('nbgrader')}")["success"]
    assert asked(address, "/formgraders")["success"]
    listed = asked(address, "/assignments?course_id=")
    assert listed["success"], listed


def test_a_busy_port_that_was_asked_for_is_refused(busy_port):
    with pytest.raises(WorkbookError, match=f"Port {busy_port} is in use"):
        choose_port(busy_port)


def test_a_busy_usual_port_gives_another_and_says_so(monkeypatch, busy_port, capsys):
    monkeypatch.setattr(workbook_server, "USUAL_PORT", busy_port)
    port = choose_port()
    assert port != busy_port
    assert is_free(port)
    assert f"takes port {port}" in capsys.readouterr().out


def test_folders_of_a_clone(course):
    found = find_folders(course / "notebooks")
    assert (found.root, found.course) == (course, course / "exercises")
    assert front_page(found) == "/lab/tree/notebooks/00%20Start%20here.ipynb"


def test_a_folder_without_course_shows_itself_only(tmp_path):
    found = find_folders(tmp_path)
    assert (found.root, found.course) == (tmp_path, None)
    assert front_page(found) == "/lab/tree"


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(WorkbookError, match="There is no folder"):
        find_folders(tmp_path / "nothing")


def test_an_installation_without_notebooks_says_what_to_do(monkeypatch, tmp_path):
    monkeypatch.setattr(workbook_server, "CLONE", tmp_path)
    monkeypatch.chdir(tmp_path)
    with pytest.raises(WorkbookError, match="Clone its repository"):
        find_folders()


def test_a_busy_port_ends_in_a_sentence(workbook, course, busy_port):
    process = workbook("--port", str(busy_port), "--dir", str(course / "notebooks"))
    said, complained = process.communicate(timeout=LIMIT)
    assert process.returncode == 1
    assert complained.startswith(f"Error: Port {busy_port} is in use by another program: choose another")
    assert len(complained.splitlines()) == 1
    assert said == ""


def gone(pid):
    """Whether a process has ended."""
    end = time.monotonic() + LIMIT
    while Path(f"/proc/{pid}").exists() and time.monotonic() < end:
        time.sleep(0.1)
    return not Path(f"/proc/{pid}").exists()


def children(pid):
    return [int(text) for text in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="this system has no /proc to look into")
def test_no_server_is_left_behind(workbook, course):
    process = workbook("--port", str(free_port()), "--dir", str(course / "notebooks"))
    address_from(process)
    servers = children(process.pid)
    assert len(servers) == 1
    process.send_signal(signal.SIGTERM)
    process.communicate(timeout=LIMIT)
    assert all(gone(pid) for pid in servers)


def test_two_workbooks_opened_at_one_moment_each_have_their_own_port(workbook, course):
    both = [workbook("--dir", str(course / "notebooks")) for _ in range(2)]
    addresses = [address_from(process) for process in both]
    for address in addresses:
        assert "started" in asked(address, "/api/status")
    assert len({address.rpartition("/lab")[0] for address in addresses}) == 2
