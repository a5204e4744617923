"""From readings to sizes: temperature, means, taper, out-of-round, scatter."""

import math

import numpy as np
import pytest

from sleevewright.core.metrology.grid import (
    GridReadings,
    SizeGrid,
    mean_size,
    out_of_round,
    reading_at_reference,
    sizes_at_reference,
    station_means,
    taper,
)
from sleevewright.core.metrology.repeatability import (
    Repeatability,
    pooled_repeatability,
    repeatability,
)
from sleevewright.core.uncertainty.inputs import InputQuantity
from sleevewright.core.uncertainty.linear import LinearBudget, budget
from sleevewright.errors import InputError

THOU = 25.4e-6
DEPTHS = np.array([10e-3, 40e-3, 70e-3])
QUARTERS = np.radians([0.0, 45.0, 90.0, 135.0])
NAN = float("nan")


def grid_of(rows: list[list[float]]) -> SizeGrid:
    """Sizes in thou over 60 mm, at as many stations and directions as there are."""
    sizes = 60e-3 + np.array(rows) * THOU
    return SizeGrid(DEPTHS[: sizes.shape[0]], QUARTERS[: sizes.shape[1]], sizes)


def in_thou(size: float) -> float:
    """A size as thou over 60 mm."""
    return (size - 60e-3) / THOU


def test_each_reading_is_corrected_by_its_own_temperature() -> None:
    """A reading of a part 30 K warm and one at 20 degC come to the same size."""
    alpha = 23e-6
    warm = 60e-3 * (1.0 + alpha * 30.0)
    readings = GridReadings(
        DEPTHS[:1], QUARTERS[:2], np.array([[60e-3, warm]]), np.array([[293.15, 323.15]])
    )
    sizes = sizes_at_reference(readings, part_expansion=alpha, gauge_expansion=11.5e-6)
    np.testing.assert_allclose(sizes.sizes, 60e-3, rtol=1e-12)


def test_warm_gauge_reads_small() -> None:
    """A steel gauge 10 K warm shows 60 mm where 60.0069 mm are."""
    size = reading_at_reference(
        60e-3,
        part_expansion=0.0,
        part_temperature=293.15,
        gauge_expansion=11.5e-6,
        gauge_temperature=303.15,
    )
    assert size == pytest.approx(60.0069e-3, abs=1e-9)


def test_correction_takes_samples_and_uncertain_numbers() -> None:
    """The same closed form serves floats, arrays and uncertain numbers."""
    temperature = InputQuantity("room", 300.15, 2.0)
    number = reading_at_reference(
        60e-3,
        part_expansion=23e-6,
        part_temperature=LinearBudget().uncertain(temperature),
        gauge_expansion=0.0,
        gauge_temperature=293.15,
    )
    assert budget(number).standard == pytest.approx(60e-3 * 23e-6 * 2.0, rel=1e-3)
    array = reading_at_reference(
        np.array([60e-3, 60e-3]),
        part_expansion=23e-6,
        part_temperature=np.array([293.15, 303.15]),
        gauge_expansion=0.0,
        gauge_temperature=293.15,
    )
    assert array[0] - array[1] == pytest.approx(13.8e-6, rel=1e-3)


def test_mean_is_that_of_all_readings_where_none_is_missing() -> None:
    """Three stations by two directions."""
    assert in_thou(mean_size(grid_of([[1.0, 2.0], [3.0, 4.0], [5.0, 9.0]]))) == pytest.approx(4.0)


def test_missing_reading_on_the_long_axis_does_not_shrink_the_mean() -> None:
    """An oval of 2 thou with taper: the gap is filled by what its direction has in common."""
    full = [[1.0, 3.0], [2.0, 4.0], [3.0, 5.0]]
    gappy = [[1.0, 3.0], [2.0, NAN], [3.0, 5.0]]
    assert in_thou(mean_size(grid_of(gappy))) == pytest.approx(in_thou(mean_size(grid_of(full))))


def test_station_without_readings_does_not_count() -> None:
    """A row that was not read has no mean and takes no part."""
    means = station_means(grid_of([[1.0, 1.0], [NAN, NAN], [3.0, 3.0]]))
    assert math.isnan(means[1])
    assert in_thou(mean_size(grid_of([[1.0, 1.0], [NAN, NAN], [3.0, 3.0]]))) == pytest.approx(2.0)


