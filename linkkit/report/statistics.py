"""Item statistics of a paper: facility, discrimination, reliability. No reading where there are too few scripts.

Sources: coefficient alpha, L. J. Cronbach, Psychometrika 16 (1951) 297; the correlation of an item with the rest of the
paper ("corrected item-total"), and Fisher's transformation for its interval, as in any text on test theory. The least
numbers of scripts are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

FACILITY_FROM, CORRELATION_FROM = 10, 30  # scripts
CERTAIN = 1.959963984540054  # standard deviations of a normal distribution that hold 95 per cent


@dataclass(frozen=True)
class Value:
    """An estimate from `n` scripts with its interval of 95 per cent; None where n is too small for it or it has none."""

    value: float | None
    n: int
    low: float | None = None
    high: float | None = None


def facility(shares) -> Value:
    """The mean share of the marks that an item earned.

    Parameters
    ----------
    shares : array
        One a script, 0 to 1; nan where it was not marked.
    """
    known = np.asarray(shares, dtype=float)
    known = known[np.isfinite(known)]
    if len(known) < FACILITY_FROM:
        return Value(None, len(known))
    mean, half = known.mean(), CERTAIN * known.std(ddof=1) / np.sqrt(len(known))
    return Value(float(mean), len(known), float(max(0.0, mean - half)), float(min(1.0, mean + half)))


def correlation(first, second) -> Value:
    """The linear correlation of two columns without gaps; none where one of them does not vary.

    Examples
    --------
    >>> one = [0, 1] * 20
    >>> correlation(one, one).value
    1.0
    """
    first, second = (np.asarray(column, dtype=float) for column in (first, second))
    n = len(first)
    if n < CORRELATION_FROM or np.ptp(first) == 0 or np.ptp(second) == 0:
        return Value(None, n)
    one, other = first - first.mean(), second - second.mean()
    r = float(np.clip(one @ other / np.sqrt((one @ one) * (other @ other)), -1.0, 1.0))
    return Value(r, n, *_fisher(r, n))


def _fisher(r: float, n: int) -> tuple[float, float]:
    """The interval of a correlation, by the transformation in which it is nearly normal."""
    if abs(r) == 1.0:
        return r, r
    middle, half = np.arctanh(r), CERTAIN / np.sqrt(n - 3)
    return float(np.tanh(middle - half)), float(np.tanh(middle + half))


def discrimination(marks, item: int) -> Value:
    """How an item goes with the rest of the paper, itself left out.

    Parameters
    ----------
    marks : array, shape (scripts, items)
        Without gaps.
    """
    marks = np.asarray(marks, dtype=float)
    return correlation(marks[:, item], np.delete(marks, item, axis=1).sum(axis=1))


def alpha(marks) -> Value:
    """The reliability of the paper: Cronbach's coefficient alpha.

    Parameters
    ----------
    marks : array, shape (scripts, items)
        Without gaps.
    """
    marks = np.asarray(marks, dtype=float)
    n, k = marks.shape if marks.ndim == 2 else (len(marks), 0)
    if n < CORRELATION_FROM or k < 2 or np.ptp(marks.sum(axis=1)) == 0:
        return Value(None, n)
    found = alpha_of_variances(k, marks.var(axis=0, ddof=1).sum(), marks.sum(axis=1).var(ddof=1))
    return Value(float(found), n)


def alpha_of_variances(k: int, of_items: float, of_total: float) -> float:
    """Alpha from the number of items, the sum of their variances and the variance of the total.

    Examples
    --------
    Items that have nothing to do with each other:

    >>> alpha_of_variances(4, 8.0, 8.0)
    0.0
    """
    return k / (k - 1) * (1 - of_items / of_total)


def error_of_measurement(marks) -> float | None:
    """How far a mark is from what the student would earn on average in such papers (one standard deviation)."""
    found = alpha(marks).value
    if found is None:
        return None
    return float(np.asarray(marks, dtype=float).sum(axis=1).std(ddof=1) * np.sqrt(max(0.0, 1 - found)))


def reading(facility: Value, discrimination: Value) -> str:
    """What the figures of an item say, in words; nothing where there are too few scripts."""
    said = []
    if facility.value is not None and facility.value > 0.95:
        said.append("nearly everybody has it right")
    if facility.value is not None and facility.value < 0.2:
        said.append("hardly anybody has it right")
    if discrimination.value is not None:
        said.append(_told(discrimination.value))
    return "; ".join(said)


def _told(r: float) -> str:
    """Bounds in common use: 0.2, 0.4, 0.7; below zero the key or the wording is looked at first."""
    if r < 0:
        return "goes against the rest of the paper: look at the key and the wording"
    words = (
        (0.2, "hardly tells good scripts from poor ones"),
        (0.4, "tells them apart fairly"),
        (0.7, "tells them apart well"),
    )
    return next((said for bound, said in words if r < bound), "says nearly the same as the rest of the paper")
