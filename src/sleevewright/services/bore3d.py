"""Use case: the bore of a cylinder in space, with every outline that was told on its wall."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.ports.mapped import MappedPort, PortMap, arc_to_chord
from sleevewright.core.ports.outline import Points
from sleevewright.core.ports.solid import Places, densely, places_on_wall
from sleevewright.jobs.catalog_maps import (
    EXHAUST,
    FOUND_MAP,
    LEFT_MAP,
    MAP_TITLES,
    SUPPLIED_MAP,
    TARGET_MAP,
)
from sleevewright.planning.answers import Plan
from sleevewright.planning.map_stops import own_fault
from sleevewright.services.clock_told import placed_words, pose_of
from sleevewright.services.cut_told import CutTold
from sleevewright.services.port_maps import CylinderMap, map_of
from sleevewright.services.ring_limits_told import kind_of

SHOWN = (TARGET_MAP, SUPPLIED_MAP, FOUND_MAP, LEFT_MAP)
FINEST = math.radians(2.0)
"""A straight edge is cut into pieces of at most this, so that it lies on the wall."""


@dataclass(frozen=True)
class WallPort:
    """One window on the wall of one map.

    Attributes
    ----------
    name : str
        What it is called.
    places : Places
        Its closed outline in space, (n, 3), the first point once more at the end. [m]
    middle : float
        Angle midway between its sides, clockwise seen from the deck. [rad]
    roof, floor : float
        Depths below the deck. [m]
    chord : float | None
        Width as a caliper reads it. [m]
    """

    name: str
    places: Places
    middle: float
    roof: float
    floor: float
    chord: float | None


@dataclass(frozen=True)
class WallMap:
    """One map on the wall: its name in words and its windows."""

    key: str
    title: str
    ports: tuple[WallPort, ...]


@dataclass(frozen=True)
class Bore3D:
    """The bore with everything that is drawn on it.

    Attributes
    ----------
    diameter, depth : float
        Of the wall that is drawn, and how far it is drawn down from the deck. [m]
    maps : tuple[WallMap, ...]
        Maps that were told, whose angles are known.
    marks : tuple[tuple[str, float], ...]
        Marks at the deck, each with its angle. [rad]
    exhaust, intake : float
        Angles to look from: the middle of the exhaust, and the other side or the inlet. [rad]
    needs : tuple[str, ...]
        What is missing, in words.
    """

    diameter: float
    depth: float
    maps: tuple[WallMap, ...]
    marks: tuple[tuple[str, float], ...]
    exhaust: float
    intake: float
    needs: tuple[str, ...] = ()


def bore3d_of(plan: Plan, told: CutTold) -> Bore3D:
    """The bore of a cylinder in space; without a single placed map it only tells its needs."""
    read = {key: map_of(plan, told, key) for key in SHOWN}
    pose = pose_of(plan, told)
    needs: list[str] = []
    placed: dict[str, PortMap] = {}
    for key, one in read.items():
        made = _placed(one, needs)
        if made is not None and key == SUPPLIED_MAP and pose is not None:
            made = made.turned(pose.turn, down=pose.down)
        if made is not None:
            placed[key] = made
    marks = [("datum", 0.0)]
    if SUPPLIED_MAP in placed and pose is not None:
        marks.append(("mark of the sleeve", pose.turn))
    elif SUPPLIED_MAP in placed:
        marks = [("datum, mark of the sleeve", 0.0)]
    titles = dict(MAP_TITLES)
    titles[SUPPLIED_MAP] += f", {placed_words(pose)}"
    maps = tuple(
        WallMap(key, titles[key], tuple(_port(port, one.diameter) for port in one.ports))
        for key, one in placed.items()
    )
    floors = [port.floor for one in maps for port in one.ports]
    diameters = [one.diameter for one in placed.values()]
    exhaust, intake = _sides(told, placed)
    diameter = diameters[0] if diameters else 0.0
    depth = max(floors, default=0.0) + 0.2 * diameter
    return Bore3D(diameter, depth, maps, tuple(marks), exhaust, intake, tuple(needs))


def _placed(one: CylinderMap, needs: list[str]) -> PortMap | None:
    """A map whose angles are known; what keeps it from being drawn is added to the needs."""
    title = MAP_TITLES[one.told.key]
    needs += [f"{title}, {need}" for need in one.read.needs]
    needs += [f"{title}, {name}: {why}" for name, why in one.read.refused]
    made = one.read.map
    if made is not None and not made.is_placed:
        needs.append(f"{title}, middle round the bore of every port")
        return None
    fault = "" if made is None else own_fault(made)
    if fault:
        needs.append(f"{title}, a map that can be: {fault}")
    return made


def _port(port: MappedPort, diameter: float) -> WallPort:
    """A window on the wall, its edges laid on it."""
    outline: Points = densely(port.points, finest=FINEST)
    chord = None
    if port.span <= math.pi:
        chord = arc_to_chord(arc=port.span * diameter / 2.0, bore=diameter)
    places = places_on_wall(outline, diameter=diameter)
    return WallPort(port.name, places, port.middle, port.roof, port.floor, chord)


def _sides(told: CutTold, placed: dict[str, PortMap]) -> tuple[float, float]:
    """Where the exhaust lies, and where to stand to look at what is across from it."""
    for one in placed.values():
        for port in one.ports:
            if kind_of(told, port.name) == EXHAUST:
                inlets = (two for two in one.ports if "inlet" in kind_of(told, two.name))
                inlet = next(inlets, None)
                across = port.middle + math.pi if inlet is None else inlet.middle
                return port.middle, across
    return 0.0, math.pi
