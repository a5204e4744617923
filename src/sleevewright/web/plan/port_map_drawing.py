"""The three maps of the ports as a picture, from the answers of stage Ports."""

from __future__ import annotations

import math

import numpy as np
from markupsafe import Markup

from sleevewright.core.ports.corners import CORNERS
from sleevewright.core.ports.mapped import MappedPort
from sleevewright.core.ports.outline import Points
from sleevewright.core.ports.overlap import shared_outlines
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.planning.grind_said import counted
from sleevewright.planning.grind_told import DONE, GONE, LEAVE, TAKE, GrindEdge, GrindMap
from sleevewright.planning.shown import shown_answer
from sleevewright.units import shown, to_unit
from sleevewright.web.pictures.port_map import (
    EdgeFigure,
    Outline,
    PortDrawn,
    PortMapPicture,
    port_map,
    times_words,
)
from sleevewright.web.plan.viewer import Viewer

PORT_MAP = "grind.map"
PORT_MAP_TITLE = "Ports unrolled at the bore, seen from inside"
TIMES = (10, 5, 3, 2, 1)
"""How many times differences may be drawn: the most that still fits into the ports."""

ROOM = 0.32
"""Share of a port's height or width that a difference may fill as it is drawn."""

_SAME = 1e-6
"""Outlines nearer than this are one. [m or rad]"""

Box = tuple[float, float, float, float]


def port_map_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The picture, where the maps lie in one frame."""
    found = answer.value
    return port_map(picture_of(viewer, found)) if isinstance(found, GrindMap) else None


def picture_of(viewer: Viewer, found: GrindMap) -> PortMapPicture:
    """Everything that the picture shows, in degrees and in the unit of the job."""
    unit = viewer.unit(Quantity.SIZE)
    times = times_of(found)
    ports = []
    for port, now in zip(found.target.ports, found.now.ports, strict=True):
        turn = _round_to_seam(port.middle, found.seam)
        enlarged = enlarged_of(port, now, times)
        wanted, there = (_shown_outline(one, turn, found.seam, unit) for one in (port, enlarged))
        was = None if found.found is None else found.found.port(port.name)
        dotted = None if was is None else _found_outline(was, port, times)
        ports.append(
            PortDrawn(
                port.name,
                wanted,
                there,
                tuple(_pairs(one) for one in shared_outlines(np.array(wanted), np.array(there))),
                () if dotted is None else _shown_outline(dotted, turn, found.seam, unit),
                _figures(found, port.name, viewer.system),
            )
        )
    is_told = any(edge.state == DONE for edge in found.edges)
    return PortMapPicture(
        tuple(ports),
        math.degrees(found.seam),
        math.degrees(found.pose.turn - found.seam),
        unit,
        viewer.unit(Quantity.METAL),
        times,
        "sleeve as it is now" if is_told else "sleeve as supplied",
        f"{PORT_MAP_TITLE}, {times_words(times)}. {_says(viewer, found)}",
    )


def times_of(found: GrindMap) -> int:
    """How many times differences are drawn: ten where they fit."""
    worst = 0.0
    for port, now in zip(found.target.ports, found.now.ports, strict=True):
        one, other = box_of(port), box_of(now)
        sizes = (one[2] - one[0], one[3] - one[1]) * 2
        worst = max(
            worst, *(abs(a - b) / size for a, b, size in zip(one, other, sizes, strict=True))
        )
    return next((times for times in TIMES if times * worst <= ROOM), 1)


def box_of(port: MappedPort) -> Box:
    """Left, roof, right, floor."""
    low, high = port.points.min(axis=0), port.points.max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def _into(port: MappedPort, box: Box) -> MappedPort:
    """A window stretched into a box."""
    was = box_of(port)
    low, size = np.array(was[:2]), np.array([was[2] - was[0], was[3] - was[1]])
    share = (port.points - low) / size
    points = np.array(box[:2]) + share * np.array([box[2] - box[0], box[3] - box[1]])
    return MappedPort(port.name, points)


def enlarged_of(port: MappedPort, now: MappedPort, times: int) -> MappedPort:
    """What is there with the differences of its edges enlarged."""
    return _into(now, _enlarged(box_of(port), box_of(now), times))


def _pairs(points: Points) -> Outline:
    """Places of an outline as the picture takes them."""
    return tuple((float(x), float(y)) for x, y in points)


def _enlarged(wanted: Box, there: Box, times: int) -> Box:
    """A box whose differences from another are drawn so many times."""
    left, roof, right, floor = (a + times * (b - a) for a, b in zip(wanted, there, strict=True))
    return left, roof, right, floor


def _found_outline(was: MappedPort, port: MappedPort, times: int) -> MappedPort | None:
    """The port as found, where it is not what is wanted."""
    turns = 2.0 * math.pi * round((port.middle - was.middle) / (2.0 * math.pi))
    points = was.points + np.array([turns, 0.0])
    if points.shape == port.points.shape and np.abs(points - port.points).max() < _SAME:
        return None
    beside = MappedPort(was.name, points)
    return _into(beside, _enlarged(box_of(port), box_of(beside), times))


def _round_to_seam(middle: float, seam: float) -> float:
    """What is added to an angle so that it lies to the right of the seam."""
    whole = 2.0 * math.pi
    return (middle - seam) % whole - (middle - seam)


def _shown_outline(port: MappedPort, turn: float, seam: float, unit: str) -> Outline:
    """An outline in degrees from the seam and in the unit of depth."""
    return tuple(
        (math.degrees(float(angle) + turn - seam), to_unit(float(depth), unit))
        for angle, depth in port.points
    )


def _figures(found: GrindMap, port: str, system: str) -> tuple[EdgeFigure, ...]:
    """What stands beside the edges of a port."""
    own = [edge for edge in found.edges if edge.metal.port == port]
    edges = [edge for edge in own if edge.metal.edge != CORNERS]
    made = [_figure(edge, system) for edge in edges]
    return tuple(one for one in made if one is not None)


def _figure(edge: GrindEdge, system: str) -> EdgeFigure | None:
    """The figure of one edge; of one that is done or left only the roof says so."""
    metal = edge.metal
    if edge.state == TAKE:
        told = shown(edge.mean, quantity=Quantity.METAL.value, system=system)
        return EdgeFigure(metal.edge, told.figure, "take")
    if edge.state == GONE:
        told = shown(-metal.least, quantity=Quantity.METAL.value, system=system)
        return EdgeFigure(metal.edge, f"{told.figure} out", "gone")
    if metal.edge != "roof":
        return None
    words = {DONE: "done", LEAVE: "leave"}
    return EdgeFigure("roof", words.get(edge.state, "measure"), "word")


def _says(viewer: Viewer, found: GrindMap) -> str:
    """What the picture answers, for who cannot see it."""
    states = counted(found)
    first = shown_answer(viewer.plan.answer("grind.first"), system=viewer.system).figure
    return (
        f"Edges to grind: {states[TAKE]}; done: {states[DONE]}; cut too far: {states[GONE]}. "
        f"First: {first}."
    )
