"""What another pose of the sleeve could still save of an edge that is cut too far."""

from __future__ import annotations

import math
from dataclasses import replace

from sleevewright.core.ports.corners import CORNERS
from sleevewright.core.ports.grinding import least_overcut
from sleevewright.planning.grind_told import GONE, GrindEdge, PoseTold

MOST_MOVE = 5e-3
"""How far a turn could ever move a port along the wall: further it is another port. [m]"""

ACROSS = {"left": "right", "right": "left"}


def beyond_any_pose(
    edges: list[GrindEdge], pose: PoseTold, gone: float, wall: float
) -> list[GrindEdge]:
    """The same with what no pose within its limits takes from an edge that is cut too far.

    A turn shares what both sides of a port lack; a roof gains by what the counterbore may
    still be deepened.  Once the sleeve is in, nothing is to be had by a pose.
    """
    metals = {(one.metal.port, one.metal.edge): one.metal.least for one in edges}
    made = []
    for one in edges:
        edge, least = one.metal.edge, one.metal.least
        # Neither a corner nor an end of a roof moves as roofs and sides do.
        is_end = edge == CORNERS or (edge == "roof" and (one.top or 0.0) > 0.0)
        if one.state != GONE or one.is_pocket or (is_end and not pose.is_set):
            made.append(one)
            continue
        if pose.is_set or edge == "floor":
            over = -least  # a floor would have to sit higher: no counterbore puts metal back
        elif edge == "roof":
            over = least_overcut(one=least, other=math.inf, most_move=pose.deeper)
        else:
            over = _side_over(edge, least, metals[one.metal.port, ACROSS[edge]], pose, wall)
        made.append(replace(one, beyond=over if over > gone else 0.0))
    return made


def _side_over(edge: str, least: float, other: float, pose: PoseTold, wall: float) -> float:
    """Overcut of a side at the best of the turns that are left, in metres."""
    found = [-least]
    for low, high in pose.turns:
        ends = (low, high) if edge == "left" else (-high, -low)
        first, last = (one * wall / 2.0 for one in ends)
        if first > MOST_MOVE or last < -MOST_MOVE:
            continue
        moves = (max(first, -MOST_MOVE), min(last, MOST_MOVE))
        found.append(least_overcut(one=least, other=other, least_move=moves[0], most_move=moves[1]))
    return min(found)
