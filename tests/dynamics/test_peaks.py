"""Peak values, masses in machine files, mechanical advantage, and the command that shows them."""

from dataclasses import replace

import numpy as np
import pytest
from click.testing import CliRunner

import linkkit as lk
from linkkit.cli import cli
from linkkit.peaks import peaks
from tolerances import CLOSURE, DIFFERENCE

CHOPPER = lk.machine("ice-chopper")
HEAVY = replace(CHOPPER, masses={
    "crank": lk.Mass(3.0, at=0.01 + 0.02j, inertia=0.01), "rod": lk.Mass(2.3, along=0.12, across=-0.01, inertia=0.04),
    "blade": lk.Mass(5.1, at="B"),
})  # fmt: skip


def test_peaks_of_a_slider_crank():
    """r w, r w^2, r w^2 (1 + r/l) at the dead centre, and w r/l of the rod square to it: by hand."""
    found = {(p.what, p.where): p for p in peaks(CHOPPER, 50.0)}
    crank, rod = 0.1, CHOPPER.length("A", "B")
    assert found["velocity", "A"].value == pytest.approx(crank * 50, rel=CLOSURE)
    assert np.isnan(found["velocity", "A"].at)
    assert found["acceleration", "B"].value == pytest.approx(crank * 2500 * (1 + crank / rod), rel=CLOSURE)
    assert found["acceleration", "B"].at == pytest.approx(3 * np.pi / 2)
    assert found["angular velocity", "rod"].value == pytest.approx(50 * crank / rod, rel=CLOSURE)
    fine = lk.move(CHOPPER, np.linspace(0, 2 * np.pi, 100_001), speed=50.0)
    assert found["sliding speed", "guide"].value == pytest.approx(np.max(abs(fine.velocity("B"))), rel=DIFFERENCE)
    assert ("angular velocity", "blade") not in found


def test_peaks_of_forces_if_there_are_masses():
    found = {(p.what, p.where): p.value for p in peaks(HEAVY, 50.0)}
    forces = lk.forces(lk.move(HEAVY, np.linspace(0, 2 * np.pi, 20_001), speed=50.0))
    assert found["input", "crank"] == pytest.approx(np.max(abs(forces.input_torque)), rel=DIFFERENCE)
    assert found["pin force", "A on rod"] == pytest.approx(np.max(abs(forces.pin("A"))), rel=DIFFERENCE)
    assert found["slide force", "guide"] == pytest.approx(np.max(abs(forces.slide("guide").normal)), rel=DIFFERENCE)
    assert found["shaking force", "frame"] == pytest.approx(np.max(abs(forces.shaking_force)), rel=DIFFERENCE)


def test_no_bound_at_a_dead_centre():
    closer = lk.machine("hatch-closer")
    found = {(p.what, p.where): p for p in peaks(closer, 1.0)}
    arm = closer.moving[-1]
    assert np.isinf(found["angular velocity", arm].value)
    assert min(abs(found["angular velocity", arm].at - end) for end in lk.reach(closer).here) < DIFFERENCE
    assert found["velocity", "A"].value == pytest.approx(closer.length("O", "A"))


def test_describe_shows_them():
    """2000 revolutions a minute are 209.44 rad/s, and the crank pin goes at 20.94 m/s; the cautions stand below."""
    done = CliRunner().invoke(cli, ["describe", "ice-chopper", "--speed", "2000rpm"])
    assert done.exit_code == 0
    assert "209.4 rad/s" in done.output
    assert "20.94 m/s" in done.output
    assert "qualified engineer" in " ".join(done.output.split())
    assert "Peak" not in CliRunner().invoke(cli, ["describe", "ice-chopper"]).output


@pytest.mark.parametrize("text", ["2000", "fast", "3 m", "rpm", "", "1e3"])
def test_describe_wants_a_speed_with_its_unit(text):
    done = CliRunner().invoke(cli, ["describe", "ice-chopper", "--speed", text])
    assert isinstance(done.exception, lk.LinkageError) or "2000rpm" in done.output


@pytest.mark.parametrize("unit", ["m", "cm", "mm"])
def test_masses_stay_in_the_file(tmp_path, unit):
    lk.write(HEAVY, tmp_path / "machine.toml", unit=unit)
    assert lk.read(tmp_path / "machine.toml") == HEAVY
    assert lk.read(tmp_path / "machine.toml").masses["rod"].along == 0.12


def test_a_mass_alone_is_a_bar_or_a_lump(tmp_path):
    lk.write(CHOPPER, tmp_path / "machine.toml")
    text = (tmp_path / "machine.toml").read_text() + "\n[masses]\nrod.mass_kg = 2\nblade.mass_kg = 5.5\n"
    (tmp_path / "machine.toml").write_text(text)
    found = lk.read(tmp_path / "machine.toml").masses
    assert found["rod"] == lk.uniform_bar(CHOPPER, "rod", 2.0)
    assert found["blade"] == lk.Mass(5.5)


MISTAKES = {
    "mass_kg = -1": "at least zero",
    'mass_kg = "five"': "must be a number",
    "weight = 3": "means nothing",
    'mass_kg = 1\ncentre = "Z"': "does not carry",
    "mass_kg = 1\ncentre = [1]": "two numbers",
    "centre = [1, 2]": "mass_kg",
    "mass_kg = nan": "must be a number",
    'mass_kg = 1\ncentre = "B"\nalong = 2': "either",
}


@pytest.mark.parametrize("mistake", MISTAKES)
def test_mistakes_in_the_file_are_told_with_their_line(tmp_path, mistake):
    lk.write(CHOPPER, tmp_path / "machine.toml")
    text = (tmp_path / "machine.toml").read_text() + f"\n[masses.blade]\n{mistake}\n"
    (tmp_path / "machine.toml").write_text(text)
    with pytest.raises(lk.MachineError, match=MISTAKES[mistake]) as told:
        lk.read(tmp_path / "machine.toml")
    assert "machine.toml, line " in str(told.value)
    text = text.replace("masses.blade", "masses.flywheel").replace(mistake, "mass_kg = 1")
    (tmp_path / "machine.toml").write_text(text)
    with pytest.raises(lk.MachineError, match="no link flywheel"):
        lk.read(tmp_path / "machine.toml")


def test_mechanical_advantage_is_the_ratio_of_forces():
    """A torque of 1 N m on the output is held by the input's torque: statics of the transposed equations."""
    bar = lk.move(lk.four_bar(0.1, 0.04, 0.12, 0.08), np.linspace(0.1, 6, 30))
    held = lk.forces(bar, loads={"rocker": 1.0}).input_torque
    found = lk.mechanical_advantage(bar)
    assert found.kind == "torque"
    assert found.ratio == pytest.approx(-1 / held, rel=1000 * CLOSURE)


def test_a_toggle_has_no_bound():
    """The press: by hand at a position of its own, and infinite where the platen turns back."""
    press = lk.machine("fish-press")
    limits = lk.facts(press).limits
    found = lk.mechanical_advantage(lk.move(press, np.append(limits, 1.0)))
    assert found.kind == "force"
    held = lk.forces(lk.move(press, [1.0]), loads={"ways": 1.0}).input_torque[0]
    assert found.ratio[-1] == pytest.approx(-1 / held, rel=1000 * CLOSURE)
    assert (abs(found.ratio[:-1]) > 1e6 * abs(found.ratio[-1])).all()
