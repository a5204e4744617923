"""From the maps to the list: how each edge lies now, what is left on it, in which order."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.ports.corners import CORNERS, corner_metals, least_in_corners
from sleevewright.core.ports.grinding import (
    EdgeMetal,
    duration_lacking,
    edge_metal,
    metal_by_edge,
    metal_to_stop,
    widest_blank,
)
from sleevewright.core.ports.mapped import EdgeDoubt, MappedPort, PortMap
from sleevewright.core.ports.overlap import metal_areas
from sleevewright.core.ports.pairs import twin_name
from sleevewright.core.ports.residual import edge_stations, on_wall
from sleevewright.core.uncertainty.decision import decide_within
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_maps import PISTON_INLET, REED_INLET
from sleevewright.planning.answers import Verdict
from sleevewright.planning.grind_left import checked, closings
from sleevewright.planning.grind_pose import beyond_any_pose
from sleevewright.planning.grind_told import (
    CLOSE,
    DONE,
    GONE,
    LEAVE,
    TAKE,
    GrindEdge,
    GrindMap,
    GrindTold,
)

ROOF, FLOOR = "roof", "floor"
SQUARE = 4
"""Points of a window whose corners are sharp: none is cut or cast so."""

FIRST = {ROOF: 0, "left": 1, "right": 1, CORNERS: 2, FLOOR: 3}
"""Roofs before sides, sides before corners, floors last."""


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
    told, now, refused = checked(supplied, told)
    stations = edge_stations(target, now)
    sharp = tuple(port.name for port in target.ports if _is_sharp(port.name, told))
    corners = [one for one in corner_metals(stations) if one.port not in sharp]
    metals = (*metal_by_edge(stations), *corners)
    edges = [_edge(metal, (target, now), told, rules, crank) for metal in metals]
    spans = tuple(
        (float(p.points[:, 0].min()), float(p.points[:, 0].max()))
        for p in (*target.ports, *now.ports)
    )
    areas = {
        port.name: metal_areas(port.along(wall), mine.along(wall))
        for port, mine in zip(target.ports, now.ports, strict=True)
    }
    listed = in_order(beyond_any_pose(edges, told.pose, rules.gone, wall), rules)
    seam, _ = widest_blank(spans)
    closed = closings(supplied, now, told)
    return GrindMap(
        target, supplied, now, told.found, listed, areas, told.pose, seam, refused, closed, sharp
    )


def _is_sharp(name: str, told: GrindTold) -> bool:
    """Whether no corner radius is known of a port, in the sleeve or in what is wanted."""
    maps = (told.target, told.supplied)
    ports = [port for one in maps if one is not None for port in (one.port(name),) if port]
    return any(
        len(port.points) <= SQUARE or (port.shape is not None and not any(port.shape.radii))
        for port in ports
    )


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


def _edge(
    metal: EdgeMetal,
    maps: tuple[PortMap, PortMap],
    told: GrindTold,
    rules: Rules,
    crank: Crank | None,
) -> GrindEdge:
    """One edge with its verdict, its stop line and what it costs."""
    target, now = maps
    mean = least_in_corners(metal) if metal.edge == CORNERS else edge_metal(metal)
    own = _own_doubt(now.port(metal.port), metal.edge)
    stop = metal_to_stop(replace(metal, doubt=own), stop_margin=rules.margin, guard=rules.guard)
    called = decide_within(
        metal.least, standard=metal.doubt, least=-rules.gone, most=None, guard=rules.guard
    )
    verdict = Verdict(called.value)
    wanted = target.port(metal.port)
    lacking, line, top = None, None, None
    if wanted is not None and metal.edge in (ROOF, FLOOR):
        line = _line(wanted, now.port(metal.port), metal.edge, stop) - told.deck_cut
    if wanted is not None and metal.edge == ROOF:
        mine = now.port(metal.port)
        top = mean if mine is None else mine.roof - wanted.roof  # where it is highest it opens
    kind = told.kinds.get(metal.port, "")
    if wanted is not None and crank is not None:
        lacking = _late(metal.edge, (wanted, now.port(metal.port)), kind, told.skirt, crank)
    state = _state(verdict, stop, _is_told(metal, told))
    return GrindEdge(metal, mean, stop, verdict, state, lacking, line=line, top=top, kind=kind)


def _late(
    edge: str,
    ports: tuple[MappedPort, MappedPort | None],
    kind: str,
    skirt: float | None,
    crank: Crank,
) -> float | None:
    """Duration that a port lacks by one edge; nothing where that edge does not open it."""
    wanted, mine = ports
    if mine is None or kind == REED_INLET:
        return None
    if kind != PISTON_INLET:
        # Where the roof is highest it opens.
        return _lacking(mine.roof - wanted.roof, wanted.roof, crank) if edge == ROOF else None
    if edge != FLOOR or skirt is None:
        return None
    return _lacking(wanted.floor - mine.floor, mine.floor - skirt, crank)


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
    if edge == CORNERS:
        return math.hypot(max(port.doubt.roof, port.doubt.floor), port.doubt.side) / math.sqrt(2.0)
    known = {ROOF: port.doubt.roof, FLOOR: port.doubt.floor}
    return known.get(edge, port.doubt.side)


def _is_told(metal: EdgeMetal, told: GrindTold) -> bool:
    """Whether an edge was measured since the sleeve went in."""
    left = told.left.get(metal.port)
    if left is None:
        return False
    if left.whole is not None:
        return True
    known = {
        ROOF: left.roof is not None,
        FLOOR: left.floor is not None,
        CORNERS: left.roof is not None and left.is_wide_told,
    }
    return known.get(metal.edge, left.is_wide_told)


def _state(verdict: Verdict, stop: float, is_told: bool) -> str:
    """What is to be done at an edge."""
    if verdict is Verdict.OUT:
        return GONE
    if stop > 0.0:
        return TAKE
    if is_told:
        return DONE
    return LEAVE if verdict is Verdict.GOOD else CLOSE


def in_order(edges: list[GrindEdge], rules: Rules) -> tuple[GrindEdge, ...]:
    """Roofs first, among them the odd one by its twin, then by what is left; done ones last."""
    # A twin that is ground already says nothing of how the sleeve came.
    means = {
        (one.metal.port.casefold(), one.metal.edge): (one.metal.port, one.mean)
        for one in edges
        if one.state in (TAKE, CLOSE, LEAVE)
    }
    marked = []
    for one in edges:
        beside = means.get((twin_name(one.metal.port).casefold(), one.metal.edge))
        is_odd = one.metal.edge == ROOF and beside is not None and one.mean - beside[1] > rules.odd
        marked.append(replace(one, twin=beside) if is_odd else one)
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
