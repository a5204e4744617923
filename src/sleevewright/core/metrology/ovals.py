"""Out-of-round taken apart: the oval that a gauge of two points sees, and where it lies.

A gauge of k contacts a k-th of a turn apart (k is 2 or 3) reads R + a cos(k t) of k lobes
with 4 a between its largest and its smallest diameter; of the other kind it sees nothing.
Angles are counter-clockwise seen from above; amounts are diametral, at 20 degC.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings, SizeGrid, mean_size, sizes_at_reference
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.errors import InputError

Array = NDArray[np.float64]

SIDE = 0.95
"""Probability of each bound by itself. [1]"""

FEWEST = 3
"""Directions without which an oval has no axis. [1]"""

_TELLS_APART = 20.0
"""Condition number beyond which directions are too close together."""


@dataclass(frozen=True, eq=False)
class Ovals:
    """The lobes that all stations share, and those of each station.

    ``amount`` is the largest less the smallest diameter of the fitted shape; ``low`` and
    ``high`` hold with 95 % each.  ``axis`` is where the part is widest, from zero to a
    turn over the contacts.  ``cosine``, ``sine`` and ``level`` describe each station's own
    diameters over the mean size, level + cosine cos(k t) + sine sin(k t), NaN where too
    little was read; ``seen`` is one where that shape is more than scatter.
    """

    contacts: float
    amount: float
    standard: float
    low: float
    high: float
    axis: float
    axis_standard: float
    level: Array
    cosine: Array
    sine: Array
    seen: Array

    @property
    def is_seen(self) -> bool:
        """Whether the shape is more than scatter makes of a round part."""
        return self.low > 0.0


@formula(
    name="lobes shared by the stations",
    expression="D = level + c cos(k t) + s sin(k t); amount 2 (c^2 + s^2)^(1/2), "
    "axis atan2(s, c) / k",
    sources=("derived",),
    validity="k contacts see k lobes and multiples; two see no odd number",
    unit="m",
)
def ovals_of(
    *,
    readings: GridReadings,
    part_expansion: float,
    gauge_expansion: float,
    reading: Repeatability,
    contacts: float,
) -> Ovals:
    """How oval a part is and which way, from diameters in three directions or more.

    Parameters
    ----------
    readings : GridReadings
        Readings that count. [record]
    part_expansion : float
        Mean coefficient of the part. [1/K]
    gauge_expansion : float
        Mean coefficient of the gauge. [1/K]
    reading : Repeatability
        Scatter of one reading. [m]
    contacts : float
        Contacts of the gauge: 2, or 3 a third of a turn apart. [1]

    Returns
    -------
    Ovals
        Shared shape with its bounds, and that of each station. [m]

    Raises
    ------
    InputError
        If the contacts are neither 2 nor 3, or no station tells a shape and its axis.

    Notes
    -----
    The length of a fitted vector is never too short by more than the scatter along the
    true one, and never too long by more than that of all of it: the bounds hold for every
    true shape. Source: ``derived``; F and t, ``scheffe-1959``.
    """
    if contacts not in (2.0, 3.0):
        raise InputError("contacts", contacts, "", "2, or 3 a third of a turn apart")
    grid = sizes_at_reference(
        readings, part_expansion=part_expansion, gauge_expansion=gauge_expansion
    )
    able = [tells_an_oval(grid, station, contacts) for station in range(grid.stations.size)]
    if not any(able):
        most = max(_apart(grid, station, contacts) for station in range(grid.stations.size))
        allowed = f"{FEWEST} or more at one station for an oval with its axis"
        hint = "Read between the directions too: 0, 45, 90 and 135 degrees are usual."
        raise InputError("directions", most, "", allowed, hint)
    vector, spread = _shared(grid, contacts)
    half = math.hypot(*vector)
    worst = reading.standard * math.sqrt(float(np.linalg.eigvalsh(spread)[-1]))
    all_round, along = _factors(reading.degrees_of_freedom)
    limit = all_round * reading.standard
    parts = np.array(
        [
            _own(grid, s, contacts, limit) if able[s] else (np.nan, np.nan, np.nan, 0.0)
            for s in range(len(able))
        ]
    )
    return Ovals(
        contacts=contacts,
        amount=2.0 * half,
        standard=2.0 * worst,
        low=2.0 * max(half - all_round * worst, 0.0),
        high=2.0 * (half + along * worst),
        axis=_axis(vector[0], vector[1], contacts),
        axis_standard=min(worst / half, math.pi) / contacts if half > 0.0 else math.pi / contacts,
        level=parts[:, 0] - mean_size(grid),
        cosine=parts[:, 1],
        sine=parts[:, 2],
        seen=parts[:, 3],
    )


def tells_an_oval(grid: SizeGrid, station: int, contacts: float = 2.0) -> bool:
    """Whether the directions read at a station tell a shape and its axis.

    Parameters
    ----------
    grid : SizeGrid
        Sizes at 20 degC. [m]
    station : int
        Index of the station. [1]
    contacts : float
        Contacts of the gauge. [1]

    Returns
    -------
    bool
        True from three directions on that are spread enough. [text]

    Notes
    -----
    Source: ``derived``.
    """
    angles = grid.directions[grid.present[station]]
    if _apart(grid, station, contacts) < FEWEST:
        return False
    return bool(np.linalg.cond(_columns(angles, contacts)) < _TELLS_APART)


def _apart(grid: SizeGrid, station: int, contacts: float) -> int:
    """Directions at a station that a gauge of so many contacts tells apart."""
    angles = grid.directions[grid.present[station]]
    turned = np.sort(np.mod(contacts * angles, 2.0 * np.pi))
    if turned.size < 2:
        return int(turned.size)
    return int((np.diff(np.append(turned, turned[:1] + 2.0 * np.pi)) > 1e-6).sum())


def _columns(angles: Array, contacts: float) -> Array:
    """Level, cosine and sine."""
    return np.column_stack(
        [np.ones(angles.size), np.cos(contacts * angles), np.sin(contacts * angles)]
    )


def _own(
    grid: SizeGrid, station: int, contacts: float, limit: float
) -> tuple[float, float, float, float]:
    """Level, cosine and sine of one station, and whether they are more than scatter."""
    here = grid.present[station]
    sizes = grid.sizes[station, here]
    design = _columns(grid.directions[here], contacts)
    fitted = np.linalg.lstsq(design, sizes - sizes.mean(), rcond=None)[0]
    spread = np.linalg.inv(design.T @ design)[1:, 1:]
    worst = limit * math.sqrt(float(np.linalg.eigvalsh(spread)[-1]))
    is_seen = float(math.hypot(fitted[1], fitted[2]) > worst)
    return float(fitted[0] + sizes.mean()), float(fitted[1]), float(fitted[2]), is_seen


def _shared(grid: SizeGrid, contacts: float) -> tuple[tuple[float, float], Array]:
    """Cosine and sine that all stations share, and their covariance per variance."""
    row, column = np.nonzero(grid.present)
    angles = grid.directions[column]
    levels = np.eye(grid.stations.size)[row][:, grid.present.any(axis=1)]
    design = np.column_stack([levels, np.cos(contacts * angles), np.sin(contacts * angles)])
    sizes = grid.sizes[grid.present]
    fitted = np.linalg.lstsq(design, sizes - sizes.mean(), rcond=None)[0]
    spread: Array = np.linalg.inv(design.T @ design)[-2:, -2:]
    return (float(fitted[-2]), float(fitted[-1])), spread


def _axis(cosine: float, sine: float, contacts: float) -> float:
    """Angle at which the part is widest, from zero to a turn over the contacts."""
    return math.atan2(sine, cosine) % (2.0 * math.pi) / contacts


def _factors(freedom: float) -> tuple[float, float]:
    """What scatter makes of a vector's length all round, and along one line."""
    from scipy.special import fdtri, stdtrit

    known = min(freedom, 1e6)
    return math.sqrt(2.0 * float(fdtri(2.0, known, SIDE))), float(stdtrit(known, SIDE))
