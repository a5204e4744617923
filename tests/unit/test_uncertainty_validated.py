"""Two roads held together, tolerances of a doubt, and sampling until it has settled."""

import math
from dataclasses import replace

import numpy as np
import pytest

from sleevewright.core.uncertainty.inputs import InputQuantity, Shape, Streams, draw
from sleevewright.core.uncertainty.linear import Budget, LinearBudget, budget
from sleevewright.core.uncertainty.sampled import summarise
from sleevewright.core.uncertainty.validated import (
    Agreement,
    numerical_tolerance,
    sample_until,
    validated,
)
from sleevewright.errors import InputError, NotConverged


def linear(*inputs: InputQuantity) -> Budget:
    """Linear budget of a sum."""
    held = LinearBudget()
    return budget(sum(held.uncertain(one) for one in inputs))


def test_a_doubt_that_rounds_up_to_a_power_counts_as_that_power() -> None:
    """0.0998 is 0.10 to two digits: half a unit of the second is 0.005."""
    assert numerical_tolerance(0.0998, digits=2) == 0.005
    assert numerical_tolerance(0.0994, digits=2) == 0.0005


@pytest.mark.parametrize(("standard", "digits"), [(0.0, 2), (math.inf, 2), (1.0, 0), (1.0, 5)])
def test_no_tolerance_without_a_doubt_or_digits(standard: float, digits: int) -> None:
    """A doubt of nothing has no digits, and no doubt has none or five that mean something."""
    with pytest.raises(InputError):
        numerical_tolerance(standard, digits=digits)


def test_too_few_samples_decide_nothing() -> None:
    """1,000 samples do not know two digits; a million and one digit do."""
    one = InputQuantity("one", 0.0, 2.2)
    few, many = summarise(draw(one, count=1_000)), summarise(draw(one, count=1_000_000))
    assert validated(linear(one), few).agreement is Agreement.UNDECIDED
    assert validated(linear(one), many).agreement is Agreement.AGREES


def test_other_samples_bring_their_own_sampling_error() -> None:
    """Two sets of samples are held together with the errors of both."""
    one, two = (summarise(draw(InputQuantity(name, 0.0, 2.0))) for name in ("one", "two"))
    found = validated(one, two, digits=1)
    assert found.agreement is Agreement.AGREES
    assert found.sampling_error == pytest.approx(math.hypot(one.sampling_error, two.sampling_error))


def test_intervals_of_other_coverage_are_refused() -> None:
    """A 99 % interval beside a 95 % one says nothing."""
    one = InputQuantity("one", 0.0, 1.0)
    wrong = replace(linear(one), coverage=0.99)
    with pytest.raises(InputError, match="coverage"):
        validated(wrong, summarise(draw(one)))


def test_sampling_stops_when_its_digits_have_settled() -> None:
    """More digits take more batches, and the interval is that of the exact result."""
    even = InputQuantity("even", 0.0, 1.0, shape=Shape.RECTANGULAR)

    def model(streams: Streams, count: int) -> np.ndarray:
        return streams.take(even, count)

    coarse, fine = (sample_until(model, digits=digits) for digits in (1, 3))
    assert coarse.count < fine.count
    # Central 95 % of a rectangle of unit standard deviation: 0.95 times the root of 3.
    assert fine.high == pytest.approx(0.95 * math.sqrt(3.0), abs=fine.tolerance)
    assert fine.low == pytest.approx(-0.95 * math.sqrt(3.0), abs=fine.tolerance)


def test_what_does_not_settle_is_refused() -> None:
    """A result without a variance never settles; no number is given."""
    wild = InputQuantity("wild", 0.0, 1.0, 1.0)
    with pytest.raises(NotConverged, match="sampling in batches"):
        sample_until(lambda streams, count: streams.take(wild, count), most_batches=20)
