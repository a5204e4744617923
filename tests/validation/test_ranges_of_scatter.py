"""Ranges of pure scatter: control-chart factors, tables of the studentised range, scipy."""

import math

import numpy as np
import pytest

from sleevewright.core.metrology.form import Range, form_doubt
from sleevewright.core.metrology.ranges import mean_range, range_quantile
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.errors import InputError


@pytest.mark.parametrize(
    ("size", "factor"),
    [(2, 1.128), (3, 1.693), (4, 2.059), (5, 2.326), (6, 2.534), (8, 2.847), (10, 3.078)],
)
def test_mean_range_is_the_factor_d2_of_control_charts(size: int, factor: float) -> None:
    """Tippett 1925, as tables of control charts print it (from memory), to 0.001."""
    assert mean_range(size=size) == pytest.approx(factor, abs=0.0006)


@pytest.mark.parametrize(
    ("size", "freedom", "point"),
    [(2, 10, 3.15), (3, 10, 3.88), (4, 20, 3.96), (5, 20, 4.23), (3, math.inf, 3.31)],
)
def test_upper_five_per_cent_points(size: int, freedom: float, point: float) -> None:
    """Harter 1960, studentised range, upper 5 % (from memory), printed to 0.01."""
    found = range_quantile(probability=0.95, size=size, degrees_of_freedom=freedom)
    assert found == pytest.approx(point, abs=0.0051)


@pytest.mark.parametrize("size", [2, 4, 8])
@pytest.mark.parametrize("freedom", [3.0, 8.0, 30.0])
@pytest.mark.parametrize("probability", [0.9, 0.975])
def test_agrees_with_scipy(size: int, freedom: float, probability: float) -> None:
    """An independent implementation of the studentised range, within 0.03 per cent."""
    from scipy.stats import studentized_range

    known = float(studentized_range.ppf(probability, size, freedom))
    found = range_quantile(probability=probability, size=size, degrees_of_freedom=freedom)
    assert found == pytest.approx(known, rel=3e-4)


def test_two_readings_are_a_t_distribution() -> None:
    """The range of two is 2^(1/2) times the size of a t deviate: 2.306 at 8, 95 %."""
    found = range_quantile(probability=0.95, size=2, degrees_of_freedom=8.0)
    assert found / math.sqrt(2.0) == pytest.approx(2.306, abs=6e-4)


def test_largest_of_several_ranges_by_sampling() -> None:
    """Three stations of four readings, 100,000 invented parts: mean and 95 % within 1 %."""
    ranges = np.ptp(np.random.default_rng(5).standard_normal((100_000, 3, 4)), axis=2).max(axis=1)
    assert mean_range(size=4, groups=3) == pytest.approx(float(ranges.mean()), rel=0.01)
    known = float(np.quantile(ranges, 0.95))
    assert range_quantile(probability=0.95, size=4, groups=3) == pytest.approx(known, rel=0.01)


def test_form_uses_the_range_of_its_own_grid() -> None:
    """Out-of-round of three stations by four; taper of three station means of four."""
    reading = Repeatability(2.0, 8.0)
    oval = form_doubt(30.0, kind=Range.OUT_OF_ROUND, stations=3, directions=4, reading=reading)
    assert oval.noise_alone == pytest.approx(2.0 * mean_range(size=4, groups=3))
    worst = range_quantile(probability=0.975, size=4, groups=3, degrees_of_freedom=8.0)
    assert oval.low == pytest.approx(30.0 - 2.0 * worst)
    # Upper side: the difference of two readings, t of 8 degrees of freedom at 97.5 %, 2.306.
    assert oval.high == pytest.approx(30.0 + 2.0 * math.sqrt(2.0) * 2.306, abs=2e-3)
    tapered = form_doubt(30.0, kind=Range.TAPER, stations=3, directions=4, reading=reading)
    assert tapered.noise_alone == pytest.approx(mean_range(size=3))


def test_refusals() -> None:
    """One reading has no range; one degree of freedom has no useful quantile."""
    with pytest.raises(InputError, match="readings to compare"):
        mean_range(size=1)
    with pytest.raises(InputError, match="degrees of freedom"):
        range_quantile(probability=0.95, size=3, degrees_of_freedom=1.0)
    with pytest.raises(InputError, match="probability"):
        range_quantile(probability=1.0, size=3)
