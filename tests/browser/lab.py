"""JupyterLab in a headless browser: open a notebook, run it, press keys, and read what is on the page."""

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from urllib.parse import urlsplit

import nbformat

WINDOW = {"width": 1280, "height": 1500}  # tall: Lab renders only the cells that are near the window
LIMIT = 60.0  # seconds, for anything that a loaded machine may delay
LOOPBACK = {"127.0.0.1", "localhost", ""}

CURRENT = "window.jupyterapp.shell.currentWidget"
IDLE = f"""() => {{
    const kernel = {CURRENT}?.sessionContext?.session?.kernel;
    return kernel?.status === 'idle' && kernel.connectionStatus === 'connected';
}}"""


class Lab:
    """`linkkit workbook` over a folder of notebooks that may be spoilt.

    Parameters
    ----------
    folder : Path
        An empty folder; `notebooks/`, the server's settings and the pictures taken go into it.
    browser : playwright.sync_api.Browser
    """

    def __init__(self, folder, browser):
        self.folder = folder
        self.browser = browser
        self.notebooks = folder / "notebooks"
        self.notebooks.mkdir(parents=True)
        self.shots = Path(os.environ.get("LINKKIT_SCREENSHOTS") or folder / "shots")
        self.server = self.window = None

    def copy_notebooks(self, source):
        """Copy what lies in `source` beside our own notebooks."""
        if source.is_dir():
            shutil.copytree(
                source,
                self.notebooks,
                dirs_exist_ok=True,
                ignore=shutil.ignore_patterns(".ipynb_checkpoints", "__pycache__"),
            )

    def add_notebook(self, name, *cells):
        """Write a notebook of the given code cells."""
        book = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell) for cell in cells])
        book.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3", "language": "python"}
        nbformat.write(book, self.notebooks / name)

    def forget(self):
        """Take away what students have recorded so far."""
        shutil.rmtree(self.notebooks / "my-work", ignore_errors=True)

    def start(self):
        """Start the server and wait for the address that it prints."""
        with (self.folder / "server.log").open("w") as log:
            self.server = subprocess.Popen(
                [
                    sys.executable,
                    "-m",
                    "linkkit.cli",
                    "workbook",
                    "--no-browser",
                    "--dir",
                    str(self.notebooks),
                ],
                env=self.environment(),
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=log,
                text=True,
            )
        for line in self.server.stdout:
            if found := re.search(r"(http://127\.0\.0\.1:\d+)/\S+\?token=(\w+)", line):
                self.address, self.token = found.groups()
                return
        raise AssertionError("the server gave no address:\n" + (self.folder / "server.log").read_text())

    def environment(self):
        """Every place where Jupyter keeps something, moved into our folder; and the page's app in reach."""
        config = self.folder / "config"
        config.mkdir()
        (config / "jupyter_lab_config.py").write_text("c.LabApp.expose_app_in_browser = True\n")
        names = ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "IPYTHONDIR", "JUPYTERLAB_SETTINGS_DIR")
        places = {name: str(self.folder / name.lower()) for name in (*names, "JUPYTERLAB_WORKSPACES_DIR")}
        return os.environ | places | {"JUPYTER_CONFIG_PATH": str(config), "PYTHONUNBUFFERED": "1"}

    def stop(self):
        """Close the window, and stop the server the way Ctrl-C does."""
        if self.window is not None:
            self.window.context.close()
        if self.server is not None:
            self.server.send_signal(signal.SIGINT)
            self.server.communicate(timeout=30)

    def open_notebook(self, name):
        """Open a notebook in the one window and return its `NotebookPage`, kernel idle."""
        if self.window is None:
            context = self.browser.new_context(viewport=WINDOW)
            self.window = context.new_page()
            self.window.set_default_timeout(LIMIT * 1000)
            self.window.goto(f"{self.address}/lab?token={self.token}&reset")
            self.window.wait_for_function("() => window.jupyterapp")
            self.window.evaluate("() => window.jupyterapp.restored")
        page = NotebookPage(self.window, self.shots)
        page.open(name)
        return page


