"""From what was told of a map to the map: outlines in one frame, and what is still missing.

Chords become arcs and arcs become angles; angles that count the other way are turned round here
and nowhere else.  From where a map was looked at turns nothing round: left and right in a name
always mean seen from inside, and its angles count as the map says, seen from the deck.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.engine.crank import chord_to_arc
from sleevewright.core.ports.crossed import self_crossings
from sleevewright.core.ports.mapped import (
    EdgeDoubt,
    MappedPort,
    PlacedShape,
    PortMap,
    map_of_shapes,
)
from sleevewright.core.ports.outline import Points, PortShape
from sleevewright.errors import InputError, SleevewrightError
from sleevewright.jobs.catalog_maps import BY_CHORD, CLOCKWISE, PISTON_INLET
from sleevewright.jobs.outlinetext import outline_of_text
from sleevewright.jobs.portmaps import ToldMap, ToldPort
from sleevewright.planning.facing_told import in_units
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR


@dataclass(frozen=True)
class ReadMap:
    """A map as far as it can be drawn, and what each port that cannot be still needs.

    Attributes
    ----------
    map : PortMap | None
        The ports that can be drawn; nothing where there is none.
    needs : tuple[str, ...]
        What is missing, in words, port by port.
    refused : tuple[tuple[str, str], ...]
        Ports whose sizes cannot be, each with the reason.
    """

    map: PortMap | None
    needs: tuple[str, ...] = ()
    refused: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Wall:
    """What a map is read on: its wall, how far its datum lies below the deck, its doubts.

    Attributes
    ----------
    diameter : float
        Diameter of the wall, where the map does not tell its own. [m]
    down : float
        How far the map's datum lies below the deck. [m]
    roof, side : float
        Half-widths of about 95 % of a roof and a side, where the map tells none. [m]
    units : str
        System in which a refusal tells its lengths.
    """

    diameter: float
    down: float = 0.0
    roof: float = 0.0
    side: float = 0.0
    units: str = "metric"


MOST_READ = 128
"""Maps that are kept as they were read: each is asked for by every part of a look."""


@functools.lru_cache(maxsize=MOST_READ)
def read_map(told: ToldMap, wall: Wall) -> ReadMap:
    """The map of what was told; nobody changes it in place.

    Parameters
    ----------
    told : ToldMap
        What was told of it. [record]
    wall : Wall
        What it is read on. [record]

    Returns
    -------
    ReadMap
        The map with what is missing; a port that cannot be is left out and named. [record]
    """
    diameter = wall.diameter if told.on is None else told.on.value
    roof = wall.roof if told.roof_doubt is None else told.roof_doubt.value
    side = wall.side if told.side_doubt is None else told.side_doubt.value
    doubt = EdgeDoubt(
        roof / STATED_COVERAGE_FACTOR,
        side / STATED_COVERAGE_FACTOR,
        roof / STATED_COVERAGE_FACTOR,
    )
    ports: list[MappedPort] = []
    needs: list[str] = []
    refused: list[tuple[str, str]] = []
    placed = True
    for one in told.ports:
        lacking = _lacking(one)
        if lacking:
            needs.append(f"{one.name}: {lacking}")
            continue
        placed = placed and (bool(one.outline) or one.angle is not None)
        try:
            port = _drawn(one, told, diameter)
            _refuse_wide(port)
        except SleevewrightError as problem:
            refused.append((one.name, in_units(str(problem), wall.units)))
            continue
        down = wall.down + (one.lowered if one.outline else 0.0)
        points = port.points + np.array([0.0, down])
        group = one.group or one.name
        of_skirt = one.kind == PISTON_INLET
        ports.append(replace(port, points=points, doubt=doubt, group=group, is_of_skirt=of_skirt))
    made = PortMap(tuple(ports), diameter, is_placed=placed) if ports else None
    return ReadMap(made, tuple(needs), tuple(refused))


def placed_part(told: ToldMap, made: PortMap) -> PortMap | None:
    """The ports of a map whose angle was told; nothing where none was.

    Parameters
    ----------
    told : ToldMap
        What was told of it. [record]
    made : PortMap
        The map, in which a port without an angle lies about nought. [record]
    """
    known = {one.name for one in told.ports if one.outline or one.angle is not None}
    ports = tuple(port for port in made.ports if port.name in known)
    return PortMap(ports, made.diameter) if ports else None


def _lacking(port: ToldPort) -> str:
    """The first thing that an outline still needs; empty where it can be drawn."""
    if port.outline:
        return ""
    for size in ("roof", "floor", "width"):
        if getattr(port, size) is None:
            return size
    return ""


def _drawn(port: ToldPort, told: ToldMap, diameter: float) -> MappedPort:
    """One port as an outline: drawn or rubbed, else made of its sizes."""
    if port.outline:
        corners = np.array(outline_of_text(port.outline, field=f"outline of {port.name}"))
        corners[:, 0] = np.unwrap(corners[:, 0])  # a window across half way round is one window
        refuse_crossed(port.name, corners)
        return MappedPort(port.name, corners, group=port.name)
    shapes = {port.name: PlacedShape(_shape(port, told, diameter), _angle(port, told))}
    return map_of_shapes(shapes, diameter=diameter).ports[0]


WIDEST = math.pi
"""Widest window that can be: half the way round. [rad]"""


def _refuse_wide(port: MappedPort) -> None:
    """Refuse a window wider than half the way round."""
    if port.span <= WIDEST + 1e-9:
        return
    hint = "Look at its corners or its width, and at the diameter that was measured on."
    wide = round(math.degrees(port.span), 1)
    raise InputError(f"width of {port.name}", wide, "deg", "up to 180 deg wide", hint)


def refuse_crossed(name: str, corners: Points) -> None:
    """Refuse an outline that crosses itself: nothing that is drawn of it means a window."""
    crossed = self_crossings(corners)
    if crossed:
        one, other = crossed[0]
        where = f"edges {one + 1} and {other + 1} cross"
        allowed = "a line round the window that does not cross itself"
        hint = "Put the corners in order, clockwise seen from inside, or drag one back."
        raise InputError(f"outline of {name}", where, "", allowed, hint)


def _angle(port: ToldPort, told: ToldMap) -> float:
    """Where its middle lies, clockwise seen from the deck; zero where it was not told."""
    if port.angle is None:
        return 0.0
    return port.angle.value if told.round == CLOCKWISE else -port.angle.value


def _shape(port: ToldPort, told: ToldMap, diameter: float) -> PortShape:
    """The sizes of a window along the wall."""
    if port.roof is None or port.floor is None or port.width is None:
        raise InputError(port.name, "nothing", "", "roof, floor and width")
    top = _along(port.width.value, told, diameter)
    bottom = top if port.bottom is None else _along(port.bottom.value, told, diameter)
    radius = 0.0 if port.radius is None else port.radius.value
    arch = 0.0 if port.arch is None else port.arch.value
    return PortShape(port.roof.value, port.floor.value, top, bottom, (radius,) * 4, arch)


def _along(width: float, told: ToldMap, diameter: float) -> float:
    """A width along the wall, by chord or by arc as the map says."""
    if told.widths != BY_CHORD:
        return width
    return float(chord_to_arc(chord=width, bore=diameter))
