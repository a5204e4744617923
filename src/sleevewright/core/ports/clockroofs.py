"""Roofs first: the law's pose, lowered as far as it takes for no roof to be overcut.

The law weighs every edge against every other, so it may leave a roof a few hundredths short
where a floor or a side is dear.  A counterbore that may be deepened can give that back: of the
depths that are allowed only those are looked at that save the roofs, and the law is asked again
among them.  Where even the deepest does not save a roof, the deepest is taken.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.clocksolve import Box, Law, solve
from sleevewright.core.ports.residual import ROOF, EdgeStations
from sleevewright.errors import NotConverged

Array = NDArray[np.float64]

FACES_UP = 0.5
"""A piece of a roof that looks up by less than this is a side of its window: no depth saves it."""

SPARE = 0.5e-6
"""Metal that is put on top, so that a turn that shifts a little needs no second look. [m]"""

NOTHING = 1.0e-9
"""A depth that is short by less than this is not: it is the rounding of a length. [m]"""

RAISES = 16


@formula(
    name="depth that saves the roofs",
    expression="max over roofs of (e_0 - n_s theta D/2)/n_z",
    sources=("derived",),
    validity="metal linear in the pose; minus infinity where there is no roof",
    unit="m",
)
def roof_depth(stations: EdgeStations, *, metal: Array, along: Array) -> Array:
    """Least depth at which no roof is overcut, for each draw at its own turn.

    Parameters
    ----------
    stations : EdgeStations
        The stations. [record]
    metal : Array
        Metal at no turn, (draws, n). [m]
    along : Array
        Turn of each draw along the wall, (draws,). [m]

    Returns
    -------
    Array
        Depth from where the sleeve would sit, (draws,). [m]

    Notes
    -----
    Each roof gives one bound. Source: ``derived``.
    """
    n_s, n_z = stations.normal.T
    roofs = np.flatnonzero((stations.edge == ROOF) & (n_z < -FACES_UP))
    bounds = (metal[:, roofs] - along[:, None] * n_s[roofs]) / n_z[roofs]
    depth: Array = bounds.max(axis=1, initial=-np.inf)
    return depth


@formula(
    name="least cost with the roofs saved",
    expression="the law's least cost over turns and depths at or below what saves the roofs",
    sources=("derived",),
    validity="the deepest that is allowed where none saves them",
    unit="m",
)
def solve_roofs_first(
    law: Law, stations: EdgeStations, metal: Array, start: Array, ends: Box
) -> tuple[Array, Array, float]:
    """Least cost for each draw among the depths that overcut no roof, if there are any.

    Parameters
    ----------
    law : Law
        The law of the stations. [record]
    stations : EdgeStations
        The stations. [record]
    metal : Array
        Metal at no turn, (draws, n). [m]
    start : Array
        Where to begin, (2,): along the wall and down. [m]
    ends : Box
        Lower and upper ends of both, (2,). [m]

    Returns
    -------
    tuple[Array, Array, float]
        Places (draws, 2) [m], costs (draws,) [1] and the worst residual of the conditions of a
        least cost. [1]

    Raises
    ------
    NotConverged
        If a draw misses its certificate, or its depth does not come to rest.

    Notes
    -----
    Source: ``derived``.
    """
    place, cost, residual = solve(law, metal, start, ends)
    low, deepest = np.tile(ends[0], (metal.shape[0], 1)), ends[1][1]
    short = 0.0
    for _ in range(RAISES):
        depth = np.minimum(roof_depth(stations, metal=metal, along=place[:, 0]), deepest)
        lacking = depth - place[:, 1]
        open_ = np.flatnonzero(lacking > NOTHING)
        if open_.size == 0:
            return place, cost, residual
        short = float(lacking.max())
        low[open_, 1] = np.minimum(depth[open_] + SPARE, deepest)
        begin = np.maximum(place[open_], low[open_])
        place[open_], cost[open_], more = solve(law, metal[open_], begin, (low[open_], ends[1]))
        residual = max(residual, more)
    raise NotConverged("the depth that saves the roofs", RAISES, short, NOTHING)
