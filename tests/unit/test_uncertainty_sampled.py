"""Summaries of samples: intervals, errors, contributors, shares."""

import math

import numpy as np
import pytest

from sleevewright.core.uncertainty.inputs import InputQuantity, Shape, draw
from sleevewright.core.uncertainty.sampled import (
    Interval,
    chance_below,
    contributors,
    finest_step,
    probability_below,
    quantiles,
    summarise,
)
from sleevewright.errors import InputError

A = InputQuantity("a", 1.0, 3.0)
B = InputQuantity("b", 2.0, 4.0)
IDLE = InputQuantity("idle", 0.0, 1.0)


def test_contributors_are_ranked_and_right() -> None:
    """A sum a + b / 2: parts 3 and 2, the idle input left out."""
    found = summarise(draw(A) + 0.5 * draw(B), quantities=(IDLE, B, A))
    assert [one.name for one in found.contributors] == ["a", "b"]
    assert found.contributors[0].standard == pytest.approx(3.0, rel=0.01)
    assert found.contributors[1].standard == pytest.approx(2.0, rel=0.01)
    assert found.standard == pytest.approx(math.hypot(3.0, 2.0), rel=0.01)
    assert found.mean == pytest.approx(2.0, abs=0.05)


def test_degrees_of_freedom_come_from_the_parts() -> None:
    """Welch and Satterthwaite from the slopes that were found."""
    one = InputQuantity("one", 0.0, 1.0, 8.0)
    two = InputQuantity("two", 0.0, 1.0, 8.0)
    found = summarise(draw(one) + draw(two), quantities=(one, two))
    assert found.degrees_of_freedom == pytest.approx(16.0, rel=0.02)
    assert math.isinf(summarise(draw(A), quantities=(A,)).degrees_of_freedom)


def test_contributors_of_free_samples_agree_with_named_ones() -> None:
    """Both roads find the same parts."""
    a, b = draw(A), draw(B)
    free = contributors(a - b, {"a": a, "b": b, "flat": np.zeros_like(a)})
    named = summarise(a - b, quantities=(A, B)).contributors
    for one, other in zip(free, named, strict=True):
        assert one.name == other.name
        assert one.standard == pytest.approx(other.standard, rel=1e-4)


def test_shortest_interval_of_a_skewed_result_is_shorter_and_holds_as_much() -> None:
    """An exponential: the shortest 95 % starts at zero and ends at -ln 0.05."""
    samples = np.random.default_rng(4).exponential(size=200_000)
    even = summarise(samples)
    short = summarise(samples, interval=Interval.SHORTEST)
    assert short.interval is Interval.SHORTEST
    assert short.high - short.low < even.high - even.low
    assert short.low == pytest.approx(0.0, abs=0.01)
    assert short.high == pytest.approx(-math.log(0.05), abs=0.03)
    inside = np.mean((samples >= short.low) & (samples <= short.high))
    assert inside == pytest.approx(0.95, abs=1e-4)


def test_symmetric_interval_leaves_the_same_on_both_sides() -> None:
    """Two and a half per cent lie outside on either side."""
    samples = np.random.default_rng(5).exponential(size=100_000)
    found = summarise(samples)
    assert np.mean(samples < found.low) == pytest.approx(0.025, abs=1e-4)
    assert np.mean(samples > found.high) == pytest.approx(0.025, abs=1e-4)


def test_sampling_error_of_a_quantile_is_what_other_seeds_do() -> None:
    """The stated error against the spread of 300 independent repetitions."""
    runs = np.random.default_rng(6).standard_normal((300, 2_000))
    found = [quantiles(run, (0.05,))[0] for run in runs]
    spread = np.std([one.value for one in found])
    stated = np.mean([one.sampling_error for one in found])
    exact = math.sqrt(0.05 * 0.95 / 2_000) / 0.10313564  # density of the normal at P5
    assert stated == pytest.approx(exact, rel=0.1)
    assert spread == pytest.approx(exact, rel=0.15)


def test_quantiles_agree_with_numpy() -> None:
    """Within one order statistic of numpy's own quantile."""
    samples = np.random.default_rng(7).standard_normal(10_001)
    for one in quantiles(samples, (0.01, 0.05, 0.5, 0.95)):
        expected = float(np.quantile(samples, one.probability))
        assert one.value == pytest.approx(expected, abs=0.01)


def test_quantiles_bear_a_horizon_that_was_not_reached() -> None:
    """Samples that never grip are infinite; the quantile there is too, and so is its error."""
    times = np.concatenate([np.full(900, np.inf), np.linspace(1.0, 9.0, 1_100)])
    early, late = quantiles(times, (0.05, 0.95))
    assert early.value == pytest.approx(1.7, abs=0.05)
    assert math.isfinite(early.sampling_error)
    assert math.isinf(late.value)
    assert math.isinf(late.sampling_error)


def test_share_has_the_binomial_error() -> None:
    """A quarter of 400 samples is known to 2.2 per cent."""
    share = probability_below(np.repeat([0.0, 1.0, 1.0, 1.0], 100), 0.5)
    assert share.value == 0.25
    assert share.sampling_error == pytest.approx(math.sqrt(0.25 * 0.75 / 400))
    assert chance_below(np.repeat([0.0, 1.0, 1.0, 1.0], 100), 0.5) == 0.25


@pytest.mark.parametrize("limit", [-1.0, 2.0])
def test_share_of_none_or_all_is_never_exact(limit: float) -> None:
    """None of a hundred below the limit is not a probability of zero without error."""
    share = probability_below(np.linspace(0.0, 1.0, 100), limit)
    assert share.value in (0.0, 1.0)
    assert 0.005 < share.sampling_error < 0.02


@pytest.mark.parametrize(
    ("error", "step"),
    [(0.013, 0.02), (0.02, 0.02), (0.0201, 0.05), (0.6, 1.0), (7.0e-8, 1.0e-7), (0.0, 0.0)],
)
def test_finest_step_is_no_finer_than_the_sampling_error(error: float, step: float) -> None:
    """Steps of 1, 2 and 5; nothing is cut off where there is no sampling error."""
    assert finest_step(error) == pytest.approx(step, rel=1e-12)


def test_refusals_say_what_is_wrong() -> None:
    """No samples, not-a-number, infinite means and impossible coverages are refused."""
    good = np.linspace(0.0, 1.0, 50)
    with pytest.raises(InputError, match="at least two samples"):
        summarise(np.array([1.0]))
    with pytest.raises(InputError, match="numbers only"):
        quantiles(np.array([1.0, np.nan, 2.0]), (0.5,))
    with pytest.raises(InputError, match="finite numbers"):
        summarise(np.array([1.0, np.inf]))
    with pytest.raises(InputError, match="between 0 and 1"):
        summarise(good, coverage=1.0)
    with pytest.raises(InputError, match="between 0 and 1"):
        quantiles(good, (0.0,))


def test_rectangular_contributor_counts_like_any_other() -> None:
    """A rounding error of standard uncertainty 2 brings 2."""
    rounding = InputQuantity("rounding", 0.0, 2.0, shape=Shape.RECTANGULAR)
    found = summarise(draw(A) + draw(rounding), quantities=(A, rounding))
    assert found.contributors[1].standard == pytest.approx(2.0, rel=0.01)
