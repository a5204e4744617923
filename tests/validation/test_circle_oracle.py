"""Least-squares circles against arithmetic of fifty digits.

Second road: Python's decimal numbers at 50 digits evaluate the slope of the sum of squares
at the answer, and one Newton step from there tells how far the true minimum is away.  The
sum of squares is that of Gander, Golub and Strebel, BIT 34 (1994), section 3.
"""

import decimal
import math
from decimal import Decimal

import numpy as np
import pytest

from sleevewright.core.metrology import fit_circle

WORST = 1e-15  # metres, 1e-12 mm
Points = tuple[np.ndarray, np.ndarray]


def distance_to_minimum(x: np.ndarray, y: np.ndarray, at: tuple[float, float, float]) -> float:
    """Largest part of the exact Newton step of centre and radius from a place."""
    a, b, r = (Decimal(part) for part in at)
    slope = [Decimal(0)] * 3
    bend = np.zeros((3, 3))
    for given_x, given_y in zip(x.tolist(), y.tolist(), strict=True):
        dx, dy = Decimal(given_x) - a, Decimal(given_y) - b
        distance = (dx * dx + dy * dy).sqrt()
        off = distance - r
        unit = dx / distance, dy / distance
        slope = [slope[0] + off * unit[0], slope[1] + off * unit[1], slope[2] + off]
        u, v, q = float(unit[0]), float(unit[1]), float(off / distance)
        rows = [[u * u + q * v * v, (1.0 - q) * u * v, u],
                [(1.0 - q) * u * v, v * v + q * u * u, v], [u, v, 1.0]]  # fmt: skip
        bend += rows
    step = np.linalg.solve(bend, [float(part) for part in slope])
    return float(np.abs(step).max())


def random_points(stream: np.random.Generator) -> Points:
    """An arc of 30 to 360 degrees, its ends among 4 to 200 points, form up to 5 um."""
    count = int(np.exp(stream.uniform(math.log(4.0), math.log(201.0))))
    arc = math.radians(stream.uniform(30.0, 360.0))
    turn = np.concatenate([[0.0, 1.0], stream.uniform(0.0, 1.0, count - 2)]) * arc
    turn += stream.uniform(0.0, 2.0 * math.pi)
    wall = stream.uniform(20e-3, 60e-3) + stream.uniform(-2.5e-6, 2.5e-6, count)
    x, y = stream.uniform(-1.0, 1.0, 2)
    return x + wall * np.cos(turn), y + wall * np.sin(turn)


def worst_of(count: int, seed: int) -> float:
    """Farthest that any of some random fits is from its minimum."""
    stream = np.random.default_rng(seed)
    worst = 0.0
    with decimal.localcontext(prec=50):
        for _ in range(count):
            x, y = random_points(stream)
            found = fit_circle(x, y)
            worst = max(worst, distance_to_minimum(x, y, (found.x, found.y, found.radius)))
    return worst


def test_three_hundred_circles_against_fifty_digits() -> None:
    """Centre and radius are within 1e-12 mm of the exact minimum, a metre off and on arcs."""
    assert worst_of(300, 41) < WORST


@pytest.mark.slow
def test_ten_thousand_circles_against_fifty_digits() -> None:
    """The same for ten thousand circles."""
    assert worst_of(10_000, 42) < WORST


def test_the_oracle_sees_a_millionth_of_a_micrometre() -> None:
    """A centre or a radius moved by 3e-15 m is reported as just that far away."""
    x, y = random_points(np.random.default_rng(4))
    x, y = x - x.mean(), y - y.mean()
    found = fit_circle(x, y)
    with decimal.localcontext(prec=50):
        for moved in range(3):
            at = [found.x, found.y, found.radius]
            at[moved] += 3e-15
            seen = distance_to_minimum(x, y, (at[0], at[1], at[2]))
            assert seen == pytest.approx(3e-15, rel=0.1)


@pytest.mark.parametrize(("degrees", "points"), [(30.0, 16), (90.0, 8), (360.0, 6)])
def test_doubts_of_centre_and_radius_hold_in_simulation(degrees: float, points: int) -> None:
    """On a thousand simulated arcs the errors scatter as the doubts say (fixed seed).

    The mean of the squared doubts is the variance of the errors within 12 %, and 95 %
    intervals with Student's factor hold the truth in 93 to 97 of 100.
    """
    from scipy.stats import t as student

    stream = np.random.default_rng(7)
    radius, scatter = 31e-3, 2e-6
    turn = np.linspace(0.0, math.radians(degrees), points, endpoint=degrees < 360.0)
    factor = float(student.ppf(0.975, points - 3))
    errors, doubts = [], []
    for _ in range(1000):
        wall = radius + scatter * stream.standard_normal(points)
        found = fit_circle(wall * np.cos(turn), wall * np.sin(turn))
        errors.append((found.x, found.y, found.radius - radius))
        doubts.append((found.x_doubt, found.y_doubt, found.radius_doubt))
    error, doubt = np.array(errors), np.array(doubts, dtype=float)
    assert np.mean(doubt**2, axis=0) == pytest.approx(error.var(axis=0), rel=0.12)
    covered = np.mean(np.abs(error) < factor * doubt, axis=0)
    assert ((covered > 0.93) & (covered < 0.97)).all(), covered


def test_a_short_arc_is_answered_with_the_doubt_that_it_deserves() -> None:
    """The doubt of the radius grows by some hundred times from a full turn to 30 degrees.

    Derived: with u the directions, the variance of the radius is that of the constant in
    the regression on cos t, sin t and 1; for a closed circle scatter / sqrt(n).
    """
    stream = np.random.default_rng(11)
    doubts = {}
    for degrees in (30.0, 360.0):
        turn = np.linspace(0.0, math.radians(degrees), 24, endpoint=degrees < 360.0)
        wall = 31e-3 + 2e-6 * stream.standard_normal(24)
        found = fit_circle(wall * np.cos(turn), wall * np.sin(turn), point_standard=2e-6)
        design = np.column_stack([np.cos(turn), np.sin(turn), np.ones(24)])
        scatter = max(2e-6, math.sqrt(found.sum_of_squares / 21.0))
        known = scatter * math.sqrt(float(np.linalg.inv(design.T @ design)[2, 2]))
        assert found.radius_doubt == pytest.approx(known, rel=1e-2)
        doubts[degrees] = found.radius_doubt
    assert doubts[360.0] == pytest.approx(2e-6 / math.sqrt(24.0), rel=0.3)
    assert 50.0 < doubts[30.0] / doubts[360.0] < 500.0
