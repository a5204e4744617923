"""From the maps to the list: how each edge lies now, what is left on it, in which order."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.ports.grinding import (
    EdgeMetal,
    EdgesTold,
    after_grind,
    duration_lacking,
    edge_metal,
    least_overcut,
    metal_by_edge,
    metal_to_stop,
    widest_blank,
)
from sleevewright.core.ports.mapped import EdgeDoubt, MappedPort, PortMap
from sleevewright.core.ports.overlap import metal_areas
from sleevewright.core.ports.residual import edge_stations, on_wall
from sleevewright.core.uncertainty.decision import decide_within
from sleevewright.errors import SleevewrightError
from sleevewright.planning.answers import Verdict
from sleevewright.planning.grind_told import (
    CLOSE,
    DONE,
    GONE,
    LEAVE,
    TAKE,
    GrindEdge,
    GrindMap,
    GrindTold,
    LeftPort,
)

ROOF, FLOOR = "roof", "floor"
MOST_MOVE = 5e-3
"""How far a turn could ever move a port along the wall: further it is another port. [m]"""

FIRST = {ROOF: 0, "left": 1, "right": 1, FLOOR: 2}
"""Roofs before sides, sides before floors."""


@dataclass(frozen=True)
class Crank:
    """What turns a height into degrees, all in metres."""

    stroke: float
    rod: float
    deck_clearance: float


@dataclass(frozen=True)
class Rules:
    """What the shop holds to.

    Attributes
    ----------
    margin : float
        Between stop line and target. [m]
    gone : float
        Metal gone that still counts as none. [m]
    odd : float
        What makes a roof the odd one beside its twin. [m]
    guard : float
        Guard band in standard uncertainties. [1]
    """

    margin: float
    gone: float
    odd: float
    guard: float


def grind_map(told: GrindTold, rules: Rules, crank: Crank | None) -> GrindMap | None:
    """The list of every port that both maps know; nothing where they share none."""
    if told.target is None or told.supplied is None or told.stopped:
        return None
    if not (told.target.is_placed and told.supplied.is_placed):
        return None
    lies = told.supplied.turned(told.pose.turn, down=told.pose.down)
    pairs = [
        (port, mine)
        for port in told.target.ports
        for mine in (lies.port(port.name),)
        if mine is not None
    ]
    if not pairs:
        return None
    wall = told.target.diameter
    target = replace(told.target, ports=tuple(port for port, _ in pairs))
    supplied = PortMap(
        tuple(_carried(mine, port, lies, told) for port, mine in pairs), wall, lies.is_placed
    )
    told, refused = _checked(supplied, told)
    now = replace(supplied, ports=tuple(_now(port, told) for port in supplied.ports))
    metals = metal_by_edge(edge_stations(target, now))
    edges = [_edge(metal, (target, now), told, rules, crank) for metal in metals]
    spans = tuple(
        (float(p.points[:, 0].min()), float(p.points[:, 0].max()))
        for p in (*target.ports, *now.ports)
    )
    areas = {
        port.name: metal_areas(port.along(wall), mine.along(wall))
        for port, mine in zip(target.ports, now.ports, strict=True)
    }
    listed = in_order(_beyond(edges, told, rules), rules)
    seam, _ = widest_blank(spans)
    return GrindMap(target, supplied, now, told.found, listed, areas, told.pose, seam, refused)


def _carried(mine: MappedPort, port: MappedPort, lies: PortMap, told: GrindTold) -> MappedPort:
    """A window of the sleeve on the wall of the target, beside its port, with the pose's doubt."""
    wall = 1.0 if told.target is None else told.target.diameter
    along = on_wall(mine, lies.diameter, wall, near=port.middle, walls=told.walls)
    doubt = EdgeDoubt(
        math.hypot(mine.doubt.roof, told.pose.deep),
        math.hypot(mine.doubt.side, told.pose.side),
        math.hypot(mine.doubt.floor, told.pose.deep),
    )
    return replace(mine, points=along / np.array([wall / 2.0, 1.0]), doubt=doubt, shape=None)


