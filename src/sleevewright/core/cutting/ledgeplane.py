"""The plane of a ledge through depths that were read round it, and what is not plane.

Depths are axial, from the deck downwards, so that more is deeper.  Angles are
counter-clockwise seen from above.  All places lie on one ring, so the plane is a level and a
first wave round the ring; its size from middle to top needs no radius.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]

UNKNOWNS = 3
"""Level, and both parts of the slope."""
APART = 1e-6
"""Angles nearer than this are one place. [rad]"""
NARROWEST = 0.15
"""Least part of a wave that the places must show in every direction, of 1 for a whole round."""
UNLIKELY = 0.01
"""Chance below which what is left of the readings is called no plane."""


@dataclass(frozen=True, eq=False)
class LedgePlane:
    """A level and a slope through depths round a ring, with what they leave.

    ``rise`` is the deepest less the shallowest of the plane across the whole ring, axial;
    ``deepest`` the angle where it is deepest.  Doubts are standard uncertainties.
    """

    level: float
    along_x: float  # half rise toward 0
    along_y: float  # half rise toward a quarter turn
    rise: float
    deepest: float  # [rad], 0 to 2 pi
    level_doubt: float
    rise_doubt: float
    deepest_doubt: float  # [rad]; pi where the tilt is lost in its doubt
    angles: Array  # of the places [rad]
    residuals: Array
    freedom: int
    chance: float  # of residuals as large as these from the doubt of a reading alone

    @property
    def has_direction(self) -> bool:
        """Whether the tilt stands out of its doubt, so that its direction means something."""
        return self.rise > 2.0 * self.rise_doubt

    @property
    def is_plane(self) -> bool | None:
        """Whether the readings go with a plane; nothing where three places say all."""
        return None if self.freedom < 1 else self.chance >= UNLIKELY


@formula(
    name="plane of a ledge",
    expression="depth = level + x cos(angle) + y sin(angle), least squares",
    sources=("derived", "jcgm-100"),
    validity="places on one ring; readings equally good; a tilt well below 0.1 rad",
    unit="record",
)
def ledge_plane(*, angles: Array, depths: Array, standard: float) -> LedgePlane:
    """Plane through depths round a ledge by least squares, with its doubts.

    Parameters
    ----------
    angles : Array
        Angle of each place. [rad]
    depths : Array
        Depth at each place, axial. [m]
    standard : float
        Standard uncertainty of one reading that the others do not share. [m]

    Returns
    -------
    LedgePlane
        Level, tilt, what is left, doubts. [m]

    Raises
    ------
    InputError
        If there are fewer than three places, or they lie too near together to tell a tilt.

    Notes
    -----
    The covariance is that of the readings' own doubt, not of the residuals: four places leave
    one degree of freedom, too few to learn a scatter from.  Source: ``derived``; doubts
    ``jcgm-100`` 5.1.2, chance of the residuals from the sum of squares over the variance.

    Examples
    --------
    >>> round_ = np.radians([0.0, 90.0, 180.0, 270.0])
    >>> told = np.array([4.01, 4.00, 3.99, 4.00]) * 1e-3
    >>> plane = ledge_plane(angles=round_, depths=told, standard=1e-6)
    >>> round(plane.rise * 1e6, 3), round(plane.level * 1e3, 6)
    (20.0, 4.0)
    """
    from scipy.special import chdtrc

    positive("doubt of a reading", standard, "m")
    _check_places(angles, depths)
    matrix = np.column_stack((np.ones_like(angles), np.cos(angles), np.sin(angles)))
    inverse = np.linalg.inv(matrix.T @ matrix)
    level, x, y = (float(one) for one in inverse @ (matrix.T @ depths))
    residuals = depths - matrix @ np.array([level, x, y])
    covariance = standard**2 * inverse
    half = math.hypot(x, y)
    deepest = math.atan2(y, x) % (2.0 * math.pi)
    if 2.0 * math.pi - deepest < APART:
        deepest = 0.0  # rounding alone put it there
    along = np.array([0.0, math.cos(deepest), math.sin(deepest)])
    aside = np.array([0.0, -math.sin(deepest), math.cos(deepest)])
    rise_doubt = 2.0 * math.sqrt(float(along @ covariance @ along))
    side = math.sqrt(float(aside @ covariance @ aside))
    freedom = len(angles) - UNKNOWNS
    squares = float(residuals @ residuals) / standard**2
    return LedgePlane(
        level, x, y, 2.0 * half, deepest,
        level_doubt=math.sqrt(float(covariance[0, 0])),
        rise_doubt=rise_doubt,
        deepest_doubt=math.pi if side >= half else math.asin(side / half),
        angles=angles,
        residuals=residuals,
        freedom=freedom,
        chance=float(chdtrc(freedom, squares)) if freedom > 0 else 1.0,
    )  # fmt: skip


def _check_places(angles: Array, depths: Array) -> None:
    """Refuse too few places, or places that all lie to one side."""
    if angles.shape != depths.shape or angles.ndim != 1:
        raise InputError("depths of the ledge", f"{depths.size}", "", f"{angles.size}, as angles")
    if not (np.isfinite(angles).all() and np.isfinite(depths).all()):
        raise InputError("depths of the ledge", "a blank", "", "a depth and an angle at each place")
    apart = np.unique(np.round((angles % (2.0 * np.pi)) / APART)).size
    hint = "Read the ledge at four places a quarter turn apart."
    if apart < UNKNOWNS:
        allowed = "three angles or more"
        raise InputError("angles of the ledge", apart, "different", allowed, hint)
    waves = np.column_stack((np.cos(angles), np.sin(angles)))
    waves = waves - waves.mean(axis=0)
    least = float(np.linalg.eigvalsh(waves.T @ waves / len(angles))[0])
    if least < 0.5 * NARROWEST**2:
        raise InputError("angles of the ledge", "all to one side", "", "all round the ledge", hint)


@formula(
    name="tilt of a ledge",
    expression="tilt = fall / diameter",
    sources=("derived",),
    validity="small tilts",
    unit="1",
)
def ledge_tilt(*, fall: Number, diameter: Number) -> Number:
    """Slope of a ledge, from its fall across the ring on which it was read.

    Parameters
    ----------
    fall : Number
        Deepest less shallowest of the plane across the ring, axial. [m]
    diameter : Number
        Diameter of the ring of places. [m]

    Returns
    -------
    Number
        Slope of the ledge against the deck. [1]

    Raises
    ------
    InputError
        If the diameter is not positive or the fall is negative.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(ledge_tilt(fall=25.4e-6, diameter=63.5e-3) * 1e3, 3)
    0.4
    """
    not_negative("rise of the ledge", fall, "m")
    return fall / positive("diameter of the places", diameter, "m")


@formula(
    name="rise of a ledge",
    expression="rise = 2 (x^2 + y^2)^(1/2)",
    sources=("derived",),
    validity="plane through the depths",
    unit="m",
)
def ledge_rise(*, plane: LedgePlane) -> float:
    """Deepest less shallowest of the plane across the ring of places.

    Parameters
    ----------
    plane : LedgePlane
        Plane through the depths. [record]

    Returns
    -------
    float
        Rise, axial. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return plane.rise


