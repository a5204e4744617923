"""What holds for every grid, sweep and circle."""

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.metrology.circle import fit_circle
from sleevewright.core.metrology.form import Range, form_doubt
from sleevewright.core.metrology.grid import (
    SizeGrid,
    mean_size,
    out_of_round,
    reading_at_reference,
    taper,
)
from sleevewright.core.metrology.repeatability import Repeatability, repeatability
from sleevewright.core.metrology.slips import Slip
from sleevewright.core.metrology.suspects import suspects
from sleevewright.core.metrology.sweep import Mount, sweep_offset

THOU = 25.4e-6
DEPTHS = np.array([10e-3, 33e-3, 56e-3, 79e-3])
shapes = st.tuples(st.integers(3, 4), st.sampled_from([2, 4]))
seeds = st.integers(0, 2**32 - 1)
diameters = st.floats(40e-3, 100e-3)


def honest_grid(
    *, shape: tuple[int, int], size: float, tapered: float, oval: float, tilt: float, seed: int
) -> SizeGrid:
    """A sound part: taper over its depth, one oval, scatter of a tenth of a thou, rounded.

    Scatter is even and bounded, as of a gauge read to its step, so that no reading of a
    sound part is more than three doubts off by chance.
    """
    stations, directions = shape
    angles = np.arange(directions) * math.pi / directions
    scatter = np.random.default_rng(seed).uniform(-0.17, 0.17, shape)
    rows = np.linspace(0.0, tapered, stations)[:, None] + 0.5 * oval * np.cos(2 * angles - tilt)
    step = 0.1 * THOU
    sizes = np.round((size + (rows + scatter) * THOU) / step) * step
    return SizeGrid(DEPTHS[:stations], angles, sizes)


sound = st.builds(
    honest_grid,
    shape=shapes,
    size=diameters,
    tapered=st.floats(-0.5, 0.5),
    oval=st.floats(0.0, 0.6),
    tilt=st.floats(0.0, math.pi),
    seed=seeds,
)


@given(grid=sound)
def test_honest_form_is_never_suspected(grid: SizeGrid) -> None:
    """Taper up to half a thou and an oval up to 0.6 thou raise nothing."""
    assert suspects(grid, standard=0.12 * THOU, turn=10.0 * THOU, part_expansion=21e-6) == ()


full_grids = st.builds(
    honest_grid,
    shape=st.just((4, 4)),
    size=st.floats(60e-3, 100e-3),
    tapered=st.floats(-0.5, 0.5),
    oval=st.floats(0.0, 0.6),
    tilt=st.floats(0.0, math.pi),
    seed=seeds,
)


@given(
    grid=full_grids,
    places=st.lists(st.integers(0, 15), min_size=2, max_size=2, unique=True),
    turns=st.sampled_from([-1, 1, 2]),
    rise=st.floats(35.0, 55.0),
)
@settings(max_examples=60)
def test_two_mistakes_are_found_wherever_they_are(
    grid: SizeGrid, places: list[int], turns: int, rise: float
) -> None:
    """A whole turn and a warm casting at any two places of a grid of four by four.

    The warm one is off by 1.7 thou at least, some seven doubts of a pair at one station.
    """
    sizes = grid.sizes.copy()
    turned, warmed = (divmod(place, 4) for place in places)
    sizes[turned] += turns * 10.0 * THOU
    sizes[warmed] *= 1.0 + 21e-6 * rise
    found = {
        (one.station_index, one.direction_index): one.reason
        for one in suspects(
            SizeGrid(grid.stations, grid.directions, sizes),
            standard=0.12 * THOU,
            turn=10.0 * THOU,
            part_expansion=21e-6,
        )
    }
    assert found == {turned: Slip.WHOLE_TURN, warmed: Slip.WARM_PART}


@given(grid=sound, shift=st.floats(-1e-3, 1e-3))
def test_moving_all_readings_moves_the_mean_and_no_form(grid: SizeGrid, shift: float) -> None:
    """A setting error is in the size and in nothing else."""
    moved = SizeGrid(grid.stations, grid.directions, grid.sizes + shift)
    assert abs(mean_size(moved) - mean_size(grid) - shift) < 1e-15
    assert abs(taper(moved).spread - taper(grid).spread) < 1e-14
    assert abs(out_of_round(moved).spread - out_of_round(grid).spread) < 1e-14
    assert abs(repeatability(moved).standard - repeatability(grid).standard) < 1e-13


