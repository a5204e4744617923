"""The outline of a port on the unrolled wall, from the few sizes that are told of it.

Depth counts from the deck, downwards; arc length counts along the wall on the stated diameter,
to the right as seen from the cylinder's axis, which is clockwise seen from the deck.  The angle
is what is kept: it stays the same on the bore and on the outside of the sleeve.

A port is a four-cornered window with its own width at roof and floor, a lean, a roof that may
be arched, and a radius in each corner.  What is measured is the window at the bore; chamfers
are not part of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import finite, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Points = NDArray[np.float64]

STEPS_ROOF = 32
"""Pieces of an arched roof: on 40 mm they are 1.25 mm long and 2 um flat."""

STEPS_CORNER = 12
"""Pieces of a corner of a quarter turn: on a radius of 5 mm they miss the arc by 11 um."""


@dataclass(frozen=True)
class PortShape:
    """Sizes of one window, all along the wall.

    Attributes
    ----------
    roof, floor : float
        Depth below the deck of the upper edge at its middle, and of the lower edge. [m]
    top, bottom : float
        Width at roof and floor before the corners are rounded, along the arc. [m]
    radii : tuple[float, float, float, float]
        Radius of the corners: roof left, roof right, floor right, floor left. [m]
    arch : float
        How much deeper the roof is at its corners than in its middle. [m]
    lean : float
        How far the middle of the floor lies to the right of the middle of the roof. [m]
    centre : float
        Arc length from the datum to the middle of the roof. [m]
    """

    roof: float
    floor: float
    top: float
    bottom: float
    radii: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    arch: float = 0.0
    lean: float = 0.0
    centre: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a window that cannot be."""
        for name in ("roof", "arch", "lean", "centre"):
            finite(name, getattr(self, name), "m")
        positive("top width", self.top, "m")
        positive("bottom width", self.bottom, "m")
        not_negative("arch of the roof", self.arch, "m")
        corners = self.roof + self.arch
        if not self.floor > corners:
            allowed = f"deeper than the roof's corners, {corners:.6g} m"
            raise InputError("floor", self.floor, "m", allowed, "Were roof and floor swapped?")
        for radius in self.radii:
            not_negative("corner radius", radius, "m")


@formula(
    name="outline of a port",
    expression="straight edges and arcs; tangents r/tan(phi/2) from each corner",
    sources=("derived",),
    validity="corners that fit their edges; arcs and arch in short straight pieces",
    unit="m",
)
def port_outline(shape: PortShape) -> Points:
    """Closed outline of a port as points along the wall.

    Parameters
    ----------
    shape : PortShape
        Sizes of the window. [record]

    Returns
    -------
    Points
        Arc length and depth of each point, (n, 2), clockwise as seen from the axis, beginning
        at the left of the roof; the last point is not the first again. [m]

    Raises
    ------
    InputError
        If two corners take more of an edge than there is.

    Notes
    -----
    Plane geometry on the unrolled wall. Source: ``derived``.

    Examples
    --------
    >>> port_outline(PortShape(roof=0.03, floor=0.05, top=0.02, bottom=0.02)).shape
    (4, 2)
    """
    corners = _corners(shape)
    cuts = [_tangent(shape, corners, index) for index in range(4)]
    _refuse_full_edges(shape, corners, cuts)
    pieces: list[Points] = []
    for index in range(4):
        pieces.append(_corner(corners, index, shape.radii[index], cuts[index]))
        if index == 0 and shape.arch > 0.0:
            pieces.append(_roof_between(shape, cuts[0], cuts[1]))
    return np.concatenate(pieces)


def _corners(shape: PortShape) -> Points:
    """The four corners before they are rounded, in the order of the radii."""
    low = shape.roof + shape.arch
    left, right = shape.centre - shape.top / 2.0, shape.centre + shape.top / 2.0
    foot = shape.centre + shape.lean
    return np.array(
        [
            (left, low),
            (right, low),
            (foot + shape.bottom / 2.0, shape.floor),
            (foot - shape.bottom / 2.0, shape.floor),
        ]
    )


def _along(corners: Points, index: int) -> tuple[Points, Points]:
    """Directions from a corner to the one before and to the one after, of length one."""
    here = corners[index]
    back, on = corners[index - 1] - here, corners[(index + 1) % 4] - here
    return back / math.hypot(*back), on / math.hypot(*on)


def _tangent(shape: PortShape, corners: Points, index: int) -> float:
    """How much of both edges the rounding of a corner takes."""
    back, on = _along(corners, index)
    turned = math.acos(float(np.clip(back @ on, -1.0, 1.0)))
    return shape.radii[index] / math.tan(turned / 2.0)


def _refuse_full_edges(shape: PortShape, corners: Points, cuts: list[float]) -> None:
    """Refuse radii that do not fit on an edge."""
    names = ("roof", "right side", "floor", "left side")
    for index, name in enumerate(names):
        length = math.hypot(*(corners[(index + 1) % 4] - corners[index]))
        taken = cuts[index] + cuts[(index + 1) % 4]
        if taken > length * (1.0 + 1e-12):
            raise InputError(
                "corner radius",
                max(shape.radii[index], shape.radii[(index + 1) % 4]),
                "m",
                f"at most what fits the {name}, {length:.6g} m long",
                "Both corners of an edge share its length.",
            )


def _corner(corners: Points, index: int, radius: float, cut: float) -> Points:
    """Points of one rounded corner, or the corner itself where it is sharp."""
    here: Points = corners[index]
    if radius == 0.0:
        return here[None, :]
    back, on = _along(corners, index)
    middle = back + on
    centre = here + middle / math.hypot(*middle) * math.hypot(radius, cut)
    first, last = here + cut * back - centre, here + cut * on - centre
    start = math.atan2(first[1], first[0])
    turn = math.atan2(first[0] * last[1] - first[1] * last[0], float(first @ last))
    angles = start + np.linspace(0.0, turn, STEPS_CORNER + 1)
    made: Points = centre + radius * np.column_stack([np.cos(angles), np.sin(angles)])
    return made


def _roof_between(shape: PortShape, left: float, right: float) -> Points:
    """An arched roof between its corners: a parabola, faded out where the corners begin."""
    across = np.linspace(left - shape.top / 2.0, shape.top / 2.0 - right, STEPS_ROOF + 1)[1:-1]
    ends = across[0] - (across[1] - across[0]), across[-1] + (across[1] - across[0])
    half = (ends[1] - ends[0]) / 2.0
    middle = (ends[1] + ends[0]) / 2.0
    depth = shape.roof + shape.arch * ((across - middle) / half) ** 2
    return np.column_stack([shape.centre + across, depth])


@formula(
    name="area of an outline",
    expression="A = 1/2 |sum(s_i z_(i+1) - s_(i+1) z_i)|",
    sources=("derived",),
    validity="an outline that does not cross itself, on the unrolled wall",
    unit="m^2",
)
def outline_area(points: Points) -> float:
    """Area within a closed outline on the unrolled wall.

    Parameters
    ----------
    points : Points
        Arc length and depth of its points, (n, 2). [m]

    Returns
    -------
    float
        Area. [m^2]

    Notes
    -----
    Gauss's area formula. Source: ``derived``.

    Examples
    --------
    >>> outline_area(port_outline(PortShape(0.03, 0.05, 0.02, 0.02)))  # doctest: +ELLIPSIS
    0.0004...
    """
    along, depth = points[:, 0], points[:, 1]
    twice = along @ np.roll(depth, -1) - np.roll(along, -1) @ depth
    return abs(float(twice)) / 2.0
