"""Readings of one feature, station by direction, and what they say of its size and form.

Stations are depths from the deck downwards; directions are angles about the axis,
counter-clockwise seen from above.  All sizes are diametral (or axial, for a depth).
Readings become sizes at 20 degC first, each by its own temperature; everything else is
computed from those sizes.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, positive
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class GridReadings:
    """Readings as they were taken, not yet corrected for any temperature.

    Parameters
    ----------
    stations : Array
        Depth of each station, shape (n_stations,). [m]
    directions : Array
        Angle of each direction, shape (n_directions,). [rad]
    readings : Array
        What was read, shape (n_stations, n_directions), NaN where nothing was. [m]
    part_temperature : float | Array
        Of the part: one for all, or one for each reading. [K]
    gauge_temperature : float
        Of the gauge; its scale, or the master that it was set on, is right at 20 degC. [K]
    """

    stations: Array
    directions: Array
    readings: Array
    part_temperature: float | Array = REFERENCE_TEMPERATURE
    gauge_temperature: float = REFERENCE_TEMPERATURE

    def __post_init__(self) -> None:
        """Refuse a grid whose shapes disagree or that holds no reading."""
        _check_shape(self.stations, self.directions, self.readings)
        warm = np.asarray(self.part_temperature)
        if warm.ndim and warm.shape != self.readings.shape:
            allowed = f"one for all, or {self.readings.shape} like the readings"
            raise InputError("part temperatures", f"shape {warm.shape}", "", allowed)


@dataclass(frozen=True, eq=False)
class SizeGrid:
    """Sizes in m at 20 degC, one row a station, NaN where nothing was read."""

    stations: Array
    directions: Array
    sizes: Array
    present: NDArray[np.bool_] = field(init=False)

    def __post_init__(self) -> None:
        """Check the shapes once and note which cells hold a size."""
        _check_shape(self.stations, self.directions, self.sizes)
        object.__setattr__(self, "present", np.isfinite(self.sizes))


def _check_shape(stations: Array, directions: Array, values: Array) -> None:
    """Both axes finite, one cell for each pair, at least one of them read."""
    if values.shape != (stations.size, directions.size):
        allowed = f"{stations.size} stations by {directions.size} directions"
        raise InputError("grid", f"shape {values.shape}", "", allowed)
    if not (np.isfinite(stations).all() and np.isfinite(directions).all()):
        raise InputError("stations and directions", "not finite", "", "finite numbers")
    if not np.isfinite(values).any():
        raise InputError("grid", "no reading", "", "at least one reading")


@formula(
    name="reading at 20 degC",
    expression="size = reading (1 + gauge_expansion (T_gauge - 293.15)) "
    "/ (1 + part_expansion (T_part - 293.15))",
    sources=("iso-1", "derived"),
    validity="part and gauge each at one temperature, mean coefficients from 20 degC",
    unit="m",
)
def reading_at_reference(
    reading: Number,
    *,
    part_expansion: Number,
    part_temperature: Number,
    gauge_expansion: Number,
    gauge_temperature: Number,
) -> Number:
    """Size that a part has at 20 degC, from a reading taken at other temperatures.

    Parameters
    ----------
    reading : Number
        What the gauge showed. [m]
    part_expansion : Number
        Mean expansion coefficient of the part from 20 degC. [1/K]
    part_temperature : Number
        Temperature of the part. [K]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge's scale, or of its setting master. [1/K]
    gauge_temperature : Number
        Temperature of the gauge. [K]

    Returns
    -------
    Number
        Size at 20 degC. [m]

    Raises
    ------
    InputError
        If a temperature is at or below absolute zero.

    Notes
    -----
    A warm part reads large, a warm gauge reads small. A gauge set on a master of its own
    expansion at the temperature of the master needs no more than this. Source: ``iso-1``
    for the reference, ``derived``.

    Examples
    --------
    >>> warm = 301.15
    >>> size = reading_at_reference(
    ...     0.058, part_expansion=23e-6, part_temperature=warm,
    ...     gauge_expansion=11.5e-6, gauge_temperature=warm)
    >>> round((0.058 - size) * 1e6, 2)
    5.34
    """
    gauge = positive("gauge temperature", gauge_temperature, "K") - REFERENCE_TEMPERATURE
    part = positive("part temperature", part_temperature, "K") - REFERENCE_TEMPERATURE
    return reading * (1.0 + gauge_expansion * gauge) / (1.0 + part_expansion * part)


def sizes_at_reference(
    grid: GridReadings, *, part_expansion: float, gauge_expansion: float
) -> SizeGrid:
    """All readings of a grid as sizes at 20 degC, each by its own temperature.

    Parameters
    ----------
    grid : GridReadings
        The readings. [record]
    part_expansion : float
        Mean expansion coefficient of the part from 20 degC. [1/K]
    gauge_expansion : float
        Mean expansion coefficient of the gauge's scale. [1/K]

    Returns
    -------
    SizeGrid
        Sizes at 20 degC, blank where nothing was read. [m]

    Raises
    ------
    InputError
        If a reading has no temperature, or one at or below absolute zero.

    Notes
    -----
    Source: ``iso-1``, ``derived``, as :func:`reading_at_reference`.
    """
    warm = np.broadcast_to(np.asarray(grid.part_temperature, dtype=np.float64), grid.readings.shape)
    known = np.isfinite(warm) | np.isnan(grid.readings)
    if not known.all():
        raise InputError("part temperatures", "not a number", "", "one for every reading")
    sizes = reading_at_reference(
        grid.readings,
        part_expansion=part_expansion,
        part_temperature=np.where(np.isfinite(warm), warm, REFERENCE_TEMPERATURE),
        gauge_expansion=gauge_expansion,
        gauge_temperature=grid.gauge_temperature,
    )
    return SizeGrid(grid.stations, grid.directions, np.asarray(sizes))


@formula(
    name="station means",
    expression="mean over directions; station + direction by least squares where some are missing",
    sources=("derived",),
    validity="directions that lack readings somewhere are alike at all stations",
    unit="m",
)
def station_means(grid: SizeGrid) -> Array:
    """Mean size at each station.

    Parameters
    ----------
    grid : SizeGrid
        Sizes at 20 degC. [m]

    Returns
    -------
    Array
        Means, NaN where nothing was read, shape (n_stations,). [m]

    Notes
    -----
    Where readings are missing, what their direction has in common at the other stations
    stands in for them, so that a gap on the long axis of an oval bore does not make it
    look small. Source: ``derived``.
    """
    if grid.present.all():
        means: Array = grid.sizes.mean(axis=1)
        return means
    stations = grid.stations.size
    centre = float(grid.sizes[grid.present].mean())
    design = _station_design(grid.present)
    fitted = np.linalg.lstsq(design, grid.sizes[grid.present] - centre, rcond=None)[0]
    return np.where(grid.present.any(axis=1), fitted[:stations] + centre, np.nan)


def _station_design(present: NDArray[np.bool_]) -> Array:
    """Columns of stations, then of directions, for the readings that there are."""
    used = present.any(axis=0)
    row, column = np.nonzero(present)
    contrast = np.eye(present.shape[1])[:, used] - 1.0 / used.sum()  # directions sum to zero
    return np.hstack([np.eye(present.shape[0])[row], contrast[column]])


@formula(
    name="weights of readings in a station's mean",
    expression="rows of the pseudo-inverse of the design of stations and directions",
    sources=("derived",),
    validity="as the station means",
    unit="1",
)
def station_weights(present: NDArray[np.bool_]) -> NDArray[np.float64]:
    """How much each reading counts in the mean of each station.

    Parameters
    ----------
    present : NDArray[np.bool_]
        Which cells of the grid were read, shape (n_stations, n_directions). [1]

    Returns
    -------
    NDArray[np.float64]
        Weights, shape (n_stations, n_readings), readings in the order of the rows; a
        station without a reading has a row of zeros. [1]

    Notes
    -----
    The same least squares as :func:`station_means`, written as a matrix. Source:
    ``derived``.

    Examples
    --------
    >>> station_weights(np.array([[True, True], [True, True]]))
    array([[0.5, 0.5, 0. , 0. ],
           [0. , 0. , 0.5, 0.5]])
    """
    stations, directions = present.shape
    if present.all():
        return np.kron(np.eye(stations), np.full((1, directions), 1.0 / directions))
    inverse = np.asarray(np.linalg.pinv(_station_design(present)), dtype=np.float64)
    read: NDArray[np.bool_] = np.any(present, axis=1, keepdims=True)
    return np.where(read, inverse[:stations], 0.0)


@formula(
    name="mean size",
    expression="mean of the station means, each the mean over its directions",
    sources=("derived",),
    validity="readings spread over the surface",
    unit="m",
)
def mean_size(grid: SizeGrid) -> float:
    """Mean size of a feature at 20 degC.

    Parameters
    ----------
    grid : SizeGrid
        Sizes at 20 degC. [m]

    Returns
    -------
    float
        Mean size. [m]

    Notes
    -----
    Every station counts the same. Source: ``derived``.
    """
    return float(np.nanmean(station_means(grid)))


@dataclass(frozen=True)
class Taper:
    """How the size changes with depth, from station means.

    ``slope`` is that of the straight line, positive where the size grows with depth;
    ``change`` is the slope over the depth that was measured; ``spread`` is the largest
    station mean less the smallest, never negative.
    """

    spread: float
    slope: float
    change: float
    largest_station: int
    smallest_station: int


@formula(
    name="taper",
    expression="spread = max - min of station means; slope of their line over depth",
    sources=("practice", "derived"),
    validity="two stations at least, at different depths",
    unit="m",
)
def taper(grid: SizeGrid) -> Taper:
    """Change of size along the depth, positive where it grows downwards.

    Parameters
    ----------
    grid : SizeGrid
        Sizes at 20 degC. [m]

    Returns
    -------
    Taper
        Spread, slope and change of the station means. [m]

    Raises
    ------
    InputError
        If fewer than two stations at different depths were read.

    Notes
    -----
    Largest less smallest is what workshop manuals call taper. Source: ``practice``;
    slope by least squares, ``derived``.
    """
    means = station_means(grid)
    read = np.isfinite(means)
    depths = grid.stations[read]
    if depths.size < 2 or np.ptp(depths) == 0.0:
        raise InputError("stations", int(depths.size), "", "two or more at different depths")
    away = depths - depths.mean()
    slope = float(away @ means[read] / (away @ away))
    largest, smallest = int(np.nanargmax(means)), int(np.nanargmin(means))
    spread = float(means[largest] - means[smallest])
    return Taper(spread, slope, slope * float(np.ptp(depths)), largest, smallest)


@dataclass(frozen=True)
class OutOfRound:
    """Largest less smallest reading at the worst station, never negative."""

    spread: float
    station: int


@formula(
    name="out-of-round",
    expression="max over stations of (max - min over the directions of one station)",
    sources=("practice",),
    validity="two-point gauge: an odd number of lobes cannot be seen",
    unit="m",
)
def out_of_round(grid: SizeGrid) -> OutOfRound:
    """Largest difference of diameter at one station, and which station that is.

    Parameters
    ----------
    grid : SizeGrid
        Sizes at 20 degC. [m]

    Returns
    -------
    OutOfRound
        Difference of two diameters, and the index of the station. [m]

    Raises
    ------
    InputError
        If no station was read in two directions.

    Notes
    -----
    The definition of workshop manuals, of diameters and not of radii. Source: ``practice``.
    """
    able = grid.present.sum(axis=1) >= 2
    if not able.any():
        raise InputError("directions", 1, "", "two or more at one station")
    high = np.where(grid.present, grid.sizes, -np.inf).max(axis=1)
    low = np.where(grid.present, grid.sizes, np.inf).min(axis=1)
    spread = np.where(able, high - low, -np.inf)
    worst = int(np.argmax(spread))
    return OutOfRound(float(spread[worst]), worst)
