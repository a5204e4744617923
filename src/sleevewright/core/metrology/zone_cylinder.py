"""Minimum zone, ring and plug of a cylinder: the references of cylindricity.

*zone*: two coaxial cylinders that hold all points, closest together; their distance on
radius is the cylindricity.  *circumscribed*: the smallest cylinder round all points, what
a long ring feels.  *inscribed*: the largest within them, what a long plug feels.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.contacts import Contact
from sleevewright.core.metrology.cylinder import CylinderPoints
from sleevewright.core.metrology.narrowest import Care, Held, Side, held_band
from sleevewright.errors import InputError

Array = NDArray[np.float64]

_NAME = "points of a cylinder"
_CLOSE = Care(slack=1e-13, free=1e-6)
_NEARLY = Care(slack=1e-11, free=1e-5)
"""A ring that hangs on a chord turns almost freely: 1e-11 of the radius is not worth it."""
_BEARS = 1e-6  # share below which a point of a ring or a plug need not touch
_BOX = 0.1  # how far one turn may shift either end of the axis, in sizes of the points


@dataclass(frozen=True)
class ZoneCylinder:
    """Axis at height zero with its lean, and the zone: outer less inner radius.

    The shares of the contacts at either cylinder add up to one, and ``imbalance`` is what
    is left when the slopes at the contacts, weighed with their shares, outer less inner,
    are added up, the lean counted over half the height: zero but for rounding, and below a
    millionth where a height nearly decides alone.
    """

    x: float
    y: float
    lean_x: float
    lean_y: float
    radius: float
    outer_radius: float
    inner_radius: float
    zone: float
    outer: tuple[Contact, ...]
    inner: tuple[Contact, ...]
    imbalance: float

    @property
    def contacts(self) -> tuple[int, ...]:
        """Places of all points that hold the zone, in rising order."""
        return tuple(sorted({one.point for one in (*self.outer, *self.inner)}))


@dataclass(frozen=True)
class TouchingCylinder:
    """Axis at height zero with its lean, radius, and the contacts with their shares.

    ``imbalance`` is what is left of the slopes weighed with the shares: below 1e-5, because
    what hangs on a chord turns almost freely.
    """

    x: float
    y: float
    lean_x: float
    lean_y: float
    radius: float
    held_by: tuple[Contact, ...]
    imbalance: float

    @property
    def contacts(self) -> tuple[int, ...]:
        """Places of the points that hold it, in rising order."""
        return tuple(one.point for one in self.held_by)


@formula(
    name="minimum-zone cylinder",
    expression="min over the axis of (largest less smallest distance)",
    sources=("iso-12180-1", "derived"),
    validity="six points or more round two heights or more; the best near the least-squares axis",
    unit="m",
)
def minimum_zone_cylinder(bore_points: Array) -> ZoneCylinder:
    """Narrowest gap between two coaxial cylinders that holds all points.

    Parameters
    ----------
    bore_points : Array
        Points of the wall, shape (n_points, 3), the third coordinate along the bore. [m]

    Returns
    -------
    ZoneCylinder
        Axis, radii, cylindricity on radius, contacts. [m]

    Raises
    ------
    InputError
        If there are fewer than six points or they tell no axis.
    NotConverged
        If the exchange does not come to an end.

    Notes
    -----
    Definition of ``iso-12180-1``. Exchange of contacts as for the circle, with true
    distances, begun at the least-squares axis; nothing is said of other axes far from
    it. Where one height decides, its contacts alone bear shares and the lean is free
    within limits. Source: ``iso-12180-1``; exchange ``derived``.

    Examples
    --------
    >>> turn, high = np.arange(12) * np.pi / 3.0, np.repeat([0.0, 0.05], 6)
    >>> wall = 0.030 + 5.0e-6 * np.cos(3.0 * turn)
    >>> wall = np.column_stack([wall * np.cos(turn), wall * np.sin(turn), high])
    >>> round(minimum_zone_cylinder(wall).zone, 12)
    1e-05
    """
    own, held = _held(bore_points, Side.BOTH, fewest=6)
    outer, inner = Contact.bearing(held.outer), Contact.bearing(held.inner)
    return ZoneCylinder(
        *own.line(held.place),
        radius=0.5 * own.scale * (held.high + held.low),
        outer_radius=own.scale * held.high,
        inner_radius=own.scale * held.low,
        zone=own.scale * (held.high - held.low),
        outer=outer,
        inner=inner,
        imbalance=held.imbalance(outer, inner),
    )


@formula(
    name="circumscribed cylinder",
    expression="min over the axis of the largest distance",
    sources=("iso-12180-1", "derived"),
    validity="five points or more that reach further round than half a turn",
    unit="m",
)
def circumscribed_cylinder(bore_points: Array) -> TouchingCylinder:
    """Smallest cylinder that has all points within it: what a long ring feels.

    Parameters
    ----------
    bore_points : Array
        Points of the wall, shape (n_points, 3), the third coordinate along the bore. [m]

    Returns
    -------
    TouchingCylinder
        Axis, radius, contacts. [m]

    Raises
    ------
    InputError
        If there are fewer than five points, they tell no axis, or do not reach round.
    NotConverged
        If the exchange does not come to an end.

    Notes
    -----
    Definition of ``iso-12180-1``; nothing is said of axes far from that of least squares.
    Source: ``iso-12180-1``; exchange ``derived``.
    """
    own, held = _held(bore_points, Side.OUTER, fewest=5)
    contacts = Contact.bearing(held.outer, _BEARS)
    imbalance = held.imbalance(contacts, ())
    return TouchingCylinder(*own.line(held.place), own.scale * held.high, contacts, imbalance)


@formula(
    name="inscribed cylinder",
    expression="max over the axis of the smallest distance",
    sources=("iso-12180-1", "derived"),
    validity="five points or more that reach further round than half a turn; the best near the "
    "least-squares axis",
    unit="m",
)
def inscribed_cylinder(bore_points: Array) -> TouchingCylinder:
    """Largest cylinder within all points, held between them: what a long plug feels.

    Parameters
    ----------
    bore_points : Array
        Points of the wall, shape (n_points, 3), the third coordinate along the bore. [m]

    Returns
    -------
    TouchingCylinder
        Axis, radius, contacts. [m]

    Raises
    ------
    InputError
        If there are fewer than five points, they tell no axis, or do not hold a plug.
    NotConverged
        If the exchange does not come to an end.

    Notes
    -----
    Definition of ``iso-12180-1``: the best that is reached from the least-squares axis by
    making the cylinder larger all the way. Source: ``iso-12180-1``; exchange ``derived``.
    """
    own, held = _held(bore_points, Side.INNER, fewest=5)
    contacts = Contact.bearing(held.inner, _BEARS)
    imbalance = held.imbalance((), contacts)
    return TouchingCylinder(*own.line(held.place), own.scale * held.low, contacts, imbalance)


def _held(bore_points: Array, side: Side, *, fewest: int) -> tuple[CylinderPoints, Held]:
    """The band of one kind, begun at the least-squares axis."""
    own = CylinderPoints.of(bore_points, fewest=fewest)
    start, _ = own.settled()
    far = own.plane.reach_from(float(start[0]), float(start[1]))
    if side is not Side.BOTH and far <= math.pi:
        value = f"{math.degrees(far):.0f} degrees round"
        hint = "Read further round, or use the least-squares cylinder."
        raise InputError("reach of the points", value, "", "more than half a turn", hint)

    care = _CLOSE if side is Side.BOTH else _NEARLY
    held = held_band(
        own.measure, start, np.full(4, _BOX), side, name="zone of a cylinder", care=care
    )
    if not held.is_free:
        hint = "Read further round, and at more heights."
        allowed = "points that hold the axis"
        raise InputError(_NAME, "an axis that is free", "", allowed, hint)
    return own, held
