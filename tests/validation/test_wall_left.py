"""The wall of a casting against rays cast through circles, whole systems and brute force.

Sources: rayleigh-1880 and kluyver-1906 for the shift of a core, goldberger-1962 for prediction
between readings; two circles off each other's centre are exact by plain geometry.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from sleevewright.core.cutting.concentric import Chain
from sleevewright.core.cutting.coreshift import (
    core_shift,
    harmonic_design,
    largest_shift,
    wall_wander,
    wander_freedom,
)
from sleevewright.core.cutting.evening import evening_move, move_amount, move_towards
from sleevewright.core.cutting.shiftdoubt import shift_doubt
from sleevewright.core.cutting.shiftedwall import chance_of_shifted_wall, shifted_wall
from sleevewright.core.cutting.wallleast import (
    bore_by_wall,
    chance_of_too_thin,
    least_wall_in_twenty,
    least_wall_likely,
    thinnest_angle,
    thinnest_depth,
)
from sleevewright.core.cutting.wallmap import (
    CastWall,
    PlannedCut,
    planned_wall,
    side_cut,
    wander_together,
)
from sleevewright.core.cutting.walls import chance_of_thin_wall, least_wall
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.errors import InputError

MM = 1e-3
EIGHT = np.arange(8) * np.pi / 4.0
EXACT = CastWall(0.5 * MM, 1e-9, 0.45, 1e-9)
"""A casting and a gauge of which nothing is in doubt."""

Array = NDArray[np.float64]


def ray_to_circle(angles: Array, centre: tuple[float, float], radius: float) -> Array:
    """How far a circle lies from the origin along each ray, by marching and halving."""
    low, high = np.zeros_like(angles), np.full_like(angles, 4.0 * radius)
    for _ in range(80):
        middle = 0.5 * (low + high)
        x, y = middle * np.cos(angles) - centre[0], middle * np.sin(angles) - centre[1]
        inside = np.hypot(x, y) < radius
        low, high = np.where(inside, middle, low), np.where(inside, high, middle)
    return 0.5 * (low + high)


@pytest.mark.parametrize("off", [(0.0, 0.0), (0.3 * MM, 0.0), (-0.4 * MM, 0.9 * MM)])
def test_what_a_bore_takes_off_each_side_is_that_of_the_rays(off: tuple[float, float]) -> None:
    """Rays from the old axis meet the new bore where a search along them finds it."""
    angles = np.linspace(0.0, 2.0 * np.pi, 361)
    cut = PlannedCut(70.0 * MM, 72.0 * MM, *off)
    reached = ray_to_circle(angles, off, 36.0 * MM) - 35.0 * MM
    taken = side_cut(angles=angles, planned_cut=cut, at_depth=0.03)
    np.testing.assert_allclose(taken, reached, atol=1e-12)


def test_the_least_wall_of_two_circles_is_the_exact_one() -> None:
    """Bore 72 in an outside of 84, 0.5 off: 5.5 mm on the thin side, as the plain sum says.

    A shift of e gives a second harmonic of e^2 / 4 R = 1.5 um, which a first cannot follow.
    """
    walls = ray_to_circle(EIGHT, (0.5 * MM, 0.0), 42.0 * MM) - 35.0 * MM
    read = GridReadings(np.array([20.0, 60.0]) * MM, EIGHT, np.array([walls, walls]))
    found = planned_wall(
        walls_read=read, planned_cut=PlannedCut(70.0 * MM, 72.0 * MM), cast_wall=EXACT
    )
    exact = least_wall(outside_diameter=84.0 * MM, inside_diameter=72.0 * MM, off_centre=0.5 * MM)
    assert exact == pytest.approx(5.5 * MM, abs=1e-12)
    assert found.walls.min() == pytest.approx(exact, abs=1.5e-6)
    assert least_wall_in_twenty(wall_map=found) == pytest.approx(exact, abs=1.5e-6)
    assert thinnest_angle(wall_map=found) == pytest.approx(math.pi, abs=1e-5)


def test_a_lean_takes_most_where_it_reaches_farthest() -> None:
    """An axis that leans 10 um by the mm towards 90 degrees takes 0.6 mm more 60 mm down."""
    read = GridReadings(np.array([0.0, 60.0]) * MM, EIGHT, np.full((2, 8), 6.0 * MM))
    cut = PlannedCut(70.0 * MM, 72.0 * MM, lean_y=0.01)
    found = planned_wall(walls_read=read, planned_cut=cut, cast_wall=EXACT)
    assert found.walls.min() == pytest.approx(4.4 * MM, abs=1e-8)
    assert thinnest_depth(wall_map=found) == pytest.approx(60.0 * MM)
    assert thinnest_angle(wall_map=found) == pytest.approx(0.5 * math.pi, abs=1e-5)


@pytest.mark.parametrize("places", [3, 5, 8])
def test_the_shift_is_that_of_least_squares_and_of_a_search(places: int) -> None:
    """Numpy's least squares gives the same, and no shift near it leaves a smaller sum."""
    rng = np.random.default_rng(places)
    angles = np.sort(rng.uniform(0.0, 0.7, places)) + (np.arange(places) * 2.0 * np.pi / places)
    walls = 5.0 * MM + 0.7 * MM * np.cos(angles - 0.8) + 0.1 * MM * rng.standard_normal(places)
    found = core_shift(angles=angles, walls=walls)
    assert found is not None
    expected = np.linalg.lstsq(harmonic_design(angles), walls, rcond=None)[0]
    np.testing.assert_allclose((found.mean, found.x, found.y), expected, atol=1e-12)
    steps = np.linspace(-50e-6, 50e-6, 21)
    mean, x, y = np.meshgrid(found.mean + steps, found.x + steps, found.y + steps)
    fits = mean[..., None] + x[..., None] * np.cos(angles) + y[..., None] * np.sin(angles)
    sums = ((walls - fits) ** 2).sum(axis=-1)
    assert sums.min() == pytest.approx(float((found.residuals**2).sum()), abs=1e-18)


