"""How far the core of a casting stood off its outside, from walls that were read round it.

A round bore that lies off a round outside has a wall of w = m + a cos(theta) + b sin(theta)
to first order: m is the even wall and (a, b) points to the thick side.  Walls are radial,
angles counter-clockwise from +X seen from above, depths count from the deck downwards.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.errors import InputError

Array = NDArray[np.float64]

FEWEST = 3
"""Places round a depth from which a shift can be told. [1]"""

WIDEST_GAP = math.pi + 1e-6
"""Widest angle between neighbours from which a shift is told; beyond it is guesswork. [rad]"""


WORTH = 3.0
"""Readings that what castings usually do counts for. [1]"""


@dataclass(frozen=True, eq=False)
class CoreShift:
    """Even wall and shift at one depth, with what the readings leave in doubt.

    Parameters
    ----------
    mean : float
        Even wall, radial. [m]
    x : float
        Shift of the outside against the bore, towards 0 degrees. [m]
    y : float
        The same towards 90 degrees. [m]
    unit_covariance : Array
        Covariance of these three for readings of unit variance, shape (3, 3). [1]
    residuals : Array
        What the readings lie off the fit, shape (n_places,). [m]
    """

    mean: float
    x: float
    y: float
    unit_covariance: Array
    residuals: Array

    @property
    def amount(self) -> float:
        """How far the outside lies off the bore, radial."""
        return math.hypot(self.x, self.y)

    @property
    def towards(self) -> float:
        """Angle of the thick side."""
        return math.atan2(self.y, self.x) % (2.0 * math.pi)

    @property
    def freedom(self) -> int:
        """Readings left over."""
        return int(self.residuals.size) - 3


def harmonic_design(angles: Array) -> Array:
    """The even wall and the first harmonic at some angles.

    Parameters
    ----------
    angles : Array
        Shape (n_angles,). [rad]

    Returns
    -------
    Array
        One, cosine and sine, shape (n_angles, 3). [1]

    Notes
    -----
    Source: ``derived``.
    """
    return np.column_stack([np.ones(angles.size), np.cos(angles), np.sin(angles)])


@formula(
    name="core shift at a depth",
    expression="w = m + a cos(theta) + b sin(theta), by least squares",
    sources=("derived",),
    validity="bore and outside round; three places or more, no gap of more than half a turn",
    unit="m",
)
def core_shift(*, angles: Array, walls: Array) -> CoreShift | None:
    """Even wall and shift of the outside from walls that were read round one depth.

    Parameters
    ----------
    angles : Array
        Where they were read, shape (n_places,). [rad]
    walls : Array
        Walls, radial, shape (n_places,), NaN where none was read. [m]

    Returns
    -------
    CoreShift | None
        The fit; nothing where too few places were read to tell. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round_four = np.array([0.0, 0.5, 1.0, 1.5]) * np.pi
    >>> found = core_shift(angles=round_four, walls=np.array([6e-3, 5e-3, 4e-3, 5e-3]))
    >>> round(found.mean, 9), round(found.x, 9), round(found.y, 9)
    (0.005, 0.001, 0.0)
    """
    known = np.isfinite(walls)
    if not is_all_round(angles[known]):
        return None
    design = harmonic_design(angles[known])
    inverse: Array = np.asarray(np.linalg.inv(design.T @ design), dtype=np.float64)
    found = inverse @ (design.T @ walls[known])
    residuals: Array = np.asarray(walls[known] - design @ found, dtype=np.float64)
    return CoreShift(float(found[0]), float(found[1]), float(found[2]), inverse, residuals)


def is_all_round(angles: Array) -> bool:
    """Whether places lie so far round that they tell a shift.

    Parameters
    ----------
    angles : Array
        Places that were read, shape (n_places,). [rad]

    Returns
    -------
    bool
        True from three places on, none of them more than half a turn from its neighbour.

    Notes
    -----
    Source: ``practice``.
    """
    places = np.unique(np.round(np.mod(angles, 2.0 * np.pi), 6))
    if places.size < FEWEST:
        return False
    return bool(np.diff(np.append(places, places[0] + 2.0 * np.pi)).max() <= WIDEST_GAP)


@formula(
    name="core shifts, depth by depth",
    expression="the core shift at each depth that was read all round",
    sources=("derived",),
    validity="as the core shift at a depth",
    unit="m",
)
def core_shifts(*, walls_read: GridReadings) -> tuple[CoreShift | None, ...]:
    """The core shift at each depth; nothing at a depth that was not read all round.

    Parameters
    ----------
    walls_read : GridReadings
        Walls, radial, in the order of their depths. [m]

    Returns
    -------
    tuple[CoreShift | None, ...]
        One for each depth. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return tuple(core_shift(angles=walls_read.directions, walls=row) for row in walls_read.readings)


