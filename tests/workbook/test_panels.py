"""Panels: the prediction comes first, pictures and facts follow the sliders, errors are shown."""

import re
import sys

import numpy as np
import pytest

import linkkit as lk
from linkkit.draw import construction, line_diagram
from linkkit.draw.animation import spec_of
from linkkit.draw.cycle import cycle_of
from linkkit.draw.units import direction_text, folded
from linkkit.workbook import explain, explore, practice, predict, step, still
from linkkit.workbook.findings import findings
from linkkit.workbook.live import KernelPicture, picture


@pytest.fixture
def bar():
    return lk.four_bar(0.4, 0.12, 0.35, 0.25)


def test_nothing_is_shown_before_a_prediction_is_stored():
    called = []
    panel = predict("Round?", ["yes", "no"], key="02/round", then=lambda: called.append(1))
    assert not panel.unlocked
    panel.button.click()
    assert not called
    assert "first" in panel.message.value
    panel.field.value = "no"
    panel.button.click()
    assert called == [1]
    assert panel.answer == "no"
    assert panel.field.disabled


def test_what_is_printed_is_shown_before_what_is_returned():
    panel = predict("How many?", ["2", "4"], key="02/print", then=lambda: print("four") or 4)
    panel.field.value = "2"
    panel.button.click()
    printed, returned = panel.shown.outputs
    assert printed["text"] == "four\n"
    assert returned["data"]["text/plain"] == "4"


def test_the_prediction_is_on_disk_before_the_motion_is_shown(records):
    seen = []
    panel = predict(
        "Round?", ["yes", "no"], key="02/round", then=lambda: seen.append((records / "02.json").read_text())
    )
    panel.field.value = "yes"
    panel.button.click()
    assert '"yes"' in seen[0]


def test_a_later_run_remembers(records):
    first = predict("How far?", unit="°", key="02/swing")
    first.field.value = "40,5"
    first.button.click()
    shown = []
    again = predict("How far?", unit="°", key="02/swing", then=lambda: shown.append(1))
    assert again.unlocked
    assert again.answer == 40.5
    assert shown == [1]
    assert "40.5 °" in again.message.value


@pytest.mark.parametrize("text", ["", "forty", "nan", "inf", "1e999"])
def test_a_number_is_asked_for_until_there_is_one(text):
    panel = predict("How far?", unit="°", key="02/swing")
    panel.field.value = text
    panel.button.click()
    assert not panel.unlocked
    assert "number first" in panel.message.value


def test_an_error_after_unlocking_is_shown_not_swallowed():
    def fails():
        raise ZeroDivisionError("the figure broke")

    panel = predict("Round?", ["yes"], key="02/round", then=fails)
    panel.field.value = "yes"
    panel.button.click()
    assert 'role="alert"' in panel.message.value
    assert "ZeroDivisionError: the figure broke" in panel.message.value


def test_an_explanation_is_kept_and_comes_back():
    panel = explain("Why?", key="02/why")
    panel.button.click()
    assert "nothing written" in panel.message.value
    panel.field.value = "Because the coupler and the crank line up."
    panel.button.click()
    assert explain("Why?", key="02/why").field.value.startswith("Because")


@pytest.mark.parametrize("fast", [True, False])
def test_a_length_changes_picture_and_facts(bar, fast):
    panel = explore(bar, [("O", "A")], fast=fast)
    before = panel.facts.value, shown(panel)
    panel.sliders["O", "A"].value = 205
    assert panel.linkage.length("O", "A") == pytest.approx(0.205)
    assert "crank-rocker" in before[0]
    assert lk.facts(panel.linkage).grashof_class in panel.facts.value
    assert panel.facts.value != before[0]
    assert shown(panel) != before[1]


def shown(panel):
    """The markup of the picture that is on the page."""
    return panel.picture.picture if hasattr(panel.picture, "picture") else panel.picture.image.value


@pytest.mark.parametrize("fast", [True, False])
def test_a_length_that_cannot_be_assembled_is_explained_and_the_picture_stays(bar, fast):
    small = lk.four_bar(0.4, 0.12, 0.3, 0.25)
    panel = explore(small, [("A", "B")], fast=fast)
    slider = panel.sliders["A", "B"]
    slider.max = 2000
    panel.sliders["A", "B"].value = 1500
    assert 'role="alert"' in panel.message.value
    assert panel.linkage.length("A", "B") == pytest.approx(0.3)
    reached = float(re.search(r"can go to about ([\d.]+) mm", panel.message.value)[1])
    assert small.with_length("A", "B", reached / 1000 - 1e-4)
    with pytest.raises(lk.LinkageError):
        small.with_length("A", "B", reached / 1000 + 0.002)
    slider.value = 310
    assert panel.message.value == ""


