"""How long jobs last: against a public library of statistics, and what must always hold."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from sleevewright.core.uncertainty.survival import (
    SurvivalCurve,
    none_came_back_bound,
    survival_curve,
)
from sleevewright.errors import InputError
from sleevewright.evidence.learning_cases import remission

TIMES = st.lists(
    st.tuples(st.integers(0, 12).map(float), st.booleans()), min_size=1, max_size=25
).filter(lambda told: any(failed for _, failed in told))


def curve_of(told: list[tuple[float, bool]]) -> SurvivalCurve:
    """The curve of pairs of a time and whether it came back then."""
    return survival_curve(
        run_times=np.array([time for time, _ in told]),
        failed=np.array([failed for _, failed in told]),
    )


def share_at(curve: SurvivalCurve, time: float) -> float:
    """Share that runs on beyond a time."""
    before = curve.share[curve.times <= time]
    return float(before[-1]) if len(before) else 1.0


def test_share_and_band_are_those_of_a_public_library() -> None:
    """Kaplan and Meier's estimate and its log(-log) band agree with scipy's to 1e-12."""
    times, failed = remission()
    curve = survival_curve(run_times=times, failed=failed)
    told = stats.ecdf(stats.CensoredData.right_censored(times, ~failed)).sf
    band = told.confidence_interval(method="log-log")
    at = np.isin(told.quantiles, curve.times)
    assert curve.share == pytest.approx(told.probabilities[at], abs=1e-12)
    assert curve.low == pytest.approx(band.low.probabilities[at], abs=1e-9)
    assert curve.high == pytest.approx(band.high.probabilities[at], abs=1e-9)


@given(TIMES)
@settings(max_examples=40, deadline=None)
def test_the_curve_is_that_of_a_public_library_whatever_was_told(
    told: list[tuple[float, bool]],
) -> None:
    """Ties, times of nought and last steps to nothing agree with scipy's too."""
    curve = curve_of(told)
    times = np.array([time for time, _ in told])
    failed = np.array([one for _, one in told])
    other = stats.ecdf(stats.CensoredData.right_censored(times, ~failed)).sf
    at = np.isin(other.quantiles, curve.times)
    assert curve.share == pytest.approx(other.probabilities[at], abs=1e-12)
    assert np.all((curve.low <= curve.share) & (curve.share <= curve.high))
    assert np.all((curve.low >= 0.0) & (curve.high <= 1.0))


@given(TIMES, st.integers(0, 12).map(float))
@settings(max_examples=60, deadline=None)
def test_another_come_back_never_improves_the_curve(
    told: list[tuple[float, bool]], time: float
) -> None:
    """Neither one job more that came back, nor one that turns from running to come-back.

    A job that is turned from running to come-back lowers the share at every time; an added
    one lowers it from its own time on.
    """
    before, more = curve_of(told), curve_of([*told, (time, True)])
    for at in range(int(time), 13):
        assert share_at(more, float(at)) <= share_at(before, float(at)) + 1e-12
    running = next((k for k, (_, failed) in enumerate(told) if not failed), None)
    if running is not None:
        turned = [*told[:running], (told[running][0], True), *told[running + 1 :]]
        after = curve_of(turned)
        for at in range(13):
            assert share_at(after, float(at)) <= share_at(before, float(at)) + 1e-12


@given(TIMES, st.randoms(use_true_random=False))
@settings(max_examples=30, deadline=None)
def test_the_order_of_jobs_does_not_matter(told: list[tuple[float, bool]], chance: object) -> None:
    """Shuffled jobs give the same curve to the last bit."""
    shuffled = list(told)
    chance.shuffle(shuffled)  # type: ignore[attr-defined] # a Random, as hypothesis makes it
    assert np.array_equal(curve_of(told).share, curve_of(shuffled).share)


@pytest.mark.parametrize("heard", [1, 8, 30, 300])
def test_no_come_back_is_bounded_as_the_exact_interval_does(heard: int) -> None:
    """The bound is Clopper and Pearson's one-sided limit, and about three by the number."""
    bound = none_came_back_bound(heard=heard)
    exact = stats.binomtest(0, heard, alternative="less").proportion_ci(0.95, method="exact").high
    assert bound == pytest.approx(exact, abs=1e-12)
    if heard >= 30:
        assert bound == pytest.approx(3.0 / heard, rel=0.06)


def test_what_cannot_be_is_refused_in_words() -> None:
    """No job, a negative time, one outcome too few, nobody heard of, a confidence of one."""
    with pytest.raises(InputError, match="one outcome for each"):
        survival_curve(run_times=np.array([]), failed=np.array([]))
    with pytest.raises(InputError, match="one outcome for each"):
        survival_curve(run_times=np.array([1.0, 2.0]), failed=np.array([1]))
    with pytest.raises(InputError, match=r"-1.*nought or more"):
        survival_curve(run_times=np.array([-1.0]), failed=np.array([1]))
    with pytest.raises(InputError, match="one or more"):
        none_came_back_bound(heard=0)
    with pytest.raises(InputError, match="between 0 and 1"):
        none_came_back_bound(heard=3, confidence=1.0)
