"""A grid sampled reading by reading: the second road to the doubt of its size and form.

The plan samples the mean size as one quantity.  Here every reading is drawn with its own
scatter and its own rounding, and with what all readings share: the error of the setting,
rounding that goes the same way in all, the temperatures, both expansions.  Size, taper and
out-of-round are then taken of each drawn grid, as the bench takes them of the one that was
read.  Readings are drawn in blocks that fit the processor's cache and are never kept.
Diametral, or axial for a depth; 20 degC.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, not_negative
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings, station_weights
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.rounding import without_rounding
from sleevewright.core.metrology.size import SizeInputs
from sleevewright.core.uncertainty.inputs import (
    BUDGET_COUNT,
    DEFAULT_SEED,
    InputQuantity,
    Streams,
)
from sleevewright.errors import InputError

Array = NDArray[np.float64]

BLOCK_CELLS = 32_768
"""Readings of all grids of a block together: a quarter of a megabyte, in the cache. [1]"""

SHARED = (
    "part_expansion",
    "gauge_expansion",
    "setting_error",
    "drift_error",
    "form",
    "part_temperature",
    "gauge_temperature",
)
"""What all readings of a grid have in common."""


@dataclass(frozen=True, eq=False)
class GridErrors:
    """What may be off in the readings of one grid.

    What is shared by all readings comes as a number or as samples of it, shape
    (n_samples,), so that grids that share a gauge share its samples.  Errors are added to
    what was read.

    Parameters
    ----------
    feature : str
        Name of the feature, with which the names of its readings begin. [text]
    readings : GridReadings
        The readings that count. [record]
    reading : Repeatability
        Scatter of one reading without rounding, and how well it is known. [m]
    rounding : float
        Width within which each reading is rounded for itself. [m]
    part_expansion : Number
        Mean expansion coefficient of the part from 20 degC. [1/K]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge's scale. [1/K]
    setting_error : Number
        Error of the setting, of all its masters together, and of rounding that all
        readings share. [m]
    drift_error : Number
        What the gauge has strayed by at the last reading, from nothing at the first,
        evenly from reading to reading along the rows. [m]
    form : Number
        What a mean over few stations misses; it goes into the size alone. [m]
    part_temperature : Number
        Error of the part's temperature. [K]
    gauge_temperature : Number
        Error of the gauge's temperature. [K]
    """

    feature: str
    readings: GridReadings
    reading: Repeatability
    rounding: float
    part_expansion: Number
    gauge_expansion: Number
    setting_error: Number = 0.0
    drift_error: Number = 0.0
    form: Number = 0.0
    part_temperature: Number = 0.0
    gauge_temperature: Number = 0.0

    def __post_init__(self) -> None:
        """Refuse what cannot be a gauge."""
        not_negative(f"{self.feature}, rounding", self.rounding, "m")
        not_negative(f"{self.feature}, repeatability", self.reading.standard, "m")


def grid_errors(
    readings: GridReadings,
    inputs: SizeInputs,
    *,
    feature: str,
    of: Callable[[InputQuantity], Number],
    part_expansion: Number,
    gauge_expansion: Number,
) -> GridErrors:
    """What may be off in the readings behind a mean size, from the inputs of its budget.

    Parameters
    ----------
    readings : GridReadings
        The readings that count. [record]
    inputs : SizeInputs
        The named inputs of the mean size. [record]
    feature : str
        Name of the feature. [text]
    of : Callable[[InputQuantity], Number]
        What stands for an input: a draw for samples. [own unit]
    part_expansion : Number
        Mean expansion coefficient of the part from 20 degC. [1/K]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge's scale. [1/K]

    Returns
    -------
    GridErrors
        The same doubts, reading by reading. [record]

    Notes
    -----
    The scatter of the budget has each reading's own rounding in it; here that is drawn by
    itself, so it is taken off. Source: ``derived``.
    """
    shared: Number = of(inputs.resolution)
    for setting in inputs.settings:
        shared = shared + of(setting)
    return GridErrors(
        feature,
        readings,
        without_rounding(inputs.reading, rounding=inputs.rounding),
        inputs.rounding,
        part_expansion=part_expansion,
        gauge_expansion=gauge_expansion,
        setting_error=shared,
        form=of(inputs.form),
        part_temperature=of(inputs.part_temperature),
        gauge_temperature=of(inputs.gauge_temperature),
    )


@dataclass(frozen=True, eq=False)
class GridSamples:
    """What the drawn grids say, shape (n_samples,); ``None`` where the grid cannot tell.

    ``taper`` is largest less smallest station mean and ``out_of_round`` largest less
    smallest diameter at the worst station: noise makes both grow, in what was read and
    once more in each drawn grid.  ``slope`` has its sign and no such growth.
    """

    size: Array
    taper: Array | None
    slope: Array | None
    out_of_round: Array | None


@dataclass(frozen=True, eq=False)
class _Layout:
    """The readings of a grid one below the other, station after station."""

    read: Array  # (n_readings, 1)
    rises: Array  # of the part above 20 degC: (n_readings, 1), or (1, 1) where all are alike
    gauge_rise: float
    order: Array  # (n_readings, 1), from 0 at the first reading to 1 at the last
    weights: Array  # (n_stations read, n_readings): from readings to station means
    depths: Array  # (n_stations read,)
    groups: tuple[slice, ...]  # readings of each station that was read in two directions


def _layout(errors: GridErrors) -> _Layout:
    """Where each reading that counts stands."""
    readings = errors.readings
    present = np.isfinite(readings.readings)
    warm = np.broadcast_to(np.asarray(readings.part_temperature), present.shape)[present]
    if np.ptp(warm) == 0.0:
        warm = warm[:1]
    stations = present.any(axis=1)
    ends = np.cumsum(present.sum(axis=1)[stations])
    return _Layout(
        readings.readings[present][:, None],
        warm[:, None] - REFERENCE_TEMPERATURE,
        readings.gauge_temperature - REFERENCE_TEMPERATURE,
        np.linspace(0.0, 1.0, int(present.sum()))[:, None],
        station_weights(present)[stations],
        readings.stations[stations],
        tuple(slice(a, b) for a, b in pairwise((0, *ends.tolist())) if b - a > 1),
    )


@formula(
    name="grid sampled reading by reading",
    expression="size_ij = (read_ij + setting_error + drift_error_ij + scatter_ij "
    "+ rounding_ij) "
    "(1 + gauge_expansion gauge_rise) / (1 + part_expansion part_rise_ij)",
    sources=("jcgm-101", "iso-1", "derived"),
    validity="scatter and own rounding independent from reading to reading",
    unit="m",
)
def sample_grid(
    errors: GridErrors, *, count: int = BUDGET_COUNT, seed: int = DEFAULT_SEED
) -> GridSamples:
    """Size, taper and out-of-round of a grid of which every reading is drawn.

    Parameters
    ----------
    errors : GridErrors
        The readings and what may be off in them. [record]
    count : int
        How many grids are drawn. [1]
    seed : int
        Seed that all streams share. [1]

    Returns
    -------
    GridSamples
        What each drawn grid says. [m]

    Raises
    ------
    InputError
        If shared samples are not ``count`` long, or ``count`` is below two.

    Notes
    -----
    The scatter is a t deviate with one unknown scale for the whole grid. Each reading has
    a stream of its own. Source: ``jcgm-101`` clause 7 and 6.4.9, ``iso-1``, ``derived``.
    """
    _check(errors, count)
    layout = _layout(errors)
    draws = _Draws(errors, layout, Streams(seed), count)
    found = np.full((4, count), np.nan)
    for start in range(0, count, draws.block):
        part = slice(start, min(start + draws.block, count))
        found[:, part] = _reduced(layout, draws.next(part.stop - start), _shared(errors, part))
    has_depths = layout.depths.size > 1 and np.ptp(layout.depths) > 0.0
    return GridSamples(
        size=found[0],
        taper=found[1] if has_depths else None,
        slope=found[2] if has_depths else None,
        out_of_round=found[3] if layout.groups else None,
    )


def _check(errors: GridErrors, count: int) -> None:
    """Two samples at least, and as many of everything that comes as samples."""
    if count < 2:
        raise InputError("count of samples", count, "", "two or more")
    for name in SHARED:
        value = np.asarray(getattr(errors, name))
        if value.ndim and value.shape != (count,):
            allowed = f"a number, or {count} samples like the readings"
            raise InputError(f"{errors.feature}, {name}", f"shape {value.shape}", "", allowed)


class _Draws:
    """The readings with their own errors, block after block into the same memory."""

    def __init__(self, errors: GridErrors, layout: _Layout, streams: Streams, count: int) -> None:
        self._errors = errors
        self._layout = layout
        self._streams = streams
        readings = layout.read.size
        self.block = min(max(BLOCK_CELLS // readings, 256), count)
        self._cells, self._rounding = np.empty((2, readings, self.block))
        self._names = [f"{errors.feature}: reading {index + 1}" for index in range(readings)]

    def next(self, count: int) -> Array:
        """The next readings, each with its scatter and its rounding, shape (readings, count)."""
        errors, streams, known = self._errors, self._streams, self._errors.reading
        cells = self._cells[:, :count]
        for name, row in zip(self._names, cells, strict=True):
            streams.spread(name).standard_normal(out=row)
        cells *= known.standard * streams.scale(errors.feature, known.degrees_of_freedom, count)
        if errors.rounding:
            rounding = self._rounding[:, :count]
            for name, row in zip(self._names, rounding, strict=True):
                streams.spread(f"{name}, rounding").random(out=row)
            rounding *= errors.rounding
            cells += rounding
        cells += self._layout.read - 0.5 * errors.rounding
        return cells


def _shared(errors: GridErrors, part: slice) -> dict[str, Any]:
    """What all readings of a block share: a number, or its samples of the block."""
    values = {name: getattr(errors, name) for name in SHARED}
    return {
        name: value[part] if isinstance(value, np.ndarray) and value.ndim else value
        for name, value in values.items()
    }


def _reduced(layout: _Layout, cells: Array, shared: dict[str, Any]) -> Array:
    """Size, taper, slope and out-of-round of a block of grids; the cells are used up."""
    if np.any(shared["drift_error"]):
        cells += layout.order * shared["drift_error"]
    part = 1.0 + shared["part_expansion"] * (layout.rises + shared["part_temperature"])
    gauge = layout.gauge_rise + shared["gauge_temperature"]
    factor = (1.0 + shared["gauge_expansion"] * gauge) / part
    if factor.shape[0] > 1:  # readings at temperatures of their own
        cells += shared["setting_error"]
        cells *= factor
        means, growth = layout.weights @ cells, np.ones(1)
    else:
        means, growth = (layout.weights @ cells + shared["setting_error"]) * factor, factor[0]
    found = np.full((4, cells.shape[1]), np.nan)
    found[0] = means.mean(axis=0) + shared["form"]
    found[1] = means.max(axis=0) - means.min(axis=0)
    away = layout.depths - layout.depths.mean()
    found[2] = away @ means / max(float(away @ away), np.finfo(float).tiny)
    if layout.groups:
        ranges = [cells[one].max(axis=0) - cells[one].min(axis=0) for one in layout.groups]
        found[3] = np.max(ranges, axis=0) * growth
    return found
