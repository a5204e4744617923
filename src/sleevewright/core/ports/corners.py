"""What is left to grind, or gone, in the corners of a port."""

from __future__ import annotations

import math

from sleevewright.core.formulas import formula
from sleevewright.core.ports.grinding import EdgeMetal
from sleevewright.core.ports.residual import CORNER, EdgeStations, metal_at
from sleevewright.core.ports.stationing import PER_EDGE

CORNERS = "corners"
"""What all four corners of a port are called together, where an edge is named."""

CORNER_NAMES = ("upper right", "lower right", "lower left", "upper left")
"""Corners as seen from the axis, in the order of their stations."""


@formula(
    name="metal in the corners",
    expression="e at the stations of all four corners, at one pose",
    sources=("derived",),
    validity="poses near that at which the stations were taken; rounded corners of both outlines",
    unit="record",
)
def corner_metals(
    stations: EdgeStations, *, turn: float = 0.0, down: float = 0.0
) -> tuple[EdgeMetal, ...]:
    """Metal of the corners of every port with the sleeve turned and lowered.

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
        Port by port, corner by corner as in ``CORNER_NAMES``. [record]

    Notes
    -----
    A corner goes with its two neighbours: its doubt is the root mean square of theirs. Source:
    ``derived``.
    """
    metal = metal_at(stations, turn=turn, down=down)
    made = []
    for index, name in enumerate(stations.names):
        roof, right, floor, left = stations.doubt[index]
        doubt = math.hypot(max(roof, floor), max(right, left)) / math.sqrt(2.0)
        own = metal[(stations.port == index) & (stations.edge == CORNER)]
        made.append(EdgeMetal(name, CORNERS, tuple(own.tolist()), doubt))
    return tuple(made)


@formula(
    name="least metal in the corners",
    expression="the least at the stations of all four corners",
    sources=("derived",),
    validity="rounded corners; a mean would hide the one that is gone",
    unit="m",
)
def least_in_corners(port_edge: EdgeMetal) -> float:
    """Metal that is left in the corner that has least.

    Parameters
    ----------
    port_edge : EdgeMetal
        Metal at the stations of the corners. [record]

    Returns
    -------
    float
        The least of it; less than zero where metal is gone. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> least_in_corners(EdgeMetal("exhaust", CORNERS, (1.0e-3, 2.0e-4), 0.0))
    0.0002
    """
    return port_edge.least


def worst_corner(corners: EdgeMetal) -> str:
    """Which corner has the least metal: ``upper left``.

    Parameters
    ----------
    corners : EdgeMetal
        Metal in the corners of one port. [record]

    Returns
    -------
    str
        Its name as seen from the axis. [text]

    Examples
    --------
    >>> worst_corner(EdgeMetal("exhaust", CORNERS, (1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 0.2, 1.0), 0.0))
    'upper left'
    """
    at = min(range(len(corners.metals)), key=lambda one: corners.metals[one])
    return CORNER_NAMES[at // PER_EDGE[CORNER]]
