"""How each part of a drawing looks: a role has a colour, a line weight and a dash, so that colour is never
the only cue.

The colours are our own. They were searched for so that any two of them stay apart (at least 18 in CIE Lab)
for normal sight and under the simulations of protan, deutan and tritan sight of Machado, Oliveira &
Fernandes, IEEE Trans. Vis. Comput. Graph. 15 (2009) 1291; each has a contrast of at least 4.5:1 with the
paper, ghosts 3:1.
"""

from __future__ import annotations

from dataclasses import dataclass

PAPER = "#ffffff"
FONT = "'DejaVu Sans', 'Liberation Sans', Arial, sans-serif"
TEXT_PX = 14.0


@dataclass(frozen=True, slots=True)
class Look:
    """A colour, a line weight and dashes in pixels, and the tint that fills a body of this role."""

    colour: str
    weight: float = 1.5
    dash: tuple[float, ...] = ()
    tint: str = "#eef1f4"


LOOKS = {
    "fixed": Look("#16212a", 2.0),
    "input": Look("#1468c3", 5.0, tint="#e3eefa"),
    "coupler": Look("#a64b0c", 3.2, tint="#f9ebe0"),
    "output": Look("#7b398a", 4.0, tint="#f2e8f5"),
    "link": Look("#4c5967", 3.2, tint="#e9edf0"),
    "pin": Look("#16212a", 1.8),
    "point": Look("#16212a", 1.0),
    "path": Look("#1e6338", 1.8, (7, 3)),
    "range": Look("#1e6338", 1.4, (2, 3)),
    "ghost": Look("#7f8c97", 1.0),
    "hatch": Look("#16212a", 1.0),
    "faint": Look("#8a949d", 0.8),
    "construction": Look("#4c5967", 1.0),
    "latest": Look("#1468c3", 1.8),
    "chosen": Look("#1e6338", 2.4),
    "refused": Look("#7d6560", 1.2, (3, 3)),
    "answer": Look("#a64b0c", 1.8, (9, 3, 2, 3)),
    "image": Look("#4c5967", 1.2),
    "vector": Look("#1468c3", 2.6),
    "vector turning": Look("#7b398a", 2.2),
    "vector normal": Look("#a64b0c", 2.2, (8, 3)),
    "vector sliding": Look("#1e6338", 2.2, (4, 3)),
    "vector Coriolis": Look("#16212a", 2.2, (9, 3, 2, 3)),
    "force": Look("#a64b0c", 2.6),
    "load": Look("#1468c3", 2.6),
    "inertia": Look("#7b398a", 2.6, (7, 4)),
    "dimension": Look("#16212a", 0.9),
    "motion": Look("#16212a", 1.8),
    "axis": Look("#7f8c97", 1.0),
    "label": Look("#16212a", 1.0),
    "note": Look("#4c5967", 1.0),
}


def look(role) -> Look:
    """The look of a role; a role that is not known is drawn as a plain link."""
    return LOOKS.get(role, LOOKS["link"])
