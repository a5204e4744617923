"""How much metal stands between a sleeve's port edges and the outlines that are wanted.

Stations are set on the wanted outline of each port: five on the roof, three on each side and
on the floor, two in each corner.  At each the metal is measured along the outward normal of
the wanted outline, on the unrolled wall of its diameter: more than zero is metal that is still
there to grind, less than zero is metal that is already gone.

Both maps lie in one frame: angles clockwise seen from the deck, depths from the deck down.
Where the two walls differ, a window with radial sides keeps its angles, one with parallel
sides keeps its chords.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.mapped import MappedPort, PortMap
from sleevewright.core.ports.outline import Points
from sleevewright.core.ports.stationing import (
    CORNER,
    EDGES_OF_STATIONS,
    FLOOR,
    LEFT,
    RIGHT,
    ROOF,
    STATION_EDGES,
    STATIONS,
    stations_on,
)
from sleevewright.errors import InputError

Array = NDArray[np.float64]
Indices = NDArray[np.intp]
Walls = Literal["radial", "parallel"]


@dataclass(frozen=True)
class EdgeStations:
    """Stations round every port that is wanted, with the metal of a sleeve at each.

    Attributes
    ----------
    names : tuple[str, ...]
        Names of the ports, in the order of the wanted map.
    diameter : float
        Diameter of the wall on which it was measured, that of the wanted map. [m]
    port, edge : Indices
        Number of the port in ``names`` and of the edge in ``STATION_EDGES``, (n,).
    place : Points
        Arc length and depth of each station, (n, 2). [m]
    normal : Points
        Outward normal of the wanted outline there, (n, 2), of length one.
    metal : Array
        Metal along the normal with the sleeve neither turned nor lowered, (n,). [m]
    doubt : Array
        One standard uncertainty of roof, right side, floor, left side per port, of both maps
        together, (ports, 4). [m]
    of_skirt : tuple[int, ...]
        Numbers of the ports that the skirt opens, at their floors.
    """

    names: tuple[str, ...]
    diameter: float
    port: Indices
    edge: Indices
    place: Points
    normal: Points
    metal: Array
    doubt: Array
    of_skirt: tuple[int, ...] = ()

    @property
    def is_of_skirt(self) -> NDArray[np.bool_]:
        """Stations on a port that the skirt opens, (n,)."""
        return np.isin(self.port, self.of_skirt)

    @property
    def is_timing(self) -> NDArray[np.bool_]:
        """Stations on the edge that opens its port: its roof, or its floor by the skirt, (n,)."""
        opens: NDArray[np.bool_] = self.edge == np.where(self.is_of_skirt, FLOOR, ROOF)
        return opens


@dataclass(frozen=True)
class Casting:
    """Two maps made ready to cast rays at any pose: what does not change with it.

    Attributes
    ----------
    still : EdgeStations
        The stations, without metal. [record]
    outlines : Array
        Windows of the sleeve on the wanted wall, (ports, points, 2), each filled up with its
        last point. [m]
    beside, ahead : Array
        How far each corner of its own window, closed, lies to the side of a station's ray and
        along it, (stations, points + 1). [m]
    furthest : Array
        How far the window reaches along each ray's direction, hit or not, (stations,). [m]
    """

    still: EdgeStations
    outlines: Array
    beside: Array
    ahead: Array
    furthest: Array

    def at(self, turn: float = 0.0, down: float = 0.0) -> EdgeStations:
        """The stations with rays cast at a pose, and the metal told for no turn at all.

        A ray that misses the window ends where the window reaches furthest that way.
        """
        still = self.still
        along, deep = turn * still.diameter / 2.0, down
        n_s, n_z = still.normal.T
        beside = self.beside + (n_s * deep - n_z * along)[:, None]
        is_right = beside > 0.0
        ray, first = np.nonzero(is_right[:, 1:] != is_right[:, :-1])
        c, d = beside[ray, first], beside[ray, first + 1]
        start = self.ahead[ray, first]
        far = start + (self.ahead[ray, first + 1] - start) * c / (c - d)
        reach = np.full(still.port.size, -np.inf)
        np.maximum.at(reach, ray, far)
        # What the pose adds along a ray is what the metal at no turn is told without.
        metal = np.where(np.isfinite(reach), -reach, -self.furthest)
        return replace(still, metal=metal)


@formula(
    name="metal between two outlines",
    expression="e = n.(p - q), q where the ray from p along n leaves the sleeve's window",
    sources=("derived",),
    validity="both maps placed in one frame; the sleeve turned and lowered by what is given",
    unit="record",
)
def edge_stations(
    target: PortMap,
    sleeve: PortMap,
    *,
    turn: float = 0.0,
    down: float = 0.0,
    walls: Walls = "radial",
) -> EdgeStations:
    """Stations round the wanted ports, and the sleeve's metal at each.

    The rays are cast with the sleeve turned and lowered as given; the metal is told for the
    sleeve as it is in its map, so that :func:`metal_at` gives what was cast at that pose.

    Parameters
    ----------
    target : PortMap
        The ports as they are to become. [record]
    sleeve : PortMap
        The ports of the sleeve, of the same names. [record]
    turn : float
        Turn of the sleeve at which rays are cast, clockwise seen from the deck. [rad]
    down : float
        How much deeper than in its map the sleeve then sits. [m]
    walls : Walls
        Whether the sides of the sleeve's windows are radial or parallel; of matter only where
        the two maps lie on different diameters. [text]

    Returns
    -------
    EdgeStations
        The stations. [record]

    Raises
    ------
    InputError
        If the two maps do not name the same ports.

    Notes
    -----
    Plane geometry on the unrolled wall. Source: ``derived``.
    """
    return casting_of(target, sleeve, walls=walls).at(turn, down)


@formula(
    name="metal at a pose",
    expression="e(theta, dz) = e_0 - n_s theta D/2 - n_z dz",
    sources=("derived",),
    validity="poses near that at which the rays were cast",
    unit="m",
)
def metal_at(stations: EdgeStations, *, turn: Array | float, down: Array | float) -> Array:
    """Metal at every station with the sleeve turned and lowered.

    Parameters
    ----------
    stations : EdgeStations
        Stations with the metal at no turn. [record]
    turn : Array | float
        Turn clockwise seen from the deck, of any shape. [rad]
    down : Array | float
        How much deeper it sits, of the same shape. [m]

    Returns
    -------
    Array
        Metal left to grind; below zero where it is already gone; the stations last. [m]

    Notes
    -----
    Linear in the pose. Source: ``derived``.
    """
    along = np.asarray(turn)[..., None] * (stations.diameter / 2.0)
    deep = np.asarray(down)[..., None]
    normal = stations.normal
    moved: Array = stations.metal - along * normal[:, 0] - deep * normal[:, 1]
    return moved


def casting_of(target: PortMap, sleeve: PortMap, *, walls: Walls = "radial") -> Casting:
    """Two maps made ready for rays.

    Parameters
    ----------
    target : PortMap
        The ports as they are to become. [record]
    sleeve : PortMap
        The ports of the sleeve, of the same names. [record]
    walls : Walls
        Whether the sides of the sleeve's windows are radial or parallel. [text]

    Returns
    -------
    Casting
        What does not change with the pose. [record]

    Raises
    ------
    InputError
        If the two maps do not name the same ports.
    """
    refuse_unlike(target, sleeve)
    place, normal = stations_on([port.along(target.diameter) for port in target.ports])
    mine = [sleeve.port(wanted.name) or wanted for wanted in target.ports]
    drawn = [
        on_wall(one, sleeve.diameter, target.diameter, near=wanted.middle, walls=walls)
        for one, wanted in zip(mine, target.ports, strict=True)
    ]
    outlines = _filled(drawn)
    count = len(drawn)
    still = EdgeStations(
        names=tuple(one.name for one in target.ports),
        diameter=target.diameter,
        port=np.repeat(np.arange(count), STATIONS),
        edge=np.tile(EDGES_OF_STATIONS, count),
        place=place.reshape(-1, 2),
        normal=normal.reshape(-1, 2),
        metal=np.zeros(count * STATIONS),
        doubt=np.array([_both_doubts(*pair) for pair in zip(target.ports, mine, strict=True)]),
        of_skirt=tuple(number for number, one in enumerate(mine) if one.is_of_skirt),
    )
    closed = np.concatenate([outlines, outlines[:, :1]], axis=1)
    along, deep = closed[:, None, :, 0], closed[:, None, :, 1]
    n_s, n_z = normal[..., :1], normal[..., 1:]
    p_s, p_z = place[..., :1], place[..., 1:]
    beside = n_s * deep - n_z * along - (n_s * p_z - n_z * p_s)
    ahead = n_s * along + n_z * deep - (n_s * p_s + n_z * p_z)
    beside, ahead = (one.reshape(count * STATIONS, -1) for one in (beside, ahead))
    return Casting(still, outlines, beside, ahead, ahead.max(axis=1))


def _filled(drawn: list[Points]) -> Array:
    """Outlines of one length, each filled up with its last point."""
    most = max(one.shape[0] for one in drawn)
    filled = np.empty((len(drawn), most, 2))
    for row, one in zip(filled, drawn, strict=True):
        row[: one.shape[0]] = one
        row[one.shape[0] :] = one[-1]
    return filled


def refuse_unlike(target: PortMap, sleeve: PortMap) -> None:
    """Refuse two maps that do not name the same ports.

    Parameters
    ----------
    target, sleeve : PortMap
        The two maps. [record]

    Raises
    ------
    InputError
        If a port is in one of them only; the text names it.
    """
    wanted = [port.name for port in target.ports]
    there = [port.name for port in sleeve.ports]
    lacking = [name for name in wanted if name not in there]
    more = [name for name in there if name not in wanted]
    if not lacking and not more:
        return
    said = []
    if lacking:
        said.append(f"the sleeve's map has no {', '.join(lacking)}")
    if more:
        said.append(f"the wanted map has no {', '.join(more)}")
    raise InputError(
        "ports of the two maps",
        f"{len(wanted)} wanted, {len(there)} in the sleeve",
        "",
        "the same ports by the same names in both",
        f"Here {' and '.join(said)}: name or map them alike.",
    )


def on_wall(port: MappedPort, own: float, wall: float, *, near: float, walls: Walls) -> Points:
    """A port of a map carried to another wall, near an angle.

    Parameters
    ----------
    port : MappedPort
        The port. [record]
    own, wall : float
        Diameter of its own wall and of the other. [m]
    near : float
        Angle that whole rounds are taken off towards. [rad]
    walls : Walls
        Radial sides keep the angle, parallel ones the chord. [text]

    Returns
    -------
    Points
        Arc length and depth of its points, (n, 2). [m]
    """
    points = port.points.copy()
    if walls == "parallel" and own != wall:
        middle = port.middle
        half = np.sin(points[:, 0] - middle) * (own / wall)
        points[:, 0] = middle + np.arcsin(np.clip(half, -1.0, 1.0))
    points[:, 0] += 2.0 * np.pi * np.round((near - port.middle) / (2.0 * np.pi))
    carried: Points = points * np.array([wall / 2.0, 1.0])
    return carried


def _both_doubts(wanted: MappedPort, mine: MappedPort) -> Array:
    """Doubt of roof, right side, floor and left side, of both maps together."""
    pairs = [(one.doubt.roof, one.doubt.side, one.doubt.floor) for one in (wanted, mine)]
    roof, side, floor = np.hypot(*np.array(pairs))
    return np.array([roof, side, floor, side])


__all__ = [
    "CORNER", "FLOOR", "LEFT", "RIGHT", "ROOF", "STATION_EDGES", "Casting", "EdgeStations",
    "casting_of", "edge_stations", "metal_at", "on_wall", "refuse_unlike",
]  # fmt: skip
