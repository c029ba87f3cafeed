"""Everything that can be given wrongly is answered by one sentence that says what, and what would be right."""

import contextlib
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

import linkkit as lk
from linkkit import Input, Linkage, LinkageError, Slide

BAR = lk.four_bar(0.4, 0.1, 0.35, 0.25)
ENGINE = lk.slider_crank(0.05, 0.2)
FAMILY = lk.four_bar(np.array([[0.4], [0.5]]), 0.1, 0.35, 0.25)
NEVER = lk.four_bar(np.array([[1.0], [2.0]]), 0.1, 0.2, 0.3)
HOIST = lk.machine("crate-hoist")
PAIR = {"a": ("O", "A")}
POINTS = {"O": 0, "A": 1}
TRIANGLE = Linkage(
    {"O": 0, "A": 1, "B": 1j}, {"g": ("O", "B"), "a": ("O", "A"), "b": ("A", "B")}, "g",
    inputs=(Input("turn", "angle", "O", ("g", "a")),),
)  # fmt: skip
FIVE = Linkage(
    {"O": 0, "A": 1j, "B": 1 + 2j, "C": 2 + 1j, "Q": 2},
    {"g": ("O", "Q"), "a": ("O", "A"), "b": ("A", "B"), "c": ("B", "C"), "d": ("C", "Q")},
    "g",
    inputs=(Input("turn", "angle", "O", ("g", "a")),),
)


class Metres:
    """A quantity with a unit, as libraries of units make them."""

    magnitude = 0.4


def with_input(**changes):
    return replace(BAR, inputs=(replace(BAR.inputs[0], **changes),))


def with_slide(**changes):
    return replace(ENGINE, slides=(replace(ENGINE.slides[0], **changes),))


def surveyed(angles=(0, 1), **lengths):
    known = {"ground": 0.4, "crank": 0.1, "coupler": 0.35, "rocker": 0.25} | lengths
    return lk.survey(lk.four_bar, known, angles, lambda motion: motion.angle("rocker"))


BAD_NUMBERS = ["0.4", None, np.nan, np.inf, -np.inf, 1j, np.complex128(1), True, [0.4, "a"], [[1], [1, 2]], 10**400, {},
               Metres(), np.array([0.4, np.nan]), "NaN"]  # fmt: skip
BAD_LENGTHS = [*BAD_NUMBERS, 0, -0.1, 1e-200, 1e200, np.array([0.4, 0.0])]


@pytest.mark.parametrize("bad", BAD_LENGTHS, ids=lambda bad: repr(bad)[:20])
@pytest.mark.parametrize("place", range(4))
def test_lengths_of_a_four_bar(bad, place):
    lengths = [0.4, 0.1, 0.35, 0.25]
    lengths[place] = bad
    with pytest.raises(LinkageError, match=("ground", "crank", "coupler", "rocker")[place] + " must be"):
        lk.four_bar(*lengths)
    with pytest.raises(LinkageError, match="must be"):
        lk.facts.__globals__["grashof"](*lengths)


@pytest.mark.parametrize("bad", BAD_NUMBERS, ids=lambda bad: repr(bad)[:20])
def test_numbers_that_may_have_a_sign(bad):
    for call, words in (
        (lambda: lk.slider_crank(0.05, 0.2, bad), "offset must be"),
        (lambda: BAR.with_point("crank", "C", bad), "the place of C must be"),
        (lambda: BAR.with_length("O", "A", bad), "the length OA must be"),
        (lambda: lk.move(HOIST, 0.1, held={"ram": bad}), "input must be"),
        (lambda: lk.move(BAR, 0.1, speed=bad), "speed must be|speed do not fit|no input"),
        (lambda: lk.move(BAR, 0.1, acceleration=bad), "acceleration must be|acceleration do not fit|no input"),
        (lambda: lk.move(BAR).with_speed(bad), "speed must be|speed do not fit|no input"),
    ):
        if isinstance(bad, dict) and "no input" in words:
            continue  # an empty dict of speeds is a good one
        with pytest.raises(LinkageError, match=words):
            call()
    if bad is not None:  # no input given is the whole cycle
        with pytest.raises(LinkageError, match="an input must be"):
            lk.move(BAR, bad)


