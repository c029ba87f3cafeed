"""An animation is one piece of HTML; in a browser it plays, steps and stops, by mouse and by keyboard."""

import json
import re

import numpy as np
import pytest

import linkkit as lk
from linkkit.draw import animation, line_diagram
from linkkit.draw.cycle import cycle_of
from linkkit.draw.poses import posed, poses


@pytest.fixture
def bar():
    return lk.four_bar(0.4, 0.12, 0.35, 0.25).with_point("coupler", "P", 0.15, 0.1)


def spec_in(html):
    return json.loads(re.search(r'getElementById\("[\w-]+"\), (\{.*\})\);', html)[1])


def test_the_table_puts_points_where_the_motion_does(bar):
    motion = lk.move(bar)
    cycle = cycle_of(motion)
    scene = line_diagram(motion, moving=True)
    table = poses(scene, cycle)
    link = table.links.index("coupler")
    p, q = bar.points["P"].real / scene.px, -bar.points["P"].imag / scene.px
    x, y, c, s = table.table[:, link].T
    seen = scene.bounds.left + (x + c * p + s * q) * scene.px + 1j * (scene.bounds.top - (y - s * p + c * q) * scene.px)
    assert np.abs(seen - motion.point("P")[table.index]).max() < 1e-12


def test_a_motion_with_a_gap_is_played_to_and_fro_over_one_unbroken_run():
    motion = lk.move(lk.four_bar(0.3, 0.2, 0.1, 0.25))
    cycle = cycle_of(motion)
    table = poses(line_diagram(motion), cycle)
    assert not table.closed
    assert motion.ok[table.index].all()
    assert (np.abs(np.diff(table.input)) < 0.02).all()


def test_a_run_over_the_end_of_the_turn_is_one_run():
    motion = lk.move(lk.four_bar(0.3, 0.2, 0.1, 0.25).with_fixed("crank"))
    if motion.ok.all():
        pytest.skip("this inversion goes right round")
    table = poses(line_diagram(motion), cycle_of(motion))
    assert (np.diff(table.index) % len(motion.ok) == 1).all()


def test_posed_is_the_picture_drawn_at_that_position(bar):
    motion = lk.move(bar)
    scene = line_diagram(motion, 0, moving=True)
    moved, drawn = posed(scene, cycle_of(motion), 100), line_diagram(motion, 100, moving=True)
    at = lambda s: {g.name: g.at for g in s.shapes if getattr(g, "name", "").startswith(("pin", "link"))}  # noqa: E731
    assert at(moved).keys() == at(drawn).keys()
    assert all(abs(at(moved)[n] - at(drawn)[n]) < 1e-12 for n in at(moved))


def test_hostile_names_cannot_leave_the_script():
    bar = lk.four_bar(0.4, 0.12, 0.35, 0.25)
    links = {("</script><b>" if k == "rocker" else k): v for k, v in bar.links.items()}
    nasty = lk.Linkage(bar.points, links, "ground", inputs=bar.inputs, output="</script><b>")
    html = animation(nasty).html
    assert html.count("</script>") == 1
    assert "<b>" not in html


def test_speeds_say_what_part_of_the_working_speed_they_are(bar):
    assert "10 rpm, 1/60 of 600 rpm" in animation(bar, work_rpm=600).html
    assert "strokes to and fro a minute" in animation(lk.four_bar(0.3, 0.2, 0.1, 0.25)).html


def test_a_linkage_without_input_is_refused(bar):
    still = lk.Linkage(bar.points, bar.links, "ground")
    with pytest.raises(lk.LinkageError, match="no input"):
        animation(still)
    with pytest.raises(ValueError, match=r"written as \.html"):
        animation(bar).save("x.svg")


def timed_page(browser, **options):
    """A page whose clock runs only when a test says so: no waiting, and no hurry on a loaded machine."""
    page = browser.new_page(**options)
    page.clock.install(time=0)
    page.clock.pause_at(1)
    return page


@pytest.fixture(scope="module")
def page(browser, tmp_path_factory):
    """A page of its own with one animation; it asks for nothing else and no script fails."""
    bar = lk.four_bar(0.4, 0.12, 0.35, 0.25).with_point("coupler", "P", 0.15, 0.1)
    path = animation(bar, paths=["P"]).save(tmp_path_factory.mktemp("pages") / "bar.html")
    page = timed_page(browser)
    errors, asked = [], []
    page.on("pageerror", lambda e: errors.append(str(e)))
    page.on("request", lambda r: asked.append(r.url))
    page.goto(path.as_uri())
    yield page
    assert errors == []
    assert asked == [path.as_uri()]


