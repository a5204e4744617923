"""What holds for every budget and every verdict."""

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.core.uncertainty.decision import (
    Settle,
    Verdict,
    conformance_probability,
    decide,
    decide_within,
    readings_to_settle,
)
from sleevewright.core.uncertainty.inputs import InputQuantity, draw
from sleevewright.core.uncertainty.sampled import finest_step, probability_below, quantiles

values = st.floats(-1e3, 1e3)
doubts = st.floats(1e-6, 1e3)
names = st.text(min_size=1, max_size=20)


@given(name=names, value=values, standard=doubts)
def test_samples_are_moved_and_stretched_deviates(name: str, value: float, standard: float) -> None:
    """Any value and doubt of a name use the name's own deviates."""
    unit = draw(InputQuantity(name, 0.0, 1.0), count=64)
    samples = draw(InputQuantity(name, value, standard), count=64)
    np.testing.assert_allclose(samples, value + standard * unit, rtol=1e-12, atol=1e-9)


@given(one=names, other=names)
def test_names_that_differ_draw_differently(one: str, other: str) -> None:
    """Streams are told apart by the whole name."""
    same = np.array_equal(
        draw(InputQuantity(one, 0.0, 1.0), count=16), draw(InputQuantity(other, 0.0, 1.0), count=16)
    )
    assert same == (one == other)


@given(value=values, standard=doubts, limit=values)
def test_good_and_out_are_never_both_and_agree_with_the_probability(
    value: float, standard: float, limit: float
) -> None:
    """Good means at least 95 % conformance, out at most 5 %."""
    call = decide(value, standard=standard, limit=limit, side="least")
    probability = conformance_probability(value, standard=standard, least=limit)
    if call is Verdict.GOOD:
        assert probability >= 0.9499
    elif call is Verdict.OUT:
        assert probability <= 0.0501
    else:
        assert 0.0499 <= probability <= 0.9501


@given(value=values, standard=doubts, limit=values)
def test_sides_mirror(value: float, standard: float, limit: float) -> None:
    """A least limit on a value is a most limit on its negative."""
    least = decide(value, standard=standard, limit=limit, side="least")
    assert least is decide(-value, standard=standard, limit=-limit, side="most")


@given(value=values, standard=doubts, least=values, width=st.floats(0.0, 1e3))
def test_two_limits_are_as_strict_as_the_stricter(
    value: float, standard: float, least: float, width: float
) -> None:
    """Good within both needs good at each; out at one is out of both."""
    most = least + width
    both = decide_within(value, standard=standard, least=least, most=most)
    each = {
        decide(value, standard=standard, limit=least, side="least"),
        decide(value, standard=standard, limit=most, side="most"),
    }
    if both is Verdict.GOOD:
        assert each == {Verdict.GOOD}
    if Verdict.OUT in each:
        assert both is Verdict.OUT


@given(
    value=st.floats(-5.0, 5.0),
    rest=st.floats(0.0, 3.0),
    repeat=st.floats(0.0, 3.0),
    readings=st.integers(1, 30),
)
def test_advised_readings_do_settle(
    value: float, rest: float, repeat: float, readings: int
) -> None:
    """With the readings that were advised the verdict is no longer too close to call."""
    found = readings_to_settle(
        value,
        standard=math.hypot(rest, repeat),
        repeat_standard=repeat,
        readings=readings,
        least=0.0,
    )
    if found.settle is Settle.READINGS:
        more = readings + found.more_readings
        standard = math.hypot(rest, repeat * math.sqrt(readings / more))
        call = decide(value, standard=standard * (1.0 - 1e-9), limit=0.0, side="least")
        assert call is not Verdict.TOO_CLOSE


samples_of = st.lists(st.floats(-1e3, 1e3), min_size=2, max_size=200).map(np.array)


@given(samples=samples_of, low=st.floats(0.01, 0.49), high=st.floats(0.51, 0.99))
def test_quantiles_are_in_order_and_within_the_samples(
    samples: np.ndarray, low: float, high: float
) -> None:
    """A larger share has no smaller quantile; both are samples; errors are not negative."""
    first, second = quantiles(samples, (low, high))
    assert first.value <= second.value
    assert {first.value, second.value} <= set(samples.tolist())
    assert first.sampling_error >= 0.0


@given(samples=samples_of, limit=st.floats(-1e3, 1e3))
def test_share_and_its_complement_make_one(samples: np.ndarray, limit: float) -> None:
    """What is not below is at or above."""
    below = probability_below(samples, limit)
    assert below.value == np.mean(samples < limit)
    assert below.sampling_error > 0.0


@given(error=st.floats(1e-12, 1e6))
def test_finest_step_lies_between_the_error_and_two_and_a_half_times_it(error: float) -> None:
    """Steps 1, 2, 5 follow each other at no more than 2.5 times."""
    step = finest_step(error)
    assert error * (1.0 - 1e-12) <= step <= 2.5 * error * (1.0 + 1e-9)
