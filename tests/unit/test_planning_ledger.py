"""The ledger: facts in, answers out, missing stays missing, shared doubts cancel."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sleevewright.core.allowances import fit_as_cut, size_limit
from sleevewright.core.fits.interference import interference
from sleevewright.core.uncertainty.linear import LinearBudget, budget
from sleevewright.core.uncertainty.sampled import chance_below
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.ledger import Given, Ledger, Line

COUNT, SEED = 40_000, 11


def line(identity: str, quantity: Quantity = Quantity.SIZE) -> Line:
    """A line whose words are its id."""
    return Line(identity, identity, quantity)


def fact(ledger: Ledger, identity: str, value: float | None, standard: float = 0.0) -> None:
    """Enter a typed fact."""
    ledger.fact(line(identity), Given(value, Kind.TYPED, standard=standard))


@pytest.fixture
def ledger() -> Ledger:
    """An empty ledger with few samples."""
    return Ledger(count=COUNT, seed=SEED)


def test_missing_fact_makes_the_answer_missing_and_named(ledger: Ledger) -> None:
    """An answer without one of its inputs has no value and says what to give."""
    fact(ledger, "od", None)
    fact(ledger, "bore", 0.06)
    entry = ledger.compute(line("fit"), interference, outside_diameter="od", bore="bore")
    assert entry.answer.value is None
    assert entry.answer.needs == ("od",)
    assert entry.answer.basis is not None


def test_fact_without_doubt_gives_an_answer_without_doubt(ledger: Ledger) -> None:
    """Nothing in doubt, no doubt shown."""
    fact(ledger, "od", 0.0601)
    fact(ledger, "bore", 0.06)
    entry = ledger.compute(line("fit"), interference, outside_diameter="od", bore="bore")
    assert entry.answer.doubt is None
    assert entry.point == pytest.approx(1.0e-4, abs=1e-12)


def test_doubt_is_the_root_sum_of_squares_of_independent_inputs(ledger: Ledger) -> None:
    """Two independent doubts add as squares, and both are named as contributors."""
    fact(ledger, "od", 0.0601, 3.0e-6)
    fact(ledger, "bore", 0.06, 4.0e-6)
    entry = ledger.compute(line("fit"), interference, outside_diameter="od", bore="bore")
    doubt = entry.answer.doubt
    assert doubt is not None
    assert doubt.standard == pytest.approx(5.0e-6, rel=0.02)
    assert [one.input for one in doubt.contributors] == ["bore", "od"]
    assert doubt.contributors[0].standard == pytest.approx(4.0e-6, rel=0.03)


def test_error_that_two_sizes_share_cancels_in_the_fit(ledger: Ledger) -> None:
    """A setting error under one name is in both sizes and not in their difference."""
    fact(ledger, "setting", 0.0, 5.0e-6)
    fact(ledger, "od", 0.0601, 1.0e-6)
    fact(ledger, "bore", 0.06, 1.0e-6)
    for part in ("od", "bore"):
        ledger.compute(line(f"{part}.true"), size_limit, size=part, allowance="setting")
    entry = ledger.compute(line("fit"), interference, outside_diameter="od.true", bore="bore.true")
    doubt = entry.answer.doubt
    assert doubt is not None
    assert doubt.standard == pytest.approx(math.sqrt(2.0) * 1.0e-6, rel=0.02)


def test_sampled_doubt_agrees_with_the_linear_budget(ledger: Ledger) -> None:
    """The sampled road and the linear road give one standard uncertainty."""
    fact(ledger, "od", 0.0601, 3.0e-6)
    fact(ledger, "bore", 0.06, 4.0e-6)
    entry = ledger.compute(line("fit"), interference, outside_diameter="od", bore="bore")
    linear = LinearBudget()
    roots = entry.roots
    number = interference(
        outside_diameter=linear.uncertain(roots["od"]), bore=linear.uncertain(roots["bore"])
    )
    doubt = entry.answer.doubt
    assert doubt is not None
    assert doubt.standard == pytest.approx(budget(number).standard, rel=0.02)


def test_statistic_takes_samples_and_gives_one_number(ledger: Ledger) -> None:
    """A chance is counted from the samples and has no samples of its own."""
    fact(ledger, "chosen", 8.0e-5)
    fact(ledger, "miss", 0.0, 1.0e-5)
    fact(ledger, "least", 8.0e-5)
    ledger.compute(line("fit"), fit_as_cut, chosen="chosen", miss="miss")
    entry = ledger.compute(
        line("chance", Quantity.PROBABILITY), chance_below, samples="fit", limit="least"
    )
    assert entry.point == pytest.approx(0.5, abs=0.01)
    assert entry.answer.doubt is None
    assert entry.samples == entry.point


def test_second_ledger_sees_the_entries_of_the_first(ledger: Ledger) -> None:
    """A stage stands on the results of the stages before it and hands on only its own."""
    fact(ledger, "od", 0.0601, 3.0e-6)
    second = Ledger(ledger.result(), count=COUNT, seed=SEED)
    fact(second, "bore", 0.06)
    second.compute(line("fit"), interference, outside_diameter="od", bore="bore")
    assert [one.answer.id for one in second.result().entries] == ["bore", "fit"]
    samples = second.samples("fit")
    assert isinstance(samples, np.ndarray)
    assert samples.std() == pytest.approx(3.0e-6, rel=0.02)


def test_wrong_id_is_a_mistake_of_the_stage(ledger: Ledger) -> None:
    """An id that nobody entered raises at once, so that a stage cannot compute from air."""
    with pytest.raises(KeyError):
        ledger.compute(line("fit"), interference, outside_diameter="od", bore="bore")
