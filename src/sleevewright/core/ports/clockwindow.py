"""How well the ends of the harmless turns are known: each hangs on the edges that bound it."""

from __future__ import annotations

import numpy as np

from sleevewright.core.formulas import formula
from sleevewright.core.ports.clocking import (
    DRAWS,
    SEED,
    TOLERANCE,
    Pose,
    PoseLimits,
    drawn_metal,
)
from sleevewright.core.ports.clocksolve import is_harmless


@formula(
    name="doubt of the harmless turns",
    expression="root of the mean square of (end of a draw - end), each edge drawn in its doubt",
    sources=("jcgm-101",),
    validity="metal linear in the turn; an end that the limits set is in no doubt",
    unit="rad",
)
def window_doubt(
    pose: Pose,
    *,
    limits: PoseLimits | None = None,
    tolerance: float = TOLERANCE,
    count: int = DRAWS,
    seed: int = SEED,
) -> tuple[float, float]:
    """One standard uncertainty of both ends of the turns that harm no edge.

    Of many edges that are about equally close the closest draw sets the end, so draws lie
    rather inside the window than about its end.  What they lie inside by is counted as doubt.

    Parameters
    ----------
    pose : Pose
        The pose with its window. [record]
    limits : PoseLimits, optional
        The limits that it was found within. [record]
    tolerance : float
        Metal gone that is not counted. [m]
    count, seed : int
        How many draws, and where they begin. [1]

    Returns
    -------
    tuple[float, float]
        Doubt of the counter-clockwise and of the clockwise end. [rad]

    Notes
    -----
    Propagation of distributions. Source: ``jcgm-101``.
    """
    limits = limits or PoseLimits()
    stations = pose.stations
    hard = ~is_harmless(stations)
    along, deep = stations.normal[hard].T
    metal = np.vstack([stations.metal, drawn_metal(stations, count=count, seed=seed)])[:, hard]
    room = (metal - deep * pose.down + tolerance) / (stations.diameter / 2.0)
    run = next(one for one in limits.turns if one[0] - 1e-12 <= pose.turn <= one[1] + 1e-12)
    found = []
    # A draw whose edge is gone at the pose itself has no window on that side: it ends there.
    sides = ((run[0], pose.turn), (pose.turn, run[1]))
    for steep, end, side in zip(
        (along < -1e-9, along > 1e-9), (np.max, np.min), sides, strict=True
    ):
        bounds = end(room[:, steep] / along[steep], axis=1) if steep.any() else np.zeros(count + 1)
        bounds = np.clip(bounds, *side)
        found.append(float(np.sqrt(np.mean((bounds[1:] - bounds[0]) ** 2))))
    return found[0], found[1]
