"""Numbers that a user gives: real and finite, or a sentence that says what they are instead."""

from __future__ import annotations

from reprlib import Repr

import numpy as np

from .errors import LinkageError

LEAST, MOST = 1e-30, 1e30  # metres: beyond, squares leave what a floating number can hold

_brief = Repr()
_brief.maxother = 60
_brief.maxstring = 60
_brief.maxlist = 4
_brief.maxtuple = 4
_brief.maxdict = 2
_brief.maxlong = 30


def shown(value):
    """What was given, cut short so that it fits in a sentence."""
    return " ".join(_brief.repr(value).split())


def told_apart(value, *others, form="f", digits=1):
    """A number as text, with as many digits as it takes to differ from others, and at least so many.

    Examples
    --------
    >>> told_apart(39.96, 40), told_apart(31.2, 40), told_apart(1.00004, 1, form="g", digits=4)
    ('39.96', '31.2', '1.00004')
    """
    for n in range(digits, 17):
        said, *rest = (f"{float(x):.{n}{form}}" for x in (value, *others))
        if said not in rest:
            break
    return said


def real(value, what):
    """A finite number, or an array of them, as float64.

    Parameters
    ----------
    value : float or array
    what : str
        What it should be, as the start of a sentence: "crank must be a length in metres".

    Raises
    ------
    LinkageError
        For text, true or false, complex numbers, quantities with a unit, nan and infinity.

    Examples
    --------
    >>> float(real(3, "steps must be a number"))
    3.0
    """
    if type(value) is not np.ndarray or value.dtype != np.float64:
        value = _floats(value, what)
    if not np.isfinite(value).all():
        raise LinkageError(f"{what}, and finite, not {shown(value)}")
    return value[()]


def spot(value, what):
    """A place in the plane, or an array of them, as complex numbers."""
    array = np.asarray(None if isinstance(value, (str, tuple, list)) else value)
    if array.dtype.kind not in "iufc":
        raise LinkageError(f"{what}, not {shown(value)}")
    return complex(array) if array.ndim == 0 else array.astype(complex)


def _floats(value, what):
    try:
        if hasattr(value, "magnitude"):  # a quantity with a unit: its number alone would mean something else
            raise TypeError
        array = np.asarray(value)
        if array.dtype.kind not in "iuf":
            raise TypeError
    except (TypeError, ValueError):
        raise LinkageError(f"{what}, not {shown(value)}") from None
    return array.astype(float)


def positive(value, what):
    """The same, and longer than zero throughout; `what` names it, as in "crank must be a length in metres"."""
    array = real(value, what)
    if np.any(array <= 0):
        raise LinkageError(f"{what} of more than zero, not {shown(value)}")
    if np.any((array < LEAST) | (array > MOST)):
        raise LinkageError(f"{what} of a sensible size, not {shown(value)}")
    return array


def together(*arrays, what):
    """The shape to which arrays broadcast, or a sentence that names `what` does not."""
    if len(arrays) == 1:
        return np.shape(arrays[0])
    try:
        return np.broadcast_shapes(*map(np.shape, arrays))
    except ValueError:
        shapes = ", ".join(sorted({str(np.shape(a)) for a in arrays if np.ndim(a)}))
        raise LinkageError(f"{what} do not fit together: their shapes are {shapes}") from None