MISTAKES = [
    (lambda: lk.four_bar(1, 0.1, 0.2, 0.3), "never close"),
    (lambda: lk.four_bar(0.4, 0.1, 0.35, 0.25, "closed"), "circuit is 'open' or 'crossed'"),
    (lambda: lk.four_bar(np.ones(3), np.ones(4), 1, 1), "do not fit together"),
    (lambda: lk.slider_crank(0.1, 0.2, 0.5), "never reach"),
    (lambda: lk.slider_crank(np.ones(3), 2, np.zeros(4)), "do not fit together"),
    (lambda: Linkage([1], PAIR, "a"), "points must be a dict"),
    (lambda: Linkage({"O": (0, 1)}, PAIR, "a"), "point O must be a complex number"),
    (lambda: Linkage({"O": "1+2j"}, PAIR, "a"), "point O must be a complex number"),
    (lambda: Linkage({"O": None}, PAIR, "a"), "point O must be a complex number"),
    (lambda: Linkage({5: 0}, PAIR, "a"), "name of a point"),
    (lambda: Linkage({"O": np.nan, "A": 1}, PAIR, "a"), "point O is at .* finite"),
    (lambda: Linkage({"O": 1e300, "A": 1}, PAIR, "a"), "point O is at .* sensible size"),
    (lambda: Linkage(POINTS, None, "a"), "links must be a dict"),
    (lambda: Linkage(POINTS, {}, "a"), "there are no links"),
    (lambda: Linkage(POINTS, {"a": "OA"}, "a"), "link a must list"),
    (lambda: Linkage(POINTS, {"a": 5}, "a"), "link a must list"),
    (lambda: Linkage(POINTS, {"": ("O", "A")}, ""), "name of a link"),
    (lambda: Linkage(POINTS, {"a": ("O", "Z")}, "a"), "carries point Z, which is not"),
    (lambda: Linkage(POINTS, {"a": ("O", ["A"])}, "a"), "which is not among"),
    (lambda: Linkage(POINTS, {"a": ("O", "A", "O")}, "a"), "lists a point twice"),
    (lambda: Linkage(POINTS, {"a": ("O",)}, "a"), "point A is on no link"),
    (lambda: Linkage({"O": 0, "A": 0}, PAIR, "a"), "lie on one spot"),
    (lambda: Linkage(POINTS, PAIR, ["a"]), "fixed link .* is not one of"),
    (lambda: Linkage(POINTS, PAIR, "b"), "fixed link 'b' is not one of"),
    (lambda: replace(BAR, output="b"), "output 'b' is not one of"),
    (lambda: Linkage(POINTS, {"a": ("O", "A"), "b": ("A",)}, "a"), "needs two points or a slide"),
    (lambda: replace(BAR, links=BAR.links | {"x": ("X", "Y")}, points=BAR.points | {"X": 1, "Y": 2}), "link x floats"),
    (lambda: Linkage(POINTS, PAIR, "a", slides=5), "slides must be a tuple of Slide"),
    (lambda: Linkage(POINTS, PAIR, "a", slides=(5,)), "slides must be a tuple of Slide"),
    (lambda: Linkage(POINTS, PAIR, "a", inputs="crank"), "inputs must be a tuple of Input"),
    (lambda: with_slide(block="nobody"), "block 'nobody' is not one of|on no slide"),
    (lambda: with_slide(on="slider"), "cannot slide on itself|floats|no slide"),
    (lambda: with_slide(name="B"), "that name is taken"),
    (lambda: with_slide(direction=2), "unit vector"),
    (lambda: with_slide(direction=0j), "unit vector"),
    (lambda: with_slide(direction="up"), "complex numbers"),
    (lambda: with_slide(through=np.nan), "finite point"),
    (lambda: with_input(kind="torque"), "its kind is"),
    (lambda: with_input(links=("ground",)), "needs the two links"),
    (lambda: with_input(links=("ground", "crank", "rocker")), "needs the two links"),
    (lambda: with_input(links=("ground", "ground")), "needs the two links"),
    (lambda: with_input(links=("ground", "bench")), "there is no link bench"),
    (lambda: with_input(links=("ground", "rocker")), "are not paired at a point O"),
    (lambda: with_input(kind="distance"), "are not paired at a slide O"),
    (lambda: with_input(span=(1, np.nan)), "span must be two finite numbers"),
    (lambda: with_input(span=(2, 1)), "span must be two finite numbers"),
    (lambda: with_input(span="ab"), "span must be two finite numbers"),
    (lambda: replace(BAR, inputs=BAR.inputs * 2), "two inputs are called crank"),
    (lambda: BAR.length("O", "Z"), "no point 'Z'; the points are O, A, B, Q"),
    (lambda: BAR.with_fixed("Z"), "no link 'Z'; the links are ground, crank"),
    (lambda: BAR.with_fixed(["crank"]), "there is no link"),
    (lambda: BAR.with_point("crank", "A", 0.1), "already a point A"),
    (lambda: BAR.with_point("crank", "C", 0.1), "lie on one spot"),
    (lambda: BAR.with_point("crank", 5, 0.1, 0.1), "name of a point must be a text"),
    (lambda: BAR.with_length("O", "A", 10), "cannot be assembled on this circuit .* OA was 0.1 m"),
    (lambda: BAR.with_length("O", "B", 1), "no link carries both O and B"),
    (lambda: BAR.with_length("O", "O", 1), "no link carries both O and O"),
    (lambda: BAR.with_length("O", "A", [0.1, 0.2]), "must be one number"),
    (lambda: FAMILY.with_length("O", "A", 0.1), "one linkage at a time"),
    (lambda: lk.move(BAR).point("Z"), "no point 'Z'"),
    (lambda: lk.move(BAR).angle("Z"), "no link 'Z'"),
    (lambda: lk.move(BAR).rotation("Z"), "no link 'Z'"),
    (lambda: lk.move(BAR).velocity("Z"), "no point 'Z'"),
    (lambda: lk.move(BAR).acceleration(7), "no point 7"),
    (lambda: lk.move(BAR).angular_velocity("Z"), "no link 'Z'"),
    (lambda: lk.move(BAR).angular_acceleration("Z"), "no link 'Z'"),
    (lambda: lk.move(ENGINE).displacement("Z"), "no slide 'Z'; the slides are slide"),
    (lambda: lk.move(ENGINE).place("rod", "B"), "a place on rod must be a complex number"),
    (lambda: lk.move(BAR, steps=0), "steps must be a whole number of at least 1, not 0"),
    (lambda: lk.move(BAR, steps=-3), "steps must be a whole number"),
    (lambda: lk.move(BAR, steps=1.5), "steps must be a whole number"),
    (lambda: lk.move(BAR, steps=True), "steps must be a whole number"),
    (lambda: lk.move(BAR, drive="motor"), "no input 'motor'; the inputs are crank"),
    (lambda: lk.move(BAR, drive=3), "no input 3"),
    (lambda: lk.move(BAR, held={"motor": 1}), "no input 'motor'"),
    (lambda: lk.move(BAR, held={"crank": 1}), "crank drives, so it cannot be held"),
    (lambda: lk.move(BAR, held=3), "held must be a dict"),
    (lambda: lk.move(BAR, speed={"motor": 1}), "no input 'motor'"),
    (lambda: lk.move(BAR, steps=4, speed=[1, 2, 3]), "do not fit together"),
    (lambda: lk.move(BAR, 0.5, speed=[1, 2, 3]), "more values than there are positions"),
    (lambda: lk.move(HOIST, np.zeros(4), held={"ram": np.full(3, 1.5)}), "do not fit together"),
    (lambda: lk.move(lk.four_bar(0.4 * np.ones(3), 0.1, 0.35, 0.25), np.zeros(4)), "do not fit together"),
    (lambda: lk.move(replace(BAR, inputs=())), "the linkage has no input"),
    (lambda: lk.facts(replace(BAR, inputs=())), "the linkage has no input"),
    (lambda: lk.motion_kinds(replace(BAR, inputs=())), "the linkage has no input"),
    (lambda: lk.reach(replace(BAR, inputs=())), "the linkage has no input"),
    (lambda: lk.breakdown(replace(BAR, inputs=())), "with 0 inputs nothing decides where crank, coupler, rocker"),
    (lambda: lk.move(FIVE), "with 1 input nothing decides where b, c, d should be: give another input"),
    (lambda: lk.move(TRIANGLE), "a structure, which cannot move"),
    (lambda: lk.move(replace(BAR, inputs=(*BAR.inputs, Input("r", "angle", "Q", ("ground", "rocker"))))),
     "inputs crank and r are 2 for 1 freedom: leave out all but 1"),
    (lambda: lk.move(replace(BAR, inputs=(*BAR.inputs, Input("r", "angle", "O", ("ground", "crank"))))),
     "drives a freedom that another input drives"),
    (lambda: lk.facts(FAMILY), "one linkage at a time"),
    (lambda: lk.freedom(FAMILY), "one linkage at a time"),
    (lambda: lk.motion_kinds(FAMILY), "one linkage at a time"),
    (lambda: lk.reach(FAMILY), "one linkage at a time"),
    (lambda: lk.write(FAMILY, "x.toml"), "one linkage, not a family"),
    (lambda: lk.write(BAR, "x.toml", unit="in"), "unit is one of m, cm, mm"),
    (lambda: lk.write(BAR, "no/such/folder/x.toml"), "cannot be written"),
    (lambda: lk.write(BAR, None), "has a path"),
    (lambda: lk.read(5), "has a path"),
    (lambda: lk.read("a\0b"), "zero byte"),
    (lambda: lk.machine("no-such"), "the machines are bilge-pump"),
    (lambda: lk.machine(5), "the machines are bilge-pump"),
    (lambda: surveyed(crank=[0.1, "x"]), "crank must be a length"),
    (lambda: surveyed(crank=[0.1, -1]), "crank must be a length"),
    (lambda: surveyed(crank=[0.1, 0.2], coupler=[1, 2, 3]), "arrays of one size"),
    (lambda: surveyed(crank=[]), "at least one member"),
    (lambda: surveyed(angles=[]), "at least one member and one value"),
    (lambda: surveyed(angles=["x"]), "an input must be"),
    *[(lambda call=call, given=given: call(given), "a Linkage is needed") for call in
      (lk.move, lk.facts, lk.mobility, lk.freedom, lk.breakdown, lk.motion_kinds, lk.reach) for given in (5, None, "bar")],
]  # fmt: skip


