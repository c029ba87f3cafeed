"""Open answers on dimensions: what a linkage does is marked, whichever numbers it has, and nothing stops the marker.

The briefs look at a design with closed forms of their own; here the package's solver, its facts and its design module,
which know nothing of the assignment, are the second route.
"""

import json

import numpy as np
import pytest

import linkkit as lk
from linkkit import design
from linkkit.coursework import bank, find_assignment
from linkkit.coursework.answers import plain
from linkkit.coursework.designed import Designed
from linkkit.coursework.marks import mark_question
from linkkit.marking.box.script import finite
from linkkit.marking.scripts import model_cells
from tolerances import CLOSURE

PAPER = find_assignment("choosing-dimensions")
IDS = [f"maker{n}" for n in range(40)]
DEG = np.pi / 180


def numbers(question, student=IDS[0]):
    """The student's numbers for a question."""
    return PAPER.givens(question.setting, student)


def marked(name, raw, student=IDS[0]):
    """The verdict on one answer, as the marker gives it."""
    return mark_question(PAPER, student, PAPER.by_id[name], {name: raw})


def typed(name, values):
    """A design as a student would write it, every figure kept."""
    rows, units = PAPER.by_id[name].kind.rows, PAPER.by_id[name].kind.units
    return {row: [float(v), {"mm": "m", "deg": "rad"}[unit]] for row, v, unit in zip(rows, values, units, strict=True)}


def right(name, student=IDS[0]):
    """The worked solution's numbers."""
    question = PAPER.by_id[name]
    return np.array(question.right(numbers(question, student)))


def test_every_question_is_an_open_one():
    assert len(PAPER.questions) >= 6
    assert all(isinstance(question.kind, Designed) for question in PAPER.questions)


# --- the same by the solver ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("student", IDS[:12])
def test_crank_rockers_do_what_the_solver_finds(student):
    question = PAPER.by_id["new_shaker"]
    g = numbers(question, student)
    found = lk.facts(lk.four_bar(*right("new_shaker", student)))
    low, high = found.transmission_angle
    assert found.swing == pytest.approx(g.swing, abs=1e3 * CLOSURE)
    assert found.time_ratio == pytest.approx(g.time_ratio, abs=1e3 * CLOSURE)
    assert min(low, np.pi - high) > g.least
    assert max(right("new_shaker", student)) < g.room


@pytest.mark.parametrize("student", IDS[:12])
def test_slider_cranks_do_what_the_solver_finds(student):
    question = PAPER.by_id["new_saw"]
    g, saw = numbers(question, student), lk.slider_crank(*right("new_saw", student))
    found, motion = lk.facts(saw), lk.move(saw, steps=720)
    blade = motion.point("B").real
    assert found.stroke == pytest.approx(g.stroke, abs=1e3 * CLOSURE)
    assert found.time_ratio == pytest.approx(g.time_ratio, abs=1e3 * CLOSURE)
    coming_in = np.count_nonzero(np.diff(blade, append=blade[0]) < 0) / 720
    assert coming_in == pytest.approx(g.time_ratio / (1 + g.time_ratio), abs=2 / 720), "the slow way is the way in"
    assert np.abs(np.sin(motion.angle("rod"))).max() < np.sin(g.lean)
    assert blade.max() < g.room


@pytest.mark.parametrize("student", IDS[:12])
def test_the_gauge_turns_as_the_solver_finds(student):
    g = numbers(PAPER.by_id["new_gauge"], student)
    crank, coupler, rocker, start, zero = right("new_gauge", student)
    at = start + np.array([0, g.crank_second, g.crank_third])
    turned = []
    for circuit in ("open", "crossed"):
        motion = lk.move(lk.four_bar(g.ground, crank, coupler, rocker, circuit), at)
        turned.append(np.angle(np.exp(1j * (motion.angle("rocker") - zero - [0, g.rocker_second, g.rocker_third]))))
    assert min(np.abs(found).max() for found in turned) < 1e3 * CLOSURE, "one circuit meets all three marks"