class NotebookPage:
    """One open notebook, in a window that the next one uses again: opening Lab anew takes seconds.

    Attributes
    ----------
    page : playwright.sync_api.Page
    console_errors : list of str
        Errors on the browser's console, and errors that no script caught.
    off_loopback : list of str
        Addresses asked for that are not on this computer; a workbook must ask for none.
    """

    def __init__(self, window, shots):
        self.page, self.shots = window, shots
        self.console_errors, self.off_loopback = [], []
        self.listeners = {
            "console": self.note_console,
            "pageerror": lambda error: self.console_errors.append(str(error)),
            "websocket": self.note_request,
            "request": self.note_request,
        }
        for event, listener in self.listeners.items():
            self.page.on(event, listener)

    def note_console(self, message):
        """Note an error, but not that Lab draws a Markdown cell once before it looks up the images attached to it."""
        if message.type == "error" and not message.location["url"].startswith("attachment:"):
            self.console_errors.append(message.text)

    def note_request(self, request):
        parts = urlsplit(request.url)
        if parts.scheme not in ("data", "blob", "attachment") and parts.hostname not in LOOPBACK:
            self.off_loopback.append(request.url)

    def open(self, name):
        """Open the notebook and wait until its kernel is idle (a Run All before that is lost)."""
        self.page.evaluate(
            """async path => {
                const { commands } = window.jupyterapp;
                const opened = await commands.execute('docmanager:open', { path, factory: 'Notebook' });
                await opened.context.ready;
                await opened.sessionContext.ready;
            }""",
            name,
        )
        self.wait_idle()

    def close(self):
        """Shut the kernel down and close the notebook, unsaved."""
        self.page.evaluate(
            f"async () => {{ const open = {CURRENT}; await open.sessionContext.shutdown(); open.dispose(); }}"
        )
        for event, listener in self.listeners.items():
            self.page.remove_listener(event, listener)

    def wait_idle(self):
        """Wait until the kernel is connected and has nothing to do."""
        self.page.wait_for_function(IDLE)

    def run_all(self):
        """Run every cell, wait for the end, and fail with the message if a cell raised an error."""
        self.page.evaluate("() => window.jupyterapp.commands.execute('notebook:run-all-cells')")
        self.wait_idle()
        cells = [cell for cell in self.cells() if cell["cell_type"] == "code" and "".join(cell["source"]).strip()]
        outputs = [output for cell in cells for output in cell["outputs"]]
        errors = [f"{o['ename']}: {o['evalue']}" for o in outputs if o["output_type"] == "error"]
        assert not errors, f"a cell failed: {errors}"
        assert all(cell["execution_count"] for cell in cells), "Run All left a cell that was not run"

    def run_in_kernel(self, code):
        """Ask the notebook's kernel to run code, and do not wait for it."""
        self.page.evaluate(f"code => {{ {CURRENT}.sessionContext.session.kernel.requestExecute({{ code }}); }}", code)

    def cells(self):
        """The notebook as it stands on the page, as a list of nbformat cells."""
        return self.page.evaluate(f"() => {CURRENT}.content.model.toJSON()")["cells"]

    def output(self, text=None, *, selector=".jp-OutputArea-output"):
        """A locator of one output: the first that holds `text`, or the first of all."""
        found = self.page.locator(selector)
        return (found.filter(has_text=text) if text else found).first

    def slider(self, label, within=None):
        """The handle of the slider with this label (`within` a piece of the page), scrolled into view and focused."""
        place = self.page if within is None else within
        box = place.locator(".jupyter-widgets.widget-slider").filter(has_text=label).first
        handle = box.locator(".noUi-handle").first
        handle.scroll_into_view_if_needed()
        handle.focus()
        return handle

    def press(self, label, key, *, times=1, watch, within=None):
        """Press a key on a slider, each time until the watched piece of the page has changed.

        Parameters
        ----------
        label : str
            The slider's label.
        key : str
            For example "ArrowRight".
        times : int
        watch : playwright.sync_api.Locator
            The picture or the number itself. Never a parent of the slider: its own read-out changes even
            when the picture is frozen.
        within : playwright.sync_api.Locator, optional
            The piece of the page that holds the slider.

        Returns
        -------
        list of str
            The watched markup before the first press and after each.
        """
        handle = self.slider(label, within)
        seen = [self.markup(watch)]
        for _ in range(times):
            handle.press(key)
            seen.append(self.wait_for_change(watch, seen[-1]))
        return seen

    def markup(self, piece):
        """The markup of a piece of the page, without that of what surrounds it."""
        return piece.evaluate("node => node.outerHTML")

    def wait_for_change(self, piece, before, *, limit=LIMIT):
        """Wait until the markup of `piece` differs from `before`, and return it."""
        end = time.monotonic() + limit
        while time.monotonic() < end:
            now = self.markup(piece)
            if now != before:
                return now
            self.page.wait_for_timeout(20)
        raise AssertionError(f"no change within {limit:.0f} s in: {before[:300]}")

    def screenshot(self, name):
        """Save the window as `name`.png among the pictures taken (LINKKIT_SCREENSHOTS chooses the folder)."""
        self.shots.mkdir(parents=True, exist_ok=True)
        path = self.shots / f"{name}.png"
        self.page.screenshot(path=path)
        return path
