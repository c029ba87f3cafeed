"""The search: laws that it must find, seeds, stops, limits, and that what it returns does what it says."""

import re

import numpy as np
import pytest

import linkkit as lk
from linkkit import LinkageError, design
from linkkit.design import (
    Dimensions,
    EvenTorque,
    Follow,
    Grashof,
    LeastShaking,
    Length,
    Lengths,
    Level,
    Lift,
    Measure,
    Room,
    Sketch,
    Straight,
    Stroke,
    Swing,
    Through,
    TimeRatio,
    Transmission,
    improve,
    judge,
    search,
)

HOIST = lk.machine("crate-hoist")
BARS = Dimensions(lk.four_bar, ground=0.4, crank=(0.05, 0.15), coupler=(0.2, 0.5), rocker=(0.2, 0.5))


def crank_rocker():
    return lk.four_bar(0.4, 0.1, 0.35, 0.25)


def test_least_squares_finds_the_parallelogram():
    """The law: the coupler of a parallelogram does not turn; no other four-bar with a full crank keeps it level."""
    bar = lk.four_bar(0.40, 0.1, 0.37, 0.12)
    start = Sketch(bar, {"B": 0.08})
    one = improve(bar, start, [Level("coupler", within=np.radians(0.1))], over=(0.4, 2.2)).best
    assert one.good
    assert one.linkage.length("A", "B") == pytest.approx(0.4, rel=1e-3)
    assert one.linkage.length("Q", "B") == pytest.approx(0.1, rel=3e-3)


def test_the_hoists_tray_is_made_level():
    before = judge(HOIST, [Level("tray")]).misses["level tray"]
    asked = [Level("tray", within=np.radians(0.05)), Lift("T", 1.083)]
    space = Sketch(HOIST, {"D": 0.05, "E": 0.05, "F": 0.05})
    one = improve(HOIST, space, asked, limits=[Transmission(np.radians(40))]).best
    assert one.misses["level tray"] < before / 10
    fine = lk.move(one.linkage, steps=3600)
    assert np.ptp(fine.angle("tray")) / 2 == pytest.approx(one.misses["level tray"], rel=0.02)
    assert np.ptp(fine.point("T").imag) == pytest.approx(1.083, abs=0.005)


def test_a_search_meets_swing_and_time_ratio():
    asked = [Swing("rocker", np.radians(45)), TimeRatio("rocker", 1.15)]
    found = search(BARS, asked, limits=[Transmission(np.radians(40)), Grashof("crank-rocker")], tries=20_000)
    known = lk.facts(found.best.linkage)
    assert found.best.good
    assert np.degrees(known.swing) == pytest.approx(45, abs=1)
    assert known.time_ratio == pytest.approx(1.15, abs=0.02)
    assert known.transmission_angle[0] > np.radians(39.9)
    assert [d.rank for d in found] == sorted(d.rank for d in found)


def test_the_same_seed_gives_the_same_answer():
    one, two, other = (search(BARS, [Swing("rocker", 0.7)], tries=500, seed=seed) for seed in (3, 3, 4))
    assert [d.values for d in one] == [d.values for d in two]
    assert [d.values for d in one] != [d.values for d in other]


def test_a_stop_keeps_the_best_so_far():
    told = []
    found = search(BARS, [Swing("rocker", 0.7)], tries=10_000_000, progress=told.append, stop=lambda: len(told) == 2)
    assert found.stopped
    assert found.tried == 2 * design.search.__globals__["CHUNK"]
    assert told[0].stage == "looking"
    assert told[1].best <= told[0].best
    assert found.best.good


def test_control_c_keeps_the_best_so_far():
    def told(now):
        if now.done > 20_000:
            raise KeyboardInterrupt

    found = search(BARS, [Swing("rocker", 0.7)], tries=10_000_000, progress=told)
    assert found.stopped
    assert found.best.error < 1


def test_shaking_is_made_less_and_is_what_forces_says():
    masses, speed = {"crank": 1.0, "coupler": 2.0, "rocker": 2.0}, 20.0
    aims = [LeastShaking(masses, speed, within=50.0), Swing("rocker", np.radians(45))]
    one = search(BARS, aims, tries=3000, steps=36, keep=1).best
    direct = np.abs(lk.forces(lk.move(one.linkage, steps=1440, speed=speed), masses=masses).shaking_force)
    assert one.misses["shaking force"] == pytest.approx(direct.max(), rel=1e-9)
    unhurried = search(BARS, aims[1:], tries=3000, steps=36, keep=5)
    assert all(direct.max() < LeastShaking(masses, speed, within=1).miss(d.motion).max() for d in unhurried)


def test_a_torque_without_masses_or_loads_is_even():
    aim = EvenTorque({"coupler": 1.0}, 10.0, within=1.0)
    assert np.abs(aim.miss(lk.move(crank_rocker()).with_speed(0.0))).max() > 0
    quiet = EvenTorque({"coupler": 1.0}, 0.0, within=1.0)
    assert np.abs(quiet.miss(lk.move(crank_rocker()))).max() == 0


