"""The command line: what a user sees of it, right or wrong."""

import subprocess
import sys

import click
import pytest
from click.testing import CliRunner

from linkkit import LinkageError
from linkkit.cli import COMMANDS, cli


def run(*arguments):
    return CliRunner().invoke(cli, arguments)


def failing(error):
    """A command that ends in `error`."""

    @click.command()
    def command():
        raise error

    return command


def add_command(monkeypatch, command):
    monkeypatch.setattr("linkkit.cli.made", command, raising=False)
    monkeypatch.setitem(COMMANDS, "made", ("linkkit.cli:made", "Made for a test."))


def test_help_names_each_command_in_a_line():
    shown = run("--help")
    assert shown.exit_code == 0
    for name, (_, about) in COMMANDS.items():
        assert f"{name} " in shown.output
        assert about in " ".join(shown.output.split())


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_loads_and_explains_itself(name):
    shown = run(name, "--help")
    assert shown.exit_code == 0
    assert f"Usage: cli {name}" in shown.output


def test_version():
    assert run("--version").output.startswith("cli, version ")


@pytest.mark.parametrize("arguments", [["wokrbook"], ["workbook", "--port", "many"], ["workbook", "--nonsense"]])
def test_wrong_usage_is_a_sentence(arguments):
    shown = run(*arguments)
    assert shown.exit_code == 2
    assert "Error: " in shown.output
    assert "Traceback" not in shown.output


@pytest.mark.parametrize(
    ("error", "told"),
    [
        (LinkageError("link arm carries one point only."), "Error: link arm carries one point only.\n"),
        (
            FileNotFoundError(2, "No such file or directory", "a.toml"),
            "Error: a.toml: No such file or directory.\n",
        ),
    ],
)
def test_a_users_error_is_a_sentence(monkeypatch, error, told):
    add_command(monkeypatch, failing(error))
    shown = run("made")
    assert shown.exit_code == 1
    assert shown.output == told


def test_our_own_fault_keeps_its_traceback(monkeypatch):
    add_command(monkeypatch, failing(ZeroDivisionError("ours")))
    assert isinstance(run("made").exception, ZeroDivisionError)


def test_the_script_is_installed():
    done = subprocess.run([sys.executable, "-m", "linkkit.cli", "--version"], capture_output=True, text=True)
    assert done.stdout.startswith("linkkit, version ")