@pytest.mark.parametrize("student", IDS[:12])
def test_the_line_is_as_straight_as_the_design_module_finds(student):
    g = numbers(PAPER.by_id["straight_line"], student)
    *bars, along, across, start, end = right("straight_line", student)
    bar = lk.four_bar(*bars).with_point("coupler", "P", along, across)
    found = design.straightness(lk.move(bar, np.linspace(start, end, 361)).point("P"))
    assert found.stroke == pytest.approx(g.stroke, rel=1e-3), "the path may reach a hair beyond its ends"
    assert found.height < g.band * g.stroke


@pytest.mark.parametrize("name", ["two_poses", "three_poses"])
def test_the_cover_is_carried_as_the_solver_finds(name):
    for student in IDS[:12]:
        g, values = numbers(PAPER.by_id[name], student), right(name, student)
        a, b = (0, g.width) if name == "two_poses" else (values[0] + 1j * values[1], values[2] + 1j * values[3])
        o, q = values[-4] + 1j * values[-3], values[-2] + 1j * values[-1]
        side = (np.conj(q - a) * (b - a)).imag
        bar = lk.four_bar(abs(q - o), abs(a - o), abs(b - a), abs(b - q), "open" if side > 0 else "crossed")
        place, turned = g.over + 1j * g.up, g.turned
        lean = np.angle(q - o)
        motion = lk.move(bar, np.angle(place + a * np.exp(1j * turned) - o) - lean)
        assert abs(o + motion.point("B") * np.exp(1j * lean) - (place + b * np.exp(1j * turned))) < 1e3 * CLOSURE


@pytest.mark.parametrize("student", IDS[:12])
def test_the_tray_tilts_as_the_solver_finds(student):
    g = numbers(PAPER.by_id["level_tray"], student)
    upper, lower = right("level_tray", student)
    lean, half = np.angle(-g.back - 1j * g.gap), np.arcsin(g.lift / 2 / upper)
    bar = lk.four_bar(np.hypot(g.back, g.gap), upper, g.gap, lower)
    motion = lk.move(bar, np.linspace(-half, half, 81) - lean)
    tilt = np.angle(np.exp(1j * (motion.angle("coupler") + lean + np.pi / 2)))
    assert motion.ok.all()
    assert np.abs(tilt).max() < g.tilt
    assert np.ptp((motion.point("A") * np.exp(1j * lean)).imag) == pytest.approx(g.lift, abs=1e3 * CLOSURE)


# --- other designs than ours -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("student", IDS)
def test_what_the_design_module_makes_is_right_too(student):
    g = numbers(PAPER.by_id["new_shaker"], student)
    made = design.crank_rocker_for(g.swing, g.time_ratio).best.values
    bars = np.array([made[name] for name in ("ground", "crank", "coupler", "rocker")])
    bars *= 0.95 * g.room / bars.max()
    assert not np.allclose(bars, right("new_shaker", student), rtol=1e-3)
    assert marked("new_shaker", typed("new_shaker", bars), student).code == "right"


@pytest.mark.parametrize("student", IDS[:4])
def test_other_pivots_carry_the_cover_as_well(student):
    g, values = numbers(PAPER.by_id["two_poses"], student), right("two_poses", student)
    place = g.over + 1j * g.up
    along = 1j * place / abs(place)
    moved = [values[0] + 0.01 * along.real, values[1] + 0.01 * along.imag, *values[2:]]
    verdict = marked("two_poses", typed("two_poses", moved), student)
    assert not np.allclose(moved, values, atol=1e-3)
    assert "mm from its place" not in verdict.says
    assert verdict.marks >= 0.5 * verdict.of, "both poses are met; a limit may be passed"


