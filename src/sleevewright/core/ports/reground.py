"""The outline of a port after some of its edges were ground and measured anew.

A side is told by its line: where it stands at the roof and where at the floor.  A side that was
not measured stays on its line, also where roof or floor were ground beyond its old ends.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.mapped import MappedPort
from sleevewright.core.ports.stationing import EDGES_OF_STATIONS, LEFT, RIGHT, stations_on
from sleevewright.errors import InputError

Array = NDArray[np.float64]
Ends = tuple[float, float]

BULGED = 0.1e-3
"""A side that stands out in its middle by more than this has no line: a round port. [m]"""

LEAST_SHARE = 0.2
"""Lines that leave less than this share of the greatest width at an end are not used. [1]"""


@dataclass(frozen=True)
class SideLines:
    """Both sides of a port, each at its roof and at its floor.

    Attributes
    ----------
    left, right : tuple[float, float]
        Angle at the roof and at the floor, clockwise seen from the deck. [rad]
    """

    left: Ends
    right: Ends

    @property
    def widths(self) -> Ends:
        """Angle between both sides at the roof and at the floor, in radians."""
        return self.right[0] - self.left[0], self.right[1] - self.left[1]

    def at(self, share: Array) -> tuple[Array, Array]:
        """Left and right at shares of the height from the roof to the floor."""
        left, right = (one[0] + share * (one[1] - one[0]) for one in (self.left, self.right))
        return left, right


@dataclass(frozen=True)
class EdgesTold:
    """Edges of a port as they were measured anew; nothing where one was not.

    Attributes
    ----------
    roof, floor : float | None
        Depth below the deck. [m]
    left, right : tuple[float, float] | None
        Angle of the side at roof and floor, clockwise seen from the deck. [rad]
    """

    roof: float | None = None
    floor: float | None = None
    left: Ends | None = None
    right: Ends | None = None


def side_lines(port: MappedPort, *, diameter: float) -> SideLines:
    """The lines of both sides, from stations on them; of a round port its greatest width.

    Parameters
    ----------
    port : MappedPort
        The window. [record]
    diameter : float
        Diameter of its wall. [m]

    Returns
    -------
    SideLines
        Both sides at its roof and floor. [record]
    """
    places = stations_on([port.along(diameter)])[0][0]
    span = float(port.points[:, 0].min()), float(port.points[:, 0].max())
    widest = SideLines((span[0],) * 2, (span[1],) * 2)
    lines = []
    for edge, outward in ((LEFT, -1.0), (RIGHT, 1.0)):
        (x0, z0), (x1, z1), (x2, z2) = places[edge == EDGES_OF_STATIONS]
        if z2 - z0 < BULGED:
            return widest
        slope = (x2 - x0) / (z2 - z0)
        if outward * (x1 - x0 - slope * (z1 - z0)) > BULGED:
            return widest
        lines.append(
            tuple(2.0 / diameter * (x0 + slope * (z - z0)) for z in (port.roof, port.floor))
        )
    found = SideLines(lines[0], lines[1])
    return found if min(found.widths) >= LEAST_SHARE * (span[1] - span[0]) else widest


def lines_between(port: MappedPort, depths: Ends, *, diameter: float) -> SideLines:
    """The lines of both sides, lengthened or cut to another roof and floor.

    Parameters
    ----------
    port : MappedPort
        The window. [record]
    depths : tuple[float, float]
        Depth of that roof and of that floor. [m]
    diameter : float
        Diameter of its wall. [m]

    Returns
    -------
    SideLines
        Both sides there; where they would all but meet, as they stand at its own ends. [record]
    """
    was = side_lines(port, diameter=diameter)
    share = (np.array(depths) - port.roof) / (port.floor - port.roof)
    left, right = was.at(share)
    if float((right - left).min()) < LEAST_SHARE * max(was.widths):
        return was
    return SideLines((float(left[0]), float(left[1])), (float(right[0]), float(right[1])))


@formula(
    name="outline after a grind",
    expression="depths stretched, then each across, so that edges lie where they were measured",
    sources=("derived",),
    validity="sides that move as lines; corners are stretched with them",
    unit="record",
)
def after_grind(port: MappedPort, measured_edges: EdgesTold, *, bore: float) -> MappedPort:
    """A window with some of its edges where they were measured last.

    Parameters
    ----------
    port : MappedPort
        The window before. [record]
    measured_edges : EdgesTold
        What was measured since. [record]
    bore : float
        Diameter of its wall. [m]

    Returns
    -------
    MappedPort
        The window now. [record]

    Raises
    ------
    InputError
        If an edge would lie on or beyond its opposite.

    Notes
    -----
    A side that was not measured stays on its line. Source: ``derived``.
    """
    told = measured_edges
    roof = port.roof if told.roof is None else told.roof
    floor = port.floor if told.floor is None else told.floor
    _refuse_swapped(port.name, ("roof", "floor", "m"), (roof, floor))
    was = side_lines(port, diameter=bore)
    kept = lines_between(port, (roof, floor), diameter=bore)
    now = SideLines(told.left or kept.left, told.right or kept.right)
    for end in (0, 1):
        _refuse_swapped(port.name, ("left side", "right side", "rad"),
                        (now.left[end], now.right[end]))  # fmt: skip
    share = (port.points[:, 1] - port.roof) / (port.floor - port.roof)
    left, right = was.at(share)
    first, last = now.at(share)
    across = first + (port.points[:, 0] - left) / (right - left) * (last - first)
    points = np.stack([across, roof + share * (floor - roof)], axis=1)
    return replace(port, points=points, shape=None)


def _refuse_swapped(port: str, words: tuple[str, str, str], ends: Ends) -> None:
    """Refuse an edge that lies on or beyond its opposite."""
    first, last, unit = words
    if not ends[1] > ends[0]:
        allowed = f"beyond the {first}, {ends[0]:.6g} {unit}"
        raise InputError(
            f"{last} of the {port} as left", ends[1], unit, allowed, "Were the two swapped?"
        )