@given(grid=sound, order=st.permutations(range(3)))
def test_order_of_the_stations_does_not_matter(grid: SizeGrid, order: list[int]) -> None:
    """Stations may be written down in any order."""
    rows = [*order, *range(3, grid.stations.size)]
    mixed = SizeGrid(grid.stations[rows], grid.directions, grid.sizes[rows])
    assert abs(mean_size(mixed) - mean_size(grid)) < 1e-15
    assert abs(taper(mixed).slope - taper(grid).slope) < 1e-12
    assert out_of_round(mixed).spread == out_of_round(grid).spread


@given(
    size=diameters,
    part=st.floats(0.0, 30e-6),
    gauge=st.floats(0.0, 30e-6),
    part_rise=st.floats(-60.0, 60.0),
    gauge_rise=st.floats(-20.0, 40.0),
)
def test_temperature_there_and_back(
    size: float, part: float, gauge: float, part_rise: float, gauge_rise: float
) -> None:
    """What a warm gauge shows of a warm part comes back to its size at 20 degC."""
    shown = size * (1.0 + part * part_rise) / (1.0 + gauge * gauge_rise)
    back = reading_at_reference(
        shown,
        part_expansion=part,
        part_temperature=293.15 + part_rise,
        gauge_expansion=gauge,
        gauge_temperature=293.15 + gauge_rise,
    )
    assert abs(back - size) < 1e-16 + 1e-12 * size


@given(
    spread=st.floats(0.0, 1e-3),
    scatter=st.floats(0.0, 1e-4),
    kind=st.sampled_from(list(Range)),
    shape=st.tuples(st.integers(2, 5), st.integers(2, 6)),
)
@settings(max_examples=40)
def test_bounds_of_form_hold_the_spread_and_never_go_below_zero(
    spread: float, scatter: float, kind: Range, shape: tuple[int, int]
) -> None:
    """More scatter widens the bounds; none leaves the spread itself."""
    found = form_doubt(
        spread,
        kind=kind,
        stations=shape[0],
        directions=shape[1],
        reading=Repeatability(scatter, 8.0),
    )
    assert 0.0 <= found.low <= spread <= found.high
    if scatter == 0.0:
        assert found.low == found.high == spread


angles_of = st.integers(8, 72).map(lambda count: np.arange(count) * 2.0 * math.pi / count)


@given(angles=angles_of, x=st.floats(-1e-4, 1e-4), y=st.floats(-1e-4, 1e-4), level=st.floats(-1, 1))
def test_sweep_finds_any_offset_whatever_the_zero(
    angles: np.ndarray, x: float, y: float, level: float
) -> None:
    """Where the dial stands at zero does not matter; the table mount mirrors Y."""
    readings = level * 1e-3 + x * np.cos(angles) + y * np.sin(angles)
    spindle = sweep_offset(angles, readings, mount=Mount.SPINDLE)
    table = sweep_offset(angles, readings, mount=Mount.TABLE)
    assert abs(spindle.move_x - x) < 1e-15
    assert abs(spindle.move_y - y) < 1e-15
    assert (table.move_x, table.move_y) == (spindle.move_x, -spindle.move_y)
    assert abs(spindle.total_swing - 2.0 * math.hypot(x, y)) < 1e-15


@given(
    centre=st.tuples(st.floats(-10.0, 10.0), st.floats(-10.0, 10.0)),
    radius=st.floats(1.0, 100.0),
    start=st.floats(0.0, 6.0),
    reach=st.floats(1.5, 6.28),
    count=st.integers(3, 40),
)
def test_circle_through_exact_points_is_found(
    centre: tuple[float, float], radius: float, start: float, reach: float, count: int
) -> None:
    """Any arc of a quarter turn or more gives its circle back."""
    x, y = centre
    angles = start + np.linspace(0.0, reach, count, endpoint=False)
    found = fit_circle(x + radius * np.cos(angles), y + radius * np.sin(angles))
    assert abs(found.x - x) < 1e-7 * radius
    assert abs(found.y - y) < 1e-7 * radius
    assert abs(found.radius - radius) < 1e-7 * radius