@pytest.mark.parametrize(
    ("name", "row"), [("new_shaker", 1), ("new_saw", 0), ("new_gauge", 0), ("two_poses", 1), ("three_poses", 5)]
)
def test_the_nearer_to_the_brief_the_more_marks(name, row):
    question = PAPER.by_id[name]
    shares = []
    for off in (1.0, 1.01, 1.03, 1.08, 1.3):
        values = right(name)
        values[row] *= off
        shares.append(float(question.kind.brief.share(numbers(question), values)))
    assert shares[0] == 1
    assert shares == sorted(shares, reverse=True)
    assert len(set(shares)) >= 3, "marks fall in steps finer than all or nothing"


def test_a_tray_that_tilts_too_much_falls_to_nothing_at_half_as_much_again():
    g, values = numbers(PAPER.by_id["level_tray"]), right("level_tray")
    shares = [
        float(PAPER.by_id["level_tray"].kind.brief.share(g, values + np.array([0, off])))
        for off in (0, -1e-3, -2e-3, -4e-3)
    ]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] == 1
    assert shares[-1] == 0


# --- defects in words ------------------------------------------------------------------------------------------------

DEFECTS = [  # question, design in mm and degrees, words of the verdict
    ("new_shaker", (900, 100, 300, 400), "never close"),
    ("new_shaker", (100, 300, 250, 320), "double-crank"),
    ("new_shaker", (250, 200, 150, 260), "does not turn fully"),
    ("new_saw", (100, 120, 40), "does not turn fully"),
    ("new_saw", (100, 150, -30), "the wrong way"),
    ("new_saw", (400, 2000, 100), "too large for the space"),
    ("new_gauge", (10, 10, 10, 0, 0), "do not close"),
    ("two_poses", (-100, -100, -110, -100), "no room for their bearings"),
    ("two_poses", (5, 0, 200, -200), "shorter than 20 mm"),
    ("straight_line", (200, 300, 250, 250, 500, 0, 0, 90), "does not turn fully"),
    ("straight_line", (200, 10, 250, 250, 500, 0, 90, 270), "Over so wrong a stroke"),
    ("level_tray", (100, 110), "lifts at the most twice its own length"),
    ("level_tray", (300, 600), "comes apart"),
]


@pytest.mark.parametrize(("name", "values", "words"), DEFECTS)
def test_a_defect_is_said(name, values, words):
    kind = PAPER.by_id[name].kind
    raw = {row: f"{v} {unit}" for row, v, unit in zip(kind.rows, values, kind.units, strict=True)}
    verdict = marked(name, raw)
    assert words in verdict.says
    assert verdict.marks < verdict.of


def test_a_gauge_that_changes_circuit_is_told_so():
    """Lengths by Freudenstein's equation whose three marks lie on two circuits: the sides of B differ."""
    question = PAPER.by_id["new_gauge"]
    from linkkit.coursework.bank.choosing_a_function import freudenstein

    for student in IDS:
        g, told = numbers(question, student), []
        turned, shown = np.array([0, g.crank_second, g.crank_third]), np.array([0, g.rocker_second, g.rocker_third])
        for start in np.arange(0, 360, 30) * DEG:
            for zero in np.arange(0, 360, 30) * DEG:
                a, b, c = freudenstein(start + turned, zero + shown)
                if a > 0 and c > 0 and np.isfinite(b):
                    pins, joints = a * np.exp(1j * (start + turned)), 1 + c * np.exp(1j * (zero + shown))
                    sides = np.sign(((joints - pins) / (1 - pins)).imag)
                    if abs(sides.sum()) < 3:
                        told.append(
                            marked(
                                "new_gauge",
                                typed("new_gauge", [*(g.ground * np.array([a, b, c])), start, zero]),
                                student,
                            )
                        )
        assert all(verdict.code != "right" for verdict in told)
        if any("circuit defect" in verdict.says for verdict in told):
            return
    pytest.fail("no gauge on two circuits was told so")