@pytest.mark.parametrize(("call", "words"), MISTAKES, ids=[words[:40] for _, words in MISTAKES])
def test_each_mistake_is_answered_by_a_sentence(call, words):
    with pytest.raises(LinkageError, match=words) as caught:
        call()
    said = str(caught.value)
    assert len(said) < 300
    assert "\n" not in said


def everything(motion):
    """Call all that a motion offers."""
    for point in motion.linkage.points:
        for of in (motion.point, motion.velocity, motion.acceleration):
            assert np.shape(of(point)) == motion.shape
    for link in motion.linkage.links:
        for of in (motion.angle, motion.rotation, motion.angular_velocity, motion.angular_acceleration):
            assert np.shape(of(link)) == motion.shape
    assert np.shape(motion.ok) == np.shape(motion.residual) == motion.shape


LINKAGES = {
    "four-bar": BAR, "engine": ENGINE, "parallelogram": lk.four_bar(0.4, 0.1, 0.4, 0.1), "shaper": lk.machine("boatshed-shaper"),
    "hoist": HOIST, "family": FAMILY, "never assembled": NEVER, "hatch": lk.machine("hatch-closer"),
}  # fmt: skip


@pytest.mark.parametrize("linkage", LINKAGES.values(), ids=LINKAGES)
@pytest.mark.parametrize("values", [0, 0.3, np.float32(0.3), [], [0.0], range(3), np.zeros((0, 4)), [[0.1, 2.0], [3.0, 0.0]],
                                    np.zeros((3, 2, 1)), np.array([1, 2], dtype=np.int8), 1e6], ids=repr)  # fmt: skip
