"""Shims that set a leaning bore upright, and whether it is square to its base.

A casting leans towards the side that stands too low, so that side is lifted.  Heights are
axial; positions of studs are angle and radius from the axis of the bore.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.setup import Lean, OneSweep, swept
from sleevewright.errors import InputError

Array = NDArray[np.float64]
FEWEST_STUDS = 3
SHIFTS = 40
"""Heights are tried with this many common lifts within a step, to round them well."""


@dataclass(frozen=True)
class Stud:
    """Where the casting is held: name, angle from +X and radius from the axis."""

    name: str
    angle: float
    radius: float


@dataclass(frozen=True)
class Shims:
    """What goes under each stud, exact and in steps, and what lean the steps leave.

    ``rock`` is how far the worst stud stands off the plane through all of them: with more
    than three, rounded shims may leave one that does not bear.
    """

    studs: tuple[Stud, ...]
    exact: tuple[float, ...]
    stepped: tuple[float, ...]
    left_x: float
    left_y: float
    rock: float

    @property
    def left(self) -> float:
        """Lean that is left, whichever way."""
        return math.hypot(self.left_x, self.left_y)

    @property
    def thickest(self) -> float:
        """The thickest shim."""
        return max(self.stepped)


@formula(
    name="shim under the low side",
    expression="lean x span between the supports, rounded to the shop's step",
    sources=("derived", "practice"),
    validity="casting rests on two lines of support, one on either side of the lean",
    unit="m",
)
def span_shim(*, lean: Lean, span: float, step: float) -> float:
    """Thickness under the side that the bore leans to, from the span between the supports.

    Parameters
    ----------
    lean : Lean
        Which way the bore leans. [record]
    span : float
        Distance between the supports along the lean. [m]
    step : float
        Step that the shop's shims come in. [m]

    Returns
    -------
    float
        Thickness, a whole number of steps. [m]

    Raises
    ------
    InputError
        If the span or the step is not above zero.

    Notes
    -----
    Source: ``derived``, ``practice``.

    Examples
    --------
    >>> round(span_shim(lean=Lean(4e-4, 0.0, 0.0, 0.0, 0.0), span=0.127, step=25.4e-6), 7)
    5.08e-05
    """
    positive("span between the supports", span, "m")
    positive("step of the shims", step, "m")
    return round(lean.amount * span / step) * step


@formula(
    name="shim under each stud",
    expression="height = lean . place, less the lowest, rounded to the shop's step",
    sources=("derived",),
    validity="casting and table stiff against the shims; small angles",
    unit="m",
)
def stud_shims(*, lean: Lean, studs: tuple[Stud, ...], step: float) -> Shims:
    """What goes under which stud, and what lean is left when it is rounded.

    Parameters
    ----------
    lean : Lean
        Which way the bore leans. [record]
    studs : tuple[Stud, ...]
        Where the casting is held, three at least. [record]
    step : float
        Step that the shop's shims come in. [m]

    Returns
    -------
    Shims
        Heights by stud, and what is left. [m]

    Raises
    ------
    InputError
        If there are fewer than three studs, they stand in a line, or the step is not above
        zero.

    Notes
    -----
    All studs may be lifted alike: that common lift is chosen so that rounding leaves the
    least lean. What is left is the plane through the rounded heights. Source: ``derived``.

    Examples
    --------
    >>> three = tuple(Stud(str(k), k * 2.0 * math.pi / 3.0, 0.05) for k in range(3))
    >>> found = stud_shims(lean=Lean(4e-4, 0.0, 0.0, 0.0, 0.0), studs=three, step=1e-5)
    >>> [round(one, 7) for one in found.stepped]
    [3e-05, 0.0, 0.0]
    """
    positive("step of the shims", step, "m")
    places = _places(studs)
    exact = places @ np.array([lean.lean_x, lean.lean_y])
    exact = exact - exact.min()
    shifts = np.arange(SHIFTS)[:, None] * (step / SHIFTS)
    tried = np.round((exact + shifts) / step) * step
    slopes, rocks = _planes(places, tried)
    left = slopes - np.array([lean.lean_x, lean.lean_y])
    amounts = np.hypot(left[:, 0], left[:, 1])
    best = int(np.argmin(np.round(amounts, 12)))
    stepped = tried[best] - tried[best].min()
    return Shims(
        studs,
        tuple(float(one) for one in exact),
        tuple(float(one) for one in stepped),
        float(-left[best, 0]),
        float(-left[best, 1]),
        float(rocks[best]),
    )


def _places(studs: tuple[Stud, ...]) -> Array:
    """Positions of the studs, refused where they do not carry a plane."""
    if len(studs) < FEWEST_STUDS:
        raise InputError(
            "studs", len(studs), "", f"{FEWEST_STUDS} or more", "Give angle and radius of each."
        )
    places = np.array(
        [[one.radius * math.cos(one.angle), one.radius * math.sin(one.angle)] for one in studs]
    )
    spread = np.linalg.svd(places - places.mean(axis=0), compute_uv=False)
    if spread[1] <= 1e-3 * spread[0]:
        raise InputError("studs", "all in a line", "", "places that carry a plane")
    return places


def _planes(places: Array, heights: Array) -> tuple[Array, Array]:
    """Slopes of the planes through rows of heights, and the farthest stud off each."""
    flat = places - places.mean(axis=0)
    inverse = np.linalg.pinv(flat)
    about = heights - heights.mean(axis=1, keepdims=True)
    slopes = about @ inverse.T
    return slopes, np.abs(about - slopes @ flat.T).max(axis=1)


@dataclass(frozen=True)
class FaceSlope:
    """How a face slopes: rise along +X and +Y, by length, with its doubt."""

    rise_x: float
    rise_y: float
    standard: float


@formula(
    name="slope of a swept face",
    expression="first harmonic of the readings by the radius of the sweep",
    sources=("derived",),
    validity="face looks up; plunger pushed in where it is high; face flat against its slope",
    unit="1",
)
def face_slope(*, sweep: OneSweep, radius: float) -> FaceSlope:
    """How a face stands against the spindle, from an indicator carried round on it.

    Parameters
    ----------
    sweep : OneSweep
        Axial readings round the face. [record]
    radius : float
        Radius at which the plunger runs. [m]

    Returns
    -------
    FaceSlope
        Rise by length. [1]

    Raises
    ------
    InputError
        If too few places were read or the radius is not above zero.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> quarter = tuple(0.5 * math.pi * k for k in range(4))
    >>> round(face_slope(sweep=OneSweep(quarter, (1e-5, 0.0, -1e-5, 0.0)), radius=0.05).rise_x, 9)
    0.0002
    """
    positive("radius of the sweep on the base", radius, "m")
    found = swept(sweep=sweep)
    return FaceSlope(found.move_x / radius, found.move_y / radius, found.move_doubt / radius)


@formula(
    name="bore square to its base",
    expression="|lean of the bore + slope of the base|",
    sources=("derived",),
    validity="both swept in one set-up; small angles",
    unit="1",
)
def base_squareness(*, lean: Lean, slope: FaceSlope) -> float:
    """How far the bore is out of square to its base, whatever either is to the spindle.

    Parameters
    ----------
    lean : Lean
        Of the bore against the spindle. [record]
    slope : FaceSlope
        Of the base against the spindle. [record]

    Returns
    -------
    float
        Out of square, radial by length. [1]

    Notes
    -----
    A face that rises towards +X has its normal leaning to -X. Source: ``derived``.

    Examples
    --------
    >>> leaning = Lean(3e-4, 0.0, 0.0, 0.0, 0.0)
    >>> base_squareness(lean=leaning, slope=FaceSlope(-3e-4, 0.0, 0.0))
    0.0
    """
    return math.hypot(lean.lean_x + slope.rise_x, lean.lean_y + slope.rise_y)


@formula(
    name="thickest of the shims",
    expression="largest of the rounded heights",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def thickest_shim(*, shims: Shims) -> float:
    """The thickest shim of all studs.

    Parameters
    ----------
    shims : Shims
        What goes under each stud. [record]

    Returns
    -------
    float
        Thickness, axial. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> some = Shims((), (), (0.0, 5e-5), 3e-5, 4e-5, 0.0)
    >>> thickest_shim(shims=some)
    5e-05
    """
    return shims.thickest


@formula(
    name="lean that rounded shims leave",
    expression="|lean - slope of the plane through the rounded heights|",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="1",
)
def lean_left(*, shims: Shims) -> float:
    """What lean is left with shims in whole steps.

    Parameters
    ----------
    shims : Shims
        What goes under each stud. [record]

    Returns
    -------
    float
        Lean, radial by length. [1]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> some = Shims((), (), (0.0, 5e-5), 3e-5, 4e-5, 0.0)
    >>> round(lean_left(shims=some), 9)
    5e-05
    """
    return shims.left
