"""JCGM 101 and 106 beyond single numbers: closed forms, coverage, and the rule's promise."""

import math

import numpy as np
import pytest

from sleevewright.core.uncertainty.decision import Verdict, conformance_probability, decide
from sleevewright.core.uncertainty.inputs import BUDGET_COUNT, InputQuantity, Shape, draw
from sleevewright.core.uncertainty.linear import LinearBudget, budget
from sleevewright.core.uncertainty.sampled import Interval, summarise


def test_9_2_3_has_a_closed_form() -> None:
    """JCGM 101:2008 9.2.3: +-2 3^(1/2) (2 - (3/5)^(1/4)) = 3.879 for four rectangles."""
    exact = 2.0 * math.sqrt(3.0) * (2.0 - 0.6**0.25)
    inputs = [InputQuantity(f"X{i}", 0.0, 1.0, shape=Shape.RECTANGULAR) for i in range(4)]
    found = summarise(np.sum([draw(one) for one in inputs], axis=0))
    assert found.high == pytest.approx(exact, abs=4.0 * found.sampling_error)
    assert found.low == pytest.approx(-exact, abs=4.0 * found.sampling_error)
    assert found.sampling_error < 0.02


def test_9_4_gauge_block_style_square_near_zero_is_not_linear() -> None:
    """JCGM 101:2008 9.4.2.2: X1^2 + X2^2 at zero, u 0.005: estimate 50e-6, u 50e-6 (memory).

    The linear budget finds nothing at all; the shortest 95 % interval is 0 to 150e-6.
    """
    one, two = (InputQuantity(name, 0.0, 0.005) for name in ("reflection x", "reflection y"))
    found = summarise(draw(one) ** 2 + draw(two) ** 2, interval=Interval.SHORTEST)
    assert found.mean == pytest.approx(50e-6, abs=0.5e-6)
    assert found.standard == pytest.approx(50e-6, abs=0.7e-6)
    assert found.low == pytest.approx(0.0, abs=0.1e-6)
    assert found.high == pytest.approx(150e-6, abs=3e-6)
    held = LinearBudget()
    x, y = held.uncertain(one), held.uncertain(two)
    assert budget(x * x + y * y).standard == 0.0


def test_sampled_and_linear_agree_where_the_model_is_linear() -> None:
    """JCGM 101:2008 clause 8, with two significant digits: ends within 0.05 u of each other."""
    inputs = [InputQuantity(f"part {i}", 1.0, 0.1 * (i + 1)) for i in range(5)]
    held = LinearBudget()
    linear = budget(sum(held.uncertain(one) for one in inputs))
    sampled = summarise(np.sum([draw(one) for one in inputs], axis=0), quantities=inputs)
    assert abs(sampled.low - linear.low) < 0.05 * linear.standard
    assert abs(sampled.high - linear.high) < 0.05 * linear.standard
    for one, other in zip(sampled.contributors, linear.contributors, strict=True):
        assert one.name == other.name
        assert one.standard == pytest.approx(other.standard, rel=0.03)


def test_adding_an_input_changes_no_other_stream() -> None:
    """The same names draw the same numbers whatever else is drawn, and in whatever order."""
    names = [f"input {i}" for i in range(6)]
    first = {name: draw(InputQuantity(name, 0.0, 1.0), count=1_000) for name in names}
    draw(InputQuantity("one more", 0.0, 1.0), count=1_000)
    for name in reversed(names):
        assert np.array_equal(first[name], draw(InputQuantity(name, 0.0, 1.0), count=1_000))


@pytest.mark.parametrize("freedom", [3.0, 6.0, 20.0])
def test_t_inputs_cover_what_they_promise(freedom: float) -> None:
    """JCGM 101:2008 6.4.9: the mean of v + 1 normal readings with their own scatter, 95 %.

    2,000 invented sets of readings; the true value lies inside as often as stated, within
    three standard errors.
    """
    count = int(freedom) + 1
    sets = np.random.default_rng(77).standard_normal((2_000, count))
    mean, scatter = sets.mean(axis=1), sets.std(axis=1, ddof=1) / math.sqrt(count)
    unit = summarise(draw(InputQuantity("readings", 0.0, 1.0, freedom)))
    inside = (mean + unit.low * scatter <= 0.0) & (mean + unit.high * scatter >= 0.0)
    assert inside.mean() == pytest.approx(0.95, abs=3.0 * math.sqrt(0.95 * 0.05 / 2_000))


def test_guard_band_keeps_its_promise() -> None:
    """ISO 14253-1:2017 and JCGM 106:2012: what is called good conforms in 95 of 100 at least.

    Just at the edge of good the conformance probability is 95 %, at the edge of out 5 %.
    """
    limit, u = 2.6, 0.2
    for value, verdict, probability in (
        (limit + 1.645 * u + 1e-12, Verdict.GOOD, 0.95),
        (limit - 1.645 * u - 1e-12, Verdict.OUT, 0.05),
    ):
        assert decide(value, standard=u, limit=limit, side="least") is verdict
        found = conformance_probability(value, standard=u, least=limit)
        assert found == pytest.approx(probability, abs=1e-4)


def test_default_count_knows_an_interval_to_one_and_a_half_per_cent() -> None:
    """JCGM 101:2008 7.2: 100,000 samples give the ends of a normal interval to 0.015 u."""
    found = summarise(draw(InputQuantity("normal", 0.0, 1.0)))
    assert found.count == BUDGET_COUNT
    assert found.sampling_error < 0.015
