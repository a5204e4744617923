"""Sweeping a bore with an indicator: where its centre is, and which way to move the table.

Angles are from +X, seen from above, counter-clockwise unless it is said otherwise.  A
reading is positive where the plunger is pushed in, so in a bore the high reading is where
the wall is nearest.  The move is how far the table is to go, along +X and +Y, so that the
centre of the bore comes under the axis of the spindle: it points to the high reading and
is half of the swing.

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
from sleevewright.core.metrology.harmonics import Harmonics, Known, fit_harmonics, known_from
from sleevewright.core.uncertainty.contributions import coverage_factor
from sleevewright.errors import InputError

Array = NDArray[np.float64]


class Mount(StrEnum):
    """What turns during the sweep."""

    SPINDLE = "spindle"
    TABLE = "table"


class Sense(StrEnum):
    """Which way round the angles are counted, seen from above."""

    COUNTER = "counter-clockwise"
    CLOCKWISE = "clockwise"


@formula(
    name="way round the bore that angles are counted",
    expression="1 for the spindle counter-clockwise or the table clockwise, else -1",
    sources=("derived",),
    validity="seen from above; plunger at the +X side where the table turns",
    unit="1",
)
def place_sign(*, mount: Mount, sense: Sense) -> float:
    """Whether an angle of a sweep stands counter-clockwise on the bore, or clockwise.

    Parameters
    ----------
    mount : Mount
        What turns. [text]
    sense : Sense
        Which way round the angles are counted, seen from above. [text]

    Returns
    -------
    float
        1 where the angle stands counter-clockwise from +X on the bore, -1 where clockwise. [1]

    Notes
    -----
    Where the table turns counter-clockwise, the place under the plunger goes clockwise round
    the bore. Source: ``derived``.

    Examples
    --------
    >>> place_sign(mount=Mount.TABLE, sense=Sense.COUNTER)
    -1.0
    """
    return 1.0 if (mount is Mount.SPINDLE) is (sense is Sense.COUNTER) else -1.0


@dataclass(frozen=True)
class Sweep:
    """A sweep taken apart into offset and form.

    ``oval`` and ``three_lobed`` are radial amplitudes, ``None`` where too few readings
    were taken to tell.  ``form`` is the peak-to-valley of what remains without the offset.
    ``residual`` is the standard deviation around everything that was fitted, ``None``
    where no reading is left over.  ``move_doubt`` is the standard uncertainty of the
    move along the direction that is known worse; the ellipse has half axes of one standard
    uncertainty.  Scatter makes an offset look larger, never smaller: ``offset_without`` is
    the offset with the mean of that taken off.
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
    standard_x: float
    standard_y: float
    ellipse: tuple[float, float, float]  # half axes, and angle of the longer one from +X
    widening: float  # from standard uncertainty to 95 %
    offset_without: float
    reading_standard: float
    amplitude_doubt: float  # standard uncertainty of an amplitude of form
    places: int  # different directions
    repeats: int  # readings at a direction that was read before
    reach: float  # how far round they reach [rad]
    is_rough: bool  # whether the readings stray more than their gauge explains
    level: float  # reading that the bore would give everywhere if it were round and centred

    @property
    def region(self) -> tuple[float, float, float]:
        """Half axes of the ellipse that holds the move 19 times in 20, and where it points."""
        wide = _BOTH_95 * self.widening / _ONE_95
        return wide * self.ellipse[0], wide * self.ellipse[1], self.ellipse[2]

    @property
    def is_three_lobed(self) -> bool:
        """Whether three lobes stand out of what scatter alone would make."""
        return self.three_lobed is not None and self.three_lobed > _STANDS_OUT * (
            self.amplitude_doubt
        )


_ONE_95 = 1.959963984540054  # two-sided 95 % of one normal component
_BOTH_95 = math.sqrt(-2.0 * math.log(0.05))  # 95 % of two together
_STANDS_OUT = math.sqrt(-2.0 * math.log(0.01))
"""Amplitude that pure scatter passes once in a hundred, in standard uncertainties."""