@pytest.mark.parametrize(("places", "depths"), [(4, 2), (8, 3)])
@pytest.mark.parametrize("shift", [0.0, 0.8 * MM])
def test_the_bound_of_a_shift_holds_the_true_one(places: int, depths: int, shift: float) -> None:
    """Walls that wander by the usual 10 thou about a shift, or none: kept 19 times in 20."""
    rng = np.random.default_rng(places)
    angles = np.arange(places) * 2.0 * np.pi / places
    usual = CastWall(0.5 * MM, 0.254 * MM, 0.4538, 7e-6)
    root = np.linalg.cholesky(wander_together(angles, angles, usual))
    kept = [0, 0]
    for _ in range(200):
        walls = 5.0 * MM + shift * np.cos(angles) + rng.standard_normal((depths, places)) @ root.T
        read = GridReadings(np.arange(1, depths + 1) * 0.01, angles, walls)
        wander = wall_wander(walls_read=read, usual_wander=0.254 * MM, reading_standard=7e-6)
        freedom = wander_freedom(walls_read=read)
        cast = replace(usual, wander=wander, wander_freedom=freedom)
        sure = shift_doubt(walls_read=read, cast_wall=cast)
        evened = move_amount(centre_move=evening_move(walls_read=read))
        kept[0] += abs(largest_shift(walls_read=read) - shift) <= sure.of_largest
        kept[1] += abs(evened - shift) <= sure.of_mean
    assert min(kept) >= 184


def test_the_covariance_of_a_shift_is_that_of_many_fits() -> None:
    """Scatter of 4,000 fits of scattered readings lies within 6 % of what is promised."""
    rng = np.random.default_rng(7)
    angles = np.array([0.0, 1.0, 2.2, 3.9])
    walls = rng.normal(5.0 * MM, 0.1 * MM, (4000, 4))
    fits = [core_shift(angles=angles, walls=row) for row in walls]
    spread = np.cov([(one.mean, one.x, one.y) for one in fits if one is not None], rowvar=False)
    promised = fits[0].unit_covariance * (0.1 * MM) ** 2  # type: ignore[union-attr] # all round
    np.testing.assert_allclose(np.diag(spread), np.diag(promised), rtol=0.06)


def test_too_few_places_tell_no_shift() -> None:
    """Two places, or three within a third of a turn, are refused as a fit."""
    assert core_shift(angles=EIGHT[:2], walls=np.full(2, 5.0 * MM)) is None
    assert core_shift(angles=EIGHT[:3], walls=np.full(3, 5.0 * MM)) is None
    assert core_shift(angles=EIGHT[::2], walls=np.full(4, 5.0 * MM)) is not None