@formula(
    name="where a ledge is deepest",
    expression="angle = atan2(y, x)",
    sources=("derived",),
    validity="a tilt that stands out of its doubt",
    unit="rad",
)
def ledge_deepest(*, plane: LedgePlane) -> float:
    """Angle at which the plane of a ledge is deepest.

    Parameters
    ----------
    plane : LedgePlane
        Plane through the depths. [record]

    Returns
    -------
    float
        Angle, counter-clockwise seen from above. [rad]

    Notes
    -----
    Source: ``derived``.
    """
    return plane.deepest


@formula(
    name="farthest off the plane",
    expression="largest |depth - plane|",
    sources=("derived",),
    validity="four places or more; three always lie on their plane",
    unit="m",
)
def off_plane(*, plane: LedgePlane) -> float:
    """How far the worst of the depths lies off the plane through all of them.

    Parameters
    ----------
    plane : LedgePlane
        Plane through the depths. [record]

    Returns
    -------
    float
        Farthest off, axial. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return float(np.abs(plane.residuals).max())


def degrees_words(angle: float) -> str:
    """An angle in whole degrees of one turn.

    Parameters
    ----------
    angle : float
        Angle. [rad]

    Returns
    -------
    str
        Degrees from 0 to 359. [text]

    Examples
    --------
    >>> degrees_words(math.radians(359.7)), degrees_words(math.radians(-90.2))
    ('0°', '270°')
    """
    return f"{round(math.degrees(angle)) % 360}°"


def ledge_words(plane: LedgePlane) -> str:
    """How a ledge lies, in words.

    Parameters
    ----------
    plane : LedgePlane
        Plane through the depths. [record]

    Returns
    -------
    str
        Level within its doubt, or where it is deepest; and whether it is a plane at all. [text]
    """
    lies = "level, as far as these readings tell"
    if plane.has_direction:
        lies = f"deepest toward {degrees_words(plane.deepest)}"
    if plane.is_plane is None:
        return f"{lies}; three places cannot show whether it is a plane"
    if not plane.is_plane:
        return f"{lies}; but no plane goes through the places"
    return lies
