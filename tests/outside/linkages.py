"""Linkages of the sources that have no builder, drawn with the sources' own dimensions."""

from dataclasses import replace

import numpy as np

import linkkit as lk


def inverted_slider(ground, crank, offset, circuit):
    """Crank OA, a rod at A that slides on a lever about Q; the lever QB is square to its slide, `offset` long."""
    pin = 1j * crank
    reach = np.sqrt(abs(pin - ground) ** 2 - offset**2) * (1 if circuit == "open" else -1)
    along = (pin - ground) / (reach + 1j * offset)
    foot = ground + 1j * offset * along
    points = {"O": 0j, "A": pin, "Q": complex(ground), "B": complex(foot)}
    links = {"ground": ("O", "Q"), "crank": ("O", "A"), "rod": ("A",), "lever": ("Q", "B")}
    slide = lk.Slide("slide", "rod", "lever", complex(foot), complex(along))
    return lk.Linkage(points, links, "ground", (slide,), (CRANK,), output="lever")


CRANK = lk.Input("crank", "angle", "O", ("ground", "crank"))


def with_ram(shaper, length, line, rod):
    """A quick return whose lever, `length` from Q to D, moves a ram by a rod; the ram's line is `line` from Q.

    The ram slides square to OQ, `line` metres beyond O as seen from Q (negative: on Q's far side).
    """
    q = shaper.points["Q"]
    lever = shaper.points["D"] - q
    tip = complex(q + length * lever / abs(lever))
    x = q.real - line
    end = complex(x, tip.imag + np.sqrt(rod**2 - (x - tip.real) ** 2))
    slide = lk.Slide("ram slide", "ram", "ground", complex(x, 0), 1j)
    points = shaper.points | {"D": tip, "E": end}
    links = dict(shaper.links) | {"rod": ("D", "E"), "ram": ("E",)}
    return replace(shaper, points=points, links=links, slides=(*shaper.slides, slide), output="ram")


def peaucellier(arm, side, crank):
    """Two arms from O to A and B, a rhombus A P B R of that side, and a crank C P with C on OC as long as CP.

    P runs on a circle through O; R is its inverse.
    """
    theta = 0.3
    p = crank + crank * np.exp(1j * theta)
    half = abs(p)
    # in the rhombus O-A-P: the foot of A on the line OP
    along = (half**2 + arm**2 - side**2) / (2 * half)
    up = np.sqrt(arm**2 - along**2)
    unit = p / half
    points = {"O": 0j, "C": complex(crank), "P": complex(p)}
    points |= {"A": complex(unit * (along + 1j * up)), "B": complex(unit * (along - 1j * up))}
    points["R"] = points["A"] + points["B"] - points["P"]
    links = {
        "ground": ("C", "O"), "crank": ("C", "P"), "left arm": ("O", "A"), "right arm": ("O", "B"),
        "PA": ("P", "A"), "PB": ("P", "B"), "RA": ("R", "A"), "RB": ("R", "B"),
    }  # fmt: skip
    turn = lk.Input("crank", "angle", "C", ("ground", "crank"))
    return lk.Linkage(points, links, "ground", (), (turn,), output="RA")


def inversion_input(linkage, angle):
    """The input of `linkage.with_fixed("crank")` at which crank and ground make `angle`, as in the linkage itself.

    The crank stays as it was drawn, so the ground turns against it.
    """
    crank, ground = (np.angle(linkage.heading(link)) for link in ("crank", "ground"))
    return ground - (np.asarray(angle) - crank)
