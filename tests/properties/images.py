"""Images of a linkage in the plane: turned, scaled, shifted or mirrored, point by point and line by line."""

from dataclasses import dataclass, replace

import numpy as np


@dataclass(frozen=True)
class Image:
    """z goes to ``factor * z + shift``, or with `mirrored` to ``factor * conj(z) + shift``."""

    factor: complex = 1 + 0j
    shift: complex = 0j
    mirrored: bool = False

    def point(self, z):
        """Where a point, or an array of points, goes."""
        return self.vector(z) + self.shift

    def vector(self, z):
        """What becomes of a difference of points, a velocity or an acceleration."""
        return self.factor * (np.conj(z) if self.mirrored else np.asarray(z))

    def turn(self, angle):
        """What becomes of a direction, in radians."""
        return np.angle(self.factor) + (-angle if self.mirrored else angle)

    def of(self, linkage):
        """The image of a linkage."""
        points = {name: complex(self.point(z)) for name, z in linkage.points.items()}
        unit = Image(self.factor / abs(self.factor), mirrored=self.mirrored)
        slides = [
            replace(s, through=complex(self.point(s.through)), direction=complex(unit.vector(s.direction)))
            for s in linkage.slides
        ]
        return replace(linkage, points=points, slides=tuple(slides))
