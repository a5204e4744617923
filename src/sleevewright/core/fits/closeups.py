"""How far the sleeve's bore closed, place by place.

Before and after are one gauge at the same depths and directions, both at 20 degC.  All is
diametral; depths count from the deck downwards.  A close-up is positive.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings, mean_size, sizes_at_reference
from sleevewright.errors import InputError

Array = NDArray[np.float64]

SAME_DEPTH = 1.0e-3
"""Depths nearer than this are one station. [m]"""
SAME_DIRECTION = np.radians(5.0)
"""Directions nearer than this are one. [rad]"""
LEAST_DIRECTIONS = 2
"""Fewer directions at a station cannot tell a close-up from an oval."""


@dataclass(frozen=True, eq=False)
class StationCloseUps:
    """Close-ups at the places that were gauged before and after.

    Parameters
    ----------
    depths : Array
        Depth of each shared station, shape (n_stations,). [m]
    directions : Array
        Each shared direction, shape (n_directions,). [rad]
    closed : Array
        Before less after, shape (n_stations, n_directions), NaN where one is lacking. [m]
    standards : Array
        Doubt of each station's mean by its own readings, shape (n_stations,). [m]
    factors : Array
        Close-up of each station by that of plain rings, shape (n_stations,). [1]
    left_out : tuple[float, ...]
        Depths gauged only once, or in too few directions. [m]
    """

    depths: Array
    directions: Array
    closed: Array
    standards: Array
    factors: Array
    left_out: tuple[float, ...] = ()

    @property
    def means(self) -> Array:
        """Close-up of each station: mean of its directions."""
        means: Array = np.nanmean(self.closed, axis=1)
        return means

    def kept(self, chosen: NDArray[np.bool_]) -> StationCloseUps:
        """The chosen stations alone; the others are noted as left out."""
        gone = tuple(float(one) for one in self.depths[~chosen])
        return replace(
            self,
            depths=self.depths[chosen],
            closed=self.closed[chosen],
            standards=self.standards[chosen],
            factors=self.factors[chosen],
            left_out=(*self.left_out, *gone),
        )


@dataclass(frozen=True)
class Scatter:
    """Doubt of one reading before and after, by itself, in metres."""

    before: float
    after: float


@formula(
    name="close-ups by station",
    expression="size before less size after, at each depth and direction read both times",
    sources=("derived",),
    validity="one gauge, both at 20 degC, no cut on the sleeve between",
    unit="m",
)
def station_close_ups(
    *,
    before: GridReadings,
    after: GridReadings,
    before_size: float,
    after_size: float,
    scatter: Scatter,
    part_expansion: float,
    gauge_expansion: float,
) -> StationCloseUps:
    """How far the bore closed at each place that was gauged before and after.

    Parameters
    ----------
    before : GridReadings
        Readings of the sleeve's bore before the drop. [m]
    after : GridReadings
        The same after cooling. [m]
    before_size : float
        Mean size before, corrected for setting and temperature. [m]
    after_size : float
        The same after. [m]
    scatter : Scatter
        Doubt of one reading, before and after. [m]
    part_expansion : float
        Mean expansion coefficient of the sleeve. [1/K]
    gauge_expansion : float
        Mean expansion coefficient of the gauge. [1/K]

    Returns
    -------
    StationCloseUps
        Shape (n_stations, n_directions) of what both share. [m]

    Raises
    ------
    InputError
        If no depth was gauged both times in two directions or more.

    Notes
    -----
    What corrects a mean size corrects each of its readings by as much. Source: ``derived``.
    """
    whole = {"part_expansion": part_expansion, "gauge_expansion": gauge_expansion}
    sizes = [_sizes(one, size, whole) for one, size in ((before, before_size), (after, after_size))]
    rows = _pairs(before.stations, after.stations, SAME_DEPTH)
    columns = _turned(before.directions, after.directions)
    down, across = [pair[0] for pair in rows], [pair[0] for pair in columns]
    down_after, across_after = [pair[1] for pair in rows], [pair[1] for pair in columns]
    closed = sizes[0][np.ix_(down, across)] - sizes[1][np.ix_(down_after, across_after)]
    count = np.isfinite(closed).sum(axis=1) if closed.size else np.zeros(len(rows))
    told = count >= LEAST_DIRECTIONS
    if not told.any():
        allowed = "a depth gauged before and after in the same two directions or more"
        raise InputError("close-up", "no place in common", "", allowed)
    depths = before.stations[down]
    read = [
        (before.stations, np.isfinite(before.readings).any(axis=1)),
        (after.stations, np.isfinite(after.readings).any(axis=1)),
    ]
    alone = {
        round(float(depth), 6)
        for stations, is_read in read
        for depth in stations[is_read]
        if not np.any(np.abs(depths[told] - depth) < SAME_DEPTH)
    }
    one = float(np.hypot(scatter.before, scatter.after))
    return StationCloseUps(
        depths[told],
        before.directions[across],
        closed[told],
        one / np.sqrt(count[told]),
        np.ones(int(told.sum())),
        tuple(sorted(alone)),
    )


def _sizes(readings: GridReadings, size: float, expansions: dict[str, float]) -> Array:
    """Sizes at 20 degC, moved so that their mean is the size."""
    found = sizes_at_reference(readings, **expansions)
    moved: Array = found.sizes + (size - mean_size(found))
    return moved


def _pairs(one: Array, other: Array, apart: float) -> list[tuple[int, int]]:
    """Which entries of two lists are the same."""
    found = []
    for at, value in enumerate(one):
        gaps = np.abs(other - value)
        near = int(np.argmin(gaps))
        if gaps[near] < apart:
            found.append((at, near))
    return found


def _turned(one: Array, other: Array) -> list[tuple[int, int]]:
    """Which directions of two lists are the same, whole turns aside."""
    found = []
    for at, value in enumerate(one):
        gaps = np.abs(np.remainder(other - value + np.pi, 2.0 * np.pi) - np.pi)
        near = int(np.argmin(gaps))
        if gaps[near] < SAME_DIRECTION:
            found.append((at, near))
    return found


@formula(
    name="stations below the flange",
    expression="stations deeper than the flange is thick, where there are any",
    sources=("derived",),
    validity="plain rings: beside a flange the bore closes less than they say",
    unit="m",
)
def stations_below(*, stations: StationCloseUps, flange_thickness: float) -> StationCloseUps:
    """The stations that plain rings hold for.

    Parameters
    ----------
    stations : StationCloseUps
        How far the bore closed, by station. [record]
    flange_thickness : float
        Thickness of the flange from the deck, axial; nought for none. [m]

    Returns
    -------
    StationCloseUps
        Those below the flange; all of them where none lies below. [record]

    Notes
    -----
    Source: ``derived``.
    """
    below = stations.depths > flange_thickness
    return stations.kept(below) if below.any() else stations


@formula(
    name="close-up but for scatter",
    expression="before - after, less the errors that each grid has for itself",
    sources=("jcgm-100",),
    validity="for its doubt: what all stations share by setting and temperature",
    unit="m",
)
def shared_close_up(
    *,
    before: Number,
    after: Number,
    before_repeat: Number,
    before_form: Number,
    after_repeat: Number,
    after_form: Number,
) -> Number:
    """Mean size before less after, with only those errors that all stations share.

    Parameters
    ----------
    before : Number
        Mean size before the drop. [m]
    after : Number
        Mean size after cooling. [m]
    before_repeat : Number
        Error of the mean before from scatter. [m]
    before_form : Number
        Error of the mean before from form between stations. [m]
    after_repeat : Number
        Error of the mean after from scatter. [m]
    after_form : Number
        Error of the mean after from form between stations. [m]

    Returns
    -------
    Number
        Close-up of the means; the setting that both share has cancelled. [m]

    Notes
    -----
    Form is the same at the same places, and scatter is each station's own. Source:
    ``jcgm-100`` F.1.2.3.
    """
    return (before - before_repeat - before_form) - (after - after_repeat - after_form)


@formula(
    name="mean close-up",
    expression="mean over the stations that count",
    sources=("derived",),
    validity="stations gauged before and after",
    unit="m",
)
def mean_close_up(*, stations: StationCloseUps) -> float:
    """How far the bore closed, over the stations that count.

    Parameters
    ----------
    stations : StationCloseUps
        How far the bore closed, by station. [record]

    Returns
    -------
    float
        Mean close-up, diametral, positive. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return float(stations.means.mean())


@formula(
    name="uneven close-up",
    expression="largest less smallest mean of a direction over the stations",
    sources=("derived",),
    validity="directions read at all stations that count",
    unit="m",
)
def uneven_close_up(*, stations: StationCloseUps) -> float:
    """How much more the bore closed in one direction than in another.

    Parameters
    ----------
    stations : StationCloseUps
        How far the bore closed, by station. [record]

    Returns
    -------
    float
        Largest less smallest, never negative. [m]

    Notes
    -----
    Source: ``derived``.
    """
    means = by_direction(stations)
    return float(np.nanmax(means) - np.nanmin(means))


def by_direction(stations: StationCloseUps) -> Array:
    """Close-up of each direction, over the stations that count.

    Parameters
    ----------
    stations : StationCloseUps
        How far the bore closed, by station. [record]

    Returns
    -------
    Array
        Shape (n_directions,), NaN where a station lacks it. [m]

    Notes
    -----
    Source: ``derived``.
    """
    means: Array = stations.closed.mean(axis=0)
    return means