def bordered(places: Array, walls: Array, at: float, cast: CastWall) -> float:
    """Best linear unbiased prediction by its whole system of equations, with multipliers."""

    def alike(one: Array, other: Array) -> Array:
        chord = 2.0 * np.sin(0.5 * (one[:, None] - other[None, :]))
        return np.asarray(cast.wander**2 * np.exp(-0.5 * (chord / cast.reach) ** 2))

    design = harmonic_design(places)
    size, scale = places.size, cast.wander**2
    system = np.zeros((size + 3, size + 3))
    system[:size, :size] = (alike(places, places) + cast.reading_standard**2 * np.eye(size)) / scale
    system[:size, size:], system[size:, :size] = design, design.T
    here = np.array([at])
    right = np.concatenate([alike(places, here)[:, 0] / scale, harmonic_design(here)[0]])
    return float(np.linalg.solve(system, right)[:size] @ walls)


def test_the_wall_between_readings_is_that_of_the_whole_system() -> None:
    """Goldberger's prediction by the bordered system (goldberger-1962) is the map's, to 1 nm."""
    rng = np.random.default_rng(3)
    places = EIGHT[[0, 1, 3, 4, 6]]
    walls = 5.0 * MM + 0.4 * MM * rng.standard_normal(5)
    cast = CastWall(0.5 * MM, 0.25 * MM, 0.45, 0.05 * MM)
    read = GridReadings(np.array([10.0 * MM]), places, walls[None, :])
    found = planned_wall(walls_read=read, planned_cut=PlannedCut(70 * MM, 70 * MM), cast_wall=cast)
    for angle, wall in zip(found.angles, found.walls[0], strict=True):
        assert wall == pytest.approx(bordered(places, walls, float(angle), cast), abs=1e-9)


def test_one_reading_is_believed_where_it_was_taken() -> None:
    """A thin spot that was read is on the map, though an even wall would smooth it away."""
    walls = np.full((1, 8), 5.0 * MM)
    walls[0, 3] = 2.0 * MM
    cast = CastWall(0.5 * MM, 0.4 * MM, 0.45, 0.03 * MM)
    read = GridReadings(np.array([10.0 * MM]), EIGHT, walls)
    found = planned_wall(walls_read=read, planned_cut=PlannedCut(70 * MM, 71 * MM), cast_wall=cast)
    assert thinnest_angle(wall_map=found) == pytest.approx(0.75 * math.pi, abs=1e-5)
    assert found.walls.min() == pytest.approx(1.5 * MM, abs=0.1 * MM)


def test_the_largest_bore_leaves_just_the_least_wall() -> None:
    """A map for the bore that the wall allows has the least wall 19 times in 20."""
    read = GridReadings(np.array([10.0, 50.0]) * MM, EIGHT, np.full((2, 8), 6.0 * MM))
    cast = CastWall(0.5 * MM, 0.25 * MM, 0.45, 0.05 * MM, 0.05 * MM)
    cut = PlannedCut(70 * MM, 72 * MM, x=0.1 * MM, spread=10e-6)
    low = least_wall_in_twenty(
        wall_map=planned_wall(walls_read=read, planned_cut=cut, cast_wall=cast)
    )
    most = bore_by_wall(planned_bore=72 * MM, wall_kept=low, least_wall=3.048 * MM)
    widest = PlannedCut(70 * MM, most, x=0.1 * MM, spread=10e-6)
    found = planned_wall(walls_read=read, planned_cut=widest, cast_wall=cast)
    assert least_wall_in_twenty(wall_map=found) == pytest.approx(3.048 * MM, abs=1e-7)
    assert chance_of_too_thin(wall_map=found, least_wall=3.048 * MM) == pytest.approx(
        0.05, abs=2e-3
    )


def test_the_move_that_evens_the_wall_is_found_by_a_search() -> None:
    """Of all centres within 0.8 mm, the one that leaves the least shift is the one that is told."""
    walls = ray_to_circle(EIGHT, (0.5 * MM, -0.3 * MM), 42.0 * MM) - 36.0 * MM
    read = GridReadings(np.array([20.0 * MM]), EIGHT, walls[None, :])
    move = evening_move(walls_read=read)
    steps = np.linspace(-0.8, 0.8, 17) * MM
    best, where = math.inf, (0.0, 0.0)
    for x in steps:
        for y in steps:
            left = ray_to_circle(EIGHT, (0.5 * MM - x, -0.3 * MM - y), 42.0 * MM)
            if np.ptp(left) < best:
                best, where = float(np.ptp(left)), (float(x), float(y))
    assert (move.x, move.y) == pytest.approx(where, abs=0.06 * MM)
    assert move_amount(centre_move=move) == pytest.approx(math.hypot(0.5, 0.3) * MM, rel=1e-3)
    expected = math.atan2(-0.3, 0.5) % (2.0 * math.pi)
    assert move_towards(centre_move=move) == pytest.approx(expected, abs=2e-3)
    assert largest_shift(walls_read=read) == pytest.approx(math.hypot(0.5, 0.3) * MM, rel=1e-3)


