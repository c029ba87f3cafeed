"""Bodies guided through poses, held to the laws of the circle, and to motion."""

import numpy as np
import pytest

import linkkit as lk
from linkkit import LinkageError
from linkkit.design import Pose, Transmission, four_bar_for_poses, pin_for, pivot_for
from linkkit.design.poses import centre, pole

POSES = [Pose(0.1 + 0.2j, 0.0), Pose(0.2 + 0.25j, -0.2), Pose(0.3 + 0.2j, -0.5)]


def test_a_pin_keeps_its_distance_from_its_pivot():
    pin = np.array([0.02 - 0.03j, 0.1j, -0.07])
    pivot = pivot_for(POSES, pin)
    arms = np.abs([pose.place(pin) - pivot for pose in POSES])
    assert np.ptp(arms, axis=0).max() < 1e-12


def test_pins_and_pivots_are_each_the_other_way_round():
    pivot = np.array([0.0, 0.3 + 0.1j])
    assert np.abs(pivot_for(POSES, pin_for(POSES, pivot)) - pivot).max() < 1e-12


def test_a_body_that_turns_about_a_point_has_it_for_its_pole():
    turn = np.exp(0.7j)
    about = 0.4 + 0.3j
    assert abs(pole(Pose(0.1, 0.2), Pose(about + turn * (0.1 - about), 0.9)) - about) < 1e-12


def test_points_in_a_line_have_no_centre():
    assert np.isnan(centre(0, 1 + 1j, 2 + 2j))


def passes(one, poses):
    """How far a design is from its poses when it is moved: metres and radians, at the crank angles found by looking."""
    fine = one.motion
    worst = 0.0
    for pose in poses:
        off = np.abs(fine.point("P") - pose.at)
        turned = np.angle(fine.rotation("coupler") * np.exp(-1j * (pose.angle - poses[0].angle)))
        worst = max(worst, (off + np.abs(turned)).min())
    return worst


@pytest.mark.parametrize("given", [{"pins": (-0.05, 0.06 + 0.02j)}, {"pivots": (0, 0.3)}, {"tries": 4000}])
@pytest.mark.parametrize("count", [2, 3])
def test_the_body_passes_its_poses(given, count):
    found = four_bar_for_poses(POSES[:count], **given, keep=3)
    one = found.best
    assert one.good
    assert max(one.misses[f"pose {n}"] for n in range(1, count + 1)) < 1e-10
    assert passes(one, POSES[:count]) < 2e-3  # a step of the fine grid


def test_given_pivots_stay_where_they_are():
    points = four_bar_for_poses(POSES, pivots=(0, 0.3)).best.linkage.points
    assert (points["O"], points["Q"]) == (0, 0.3)


def test_limits_are_kept():
    one = four_bar_for_poses(POSES, limits=[Transmission(np.radians(50))]).best
    low, high = one.figures["transmission angle"].removesuffix(" deg").split(" to ")
    assert float(low) >= 50
    assert float(high) <= 130


def test_a_branch_defect_is_said():
    """Among pins drawn blindly some put the poses on two branches; moving such a linkage misses a pose, and it says so."""
    draw = np.random.default_rng(3)
    said, moved = [], []
    for _ in range(40):
        pins = tuple(0.15 * (draw.standard_normal(2) + 1j * draw.standard_normal(2)))
        one = four_bar_for_poses(POSES, pins=pins).best
        said.append(any("branch defect" in d for d in one.defects))
        moved.append(max(one.misses[f"pose {n}"] for n in (1, 2, 3)) > 1e-6)
    assert any(said)
    assert not all(said)
    assert all(s for s, m in zip(said, moved, strict=True) if m)


def test_an_order_defect_is_said():
    """A crank that must pass pose 3 before pose 2, either way round."""
    draw = np.random.default_rng(4)
    found = []
    for _ in range(60):
        pins = tuple(0.15 * (draw.standard_normal(2) + 1j * draw.standard_normal(2)))
        pivot, pin = pivot_for(POSES, pins[0]), pins[0]
        turned = [np.angle((p.place(pin) - pivot) / (POSES[0].place(pin) - pivot)) for p in POSES]
        up, down = np.mod(turned, 2 * np.pi), np.mod(-np.array(turned), 2 * np.pi)
        in_order = up[1] < up[2] or down[1] < down[2]
        one = four_bar_for_poses(POSES, pins=pins).best
        found.append((in_order, any("order defect" in d for d in one.defects)))
    assert (True, False) in found
    assert (False, False) not in found


def test_pins_that_move_in_a_line_cannot_be_carried():
    straight = [Pose(0), Pose(0.1), Pose(0.2)]
    with pytest.raises(LinkageError, match="straight line"):
        four_bar_for_poses(straight, pins=(0.01, 0.02j))


@pytest.mark.parametrize(
    ("poses", "more", "says"),
    [
        (POSES[:1], {}, "two or three poses"),
        ([1, 2, 3], {}, "Pose"),
        (POSES, {"pins": (0, 1), "pivots": (0, 1)}, "not both"),
        (POSES, {"pins": (0, 1, 2)}, "in twos"),
    ],
)
def test_wrong_use_is_a_sentence(poses, more, says):
    with pytest.raises(LinkageError, match=says):
        four_bar_for_poses(poses, **more)


def test_the_same_seed_gives_the_same_answer():
    one, two = (four_bar_for_poses(POSES, tries=2000, seed=7) for _ in range(2))
    assert [d.values for d in one] == [d.values for d in two]


def test_links_are_moved_without_opening():
    assert lk.move(four_bar_for_poses(POSES).best.linkage, [0.0]).shape == (1,)
