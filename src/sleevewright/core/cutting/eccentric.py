"""Where to bore a worn cylinder so that it cleans up at the smallest size.

From indicator sweeps at several depths, spindle on the datum: the first depth is a zone
that is not worn, and its mean reading stands for that zone's diameter.  A reading is
positive where the plunger is pushed in, so that a worn wall reads lower.  Angles are
counter-clockwise from +X, seen from above; X and Y are of the table, and the move brings
the centre of the new bore under the spindle.  Radii are radial, clean-up sizes diametral.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.errors import InputError, NotConverged

Array = NDArray[np.float64]

FEWEST_ROUND = 4
"""Angles at which a wall is to be swept at each depth. [1]"""

WIDEST_GAP = 0.5 * np.pi + 1e-6
"""Widest angle between neighbours of a sweep; wear in a wider one would not be seen. [rad]"""

_MOST_STEPS = 500
_TOUCHES = 1e-12
"""Share of the radius within which a point lies on the circle."""


@dataclass(frozen=True, eq=False)
class Wall:
    """Points of the worn wall about the datum, the centre of the zone that is not worn.

    ``datum_x`` and ``datum_y`` are where that centre lies from the spindle.  ``wear`` is
    how far each point lies beyond the radius of the zone, radial.
    """

    x: Array
    y: Array
    wear: Array
    depths: Array
    angles: Array
    datum_x: float
    datum_y: float


@dataclass(frozen=True)
class Enclosing:
    """The smallest circle round points, and the proof that it is the smallest.

    ``contacts`` are the indices of the points that it touches; ``weights`` are positive, sum to
    one, and with them the contacts balance about the centre.
    """

    x: float
    y: float
    radius: float
    contacts: tuple[int, ...]
    weights: tuple[float, ...]


@formula(
    name="worn wall from sweeps",
    expression="r = D_unworn / 2 + mean reading of the unworn zone - reading",
    sources=("derived",),
    validity="first depth not worn; indicator square to the wall, moved along the spindle",
    unit="m",
)
def worn_wall(*, readings: GridReadings, unworn: float) -> Wall:
    """Points of the wall about the centre of the zone that is not worn.

    Parameters
    ----------
    readings : GridReadings
        Indicator readings, the first station in the zone that is not worn. [m]
    unworn : float
        Diameter of that zone. [m]

    Returns
    -------
    Wall
        Points of the other depths. [m]

    Raises
    ------
    InputError
        If there are fewer than two depths, or one is read at fewer than four angles or
        with a gap of more than a quarter turn.

    Notes
    -----
    Source: ``derived``.
    """
    positive("bore where it is not worn", unworn, "m")
    read = np.isfinite(readings.readings)
    told = read.any(axis=1)
    if not told[0] or told.sum() < 2:
        allowed = "the unworn zone first, then one worn depth or more"
        raise InputError("depths of the sweep", int(told.sum()), "", allowed)
    _check_round(readings.directions, read[0], float(readings.stations[0]))
    for station in np.flatnonzero(told[1:]) + 1:
        _check_round(readings.directions, read[station], float(readings.stations[station]))
    centre, level = _centre_of(readings.directions[read[0]], readings.readings[0, read[0]])
    row, column = np.nonzero(read)
    worn = row > 0
    row, column = row[worn], column[worn]
    angles = readings.directions[column]
    radii = 0.5 * unworn + level - readings.readings[row, column]
    x, y = radii * np.cos(angles) - centre[0], radii * np.sin(angles) - centre[1]
    wear = np.hypot(x, y) - 0.5 * unworn
    return Wall(x, y, wear, readings.stations[row], angles, float(centre[0]), float(centre[1]))


def _check_round(directions: Array, read: NDArray[np.bool_], depth: float) -> None:
    """A sweep that leaves a part of the wall out may leave out the wear."""
    angles = np.unique(np.mod(directions[read], 2.0 * np.pi))
    if angles.size < FEWEST_ROUND:
        hint = f"At {1e3 * depth:g} mm; ports are stepped over, every land is read."
        raise InputError("angles of a sweep", angles.size, "", "four or more at each depth", hint)
    gaps = np.diff(np.append(angles, angles[0] + 2.0 * np.pi))
    if gaps.max() > WIDEST_GAP:
        widest = f"{np.degrees(gaps.max()):.0f}"
        hint = f"At {1e3 * depth:g} mm; read beside the port as well."
        raise InputError("gap of a sweep", widest, "deg", "90 deg or less", hint)


def _centre_of(angles: Array, readings: Array) -> tuple[Array, float]:
    """Centre of a round zone from the spindle, and its mean reading.

    The reading is high where the wall is near, so the centre lies the other way.
    """
    design = np.column_stack([np.ones(angles.size), np.cos(angles), np.sin(angles)])
    level, a, b = np.linalg.lstsq(design, readings, rcond=None)[0]
    return np.array([-a, -b]), float(level)


@formula(
    name="smallest circle round points",
    expression="min R with (x_i - a)^2 + (y_i - b)^2 <= R^2",
    sources=("elzinga-1972",),
    validity="any points in a plane",
    unit="m",
)
def smallest_enclosing(x: Array, y: Array) -> Enclosing:
    """The smallest circle that holds all points.

    Parameters
    ----------
    x : Array
        First coordinates, shape (n_points,). [m]
    y : Array
        Second coordinates, shape (n_points,). [m]

    Returns
    -------
    Enclosing
        Centre, radius, contacts and their weights. [m]

    Raises
    ------
    InputError
        If there is no point, or one is not finite.
    NotConverged
        If the circle has not stopped growing.

    Notes
    -----
    Starts from two points and takes in the farthest that lies outside, one by one, keeping
    the smallest circle round at most three. The radius grows with every step, so that no
    set of contacts comes back. Source: ``elzinga-1972``.

    Examples
    --------
    >>> found = smallest_enclosing(np.array([-3.0, 3.0, 0.0]), np.array([0.0, 0.0, 1.0]))
    >>> found.radius, found.contacts
    (3.0, (0, 1))
    """
    if x.shape != y.shape or x.ndim != 1 or x.size < 1:
        raise InputError("points", int(x.size), "", "one or more pairs")
    if not (np.isfinite(x).all() and np.isfinite(y).all()):
        raise InputError("points", "not a number", "", "finite coordinates")
    points = np.column_stack([x, y])
    first = int(np.argmax(np.hypot(*(points - points[0]).T)))
    held: tuple[int, ...] = (0,) if first == 0 else (0, first)
    for _ in range(_MOST_STEPS):
        centre, radius, weights, held = _smallest_of(points, held)
        away = np.hypot(points[:, 0] - centre[0], points[:, 1] - centre[1])
        farthest = int(np.argmax(away))
        if away[farthest] <= radius * (1.0 + _TOUCHES) or farthest in held:
            return Enclosing(float(centre[0]), float(centre[1]), radius, held, weights)
        held = (*held, farthest)
    raise NotConverged("circle round points", _MOST_STEPS, float(away[farthest] - radius), _TOUCHES)


Circle = tuple[Array, float, tuple[float, ...], tuple[int, ...]]


def _smallest_of(points: Array, held: tuple[int, ...]) -> Circle:
    """Smallest circle round at most four points: through one, two or three of them."""
    best: Circle | None = None
    among = points[list(held)]
    slack = _TOUCHES * float(np.abs(among - among[0]).max())
    for count in (1, 2, 3):
        for chosen in itertools.combinations(held, count):
            made = _through(points[list(chosen)])
            if made is None:
                continue
            centre, weights = made
            radius = float(np.hypot(*(points[list(chosen)] - centre).T).max())
            reach = float(np.hypot(*(among - centre).T).max())
            if reach <= radius + slack and (best is None or radius < best[1]):
                best = (centre, radius, weights, chosen)
    if best is None:
        raise NotConverged("circle round four points", 1, slack, _TOUCHES)
    return best


def _through(chosen: Array) -> tuple[Array, tuple[float, ...]] | None:
    """Circle on which points balance about the centre; nothing where they do not."""
    if len(chosen) == 1:
        return chosen[0], (1.0,)
    if len(chosen) == 2:
        return chosen.mean(axis=0), (0.5, 0.5)
    origin = chosen[0]
    sides = chosen[1:] - origin
    if abs(np.linalg.det(sides)) < 1e-14 * float((sides**2).sum()):
        return None
    centre = np.linalg.solve(2.0 * sides, (sides**2).sum(axis=1)) + origin
    rows = np.vstack([(chosen - centre).T, np.ones(3)])
    weights = np.linalg.lstsq(rows, np.array([0.0, 0.0, 1.0]), rcond=None)[0]
    # Where a weight is negative, the centre lies outside of the triangle: two points do.
    return (centre, tuple(float(one) for one in weights)) if weights.min() >= -1e-9 else None


@formula(
    name="clean-up size, best centre",
    expression="D = 2 min_c max_i |p_i - c| + 2 score + allowance",
    sources=("elzinga-1972", "derived"),
    validity="wall as swept; a score counts in full, wherever it lies",
    unit="m",
)
def best_clean_up(*, wall: Wall, sweep_error: Number, score: Number, allowance: Number) -> Number:
    """Smallest bore that cleans up, at the centre that suits the wear.

    Parameters
    ----------
    wall : Wall
        Points of the worn wall. [record]
    sweep_error : Number
        Error of the sweep, radial. [m]
    score : Number
        Depth of the deepest score, radial. [m]
    allowance : Number
        Metal that the last cut takes to clean up all round, diametral. [m]

    Returns
    -------
    Number
        Bore that cleans up, diametral. [m]

    Raises
    ------
    InputError
        If the score is negative.

    Notes
    -----
    Source: ``elzinga-1972``.
    """
    not_negative("score", score, "m")
    radius = smallest_enclosing(wall.x, wall.y).radius
    return 2.0 * (radius + sweep_error + score) + allowance


@formula(
    name="clean-up size, centred on the datum",
    expression="D = 2 max_i |p_i| + 2 score + allowance",
    sources=("derived",),
    validity="wall as swept, spindle on the centre of the unworn zone",
    unit="m",
)
def centred_clean_up(
    *, wall: Wall, sweep_error: Number, score: Number, allowance: Number
) -> Number:
    """Bore that cleans up where the centre of the unworn zone is kept.

    Parameters
    ----------
    wall : Wall
        Points of the worn wall. [record]
    sweep_error : Number
        Error of the sweep, radial. [m]
    score : Number
        Depth of the deepest score, radial. [m]
    allowance : Number
        Metal that the last cut takes to clean up all round, diametral. [m]

    Returns
    -------
    Number
        Bore that cleans up, diametral. [m]

    Raises
    ------
    InputError
        If the score is negative.

    Notes
    -----
    Source: ``derived``.
    """
    not_negative("score", score, "m")
    radius = float(np.hypot(wall.x, wall.y).max())
    return 2.0 * (radius + sweep_error + score) + allowance


@formula(
    name="move to the best centre",
    expression="move = (centre of the unworn zone - best centre), X",
    sources=("derived",),
    validity="table moves the casting, the spindle stays",
    unit="m",
)
def clean_up_move_x(*, wall: Wall) -> float:
    """Travel of the table along +X from the datum to the best centre.

    Parameters
    ----------
    wall : Wall
        Points of the worn wall. [record]

    Returns
    -------
    float
        Travel, negative the other way. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return -smallest_enclosing(wall.x, wall.y).x