def test_torque_is_smoothed():
    aims = [EvenTorque({"rocker": 3.0}, 30.0, within=5.0), Swing("rocker", np.radians(40), within=np.radians(3))]
    start = judge(crank_rocker(), aims)
    one = search(BARS, aims, tries=2000, steps=36, keep=1).best
    assert one.misses["input torque"] < start.misses["input torque"]


AIMS = [
    (Swing("rocker", 0.5), "swing rocker misses by"),
    (Stroke("B", 1.0), "stroke B misses by"),
    (TimeRatio("rocker", 3.0), "time ratio rocker misses by"),
    (Straight("B"), "straight B misses by"),
    (Through("B", np.array([1 + 1j])), "through B misses by"),
    (Follow("rocker", lambda x: 0.3 * x), "follow rocker misses by"),
    (Level("rocker"), "level rocker misses by"),
    (Measure("height", lambda m: m.point("B").imag, wanted=9.0, within=0.1, unit="m"), "height misses by"),
]


@pytest.mark.parametrize(("aim", "says"), AIMS)
def test_an_aim_that_is_missed_is_said(aim, says):
    assert any(said.startswith(says) for said in judge(crank_rocker(), [aim]).defects)


def met():
    motion = lk.move(crank_rocker(), steps=1440)
    known, x, b = lk.facts(crank_rocker()), motion.point("B"), motion.angle("rocker")
    return [
        Swing("rocker", known.swing, within=1e-6),
        TimeRatio("rocker", known.time_ratio, within=1e-4),
        Stroke("B", np.ptp(x.real), within=1e-6),
        Lift("B", np.ptp(x.imag), within=1e-6),
        Through("B", x[[3, 700]], within=1e-9),
        Follow("rocker", lambda given: np.interp(given, motion.input, b), within=1e-9),
        Measure("height", lambda m: m.point("B").imag.max(axis=-1), wanted=x.imag.max(), within=1e-9),
    ]


@pytest.mark.parametrize("number", range(7))
def test_an_aim_that_is_met_is_met(number):
    """Second route: facts, and the arrays of `move` themselves."""
    assert judge(crank_rocker(), [met()[number]]).good


LIMITS = [
    (Transmission(np.radians(60)), "transmission angle falls"),
    (Grashof("double-crank"), "it is a crank-rocker"),
    (Length("O", "A", 0.2, 0.3), "OA is 100 mm"),
    (Lengths(high=0.3), "OQ is 400 mm"),
    (Room(("B", "A"), y=(0, 0.2)), "A leaves its room by 100 mm"),
]


@pytest.mark.parametrize(("limit", "says"), LIMITS)
def test_a_limit_that_is_broken_is_said(limit, says):
    assert any(says in said for said in judge(crank_rocker(), limits=[limit]).defects)


KEPT = [
    Transmission(0.3),
    Grashof("crank-rocker"),
    Length("O", "A", high=0.1),
    Lengths(0.1, 0.4),
    Room("B", x=(0, 0.5)),
]


@pytest.mark.parametrize("limit", KEPT)
def test_a_limit_that_is_kept_is_not(limit):
    assert judge(crank_rocker(), limits=[limit]).good


def test_a_family_is_measured_as_its_members_are():
    """The search's numbers for many at once are those of each by itself."""
    sizes = np.random.default_rng(1).uniform(0.2, 0.5, (6, 2))
    family = lk.four_bar(0.4, 0.1, sizes[:, :1], sizes[:, 1:])
    angles = np.linspace(0, 2 * np.pi, 73)[:-1]
    together = lk.move(family, angles)
    for n, (coupler, rocker) in enumerate(sizes):
        try:
            alone = lk.move(lk.four_bar(0.4, 0.1, coupler, rocker), angles)
        except LinkageError:
            continue
        if not alone.ok.all():
            continue
        for measured in [*met(), LeastShaking({"coupler": 1.0}, 5.0, within=1.0)]:
            assert np.allclose(measured.miss(together)[n], measured.miss(alone), atol=1e-9), measured.name
        for limit in [*KEPT, *(limit for limit, _ in LIMITS)]:
            assert np.allclose(np.broadcast_to(limit.excess(together), 6)[n], limit.excess(alone), atol=1e-9)


def test_a_limit_in_the_way_is_kept_and_the_aim_missed():
    """Swing 45 deg at a ratio of 1.3 cannot be had with 50 deg of transmission: limits come before aims."""
    limit = Transmission(np.radians(50))
    asked = [Swing("rocker", np.radians(45)), TimeRatio("rocker", 1.3)]
    one = search(BARS, asked, limits=[limit], tries=5000, keep=3).best
    assert limit.excess(one.motion) < 1e-5
    assert not one.good
    assert all("misses by" in said for said in one.defects)


