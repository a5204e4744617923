"""Which two windows of a map stand nearest: the pair whose wall is judged."""

from __future__ import annotations

import math

from sleevewright.core.ports.mapped import MappedPort
from sleevewright.core.ports.ring_limits import wall_between

Pair = tuple[MappedPort, MappedPort]


def nearest_pair(pairs: list[Pair], diameter: float) -> Pair:
    """The pair with the thinnest wall: looked at truly until no box can be nearer.

    Parameters
    ----------
    pairs : list[Pair]
        Pairs of windows, at least one. [record]
    diameter : float
        Diameter of the wall. [m]
    """
    found, least = pairs[0], math.inf
    for bound, pair in sorted(
        ((apart(pair, diameter), pair) for pair in pairs), key=lambda one: one[0]
    ):
        if bound >= least:
            break
        one, other = (port.along(diameter) for port in pair)
        wall = wall_between(one, other, round_bore=math.pi * diameter)
        if wall < least:
            found, least = pair, wall
    return found


def apart(pair: Pair, diameter: float) -> float:
    """Wall between two windows by their sides and heights alone, never more than the true one."""
    one, other = pair
    turn = abs((one.middle - other.middle + math.pi) % (2.0 * math.pi) - math.pi)
    along = max(turn - (one.span + other.span) / 2.0, 0.0) * diameter / 2.0
    down = max(one.roof - other.floor, other.roof - one.floor, 0.0)
    return math.hypot(along, down)