@formula(
    name="move to the best centre",
    expression="move = (centre of the unworn zone - best centre), Y",
    sources=("derived",),
    validity="table moves the casting, the spindle stays",
    unit="m",
)
def clean_up_move_y(*, wall: Wall) -> float:
    """Travel of the table along +Y from the datum to the best centre.

    Parameters
    ----------
    wall : Wall
        Points of the worn wall. [record]

    Returns
    -------
    float
        Travel, negative the other way. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return -smallest_enclosing(wall.x, wall.y).y


@formula(
    name="deepest wear of a wall",
    expression="max_i |p_i| - D_unworn / 2",
    sources=("derived",),
    validity="wall as swept",
    unit="m",
)
def deepest_wear(*, wall: Wall) -> float:
    """How far the worst point of the wall lies beyond the zone that is not worn.

    Parameters
    ----------
    wall : Wall
        Points of the worn wall. [record]

    Returns
    -------
    float
        Wear, radial. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return float(wall.wear.max())


@formula(
    name="clean-up size, wear all on one side",
    expression="D = 2 D_largest - D_unworn + 2 score + allowance",
    sources=("derived",),
    validity="diameters alone; cut centred where the bore is not worn",
    unit="m",
)
def one_sided_clean_up(*, bore: Number, unworn: Number, score: Number, allowance: Number) -> Number:
    """Bore that cleans up if all the wear lies on one side of an unmoved centre.

    Parameters
    ----------
    bore : Number
        Worn bore at its largest. [m]
    unworn : Number
        Bore where it is not worn. [m]
    score : Number
        Depth of the deepest score, radial. [m]
    allowance : Number
        Metal that the last cut takes to clean up all round, diametral. [m]

    Returns
    -------
    Number
        Bore that cleans up, diametral. [m]

    Raises
    ------
    InputError
        If a bore is not positive or the score is negative.

    Notes
    -----
    All of D_largest - D_unworn is then a depth on one side. Source: ``derived``.

    Examples
    --------
    >>> round(one_sided_clean_up(bore=70.2e-3, unworn=70.0e-3, score=0.0, allowance=0.0), 6)
    0.0704
    """
    positive("bore", bore, "m")
    positive("bore where it is not worn", unworn, "m")
    not_negative("score", score, "m")
    return 2.0 * bore - unworn + 2.0 * score + allowance
