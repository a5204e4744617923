"""An edge, a corner or a whole port moved by hand on the map: what is then told of it.

A port that was told by its sizes keeps its sizes while edges are moved.  A corner moved by
itself makes another figure than a rounded quadrilateral; then the outline is told, and so it
is for a port that is an outline already.  What is moved is always what stands: a reading is
never changed in silence, the move names every reading that it would replace.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.ports.mapped import MappedPort, PortMap, arc_to_chord
from sleevewright.core.ports.outline import Points
from sleevewright.errors import InputError
from sleevewright.jobs.catalog_maps import BY_CHORD, CLOCKWISE
from sleevewright.jobs.model import Entry
from sleevewright.jobs.outlinetext import MOST_CORNERS, outline_text
from sleevewright.jobs.portmaps import ToldMap, ToldPort
from sleevewright.planning.portmaps import Wall, read_map, refuse_crossed
from sleevewright.units import shown

EDGE_HANDLES = ("roof", "right", "floor", "left", "middle")
CORNER_HANDLES = ("roof-left", "roof-right", "floor-right", "floor-left")
HANDLES = (*EDGE_HANDLES, *CORNER_HANDLES)
"""What of a port can be moved; left and right as seen from inside."""

MEASURED = "measured"
STEPS = {"metric": 1e-5, "inch": 2.54e-5}
"""One step of a key, the last digit that is told: 0.01 mm or 0.001 in. [m]"""

MOST_MOVE = 0.2
"""Farther than this no edge is moved at once. [m]"""


@dataclass(frozen=True)
class Move:
    """How far something of a port is moved, along the wall and down.

    Attributes
    ----------
    handle : str
        One of ``HANDLES``.
    right : float
        To the right as seen from inside, which is clockwise seen from the deck. [m]
    down : float
        Away from the deck. [m]
    """

    handle: str
    right: float = 0.0
    down: float = 0.0


@dataclass(frozen=True)
class Moved:
    """What a move comes to.

    Attributes
    ----------
    port : MappedPort
        The port as it would lie, depth from the deck. [record]
    texts : Mapping[str, str]
        What is told, by the name of the size: ``roof``, ``width``, ``angle``, ``outline``.
    replaced : tuple[tuple[str, str], ...]
        Sizes that were read and would be replaced, each with its text.
    """

    port: MappedPort
    texts: Mapping[str, str]
    replaced: tuple[tuple[str, str], ...]


def moved_port(told: ToldMap, name: str, move: Move, wall: Wall, units: str) -> Moved:
    """What is told of a port once something of it was moved.

    Parameters
    ----------
    told : ToldMap
        The map as it was told. [record]
    name : str
        The port that is moved.
    move : Move
        What of it, and how far. [record]
    wall : Wall
        What the map is read on. [record]
    units : str
        System of the job.

    Returns
    -------
    Moved
        The port as it would lie, and the texts that tell it. [record]

    Raises
    ------
    InputError
        If the port cannot be drawn yet, or the move makes no window of it.
    """
    port = told.port(name)
    lying = _read(told, name, wall)
    if port is None or lying is None:
        raise InputError("port", name, "", "a port with roof, floor and width told", "Tell them.")
    if move.handle not in HANDLES:
        raise InputError("handle", move.handle, "", ", ".join(HANDLES))
    if not math.hypot(move.right, move.down) <= MOST_MOVE:
        raise InputError("move", math.hypot(move.right, move.down), "m", f"at most {MOST_MOVE} m")
    if port.outline or move.handle in CORNER_HANDLES:
        return _outlined(lying, move, told, port, wall)
    sizes = _sizes(told, port, move, wall)
    texts = {size: _text(size, value, units) for size, value in sizes.items()}
    again = _with_sizes(port, {key: Entry(sizes[key], texts[key]) for key in sizes})
    made = _read(_with_port(told, again), name, wall)
    if made is None:
        _refuse(told, again, name, wall)
        raise InputError("port", name, "", "a window that can be")
    return Moved(made, texts, _replaced(port, tuple(texts)))


def _read(told: ToldMap, name: str, wall: Wall) -> MappedPort | None:
    made = read_map(told, wall).map
    return None if made is None else made.port(name)


def _refuse(told: ToldMap, port: ToldPort, name: str, wall: Wall) -> None:
    """Say why the port that was moved cannot be."""
    for refused, why in read_map(_with_port(told, port), wall).refused:
        if refused == name:
            raise InputError(f"{name} as moved", "this", "", f"a window that can be: {why}")


def _with_sizes(port: ToldPort, sizes: Mapping[str, Entry]) -> ToldPort:
    """The port with some sizes told otherwise."""
    return replace(
        port,
        roof=sizes.get("roof", port.roof),
        floor=sizes.get("floor", port.floor),
        width=sizes.get("width", port.width),
        bottom=sizes.get("bottom", port.bottom),
        angle=sizes.get("angle", port.angle),
    )


def _with_port(told: ToldMap, port: ToldPort) -> ToldMap:
    """The map with one port told otherwise."""
    ports = tuple(port if one.name == port.name else one for one in told.ports)
    return replace(told, ports=ports)


def _sizes(told: ToldMap, port: ToldPort, move: Move, wall: Wall) -> dict[str, float]:
    """The sizes that a moved edge changes, in SI as the map tells them."""
    if port.roof is None or port.floor is None or port.width is None:
        raise InputError(port.name, "nothing", "", "roof, floor and width")
    handle = move.handle
    sizes: dict[str, float] = {}
    if handle in ("roof", "middle"):
        sizes["roof"] = port.roof.value + move.down
    if handle in ("floor", "middle"):
        sizes["floor"] = port.floor.value + move.down
    if handle in ("roof", "floor") or (handle == "middle" and move.right == 0.0):
        return sizes
    diameter = wall.diameter if told.on is None else told.on.value
    sign = 1.0 if told.round == CLOCKWISE else -1.0
    turned = 2.0 * move.right / diameter
    angle = 0.0 if port.angle is None else port.angle.value
    if handle == "middle":
        sizes["angle"] = angle + sign * turned
        return sizes if move.down else {"angle": sizes["angle"]}
    wider = move.right if handle == "right" else -move.right
    sizes["angle"] = angle + sign * turned / 2.0
    sizes["width"] = _wider(port.width.value, wider, told, diameter)
    if port.bottom is not None:
        sizes["bottom"] = _wider(port.bottom.value, wider, told, diameter)
    return sizes


def _wider(width: float, wider: float, told: ToldMap, diameter: float) -> float:
    """A width as the map tells widths, wider by a length along the wall."""
    if told.widths != BY_CHORD:
        return width + wider
    if width > diameter:
        raise InputError("width", width, "m", f"a chord of at most {diameter:.6g} m")
    return arc_to_chord(arc=diameter * math.asin(width / diameter) + wider, bore=diameter)


def _text(size: str, value: float, units: str) -> str:
    """A size to the last digit that is told, with its unit."""
    if size == "angle":
        return f"{math.degrees(value):.3f} deg"
    said = shown(value, quantity="size", system=units, given=True)
    return f"{_rounded(value, units)} {said.unit}"


def _rounded(value: float, units: str) -> str:
    step = STEPS[units]
    count = round(value / step)
    return f"{count / 100:.2f}" if units == "metric" else f"{count / 1000:.3f}"


def _outlined(port: MappedPort, move: Move, told: ToldMap, said: ToldPort, wall: Wall) -> Moved:
    """The outline with what is moved drawn along, fading out towards the other side."""
    diameter = wall.diameter if told.on is None else told.on.value
    low, high = port.points.min(axis=0), port.points.max(axis=0)
    share = (port.points - low) / (high - low)
    weight = _weight(move.handle, share)
    by = np.array([2.0 * move.right / diameter, move.down])
    points: Points = port.points + weight[:, None] * by
    refuse_crossed(port.name, points)
    if points.shape[0] > MOST_CORNERS:
        points = points[:: math.ceil(points.shape[0] / MOST_CORNERS)]
    own = points - np.array([0.0, wall.down])
    text = outline_text([(float(angle), float(depth)) for angle, depth in own])
    sizes = ("roof", "floor", "width", "bottom", "radius", "arch", "angle")
    return Moved(replace(port, points=points), {"outline": text}, _replaced(said, sizes))


def _weight(handle: str, share: Points) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """How much of a move each point takes part in."""
    across, down = share[:, 0], share[:, 1]
    weights = {
        "roof": 1.0 - down,
        "floor": down,
        "left": 1.0 - across,
        "right": across,
        "middle": np.ones_like(across),
        "roof-left": (1.0 - down) * (1.0 - across),
        "roof-right": (1.0 - down) * across,
        "floor-right": down * across,
        "floor-left": down * (1.0 - across),
    }
    return weights[handle]


def _replaced(port: ToldPort, sizes: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    """Readings that a move would replace, or that an outline would stand before."""
    found = []
    for size in sizes:
        entry = None if size == "outline" else getattr(port, size)
        if entry is not None and entry.kind == MEASURED:
            found.append((size, entry.text.strip()))
    return tuple(found)


def handle_places(port: MappedPort) -> Mapping[str, tuple[float, float]]:
    """Where each handle of a port lies: angle and depth.

    Parameters
    ----------
    port : MappedPort
        The port. [record]
    """
    left, right = float(port.points[:, 0].min()), float(port.points[:, 0].max())
    half = (port.roof + port.floor) / 2.0
    return {
        "roof": (port.middle, port.roof),
        "right": (right, half),
        "floor": (port.middle, port.floor),
        "left": (left, half),
        "middle": (port.middle, half),
        "roof-left": (left, port.roof),
        "roof-right": (right, port.roof),
        "floor-right": (right, port.floor),
        "floor-left": (left, port.floor),
    }


def with_moved(port_map: PortMap, port: MappedPort) -> PortMap:
    """The map with one port lying as it was moved."""
    ports = tuple(port if one.name == port.name else one for one in port_map.ports)
    return replace(port_map, ports=ports)
