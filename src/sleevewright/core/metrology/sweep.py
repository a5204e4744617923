"""Sweeping a bore with an indicator: where its centre is, and which way to move the table.

Angles are counter-clockwise from +X, seen from above.  A reading is positive where the
plunger is pushed in, so in a bore the high reading is where the wall is nearest.  The
move is how far the table is to go, along +X and +Y, so that the centre of the bore comes
under the axis of the spindle: it points to the high reading and is half of the swing.

*spindle*: the indicator turns with the spindle; the angle is where the plunger points.
*table*: the plunger stays at the +X side and the table turns; the angle is how far the
table has turned, and the move is made with the table turned back to zero.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, not_negative, within
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]


class Mount(StrEnum):
    """What turns during the sweep."""

    SPINDLE = "spindle"
    TABLE = "table"


@dataclass(frozen=True)
class Sweep:
    """A sweep taken apart into offset and form.

    ``oval`` and ``three_lobed`` are radial amplitudes, ``None`` where too few readings
    were taken to tell.  ``form`` is the peak-to-valley of what remains without the offset.
    ``residual`` is the standard deviation around everything that was fitted, ``None``
    where no reading is left over.  ``move_doubt`` is the standard uncertainty of the
    move along the direction that is known worse.
    """

    move_x: float
    move_y: float
    offset: float
    total_swing: float  # twice the offset
    swing_as_read: float  # largest less smallest reading
    oval: float | None
    three_lobed: float | None
    form: float
    residual: float | None
    move_doubt: float


@dataclass(frozen=True)
class _Harmonics:
    """Coefficients of cosine and sine by order, and what is left."""

    terms: dict[int, tuple[float, float]]
    left: Array
    freedom: int
    covariance: Array  # of the first harmonic, per variance of a reading


@formula(
    name="sweep of a bore",
    expression="reading = c + a cos t + b sin t + harmonics; move = (a, b), "
    "or (a, -b) where the table turns",
    sources=("derived",),
    validity="offset and form small against the radius; plunger square to the wall",
    unit="m",
)
def sweep_offset(
    angles: Array, readings: Array, *, mount: Mount, reading_standard: float = 0.0
) -> Sweep:
    """Which way to move the table so that the bore comes under the spindle.

    Parameters
    ----------
    angles : Array
        Angles of the readings, counter-clockwise from +X, shape (n_readings,). [rad]
    readings : Array
        Indicator readings, positive where pushed in, shape (n_readings,). [m]
    mount : Mount
        What turns. [text]
    reading_standard : float
        Standard uncertainty of one reading, for the doubt of the move. [m]

    Returns
    -------
    Sweep
        Move of the table, offset, form and what is left. [m]

    Raises
    ------
    InputError
        If there are fewer than three readings, or they do not reach far enough round.

    Notes
    -----
    Least-squares harmonics: the second from six readings on, the third from eight, so
    that some are left over to judge by. An offset e adds e^2 / (4 R) of oval that is
    not there. Source: ``derived``.

    Examples
    --------
    >>> quarter = np.arange(4) * 0.5 * np.pi
    >>> thou = np.array([3.0, 1.0, -3.0, -1.0]) * 25.4e-6
    >>> found = sweep_offset(quarter, thou, mount=Mount.SPINDLE)
    >>> [round(move / 25.4e-6, 6) for move in (found.move_x, found.move_y)]
    [3.0, 1.0]
    """
    _check(angles, readings)
    not_negative("standard uncertainty of a reading", reading_standard, "m")
    found = _fit(angles, readings)
    a, b = found.terms[1]
    offset = math.hypot(a, b)
    level = readings - a * np.cos(angles) - b * np.sin(angles)
    residual = None
    if found.freedom:
        residual = math.sqrt(float(found.left @ found.left) / found.freedom)
    worst = math.sqrt(float(np.linalg.eigvalsh(found.covariance)[-1]))
    return Sweep(
        move_x=a,
        move_y=b if mount is Mount.SPINDLE else -b,
        offset=offset,
        total_swing=2.0 * offset,
        swing_as_read=float(np.ptp(readings)),
        oval=math.hypot(*found.terms[2]) if 2 in found.terms else None,
        three_lobed=math.hypot(*found.terms[3]) if 3 in found.terms else None,
        form=float(np.ptp(level)),
        residual=residual,
        move_doubt=worst * max(reading_standard, residual or 0.0),
    )


def _check(angles: Array, readings: Array) -> None:
    """One finite reading for each angle, three different angles at least."""
    if angles.ndim != 1 or angles.shape != readings.shape:
        raise InputError("sweep", f"{readings.size} readings", "", f"one at each of {angles.size}")
    if not (np.isfinite(angles).all() and np.isfinite(readings).all()):
        raise InputError("sweep", "not a number", "", "a number at every angle")
    if angles.size < 3:
        allowed = "three or more, four a quarter turn apart are usual"
        raise InputError("readings of a sweep", int(angles.size), "", allowed)


def _design(angles: Array, order: int) -> Array:
    """Columns 1, cos t, sin t, ... up to ``order``."""
    columns = [np.ones(angles.size)]
    for n in range(1, order + 1):
        columns += [np.cos(n * angles), np.sin(n * angles)]
    return np.column_stack(columns)


def _fit(angles: Array, readings: Array) -> _Harmonics:
    """Least squares with as many harmonics as the readings can tell apart."""
    order = max(1, min(3, angles.size // 2 - 1))
    while order > 1 and np.linalg.cond(_design(angles, order)) > _TELLS_APART:
        order -= 1
    design = _design(angles, order)
    if np.linalg.cond(design) > _TELLS_APART:
        raise InputError(
            "angles of the sweep",
            "bunched",
            "",
            "directions that reach round the bore",
            "Take readings a quarter turn apart, or at least over half a turn.",
        )
    factor, *_ = np.linalg.lstsq(design, readings, rcond=None)
    terms = {n: (float(factor[2 * n - 1]), float(factor[2 * n])) for n in range(1, order + 1)}
    covariance = np.linalg.inv(design.T @ design)[1:3, 1:3].astype(np.float64)
    left = readings - design @ factor
    return _Harmonics(terms, left, angles.size - design.shape[1], covariance)


_TELLS_APART = 20.0  # condition number: three readings within a fifth of a turn are above it


@formula(
    name="lever indicator at an angle",
    expression="true = reading cos(angle)",
    sources=("practice", "derived"),
    validity="straight lever, angle between the lever and the surface, below 60 degrees",
    unit="m",
)
def lever_reading(reading: Number, *, angle: float) -> Number:
    """True movement behind the reading of a lever indicator that stands at an angle.

    Parameters
    ----------
    reading : Number
        What the indicator shows. [m]
    angle : float
        Angle between the lever and the surface. [rad]

    Returns
    -------
    Number
        Movement square to the surface. [m]

    Raises
    ------
    InputError
        If the angle is not between 0 and 80 degrees.

    Notes
    -----
    The tip moves square to its lever. Source: ``derived``; the table of factors is
    workshop knowledge, ``practice``.

    Examples
    --------
    >>> round(lever_reading(4.0e-3, angle=math.radians(60.0)), 9)
    0.002
    """
    within("angle of the lever", angle, "rad", 0.0, math.radians(80.0))
    return reading * math.cos(angle)
