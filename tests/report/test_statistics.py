"""Item statistics against a general statistics library, a published worked example, other formulas and laws."""

import numpy as np
import pytest
from scipy import stats

from linkkit.report import statistics as ours
from tolerances import CLOSURE


@pytest.fixture(scope="module")
def marks():
    """Eight items of sixty invented students: one skill with noise."""
    draw = np.random.default_rng(5)
    skill = draw.normal(size=(60, 1))
    return np.clip(np.round(2 + skill + draw.normal(size=(60, 8))), 0, 4)


def test_a_correlation_and_its_interval_are_those_of_scipy(marks):
    for item in range(8):
        found = ours.discrimination(marks, item)
        rest = marks.sum(axis=1) - marks[:, item]
        theirs = stats.pearsonr(marks[:, item], rest)
        interval = theirs.confidence_interval(0.95)
        assert found.value == pytest.approx(theirs.statistic, abs=CLOSURE)
        assert (found.low, found.high) == pytest.approx((interval.low, interval.high), abs=CLOSURE)


def test_a_facility_and_its_interval_are_those_of_scipy(marks):
    share = marks[:, 0] / 4
    found = ours.facility(share)
    low, high = stats.norm.interval(0.95, loc=np.mean(share), scale=stats.sem(share))
    assert (found.value, found.low, found.high) == pytest.approx((np.mean(share), low, high), abs=CLOSURE)


def test_alpha_from_the_mean_covariance(marks):
    """Alpha is also k c / (v + (k - 1) c), with the mean variance v of the items and the mean covariance c of pairs."""
    table, k = np.cov(marks.T), marks.shape[1]
    v, c = np.trace(table) / k, (table.sum() - np.trace(table)) / (k * (k - 1))
    assert ours.alpha(marks).value == pytest.approx(k * c / (v + (k - 1) * c), abs=CLOSURE)


def test_alpha_of_two_items_is_that_of_spearman_and_brown_for_equal_variances(marks):
    """2 r / (1 + r), where the two halves have the same variance."""
    one, other = stats.zscore(marks[:, 0]), stats.zscore(marks[:, 1])
    r = stats.pearsonr(one, other).statistic
    assert ours.alpha(np.column_stack([one, other])).value == pytest.approx(2 * r / (1 + r), abs=CLOSURE)


def test_alpha_of_items_right_or_wrong_is_kuder_and_richardsons(marks):
    """k / (k - 1) (1 - sum p q / variance), with variances of the cohort itself."""
    right = (marks > 2).astype(float)
    k, p = right.shape[1], right.mean(axis=0)
    kr20 = k / (k - 1) * (1 - (p * (1 - p)).sum() / right.sum(axis=1).var())
    assert ours.alpha(right).value == pytest.approx(kr20, abs=CLOSURE)


def test_alpha_of_a_published_scale():
    """J. M. Bland and D. G. Altman, Statistics notes: Cronbach's alpha, BMJ 314 (1997) 572, a scale of 10 items in 249
    patients: the variances of the items sum to 11.16, that of the total is 77.44, alpha 0.95 (figures from memory)."""
    assert ours.alpha_of_variances(10, 11.16, 77.44) == pytest.approx(0.95, abs=0.005)


def test_the_laws_of_alpha(marks):
    """One for items that are all the same; nothing where items have nothing in common; no unit."""
    same = np.repeat(marks[:, :1], 5, axis=1)
    assert ours.alpha(same).value == pytest.approx(1.0, abs=CLOSURE)
    corners = np.array([[a, b, c] for a in (0, 1) for b in (0, 1) for c in (0, 1)] * 5)  # every pattern as often
    assert ours.alpha(corners).value == pytest.approx(0.0, abs=CLOSURE)
    assert ours.alpha(10 * marks).value == pytest.approx(ours.alpha(marks).value, abs=CLOSURE)


def test_the_error_of_a_mark(marks):
    """Standard deviation times the root of 1 - alpha, as in any text on test theory."""
    total = marks.sum(axis=1)
    expected = stats.tstd(total) * np.sqrt(1 - ours.alpha(marks).value)
    assert ours.error_of_measurement(marks) == pytest.approx(expected, abs=CLOSURE)


@pytest.mark.parametrize("few", [0, 1, 9])
def test_no_facility_of_few_scripts(marks, few):
    found = ours.facility(marks[:few, 0] / 4)
    assert (found.value, found.n) == (None, few)


@pytest.mark.parametrize("few", [0, 2, 29])
def test_no_correlation_and_no_reading_of_few_scripts(marks, few):
    assert ours.discrimination(marks[:few], 0).value is None
    assert ours.alpha(marks[:few]).value is None
    assert ours.error_of_measurement(marks[:few]) is None
    assert ours.reading(ours.facility(marks[:9, 0]), ours.discrimination(marks[:few], 0)) == ""


def test_what_does_not_vary_has_no_correlation(marks):
    flat = marks.copy()
    flat[:, 0] = 3
    found = ours.discrimination(flat, 0)
    assert (found.value, found.n) == (None, 60)


def test_gaps_are_left_out_of_a_facility():
    shares = np.r_[np.ones(6), np.zeros(6), np.full(20, np.nan)]
    found = ours.facility(shares)
    assert (found.value, found.n) == (0.5, 12)


@pytest.mark.parametrize(
    ("r", "words"),
    [(-0.1, "against the rest"), (0.1, "hardly tells"), (0.3, "fairly"), (0.5, "well"), (0.9, "nearly the same")],
)
def test_readings(r, words):
    assert words in ours.reading(ours.Value(0.6, 50), ours.Value(r, 50))
