"""Maps of ports: where every port's edge lies round the bore and below the deck.

One frame for all of them.  The angle counts from the datum of the cylinder's port map,
clockwise seen from the deck, which is to the right seen from the axis at the wall; depth counts
from the deck, downwards.  The angle is kept and not the length along the wall, so that an edge
stays where it is when the diameter changes.  In which view something was measured, and by
chord or by arc, is settled before a map is made: nothing here is ever mirrored.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points, PortShape, port_outline
from sleevewright.errors import InputError

EDGES = ("roof", "right", "floor", "left")
"""Names of a port's edges, seen from the axis: left is counter-clockwise seen from the deck."""


@dataclass(frozen=True)
class EdgeDoubt:
    """What the edges of a port are worth, one standard uncertainty.

    Attributes
    ----------
    roof, side, floor : float
        Of depth of the roof, of place of a side along the wall, of depth of the floor. [m]
    """

    roof: float = 0.0
    side: float = 0.0
    floor: float = 0.0


@dataclass(frozen=True)
class MappedPort:
    """One window of a map.

    Attributes
    ----------
    name : str
        What the port is called: ``exhaust``, ``main left``.
    points : Points
        Its closed outline, (n, 2): angle [rad] and depth [m] of each point, clockwise as seen
        from the axis; the last point is not the first again.
    doubt : EdgeDoubt
        What its edges are worth.
    group : str
        What windows of one bridged port share; the own name where there is no bridge.
    shape : PortShape | None
        The sizes it was made of, where it was made of sizes; the outline is what counts.
    is_of_skirt : bool
        Whether the skirt's lower edge opens it, at its floor; else the crown does, at its roof.
    """

    name: str
    points: Points
    doubt: EdgeDoubt = EdgeDoubt()
    group: str = ""
    shape: PortShape | None = None
    is_of_skirt: bool = False

    @property
    def roof(self) -> float:
        """Depth of its uppermost point below the deck, in metres."""
        return float(self.points[:, 1].min())

    @property
    def floor(self) -> float:
        """Depth of its lowest point below the deck, in metres."""
        return float(self.points[:, 1].max())

    @property
    def middle(self) -> float:
        """Angle midway between its sides, in radians."""
        return float(self.points[:, 0].min() + self.points[:, 0].max()) / 2.0

    @property
    def span(self) -> float:
        """Angle between its sides, in radians."""
        return float(np.ptp(self.points[:, 0]))

    def along(self, diameter: float) -> Points:
        """Its outline on the unrolled wall of a diameter: arc length and depth, in metres."""
        made: Points = self.points * np.array([diameter / 2.0, 1.0])
        return made


@dataclass(frozen=True)
class PortMap:
    """Every port of a cylinder or a sleeve, in one frame.

    Attributes
    ----------
    ports : tuple[MappedPort, ...]
        The windows, each name once.
    diameter : float
        Diameter of the wall that they lie in. [m]
    is_placed : bool
        Whether the angles were told; where not, each port lies about zero and only heights,
        widths and areas mean anything.
    """

    ports: tuple[MappedPort, ...]
    diameter: float
    is_placed: bool = True

    def __post_init__(self) -> None:
        """Refuse a wall without a diameter and a name that stands twice."""
        positive("diameter of the map", self.diameter, "m")
        names = [port.name for port in self.ports]
        for name in names:
            if names.count(name) > 1:
                raise InputError("port", name, "", "each name once in a map", "Name the other one.")

    def port(self, name: str) -> MappedPort | None:
        """The port of this name; nothing where the map has none."""
        return next((port for port in self.ports if port.name == name), None)

    def turned(self, angle: float, *, down: float = 0.0) -> PortMap:
        """The map turned clockwise seen from the deck and moved down."""
        by = np.array([angle, down])
        moved = tuple(replace(port, points=port.points + by, shape=None) for port in self.ports)
        return replace(self, ports=moved)


@dataclass(frozen=True)
class PlacedShape:
    """A window by its sizes: the shape lies about zero, the angle says where.

    Attributes
    ----------
    shape : PortShape
        Its sizes along the wall. [m]
    angle : float
        Where the middle of its roof lies, clockwise seen from the deck. [rad]
    """

    shape: PortShape
    angle: float = 0.0
    doubt: EdgeDoubt = EdgeDoubt()
    group: str = ""


@formula(
    name="map of ports from their sizes",
    expression="theta = theta_0 + 2 s/D",
    sources=("derived",),
    validity="sizes along the wall of the diameter that is given",
    unit="record",
)
def map_of_shapes(shapes: Mapping[str, PlacedShape], *, diameter: float) -> PortMap:
    """Make a map of windows that were told by their sizes.

    Parameters
    ----------
    shapes : Mapping[str, PlacedShape]
        Windows by name. [record]
    diameter : float
        Diameter of the wall on which the sizes were measured. [m]

    Returns
    -------
    PortMap
        The map. [record]

    Raises
    ------
    InputError
        If the diameter is not positive or the corners of a window do not fit.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> shape = PortShape(roof=0.03, floor=0.05, top=0.02, bottom=0.02)
    >>> made = map_of_shapes({"exhaust": PlacedShape(shape)}, diameter=0.06)
    >>> round(made.ports[0].span, 6)
    0.666667
    """
    positive("diameter of the map", diameter, "m")
    ports = []
    for name, placed in shapes.items():
        points = port_outline(placed.shape) / np.array([diameter / 2.0, 1.0])
        points[:, 0] += placed.angle
        group = placed.group or name
        ports.append(MappedPort(name, points, placed.doubt, group, placed.shape))
    return PortMap(tuple(ports), diameter)


@formula(
    name="chord of an arc",
    expression="c = D sin(s/D)",
    sources=("derived",),
    validity="an arc of at most half the wall",
    unit="m",
)
def arc_to_chord(*, arc: float, bore: float) -> float:
    """Straight width that a caliper reads between two points of the wall.

    Parameters
    ----------
    arc : float
        Length along the wall. [m]
    bore : float
        Diameter of the wall. [m]

    Returns
    -------
    float
        Chord. [m]

    Raises
    ------
    InputError
        If the arc is more than half the wall.

    Notes
    -----
    Plane geometry. Source: ``derived``.

    Examples
    --------
    >>> round(arc_to_chord(arc=46.0, bore=66.4), 2)
    42.41
    """
    positive("bore", bore, "m")
    positive("width by arc", arc, "m")
    half = np.pi * bore / 2.0
    if arc > half:
        raise InputError("width by arc", arc, "m", f"at most half the wall, {half:.6g} m")
    return bore * float(np.sin(arc / bore))


@formula(
    name="difference of a left and a right edge",
    expression="d = left_edge - right_edge",
    sources=("derived",),
    validity="always",
    unit="m",
)
def side_difference(*, left_edge: Number, right_edge: Number) -> Number:
    """How much more the left port of a pair measures than the right one.

    Parameters
    ----------
    left_edge : Number
        Depth or width of the left port. [m]
    right_edge : Number
        The same of the right one. [m]

    Returns
    -------
    Number
        Difference; of depths positive where the left one lies deeper. [m]

    Raises
    ------
    InputError
        If one of them is not finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(side_difference(left_edge=0.0582, right_edge=0.056), 6)
    0.0022
    """
    return finite("left edge", left_edge, "m") - finite("right edge", right_edge, "m")
