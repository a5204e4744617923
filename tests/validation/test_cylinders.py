"""Cylinders: against a general solver, a linear programme, and conditions of optimality.

Definitions: ISO 12180-1 (from memory).  The distance from an axis is written here anew, as
the length of a cross product, so that nothing of the package's own geometry is used.
"""

import math

import numpy as np
import pytest
from scipy.optimize import least_squares, linprog

from sleevewright.core.metrology import fit_circle, minimum_zone_circle
from sleevewright.core.metrology.contacts import Contact
from sleevewright.core.metrology.cylinder import fit_cylinder
from sleevewright.core.metrology.zone_cylinder import (
    circumscribed_cylinder,
    inscribed_cylinder,
    minimum_zone_cylinder,
)

LEVER = 0.03  # metres: a lean counts as what it moves the axis over 30 mm


def distance(line: np.ndarray, points: np.ndarray) -> np.ndarray:
    """Distance from the axis through (x, y, 0) along (lean, lean, 1)."""
    along = np.array([line[2], line[3], 1.0])
    from_axis = np.cross(points - [line[0], line[1], 0.0], along / np.linalg.norm(along))
    return np.linalg.norm(from_axis, axis=1)


def slopes(line: np.ndarray, points: np.ndarray) -> np.ndarray:
    """How distances change with x, y and the leans over the lever, by central differences."""
    columns = []
    for unknown, unit in enumerate((1.0, 1.0, LEVER, LEVER)):
        step = np.zeros(4)
        step[unknown] = 1e-6 / unit
        columns.append((distance(line + step, points) - distance(line - step, points)) / 2e-6)
    return np.column_stack(columns)


