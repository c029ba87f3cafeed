"""Numbers drawn from an id: the same for ever, each id's own, and fair."""

import hashlib
import unicodedata

import numpy as np
import pytest

from linkkit.coursework import find_assignment, givens

PAPER = find_assignment("four-links")
MANY = [f"id-{n}" for n in range(10_000)]
SETTINGS = [setting.id for setting in PAPER.settings]


def by_the_book(setting, student):
    """The candidates in plain Python, from the definition: BLAKE2b in counter mode over the words of an id."""
    tidy = unicodedata.normalize("NFKC", student).strip().casefold()
    words, block, pool = f"four-links|{setting.id}|{setting.version}|{tidy}", 0, []
    while True:
        while len(pool) < len(setting.givens):
            digest = hashlib.blake2b(f"{words}|{block}".encode(), digest_size=64).digest()
            pool += [int.from_bytes(digest[n : n + 8], "little") for n in range(0, 64, 8)]
            block += 1
        row, pool = pool[: len(setting.givens)], pool[len(setting.givens) :]
        yield [g.values[(number >> 32) * len(g.values) >> 32] for g, number in zip(setting.givens, row, strict=True)]


@pytest.mark.parametrize("student", ["ab123", "0", "Zoë-77", "x" * 60])
@pytest.mark.parametrize("name", SETTINGS)
def test_numbers_are_the_first_fair_ones_of_the_stream(name, student):
    setting = PAPER.setting(name)
    drawn = list(PAPER.givens(name, student).plain().values())
    for candidate in by_the_book(setting, student):
        row = {g.name: np.array([v]) for g, v in zip(setting.givens, candidate, strict=True)}
        if PAPER.sound(setting, givens.Givens(row, setting.givens))[0]:
            assert drawn == candidate
            break


@pytest.mark.parametrize("name", SETTINGS)
def test_one_at_a_time_or_all_at_once_gives_the_same(name):
    together = PAPER.givens(name, MANY[:50])
    for n, student in enumerate(MANY[:50]):
        assert PAPER.givens(name, student).plain() == together.at(n).plain()


@pytest.mark.parametrize("typed", [" AB123", "ab123\n", "Ab123", "ａｂ１２３"])
def test_blanks_capitals_and_wide_letters_make_no_difference(typed):
    assert PAPER.givens("net-shaker", typed).plain() == PAPER.givens("net-shaker", "ab123").plain()


def test_neighbouring_ids_have_different_numbers():
    drawn = PAPER.givens("net-shaker", MANY)
    rows = set(zip(*(value.tolist() for value in drawn.values.values()), strict=True))
    assert len(rows) > 0.95 * len(MANY)


def test_stream_may_be_read_from_anywhere():
    assert (givens.stream("words", 5, 11) == givens.stream("words", 0, 16)[5:]).all()


def test_pick_reaches_every_value_about_equally_often():
    counts = np.bincount(givens.pick(givens.stream("words", 0, 60_000), 6), minlength=6)
    # a multinomial count of 10,000 has a standard deviation of 91: six of them are 550
    assert np.abs(counts - 10_000).max() < 550


def test_impossible_demands_end_with_a_sentence():
    setting = PAPER.setting("ice-chopper")
    with pytest.raises(givens.IllPosedError, match="no fair numbers in 1024 tries for 1 of 1 ids, 'me' among them"):
        givens.draw(setting, "four-links", "me", lambda g: np.zeros(g.crank_mm.shape, dtype=bool))


def test_numbers_are_read_in_their_unit_and_in_si():
    drawn = PAPER.givens("ice-chopper", "ab123")
    assert drawn.crank == pytest.approx(drawn.crank_mm / 1000)
    assert drawn.crank_angle == pytest.approx(np.pi * drawn.crank_angle_deg / 180)
    with pytest.raises(AttributeError, match="there is no number 'spring' here; there are crank_mm"):
        _ = drawn.spring


# --- ten thousand ids are well posed -----------------------------------------------------------------------------


def angle_at_b(lengths, diagonal):
    """The cosine rule in triangle ABQ (Euclid, Elements II.12-13)."""
    a, c = lengths["coupler"], lengths["rocker"]
    return np.arccos((a**2 + c**2 - diagonal**2) / (2 * a * c))


def test_every_net_shaker_is_a_crank_rocker_and_pushes_well():
    drawn = PAPER.givens("net-shaker", MANY)
    lengths = {name: getattr(drawn, name) for name in ("crank", "coupler", "rocker", "ground")}
    ordered = np.sort(np.stack(list(lengths.values())), axis=0)
    assert (lengths["crank"] == ordered[0]).all()
    assert (ordered[0] + ordered[3] < ordered[1] + ordered[2]).all(), "Grashof's criterion"
    turn = np.linspace(0, 2 * np.pi, 73)[:, None]
    between = angle_at_b(lengths, np.abs(lengths["ground"] - lengths["crank"] * np.exp(1j * turn)))
    assert np.isfinite(between).all(), "assembles all the way round"
    assert np.minimum(between, np.pi - between).min() >= np.radians(30)


def test_every_ice_chopper_pushes_well():
    drawn = PAPER.givens("ice-chopper", MANY)
    sine = (np.abs(drawn.offset) + drawn.crank) / drawn.rod
    assert np.arccos(sine).min() >= np.radians(30) - 1e-12
