"""What is left to grind at each edge of a port, and how far a grinder may go.

Metal counts along the wall at the bore, roofs and floors axially: more than zero is still
there, less than zero is gone and cannot be put back.  Left and right are as seen from the axis
at the wall; left is counter-clockwise seen from the deck.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import not_negative
from sleevewright.core.engine.crank import port_duration, port_opens
from sleevewright.core.formulas import formula
from sleevewright.core.ports.mapped import EDGES
from sleevewright.core.ports.residual import EdgeStations, metal_at
from sleevewright.errors import InputError

Array = NDArray[np.float64]


@dataclass(frozen=True)
class EdgeMetal:
    """Metal along one edge of one port.

    Attributes
    ----------
    port, edge : str
        Names of the port and of the edge, one of ``EDGES``.
    metals : tuple[float, ...]
        Metal at its stations, roofs and floors from left to right, sides downwards. [m]
    doubt : float
        One standard uncertainty of both outlines together. [m]
    """

    port: str
    edge: str
    metals: tuple[float, ...]
    doubt: float

    @property
    def least(self) -> float:
        """Least metal along it, in metres."""
        return min(self.metals)

    @property
    def most(self) -> float:
        """Most metal along it, in metres."""
        return max(self.metals)


@formula(
    name="metal by port and edge",
    expression="e at the stations of each edge, at one pose",
    sources=("derived",),
    validity="poses near that at which the stations were taken; corners left out",
    unit="record",
)
def metal_by_edge(
    stations: EdgeStations, *, turn: float = 0.0, down: float = 0.0
) -> tuple[EdgeMetal, ...]:
    """Metal of every edge of every port with the sleeve turned and lowered.

    Parameters
    ----------
    stations : EdgeStations
        Stations round the wanted ports. [record]
    turn : float
        Turn of the sleeve, clockwise seen from the deck. [rad]
    down : float
        How much deeper than in its map it sits. [m]

    Returns
    -------
    tuple[EdgeMetal, ...]
        Port by port, each in the order roof, right, floor, left. [record]

    Notes
    -----
    Source: ``derived``.
    """
    metal = metal_at(stations, turn=turn, down=down)
    return tuple(
        EdgeMetal(
            name,
            edge,
            tuple(metal[(stations.port == index) & (stations.edge == number)].tolist()),
            float(stations.doubt[index, number]),
        )
        for index, name in enumerate(stations.names)
        for number, edge in enumerate(EDGES)
    )


@formula(
    name="metal along an edge",
    expression="mean of the metal at its stations",
    sources=("derived",),
    validity="an edge whose two ends differ by less than its doubt; else both ends are told",
    unit="m",
)
def edge_metal(port_edge: EdgeMetal) -> float:
    """Metal that is left on an edge.

    Parameters
    ----------
    port_edge : EdgeMetal
        Metal at its stations. [record]

    Returns
    -------
    float
        Their mean; less than zero where metal is gone. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(edge_metal(EdgeMetal("exhaust", "roof", (1.0e-3, 1.2e-3), 0.0)), 6)
    0.0011
    """
    return math.fsum(port_edge.metals) / len(port_edge.metals)


@formula(
    name="metal up to the stop line",
    expression="e_stop = max(0, e_least - margin - guard u)",
    sources=("practice",),
    validity="margin some 0.05 mm; u the doubt of the edge as it is now",
    unit="m",
)
def metal_to_stop(port_edge: EdgeMetal, *, stop_margin: float, guard: float) -> float:
    """How much may be ground before the edge is measured again.

    Parameters
    ----------
    port_edge : EdgeMetal
        Metal at its stations, with its doubt. [record]
    stop_margin : float
        What is left between the stop line and the target. [m]
    guard : float
        Guard band in standard uncertainties. [1]

    Returns
    -------
    float
        Metal down to the stop line; zero where the edge has reached it. [m]

    Raises
    ------
    InputError
        If margin or guard is negative.

    Notes
    -----
    A stone takes a hair more than it seems to: the last of it is left for the file. Source:
    ``practice``.

    Examples
    --------
    >>> edge = EdgeMetal("exhaust", "roof", (3.0e-4, 3.0e-4), 5.0e-5)
    >>> round(metal_to_stop(edge, stop_margin=5.0e-5, guard=1.645), 9)
    0.00016775
    """
    not_negative("margin of the stop line", stop_margin, "m")
    not_negative("guard", guard, "1")
    return max(0.0, port_edge.least - stop_margin - guard * port_edge.doubt)


@formula(
    name="duration that metal on a roof costs",
    expression="d = duration(z_P) - duration(z_P + e)",
    sources=("derived",),
    validity="a flat crown edge, pin on the axis; negative where the roof is too high",
    unit="rad",
)
def duration_lacking(
    *, roof_metal: float, roof_depth: float, deck_clearance: float, stroke: float, rod: float
) -> float:
    """Crank angle by which a port stays open for less than it is to.

    Parameters
    ----------
    roof_metal : float
        Metal below the wanted roof; negative where it was cut too far. [m]
    roof_depth : float
        Depth of the wanted roof below the deck. [m]
    deck_clearance : float
        Piston below the deck at top dead centre. [m]
    stroke : float
        Stroke. [m]
    rod : float
        Rod between centres. [m]

    Returns
    -------
    float
        Duration that lacks; it opens later by half of it. [rad]

    Raises
    ------
    InputError
        If one of the two roofs lies above top or below bottom dead centre.

    Notes
    -----
    The difference itself and not a slope, so that it holds for large metal too. Source:
    ``derived``.
    """
    crank = {"deck_clearance": deck_clearance, "stroke": stroke, "rod": rod}
    wanted = port_opens(roof_depth=roof_depth, **crank)
    now = port_opens(roof_depth=roof_depth + roof_metal, **crank)
    return float(port_duration(wanted) - port_duration(now))


@formula(
    name="least overcut of two sides",
    expression="max(0, -(e_1 + e_2)/2) within what the pose can move; else max(-e) less that",
    sources=("derived",),
    validity="two edges that face each other, moved together",
    unit="m",
)
def least_overcut(*, one: float, other: float, most_move: float, least_move: float = 0.0) -> float:
    """Overcut that no pose within its limits takes from two opposite edges.

    Parameters
    ----------
    one : float
        Metal of the edge to which a move gives. [m]
    other : float
        Metal of the edge from which the same move takes. [m]
    most_move : float
        Largest move that is allowed. [m]
    least_move : float
        Smallest move that is allowed, zero or negative. [m]

    Returns
    -------
    float
        Overcut of the worse of the two at the best move. [m]

    Raises
    ------
    InputError
        If the limits lie the wrong way round.

    Notes
    -----
    A move shares what both lack and cannot add to it. Source: ``derived``.

    Examples
    --------
    >>> least_overcut(one=-4.0e-4, other=6.0e-4, most_move=1.0e-3)
    0.0
    >>> round(least_overcut(one=-4.0e-4, other=2.0e-4, most_move=1.0e-3), 6)
    0.0001
    """
    if most_move < least_move:
        raise InputError("largest move", most_move, "m", f"at least {least_move:.6g} m")
    move = min(max(0.5 * (other - one), least_move), most_move)
    return max(0.0, -(one + move), -(other - move))


@formula(
    name="widest blank of a wall",
    expression="middle and width of the widest angle without a window",
    sources=("derived",),
    validity="windows that do not overlap; a wall without windows is cut opposite its datum",
    unit="record",
)
def widest_blank(spans: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    """Where a wall is cut to unroll it, so that no port is cut.

    Parameters
    ----------
    spans : tuple[tuple[float, float], ...]
        Left and right side of each window, in angles. [rad]

    Returns
    -------
    tuple[float, float]
        Angle of the middle of the widest blank, and how wide it is. [rad]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> middle, wide = widest_blank(((-0.5, 0.5), (1.0, 2.0)))
    >>> round(middle, 4), round(wide, 4)
    (3.8916, 3.7832)
    """
    whole = 2.0 * math.pi
    if not spans:
        return math.pi, whole
    rows = sorted((left % whole, right - left) for left, right in spans)
    best, reach = (0.0, -math.inf), rows[0][0]
    for start, width in (*rows, (rows[0][0] + whole, 0.0)):
        if start - reach > best[1]:
            best = (0.5 * (start + reach), start - reach)
        reach = max(reach, start + width)
    return best[0] % whole, best[1]