def _now(port: MappedPort, told: GrindTold) -> MappedPort:
    """A window as it was measured last; as it was supplied where nothing was since."""
    left = told.left.get(port.name)
    if left is None or not left.is_told:
        return port
    if left.whole is not None:
        turns = round((port.middle - left.whole.middle) / (2.0 * math.pi))
        points = left.whole.points + np.array([2.0 * math.pi * turns, 0.0])
        return replace(left.whole, points=points, doubt=told.left_doubt)
    doubt = EdgeDoubt(
        port.doubt.roof if left.roof is None else told.left_doubt.roof,
        port.doubt.side if left.width is None else told.left_doubt.side,
        port.doubt.floor if left.floor is None else told.left_doubt.floor,
    )
    sides = _sides(port, left, told)
    return replace(after_grind(port, EdgesTold(left.roof, left.floor, *sides)), doubt=doubt)


def _checked(supplied: PortMap, told: GrindTold) -> tuple[GrindTold, tuple[str, ...]]:
    """What was told without new readings that cannot be, and why each was left out."""
    refused = {}
    for port in supplied.ports:
        try:
            _now(port, told)
        except SleevewrightError as problem:
            refused[port.name] = str(problem)
    kept = {name: one for name, one in told.left.items() if name not in refused}
    return replace(told, left=kept), tuple(refused.values())


def _sides(port: MappedPort, left: LeftPort, told: GrindTold) -> tuple[float | None, float | None]:
    """Angles of both sides by a width that was told.

    Where its middle was not told, both sides share what was taken as both lacked it.
    """
    if left.width is None or told.target is None:
        return None, None
    half = left.width / told.target.diameter
    first, last = float(port.points[:, 0].min()), float(port.points[:, 0].max())
    if left.middle is not None:
        turns = round((port.middle - left.middle) / (2.0 * math.pi))
        middle = left.middle + 2.0 * math.pi * turns
        return middle - half, middle + half
    wanted = told.target.port(port.name)
    lacks = [0.5, 0.5]
    if wanted is not None:
        turns = round((port.middle - wanted.middle) / (2.0 * math.pi))
        points = wanted.points[:, 0] + 2.0 * math.pi * turns
        lacks = [max(first - float(points.min()), 0.0), max(float(points.max()) - last, 0.0)]
    share = lacks[0] / sum(lacks) if sum(lacks) > 0.0 else 0.5
    more = 2.0 * half - (last - first)
    return first - share * more, last + (1.0 - share) * more


def _edge(
    metal: EdgeMetal,
    maps: tuple[PortMap, PortMap],
    told: GrindTold,
    rules: Rules,
    crank: Crank | None,
) -> GrindEdge:
    """One edge with its verdict, its stop line and what it costs."""
    target, now = maps
    mean = edge_metal(metal)
    own = _own_doubt(now.port(metal.port), metal.edge)
    stop = metal_to_stop(replace(metal, doubt=own), stop_margin=rules.margin, guard=rules.guard)
    called = decide_within(
        metal.least, standard=metal.doubt, least=-rules.gone, most=None, guard=rules.guard
    )
    verdict = Verdict(called.value)
    wanted = target.port(metal.port)
    lacking, line = None, None
    if wanted is not None and metal.edge in (ROOF, FLOOR):
        line = _line(wanted, now.port(metal.port), metal.edge, stop) - told.deck_cut
    if wanted is not None and metal.edge == ROOF and crank is not None:
        mine = now.port(metal.port)
        low = mean if mine is None else mine.roof - wanted.roof  # where it is highest it opens
        lacking = _lacking(low, wanted.roof, crank)
    return GrindEdge(
        metal, mean, stop, verdict, _state(verdict, stop, _is_told(metal, told)), lacking, None,
        line,
    )  # fmt: skip


def _line(wanted: MappedPort, mine: MappedPort | None, edge: str, stop: float) -> float:
    """Depth of the stop line below the deck of the maps: never beyond what is wanted."""
    if edge == ROOF:
        return wanted.roof if mine is None else max(mine.roof - stop, wanted.roof)
    return wanted.floor if mine is None else min(mine.floor + stop, wanted.floor)


