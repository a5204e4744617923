"""Circles: against other methods, other libraries and exact geometry."""

import math

import numpy as np
import pytest

from sleevewright.core.metrology.circle import fit_circle
from sleevewright.core.metrology.lobes import three_point_range, two_point_range
from sleevewright.core.metrology.sweep import Mount, sweep_offset

SHORT_ARC = (np.array([1.0, 2.0, 5.0, 7.0, 9.0, 3.0]), np.array([7.0, 6.0, 8.0, 7.0, 5.0, 7.0]))


def test_gander_1994_tells_geometric_from_algebraic_fits() -> None:
    """Gander, Golub and Strebel, BIT 34 (1994): geometric 4.7142, algebraic 3.0370 (memory).

    The algebraic fit of unit norm is computed here, to show that the example would expose
    a fit that minimises something else.
    """
    x, y = SHORT_ARC
    design = np.column_stack([x**2 + y**2, x, y, np.ones(x.size)])
    a, b1, b2, c = np.linalg.svd(design)[2][-1]
    algebraic = math.sqrt((b1**2 + b2**2) / (4.0 * a**2) - c / a)
    assert algebraic == pytest.approx(3.0370, abs=1e-4)
    assert fit_circle(x, y).radius == pytest.approx(4.7142, abs=1e-4)


def test_sum_of_squares_is_a_minimum() -> None:
    """No step of the centre or the radius lowers it; sum 1.227599 for the six points."""
    x, y = SHORT_ARC
    found = fit_circle(x, y)
    assert found.sum_of_squares == pytest.approx(1.227599, abs=1e-6)
    for dx, dy, dr in ((1e-3, 0, 0), (-1e-3, 0, 0), (0, 1e-3, 0), (0, -1e-3, 0), (0, 0, 1e-3)):
        off = np.hypot(x - found.x - dx, y - found.y - dy) - found.radius - dr
        assert float(off @ off) > found.sum_of_squares


def test_agrees_with_a_general_least_squares_solver() -> None:
    """Scipy's least_squares on fifty noisy arcs of at least a third of a turn."""
    from scipy.optimize import least_squares

    stream = np.random.default_rng(9)
    for _ in range(50):
        angles = stream.uniform(0.0, stream.uniform(2.1, 6.3), 12)
        x = 3.0 + 31.0 * np.cos(angles) + 0.01 * stream.standard_normal(12)
        y = -5.0 + 31.0 * np.sin(angles) + 0.01 * stream.standard_normal(12)
        known = least_squares(
            lambda p, x=x, y=y: np.hypot(x - p[0], y - p[1]) - p[2],
            (3.0, -5.0, 31.0),
            xtol=1e-14,
            ftol=1e-14,
        )
        found = fit_circle(x, y)
        assert (found.x, found.y, found.radius) == pytest.approx(tuple(known.x), abs=1e-6)


def test_three_points_lie_on_their_circle() -> None:
    """Circumcircle of a right triangle: centre in the middle of the long side."""
    found = fit_circle(np.array([0.0, 6.0, 0.0]), np.array([0.0, 0.0, 8.0]))
    assert (found.x, found.y, found.radius) == pytest.approx((3.0, 4.0, 5.0))
    assert found.residual == pytest.approx(0.0, abs=1e-12)


def test_sweep_and_circle_find_the_same_centre() -> None:
    """Two roads: harmonics of readings, and a circle through the points of the wall."""
    centre, radius = np.array([0.02e-3, 0.05e-3]), 29e-3
    angles = np.arange(24) * math.pi / 12.0
    along = centre[0] * np.cos(angles) + centre[1] * np.sin(angles)
    across = -centre[0] * np.sin(angles) + centre[1] * np.cos(angles)
    wall = along + np.sqrt(radius**2 - across**2)
    sweep = sweep_offset(angles, radius - wall, mount=Mount.SPINDLE)
    circle = fit_circle(wall * np.cos(angles), wall * np.sin(angles))
    assert (-sweep.move_x, -sweep.move_y) == pytest.approx((circle.x, circle.y), abs=1e-9)
    assert circle.radius == pytest.approx(radius, abs=1e-12)


@pytest.mark.parametrize("lobes", [2, 3, 4, 5, 6, 9])
def test_lobes_between_points_by_sampling(lobes: int) -> None:
    """Derived: diameters and circumcircles of contacts on R + a cos(n t), a 5 um."""
    radius, amplitude = 31e-3, 5e-6
    turn = np.linspace(0.0, 2.0 * math.pi, 720, endpoint=False)

    def wall(angle: np.ndarray) -> np.ndarray:
        return radius + amplitude * np.cos(lobes * angle)

    two = wall(turn) + wall(turn + math.pi)
    assert float(np.ptp(two)) == pytest.approx(
        two_point_range(amplitude=amplitude, lobes=lobes), abs=1e-9
    )
    contacts = turn[:, None] + np.arange(3) * 2.0 * math.pi / 3.0
    points = wall(contacts)
    x, y = points * np.cos(contacts), points * np.sin(contacts)
    diameters = [2.0 * fit_circle(x[i], y[i]).radius for i in range(0, 720, 3)]
    # Second order in the amplitude: a^2 / R is 0.8 nm.
    assert float(np.ptp(diameters)) == pytest.approx(
        three_point_range(amplitude=amplitude, lobes=lobes), abs=3e-9
    )
