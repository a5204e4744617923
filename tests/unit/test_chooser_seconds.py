"""The seconds over the fit: the same drops everywhere, and what is said of them."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from sleevewright.core.heat.chances import drop_samples
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.wave import common_drops
from sleevewright.errors import InputError
from sleevewright.jobs.model import Job
from sleevewright.planning.chooser_seconds import (
    FOLLOWS,
    HELD,
    Reckoning,
    SecondsWave,
    seconds_wave,
)
from sleevewright.planning.drop import drop_stage
from sleevewright.planning.ledger import StageResult
from sleevewright.planning.plan import call_stage, plan
from sleevewright.planning.shop import Settings, Shop
from sleevewright.services.jobfiles import load_job
from sleevewright.services.plans import StageCache

EXAMPLES = Path(__file__).parents[2] / "examples"
QUICK = Shop(Settings(budget_samples=4_000, drop_samples=400))
KEPT = StageCache()


@cache
def job(name: str = "demo-air-175") -> Job:
    """An invented job."""
    return load_job(EXAMPLES / f"{name}.toml")


@cache
def wave(name: str = "demo-air-175", *, is_held: bool = False) -> SecondsWave:
    """Its seconds, as usual."""
    return seconds_wave(job(name), QUICK, made=Reckoning(is_held=is_held), run=KEPT)


@pytest.mark.parametrize("name", ["demo-air-175", "demo-water", "demo-thin-iron"])
def test_at_the_fit_of_today_the_seconds_are_those_of_the_plan(name: str) -> None:
    """The same drops give the plan's own quantiles, to the last bits."""
    whole = plan(job(name), QUICK)
    fit = whole.answer("fit.cold").value
    assert isinstance(fit, float)
    for is_held in (False, True):
        found = seconds_wave(
            job(name), QUICK, (fit,), made=Reckoning(400, is_held=is_held), run=KEPT
        )
        for line, identity in ((found.low, "drop.free_p05"), (found.middle, "drop.expected")):
            assert line[0] == pytest.approx(whole.answer(identity).value, rel=1e-9)


def test_rows_are_the_drops_of_each_case_alone() -> None:
    """Stepping several fits together changes no drop of any of them."""
    case = drop_case()
    cases = [replace(case, interference=case.interference + more) for more in (0.0, 2e-5)]
    together = common_drops(cases, count=50, seed=3)
    assert together.shape == (2, 50)
    for row, one in zip(together, cases, strict=True):
        alone = drop_samples(one, count=50, seed=3).seconds
        assert row == pytest.approx(alone, rel=1e-12)


def drop_case() -> DropCase:
    """The drop of the demonstration, with the samples that the plan rests on."""
    seen: list[StageResult] = []

    def noted(stage: object, *rest: object) -> StageResult:
        result = call_stage(stage, *rest)  # type: ignore[arg-type] # handed on as it came
        if stage is drop_stage:
            seen.append(result)
        return result

    plan(job(), QUICK, run=noted)
    entry = seen[0].find("drop.case")
    assert entry is not None
    assert isinstance(entry.samples, DropCase)
    return entry.samples


def test_no_case_is_refused() -> None:
    """There is nothing to step."""
    with pytest.raises(InputError, match="cases"):
        common_drops([], count=10)


@pytest.mark.parametrize("is_held", [False, True])
@pytest.mark.parametrize("name", ["demo-air-175", "demo-water", "demo-thin-iron"])
def test_a_tighter_fit_leaves_fewer_seconds(name: str, *, is_held: bool) -> None:
    """All three lines fall with the fit, where the heat follows and where it is held."""
    found = wave(name, is_held=is_held)
    for line in (found.low, found.middle, found.high):
        known = np.array(line)[~np.isnan(line)]
        assert known.size >= 10
        assert (np.diff(known) <= 1e-9).all()
    assert found.low[-1] < found.low[20]


def test_the_heat_is_said_and_matters() -> None:
    """Held as hot as today's fit needs, a tighter fit loses far more of its seconds."""
    follows, held = wave("demo-water"), wave("demo-water", is_held=True)
    assert (follows.heat, held.heat) == (FOLLOWS, HELD)
    assert held.low[-1] < 0.5 * follows.low[-1]
    at = next(k for k, one in enumerate(held.interferences) if one > 59e-6)
    assert held.low[at] > 1.5 * follows.low[at]


def test_what_is_not_known_is_said() -> None:
    """The error of the low line stands beside it, and that no measured drop proves it."""
    found = wave()
    errors = np.array(found.low_error)
    assert (errors[~np.isnan(errors)] > 0.0).all()
    assert "No measured drop" in found.cautions[0].text
    assert len(found.reckoned) >= 9
    assert found.drops >= 200


@pytest.mark.slow
def test_the_error_of_the_low_line_is_what_other_draws_show() -> None:
    """Twelve seeds scatter by what one of them states, within a factor of 2.2.

    Chi-square at 11 degrees of freedom lets the scatter be 0.49 to 1.56 of the truth, 99
    times in 100; the rest is left to the statement.
    """
    stated, lows = [], []
    for seed in range(12):
        shop = replace(QUICK, settings=replace(QUICK.settings, seed=seed))
        found = seconds_wave(job(), shop, (60e-6, 120e-6), made=Reckoning(fits=2))
        stated.append(found.low_error)
        lows.append(found.low)
    scatter = np.std(lows, axis=0, ddof=1)
    told = np.mean(stated, axis=0)
    assert (scatter < 2.2 * told).all()
    assert (scatter > told / 2.2).all()


@pytest.mark.parametrize("name", ["demo-air-175", "demo-thin-iron"])
def test_between_the_fits_lies_what_drops_at_every_fit_say(name: str) -> None:
    """The low line strays from the same drops at all 41 fits by one sampling error at most."""
    found = wave(name)
    every = seconds_wave(job(name), QUICK, made=Reckoning(fits=41), run=KEPT)
    apart = np.abs(np.subtract(found.low, every.low))
    assert (apart <= 1.1 * np.array(every.low_error)).all()


def test_beyond_the_end_of_the_forecast_there_is_no_number() -> None:
    """A loose fit that never grips within the forecast has nan, never the horizon."""
    found = wave()
    assert np.isnan(found.high[0])
    assert max(found.low) < found.horizon


def test_what_is_missing_is_named() -> None:
    """Without the length of the sleeve there are no seconds, and it is asked for."""
    told = job()
    found = seconds_wave(replace(told, sleeve=replace(told.sleeve, length=None)), QUICK)
    assert found.low == ()
    assert any("length" in one for one in found.needs)


def test_an_assumed_ring_is_said_where_it_is_the_mass() -> None:
    """A casting with neither weight nor outside takes its mass from the assumed band."""
    told = job()
    bare = replace(
        told.casting, outside_diameter=None, outside_low=None, outside_high=None, mass=None
    )
    found = seconds_wave(replace(told, casting=bare), QUICK)
    assert any("times" in one for one in found.assumptions)
    weighed = replace(bare, mass=job("demo-water").casting.mass or told.casting.mass)
    assert weighed.mass is not None
    other = seconds_wave(replace(told, casting=weighed), QUICK)
    assert not any("times" in one for one in other.assumptions)
