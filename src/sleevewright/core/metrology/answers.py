"""Single numbers from a grid of readings, each by one named relation.

The plan asks for numbers one by one, each with a way back to the readings; these
functions give them.  Diametral, at 20 degC; depths count downwards from the deck.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import (
    GridReadings,
    SizeGrid,
    mean_size,
    out_of_round,
    sizes_at_reference,
    taper,
)


@formula(
    name="readings that count",
    expression="all readings but those held back",
    sources=("practice",),
    validity="a held reading is one to take again, never one to forget",
    unit="m",
)
def readings_kept(*, readings: GridReadings, held: tuple[tuple[float, ...], ...]) -> GridReadings:
    """Readings of a grid without those that are held until they are taken again.

    Parameters
    ----------
    readings : GridReadings
        Everything that was read. [m]
    held : tuple[tuple[float, ...], ...]
        Station and direction index of each reading that is held back. [1]

    Returns
    -------
    GridReadings
        The same grid with the held readings blank. [m]

    Notes
    -----
    Source: ``practice``.
    """
    kept: NDArray[np.float64] = np.array(readings.readings, dtype=np.float64)
    for station, direction in held:
        kept[int(station), int(direction)] = np.nan
    return replace(readings, readings=kept)


def _sizes(readings: GridReadings, part_expansion: float, gauge_expansion: float) -> SizeGrid:
    """Sizes at 20 degC of what counts."""
    return sizes_at_reference(
        readings, part_expansion=part_expansion, gauge_expansion=gauge_expansion
    )


@formula(
    name="mean as read",
    expression="mean of the sizes at 20 degC, put back to the mean temperature of the readings",
    sources=("derived",),
    validity="readings spread over the surface",
    unit="m",
)
def mean_as_read(*, readings: GridReadings, part_expansion: float, gauge_expansion: float) -> float:
    """Mean of the readings that count, as the gauge would show it.

    Parameters
    ----------
    readings : GridReadings
        The readings that count. [m]
    part_expansion : float
        Mean expansion coefficient of the part. [1/K]
    gauge_expansion : float
        Mean expansion coefficient of the gauge. [1/K]

    Returns
    -------
    float
        Mean reading, chosen so that the mean size comes back exactly. [m]

    Notes
    -----
    Each reading is first corrected by its own temperature. Source: ``derived``.
    """
    mean = mean_size(_sizes(readings, part_expansion, gauge_expansion))
    part_rise = part_rise_of(readings)
    gauge_rise = readings.gauge_temperature - REFERENCE_TEMPERATURE
    return mean * (1.0 + part_expansion * part_rise) / (1.0 + gauge_expansion * gauge_rise)


@formula(
    name="taper of a feature",
    expression="largest less smallest mean of a station",
    sources=("practice",),
    validity="two stations or more",
    unit="m",
)
def taper_spread(*, readings: GridReadings, part_expansion: float, gauge_expansion: float) -> float:
    """How much the mean size changes from station to station.

    Parameters
    ----------
    readings : GridReadings
        The readings that count. [m]
    part_expansion : float
        Mean expansion coefficient of the part. [1/K]
    gauge_expansion : float
        Mean expansion coefficient of the gauge. [1/K]

    Returns
    -------
    float
        Largest less smallest station mean, never negative. [m]

    Notes
    -----
    As workshop manuals use the word. Source: ``practice``.
    """
    return taper(_sizes(readings, part_expansion, gauge_expansion)).spread


@formula(
    name="out-of-round of a feature",
    expression="largest difference of two diameters at one station",
    sources=("practice",),
    validity="two directions or more; a two-point gauge cannot see three lobes",
    unit="m",
)
def out_of_round_spread(
    *, readings: GridReadings, part_expansion: float, gauge_expansion: float
) -> float:
    """How much the diameters of one station differ, at the worst station.

    Parameters
    ----------
    readings : GridReadings
        The readings that count. [m]
    part_expansion : float
        Mean expansion coefficient of the part. [1/K]
    gauge_expansion : float
        Mean expansion coefficient of the gauge. [1/K]

    Returns
    -------
    float
        Largest difference of diameters, never negative. [m]

    Notes
    -----
    As workshop manuals use the word. Source: ``practice``.
    """
    return out_of_round(_sizes(readings, part_expansion, gauge_expansion)).spread


@formula(
    name="mean rise of a part",
    expression="mean temperature of the part over its readings, less 293.15 K",
    sources=("iso-1",),
    validity="always",
    unit="K",
)
def part_rise_of(readings: GridReadings) -> float:
    """How warm the part was on average over the readings that count.

    Parameters
    ----------
    readings : GridReadings
        The readings that count. [m]

    Returns
    -------
    float
        Mean temperature above 20 degC. [K]

    Notes
    -----
    Source: ``iso-1`` for the reference.
    """
    read = np.isfinite(readings.readings)
    warm = np.broadcast_to(np.asarray(readings.part_temperature), readings.readings.shape)
    return float(np.mean(warm[read])) - REFERENCE_TEMPERATURE


@formula(
    name="deviations of a feature",
    expression="size at 20 degC less its mean, reading by reading",
    sources=("derived",),
    validity="always",
    unit="m",
)
def deviations(
    *, readings: GridReadings, part_expansion: float, gauge_expansion: float
) -> SizeGrid:
    """Size of every reading less the mean, for the map of the bore.

    Parameters
    ----------
    readings : GridReadings
        The readings that count. [m]
    part_expansion : float
        Mean expansion coefficient of the part. [1/K]
    gauge_expansion : float
        Mean expansion coefficient of the gauge. [1/K]

    Returns
    -------
    SizeGrid
        Deviations, shape (n_stations, n_directions), NaN where nothing counts. [m]

    Notes
    -----
    Source: ``derived``.
    """
    sizes = _sizes(readings, part_expansion, gauge_expansion)
    return SizeGrid(sizes.stations, sizes.directions, sizes.sizes - mean_size(sizes))


@formula(
    name="sum of two errors",
    expression="error = one + other",
    sources=("jcgm-100",),
    validity="errors of one chain of settings",
    unit="m",
)
def setting_chain(*, own: Number, master: Number) -> Number:
    """Error of a gauge that was set from another: its own transfer and its master's.

    Parameters
    ----------
    own : Number
        Error of the transfer. [m]
    master : Number
        Error of what it was set from. [m]

    Returns
    -------
    Number
        Error of the setting. [m]

    Notes
    -----
    The master keeps its name, so that it cancels between two features that were measured
    from it. Source: ``jcgm-100`` F.1.2.3.
    """
    return own + master