def random_bore(stream: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    """A tilted bore with random form: places of a grid, or anywhere; and its true line."""
    heights, directions = int(stream.integers(2, 6)), int(stream.integers(4, 10))
    if stream.random() < 0.5:
        turn = np.tile(np.arange(directions) * 2.0 * math.pi / directions, heights)
        high = np.repeat(np.linspace(0.0, 0.08, heights), directions)
    else:
        turn = np.tile(np.arange(directions) * 2.0 * math.pi / directions, heights)
        turn += stream.uniform(-0.3, 0.3, turn.size)
        high = stream.uniform(0.0, 0.08, turn.size)
    wall = stream.uniform(20e-3, 60e-3) + stream.uniform(-5e-6, 5e-6, turn.size)
    x, y, lean_x, lean_y = line = np.concatenate(
        [stream.uniform(-0.05, 0.05, 2), stream.uniform(-0.02, 0.02, 2)]
    )
    points = [x + lean_x * high + wall * np.cos(turn), y + lean_y * high + wall * np.sin(turn)]
    return np.column_stack([*points, high]), line


def programme(points: np.ndarray, line: np.ndarray, goal: list[float]) -> np.ndarray:
    """Best line by scipy's highs in micrometres, with outer and inner edge, centred anew."""
    for _ in range(6):
        away = distance(line, points)
        off, one = 1e6 * (away - away.mean()), np.ones(len(away))
        steps = slopes(line, points)
        rows = np.vstack([np.column_stack([steps, -one, 0 * one]),
                          np.column_stack([-steps, 0 * one, one])])  # fmt: skip
        solved = linprog([0, 0, 0, 0, *goal], A_ub=rows, b_ub=np.concatenate([-off, off]),
                         bounds=[(-200, 200)] * 4 + [(-1e6, 1e6)] * 2, method="highs")  # fmt: skip
        line = line + 1e-6 * solved.x[:4] / [1.0, 1.0, LEVER, LEVER]
    return distance(line, points)


def pull_of(steps: np.ndarray, contacts: tuple[Contact, ...]) -> np.ndarray:
    """Slopes weighed with shares, once the shares are shown to be such."""
    shares = np.array([one.share for one in contacts])
    assert (shares > 0.0).all()
    assert shares.sum() == pytest.approx(1.0, abs=1e-4)
    return shares @ steps[[one.point for one in contacts]]


def test_least_squares_agree_with_a_general_solver() -> None:
    """Scipy's least_squares on 40 tilted bores, and no sum of squares is lower."""
    stream = np.random.default_rng(71)
    for _ in range(40):
        points, line = random_bore(stream)
        found = fit_cylinder(points)
        known = least_squares(
            lambda p, points=points: 1e6 * (distance(p[:4], points) - p[4]),
            [*line, 0.04], xtol=1e-15, ftol=1e-15, gtol=1e-15, x_scale=[1, 1, 30, 30, 1],
        )  # fmt: skip
        own = (found.x, found.y, found.lean_x, found.lean_y, found.radius)
        assert own == pytest.approx(tuple(known.x), abs=2e-9)
        assert found.sum_of_squares <= 2e-12 * known.cost * (1.0 + 1e-10)


def test_an_exact_cylinder_is_found() -> None:
    """A bore of 62 mm that leans one in a hundred: all to the last digits, no form."""
    turn, high = np.arange(24) * math.pi / 4.0, np.repeat([0.0, 0.04, 0.08], 8)
    plain = np.column_stack([31e-3 * np.cos(turn), 31e-3 * np.sin(turn), high])
    lean = math.atan(0.01)
    matrix = np.array([[math.cos(lean), 0, math.sin(lean)], [0, 1, 0],
                       [-math.sin(lean), 0, math.cos(lean)]])  # fmt: skip
    found = fit_cylinder(plain @ matrix.T + [0.2, -0.1, 0.0])
    assert found.radius == pytest.approx(31e-3, abs=1e-15)
    assert (found.lean_x, found.lean_y) == pytest.approx((0.01, 0.0), abs=1e-13)
    assert found.centre_at(0.05) == pytest.approx((0.2005, -0.1), abs=1e-14)
    assert found.peak_to_valley < 1e-15


def test_one_section_repeated_has_the_form_of_its_circle() -> None:
    """The same section at three heights: radius and zone are those of the circle."""
    turn = np.arange(9) * 2.0 * math.pi / 9.0
    wall = 30e-3 + 3e-6 * np.cos(3.0 * turn) + 2e-6 * np.sin(2.0 * turn)
    x, y = wall * np.cos(turn), wall * np.sin(turn)
    points = np.concatenate([np.column_stack([x, y, np.full(9, z)]) for z in (0, 0.03, 0.06)])
    assert fit_cylinder(points).radius == pytest.approx(fit_circle(x, y).radius, abs=1e-12)
    zone = minimum_zone_cylinder(points)
    assert zone.zone == pytest.approx(minimum_zone_circle(x, y).zone, abs=1e-12)


def test_zone_ring_and_plug_agree_with_a_linear_programme() -> None:
    """On 16 bores none is worse than scipy's, and where that settles they are the same.

    A plug may find another seat nearby: form^2 / (2 R) is 1 nm, and that much is allowed.
    """
    stream = np.random.default_rng(72)
    same = 0
    for _ in range(16):
        points, _ = random_bore(stream)
        start = fit_cylinder(points)
        line = np.array([start.x, start.y, start.lean_x, start.lean_y])
        zone = np.ptp(programme(points, line, [1, -1]))
        own = minimum_zone_cylinder(points).zone
        assert own <= zone + 1e-12
        same += abs(own - zone) < 1e-12
        ring = programme(points, line, [1, 0]).max()
        assert circumscribed_cylinder(points).radius <= ring + 3e-12
        plug = programme(points, line, [0, -1]).min()
        assert inscribed_cylinder(points).radius >= plug - 1e-9
    assert same >= 12


def test_optimality_is_verified_from_the_points_alone() -> None:
    """Conditions of Karush, Kuhn and Tucker on 100 bores, slopes by central differences."""
    stream = np.random.default_rng(73)
    for _ in range(100):
        points, _ = random_bore(stream)
        found = minimum_zone_cylinder(points)
        line = np.array([found.x, found.y, found.lean_x, found.lean_y])
        away, steps = distance(line, points), slopes(line, points)
        assert found.outer_radius == pytest.approx(away.max(), abs=1e-14)
        assert found.inner_radius == pytest.approx(away.min(), abs=1e-14)
        for contacts, edge in ((found.outer, away.max()), (found.inner, away.min())):
            assert np.abs(away[[one.point for one in contacts]] - edge).max() < 1e-13
        left = pull_of(steps, found.outer) - pull_of(steps, found.inner)
        assert np.abs(left).max() < 1e-7
        assert found.imbalance < 1e-7


def test_contacts_of_ring_and_plug_hold_them() -> None:
    """The same conditions; a ring that hangs on a chord is settled to 1e-4 of a slope."""
    stream = np.random.default_rng(74)
    for _ in range(100):
        points, _ = random_bore(stream)
        for found, side in ((circumscribed_cylinder(points), 1), (inscribed_cylinder(points), -1)):
            line = np.array([found.x, found.y, found.lean_x, found.lean_y])
            away = distance(line, points)
            assert (side * (away - found.radius)).max() < 1e-14
            shares = np.array([one.share for one in found.held_by])
            gaps = np.abs(away[list(found.contacts)] - found.radius)
            assert (shares * gaps).max() < 1e-12  # what a better place could gain
            assert np.abs(pull_of(slopes(line, points), found.held_by)).max() < 1e-4


def test_doubts_hold_in_simulation() -> None:
    """400 simulated bores: mean squared doubts are the variances of the errors within 20 %."""
    stream = np.random.default_rng(75)
    turn, high = np.tile(np.arange(6) * math.pi / 3.0, 3), np.repeat([0.02, 0.05, 0.08], 6)
    errors, doubts = [], []
    for _ in range(400):
        wall = 30e-3 + 2e-6 * stream.standard_normal(18)
        found = fit_cylinder(np.column_stack([wall * np.cos(turn), wall * np.sin(turn), high]))
        errors.append((found.x, found.y, found.lean_x, found.lean_y, found.radius - 30e-3))
        doubts.append((found.x_doubt, found.y_doubt, found.lean_x_doubt, found.lean_y_doubt,
                       found.radius_doubt))  # fmt: skip
    mean = np.mean(np.array(doubts, dtype=float) ** 2, axis=0)
    assert mean == pytest.approx(np.var(errors, axis=0), rel=0.2)
