"""Whether a map of ports can be right: what overlaps, what is too thin, what does not fit round.

Every distance is along the wall of the map's diameter.  Ports are compared the short way round,
so that two windows beside the datum are neighbours as any others.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from sleevewright.core.checks import finite
from sleevewright.core.formulas import formula
from sleevewright.core.ports.crossed import least_wall, outlines_meet
from sleevewright.core.ports.mapped import MappedPort, PortMap
from sleevewright.core.ports.outline import Points

TURN = 2.0 * math.pi


@dataclass(frozen=True)
class Bridge:
    """The wall between two windows.

    Attributes
    ----------
    names : tuple[str, str]
        The two ports, the second to the right of the first as seen from the axis.
    wall : float
        Narrowest wall between them, along the wall; nought where they overlap. [m]
    overlap : float
        How far they reach over each other, along the wall; nought where they do not. [m]
    """

    names: tuple[str, str]
    wall: float
    overlap: float


@formula(
    name="bridges of a map",
    expression="least distance of two outlines; overlap = min(right) - max(left)",
    sources=("derived",),
    validity="a map whose angles were told",
    unit="record",
)
def bridges(port_map: PortMap, *, less_than: float) -> tuple[Bridge, ...]:
    """Pairs of windows that lie nearer than a distance, or overlap.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]
    less_than : float
        Pairs with less wall than this between them are told. [m]

    Returns
    -------
    tuple[Bridge, ...]
        The pairs, the narrowest first; none where no angle was told. [record]

    Raises
    ------
    InputError
        If the distance is not finite.

    Notes
    -----
    Source: ``derived``.
    """
    finite("distance", less_than, "m")
    if not port_map.is_placed:
        return ()
    found = []
    for one, other in combinations(port_map.ports, 2):
        near = _beside(one, other)
        first, second = (one.along(port_map.diameter), _along(near, port_map.diameter))
        gaps = np.maximum(first.min(axis=0), second.min(axis=0)) - np.minimum(
            first.max(axis=0), second.max(axis=0)
        )
        if math.hypot(*np.maximum(gaps, 0.0)) >= less_than:
            continue
        names = (
            (one.name, other.name)
            if near[:, 0].mean() >= one.middle
            else (
                other.name,
                one.name,
            )
        )
        meet = outlines_meet(first, second)
        wall = 0.0 if meet else least_wall(first, second)
        if wall < less_than:
            found.append(Bridge(names, wall, max(-float(gaps[0]), 0.0) if meet else 0.0))
    return tuple(sorted(found, key=lambda bridge: (bridge.wall, -bridge.overlap)))


def _beside(one: MappedPort, other: MappedPort) -> Points:
    """The outline of the second port, turned by whole turns until it lies nearest the first."""
    turns = round((one.middle - other.middle) / TURN)
    made: Points = other.points + np.array([turns * TURN, 0.0])
    return made


def _along(points: Points, diameter: float) -> Points:
    made: Points = points * np.array([diameter / 2.0, 1.0])
    return made


@formula(
    name="widths of all ports at one depth",
    expression="sum of (theta_right - theta_left) of the windows that a depth crosses",
    sources=("derived",),
    validity="windows in the wall of one bore",
    unit="rad",
)
def most_round(port_map: PortMap) -> float:
    """Most that the windows take of the way round at one depth.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]

    Returns
    -------
    float
        Sum of their widths as an angle, at the depth where it is largest; more than a whole
        turn does not fit round the bore. [rad]

    Notes
    -----
    Each window counts with its whole width over its whole height. Source: ``derived``.
    """
    depths = [port.roof for port in port_map.ports]
    return max(
        sum(port.span for port in port_map.ports if port.roof <= depth <= port.floor)
        for depth in depths
    )


def _span(port: MappedPort) -> tuple[float, float]:
    """Ends of a window, its left end within one turn from the datum."""
    start = float(port.points[:, 0].min())
    begun = start % TURN
    return begun, begun + port.span


@dataclass(frozen=True)
class Stranger:
    """A port that one of two maps lacks, and what is nearest to it there.

    Attributes
    ----------
    name : str
        The port.
    nearest : str
        The port of the other map that lies nearest and has no fellow either; empty where
        there is none.
    away : float
        Angle between the two. [rad]
    """

    name: str
    nearest: str
    away: float


@formula(
    name="ports that one map has alone",
    expression="least |theta - theta'| the short way round",
    sources=("derived",),
    validity="maps in one frame",
    unit="record",
)
def strangers(port_map: PortMap, other_map: PortMap) -> tuple[Stranger, ...]:
    """Ports of a map that another lacks, each with the likeliest fellow there.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]
    other_map : PortMap
        What it is compared with. [record]

    Returns
    -------
    tuple[Stranger, ...]
        One for each port whose name the other map does not know. [record]

    Notes
    -----
    Source: ``derived``.
    """
    alone = [port for port in other_map.ports if port_map.port(port.name) is None]
    found = []
    for port in port_map.ports:
        if other_map.port(port.name) is not None:
            continue
        ranked = sorted((abs(short_way(port.middle - one.middle)), one.name) for one in alone)
        away, nearest = ranked[0] if ranked else (math.nan, "")
        found.append(Stranger(port.name, nearest, away))
    return tuple(found)


@formula(
    name="angle the short way round",
    expression="(round_by + pi) mod 2 pi - pi",
    sources=("derived",),
    validity="always",
    unit="rad",
)
def short_way(round_by: float) -> float:
    """Angle between two places of the wall, the short way round.

    Parameters
    ----------
    round_by : float
        Angle of one place less that of the other. [rad]

    Returns
    -------
    float
        The same from minus half a turn up to half a turn. [rad]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(short_way(6.0), 3)
    -0.283
    """
    return (round_by + math.pi) % TURN - math.pi


@formula(
    name="common shift of depths",
    expression="median of (z - z') over roofs and floors of one name; spread = median |rest|",
    sources=("derived",),
    validity="maps that share at least two ports",
    unit="m",
)
def common_shift(port_map: PortMap, other_map: PortMap) -> tuple[float, float]:
    """How much deeper all edges of a map lie than those of another, and how alike that is.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]
    other_map : PortMap
        What it is compared with. [record]

    Returns
    -------
    tuple[float, float]
        Median of the differences of roofs and floors, positive where the first map lies
        deeper, and the median distance from it; not numbers with fewer than two ports. [m]

    Notes
    -----
    A median, so that one port that is wrong by itself does not count. Source: ``derived``.
    """
    pairs = [(port, other_map.port(port.name)) for port in port_map.ports]
    away = [
        (one.roof - other.roof, one.floor - other.floor)
        for one, other in pairs
        if other is not None
    ]
    if len(away) < 2:
        return math.nan, math.nan
    told = np.array(away).ravel()
    middle = float(np.median(told))
    return middle, float(np.median(np.abs(told - middle)))
