"""A turn of the sleeve as it is marked and set: along a rim, by caliper, in degrees.

A turn is told clockwise seen from the deck, so that a negative one is counter-clockwise.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.core.ports.clocking import Pose
from sleevewright.core.ports.residual import STATION_EDGES, metal_at


@formula(
    name="turn of the sleeve",
    expression="theta + error",
    sources=("derived",),
    validity="clockwise seen from the deck",
    unit="rad",
)
def pose_turn(*, pose: Pose, error: float) -> float:
    """Turn of a pose, with what it is in doubt by.

    Parameters
    ----------
    pose : Pose
        The pose that was found. [record]
    error : float
        What its turn may be wrong by. [rad]

    Returns
    -------
    float
        Turn, clockwise seen from the deck. [rad]

    Notes
    -----
    Source: ``derived``.
    """
    return pose.turn + error


@formula(
    name="how much deeper the sleeve is to sit",
    expression="dz + error",
    sources=("derived",),
    validity="nought for a flange on the seat as it is",
    unit="m",
)
def pose_down(*, pose: Pose, error: float) -> float:
    """Depth of a pose, with what it is in doubt by.

    Parameters
    ----------
    pose : Pose
        The pose that was found. [record]
    error : float
        What its depth may be wrong by. [m]

    Returns
    -------
    float
        How much deeper than as it would sit. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return pose.down + error


@formula(
    name="metal left at the closest edge",
    expression="min e over roofs, sides and upper corners, at the pose",
    sources=("derived",),
    validity="below nought it is gone; a floor that is too deep is a pocket and not counted",
    unit="m",
)
def pose_left(*, pose: Pose, error: float) -> float:
    """Least metal that a pose leaves at any edge but a floor.

    Parameters
    ----------
    pose : Pose
        The pose that was found. [record]
    error : float
        What that edge may be wrong by. [m]

    Returns
    -------
    float
        Metal along the outward normal; below nought it is gone. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return error - pose.worst


@formula(
    name="end of the harmless turns",
    expression="the least or the greatest turn that cuts no edge but a floor too far, + error",
    sources=("derived",),
    validity="at the depth of the pose",
    unit="rad",
)
def pose_window(*, pose: Pose, end: float, error: float) -> float:
    """One end of the turns that harm no edge.

    Parameters
    ----------
    pose : Pose
        The pose that was found. [record]
    end : float
        Which end: 0 the counter-clockwise one, 1 the clockwise one. [1]
    error : float
        What the edges that bound it may shift it by. [rad]

    Returns
    -------
    float
        Turn, clockwise seen from the deck. [rad]

    Notes
    -----
    Source: ``derived``.
    """
    return pose.window[int(end)] + error


@formula(
    name="turn along a rim",
    expression="s = theta D/2",
    sources=("derived",),
    validity="the diameter of the rim on which it is marked",
    unit="m",
)
def rim_of_turn(*, turn: float, diameter: float) -> float:
    """Length along a rim that a turn comes to.

    Parameters
    ----------
    turn : float
        Turn. [rad]
    diameter : float
        Diameter of the rim. [m]

    Returns
    -------
    float
        Length along the rim, of the turn's sign. [m]

    Raises
    ------
    InputError
        If the diameter is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(rim_of_turn(turn=-0.0564, diameter=84.0), 3)
    -2.369
    """
    positive("diameter of the rim", diameter, "m")
    return turn * diameter / 2.0


@formula(
    name="way along a rim",
    expression="|theta| D/2",
    sources=("derived",),
    validity="the diameter of the rim on which it is marked; which way is told beside it",
    unit="m",
)
def rim_apart(*, turn: float, diameter: float) -> float:
    """Length along a rim between two marks that lie a turn apart.

    Parameters
    ----------
    turn : float
        Turn. [rad]
    diameter : float
        Diameter of the rim. [m]

    Returns
    -------
    float
        Length along the rim, never negative. [m]

    Raises
    ------
    InputError
        If the diameter is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    return abs(rim_of_turn(turn=turn, diameter=diameter))


@formula(
    name="turn by caliper",
    expression="c = D sin(|theta|/2)",
    sources=("derived",),
    validity="turns below half a round",
    unit="m",
)
def chord_of_turn(*, turn: float, diameter: float) -> float:
    """Straight distance of two marks on a rim that lie a turn apart.

    Parameters
    ----------
    turn : float
        Turn. [rad]
    diameter : float
        Diameter of the rim. [m]

    Returns
    -------
    float
        Chord, never negative. [m]

    Raises
    ------
    InputError
        If the diameter is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(chord_of_turn(turn=-0.0564, diameter=84.0), 3)
    2.368
    """
    positive("diameter of the rim", diameter, "m")
    chord = diameter * np.sin(np.abs(turn) / 2.0)
    return float(chord) if np.ndim(chord) == 0 else chord


@formula(
    name="turn of a length along a rim",
    expression="theta = 2 s/D",
    sources=("derived",),
    validity="the diameter of the rim on which it was measured",
    unit="rad",
)
def turn_of_rim(*, rim: float, diameter: float) -> float:
    """Turn that a length along a rim comes to.

    Parameters
    ----------
    rim : float
        Length along the rim. [m]
    diameter : float
        Diameter of the rim. [m]

    Returns
    -------
    float
        Turn, of the length's sign. [rad]

    Raises
    ------
    InputError
        If the diameter is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    positive("diameter of the rim", diameter, "m")
    return 2.0 * rim / diameter


@formula(
    name="turn as it was set",
    expression="theta_set = theta + 2 s/D",
    sources=("derived",),
    validity="s clockwise seen from the deck, along the rim",
    unit="rad",
)
def turn_as_set(*, turn: float, off: float, diameter: float) -> float:
    """Turn of a sleeve that was set off its mark.

    Parameters
    ----------
    turn : float
        Turn that was wanted. [rad]
    off : float
        How far the marks lie apart along the rim, clockwise seen from the deck. [m]
    diameter : float
        Diameter of the rim. [m]

    Returns
    -------
    float
        Turn as it was set. [rad]

    Raises
    ------
    InputError
        If the diameter is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    return turn + turn_of_rim(rim=off, diameter=diameter)


@dataclass(frozen=True)
class ClosestEdge:
    """The edge with the least metal at a pose.

    Attributes
    ----------
    port, edge : str
        Names of the port and of its edge.
    doubt : float
        One standard uncertainty of the edge, of both maps together. [m]
    """

    port: str
    edge: str
    doubt: float


@formula(
    name="closest edge of a pose",
    expression="the station with the least metal, floors not counted",
    sources=("derived",),
    validity="of edges that are equally close the first",
    unit="record",
)
def closest_edge(pose: Pose) -> ClosestEdge:
    """Port and edge with the least metal at a pose, and the doubt of that edge.

    Parameters
    ----------
    pose : Pose
        The pose that was found. [record]

    Returns
    -------
    ClosestEdge
        The edge by its names. [record]

    Notes
    -----
    Source: ``derived``.
    """
    stations = pose.stations
    metal = metal_at(stations, turn=pose.turn, down=pose.down)
    index = int(np.argmin(np.abs(metal + pose.worst)))
    port, edge = int(stations.port[index]), int(stations.edge[index])
    along, deep = stations.normal[index]
    roof, right, floor, left = stations.doubt[port]
    doubt = np.hypot(along * (right if along > 0 else left), deep * (roof if deep < 0 else floor))
    return ClosestEdge(stations.names[port], STATION_EDGES[edge], float(doubt))