def test_the_other_order_is_told():
    question = PAPER.by_id["three_poses"]
    for student in IDS:
        g, values = numbers(question, student), right("three_poses", student)
        swapped = type(g)(g.values | {"over_mm": g.over_half_mm, "up_mm": g.up_half_mm, "turned_deg": g.turned_half_deg,
                                      "over_half_mm": g.over_mm, "up_half_mm": g.up_mm, "turned_half_deg": g.turned_deg})  # fmt: skip
        share, says = question.kind.brief.share(swapped, values), question.kind.brief.sentences(swapped, values)
        assert share == 0
        assert "order defect" in says[0]


# --- nothing stops the marker ----------------------------------------------------------------------------------------

RUBBISH = [
    None, "", "crank", 3.0, -1.0, [], [1.0], {}, {"crank OA": None}, True, {"not readable": "Odd"}, {"failed": "stopped"},
    {"not finite": "nan"}, [None] * 8, ["x"] * 4, [[1.0, "mm"]] * 3, ["1e308 mm"] * 4, ["1e999 mm"] * 5, ["nan mm"] * 4,
    [-5.0] * 4, ["0 mm"] * 2, ["1e-300 mm"] * 4, ["1 kg"] * 3, [{"a": {"b": 1.0}}] * 8, ["9" * 500] * 2, [1e307] * 8,
]  # fmt: skip


@pytest.mark.parametrize("question", PAPER.questions, ids=lambda q: q.id)
def test_rubbish_is_marked_with_a_sentence_and_never_stops_the_marker(question):
    rows = question.kind.rows
    spoilt = [dict.fromkeys(rows, one) for one in ("nan", "1e999 mm", "-1e300 mm", "0 mm", 1e-12, "5 mm", {}, [])]
    for raw in [*RUBBISH, *spoilt, [1.0] * len(rows), list(range(len(rows)))]:
        verdict = mark_question(PAPER, IDS[0], question, {question.id: json.loads(json.dumps(raw))})
        assert verdict.marks == 0, raw
        assert verdict.code != "not-marked", (raw, verdict.says)
        assert len(verdict.says.split()) > 4


def test_one_bad_row_names_itself():
    raw = typed("new_shaker", right("new_shaker")) | {"crank OA": "-20 mm"}
    assert "crank OA: A length must be above zero." in marked("new_shaker", raw).says
    raw = typed("new_shaker", right("new_shaker")) | {"crank OA": "400 m"}
    assert "crank OA: 400 m is far beyond anything on the quay." in marked("new_shaker", raw).says


@pytest.mark.parametrize("question", PAPER.questions, ids=lambda q: q.id)
def test_many_wild_designs_get_a_share_between_nought_and_one(question):
    draw = np.random.default_rng(7)
    g = numbers(question)
    wild = (
        right(question.id)
        * np.exp(draw.normal(0, 1, (500, 1)))
        * draw.choice([-1, 1, 1, 1], (500, len(question.kind.rows)))
    )
    shares = question.kind.brief.share(g, wild)
    assert ((shares >= 0) & (shares <= 1)).all()
    one_by_one = [float(question.kind.brief.share(g, values)) for values in wild[:25]]
    assert shares[:25] == pytest.approx(one_by_one, abs=1e-9)
    assert all(
        question.kind.brief.sentences(g, values)
        for values, share in zip(wild[:25], one_by_one, strict=True)
        if share < 1
    )


def test_a_design_leaves_the_sandbox_as_plain_capped_numbers():
    space = {"np": np, "lk": lk} | {s.id.rpartition("-")[2]: PAPER.givens(s.id, IDS[1]) for s in PAPER.settings}
    for question in PAPER.questions:
        exec(model_cells(PAPER)[f"{question.id.replace('_', '-')}-answer"], space)
        sent = json.dumps(finite(plain(space[question.id])))
        assert len(sent) < 1000
        assert marked(question.id, json.loads(sent), IDS[1]).code == "right"


def test_designs_are_the_students_own():
    for setting in bank.settings().values():
        if setting.id in {s.id for s in PAPER.settings}:
            drawn = [str(PAPER.givens(setting.id, student).plain()) for student in IDS]
            assert len(set(drawn)) > 0.9 * len(drawn), setting.id