@formula(
    name="sweep of a bore",
    expression="reading = c + a cos t + b sin t + harmonics; move = (a, b), "
    "or (a, -b) where the table turns",
    sources=("derived",),
    validity="offset and form small against the radius; plunger square to the wall",
    unit="m",
)
def sweep_offset(
    angles: Array,
    readings: Array,
    *,
    mount: Mount,
    reading_standard: float = 0.0,
    sense: Sense = Sense.COUNTER,
    highest: int | None = None,
) -> Sweep:
    """Which way to move the table so that the bore comes under the spindle.

    Parameters
    ----------
    angles : Array
        Angles of the readings from +X, shape (n_readings,). [rad]
    readings : Array
        Indicator readings, positive where pushed in, shape (n_readings,). [m]
    mount : Mount
        What turns. [text]
    reading_standard : float
        Standard uncertainty of one reading; 0 takes it from what the fit leaves. [m]
    sense : Sense
        Which way round the angles are counted, seen from above. [text]
    highest : int | None
        Highest harmonic that is asked for, 1 to 3; as many as can be told where none is. [1]

    Returns
    -------
    Sweep
        Move of the table, offset, form and what is left. [m]

    Raises
    ------
    InputError
        If there are too few different directions for what is asked, or they stand so close
        that there is no centre in them.

    Notes
    -----
    Least-squares harmonics: the second from six places on, the third from eight, so
    that some are left over to judge by. A sweep over part of the circle is answered with
    the doubt that it has. An offset e adds e^2 / (4 R) of oval that is not there. At fewer
    than six places three lobes look like an offset. Source: ``derived``.

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
    turned = -angles if sense is Sense.CLOCKWISE else angles
    found = fit_harmonics(turned, readings, highest=highest)
    flat = readings - found.terms[1][0] * np.cos(turned) - found.terms[1][1] * np.sin(turned)
    return _taken_apart(found, known_from(found, reading_standard), mount, readings, flat)


def _taken_apart(
    found: Harmonics, known: Known, mount: Mount, readings: Array, flat: Array
) -> Sweep:
    """Fit and doubt as the record of a sweep; ``flat`` is what was read without the offset."""
    a, b = found.terms[1]
    mirror = 1.0 if mount is Mount.SPINDLE else -1.0
    offset = math.hypot(a, b)
    ellipse = _ellipse(known.covariance, mirror)
    count = readings.size
    return Sweep(
        move_x=a,
        move_y=mirror * b,
        offset=offset,
        total_swing=2.0 * offset,
        swing_as_read=float(np.ptp(readings)),
        oval=math.hypot(*found.terms[2]) if 2 in found.terms else None,
        three_lobed=math.hypot(*found.terms[3]) if 3 in found.terms else None,
        form=float(np.ptp(flat)),
        residual=(
            math.sqrt(float(found.left @ found.left) / found.freedom) if found.freedom else None
        ),
        move_doubt=ellipse[0],
        standard_x=math.sqrt(known.covariance[0, 0]),
        standard_y=math.sqrt(known.covariance[1, 1]),
        ellipse=ellipse,
        widening=coverage_factor(degrees_of_freedom=known.freedom) if known.freedom else math.inf,
        offset_without=offset_without_scatter(offset, variances=float(np.trace(known.covariance))),
        reading_standard=known.reading,
        amplitude_doubt=known.reading * math.sqrt(2.0 / count),
        places=found.places,
        repeats=count - found.places,
        reach=found.reach,
        is_rough=known.is_rough,
        level=found.level,
    )


def _ellipse(covariance: Array, mirror: float) -> tuple[float, float, float]:
    """Half axes of one standard uncertainty, the longer first, and where it points."""
    if not np.isfinite(covariance).all():
        return math.inf, math.inf, 0.0
    squares, axes = np.linalg.eigh(covariance)
    long, short = (math.sqrt(max(float(one), 0.0)) for one in squares[::-1])
    return long, short, math.atan2(mirror * float(axes[1, 1]), float(axes[0, 1]))


@formula(
    name="offset without what scatter adds",
    expression="sqrt(max(0, offset^2 - u_x^2 - u_y^2))",
    sources=("derived",),
    validity="normal scatter; E offset^2 = e^2 + u_x^2 + u_y^2",
    unit="m",
)
def offset_without_scatter(offset: float, *, variances: float) -> float:
    """An offset less what scatter adds to it in the mean: a length is never negative.

    Parameters
    ----------
    offset : float
        Offset as it came out, radial. [m]
    variances : float
        Sum of the variances of its two components. [m2]

    Returns
    -------
    float
        Offset without it, at least 0, radial. [m]

    Notes
    -----
    Squares add up, so the square is right in the mean. Source: ``derived``.

    Examples
    --------
    >>> round(offset_without_scatter(5e-6, variances=9e-12), 9), offset_without_scatter(
    ...     1e-6, variances=9e-12
    ... )
    (4e-06, 0.0)
    """
    return math.sqrt(max(0.0, offset**2 - variances))


def _check(angles: Array, readings: Array) -> None:
    """One finite reading for each angle, three at least."""
    if angles.ndim != 1 or angles.shape != readings.shape:
        raise InputError("sweep", f"{readings.size} readings", "", f"one at each of {angles.size}")
    if not (np.isfinite(angles).all() and np.isfinite(readings).all()):
        raise InputError("sweep", "not a number", "", "a number at every angle")
    if angles.size < 3:
        allowed = "three or more, four a quarter turn apart are usual"
        raise InputError("readings of a sweep", int(angles.size), "", allowed)


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
