"""What holds for every set of points: turned, shifted, scaled, in another order."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.metrology import fit_circle, minimum_zone_circle
from sleevewright.core.metrology.cylinder import fit_cylinder
from sleevewright.core.metrology.touching_circles import circumscribed_circle, inscribed_circle
from sleevewright.core.metrology.zone_cylinder import minimum_zone_cylinder

seeds = st.integers(0, 2**32 - 1)
turns = st.floats(0.0, 2.0 * math.pi)
shifts = st.tuples(st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))
scales = st.floats(1e-3, 1e3)


def closed(seed: int, count: int = 11) -> np.ndarray:
    """A bore of 60 mm, nearly even round, random form of 10 um; shape (2, n)."""
    stream = np.random.default_rng(seed)
    turn = (np.arange(count) + stream.uniform(-0.3, 0.3, count)) * 2.0 * math.pi / count
    return (30e-3 + stream.uniform(-5e-6, 5e-6, count)) * np.array([np.cos(turn), np.sin(turn)])


def sizes(points: np.ndarray) -> tuple[float, ...]:
    """Radii and forms of the four references."""
    return (
        fit_circle(*points).radius,
        fit_circle(*points).peak_to_valley,
        minimum_zone_circle(*points).zone,
        circumscribed_circle(*points).radius,
        inscribed_circle(*points).radius,
    )


def centres(points: np.ndarray) -> np.ndarray:
    """Centres of the four references, shape (4, 2)."""
    fits = (fit_circle, minimum_zone_circle, circumscribed_circle, inscribed_circle)
    return np.array([(found.x, found.y) for found in (fit(*points) for fit in fits)])


@settings(max_examples=40, deadline=None)
@given(seed=seeds, turn=turns, shift=shifts)
def test_turning_and_shifting_moves_centres_and_changes_no_size(
    seed: int, turn: float, shift: tuple[float, float]
) -> None:
    """Sizes to 1e-14 m, centres to 1e-11 m: a metre off, coordinates are known no closer."""
    points = closed(seed)
    matrix = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    moved = matrix @ points + np.array(shift)[:, None]
    assert sizes(moved) == pytest.approx(sizes(points), abs=1e-14)
    assert centres(moved) == pytest.approx(centres(points) @ matrix.T + shift, abs=1e-11)


@settings(max_examples=40, deadline=None)
@given(seed=seeds, scale=scales)
def test_scale_and_mirror_carry_over(seed: int, scale: float) -> None:
    """Twice the part is twice the answer; a mirror is an order of points like any other."""
    points = closed(seed)
    known = tuple(scale * size for size in sizes(points))
    assert sizes(scale * points) == pytest.approx(known, rel=1e-9)
    assert sizes(points[::-1]) == pytest.approx(sizes(points), abs=1e-14)


@settings(max_examples=40, deadline=None)
@given(seed=seeds)
def test_the_order_of_points_does_not_matter(seed: int) -> None:
    """The same sizes, and the same points touch."""
    points = closed(seed)
    order = np.random.default_rng(seed).permutation(points.shape[1])
    mixed = points[:, order]
    assert sizes(mixed) == pytest.approx(sizes(points), abs=1e-14)
    for fit in (minimum_zone_circle, circumscribed_circle, inscribed_circle):
        touched = sorted(int(order[place]) for place in fit(*mixed).contacts)
        assert tuple(touched) == fit(*points).contacts


@settings(max_examples=40, deadline=None)
@given(seed=seeds)
def test_the_references_stand_in_their_order(seed: int) -> None:
    """Plug below ring; no form is narrower than the minimum zone."""
    points = closed(seed)
    zone = minimum_zone_circle(*points)
    ring, plug = circumscribed_circle(*points), inscribed_circle(*points)
    assert plug.radius <= ring.radius
    assert zone.zone <= fit_circle(*points).peak_to_valley + 1e-15
    assert ring.radius <= zone.outer_radius + 1e-15
    assert plug.radius >= zone.inner_radius - 1e-15
    for found in (ring, plug):
        away = np.hypot(points[0] - found.x, points[1] - found.y)
        assert zone.zone <= np.ptp(away) + 1e-15


@settings(max_examples=25, deadline=None)
@given(seed=seeds, shift=shifts, lean=st.tuples(st.floats(-0.1, 0.1), st.floats(-0.1, 0.1)))
def test_a_cylinder_that_is_tilted_and_moved_keeps_its_sizes(
    seed: int, shift: tuple[float, float], lean: tuple[float, float]
) -> None:
    """Rigid motion of all points: radius and cylindricity stay, and the axis goes along."""
    stream = np.random.default_rng(seed)
    turn, high = np.tile(np.arange(7) * 2.0 * math.pi / 7.0, 3), np.repeat([-0.03, 0.0, 0.03], 7)
    wall = 30e-3 + stream.uniform(-5e-6, 5e-6, 21)
    points = np.column_stack([wall * np.cos(turn), wall * np.sin(turn), high])
    axis = np.array([*lean, 1.0]) / math.sqrt(1.0 + lean[0] ** 2 + lean[1] ** 2)
    side = np.cross(axis, [1.0, 0.0, 0.0])
    side /= np.linalg.norm(side)
    motion = np.column_stack([np.cross(side, axis), side, axis])
    moved = points @ motion.T + [*shift, 0.01]
    plain, found = fit_cylinder(points), fit_cylinder(moved)
    assert found.radius == pytest.approx(plain.radius, abs=1e-13)
    assert found.peak_to_valley == pytest.approx(plain.peak_to_valley, abs=1e-12)
    assert minimum_zone_cylinder(moved).zone == pytest.approx(
        minimum_zone_cylinder(points).zone, abs=1e-13
    )
    carried = motion @ [plain.lean_x, plain.lean_y, 1.0]
    known = carried[:2] / carried[2]
    assert (found.lean_x, found.lean_y) == pytest.approx(tuple(known), abs=1e-10)