def test_taper_has_a_sign_and_a_spread() -> None:
    """Larger at depth is positive; the spread never is negative."""
    bell = taper(grid_of([[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]]))
    assert bell.change == pytest.approx(2.0 * THOU)
    assert bell.slope == pytest.approx(2.0 * THOU / 60e-3)
    assert (bell.largest_station, bell.smallest_station) == (2, 0)
    worn = taper(grid_of([[5.0, 5.0], [1.0, 1.0], [2.0, 2.0]]))
    assert worn.change == pytest.approx(-3.0 * THOU)
    assert worn.spread == pytest.approx(4.0 * THOU)


def test_out_of_round_names_the_worst_station() -> None:
    """The largest difference at one station, not over the whole bore."""
    found = out_of_round(
        grid_of([[0.0, 1.0, 0.5, 0.5], [9.0, 9.0, 9.0, 9.0], [4.0, 2.0, 3.0, NAN]])
    )
    assert found.spread == pytest.approx(2.0 * THOU)
    assert found.station == 2


def test_form_takes_off_taper_and_a_shared_oval_before_scatter() -> None:
    """A grid that is all form has no scatter left, with 12 - 5 degrees of freedom."""
    oval = 0.3 * np.cos(2.0 * QUARTERS) + 0.2 * np.sin(2.0 * QUARTERS)
    rows = np.array([[0.0], [1.3], [0.4]]) + oval
    found = repeatability(grid_of(rows.tolist()))
    assert found.standard < 1e-12
    assert found.degrees_of_freedom == 7.0


def test_scatter_is_recovered() -> None:
    """Normal scatter of 0.2 thou in 400 grids, pooled, is found within two per cent."""
    stream = np.random.default_rng(12)
    squares = [
        repeatability(grid_of((0.2 * stream.standard_normal((3, 4))).tolist())).standard ** 2
        for _ in range(400)
    ]
    assert math.sqrt(np.mean(squares)) == pytest.approx(0.2 * THOU, rel=0.03)


def test_one_direction_says_nothing_of_scatter() -> None:
    """Zero degrees of freedom, and then the stated repeatability stands alone."""
    alone = repeatability(grid_of([[1.0], [2.0], [3.0]]))
    assert alone == Repeatability(0.0, 0.0)
    stated = Repeatability(0.1 * THOU, 8.0)
    assert pooled_repeatability(alone, stated) == stated


def test_pooling_weighs_by_degrees_of_freedom() -> None:
    """Squares 4 and 1 with 3 and 9 degrees of freedom: 1.75."""
    found = pooled_repeatability(Repeatability(2.0, 3.0), Repeatability(1.0, 9.0))
    assert found.standard == pytest.approx(math.sqrt(1.75))
    assert found.degrees_of_freedom == 12.0


def test_refusals_name_the_field() -> None:
    """Shapes that disagree, empty grids, one station for a taper, and so on."""
    with pytest.raises(InputError, match="3 stations by 4 directions"):
        SizeGrid(DEPTHS, QUARTERS, np.zeros((2, 4)))
    with pytest.raises(InputError, match="at least one reading"):
        grid_of([[NAN, NAN]])
    with pytest.raises(InputError, match="stations"):
        taper(grid_of([[1.0, 2.0]]))
    with pytest.raises(InputError, match="directions"):
        out_of_round(grid_of([[1.0], [2.0]]))
    with pytest.raises(InputError, match="part temperatures"):
        GridReadings(DEPTHS, QUARTERS, np.ones((3, 4)), np.ones((2, 4)))
    unknown = GridReadings(DEPTHS[:1], QUARTERS[:1], np.ones((1, 1)), np.full((1, 1), NAN))
    with pytest.raises(InputError, match="part temperatures"):
        sizes_at_reference(unknown, part_expansion=1e-5, gauge_expansion=1e-5)
    with pytest.raises(InputError, match="part temperature"):
        sizes_at_reference(
            GridReadings(DEPTHS[:1], QUARTERS[:1], np.ones((1, 1)), -5.0),
            part_expansion=1e-5,
            gauge_expansion=1e-5,
        )
    with pytest.raises(InputError, match="finite numbers"):
        SizeGrid(np.array([NAN]), QUARTERS[:1], np.ones((1, 1)))
    with pytest.raises(InputError, match="repeatability"):
        pooled_repeatability(Repeatability(0.0, 0.0), Repeatability(0.0, 0.0))
