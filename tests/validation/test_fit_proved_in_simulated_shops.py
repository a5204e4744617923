"""The proof as the plan makes it, in simulated shops: true fits, castings, settings, readings."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from scipy import stats

from benches import EXAMPLES
from sleevewright.core.fits.closeratio import close_up_ratio
from sleevewright.core.fits.posterior import FitPosterior
from sleevewright.core.fits.rings import RingPair
from sleevewright.core.materials import default
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry, Grid, Part
from sleevewright.planning.answers import Plan
from sleevewright.planning.plan import plan
from sleevewright.planning.proofing import Frame, Gauged
from sleevewright.planning.provable import BothTimes
from sleevewright.planning.proved import ToProve, proof
from sleevewright.planning.shop import Settings, Shop

STEP = 2.54e-6  # of the dial
SCATTER = default("reading_repeatability").value
SETTING = default("gauge_setting").value / 1.96
DEPTHS = (0.02, 0.045, 0.08)
TURNS = tuple(0.25 * math.pi * k for k in range(4))


def gauged(feature: str, size: float, rng: np.random.Generator) -> Gauged:
    """A set as a bench reads it: the gauge set anew, scatter, whole steps of the dial."""
    off = SETTING * rng.standard_normal()
    seen = size + off + SCATTER * rng.standard_normal((len(DEPTHS), len(TURNS)))
    rounded = np.round(seen / STEP) * STEP
    return Gauged(
        Grid(
            feature,
            instrument="gauge",
            stations=tuple(Entry(one, "") for one in DEPTHS),
            directions=tuple(Entry(one, "") for one in TURNS),
            readings=tuple(tuple(Entry(float(one), "") for one in row) for row in rounded),
        )
    )


def drawn(made: Plan, identity: str, rng: np.random.Generator) -> float:
    """The true value of an answer, by the doubt that the plan has of it."""
    answer = made.answer(identity)
    value = float(answer.value)  # type: ignore[arg-type]  # a number
    if answer.doubt is None:
        return value
    if answer.doubt.shape == "rectangular":
        return value + answer.doubt.standard * math.sqrt(3.0) * rng.uniform(-1.0, 1.0)
    return value + answer.doubt.standard * rng.standard_normal()


def held_by(made: Plan, rng: np.random.Generator) -> float:
    """Where the true fit of one shop lies in what its proof says: a share from 0 to 1."""
    before = float(made.answer("sleeve.id").value)  # type: ignore[arg-type]  # a size
    named = ("modulus", "poisson")
    constants = {
        f"{part}_{name}": drawn(made, f"{part}.{name}", rng)
        for part in ("casting", "sleeve")
        for name in named
    }
    pair = RingPair(
        interface_diameter=float(made.answer("sleeve.od").value),  # type: ignore[arg-type]  # a size
        inside_diameter=before,
        outside_diameter=drawn(made, "casting.outside_diameter", rng),
        **constants,
    )
    ratio = float(close_up_ratio(pair=pair, opening=float(rng.uniform(0.02, 0.05))))
    true = drawn(made, "fit.as_cut", rng)
    both = BothTimes(
        gauged("sleeve-id", before, rng), gauged("cooled-bore", before - ratio * true, rng)
    )
    stage = proof(Frame(made), ToProve(both, Part("grey-iron")))
    found = next(one.value for one in stage.answers if one.id == "cool.posterior")
    assert isinstance(found, FitPosterior)
    return found.below(true)


@pytest.fixture(scope="module")
def made() -> Plan:
    """The plan of the worked job, on few samples."""
    text = Path(EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8")
    shop = Shop(Settings(budget_samples=4000, drop_samples=100))
    return plan(read_job(text, name="demo"), shop)


def shares(made: Plan, count: int, seed: int) -> np.ndarray:
    """Where the true fit lies, shop by shop."""
    rng = np.random.default_rng(seed)
    return np.array([held_by(made, rng) for _ in range(count)])


def test_a_few_simulated_shops_are_held(made: Plan) -> None:
    """Twenty shops: the 95 % intervals hold, by the exact binomial at 1 in 1,000."""
    found = shares(made, 20, 20_261_130)
    held = int(((found > 0.025) & (found < 0.975)).sum())
    assert stats.binomtest(held, 20, 0.95).pvalue > 1e-3


@pytest.mark.slow
def test_simulated_shops_are_held_as_often_as_stated(made: Plan) -> None:
    """400 shops: coverage by the exact binomial, and shares that are spread evenly."""
    found = shares(made, 400, 20_261_131)
    held = int(((found > 0.025) & (found < 0.975)).sum())
    assert stats.binomtest(held, 400, 0.95).pvalue > 1e-3
    assert stats.kstest(found, "uniform").pvalue > 1e-3
