"""Closed forms in sympy: position equations and velocity ratios, derived step by step and run by numpy."""

from linkkit.algebra.bars import four_bar, freudenstein
from linkkit.algebra.derivation import Derivation, Quantity, Step
from linkkit.algebra.rates import velocity_ratio
from linkkit.algebra.sliders import inverted_slider_crank, slider_crank

__all__ = [
    "Derivation",
    "Quantity",
    "Step",
    "four_bar",
    "freudenstein",
    "inverted_slider_crank",
    "slider_crank",
    "velocity_ratio",
]
