"""The drawings of a port map's page, from a map: the whole way round, and one port large."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from sleevewright.core.ports.mapped import MappedPort, PortMap
from sleevewright.core.ports.seams import widest_seam
from sleevewright.errors import InputError
from sleevewright.jobs.catalog_maps import (
    CAST_MAP,
    FOUND_MAP,
    LEFT_MAP,
    SUPPLIED_MAP,
    TARGET_MAP,
)
from sleevewright.planning.map_moves import STEPS, handle_places
from sleevewright.units import from_unit, to_unit
from sleevewright.web.pictures.drawn_map import (
    WIDE,
    Close,
    DrawnPort,
    MapPicture,
    close_round,
    port_close,
)
from sleevewright.web.ports.map_views import CloseView, HandleView

UNITS = {"metric": "mm", "inch": "in"}
LINES = {
    FOUND_MAP: ("dotted", "dotted"),
    TARGET_MAP: ("line", "solid"),
    SUPPLIED_MAP: ("dashed", "dashed"),
    CAST_MAP: ("thin", "thin"),
    LEFT_MAP: ("line", "solid"),
}
"""How each map is drawn wherever ports are drawn, and the word for it."""

INSIDE_OUT = {"left": "right", "right": "left"}
LABELS = {
    "roof": "Roof",
    "floor": "Floor",
    "left": "Left side",
    "right": "Right side",
    "middle": "Whole port",
    "roof-left": "Roof, left corner",
    "roof-right": "Roof, right corner",
    "floor-left": "Floor, left corner",
    "floor-right": "Floor, right corner",
}


def drawn_port(port: MappedPort, units: str, *, is_shown: bool = False) -> DrawnPort:
    """A window with degrees and lengths of the job."""
    lengths = [to_unit(float(depth), UNITS[units]) for depth in port.points[:, 1]]
    angles = [math.degrees(float(angle)) for angle in port.points[:, 0]]
    return DrawnPort(port.name, tuple(zip(angles, lengths, strict=True)), is_shown)


def map_picture(
    maps: tuple[PortMap, PortMap | None],
    shown: str,
    units: str,
    *,
    is_outside: bool,
    keys: tuple[str, str] = (TARGET_MAP, FOUND_MAP),
) -> MapPicture:
    """The record of a map as it is drawn, with another one behind it; ``keys`` name both."""
    port_map, other = maps
    seam = _seam(port_map)
    names = ", ".join(port.name for port in _in_order(port_map, seam, is_outside=is_outside))
    view = "outside" if is_outside else "inside"
    return MapPicture(
        tuple(drawn_port(p, units, is_shown=p.name == shown) for p in port_map.ports),
        tuple(drawn_port(port, units) for port in (() if other is None else other.ports)),
        to_unit(math.pi * port_map.diameter, UNITS[units]),
        math.degrees(seam),
        is_outside,
        UNITS[units],
        f"Ports unrolled, seen from {view}, from left to right: {names}",
        LINES[keys[0]][0],
        LINES[keys[1]][0],
    )


def _seam(port_map: PortMap) -> float:
    """Where the wall is cut to unroll it: in a blank, opposite the datum where there is none."""
    try:
        return widest_seam(port_map)
    except InputError:  # no angle was told, or the ports leave no blank wall
        return -math.pi


def _in_order(port_map: PortMap, seam: float, *, is_outside: bool) -> list[MappedPort]:
    """The ports from the left to the right of the drawing."""
    turn = 2.0 * math.pi
    return sorted(port_map.ports, key=lambda port: (port.middle - seam) % turn, reverse=is_outside)


def close_map(made: PortMap, placed: PortMap | None, name: str) -> PortMap:
    """What is drawn round one port: the ports that lie somewhere, or that port alone."""
    if placed is not None and placed.port(name) is not None:
        return placed
    return replace(made, ports=tuple(port for port in made.ports if port.name == name))


def close_view(stands: MappedPort, picture: MapPicture, units: str) -> CloseView:
    """One port, large, with its handles."""
    port = drawn_port(stands, units)
    close = close_round(port, picture)
    return CloseView(
        port_close(port, picture, close),
        handles_of(stands, close, units),
        from_unit(WIDE / close.per_length, UNITS[units]),
        STEPS[units],
        -1 if picture.is_outside else 1,
    )


def handles_of(port: MappedPort, close: Close, units: str) -> tuple[HandleView, ...]:
    """Where the handles of a port lie on its large drawing; words as seen from there."""
    found = []
    for handle, (angle, depth) in handle_places(port).items():
        x, y = close.share(math.degrees(angle), to_unit(depth, UNITS[units]))
        place = handle
        if close.is_outside:
            place = "-".join(INSIDE_OUT.get(part, part) for part in handle.split("-"))
        found.append(HandleView(handle, LABELS[place], place, round(x, 3), round(y, 3)))
    return tuple(found)


def with_snaps(
    close: CloseView, port: MappedPort, maps: Sequence[tuple[str, PortMap]]
) -> CloseView:
    """The handles of roof and floor with the depths of other ports, to which they may snap."""
    handles = []
    for one in close.handles:
        snaps: list[tuple[float, str]] = []
        if one.handle in ("roof", "floor"):
            here = getattr(port, one.handle)
            for title, others in maps:
                snaps += [
                    (round(getattr(other, one.handle) - here, 9), f"{other.name}{title}")
                    for other in others.ports
                    if other is not port
                ]
        handles.append(replace(one, snaps=tuple(snaps)))
    return replace(close, handles=tuple(handles))
