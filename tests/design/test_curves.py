"""The index of coupler curves: its descriptors, what it finds, and how it is kept."""

import numpy as np
import pytest

import linkkit as lk
from linkkit import LinkageError
from linkkit.design import curve_index
from linkkit.design.curves import HARMONICS, build, descriptors, even_curve
from linkkit.design.tracing_bars import bars


@pytest.fixture(scope="module")
def index():
    return build(12_000)


def curve_of(index, row, count=40):
    g, a, c, along, across = index.bars[row].astype(float)
    theta = np.arange(count) * (2 * np.pi / count)
    pin, unit = bars(theta, g, 1.0, a, c, 1.0)
    return pin + (along + 1j * across) * unit


def a_curve():
    s = np.arange(512) * (2 * np.pi / 512)
    return 1.3 * np.exp(1j * s) + 0.4 * np.exp(-1j * s) + 0.2j * np.exp(2j * s) + 0.1 * np.exp(-3j * s)


@pytest.mark.parametrize(
    "change",
    [lambda z: z + 3 - 2j, lambda z: 2.5 * z, lambda z: np.exp(0.8j) * z, lambda z: z[::-1]],
    ids=["moved", "enlarged", "turned", "run backwards"],
)
def test_descriptors_tell_only_the_shape(change):
    """The law: they do not change under what does not change the shape."""
    one, two = descriptors(np.stack([a_curve(), change(a_curve())]), HARMONICS)
    assert np.abs(one - two).max() < 1e-9


def test_a_start_elsewhere_is_one_of_two():
    one, two = descriptors(np.stack([a_curve(), np.roll(a_curve(), 100)]), HARMONICS)
    orders = np.array([k for k in range(-HARMONICS, HARMONICS + 1) if k not in (0, 1)])
    half = np.where(orders % 2 == 0, -1, 1)
    assert min(np.abs(one - two).max(), np.abs(one - half * two).max()) < 1e-9


def test_descriptors_agree_with_a_fourier_transform():
    """Second route: the curve sampled at even steps of its length, and numpy's transform of that."""
    z = even_curve(a_curve(), 4096)
    found = np.fft.fft(z) / 4096
    by_length = descriptors(a_curve()[None], HARMONICS)[0]
    orders = [k for k in range(-HARMONICS, HARMONICS + 1) if k not in (0, 1)]
    start = np.exp(0.5j * np.angle(found[-1] / found[1]))
    assert np.abs(by_length - [found[k] / found[1] * start ** (k - 1) for k in orders]).max() < 1e-4


CHANGES = [
    lambda z: z,
    lambda z: 3 - 1j + 0.2 * np.exp(1.1j) * z,
    lambda z: np.roll(z, 7),
    lambda z: z[::-1],
    np.conj,
    lambda z: np.roll(np.conj(z)[::-1], 11),
]


@pytest.mark.parametrize("number", range(len(CHANGES)))
def test_a_curve_of_the_index_is_found(index, number):
    """However it is moved, turned, mirrored, and wherever it starts, most of the time as the nearest of all."""
    rows = np.random.default_rng(number).integers(0, len(index), 12)
    firsts = [[row for row, *_ in index.nearest(CHANGES[number](curve_of(index, row)), 5)] for row in rows]
    assert sum(row in first for row, first in zip(rows, firsts, strict=True)) >= 11


def test_it_is_small(index):
    assert (index.bars.nbytes + index.shapes.nbytes) / len(index) == 64  # bytes a curve


def test_a_sketch_is_traced(index):
    sketch = np.array([0, 0.1 + 0.02j, 0.2, 0.18 + 0.06j, 0.1 + 0.09j, 0.02 + 0.06j])
    found = index.find(sketch, keep=2)
    one = found.best
    cranks = np.array([value for name, value in one.values.items() if name.startswith("crank ")])
    assert np.abs(lk.move(one.linkage, cranks).point("P") - sketch).max() < 0.002
    assert lk.reach(one.linkage).round
    assert found.tried == len(index)


def test_a_mirrored_curve_is_laid_on_its_sketch(index):
    sketch = 0.1 * np.conj(curve_of(index, 77, 12))
    one = index.find(sketch, keep=1, refine=False).best
    assert one.error < 2
    assert index.find(sketch, keep=1).best.error < 1e-3


def test_it_is_kept_and_read_again(tmp_path):
    path = tmp_path / "deep" / "curves.npz"
    one = curve_index(path=path, count=3000)
    assert path.exists()
    assert list(path.parent.iterdir()) == [path]
    assert curve_index(path=path, count=3000) is one
    from linkkit.design import curves

    curves._loaded.clear()
    assert np.array_equal(curve_index(path=path).shapes, one.shapes)


def test_a_spoilt_file_is_built_anew(tmp_path):
    path = tmp_path / "curves.npz"
    path.write_bytes(b"PK not a zip")
    assert len(curve_index(path=path, count=3000)) == 3000
    with np.load(path) as kept:
        assert len(kept["bars"]) == 3000


def test_a_build_that_was_stopped_is_not_kept(tmp_path):
    path = tmp_path / "curves.npz"
    assert len(curve_index(path=path, stop=lambda: True)) < 6000
    assert not path.exists()


def test_the_same_seed_gives_the_same_index():
    assert np.array_equal(build(3000, seed=2).shapes, build(3000, seed=2).shapes)
    assert not np.array_equal(build(3000, seed=2).shapes, build(3000, seed=3).shapes)


@pytest.mark.parametrize(("sketch", "says"), [([0, 1, 1j, 2], "at least five"), ([0, 0, 1, 1j, 2j], "must differ")])
def test_wrong_use_is_a_sentence(index, sketch, says):
    with pytest.raises(LinkageError, match=says):
        index.find(np.array(sketch, dtype=complex))
