"""Where round a port's outline its edges are looked at, and which way they face there.

An outline may be made of sizes, drawn or rubbed: edges are told by the way that they face,
taken over a short length, because a rubbed edge is never smooth.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.ports.mapped import EDGES
from sleevewright.core.ports.outline import Points

Array = NDArray[np.float64]
Indices = NDArray[np.intp]

ROOF, RIGHT, FLOOR, LEFT, CORNER = range(5)
STATION_EDGES = (*EDGES, "corner")
"""Names of the edges that a station may lie on, by their number."""

PER_EDGE = (5, 3, 3, 3, 2)
"""Stations on a roof, a side, a floor, a side, and in each corner."""

STATIONS = sum(PER_EDGE[:4]) + 4 * PER_EDGE[CORNER]
"""Stations of one port."""

SAMPLES = 256
"""Points of an outline from which its stations are chosen."""

NORMAL_OVER = 1.0e-3
"""Half the length of outline that a normal is taken over: a rubbed edge is never smooth. [m]"""

WITHIN_EDGE, WITHIN_CORNER = np.cos(np.radians(30.0)), np.cos(np.radians(15.0))
"""A station is on the roof where the outline faces up within 30 degrees, and so on."""

_OUTWARD = np.array([(0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)])
_DIAGONAL = np.array([(1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0)]) / np.sqrt(2.0)
_TOWARDS = np.concatenate([_OUTWARD, _DIAGONAL])
EDGES_OF_STATIONS = np.repeat(
    [*range(4), *(4 * [CORNER])], [*PER_EDGE[:4], *(4 * PER_EDGE[CORNER:])]
)


def stations_on(outlines: list[Points]) -> tuple[Array, Array]:
    """Places and outward normals of the stations of each outline.

    Parameters
    ----------
    outlines : list[Points]
        Arc length and depth of each outline's points, (n, 2) each. [m]

    Returns
    -------
    tuple[Array, Array]
        Places [m] and outward normals of length one, (outlines, stations, 2).
    """
    points, normals = _sampled(outlines)
    faces = normals @ _TOWARDS.T
    ordered = np.argsort(points, axis=1, kind="stable")
    picked = np.array(
        [
            np.concatenate(
                [_facing(own[:, one], order[:, int(one in (RIGHT, LEFT))], one) for one in range(8)]
            )
            for own, order in zip(faces, ordered, strict=True)
        ]
    )
    rows = np.arange(len(outlines))[:, None]
    return points[rows, picked], normals[rows, picked]


def _sampled(outlines: list[Points]) -> tuple[Array, Array]:
    """Points evenly along each outline, and outward normals over a short length of it."""
    corners, lengths, starts, wholes, ways = [], [], [], [], []
    begin = 0.0
    for outline in outlines:
        closed = np.concatenate([outline, outline[:1]])
        length = np.concatenate([[0.0], np.hypot(*np.diff(closed, axis=0).T).cumsum()])
        twice = closed[:-1, 0] @ closed[1:, 1] - closed[1:, 0] @ closed[:-1, 1]
        corners.append(closed)
        lengths.append(begin + length)
        starts.append(begin)
        wholes.append(length[-1])
        ways.append(1.0 if twice > 0.0 else -1.0)
        # One after the other on one line, apart from each other.
        begin += 1.0 + length[-1]
    told, on = np.concatenate(corners), np.concatenate(lengths)
    start, whole, way = (np.array(one)[:, None] for one in (starts, wholes, ways))
    at = (np.arange(SAMPLES) + 0.5) / SAMPLES * whole
    over = np.minimum(NORMAL_OVER, whole / 40.0)

    def point(where: Array) -> Array:
        """The outlines at lengths along them, which go round and round."""
        there = start + where % whole
        return np.stack([np.interp(there, on, told[:, axis]) for axis in (0, 1)], axis=-1)

    chord = way[..., None] * (point(at + over) - point(at - over))
    across = np.stack([chord[..., 1], -chord[..., 0]], axis=-1)
    length = np.maximum(np.hypot(across[..., 0], across[..., 1]), 1e-12)
    return point(at), across / length[..., None]


def _facing(faces: Array, ordered: Indices, one: int) -> Indices:
    """Evenly spread samples that face one way; where too few do, those that do so most."""
    count, within = PER_EDGE[min(one, CORNER)], WITHIN_CORNER if one >= CORNER else WITHIN_EDGE
    found: Indices = ordered[faces[ordered] >= within]
    if found.size < count:
        most = np.argsort(-faces, kind="stable")[:count]
        found = ordered[np.isin(ordered, most)]
    spread = [number * found.size // (count + 1) for number in range(1, count + 1)]
    return found[spread]