def rocker(page):
    return page.locator('[data-body="link:rocker"]').get_attribute("transform")


@pytest.mark.needs_chromium
def test_nothing_moves_until_asked(page):
    before = rocker(page)
    page.clock.run_for(400)
    assert rocker(page) == before


@pytest.mark.needs_chromium
def test_keys_on_the_slider_move_the_picture_to_where_the_motion_is(page):
    page.locator("[data-part=range]").focus()
    before = rocker(page)
    for _ in range(10):
        page.keyboard.press("ArrowRight")
    assert rocker(page) != before
    bar = lk.four_bar(0.4, 0.12, 0.35, 0.25)
    angle = float(page.locator("[data-part=box]").input_value())
    turn = complex(lk.move(bar, np.radians(angle)).rotation("rocker"))
    c, s = map(float, re.match(r"matrix\(([-\d.e]+) ([-\d.e]+)", rocker(page)).groups())
    assert abs(complex(c, -s) - turn) < 1e-4


@pytest.mark.needs_chromium
def test_play_pause_and_step(page):
    play = page.get_by_role("button", name="Play")
    play.click()
    page.clock.run_for(300)
    one = rocker(page)
    page.clock.run_for(300)
    assert rocker(page) != one
    page.get_by_role("button", name="Pause").click()
    stopped = rocker(page)
    page.clock.run_for(300)
    assert rocker(page) == stopped
    page.get_by_role("button", name="Step on").click()
    assert rocker(page) != stopped
    page.get_by_role("button", name="Step back").click()
    assert rocker(page) == stopped


@pytest.mark.needs_chromium
def test_speed_is_a_cycle_in_a_minute_over_the_rpm(page):
    page.locator("[data-part=speed]").select_option("10")
    page.locator("[data-part=box]").fill("0")
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Play").click()
    page.clock.run_for(1500)
    page.get_by_role("button", name="Pause").click()
    turned = float(page.locator("[data-part=box]").input_value())
    assert turned == pytest.approx(90, abs=2), "ten turns a minute are 90 degrees in 1.5 s, to a frame of 16 ms"


@pytest.mark.needs_chromium
def test_the_whole_player_is_reached_by_the_keyboard(page):
    page.locator("[data-part=range]").focus()
    seen = []
    for _ in range(6):
        seen.append(page.evaluate("document.activeElement.dataset.part || document.activeElement.tagName"))
        page.keyboard.press("Tab")
    assert seen == ["range", "box", "play", "back", "on", "speed"]
    assert page.evaluate("document.activeElement.tagName") == "SUMMARY"


@pytest.mark.needs_chromium
def test_the_number_box_goes_to_the_nearest_position(page):
    page.locator("[data-part=box]").fill("-90")
    page.keyboard.press("Enter")
    assert page.locator("[data-part=range]").get_attribute("aria-valuetext") == "270 °"


@pytest.mark.needs_chromium
def test_who_asked_for_less_motion_gets_separate_positions(browser, bar, tmp_path):
    path = animation(bar).save(tmp_path / "calm.html")
    page = timed_page(browser, reduced_motion="reduce")
    page.goto(path.as_uri())
    page.locator("[data-part=box]").fill("0")
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Play").click()
    seen = set()
    for _ in range(40):
        seen.add(float(page.locator("[data-part=box]").input_value()))
        page.clock.run_for(25)
    assert len(seen) > 1
    assert min(np.diff(sorted(seen))) >= 12, f"a few separate positions, not {sorted(seen)}"


@pytest.mark.needs_chromium
def test_it_plays_in_a_notebook_saved_as_a_static_page(browser, bar, tmp_path):
    import nbformat
    from nbconvert import HTMLExporter

    html = animation(bar)._repr_html_()
    output = nbformat.v4.new_output("display_data", data={"text/html": html, "text/plain": ""})
    book = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell("animation(bar)", outputs=[output])])
    (tmp_path / "saved.html").write_text(HTMLExporter().from_notebook_node(book)[0])
    page = timed_page(browser)
    page.route("http*://**", lambda route: route.abort())  # as if offline
    page.goto((tmp_path / "saved.html").as_uri())
    before = rocker(page)
    page.get_by_role("button", name="Play").click()
    page.clock.run_for(500)
    assert rocker(page) != before