def test_a_fault_of_the_panel_is_shown(bar, monkeypatch):
    panel = explore(bar, [("O", "A")], fast=False)

    def broken(*_):
        raise RuntimeError("cannot paint")

    monkeypatch.setattr(type(panel.picture), "redraw", broken)
    panel.sliders["O", "A"].value = 130
    assert "RuntimeError: cannot paint" in panel.message.value


def test_kernel_picture_turns_to_where_the_motion_is(bar):
    panel = picture(bar, fast=False)
    panel.slider.value = 200
    k = int(np.argmin(np.abs(np.array(panel.spec["values"]) - 200)))
    x, y = map(float, re.search(r'<circle cx="([\d.]+)" cy="([\d.]+)"[^>]*data-name="B"', panel.image.value).groups())
    b = panel.scene.bounds
    drawn = complex(b.left + x * panel.scene.px, b.top - y * panel.scene.px)
    z = lk.move(bar, np.radians(panel.spec["values"][k])).point("B")
    assert abs(drawn - z) < 0.02 * panel.scene.px


def test_fast_picture_sends_the_poses_of_the_motion(bar):
    panel = picture(bar, fast=True)
    n, links = panel.spec["n"], panel.spec["links"]
    numbers = np.frombuffer(panel.numbers, "<f4")
    table, values = numbers[: 4 * n * len(links)].reshape(n, len(links), 4), numbers[4 * n * len(links) :].reshape(2, n)
    rocker = links.index("rocker")
    turn = table[:, rocker, 2] + 1j * table[:, rocker, 3]
    motion = lk.move(bar, np.radians(values[0]))
    assert np.abs(turn - motion.rotation("rocker")).max() < 1e-6
    assert np.abs(values[1] - np.degrees(motion.angle("rocker"))).max() < 1e-3


def test_sliders_say_what_they_are(bar):
    panel = explore(bar)
    assert [s.description for s in panel.sliders.values()] == ["OQ ground", "OA crank", "AB coupler", "QB rocker"]
    row = panel.children[1].children
    assert row[1].value == row[0].value == pytest.approx(120)
    assert row[2].value == "mm"


def test_a_double_rocker_can_be_turned_only_where_it_assembles():
    panel = picture(lk.four_bar(0.3, 0.2, 0.1, 0.25), fast=False)
    low, high = lk.facts(lk.four_bar(0.3, 0.2, 0.1, 0.25)).ranges[0]
    assert np.degrees(low) - 0.1 < panel.slider.min < panel.slider.max < np.degrees(high) + 0.1
    assert not panel.spec["closed"]


def test_findings_agree_with_the_facts(bar):
    text = str(findings(bar))
    found = lk.facts(bar)
    assert f"class: {found.grashof_class}" in text
    assert f"swing of rocker: {np.degrees(found.swing):.1f}°" in text
    assert f"time ratio: {found.time_ratio:.2f}" in text


def test_still_holds_an_image_with_alt_and_a_table_of_the_motion(bar):
    left = still(bar, frames=2, rows=12)
    html = left._repr_html_()
    assert html.startswith('<img alt="2 positions: crank angle 0°, crank angle 180°.')
    assert left.png.startswith(b"\x89PNG")
    assert len(left.rows) == 12
    angle = np.degrees(lk.move(bar, np.radians(30)).angle("rocker"))
    assert left.rows[1] == ("30", f"{angle:.1f}")
    assert left.markdown().splitlines()[0] == "| crank angle, ° | rocker angle, ° |"


def test_still_of_a_panel_is_of_the_linkage_as_the_sliders_stand(bar):
    panel = explore(bar, [("O", "A")], fast=False)
    panel.sliders["O", "A"].value = 100
    assert still(panel).rows == still(panel.linkage).rows != still(bar).rows


def test_stepping_goes_from_stage_to_stage_and_stops_at_the_ends():
    panel = step(construction(lk.machine("net-shaker"), 40))
    assert panel.back.disabled
    words = [panel.words.value]
    while not panel.on.disabled:
        panel.on.click()
        words.append(panel.words.value)
    assert len(set(words)) == panel.count == 4
    assert panel.where.value == "Stage 4 of 4"
    panel.back.click()
    assert panel.stage == 3


def test_an_error_in_a_stage_is_shown():
    panel = step(construction(lk.machine("net-shaker"), 40))
    panel.show(99)
    assert "no stage 99" in panel.message.value
    assert panel.stage == 1


def test_an_error_while_turning_is_shown(bar, monkeypatch):
    panel = picture(bar, fast=False)

    def broken(*_):
        raise RuntimeError("cannot turn")

    monkeypatch.setattr("linkkit.workbook.live.posed", broken)
    panel.slider.value = 123
    assert "RuntimeError: cannot turn" in panel.message.value


