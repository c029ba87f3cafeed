"""`linkkit describe`: what it prints of each machine is what the package finds, and what it refuses is a sentence."""

import xml.etree.ElementTree as ET

import numpy as np
import pytest
from click.testing import CliRunner

import linkkit as lk
from lifting_table import TABLE
from linkkit.describe import command

SVG = "{http://www.w3.org/2000/svg}"


def printed(*arguments, code=0):
    done = CliRunner().invoke(command, [str(a) for a in arguments], env={"COLUMNS": "200"})
    assert done.exit_code == code, done.output
    return done.output


@pytest.mark.parametrize("name", lk.machines())
def test_every_link_pair_and_chain_of_every_machine(name):
    machine, text = lk.machine(name), printed(name)
    for link, kind in lk.motion_kinds(machine).items():
        rows = [line for line in text.splitlines() if line.split("  ")[0].strip() == link]
        assert any(kind in row for row in rows)
    for chain in lk.breakdown(machine):
        assert any(
            all(part in line for part in (chain.kind, chain.fixed, chain.coupler or "", chain.output or ""))
            for line in text.splitlines()
        )
    assert f"true freedom   {lk.freedom(machine).true}" in text


def test_the_facts_of_a_crank_rocker_by_triangles():
    """Limits where crank and coupler are in line, by the rule of cosines."""
    r, ab, b, d = (lk.machine("net-shaker").length(*ends) for ends in (("O", "A"), ("A", "B"), ("Q", "B"), ("O", "Q")))
    at_q = [np.arccos((d * d + b * b - (ab + s * r) ** 2) / (2 * b * d)) for s in (1, -1)]
    at_o = [np.arccos((d * d + (ab + s * r) ** 2 - b * b) / (2 * d * (ab + s * r))) for s in (1, -1)]
    back = np.degrees(abs(at_o[0] - at_o[1]))
    text = printed("net-shaker")
    assert f"{np.degrees(abs(at_q[0] - at_q[1])):.2f} deg" in text
    assert f"{(180 + back) / (180 - back):.3f}" in text


def test_a_file_of_ones_own_is_described_and_drawn(tmp_path):
    lk.write(lk.four_bar(0.4, 0.1, 0.35, 0.25), tmp_path / "mine.toml")
    picture = tmp_path / "mine.svg"
    assert "crank-rocker" in printed(tmp_path / "mine.toml", "--picture", picture)
    root = ET.parse(picture).getroot()
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    assert root.find(f"{SVG}desc") is not None or root.get("aria-label")


@pytest.mark.parametrize("speed", ["2000rpm", "2000 rpm", "209.43951023931953 rad/s"])
def test_peaks_at_a_speed_however_it_is_written(speed):
    """The pin of a crank that turns evenly: radius times speed, and times its square."""
    machine, w = lk.machine("ice-chopper"), 2000 * 2 * np.pi / 60
    radius = machine.length("O", "A")
    rows = [line.split() for line in printed("ice-chopper", "--speed", speed).splitlines() if " A " in f"{line} "]
    found = {row[0]: float(row[2].replace(",", "")) for row in rows if row[:1] in (["velocity"], ["acceleration"])}
    assert found == pytest.approx({"velocity": radius * w, "acceleration": radius * w * w}, rel=1e-3)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["no-such-machine"], "no-such-machine"),
        (["net-shaker", "--speed", "fast"], "fast"),
        (["net-shaker", "--speed", "3 kg"], "3 kg"),
        (["net-shaker", "--picture", "out.doc"], "not '.doc'"),
        (["ice-chopper", "--speed", "60rpm", "--mass", "blde=5"], "there is no link 'blde'"),
        (["ice-chopper", "--speed", "60rpm", "--mass", "blade=heavy"], "is no mass"),
        (["ice-chopper", "--mass", "blade=5"], "add --speed"),
    ],
)
def test_wrong_arguments_are_answered_by_a_sentence(arguments, words, tmp_path, monkeypatch):
    from linkkit.cli import cli

    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(cli, ["describe", *arguments])
    assert done.exit_code != 0
    assert words in done.output
    assert "Traceback" not in done.output
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('unit = "mm"', 'unit = "m"', "1.3e+03 m across"),
        ('output = "deck"', 'output = "base"', "is the fixed link"),
        # |EF| = 250, |FL| = 382.04: in line at 132.04 and 632.04
        ("[190, 330]", "[100, 900]", "go only from 132.0 mm to 632.0 mm"),
        ("[330, 192.5]", "[330, 4]", "hard to see"),
    ],
)
def test_what_is_probably_not_meant_is_asked_about(old, new, says, tmp_path):
    (tmp_path / "table.toml").write_text(TABLE.replace(old, new), encoding="utf-8")
    text = " ".join(printed(tmp_path / "table.toml").split())
    assert says in text
    assert "Is this meant?" in text
    assert "Is this meant?" not in printed("net-shaker")


def test_masses_of_the_command_line_are_said_and_counted():
    """A lump of 5 kg on the blade alone: at the dead centre the frame feels m r w^2 (1 + r/l), by hand."""
    machine, w = lk.machine("ice-chopper"), 120 * 2 * np.pi / 60
    r, length = machine.length("O", "A"), machine.length("A", "B")
    text = printed("ice-chopper", "--speed", "120rpm", "--mass", "blade=5")
    assert f"{5 * r * w * w * (1 + r / length):.4g} N" in next(x for x in text.splitlines() if "shaking force" in x)
    assert "a lump at its point" in text
    assert "none was given" in text
    bars = printed("ice-chopper", "--speed", "120rpm", "--bars", "3")
    assert f"{3 * length:.4g} kg" in bars