def _lacking(low: float, roof: float, crank: Crank) -> float | None:
    """Duration that lacks; nothing where a roof lies beyond the stroke."""
    try:
        return float(
            duration_lacking(
                roof_metal=low,
                roof_depth=roof,
                deck_clearance=crank.deck_clearance,
                stroke=crank.stroke,
                rod=crank.rod,
            )
        )
    except SleevewrightError:
        return None


def _own_doubt(port: MappedPort | None, edge: str) -> float:
    """What the edge as it is now is worth; the target is what was chosen."""
    if port is None:
        return 0.0
    if edge == ROOF:
        return port.doubt.roof
    return port.doubt.floor if edge == FLOOR else port.doubt.side


def _is_told(metal: EdgeMetal, told: GrindTold) -> bool:
    """Whether an edge was measured since the sleeve went in."""
    left = told.left.get(metal.port)
    if left is None:
        return False
    if left.whole is not None:
        return True
    known = {ROOF: left.roof, FLOOR: left.floor}
    return known.get(metal.edge, left.width) is not None


def _state(verdict: Verdict, stop: float, is_told: bool) -> str:
    """What is to be done at an edge."""
    if verdict is Verdict.OUT:
        return GONE
    if stop > 0.0:
        return TAKE
    if is_told:
        return DONE
    return LEAVE if verdict is Verdict.GOOD else CLOSE


def twin_name(port: str) -> str:
    """What the port across the bore is called; empty where a name has no side.

    Examples
    --------
    >>> twin_name("rear left"), twin_name("boost")
    ('rear right', '')
    """
    words = port.split()
    swap: Mapping[str, str] = {"left": "right", "right": "left"}
    if not any(word.lower() in swap for word in words):
        return ""
    return " ".join(swap.get(word.lower(), word) for word in words)


def in_order(edges: list[GrindEdge], rules: Rules) -> tuple[GrindEdge, ...]:
    """Roofs first, among them the odd one by its twin, then by what is left; done ones last."""
    # A twin that is ground already says nothing of how the sleeve came.
    means = {
        (one.metal.port, one.metal.edge): one.mean
        for one in edges
        if one.state in (TAKE, CLOSE, LEAVE)
    }
    marked = []
    for one in edges:
        other = twin_name(one.metal.port)
        beside = means.get((other, one.metal.edge))
        apart = None if beside is None else one.mean - beside
        is_odd = one.metal.edge == ROOF and apart is not None and apart > rules.odd
        marked.append(replace(one, twin=(other, beside)) if is_odd and beside is not None else one)
    rank = {GONE: 1, LEAVE: 2, DONE: 3}
    return tuple(
        sorted(
            marked,
            key=lambda one: (
                rank.get(one.state, 0),
                FIRST[one.metal.edge],
                one.state == CLOSE,
                one.twin is None,
                -one.mean,
            ),
        )
    )


def _beyond(edges: list[GrindEdge], told: GrindTold, rules: Rules) -> list[GrindEdge]:
    """The same with what no pose within its limits takes from an edge that is cut too far.

    A turn shares what both sides of a port lack; a roof gains by what the counterbore may
    still be deepened.  Once the sleeve is in, nothing is to be had by a pose.
    """
    metals = {(one.metal.port, one.metal.edge): one.metal.least for one in edges}
    across = {"left": "right", "right": "left"}
    made = []
    for one in edges:
        if one.state != GONE or one.metal.edge == FLOOR:
            made.append(one)
            continue
        least = one.metal.least
        if told.pose.is_set:
            over = -least
        elif one.metal.edge == ROOF:
            over = least_overcut(
                one=least, other=math.inf, least_move=0.0, most_move=told.pose.deeper
            )
        else:
            other = metals[one.metal.port, across[one.metal.edge]]
            over = least_overcut(one=least, other=other, least_move=-MOST_MOVE, most_move=MOST_MOVE)
        made.append(replace(one, beyond=over if over > rules.gone else 0.0))
    return made
