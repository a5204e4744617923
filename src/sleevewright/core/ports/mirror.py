"""A port's twin, another deck, another outline: maps brought into one frame to be compared.

Angles count clockwise seen from the deck, depths from the deck downwards.  A mirror image is
taken about an axis of the casting, in angle; depths stay as they are.  Heights of two cylinders
are compared from the edge of the crown at top dead centre, never from two decks.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.checks import Number, finite
from sleevewright.core.formulas import formula
from sleevewright.core.ports.mapped import EDGES, MappedPort
from sleevewright.errors import InputError

TURN = 2.0 * math.pi
"""A whole turn round the bore, in radians."""


@dataclass(frozen=True)
class EdgePlaces:
    """Where the four edges of a window lie.

    Attributes
    ----------
    roof, floor : float
        Depth below the deck. [m]
    right, left : float
        Angle of the outermost point, clockwise seen from the deck. [rad]
    """

    roof: float
    right: float
    floor: float
    left: float

    def at(self, edge: str) -> float:
        """The place of an edge by its name."""
        if edge not in EDGES:
            raise InputError("edge", edge, "", ", ".join(EDGES))
        return float(getattr(self, edge))


def places_of(port: MappedPort) -> EdgePlaces:
    """Where the edges of a mapped port lie, by its outermost points.

    Parameters
    ----------
    port : MappedPort
        A window of a map. [record]

    Returns
    -------
    EdgePlaces
        Depths and angles of its four edges. [record]
    """
    angles = port.points[:, 0]
    return EdgePlaces(port.roof, float(angles.max()), port.floor, float(angles.min()))


def mirrored(port: MappedPort, *, axis: float, name: str) -> MappedPort:
    """The mirror image of a port about an axis of the casting, under its twin's name.

    The outline stays clockwise seen from the axis, and begins at the left of the roof as every
    outline does.  Its angle may come out beyond half a turn: see :func:`brought_near`.

    Parameters
    ----------
    port : MappedPort
        The port that is mirrored. [record]
    axis : float
        Angle of the axis, clockwise seen from the deck. [rad]
    name : str
        What the image is called. [text]

    Returns
    -------
    MappedPort
        The image. [record]

    Raises
    ------
    InputError
        If the axis is not finite.
    """
    finite("axis of the mirror", axis, "rad")
    points = port.points[::-1].copy()
    points[:, 0] = 2.0 * axis - points[:, 0]
    first = int(np.lexsort((points[:, 0], np.round(points[:, 1], 9)))[0])
    return replace(port, name=name, points=np.roll(points, -first, axis=0), shape=None, group=name)


def brought_near(port: MappedPort, *, near: float) -> MappedPort:
    """A port turned by whole turns until its middle lies within half a turn of an angle.

    It is the same window; what differs is only how many turns its angle is counted with.

    Parameters
    ----------
    port : MappedPort
        The port. [record]
    near : float
        The angle, clockwise seen from the deck. [rad]

    Returns
    -------
    MappedPort
        The port, the very same where it lies near already. [record]

    Raises
    ------
    InputError
        If the angle is not finite.
    """
    turns = turns_to(port.middle, near=near)
    if not turns:
        return port
    return replace(port, points=port.points + np.array([turns * TURN, 0.0]), shape=None)


def turns_to(angle: float, *, near: float) -> int:
    """Whole turns to add to an angle, so that it lies within half a turn of another one.

    Parameters
    ----------
    angle : float
        The angle. [rad]
    near : float
        The other one. [rad]

    Returns
    -------
    int
        How many turns; negative where they are taken away. [1]

    Raises
    ------
    InputError
        If one of them is not finite.

    Examples
    --------
    >>> turns_to(7.3, near=1.0), turns_to(-3.0, near=3.0), turns_to(0.2, near=-0.2)
    (-1, 1, 0)
    """
    return round((finite("angle", near, "rad") - finite("angle", angle, "rad")) / TURN)


@formula(
    name="depth by the crown",
    expression="z = z_there - deck_there + deck_here",
    sources=("derived",),
    validity="same stroke, rod and piston; deck clearances at top dead centre",
    unit="m",
)
def depth_by_crown(*, depth: Number, deck_there: Number, deck_here: Number) -> Number:
    """Depth here of an edge that was measured on another cylinder.

    Parameters
    ----------
    depth : Number
        Depth below the deck of the other cylinder. [m]
    deck_there : Number
        Depth of that crown's edge below that deck at top dead centre. [m]
    deck_here : Number
        Depth of this crown's edge below this deck at top dead centre. [m]

    Returns
    -------
    Number
        Depth below this deck at which the edge opens at the same crank angle. [m]

    Raises
    ------
    InputError
        If a depth is not finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(depth_by_crown(depth=0.0560, deck_there=0.0002, deck_here=-0.0001), 4)
    0.0557
    """
    for field, value in (("depth", depth), ("deck there", deck_there), ("deck here", deck_here)):
        finite(field, value, "m")
    return depth - deck_there + deck_here


def reshaped(port: MappedPort, places: EdgePlaces, *, name: str) -> MappedPort:
    """The outline of a port with its four edges brought to other places.

    The top third moves with the roof and the bottom third with the floor, so that arch and
    corners keep their form; between them the sides are drawn out.  Across, all is drawn out
    evenly from side to side.

    Parameters
    ----------
    port : MappedPort
        The outline that is brought to them. [record]
    places : EdgePlaces
        Where its edges are to lie. [record]
    name : str
        What it is called then. [text]

    Returns
    -------
    MappedPort
        The outline with its edges there. [record]

    Raises
    ------
    InputError
        If the roof would lie at or below the floor, or the left side at or right of the right one.
    """
    now = places_of(port)
    if not places.floor > places.roof:
        allowed = f"deeper than the roof, {places.roof:.6g} m"
        raise InputError(f"floor of {name}", places.floor, "m", allowed, "Look at both sources.")
    if not places.right > places.left:
        allowed = f"right of the left side, {places.left:.6g} rad"
        raise InputError(f"right side of {name}", places.right, "rad", allowed, "Seen from inside.")
    angle, depth = port.points[:, 0], port.points[:, 1]
    share = np.clip(3.0 * (depth - now.roof) / (now.floor - now.roof) - 1.0, 0.0, 1.0)
    down = (1.0 - share) * (places.roof - now.roof) + share * (places.floor - now.floor)
    stretch = (places.right - places.left) / (now.right - now.left)
    across = places.left + stretch * (angle - now.left)
    shape = port.shape if places == now and name == port.name else None
    return replace(port, name=name, points=np.column_stack((across, depth + down)), shape=shape)