def test_inputs_of_any_shape(linkage, values):
    """Numbers, lists, empty arrays, tables: the answers have the shape of the input, broadcast with a family's."""
    family = next(iter(linkage.points.values()))
    with contextlib.suppress(LinkageError):  # two members do not go with three values: a sentence, no traceback
        motion = lk.move(linkage, values, speed=2.0, acceleration=1.0)
        assert motion.shape == np.broadcast_shapes(np.shape(values), np.shape(family))
        everything(motion)


@pytest.mark.parametrize("linkage", LINKAGES.values(), ids=LINKAGES)
def test_a_cycle_of_one_step(linkage):
    motion = lk.move(linkage, steps=1, speed=1.0)
    assert motion.shape[-1:] == (1,)
    everything(motion)


def test_a_family_is_its_members():
    """Every member of a family moves as it does alone; one that never closes is nan and not assembled throughout."""
    ground, crank = np.array([[0.4], [0.45], [5.0]]), np.array([0.1, 0.12])
    motion = lk.move(lk.four_bar(ground[..., None], crank[:, None], 0.35, 0.25), np.linspace(0, 6, 7), speed=1.0)
    assert motion.shape == (3, 2, 7)
    assert not motion.ok[2].any()
    assert np.isnan(motion.point("B")[2]).all()
    for m in range(2):
        for n in range(2):
            alone = lk.move(lk.four_bar(ground[m, 0], crank[n], 0.35, 0.25), np.linspace(0, 6, 7), speed=1.0)
            good = alone.ok & motion.ok[m, n]
            assert (alone.ok == motion.ok[m, n]).all()
            assert np.abs(alone.point("B") - motion.point("B")[m, n])[good].max(initial=0) < 1e-14
            assert np.abs(alone.acceleration("B") - motion.acceleration("B")[m, n])[good].max(initial=0) < 1e-9