def test_what_does_not_assemble_is_said():
    one = judge(lk.four_bar(0.4, 0.3, 0.35, 0.32), [Swing("rocker", 0.5)])
    assert any("circuit defect" in said for said in one.defects)
    assert one.error == np.inf


def test_a_change_point_is_said():
    assert any("branch defect" in said for said in judge(lk.four_bar(0.4, 0.1, 0.4, 0.1)).defects)


def test_a_ram_stays_on_the_points_that_it_runs_through(tmp_path):
    moved = Sketch(HOIST, {"F": 0.1}).build(**{"F.x": np.float64(1.5), "F.y": 1.45})
    ram = moved.slide("ram")
    along = moved.points["F"] - moved.points["P"]
    assert ram.through == moved.points["P"]
    assert abs(ram.direction - along / abs(along)) < 1e-12
    assert lk.move(moved).residual.max() < 1e-12 * 3
    lk.write(moved, tmp_path / "moved.toml")
    assert lk.read(tmp_path / "moved.toml").points == moved.points


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: search(BARS, []), "at least one aim"),
        (lambda: Dimensions(lk.four_bar, ground=1, crank=1, coupler=1, rocker=1), "nothing is free"),
        (lambda: Dimensions(lk.four_bar, ground=(2, 1)), "lower one first"),
        (lambda: Dimensions(lk.four_bar, ground="wide"), "must be a number"),
        (lambda: Sketch(HOIST, {"Z": 0.1}), "no point 'Z'"),
        (lambda: Grashof("rocker-rocker"), "a class is one of"),
        (lambda: search(Dimensions(lk.four_bar, ground=9.0, crank=(1, 2), coupler=1, rocker=1), [Swing("rocker", 1)], tries=50), "widen"),
        (lambda: judge(lk.four_bar(0.4, np.array([[0.1], [0.2]]), 0.3, 0.3)), "one linkage at a time"),
        (lambda: judge(lk.slider_crank(0.1, 0.3), limits=[Grashof("crank-rocker")]), "one four-bar"),
    ],
)  # fmt: skip
def test_wrong_use_is_a_sentence(call, says):
    with pytest.raises(LinkageError, match=says):
        call()


def test_a_design_reads_as_sentences():
    said = str(
        judge(crank_rocker(), [Swing("rocker", 0.5)], values={"crank": 0.1, "frame": np.pi / 3, "time ratio": 1.2})
    )
    assert said.startswith("crank 100.000 mm, frame 60.000 deg, time ratio 1.2000\n")
    assert "swing rocker misses by" in said
    assert re.search(r"^swing rocker: off by [0-9.]+ deg at most$", said, re.MULTILINE)
    assert "local codes" in said


def hardly(size, by):
    """Aims and limits that a crank-rocker misses by next to nothing."""
    swing = judge(crank_rocker(), [Swing("rocker", 0)]).misses["swing rocker"]
    return {
        "limit": ((), [Transmission(size + by)]),
        "length": ((), [Length("O", "A", high=0.1 - by)]),
        "aim": ([Swing("rocker", 0.0, within=swing - by)], ()),
    }


@pytest.mark.parametrize("what", ["limit", "length", "aim"])
@pytest.mark.parametrize("by", [2e-5, 1e-4])
def test_a_miss_by_a_hair_shows(what, by):
    """What is reached and what is asked for never read alike."""
    aims, limits = hardly(min(Transmission(0).smallest(judge(crank_rocker()).motion), np.pi), by)[what]
    (said,) = judge(crank_rocker(), aims, limits=limits).defects
    reached, asked = map(float, re.findall(r"[0-9.]+(?= (?:deg|mm))", said))
    assert reached != asked


@pytest.mark.parametrize(
    ("low", "high", "says"),
    [
        (0.2, 0.3, "OA is 100 mm, and 200 mm to 300 mm is allowed"),
        (0.2, None, "OA is 100 mm, and 200 mm or more is allowed"),
        (None, 0.05, "OA is 100 mm, and 50 mm or less is allowed"),
    ],
)
def test_bounds_of_a_length_are_said(low, high, says):
    assert judge(crank_rocker(), limits=[Length("O", "A", low, high)]).defects == (says,)


def test_a_ram_is_driven_over_its_span():
    """The ram's own span of the input is kept where no range is asked for."""
    tipping = lk.machine("crate-hoist")
    from dataclasses import replace

    ram_first = replace(tipping, inputs=tipping.inputs[::-1])
    one = improve(ram_first, {"F": 0.1}, [Swing("tray", np.radians(80), within=np.radians(2))]).best
    assert one.motion.input[[0, -1]].tolist() == [1.4, 1.6]
    assert np.degrees(np.ptp(one.motion.angle("tray"))) == pytest.approx(80, abs=2)


def test_a_search_is_never_worse_than_the_sketch():
    asked = [Level("tray", within=np.radians(0.05))]
    found = search(Sketch(HOIST, {"D": 0.5, "N": 0.5}), asked, tries=20, keep=1)
    assert found.best.error <= judge(HOIST, asked).error
