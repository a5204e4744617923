"""The wall of a casting that a planned bore leaves: where it is least, and how surely.

Walls are read from a bore at places round it and down it.  Between the places a wall is known
from its shift and from how far cast walls wander; that is carried by draws of the whole wall,
so that the least of it is judged and not a mean.  Walls are radial, angles counter-clockwise
from +X seen from above, depths count from the deck downwards.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import not_negative, positive
from sleevewright.core.cutting.coreshift import check_walls, harmonic_design, is_all_round
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.errors import InputError

Array = NDArray[np.float64]

DRAWS = 800
"""Draws of the whole wall behind the least of it. [1]"""

STEPS = 24
"""Places round at which the wall is drawn, beside those that were read. [1]"""

IN_TWENTY = 0.05
"""Share of the draws that may lie lower. [1]"""

_SEED = 20261130


@dataclass(frozen=True)
class PlannedCut:
    """The bore that is to be cut, and how its axis lies against the one that was read from.

    Parameters
    ----------
    bore : float
        Bore from which the walls were read, diametral. [m]
    planned_bore : float
        Bore that is to be cut, diametral. [m]
    x : float
        New axis from the old one at the deck, towards 0 degrees. [m]
    y : float
        The same towards 90 degrees. [m]
    lean_x : float
        What ``x`` gains by depth. [1]
    lean_y : float
        What ``y`` gains by depth. [1]
    spread : float
        What is not known of the axis, as a standard deviation along each of two axes. [m]
    standard : float
        Standard uncertainty of the metal that the cut takes, radial. [m]
    """

    bore: float
    planned_bore: float
    x: float = 0.0
    y: float = 0.0
    lean_x: float = 0.0
    lean_y: float = 0.0
    spread: float = 0.0
    standard: float = 0.0

    def __post_init__(self) -> None:
        """Refuse sizes that cannot be."""
        positive("bore from which the wall was read", self.bore, "m")
        positive("bore that is to be cut", self.planned_bore, "m")
        not_negative("spread of the axis", self.spread, "m")


@dataclass(frozen=True)
class CastWall:
    """What is known of a cast wall beside its readings.

    Parameters
    ----------
    usual_shift : float
        Core shift where too few places were read, a standard deviation along each axis. [m]
    wander : float
        How far the wall wanders about an even and shifted one, a standard deviation. [m]
    reach : float
        How far round a thick or thin place reaches. [rad]
    reading_standard : float
        Standard uncertainty of one reading by itself. [m]
    shared_standard : float
        Standard uncertainty that all readings share. [m]
    wander_freedom : float
        Readings that the wander is known from; few of them widen the draws. [1]
    """

    usual_shift: float
    wander: float
    reach: float
    reading_standard: float
    shared_standard: float = 0.0
    wander_freedom: float = math.inf

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        positive("core shift", self.usual_shift, "m")
        positive("wander of a cast wall", self.wander, "m")
        positive("reach of a thin place", self.reach, "rad")


@dataclass(frozen=True, eq=False)
class WallMap:
    """The wall that a planned bore leaves.

    Parameters
    ----------
    depths : Array
        Depths that were read and those midway between them, shape (n_depths,). [m]
    angles : Array
        Places round, shape (n_angles,). [rad]
    walls : Array
        Wall that is likely left, shape (n_depths, n_angles). [m]
    standard : Array
        Standard uncertainty of each, shape (n_depths, n_angles). [m]
    least_draws : Array
        Least wall anywhere in each draw, in order, shape (n_draws,). [m]
    """

    depths: Array
    angles: Array
    walls: Array
    standard: Array
    least_draws: Array


@formula(
    name="metal that a bore takes off one side",
    expression="t = e cos(d) + (R^2 - e^2 sin(d)^2)^(1/2) - r, d = theta - angle of e",
    sources=("derived",),
    validity="both bores round; the new one is nowhere inside the old by more than t is negative",
    unit="m",
)
def side_cut(*, angles: Array, planned_cut: PlannedCut, at_depth: float) -> Array:
    """How much farther from the old axis the new bore reaches than the old one.

    Parameters
    ----------
    angles : Array
        Places round, shape (n_angles,). [rad]
    planned_cut : PlannedCut
        The bore that is to be cut. [record]
    at_depth : float
        Depth below the deck. [m]

    Returns
    -------
    Array
        Radial, negative where nothing is cut, shape (n_angles,). [m]

    Raises
    ------
    InputError
        If the new axis lies outside the new bore.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> cut = PlannedCut(bore=0.070, planned_bore=0.072, x=1e-4)
    >>> taken = side_cut(angles=np.array([0.0, np.pi]), planned_cut=cut, at_depth=0.0)
    >>> [round(float(one) * 1e3, 4) for one in taken]
    [1.1, 0.9]
    """
    cut = planned_cut
    x, y = cut.x + cut.lean_x * at_depth, cut.y + cut.lean_y * at_depth
    if math.hypot(x, y) >= 0.5 * cut.planned_bore:
        raise InputError("offset of the new axis", math.hypot(x, y), "m", "less than its radius")
    along = x * np.cos(angles) + y * np.sin(angles)
    across = y * np.cos(angles) - x * np.sin(angles)
    return np.asarray(along + np.sqrt(0.25 * cut.planned_bore**2 - across**2) - 0.5 * cut.bore)


@formula(
    name="wall that a planned bore leaves",
    expression="w(theta, z) - t(theta, z); w: least squares of even wall and shift, with wander",
    sources=("goldberger-1962", "derived"),
    validity="at the depths that were read and between them; nothing is said above and below",
    unit="m",
)
def planned_wall(
    *, walls_read: GridReadings, planned_cut: PlannedCut, cast_wall: CastWall
) -> WallMap:
    """The wall that a planned bore leaves, with draws of the least of it.

    Parameters
    ----------
    walls_read : GridReadings
        Walls, radial, NaN where none was read. [m]
    planned_cut : PlannedCut
        The bore that is to be cut. [record]
    cast_wall : CastWall
        What is known of the casting and of the gauge. [record]

    Returns
    -------
    WallMap
        At the depths that were read and midway between them. [m]

    Raises
    ------
    InputError
        If a wall is not above zero, or the depths do not go downwards.

    Notes
    -----
    At each depth the best linear prediction from the readings (Goldberger). Midway the mean
    of both neighbours, with the wander of the wall put back. Source: ``goldberger-1962``,
    ``derived``.
    """
    check_walls(walls_read)
    cast = cast_wall
    round_it = np.arange(STEPS) * (2.0 * np.pi / STEPS)
    places = np.mod(walls_read.directions, 2.0 * np.pi)
    angles = np.unique(np.round(np.concatenate([round_it, places]), 6))
    normals, wider = _normals(angles.size), _widening(cast.wander_freedom)
    rows = [one for one in range(walls_read.stations.size) if _is_read(walls_read, one)]
    planes = []
    for place, row in enumerate(rows):
        mean, covariance = _predicted(walls_read, row, angles, cast)
        drawn = mean + wider * (normals[place % len(normals)] @ _root(covariance).T)
        planes.append((float(walls_read.stations[row]), mean, np.diag(covariance), drawn))
    return _cut(_with_midways(planes, angles, cast), angles, planned_cut, cast)


_Plane = tuple[float, Array, Array, Array]


def _is_read(walls_read: GridReadings, row: int) -> bool:
    """Whether anything was read at a depth."""
    return bool(np.isfinite(walls_read.readings[row]).any())


def _predicted(
    walls_read: GridReadings, row: int, angles: Array, cast: CastWall
) -> tuple[Array, Array]:
    """Best linear prediction of the wall round one depth, and its covariance."""
    known = np.isfinite(walls_read.readings[row])
    places, walls = walls_read.directions[known], walls_read.readings[row, known]
    held = wander_together(places, places, cast) + cast.reading_standard**2 * np.eye(places.size)
    inverse = np.linalg.inv(held)
    here, there = harmonic_design(places), harmonic_design(angles)
    precision = here.T @ inverse @ here
    if not is_all_round(places):
        precision += np.diag([0.0, 1.0, 1.0]) / cast.usual_shift**2
    spread = np.linalg.inv(precision)
    level = spread @ (here.T @ inverse @ walls)
    weights = wander_together(angles, places, cast) @ inverse
    mean = there @ level + weights @ (walls - here @ level)
    rest = there - weights @ here
    covariance = (
        wander_together(angles, angles, cast)
        - weights @ wander_together(places, angles, cast)
        + rest @ spread @ rest.T
    )
    return mean, covariance


def wander_together(one: Array, other: Array, cast: CastWall) -> Array:
    """How the wander of places goes together.

    Parameters
    ----------
    one : Array
        Places round, shape (n_one,). [rad]
    other : Array
        Other places round, shape (n_other,). [rad]
    cast : CastWall
        What is known of the casting. [record]

    Returns
    -------
    Array
        Covariance, shape (n_one, n_other). [m2]

    Notes
    -----
    Source: ``derived``.
    """
    chord = 2.0 * np.sin(0.5 * (one[:, None] - other[None, :]))
    return np.asarray(cast.wander**2 * np.exp(-0.5 * (chord / cast.reach) ** 2))


def _root(covariance: Array) -> Array:
    """A root of a covariance; what rounding made negative is nought."""
    values, vectors = np.linalg.eigh(covariance)
    return np.asarray(vectors * np.sqrt(np.maximum(values, 0.0)))


@lru_cache(maxsize=4)
def _normals(size: int) -> tuple[Array, ...]:
    """Standard normal draws for as many planes as a bore is read at; the same every time."""
    source = np.random.default_rng(_SEED)
    return tuple(source.standard_normal((DRAWS, size)) for _ in range(_MOST_PLANES))


@lru_cache(maxsize=8)
def _widening(freedom: float) -> Array:
    """By how much each draw is widened, as the wander is known from few readings (Student)."""
    if not math.isfinite(freedom):
        return np.ones((DRAWS, 1))
    source = np.random.default_rng(_SEED + 2)
    return np.asarray(np.sqrt(freedom / source.chisquare(freedom, (DRAWS, 1))))


@lru_cache(maxsize=1)
def _shared() -> Array:
    """Standard normal draws of what all places share: size, and both directions of the axis."""
    return np.random.default_rng(_SEED + 1).standard_normal((3, DRAWS))


_MOST_PLANES = 12


def _with_midways(planes: list[_Plane], angles: Array, cast: CastWall) -> list[_Plane]:
    """The planes that were read with one between each two, where the wall wanders on."""
    found = list(planes[:1])
    normals, wider = _normals(angles.size), _widening(cast.wander_freedom)
    root = _root(0.5 * wander_together(angles, angles, cast))
    for place, (upper, lower) in enumerate(pairwise(planes)):
        own = wider * (normals[(len(planes) + place) % len(normals)] @ root.T)
        found.append(
            (
                0.5 * (upper[0] + lower[0]),
                0.5 * (upper[1] + lower[1]),
                0.25 * (upper[2] + lower[2]) + 0.5 * cast.wander**2,
                0.5 * (upper[3] + lower[3]) + own,
            )
        )
        found.append(lower)
    return found


def _cut(planes: list[_Plane], angles: Array, cut: PlannedCut, cast: CastWall) -> WallMap:
    """The planes after the cut, and the least of each draw."""
    size, across, along = _shared()
    common = math.hypot(cut.standard, cast.shared_standard)
    axis = cut.spread * (np.outer(across, np.cos(angles)) + np.outer(along, np.sin(angles)))
    least = np.full(DRAWS, np.inf)
    left, standard = [], []
    for depth, mean, variance, drawn in planes:
        taken = side_cut(angles=angles, planned_cut=cut, at_depth=depth)
        left.append(mean - taken)
        standard.append(np.sqrt(np.maximum(variance, 0.0) + common**2 + cut.spread**2))
        np.minimum(least, (drawn - taken - axis).min(axis=1), out=least)
    depths = np.array([one[0] for one in planes])
    draws = np.sort(least + common * size)
    return WallMap(depths, angles, np.array(left), np.array(standard), draws)
