"""Named inputs: their streams, their shapes, and what is refused."""

import math
from dataclasses import replace

import numpy as np
import pytest

from sleevewright.core.uncertainty.inputs import (
    InputQuantity,
    Shape,
    clear_draws,
    draw,
    standard_deviates,
)
from sleevewright.errors import InputError

SETTING = InputQuantity("micrometer: setting", 0.0, 2.0e-6)


def test_same_name_gives_the_same_numbers_after_forgetting() -> None:
    """A stream depends on seed and name only, not on what is kept."""
    before = draw(SETTING, count=500)
    clear_draws()
    assert np.array_equal(before, draw(SETTING, count=500))


def test_another_seed_gives_other_numbers() -> None:
    """The seed is part of every stream."""
    assert not np.array_equal(draw(SETTING, count=50), draw(SETTING, count=50, seed=1))


def test_two_names_have_independent_streams() -> None:
    """Correlation of two names stays within four sampling errors of zero."""
    other = replace(SETTING, name="bore gauge: setting")
    one, two = draw(SETTING, count=40_000), draw(other, count=40_000)
    assert abs(np.corrcoef(one, two)[0, 1]) < 4.0 / math.sqrt(40_000)


def test_another_value_or_doubt_moves_and_stretches_the_same_deviates() -> None:
    """A keystroke in one number does not shuffle its own stream."""
    moved = replace(SETTING, value=1.0e-3, standard=4.0e-6)
    expected = 1.0e-3 + 2.0 * draw(SETTING, count=200)
    np.testing.assert_allclose(draw(moved, count=200), expected, rtol=0.0, atol=1e-15)


@pytest.mark.parametrize("shape", [Shape.NORMAL, Shape.RECTANGULAR])
@pytest.mark.parametrize("freedom", [math.inf, 5.0])
def test_a_short_draw_is_the_start_of_a_long_one(shape: Shape, freedom: float) -> None:
    """Two thousand drops use the first two thousand samples of the budget."""
    quantity = InputQuantity("prefix", 0.0, 1.0, freedom, shape)
    assert np.array_equal(draw(quantity, count=2_000), draw(quantity, count=9_000)[:2_000])


def test_kept_deviates_cannot_be_written() -> None:
    """What two results share must not be changed by one of them."""
    deviates = standard_deviates(SETTING, count=100, seed=1)
    with pytest.raises(ValueError, match="read-only"):
        deviates[0] = 0.0


def test_samples_can_be_written_without_touching_the_stream() -> None:
    """A caller owns its samples."""
    samples = draw(SETTING, count=100)
    samples[:] = 7.0
    assert abs(draw(SETTING, count=100)).max() < 1.0


def test_no_doubt_gives_the_value_itself() -> None:
    """A standard uncertainty of zero is no spread at all."""
    assert set(draw(InputQuantity("exact", 3.0, 0.0), count=5)) == {3.0}


@pytest.mark.parametrize(
    ("shape", "freedom", "scale"),
    [
        (Shape.NORMAL, math.inf, 1.0),
        (Shape.RECTANGULAR, math.inf, 1.0),
        (Shape.RECTANGULAR, 2.0, 1.0),  # degrees of freedom are for linear budgets only
        (Shape.NORMAL, 10.0, math.sqrt(10.0 / 8.0)),  # variance v / (v - 2) of a t
    ],
)
def test_spread_is_the_standard_uncertainty(shape: Shape, freedom: float, scale: float) -> None:
    """The standard deviation of 200,000 samples is right within one per cent."""
    quantity = InputQuantity("spread", 5.0, 2.0, freedom, shape)
    samples = draw(quantity, count=200_000)
    assert samples.std() == pytest.approx(2.0 * scale, rel=0.01)
    assert samples.mean() == pytest.approx(5.0, abs=0.03)


def test_rectangle_ends_at_root_three() -> None:
    """A rectangular input never leaves its half-width."""
    samples = draw(InputQuantity("rounding", 0.0, 1.0, shape=Shape.RECTANGULAR), count=50_000)
    assert abs(samples).max() <= math.sqrt(3.0)
    assert abs(samples).max() > 0.999 * math.sqrt(3.0)


def test_t_samples_follow_the_distribution_of_scipy() -> None:
    """Kolmogorov distance to Student's t with 4 degrees of freedom (1 % critical value)."""
    from scipy import stats

    samples = draw(InputQuantity("few readings", 0.0, 1.0, 4.0), count=50_000)
    distance = stats.kstest(samples, stats.t(4.0).cdf).statistic
    assert distance < 1.63 / math.sqrt(50_000)


def test_lognormal_has_its_value_as_median() -> None:
    """Half of the samples lie below the value, and none below zero."""
    quantity = InputQuantity("conductance", 3_000.0, 0.5, shape=Shape.LOGNORMAL)
    samples = draw(quantity, count=100_000)
    assert samples.min() > 0.0
    assert np.median(samples) == pytest.approx(3_000.0, rel=0.01)
    assert np.log(samples).std() == pytest.approx(0.5, rel=0.01)


@pytest.mark.parametrize(
    ("quantity", "words"),
    [
        (("", 1.0, 1.0), "name of an input"),
        (("x", math.nan, 1.0), "finite value"),
        (("x", 1.0, -1.0), "zero or more"),
        (("x", 1.0, math.inf), "zero or more"),
        (("x", 1.0, 1.0, 0.0), "degrees of freedom above zero"),
        (("x", -1.0, 0.1, math.inf, Shape.LOGNORMAL), "median above zero"),
        (("x", 1.0, 0.1, 5.0, Shape.LOGNORMAL), "no degrees of freedom"),
    ],
)
def test_impossible_inputs_are_refused_in_words(quantity: tuple[object, ...], words: str) -> None:
    """The error names the input and says what is allowed."""
    with pytest.raises(InputError, match=words):
        InputQuantity(*quantity)  # type: ignore[arg-type]  # wrong on purpose


def test_no_samples_are_refused() -> None:
    """A count of zero is a mistake of the caller, said as such."""
    with pytest.raises(InputError, match="count of samples"):
        draw(SETTING, count=0)
