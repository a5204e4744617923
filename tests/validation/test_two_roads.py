"""Sampling held against published rules, against uncertain numbers, and against simulation."""

import math

import GTC
import numpy as np
import pytest

from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.gridsamples import GridErrors, sample_grid
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.rounding import rounding_shared
from sleevewright.core.uncertainty.inputs import InputQuantity, Shape, Streams, draw
from sleevewright.core.uncertainty.linear import LinearBudget, budget
from sleevewright.core.uncertainty.sampled import summarise
from sleevewright.core.uncertainty.validated import (
    Agreement,
    numerical_tolerance,
    sample_until,
    validated,
)


@pytest.mark.parametrize(
    ("standard", "digits", "tolerance"),
    [(0.00035, 2, 0.000005), (0.00035, 1, 0.00005), (2.0, 1, 0.5)],
)
def test_7_9_2_numerical_tolerance(standard: float, digits: int, tolerance: float) -> None:
    """JCGM 101:2008 7.9.2, examples 1 to 3 (memory): 0.35 mg to two and one digits, 2 K."""
    assert numerical_tolerance(standard, digits=digits) == pytest.approx(tolerance, rel=1e-12)


def test_7_9_4_adaptive_sampling_finds_the_sum_of_four_rectangles() -> None:
    """JCGM 101:2008 9.2.3: 3.88 (exactly 2 3^(1/2) (2 - 0.6^(1/4)) = 3.8794), to its tolerance."""
    four = [InputQuantity(f"X{i}", 0.0, 1.0, shape=Shape.RECTANGULAR) for i in range(4)]

    def model(streams: Streams, count: int) -> np.ndarray:
        return np.sum([streams.take(one, count) for one in four], axis=0)

    found = sample_until(model, digits=2)
    exact = 2.0 * math.sqrt(3.0) * (2.0 - 0.6**0.25)
    assert found.tolerance == 0.05
    assert 0.5 * (found.high - found.low) == pytest.approx(exact, abs=found.tolerance)
    assert found.standard == pytest.approx(2.0, abs=found.tolerance)


def test_clause_8_passes_a_sum_of_normals_and_fails_one_wide_rectangle() -> None:
    """JCGM 101:2008 9.2.2 and 9.2.4: +-3.92 on both roads; +-19.9 against +-17.0."""
    normal = [InputQuantity(f"X{i}", 0.0, 1.0) for i in range(4)]
    wide = [
        InputQuantity(f"X{i}", 0.0, 10.0 if i == 3 else 1.0, shape=Shape.RECTANGULAR)
        for i in range(4)
    ]
    for inputs, wanted in ((normal, Agreement.AGREES), (wide, Agreement.DIFFERS)):
        held = LinearBudget()
        linear = budget(sum(held.uncertain(one) for one in inputs))
        sampled = summarise(np.sum([draw(one, count=400_000) for one in inputs], axis=0))
        found = validated(linear, sampled, digits=2)
        assert found.agreement is wanted
    assert found.gap == pytest.approx(19.9 - 17.0, abs=0.1)


def test_clause_8_fails_a_square_near_zero() -> None:
    """JCGM 101:2008 9.4.2 in kind: X^2 at 0.1 with u 0.1 is skewed, which no factor k shows."""
    one = InputQuantity("reflection", 0.1, 0.1)
    held = LinearBudget()
    x = held.uncertain(one)
    assert validated(budget(x * x), summarise(draw(one) ** 2), digits=1).agreement is (
        Agreement.DIFFERS
    )


def test_a_grid_of_uncertain_numbers_has_the_doubt_of_the_drawn_grid() -> None:
    """GTC, a published library for JCGM 100: 12 readings, each an uncertain number of its own.

    A shared setting, two temperatures and two expansions beside scatter and rounding; mean
    size and slope of three stations, within four standard errors of the samples.
    """
    read = 0.06 + 1e-6 * np.array(
        [[1.0, 3.0, 2.0, 0.0], [2.0, 5.0, 3.0, 1.0], [6.0, 8.0, 6.0, 3.0]]
    )
    stations, turns = np.array([0.01, 0.03, 0.07]), np.arange(4) * math.pi / 4.0
    grid = GridReadings(stations, turns, read, 303.15, 298.15)
    named = {
        "part_expansion": InputQuantity("iron", 10.7e-6, 0.3e-6),
        "gauge_expansion": InputQuantity("steel", 11.5e-6, 0.5e-6),
        "setting_error": InputQuantity("ring", 0.0, 0.5e-6),
        "part_temperature": InputQuantity("part", 0.0, 0.5),
        "gauge_temperature": InputQuantity("gauge", 0.0, 0.5),
    }
    samples = {name: draw(one) for name, one in named.items()}
    scatter = Repeatability(2e-6, math.inf)
    found = sample_grid(GridErrors("bore", grid, scatter, 2.54e-6, **samples))
    u = {name: GTC.ureal(one.value, one.standard) for name, one in named.items()}
    growth = (1.0 + u["gauge_expansion"] * (5.0 + u["gauge_temperature"])) / (
        1.0 + u["part_expansion"] * (10.0 + u["part_temperature"])
    )
    sizes = [
        [
            (GTC.ureal(one, 2e-6) + GTC.ureal(0.0, 2.54e-6 / math.sqrt(12.0)) + u["setting_error"])
            * growth
            for one in row
        ]
        for row in read
    ]
    means = [sum(row) / 4.0 for row in sizes]
    away = stations - stations.mean()
    slope = sum(float(a) * mean for a, mean in zip(away, means, strict=True)) / float(away @ away)
    for mine, theirs in ((found.size, sum(means) / 3.0), (found.slope, slope)):
        assert mine is not None
        u_theirs = GTC.uncertainty(theirs)
        assert mine.std() == pytest.approx(u_theirs, rel=4.0 / math.sqrt(2.0 * mine.size))
        assert mine.mean() == pytest.approx(GTC.value(theirs), abs=4.0 * u_theirs / mine.size**0.5)


@pytest.mark.parametrize("spread", [0.1, 0.2, 0.3, 0.4])
def test_spread_damps_what_rounding_all_readings_share(spread: float) -> None:
    """Widrow and Kollar 2008 chapter 4 (memory), by rounding normal numbers to whole steps.

    The mean error of rounding as a wave over the step: its amplitude is (1 / pi) times the
    characteristic function of the spread, here to the first harmonic.
    """
    deviates = np.random.default_rng(8).standard_normal(200_000) * spread
    places = np.linspace(0.0, 1.0, 24, endpoint=False)
    mean_errors = np.array([np.mean(np.round(at + deviates) - at - deviates) for at in places])
    wave = 2.0 * np.mean(mean_errors * np.sin(2.0 * math.pi * places))
    told = rounding_shared(np.zeros(1), resolution=1.0, stated=spread)
    assert abs(wave) == pytest.approx(told / math.pi, abs=0.005)
