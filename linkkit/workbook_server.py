"""The `workbook` command: JupyterLab over the notebooks, with everything set up for a first-time user."""

import json
import os
import secrets
import signal
import socket
import subprocess
import sys
import threading
import time
from dataclasses import dataclass
from pathlib import Path
from urllib.error import URLError
from urllib.parse import quote
from urllib.request import Request, urlopen
from zlib import crc32

import click

HOST = "127.0.0.1"
USUAL_PORT = 8888
START_LIMIT = 120.0  # seconds; a first start on a slow disk compiles a lot
CLONE = Path(__file__).resolve().parents[1]

# Lines of the server's log that only worry a reader.
NOISE = (
    "No nbgrader_config.py file found",  # a course may do without
    "Kernel is running over TCP without encryption",  # it listens on loopback alone
    "received signal 15, stopping",  # we sent it
)


class WorkbookError(RuntimeError):
    """The workbook cannot be opened; the message says why and what to do."""


@dataclass(frozen=True)
class Folders:
    """Where the parts of the workbook lie.

    Attributes
    ----------
    notebooks : Path
        The folder that JupyterLab opens at.
    root : Path
        The topmost folder that JupyterLab shows.
    course : Path or None
        The nbgrader course folder, where there is one beside the notebooks.
    """

    notebooks: Path
    root: Path
    course: Path | None


@click.command()
@click.option("--browser/--no-browser", default=True, help="Open a browser window as well (the default).")
@click.option("--port", type=click.IntRange(1, 65535), help=f"Port to serve at; {USUAL_PORT} if it is free.")
@click.option(
    "--dir", "folder", type=click.Path(path_type=Path), help="Folder of notebooks, if not the workbook's own."
)
def workbook(browser, port, folder):
    """Open the notebooks in JupyterLab, on this computer only.

    Prints the address, opens a browser at it, and serves until Ctrl-C.
    """
    folders = find_folders(folder)
    token = secrets.token_hex(20)
    try:
        server, port = started(folders, port, token=token, browser=browser)
        try:
            click.echo(f"The workbook is open at\n\n    {address(folders, port, token)}\n\nCtrl-C closes it.")
            sys.stdout.flush()
            server.wait()
        finally:
            stop(server)
    except (KeyboardInterrupt, SystemExit):
        click.echo("Closing the workbook.")


def started(folders, asked, *, token, browser):
    """A server that answers, and its port: another one where the usual port is taken while the server starts."""
    while True:
        port = choose_port(asked)
        server = start(folders, port=port, token=token, browser=browser)
        try:
            wait_until_ready(server, port, token)
            return server, port
        except BaseException as error:
            stop(server)
            if asked is not None or not isinstance(error, WorkbookError) or is_free(port):
                raise


def find_folders(given=None):
    """Find the notebooks, and the course folder beside them.

    Parameters
    ----------
    given : Path, optional
        A folder of notebooks to use instead of the workbook's own.

    Returns
    -------
    Folders

    Raises
    ------
    WorkbookError
        If there is no such folder, or linkkit was installed without its notebooks.
    """
    places = [given] if given else [CLONE / "notebooks", Path.cwd() / "notebooks"]
    for place in places:
        if place.is_dir():
            return folders_around(place.resolve())
    if given:
        raise WorkbookError(f"There is no folder {given}: give --dir the folder that holds the notebooks.")
    raise WorkbookError(
        "This installation of linkkit came without the notebooks. Clone its repository and run "
        "`uv run linkkit workbook` there, or name a folder of notebooks with --dir."
    )


def folders_around(notebooks):
    """The folders that belong to `notebooks`: with a course beside them, JupyterLab must show both."""
    course = notebooks.parent / "exercises"
    if course.is_dir():
        return Folders(notebooks, notebooks.parent, course)
    return Folders(notebooks, notebooks, None)


def choose_port(asked=None):
    """Return a port that is free on loopback, the one asked for or else the usual one if possible."""
    if asked is not None:
        if not is_free(asked):
            raise WorkbookError(f"Port {asked} is in use by another program: choose another, or leave --port out.")
        return asked
    if is_free(USUAL_PORT):
        return USUAL_PORT
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        port = probe.getsockname()[1]
    click.echo(f"Port {USUAL_PORT} is in use by another program, so the workbook takes port {port}.")
    return port


def is_free(port):
    """Whether a server could listen at `port` on loopback now."""
    with socket.socket() as probe:
        if os.name == "posix":  # as the server does: a port that was closed a moment ago counts as free
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, port))
        except OSError:
            return False
    return True


