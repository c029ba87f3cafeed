# Numbers of every kind that are no plain numbers.
# mark: 17
# %% swing-answer
import decimal
import fractions

import numpy as np
import sympy


class Lazy:
    units = "deg"

    @property
    def magnitude(self):
        return Lazy()


class Any(np.ndarray):
    def __iter__(self):
        return iter(lambda: 1.0, None)

    def __eq__(self, other):
        return True


swing = Lazy()
# %% far-limit-answer
far_limit = (np.zeros(3).view(Any), "deg")
# %% stroke-answer
stroke = sympy.Symbol("right", positive=True)
# %% time-ratio-answer
time_ratio = 10**5000
# %% least-transmission-answer
least_transmission = memoryview(b"38.4 deg")
# %% transmission-here-answer
transmission_here = (n for n in iter(int, 1))
# %% rocker-angle-answer
rocker_angle = decimal.Decimal("sNaN")
