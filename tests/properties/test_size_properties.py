"""What the size and the form of a grid must not depend on."""

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.core.metrology.grid import SizeGrid, mean_size, out_of_round, taper

microns = st.floats(-20.0, 20.0)
tables = st.integers(2, 5).flatmap(
    lambda rows: st.integers(2, 6).flatmap(
        lambda columns: st.lists(
            st.lists(microns, min_size=columns, max_size=columns), min_size=rows, max_size=rows
        )
    )
)
SIZE = 0.06


def grid_of(table: list[list[float]]) -> SizeGrid:
    """Sizes a few micrometres about 60 mm, stations 11 mm apart."""
    sizes = SIZE + 1e-6 * np.array(table)
    turns = np.arange(sizes.shape[1]) * math.pi / sizes.shape[1]
    return SizeGrid(0.01 + 0.011 * np.arange(sizes.shape[0]), turns, sizes)


def figures(grid: SizeGrid) -> np.ndarray:
    """Mean size, largest less smallest mean, slope, out-of-round."""
    along = taper(grid)
    return np.array([mean_size(grid), along.spread, along.slope, out_of_round(grid).spread])


@given(table=tables, seed=st.integers(0, 99))
def test_the_order_of_stations_and_directions_changes_nothing(
    table: list[list[float]], seed: int
) -> None:
    """Whoever reads bottom up, or starts at another mark, finds the same."""
    grid, random = grid_of(table), np.random.default_rng(seed)
    rows = random.permutation(grid.stations.size)
    columns = random.permutation(grid.directions.size)
    mixed = SizeGrid(
        grid.stations[rows], grid.directions[columns], grid.sizes[np.ix_(rows, columns)]
    )
    np.testing.assert_allclose(figures(mixed), figures(grid), rtol=1e-9, atol=1e-15)


@given(table=tables, turn=st.floats(-3.0, 3.0))
def test_turning_the_part_changes_nothing(table: list[list[float]], turn: float) -> None:
    """Angles counted from another mark leave size, taper and out-of-round alone."""
    grid = grid_of(table)
    turned = SizeGrid(grid.stations, grid.directions + turn, grid.sizes)
    np.testing.assert_allclose(figures(turned), figures(grid), rtol=1e-12)


@given(table=tables, depth=st.floats(-0.1, 0.1), more=st.floats(-1e-3, 1e-3))
def test_moving_depths_and_sizes_moves_the_mean_alone(
    table: list[list[float]], depth: float, more: float
) -> None:
    """Depths from another face, and a part larger all over, leave every form alone."""
    grid = grid_of(table)
    moved = SizeGrid(grid.stations + depth, grid.directions, grid.sizes + more)
    wanted = figures(grid) + np.array([more, 0.0, 0.0, 0.0])
    np.testing.assert_allclose(figures(moved), wanted, rtol=1e-9, atol=1e-13)


@given(table=tables, scale=st.floats(0.1, 10.0))
def test_a_part_of_another_scale_has_all_of_it_by_that_scale(
    table: list[list[float]], scale: float
) -> None:
    """Sizes and depths times a factor: lengths follow, the slope stays."""
    grid = grid_of(table)
    scaled = SizeGrid(grid.stations * scale, grid.directions, grid.sizes * scale)
    wanted = figures(grid) * np.array([scale, scale, 1.0, scale])
    np.testing.assert_allclose(figures(scaled), wanted, rtol=1e-9, atol=1e-13)


@given(table=tables)
def test_turning_the_part_over_turns_the_slope(table: list[list[float]]) -> None:
    """Bottom for top: the slope changes its sign and nothing else changes."""
    grid = grid_of(table)
    over = SizeGrid(-grid.stations, grid.directions, grid.sizes)
    wanted = figures(grid) * np.array([1.0, 1.0, -1.0, 1.0])
    np.testing.assert_allclose(figures(over), wanted, rtol=1e-9, atol=1e-15)