@pytest.mark.parametrize(("doubt", "spread"), [(0.2, 0.5), (0.5, 0.2), (0.0, 0.5), (0.3, 0.0)])
def test_the_chance_by_closed_form_is_that_of_the_walk(doubt: float, spread: float) -> None:
    """Kluyver's walk with a normal end (kluyver-1906) and the closed form agree to 1e-4."""
    for least in (3.0, 4.0, 4.6):
        closed = chance_of_shifted_wall(
            even_wall=5.0 * MM,
            wall_standard=doubt * MM,
            core_spread=spread * MM,
            least_wall=least * MM,
        )
        walked = chance_of_thin_wall(
            even_wall=5.0 * MM,
            wall_standard=doubt * MM,
            least_wall=least * MM,
            chain=Chain((), spread * MM),
        )
        assert closed == pytest.approx(walked, abs=1e-4)


def test_the_wall_that_is_kept_is_that_of_drawn_castings() -> None:
    """The 5 % quantile of 400,000 drawn walls lies within 4 um of the one that is solved."""
    rng = np.random.default_rng(11)
    drawn = rng.normal(5.0, 0.3, 400_000) - np.hypot(*rng.normal(0.0, 0.5, (2, 400_000)))
    solved = shifted_wall(
        even_wall=5.0 * MM, wall_standard=0.3 * MM, core_spread=0.5 * MM, probability=0.05
    )
    assert solved == pytest.approx(float(np.quantile(drawn, 0.05)) * MM, abs=4e-6)


def test_the_wander_is_pooled_with_the_usual_one() -> None:
    """Without readings left over it is the usual; with many it is theirs."""
    few = GridReadings(np.array([0.0]), EIGHT[[0, 3, 5]], np.full((1, 3), 5.0 * MM))
    assert wall_wander(
        walls_read=few, usual_wander=0.25 * MM, reading_standard=0.0
    ) == pytest.approx(0.25 * MM)
    rng = np.random.default_rng(1)
    many = GridReadings(np.arange(40.0), EIGHT, 5.0 * MM + 0.1 * MM * rng.standard_normal((40, 8)))
    assert wall_wander(
        walls_read=many, usual_wander=0.25 * MM, reading_standard=0.0
    ) == pytest.approx(0.1 * MM, rel=0.12)


def test_the_likely_least_is_below_every_mean() -> None:
    """The least of many places is less than the least of their means: it is drawn, not summed."""
    read = GridReadings(np.array([10.0, 50.0]) * MM, EIGHT[::2], np.full((2, 4), 6.0 * MM))
    cast = CastWall(0.5 * MM, 0.25 * MM, 0.45, 0.05 * MM)
    found = planned_wall(walls_read=read, planned_cut=PlannedCut(70 * MM, 72 * MM), cast_wall=cast)
    assert least_wall_likely(wall_map=found) < found.walls.min() - 0.1 * MM


@pytest.mark.parametrize(
    ("walls", "said"),
    [
        (np.full((1, 8), -1e-3), "more than zero"),
        (np.full((1, 8), 0.0), "more than zero"),
    ],
)
def test_walls_that_cannot_be_are_refused(walls: Array, said: str) -> None:
    """Nought or less: the text says what is allowed."""
    read = GridReadings(np.array([0.0]), EIGHT, walls)
    with pytest.raises(InputError, match=said):
        planned_wall(walls_read=read, planned_cut=PlannedCut(70 * MM, 72 * MM), cast_wall=EXACT)


def test_depths_out_of_order_and_an_axis_outside_the_bore_are_refused() -> None:
    """Depths go downwards; a new axis beyond the new bore is no bore."""
    read = GridReadings(np.array([0.05, 0.01]), EIGHT, np.full((2, 8), 5.0 * MM))
    with pytest.raises(InputError, match="from the deck downwards"):
        planned_wall(walls_read=read, planned_cut=PlannedCut(70 * MM, 72 * MM), cast_wall=EXACT)
    with pytest.raises(InputError, match="offset of the new axis"):
        side_cut(angles=EIGHT, planned_cut=PlannedCut(70 * MM, 72 * MM, x=0.05), at_depth=0.0)
