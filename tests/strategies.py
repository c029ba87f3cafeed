"""Random linkages that are valid by construction: no draw is thrown away, and each family says what it is.

Lengths are in metres, of the size of a machine. Every linkage is driven at a pin called O by a link called crank.
"""

from dataclasses import replace

import numpy as np
from hypothesis import strategies as st

import linkkit as lk

LENGTHS = st.floats(0.05, 0.5)
CIRCUITS = st.sampled_from(["open", "crossed"])


def fractions(low=0.1, high=0.9):
    """A share of what there is to choose from, away from both ends."""
    return st.floats(low, high)


@st.composite
def grashof_lengths(draw):
    """Shortest, two middle and longest length with shortest + longest < the other two together."""
    short = draw(LENGTHS)
    p, q = (short * draw(st.floats(1.2, 3)) for _ in range(2))
    return short, p, max(p, q) + draw(fractions()) * (min(p, q) - short), q


def _four_bars(place_of_shortest):
    """Four-bars of one Grashof class: the shortest link stands at a place, the others fill the rest in any order."""

    @st.composite
    def strategy(draw):
        short, *others = draw(grashof_lengths())
        rest = draw(st.permutations(others))
        lengths = [*rest[:place_of_shortest], short, *rest[place_of_shortest:]]
        return lk.four_bar(*lengths, circuit=draw(CIRCUITS))

    return strategy()


double_cranks = _four_bars(0)
crank_rockers = _four_bars(1)
double_rockers = _four_bars(2)


@st.composite
def _triple_rockers(draw):
    """Shortest + longest more than the other two together, but less than makes the linkage fall apart."""
    short = draw(LENGTHS)
    p, q = (short * draw(st.floats(1.2, 3)) for _ in range(2))
    long = p + q - short + 2 * short * draw(fractions())
    return lk.four_bar(*draw(st.permutations([short, p, q, long])), circuit=draw(CIRCUITS))


triple_rockers = _triple_rockers()


@st.composite
def _slider_cranks(draw):
    """A crank that can turn fully: rod longer than crank and offset together."""
    crank = draw(LENGTHS)
    rod = crank * draw(st.floats(1.3, 6))
    return lk.slider_crank(crank, rod, draw(st.floats(-0.9, 0.9)) * (rod - crank))


slider_cranks = _slider_cranks()


@st.composite
def _quick_returns(draw):
    """A block on the crank pin slides on a lever about Q; crank longer or shorter than the distance, lever offset."""
    ground = draw(LENGTHS)
    crank = ground * draw(st.one_of(st.floats(0.2, 0.8), st.floats(1.25, 3)))
    offset = draw(st.floats(-0.8, 0.8)) * abs(ground - crank)
    return quick_return(ground, crank, offset, draw(st.sampled_from([1, -1])))


quick_returns = _quick_returns()


def quick_return(ground, crank, offset=0.0, ahead=1):
    """Crank OA and a lever pinned at Q, a block at A between them; `offset` of Q's foot to the right of the slide."""
    pin = 1j * crank
    reach = ahead * np.sqrt(abs(pin - ground) ** 2 - offset**2)
    along = (pin - ground) / (reach + 1j * offset)
    points = {"O": 0j, "A": pin, "Q": complex(ground), "D": complex(ground + 2 * (ground + crank) * along)}
    links = {"ground": ("O", "Q"), "crank": ("O", "A"), "block": ("A",), "lever": ("Q", "D")}
    slide = lk.Slide("slide", "block", "lever", complex(pin), complex(along / abs(along)))
    turn = lk.Input("crank", "angle", "O", ("ground", "crank"))
    return lk.Linkage(points, links, "ground", (slide,), (turn,), output="lever")


@st.composite
def _six_bars(draw, ends):
    """A crank-rocker with two more links: from a point of coupler or rocker to a far pivot, or to a far slide.

    The point stays within the reach of all links from O; pivot and slide stand off by three times that, and the two
    links reach at least four times and at most six times as far: they always close.
    """
    bar = draw(st.one_of(crank_rockers, double_cranks))
    reach = sum(bar.length(*ends) for ends in (("O", "A"), ("A", "B"), ("Q", "B"), ("O", "Q")))
    bar = _with_tracer(draw, bar, draw(st.sampled_from(["coupler", "rocker"])))
    away = np.exp(1j * draw(st.floats(0, 2 * np.pi)))
    return draw(st.sampled_from(ends))(bar, 2 * reach, away, draw(fractions()))


def _with_tracer(draw, bar, link):
    """A point C on the link, within its own length of its first point."""
    length = bar.length(*bar.links[link])
    return bar.with_point(link, "C", draw(st.floats(0.2, 0.6)) * length, draw(st.floats(-0.6, 0.6)) * length)


def _dyad_to_pivot(bar, reach, away, share):
    """Rod CE and lever RE about a far pivot R: their sum over every distance of R from C, their difference under it."""
    pivot = 3 * reach * away
    rod = (2.2 + 0.6 * share) * reach
    lever = 5 * reach - rod
    gap = pivot - bar.points["C"]
    along = (abs(gap) ** 2 + rod**2 - lever**2) / (2 * abs(gap))
    joint = bar.points["C"] + gap / abs(gap) * (along + 1j * np.sqrt(rod**2 - along**2))
    return extended(bar, {"R": pivot, "E": joint}, {"rod": ("C", "E"), "lever": ("R", "E")}, {"ground": ("R",)})


def _dyad_to_slide(bar, reach, away, share):
    """A rod from C to a block on a fixed line; the rod is longer than the line can be away from C."""
    through = complex(share * reach * away)
    side = bar.points["C"] - through
    height = (np.conj(1j * away) * side).real
    along = (np.conj(away) * side).real + np.sqrt((3 * reach) ** 2 - height**2)
    block = through + along * away
    slide = lk.Slide("slide", "slider", "ground", through, complex(away / abs(away)))
    return extended(bar, {"E": block}, {"rod": ("C", "E"), "slider": ("E",)}, {}, (slide,))


def extended(bar, points, links, carried, slides=()):
    """A linkage with more points, links, points on old links, and slides."""
    old = {name: (*ps, *carried.get(name, ())) for name, ps in bar.links.items()}
    points = bar.points | {name: complex(z) for name, z in points.items()}
    return replace(bar, points=points, links=old | links, slides=(*bar.slides, *slides), output=list(links)[-1])


six_bars = _six_bars([_dyad_to_pivot, _dyad_to_slide])
six_bars_with_lever = _six_bars([_dyad_to_pivot])

FAMILIES = {
    "crank-rocker": crank_rockers,
    "double-crank": double_cranks,
    "double-rocker": double_rockers,
    "triple-rocker": triple_rockers,
    "slider-crank": slider_cranks,
    "quick return": quick_returns,
    "six-bar": six_bars,
}
#: Families whose crank turns fully.
FULL_TURN = ("crank-rocker", "double-crank", "slider-crank", "quick return", "six-bar")
