"""What passes of a hone teach, against other roads: a grid, one joint normal, simulated hones.

Sources: Gelman and others, Bayesian Data Analysis, 3rd edition, 2013, section 3.3 (normal data,
both parameters unknown); West and Harrison, Bayesian Forecasting and Dynamic Models, 1997,
sections 2.4 and 4.5 (discount).  Rates of hones are common practice.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import trapezoid
from scipy.stats import norm
from scipy.stats import t as student

from sleevewright.core.cutting.hone_strokes import cutting_rate, strokes_for
from sleevewright.core.cutting.honing import (
    MEMORY,
    HoneRate,
    Passes,
    falling_rate,
    learned_rate,
    next_scatter,
    usual_rate,
)

Array = NDArray[np.float64]
BEFORE = usual_rate(rate=1e-6, low=0.4e-6, high=2.5e-6, scatter=0.25)
READING = 3.5e-6
TOLD = Passes(np.array([8.0, 15.0, 20.0, 12.0]), np.array([9e-6, 21e-6, 23e-6, 17e-6]))
BORES = 1000


def own_weights(passes: Passes) -> Array:
    """How much each pass counts: a pass that is too short for the gauge for less."""
    return passes.strokes**2 / (passes.strokes**2 + (READING / BEFORE.scatter) ** 2)


def test_the_posterior_is_that_of_a_grid() -> None:
    """Mean, and the density of the next rate, by summing over rate and scatter: to 0.2 %."""
    rates, weights = TOLD.taken / TOLD.strokes, own_weights(TOLD)
    mean = np.linspace(-4.0, 6.0, 1601) * 1e-6
    scatter = np.geomspace(0.02, 8.0, 900) * 1e-6
    m, s = np.meshgrid(mean, scatter, indexing="ij")
    log = -(BEFORE.freedom + 1.0) * np.log(s) - BEFORE.freedom * BEFORE.scatter**2 / (2 * s**2)
    log += norm.logpdf(m, BEFORE.mean, s / np.sqrt(BEFORE.weight))
    for rate, weight in zip(rates, weights, strict=True):
        log += norm.logpdf(rate, m, s / np.sqrt(weight))
    density = np.exp(log - log.max())
    density /= trapezoid(trapezoid(density, scatter, axis=1), mean)
    found = learned_rate(BEFORE, passes=TOLD, reading=READING, memory=1.0)
    by_grid = trapezoid(trapezoid(density * m, scatter, axis=1), mean)
    assert found.mean == pytest.approx(by_grid, rel=2e-3)
    scale = next_scatter(found, memory=1.0)
    for at in (0.6e-6, 1.2e-6, 2.0e-6):
        nexts = trapezoid(trapezoid(density * norm.pdf(at, m, s), scatter, axis=1), mean)
        assert student.pdf(at, found.freedom, found.mean, scale) == pytest.approx(nexts, rel=2e-3)


def joint(passes: Passes, memory: float) -> HoneRate:
    """The same rate from one joint normal of all passes: rates that wander, then conditioned."""
    weights, count = own_weights(passes), passes.strokes.size
    rates = passes.taken / passes.strokes
    spread = np.zeros((count, count))
    variance, kappa = 1.0 / BEFORE.weight, BEFORE.weight
    for k in range(count):
        if k:
            variance += 1.0 / (memory * kappa) - 1.0 / kappa
            kappa *= memory
        spread[k, k:] = spread[k:, k] = variance
        kappa += weights[k]
    whole = spread + np.diag(1.0 / weights)
    off, last = rates - BEFORE.mean, spread[-1]
    mean = BEFORE.mean + last @ np.linalg.solve(whole, off)
    left = spread[-1, -1] - last @ np.linalg.solve(whole, last)
    freedom = BEFORE.freedom + count
    squares = BEFORE.freedom * BEFORE.scatter**2 + off @ np.linalg.solve(whole, off)
    return HoneRate(float(mean), float(np.sqrt(squares / freedom)), float(1.0 / left), freedom)


@pytest.mark.parametrize("memory", [1.0, MEMORY, 0.5])
def test_passes_one_by_one_are_all_passes_at_once(memory: float) -> None:
    """Mean, scatter, weight and freedom are those of one joint normal of all rates."""
    found = learned_rate(BEFORE, passes=TOLD, reading=READING, memory=memory)
    other = joint(TOLD, memory)
    for name in ("mean", "scatter", "weight", "freedom"):
        assert getattr(found, name) == pytest.approx(getattr(other, name), rel=1e-9), name


def honed(passes: int, *, fall: float = 1.0, seed: int = 5) -> list[tuple[Passes, float]]:
    """Hones as they may be: passes told, and the rate of the next one."""
    draws = np.random.default_rng(seed)
    spread = np.log(2.5 / 0.4) / (2.0 * 1.645)
    found = []
    for _ in range(BORES):
        mean = 1e-6 * np.exp(draws.normal(0.0, spread))
        rates = mean * fall ** np.arange(passes + 1.0)
        rates *= np.abs(1.0 + 0.25 * draws.normal(size=passes + 1))
        strokes = draws.integers(5, 25, passes).astype(np.float64)
        taken = rates[:passes] * strokes + draws.normal(0.0, READING, passes)
        found.append((Passes(strokes, np.maximum(taken, 0.0)), float(rates[-1])))
    return found


def quantile(after: HoneRate, share: float) -> float:
    """A quantile of the next rate, as strokes are reckoned with it."""
    drawn = after.mean + student.ppf(share, after.freedom) * next_scatter(after)
    return float(cutting_rate(drawn=float(drawn), usual=after.mean))


@pytest.mark.parametrize("passes", [1, 2, 4])
def test_strokes_are_within_their_band_as_often_as_is_said(passes: int) -> None:
    """Of 1,000 bores the strokes that it took are within P5 to P95 in 85 to 95 %."""
    inside = over = 0
    for told, rate in honed(passes):
        after = learned_rate(BEFORE, passes=told, reading=READING)
        took = strokes_for(stock=20e-6, rate=rate)
        few, many = (strokes_for(stock=20e-6, rate=quantile(after, one)) for one in (0.95, 0.05))
        inside += few <= took <= many
        made = np.floor(strokes_for(stock=25e-6, rate=quantile(after, 0.98)))
        over += made * rate > 25e-6
    assert 0.85 <= inside / BORES <= 0.95
    # 2 % is claimed: of 1,000 bores 35 are passed by chance in fewer than one run in a thousand
    assert over <= 35


def test_a_steady_rate_is_rarely_said_to_fall() -> None:
    """Of six passes at one rate 7 in 100 at most; a quarter less each pass, 4 in 10 at least."""
    called = {}
    for fall in (1.0, 0.75):
        told = [passes for passes, _ in honed(6, fall=fall)]
        falls = [falling_rate(BEFORE, passes=one, reading=READING) for one in told]
        called[fall] = sum(one.chance > 0.95 and one.left < 0.8 for one in falls) / BORES
    assert called[1.0] < 0.07
    assert called[0.75] > 0.4