def test_families_of_points_and_slides():
    engines = lk.slider_crank(np.array([[0.05], [0.06]]), 0.2, np.array([[0.0], [0.01]]))
    engines = engines.with_point("rod", "C", 0.1, np.array([[0.0], [0.02]]))
    motion = lk.move(engines, [0.3, 1.0])
    for n, (r, e, h) in enumerate([(0.05, 0.0, 0.0), (0.06, 0.01, 0.02)]):
        alone = lk.move(lk.slider_crank(r, 0.2, e).with_point("rod", "C", 0.1, h), [0.3, 1.0])
        assert motion.point("C")[n] == pytest.approx(alone.point("C"), abs=1e-15)


def test_with_length_keeps_the_circuit():
    """Every length changed a little and back: the same side of the same chains, and the first sketch again."""
    for name in ("crate-hoist", "fish-press", "brine-lift", "net-shaker", "boatshed-shaper"):
        linkage = lk.machine(name)
        for link, carried in linkage.links.items():
            for p, q in pairwise(carried):
                length = linkage.length(p, q)
                changed = linkage.with_length(p, q, 1.02 * length)
                assert changed.length(p, q) == pytest.approx(1.02 * length, rel=1e-12)
                kinds = [c.kind for c in lk.breakdown(changed)]
                assert kinds == [c.kind for c in lk.breakdown(linkage)], (name, link)
                others = [(a, b) for c in linkage.links.values() for a in c for b in c if a < b and q not in (a, b)]
                assert all(changed.length(a, b) == pytest.approx(linkage.length(a, b), rel=1e-9) for a, b in others)
                near = min(
                    abs(lk.move(changed).point(t) - linkage.points[t]).min() for t in linkage.links[linkage.output]
                )
                assert near < 0.25 * max(abs(z) for z in linkage.points.values()), "still about the old places"


def test_what_with_length_hands_on_is_what_would_be_found():
    """A changed linkage takes the groups and change points of the old one along: a new search finds the same."""
    flat = lk.four_bar(0.3, 0.1, 0.3, 0.1)  # a parallelogram: change points every half turn
    cases = [(flat.with_length("O", "A", 0.1), "O", "A", 0.1), (lk.machine("crate-hoist"), "O", "A", 0.11)]
    for linkage, p, q, metres in cases:
        lk.move(linkage)
        changed = linkage.with_length(p, q, metres)
        lk.move(changed)
        fresh = replace(changed, name="fresh")
        assert np.array_equal(lk.move(fresh).ok, lk.move(changed).ok)
        for one, other in zip(changed._groups, fresh._groups, strict=True):
            assert (one.kind, one.bodies, one.ties, one.side) == (other.kind, other.bodies, other.ties, other.side)
        for key, found in fresh._change_points.items():
            kept = changed._change_points[key]
            assert kept.keys() == found.keys()
            assert all(kept[n].at == pytest.approx(found[n].at, abs=1e-7) for n in found)


def test_with_point_in_the_frame_of_its_link():
    with_c = BAR.with_point("coupler", "C", 0.1, 0.05)
    motion = lk.move(with_c, steps=12)
    e = (motion.point("B") - motion.point("A")) / 0.35
    assert motion.point("C") == pytest.approx(motion.point("A") + e * (0.1 + 0.05j), abs=1e-14)
    on_block = ENGINE.with_point("slider", "T", 0.02, 0.01)
    assert on_block.points["T"] == pytest.approx(ENGINE.points["B"] + 0.02 + 0.01j, abs=1e-15)
    bare = Linkage({"O": 0}, {"g": ("O",), "block": ()}, "g", (Slide("s", "block", "g", 0.3j, 1j),))
    assert bare.with_point("block", "T", 0.1, 0.0).points["T"] == pytest.approx(0.4j)