def test_without_anywidget_the_core_widgets_are_used(bar, monkeypatch):
    monkeypatch.setitem(sys.modules, "anywidget", None)
    assert isinstance(explore(bar, [("O", "A")]).picture, KernelPicture)


def test_a_slider_opens_a_whole_number_of_steps_above_its_least_value():
    panel = explore(lk.machine("net-shaker"), [("A", "B"), ("Q", "B")])
    for slider in panel.sliders.values():
        steps = (slider.value - slider.min) / slider.step
        assert abs(steps - round(steps)) < 1e-9, "the page would snap it to another length"


@pytest.mark.parametrize("radians", [0.0, -1e-12, 2 * np.pi, 2 * np.pi - 1e-9, -4 * np.pi])
def test_a_whole_turn_reads_as_nought(radians):
    assert direction_text(radians) == "0°"


def test_no_readout_goes_beyond_a_turn():
    for linkage in (lk.machine("lamp-turner"), lk.four_bar(0.3, 0.2, 0.2, 0.2)):
        spec = spec_of(*scene_and_cycle(linkage))[0]
        shown = np.array([*spec["values"], *spec["readouts"][0]["values"]])
        assert shown.min() >= -180
        assert shown.max() < 359.951
        assert np.abs(np.diff(spec["readouts"][0]["values"])).max() < 20 or spec["closed"]


def test_a_folded_angle_is_the_same_direction():
    motion = lk.move(lk.machine("lamp-turner"))
    turned = np.degrees(motion.angle("lamp")) - 720
    assert np.allclose(np.exp(1j * np.radians(folded(turned))), np.exp(1j * motion.angle("lamp")))


def scene_and_cycle(linkage):
    cycle = cycle_of(linkage)
    return line_diagram(cycle, moving=True), cycle


@pytest.mark.parametrize("fast", [True, False])
def test_a_guide_can_be_set_aside(fast):
    panel = explore(lk.slider_crank(0.1, 0.3), [("O", "A")], offsets=["slide"], fast=fast)
    before = shown(panel)
    panel.sliders["slide"].value = 100
    built = lk.facts(lk.slider_crank(0.1, 0.3, offset=0.1))
    assert lk.facts(panel.linkage).stroke == pytest.approx(built.stroke)
    assert lk.facts(panel.linkage).time_ratio == pytest.approx(built.time_ratio)
    assert shown(panel) != before
    assert "time ratio" in panel.facts.value


def test_a_guide_too_far_aside_is_explained():
    panel = explore(lk.slider_crank(0.1, 0.12), [("O", "A")], offsets=["slide"])
    panel.sliders["slide"].max = 500
    panel.sliders["slide"].value = 400
    assert "offset of slide can go to about 2" in panel.message.value, "crank and rod together reach 220 mm"


def test_an_unrun_panel_says_what_it_is(bar):
    panels = [predict("Round?", key="02/a"), explain("Why?", key="02/b"), practice("swing", key="02/c"), explore(bar)]
    said = [panel._repr_mimebundle_()["text/plain"] for panel in (*panels, step(construction(lk.move(bar), 40)))]
    for text, about in zip(said, ("Round?", "Why?", "How far does it swing?", "OQ ground", "stages"), strict=True):
        assert "run the notebook" in text
        assert about in text


def test_the_swing_is_read_as_it_matters():
    level, round_ = findings(lk.machine("crate-hoist")), findings(lk.machine("lamp-turner"))
    swing = np.ptp(np.degrees(lk.move(lk.machine("crate-hoist"), steps=3600).angle("tray")))
    assert ("swing of tray", f"{swing:.2f}°") in level.rows
    assert ("lamp goes", "right round") in round_.rows


def test_a_hair_from_the_page_is_no_change(bar):
    panel = explore(bar, [("O", "A")])
    before, slider = panel.linkage, panel.sliders["O", "A"]
    slider.value = slider.value - 1e-9
    assert panel.linkage is before
    slider.value = 130 - 1e-9
    assert panel.linkage.length("O", "A") == pytest.approx(0.13, abs=1e-15)
    box = panel.children[0].children[1]
    assert box.value == 130
    assert slider.value == 130 - 1e-9, "the slider was pulled from under the hand"
    box.value = 131.5
    assert panel.linkage.length("O", "A") == pytest.approx(0.1315, abs=1e-15)


def test_every_slider_opens_at_a_whole_step():
    for linkage, offsets in ((lk.machine("crate-hoist"), []), (lk.machine("ice-chopper"), ["guide"])):
        for slider in explore(linkage, offsets=offsets).sliders.values():
            steps = (slider.value - slider.min) / slider.step
            assert abs(steps - round(steps)) < 1e-6
            assert slider.min < slider.value < slider.max
