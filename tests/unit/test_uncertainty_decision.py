"""Verdicts with guard bands, and what would settle them."""

import math

import pytest

from sleevewright.core.uncertainty.decision import (
    GUARD_FACTOR,
    MOST_READINGS,
    Settle,
    Verdict,
    conformance_probability,
    decide,
    decide_bounds,
    decide_chance,
    decide_within,
    guard_band,
    readings_to_settle,
)
from sleevewright.errors import InputError
from sleevewright.planning.answers import Verdict as PlannedVerdict


def test_words_are_those_of_a_plan() -> None:
    """Core and plan say the same three words."""
    assert [one.value for one in Verdict] == [one.value for one in PlannedVerdict]


@pytest.mark.parametrize(
    ("value", "word"),
    [
        (10.0, "good"),
        (8.36, "good"),
        (8.34, "too close to call"),
        (1.66, "too close to call"),
        (1.64, "out"),
        (-3.0, "out"),
    ],
)
def test_least_limit_with_guard_band(value: float, word: str) -> None:
    """Limit 5, u 2.04: the guard band reaches from 1.64 to 8.36."""
    assert decide(value, standard=2.04, limit=5.0, side="least").value == word


def test_most_limit_mirrors_the_least() -> None:
    """What is good above a least limit is out above a most limit."""
    assert decide(9.0, standard=1.0, limit=5.0, side="most") is Verdict.OUT
    assert decide(1.0, standard=1.0, limit=5.0, side="most") is Verdict.GOOD
    assert decide(5.5, standard=1.0, limit=5.0, side="most") is Verdict.TOO_CLOSE


def test_exact_value_on_the_limit_is_good() -> None:
    """Without doubt there is no band, and a limit belongs to what is allowed."""
    assert decide(5.0, standard=0.0, limit=5.0, side="least") is Verdict.GOOD
    assert decide(4.999, standard=0.0, limit=5.0, side="least") is Verdict.OUT


def test_nothing_is_good_between_limits_closer_than_the_bands() -> None:
    """Even the middle cannot be called."""
    assert decide_within(0.0, standard=1.0, least=-1.0, most=1.0) is Verdict.TOO_CLOSE


def test_bounds_that_are_not_symmetric() -> None:
    """Each bound speaks for itself."""
    assert decide_bounds(0.0, 2.0, most=3.0) is Verdict.GOOD
    assert decide_bounds(0.0, 4.0, most=3.0) is Verdict.TOO_CLOSE
    assert decide_bounds(3.5, 9.0, most=3.0) is Verdict.OUT


@pytest.mark.parametrize(
    ("chance", "word"),
    [
        (0.0, "good"),
        (0.0099, "good"),
        (0.01, "too close to call"),
        (0.05, "too close to call"),
        (0.051, "out"),
        (1.0, "out"),
    ],
)
def test_chance_between_one_and_five_per_cent_is_too_close(chance: float, word: str) -> None:
    """Good below 1 %, out above 5 %."""
    assert decide_chance(chance, good_below=0.01, out_above=0.05).value == word


def test_guard_factor_is_the_normal_one() -> None:
    """The rounded factor agrees with the exact one to its digits."""
    assert guard_band(standard=1.0) == pytest.approx(GUARD_FACTOR, abs=5e-4)


def test_conformance_with_few_degrees_of_freedom_is_less_certain() -> None:
    """Student's t has heavier tails; t_0.95 of 5 degrees of freedom is 2.015."""
    few = conformance_probability(2.015, standard=1.0, least=0.0, degrees_of_freedom=5.0)
    assert few == pytest.approx(0.95, abs=2e-4)
    assert few < conformance_probability(2.015, standard=1.0, least=0.0)


def test_conformance_between_two_limits() -> None:
    """One standard uncertainty either way holds 68.27 %."""
    found = conformance_probability(0.0, standard=1.0, least=-1.0, most=1.0)
    assert found == pytest.approx(0.6827, abs=5e-5)


def test_more_readings_settle_what_scatter_causes() -> None:
    """The number advised makes the verdict good, one less does not."""
    rest, scatter, now, value = 0.5, 3.0, 4, 2.0
    found = readings_to_settle(
        value,
        standard=math.hypot(rest, scatter / math.sqrt(now)),
        repeat_standard=scatter / math.sqrt(now),
        readings=now,
        least=0.0,
    )
    assert found.settle is Settle.READINGS

    def verdict_with(readings: int) -> Verdict:
        standard = math.hypot(rest, scatter / math.sqrt(readings))
        return decide(value, standard=standard, limit=0.0, side="least")

    assert verdict_with(now + found.more_readings) is Verdict.GOOD
    assert verdict_with(now + found.more_readings - 1) is Verdict.TOO_CLOSE


def test_a_better_gauge_where_readings_do_not_help() -> None:
    """A setting error does not average out; the wanted uncertainty is stated."""
    found = readings_to_settle(
        1.0, standard=1.0, repeat_standard=0.1, readings=8, least=0.0, guard=1.645
    )
    assert found.settle is Settle.GAUGE
    assert found.standard_wanted == pytest.approx(1.0 / 1.645)


def test_a_better_gauge_where_readings_would_be_too_many() -> None:
    """More than the most that anybody would take is no advice."""
    found = readings_to_settle(0.1, standard=1.0, repeat_standard=1.0, readings=4, least=0.0)
    assert MOST_READINGS < 4 * (1.645 / 0.1) ** 2
    assert found.settle is Settle.GAUGE


def test_nothing_more_where_it_is_settled() -> None:
    """A verdict that stands asks for nothing."""
    found = readings_to_settle(9.0, standard=1.0, repeat_standard=1.0, readings=4, least=0.0)
    assert (found.settle, found.more_readings) == (Settle.NOTHING, 0)


def test_refusals_of_the_rule() -> None:
    """No limit, crossed limits, an unknown side and impossible chances are refused."""
    with pytest.raises(InputError, match="a least limit, a most limit or both"):
        decide_within(1.0, standard=1.0)
    with pytest.raises(InputError, match="no more than the most limit"):
        decide_within(1.0, standard=1.0, least=2.0, most=1.0)
    with pytest.raises(InputError, match="least or most"):
        decide(1.0, standard=1.0, limit=0.0, side="below")
    with pytest.raises(InputError, match="probability"):
        decide_chance(1.2, good_below=0.01, out_above=0.05)
    with pytest.raises(InputError, match="good below"):
        decide_chance(0.2, good_below=0.1, out_above=0.05)
    with pytest.raises(InputError, match="more than zero"):
        conformance_probability(1.0, standard=0.0, least=0.0)
    with pytest.raises(InputError, match="readings"):
        readings_to_settle(1.0, standard=1.0, repeat_standard=1.0, readings=0, least=0.0)
    with pytest.raises(InputError, match="probability"):
        guard_band(standard=1.0, probability=0.3)
