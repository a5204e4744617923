"""The curves of the chooser by other roads: the job planned anew, and squares added.

First road: a job whose parent bore is still to be cut is told another wanted fit and planned
anew.  Second road: the law of propagation of JCGM 100:2008, clause 5, on uncertain numbers,
with the normal quantile for P5 and P95; it is first order and knows no shape of an input, so
it is held against nearly linear answers only.
"""

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from scipy.special import ndtri

from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.chooser import SAMPLES, Chooser, chooser
from sleevewright.planning.chooser_ground import ground
from sleevewright.planning.ledger import Ledger
from sleevewright.planning.linear import linear_budget
from sleevewright.planning.plan import call_stage
from sleevewright.planning.shop import Settings, Shop
from sleevewright.services.jobfiles import load_job

WATER = Path(__file__).parents[2] / "examples" / "demo-water.toml"
QUICK = Shop(Settings(budget_samples=SAMPLES, drop_samples=200))
FITS = (45e-6, 90e-6, 150e-6)
NEARLY_LINEAR = (
    "fit.running", "fit.hard", "heat.casting", "heat.slip_at_limit", "fit.grip", "cool.lift",
)  # fmt: skip


@cache
def uncut() -> Job:
    """An invented job whose parent bore is still to be cut."""
    return load_job(WATER)


@cache
def picture() -> Chooser:
    """Its curves at three fits."""
    return chooser(uncut(), QUICK, interferences=FITS)


@cache
def replanned(fit: float) -> Ledger:
    """The same job, told another wanted fit and planned anew."""
    wanted = Entry(fit, "as told", "chosen")
    told = replace(uncut(), choice=replace(uncut().choice, wanted=wanted))
    base = ground(told, QUICK, call_stage)
    return Ledger(*base.results, count=SAMPLES, seed=QUICK.settings.seed)


def test_a_curve_is_the_job_planned_anew_with_that_fit() -> None:
    """All answers at three fits: central values and bands equal those of three plans."""
    compared = 0
    for at, fit in enumerate(FITS):
        ledger = replanned(fit)
        for curve in picture().curves:
            assert curve.central[at] == pytest.approx(ledger.value(curve.id), rel=1e-9, abs=1e-15)
            samples = ledger.samples(curve.id)
            if curve.id == "fit.below_least" or not isinstance(samples, np.ndarray):
                continue
            ranked = np.sort(samples)
            wanted = [ranked[int(share * SAMPLES)] for share in (0.05, 0.50, 0.95)]
            found = [line[at] for line in (curve.low, curve.middle, curve.high)]
            assert found == pytest.approx(wanted, rel=1e-9)
            compared += 1
    assert compared == 3 * 15


@pytest.mark.parametrize("identity", NEARLY_LINEAR)
@pytest.mark.parametrize("at", range(3))
def test_a_band_is_what_adding_squares_gives(identity: str, at: int) -> None:
    """JCGM 100 clause 5: P5 and P95 lie 1.645 u from the value, within 6 % of the band."""
    curve = picture().curve(identity)
    assert curve is not None
    exact = linear_budget(replanned(FITS[at]), identity)
    half = float(ndtri(0.95)) * exact.standard
    within = 0.06 * 2.0 * half
    assert curve.low[at] == pytest.approx(exact.value - half, abs=within)
    assert curve.high[at] == pytest.approx(exact.value + half, abs=within)
    assert curve.middle[at] == pytest.approx(exact.value, abs=within)


def test_the_chance_of_less_than_the_least_is_that_of_a_normal_law() -> None:
    """JCGM 106:2012 clause 7: the normal law gives the chance, within its counting error."""
    fits = tuple(np.linspace(50e-6, 75e-6, 11))
    curve = chooser(uncut(), QUICK, interferences=fits).curve("fit.below_least")
    assert curve is not None
    exact = linear_budget(replanned(FITS[1]), "fit.as_cut")
    for fit, chance in zip(fits, curve.middle, strict=True):
        wanted = 1.0 - normal_below((fit - picture().least) / exact.standard)
        counting = (wanted * (1.0 - wanted) / SAMPLES) ** 0.5
        assert chance == pytest.approx(wanted, abs=4.0 * counting + 2e-4)


def normal_below(deviate: float) -> float:
    """Normal probability below a deviate, by the error function of the standard library."""
    return 0.5 * (1.0 + math.erf(deviate / math.sqrt(2.0)))