@formula(
    name="largest core shift",
    expression="e = max over depths of (a^2 + b^2)^(1/2)",
    sources=("derived",),
    validity="depths that were read all round; zero where none was",
    unit="m",
)
def largest_shift(*, walls_read: GridReadings) -> float:
    """How far the outside lies off the bore at the depth where it lies farthest.

    Parameters
    ----------
    walls_read : GridReadings
        Walls, radial. [m]

    Returns
    -------
    float
        Radial; zero where no depth was read all round. [m]

    Notes
    -----
    Source: ``derived``.
    """
    found = core_shifts(walls_read=walls_read)
    return max((one.amount for one in found if one is not None), default=0.0)


@formula(
    name="wander of a cast wall",
    expression="s^2 = (3 s_0^2 + sum r^2) / (3 + sum (n - 3)) - u^2, not below (s_0 / 5)^2",
    sources=("derived", "practice"),
    validity="what the casting usually does counts as three readings that are left over",
    unit="m",
)
def wall_wander(*, walls_read: GridReadings, usual_wander: float, reading_standard: float) -> float:
    """How far a cast wall wanders about its even wall and shift, from all depths together.

    Parameters
    ----------
    walls_read : GridReadings
        Walls, radial. [m]
    usual_wander : float
        What castings usually do, as a standard deviation. [m]
    reading_standard : float
        Standard uncertainty of one reading by itself. [m]

    Returns
    -------
    float
        Standard deviation. [m]

    Raises
    ------
    InputError
        If the usual wander is not positive.

    Notes
    -----
    Few readings say little about scatter, so that the usual one is pooled with theirs.
    Source: ``derived``, ``practice``.
    """
    positive("wander of a cast wall", usual_wander, "m")
    found = [one for one in core_shifts(walls_read=walls_read) if one is not None]
    squares = math.fsum(float(one.residuals @ one.residuals) for one in found)
    freedom = math.fsum(one.freedom for one in found)
    pooled = (WORTH * usual_wander**2 + squares) / (WORTH + freedom)
    return math.sqrt(max(pooled - reading_standard**2, (0.2 * usual_wander) ** 2))


@formula(
    name="readings that the wander is known from",
    expression="nu = 3 + sum (n - 3)",
    sources=("derived", "practice"),
    validity="as the wander of a cast wall",
    unit="1",
)
def wander_freedom(*, walls_read: GridReadings) -> float:
    """How many readings stand behind the wander of a wall, the usual one counted as three.

    Parameters
    ----------
    walls_read : GridReadings
        Walls, radial. [m]

    Returns
    -------
    float
        Degrees of freedom. [1]

    Notes
    -----
    Source: ``derived``, ``practice``.
    """
    found = core_shifts(walls_read=walls_read)
    return WORTH + math.fsum(one.freedom for one in found if one is not None)


def check_walls(walls_read: GridReadings) -> None:
    """Refuse walls that cannot be: zero or negative, or depths that do not go downwards.

    Parameters
    ----------
    walls_read : GridReadings
        Walls, radial. [m]

    Raises
    ------
    InputError
        If a wall is not above zero, or the depths do not go downwards.

    Notes
    -----
    Source: ``derived``.
    """
    read = walls_read.readings[np.isfinite(walls_read.readings)]
    if read.min() <= 0.0:
        hint = "A hole right through is a crack or a breakthrough: note it under Seen."
        raise InputError("wall", float(read.min()), "m", "more than zero", hint)
    if np.any(np.diff(walls_read.stations) <= 0.0):
        raise InputError("depths of the walls", "not in order", "", "from the deck downwards")