def start(folders, *, port, token, browser):
    """Start JupyterLab as a process of its own and return it; its log is passed on without the noise."""
    hold_signals()
    server = subprocess.Popen(
        [sys.executable, "-m", "jupyterlab", *options(folders, port=port, browser=browser)],
        env=environment(folders, token),
        stdin=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        errors="replace",
    )
    threading.Thread(target=pass_on, args=(server.stderr,), daemon=True).start()
    return server


def hold_signals():
    """Make a polite kill end the command the way Ctrl-C does, so that the server is never left behind.

    Ctrl-C itself is not heard by what a script starts in the background, unless it is asked for.
    """
    signal.signal(signal.SIGINT, signal.default_int_handler)
    for name in ("SIGTERM", "SIGHUP"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), lambda number, frame: sys.exit(0))


def options(folders, *, port, browser):
    """JupyterLab's command line: loopback only, no news, nothing to install from inside."""
    found = [
        f"--ServerApp.ip={HOST}",
        f"--ServerApp.port={port}",
        "--ServerApp.port_retries=0",
        f"--ServerApp.root_dir={folders.root}",
        f"--FileContentsManager.preferred_dir={folders.notebooks}",
        f"--ServerApp.open_browser={browser}",
        "--ServerApp.answer_yes=True",
        f"--LabApp.default_url={front_page(folders)}",
        "--LabApp.extension_manager=readonly",
        "--Application.log_level=ERROR",
    ]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        found.append("--ServerApp.allow_root=True")
    return found


def environment(folders, token):
    """The server's environment: our settings first, then the course's, and this Python's commands on PATH."""
    config = write_settings(folders)
    ours = [str(config)] + ([str(folders.course)] if folders.course else [])
    known = os.environ.get("JUPYTER_CONFIG_PATH")
    commands = Path(sys.executable).parent  # nbgrader calls alembic by its bare name
    return os.environ | {
        "JUPYTER_CONFIG_PATH": os.pathsep.join(ours + ([known] if known else [])),
        "JUPYTER_TOKEN": token,  # not on the command line, where every user of the computer could read it
        "PATH": os.pathsep.join([str(commands), os.environ.get("PATH", "")]),
    }


def write_settings(folders):
    """Write the settings that have no command-line option; return their folder, which is the user's own."""
    from jupyter_core.paths import jupyter_data_dir

    home = Path(jupyter_data_dir()) / "linkkit"
    config = home / f"config-{crc32(os.fsencode(folders.notebooks)):08x}"  # two workbooks may be open at once
    exchange = home / "exchange"
    exchange.mkdir(parents=True, exist_ok=True)
    quiet = {"disabledExtensions": {"@jupyterlab/apputils-extension:announcements": True}}
    write_json(config / "labconfig" / "page_config.json", quiet)
    course = {"CourseDirectory": {"root": str(folders.course or folders.root)}}
    write_json(config / "nbgrader_config.json", {"Exchange": {"root": str(exchange)}} | course)
    return config


def write_json(path, value):
    """Write `value` to `path`, making its folder."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps(value, indent=2) + "\n", encoding="utf-8")


def front_page(folders):
    """The path of the page to open first: the first notebook, or the folder when it holds none."""
    shown = folders.notebooks.relative_to(folders.root)
    first = min((path.name for path in folders.notebooks.glob("*.ipynb")), default="")
    return quote(f"/lab/tree/{shown.as_posix()}/{first}".replace("/./", "/").rstrip("/"))


def address(folders, port, token):
    """The address to give to a browser."""
    return f"http://{HOST}:{port}{front_page(folders)}?token={token}"


def wait_until_ready(server, port, token):
    """Return once the server answers; a server that dies or stays silent is a WorkbookError."""
    end = time.monotonic() + START_LIMIT
    while time.monotonic() < end:
        if server.poll() is not None:
            raise WorkbookError(f"JupyterLab stopped (exit code {server.returncode}); its log is above.")
        if answers(port, token):
            return
        time.sleep(0.1)
    raise WorkbookError(f"JupyterLab did not answer within {START_LIMIT:.0f} seconds.")


def answers(port, token):
    """Whether our own Jupyter server answers at `port`: any other does not know the token."""
    asked = Request(f"http://{HOST}:{port}/api/status", headers={"Authorization": f"token {token}"})
    try:
        with urlopen(asked, timeout=5) as reply:
            return reply.status == 200
    except (URLError, OSError):
        return False


def pass_on(log):
    """Copy the server's log to ours, line by line, without the noise."""
    for line in log:
        if not any(noise in line for noise in NOISE):
            sys.stderr.write(line)


def stop(server):
    """End the server and the kernels it runs, and wait until it has gone."""
    if server.poll() is None:
        server.terminate()
        try:
            server.wait(timeout=20)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()
