"""Risks of a verdict, each along two roads or against a printed table.

JCGM 106:2012 clauses 7 and 9; JCGM 100:2008 table G.2; ISO 14253-1:2017.
"""

import math

import numpy as np
import pytest
from scipy.integrate import dblquad
from scipy.stats import multivariate_normal, norm
from scipy.stats import t as student

from sleevewright.core.uncertainty.risk import (
    Limits,
    Process,
    chance_out,
    global_risk,
    guard_factor,
)

# Resistors of 1500 ohm within 0.2 ohm; spread 0.12 and doubt 0.04 ohm (JCGM 106:2012 clause 9,
# inputs from memory; what is asserted below rests on two roads and not on a printed result).
RESISTORS = Process(1500.0, 0.12)
WITHIN = Limits(1499.8, 1500.2)


def by_bivariate_normal(
    process: Process, standard: float, limits: tuple[float, float], guard: float
) -> tuple[float, float]:
    """Both global risks from the joint law of true size and reading, rectangle by rectangle."""
    read = math.hypot(process.standard, standard)
    correlation = process.standard / read
    both = multivariate_normal([0.0, 0.0], [[1.0, correlation], [correlation, 1.0]], abseps=1e-10)

    def joint(true: float, measured: float) -> float:
        return float(both.cdf([true, measured]))

    low, high = ((one - process.mean) / process.standard for one in limits)
    below, above = (
        (one - process.mean) / read
        for one in (limits[0] + guard * standard, limits[1] - guard * standard)
    )
    good = joint(high, above) - joint(low, above) - joint(high, below) + joint(low, below)
    passed = norm.cdf(above) - norm.cdf(below)
    return passed - good, norm.cdf(high) - norm.cdf(low) - good


@pytest.mark.parametrize("guard", [0.0, 1.0, 1.645, 2.0])
def test_global_risks_agree_with_the_bivariate_normal(guard: float) -> None:
    """JCGM 106:2012, 9.5: size and reading are jointly normal; scipy's law is the other road."""
    found = global_risk(RESISTORS, standard=0.04, limits=WITHIN, guard=guard)
    consumer, producer = by_bivariate_normal(RESISTORS, 0.04, (1499.8, 1500.2), guard)
    assert found.consumer == pytest.approx(consumer, abs=2e-7)
    assert found.producer == pytest.approx(producer, abs=2e-7)
    assert found.out == pytest.approx(2.0 * norm.cdf(-0.2 / 0.12), abs=1e-12)


def test_global_consumers_risk_agrees_with_a_double_integral() -> None:
    """JCGM 106:2012, 9.5.1: the integral over size and reading, by scipy's quadrature."""
    inside = (-1.0 + 1.2 * 0.3, 1.0 - 1.2 * 0.3)

    def density(read: float, true: float) -> float:
        return float(norm.pdf(true, 0.4, 0.5) * norm.pdf(read, true, 0.3))

    out = sum(
        dblquad(density, low, high, *inside, epsabs=1e-11)[0]
        for low, high in ((-4.0, -1.0), (1.0, 5.0))
    )
    found = global_risk(Process(0.4, 0.5), standard=0.3, limits=Limits(-1.0, 1.0), guard=1.2)
    assert found.consumer == pytest.approx(out, abs=1e-9)


def test_global_risks_of_one_side_agree_with_counting() -> None:
    """A least limit alone: four million made and measured parts, within four standard errors."""
    rng = np.random.default_rng(106)
    true = rng.normal(1.0, 1.0, 4_000_000)
    read = true + rng.normal(0.0, 0.5, true.size)
    found = global_risk(Process(1.0, 1.0), standard=0.5, limits=Limits(least=0.0), guard=1.0)
    for share, counted in (
        (found.consumer, np.mean((true < 0.0) & (read >= 0.5))),
        (found.producer, np.mean((true >= 0.0) & (read < 0.5))),
        (found.passed, np.mean(read >= 0.5)),
    ):
        assert share == pytest.approx(counted, abs=4.0 * math.sqrt(share / true.size))


@pytest.mark.parametrize("ratio", [1e-3, 1e-2, 30.0])
def test_very_sharp_and_very_blunt_gauges_are_still_integrated(ratio: float) -> None:
    """The step at a limit is followed, however narrow: the bivariate normal says the same."""
    limits = Limits(-1.3, 2.1)
    found = global_risk(Process(0.0, 1.0), standard=ratio, limits=limits)
    consumer, producer = by_bivariate_normal(Process(0.0, 1.0), ratio, (-1.3, 2.1), 0.0)
    assert found.consumer == pytest.approx(consumer, abs=1e-6)
    assert found.producer == pytest.approx(producer, abs=1e-6)


def test_the_diode_of_clause_7_is_out_with_8_per_cent() -> None:
    """JCGM 106:2012, clause 7: conformance probability 0.92, so 0.08 that it is out."""
    assert chance_out(-5.47, standard=0.05, most=-5.40) == pytest.approx(0.08, abs=0.005)


@pytest.mark.parametrize(
    ("freedom", "printed"),
    [(1, 6.31), (2, 2.92), (3, 2.35), (5, 2.02), (10, 1.81), (20, 1.72), (50, 1.68)],
)
def test_guard_factors_are_those_of_table_g_2(freedom: int, printed: float) -> None:
    """JCGM 100:2008, table G.2, column 90 %: two-sided 90 % is one-sided 95 %."""
    assert guard_factor(degrees_of_freedom=freedom) == pytest.approx(printed, abs=0.005)


def test_a_guard_band_from_few_readings_keeps_its_promise() -> None:
    """Ten thousand bores just out of their limit, read five times: called good in 5 % at most.

    ISO 14253-1:2017 promises 95 %; with 1.645 in place of Student's 2.13 it would be broken.
    """
    rng = np.random.default_rng(14253)
    readings = rng.normal(0.0, 1.0, (10_000, 5))
    mean = readings.mean(axis=1)
    standard = readings.std(axis=1, ddof=1) / math.sqrt(5.0)
    kept = np.mean(mean >= guard_factor(degrees_of_freedom=4.0) * standard)
    broken = np.mean(mean >= guard_factor() * standard)
    error = math.sqrt(0.05 * 0.95 / 10_000)
    assert kept == pytest.approx(0.05, abs=3.0 * error)
    assert broken == pytest.approx(student.sf(1.645, 4), abs=3.0 * math.sqrt(0.0875 / 10_000))
    assert broken > 0.05 + 3.0 * error
