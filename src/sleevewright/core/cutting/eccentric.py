"""Where to bore a worn cylinder so that it cleans up at the smallest size.

From indicator sweeps at several depths, spindle on the datum: the first depth is a zone
that is not worn, and its mean reading stands for that zone's diameter.  A reading is
positive where the plunger is pushed in, so that a worn wall reads lower.  Angles are
counter-clockwise from +X, seen from above; X and Y are of the table, and the move brings
the centre of the new bore under the spindle.  Radii are radial, clean-up sizes diametral.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.touching_circles import circumscribed_circle
from sleevewright.errors import InputError

Array = NDArray[np.float64]

FEWEST_ROUND = 4
"""Angles at which a wall is to be swept at each depth. [1]"""

WIDEST_GAP = 0.5 * np.pi + 1e-6
"""Widest angle between neighbours of a sweep; wear in a wider one would not be seen. [rad]"""


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
    zone: float  # radius of the zone that is not worn
    datum_x: float
    datum_y: float


@dataclass(frozen=True)
class BestCircle:
    """Where and how large the smallest bore round a worn wall is.

    ``x`` and ``y`` lie from the datum, ``beyond`` is how far its radius is larger than that
    of the zone that is not worn.
    """

    x: float
    y: float
    radius: float
    beyond: float


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
    read: NDArray[np.bool_] = np.isfinite(readings.readings)
    told: NDArray[np.bool_] = np.asarray(read.any(axis=1))
    if not told[0] or told.sum() < 2:
        allowed = "the unworn zone first, then one worn depth or more"
        raise InputError("depths of the sweep", int(told.sum()), "", allowed)
    for station in np.flatnonzero(told):
        _check_round(readings.directions, read[station], int(station) + 1)
    centre, level = _centre_of(readings.directions[read[0]], readings.readings[0, read[0]])
    row, column = np.nonzero(read)
    is_worn = row > 0
    row, column = row[is_worn], column[is_worn]
    angles = readings.directions[column]
    radii = 0.5 * unworn + level - readings.readings[row, column]
    x, y = radii * np.cos(angles) - centre[0], radii * np.sin(angles) - centre[1]
    wear = np.hypot(x, y) - 0.5 * unworn
    depths, place = readings.stations[row], (float(centre[0]), float(centre[1]))
    return Wall(x, y, wear, depths, angles, 0.5 * unworn, *place)


def _check_round(directions: Array, read: NDArray[np.bool_], number: int) -> None:
    """A sweep that leaves a part of the wall out may leave out the wear."""
    angles = np.unique(np.mod(directions[read], 2.0 * np.pi))
    if angles.size < FEWEST_ROUND:
        hint = f"At depth {number} from the top; ports are stepped over, every land is read."
        raise InputError("angles of a sweep", angles.size, "", "four or more at each depth", hint)
    gaps = np.diff(np.append(angles, angles[0] + 2.0 * np.pi))
    if gaps.max() > WIDEST_GAP:
        widest = f"{np.degrees(gaps.max()):.0f}"
        hint = f"At depth {number} from the top; read beside the port as well."
        raise InputError("gap of a sweep", widest, "deg", "90 deg or less", hint)


def _centre_of(angles: Array, readings: Array) -> tuple[Array, float]:
    """Centre of a round zone from the spindle, and its mean reading.

    The reading is high where the wall is near, so the centre lies the other way.
    """
    design = np.column_stack([np.ones(angles.size), np.cos(angles), np.sin(angles)])
    level, a, b = np.linalg.lstsq(design, readings, rcond=None)[0]
    return np.array([-a, -b]), float(level)


@formula(
    name="smallest bore round a worn wall",
    expression="min R with |p_i - c| <= R",
    sources=("elzinga-1972",),
    validity="wall as swept",
    unit="m",
)
def best_circle(*, worn: Wall) -> BestCircle:
    """The smallest circle round all points of the worn wall.

    Parameters
    ----------
    worn : Wall
        Points of the worn wall. [record]

    Returns
    -------
    BestCircle
        Centre from the datum, and radius. [m]

    Notes
    -----
    Source: ``elzinga-1972``.
    """
    found = circumscribed_circle(worn.x, worn.y)
    return BestCircle(found.x, found.y, found.radius, found.radius - worn.zone)


@formula(
    name="clean-up size, best centre",
    expression="D = 2 min_c max_i |p_i - c| + 2 score + allowance",
    sources=("elzinga-1972", "derived"),
    validity="wall as swept; a score counts in full, wherever it lies",
    unit="m",
)
def best_clean_up(*, worn: Wall, sweep_error: Number, score: Number, allowance: Number) -> Number:
    """Smallest bore that cleans up, at the centre that suits the wear.

    Parameters
    ----------
    worn : Wall
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
    radius = circumscribed_circle(worn.x, worn.y).radius
    return 2.0 * (radius + sweep_error + score) + allowance


@formula(
    name="clean-up size, centred on the datum",
    expression="D = 2 max_i |p_i| + 2 score + allowance",
    sources=("derived",),
    validity="wall as swept, spindle on the centre of the unworn zone",
    unit="m",
)
def centred_clean_up(
    *, worn: Wall, sweep_error: Number, score: Number, allowance: Number
) -> Number:
    """Bore that cleans up where the centre of the unworn zone is kept.

    Parameters
    ----------
    worn : Wall
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
    radius = float(np.hypot(worn.x, worn.y).max())
    return 2.0 * (radius + sweep_error + score) + allowance


@formula(
    name="move to the best centre, towards 0 degrees",
    expression="move = centre of the unworn zone - best centre",
    sources=("derived",),
    validity="table moves the casting, the spindle stays",
    unit="m",
)
def clean_up_move_x(*, worn: Wall) -> float:
    """Travel of the table towards 0 degrees of the sweep, from the datum to the best centre.

    Parameters
    ----------
    worn : Wall
        Points of the worn wall. [record]

    Returns
    -------
    float
        Travel, negative the other way. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return -circumscribed_circle(worn.x, worn.y).x


@formula(
    name="move to the best centre, towards 90 degrees",
    expression="move = centre of the unworn zone - best centre",
    sources=("derived",),
    validity="table moves the casting, the spindle stays",
    unit="m",
)
def clean_up_move_y(*, worn: Wall) -> float:
    """Travel of the table towards 90 degrees of the sweep, from the datum to the best centre.

    Parameters
    ----------
    worn : Wall
        Points of the worn wall. [record]

    Returns
    -------
    float
        Travel, negative the other way. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return -circumscribed_circle(worn.x, worn.y).y


@formula(
    name="deepest wear of a wall",
    expression="max_i |p_i| - D_unworn / 2",
    sources=("derived",),
    validity="wall as swept",
    unit="m",
)
def deepest_wear(*, worn: Wall) -> float:
    """How far the worst point of the wall lies beyond the zone that is not worn.

    Parameters
    ----------
    worn : Wall
        Points of the worn wall. [record]

    Returns
    -------
    float
        Wear, radial. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return float(worn.wear.max())


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
