"""A grid drawn reading by reading: blocks, gaps, temperatures, what is shared."""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from sleevewright.core.metrology import gridsamples
from sleevewright.core.metrology.grid import (
    GridReadings,
    SizeGrid,
    mean_size,
    sizes_at_reference,
    station_means,
    station_weights,
    taper,
)
from sleevewright.core.metrology.gridsamples import GridErrors, sample_grid
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.uncertainty.inputs import InputQuantity, Shape, Streams, draw
from sleevewright.errors import InputError

IRON, STEEL = 10.7e-6, 11.5e-6
EXACT = Repeatability(0.0, math.inf)


def readings(*, gap: bool = False, warm: bool = False) -> GridReadings:
    """Three stations by four directions with taper and oval, read at 22 degC."""
    read = 0.06 + 1e-6 * np.array(
        [[1.0, 3.0, 2.0, 0.0], [2.0, 5.0, 3.0, 1.0], [6.0, 8.0, 6.0, 3.0]]
    )
    if gap:
        read[1, 1] = read[2, 0] = np.nan
    part = 295.15 + (np.arange(12.0).reshape(3, 4) if warm else 0.0)
    stations, turns = np.array([0.01, 0.03, 0.07]), np.arange(4) * math.pi / 4.0
    return GridReadings(stations, turns, read, part, 294.15)


def errors(grid: GridReadings, **told: Any) -> GridErrors:
    """Exact readings, with whatever is told to be off."""
    plain = GridErrors("bore", grid, EXACT, 0.0, part_expansion=IRON, gauge_expansion=STEEL)
    return replace(plain, **told)


@pytest.mark.parametrize(
    "quantity",
    [
        InputQuantity("normal", 1.0, 2.0),
        InputQuantity("t", 0.0, 1.0, 7.0),
        InputQuantity("even", 0.0, 1.0, shape=Shape.RECTANGULAR),
        InputQuantity("log", 3.0, 0.2, shape=Shape.LOGNORMAL),
        InputQuantity("known", 4.0, 0.0),
    ],
)
def test_blocks_of_a_stream_are_the_draw_itself(quantity: InputQuantity) -> None:
    """Blocks of any length, put one after another, are the numbers of one draw."""
    streams = Streams()
    taken = np.concatenate([streams.take(quantity, count) for count in (1, 100, 7, 892)])
    assert np.array_equal(taken, draw(quantity, count=1000))


@pytest.mark.parametrize("gap", [False, True])
@pytest.mark.parametrize("warm", [False, True])
def test_without_errors_every_grid_says_what_was_read(*, gap: bool, warm: bool) -> None:
    """Size, taper, slope and out-of-round are those of the grid, gaps and warmth or not."""
    grid = readings(gap=gap, warm=warm)
    sizes = sizes_at_reference(grid, part_expansion=IRON, gauge_expansion=STEEL)
    found = sample_grid(errors(grid), count=3)
    along = taper(sizes)
    high = np.nanmax(sizes.sizes, axis=1) - np.nanmin(sizes.sizes, axis=1)
    for samples, value in (
        (found.size, mean_size(sizes)),
        (found.taper, along.spread),
        (found.slope, along.slope),
        (found.out_of_round, high.max()),
    ):
        assert samples is not None
        np.testing.assert_allclose(samples, value, rtol=1e-9, atol=1e-15)


def test_the_length_of_a_block_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each reading has a stream of its own, read on from block to block."""
    noisy = errors(readings(), reading=Repeatability(2e-6, 9.0), rounding=1e-6)
    whole = sample_grid(noisy, count=1000)
    monkeypatch.setattr(gridsamples, "BLOCK_CELLS", 12 * 300)
    np.testing.assert_array_equal(sample_grid(noisy, count=1000).size, whole.size)
    np.testing.assert_array_equal(sample_grid(noisy, count=400).size, whole.size[:400])


def test_own_errors_average_out_and_shared_ones_do_not() -> None:
    """Scatter and own rounding fall with the root of the readings, a setting does not."""
    grid = readings()
    own = sample_grid(
        errors(grid, reading=Repeatability(2e-6, math.inf), rounding=3e-6), count=40_000
    )
    expected = math.hypot(2e-6, 3e-6 / math.sqrt(12.0)) / math.sqrt(12.0)
    assert own.size.std() == pytest.approx(expected, rel=0.02)
    setting = draw(InputQuantity("ring", 0.0, 1e-6), count=40_000)
    shared = sample_grid(errors(grid, setting_error=setting), count=40_000)
    np.testing.assert_allclose(
        shared.size - shared.size.mean(), setting - setting.mean(), rtol=1e-3
    )
    assert shared.out_of_round is not None
    assert np.ptp(shared.out_of_round) < 1e-15


def test_a_drift_grows_from_reading_to_reading() -> None:
    """Half of it is in the mean of a whole grid, and it looks like a taper."""
    flat = replace(readings(), readings=np.full((3, 4), 0.06))
    plain, drifted = (sample_grid(errors(flat, drift_error=one), count=2) for one in (0.0, 1.1e-6))
    np.testing.assert_allclose(drifted.size - plain.size, 0.55e-6, rtol=1e-4)
    assert drifted.taper is not None
    np.testing.assert_allclose(drifted.taper, 0.8e-6, rtol=1e-4)


def test_ranges_grow_by_noise_and_the_slope_does_not() -> None:
    """A perfect part looks out of round and tapered; its slope is nought on average."""
    flat = replace(readings(), readings=np.full((3, 4), 0.06))
    found = sample_grid(errors(flat, reading=Repeatability(1e-6, math.inf)), count=20_000)
    assert found.out_of_round is not None
    assert found.slope is not None
    # Largest of three ranges of four normals: 2.059 on average for one (Tippett 1925).
    assert found.out_of_round.mean() > 2.059e-6
    assert abs(found.slope.mean()) < 3.0 * found.slope.std() / math.sqrt(20_000)


def test_one_station_has_no_taper_and_one_direction_no_roundness() -> None:
    """What a grid cannot tell is not there, never a zero."""
    line = GridReadings(np.array([0.01, 0.02]), np.zeros(1), np.full((2, 1), 0.06))
    ring = GridReadings(np.zeros(1), np.array([0.0, 1.0]), np.full((1, 2), 0.06))
    assert sample_grid(errors(line), count=2).out_of_round is None
    assert sample_grid(errors(ring), count=2).taper is None
    assert sample_grid(errors(ring), count=2).slope is None


def test_weights_are_the_station_means() -> None:
    """Weights times readings are the means that the bench is shown, gaps or not."""
    for gap in (False, True):
        grid = readings(gap=gap)
        sizes = SizeGrid(grid.stations, grid.directions, grid.readings)
        weighed = station_weights(sizes.present) @ sizes.sizes[sizes.present]
        np.testing.assert_allclose(weighed, station_means(sizes), rtol=1e-12)


def test_samples_of_another_length_are_refused() -> None:
    """The message names the feature and how many there should be."""
    with pytest.raises(InputError, match=r"bore, setting_error: .*100 samples"):
        sample_grid(errors(readings(), setting_error=np.zeros(99)), count=100)
    with pytest.raises(InputError, match="two or more"):
        sample_grid(errors(readings()), count=1)
    with pytest.raises(InputError, match="bore, rounding"):
        errors(readings(), rounding=-1e-6)
