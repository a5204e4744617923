"""Use case: corners of a port as left that nobody read, taken from another map and said.

A window is never cut with sharp corners.  Where sizes were read as left without a radius, the
corners are taken as they are wanted: a stone that follows the outline leaves that radius.  The
sleeve's own counts where it is larger, or where no other is known.
"""

from __future__ import annotations

from dataclasses import replace

from sleevewright.jobs.catalog_maps import FOUND_MAP, LEFT_MAP, SUPPLIED_MAP, TARGET_MAP
from sleevewright.jobs.portmaps import ToldMap, ToldPort, told_map
from sleevewright.services.cut_told import CutTold

FROM = {
    TARGET_MAP: "the port as it is to be",
    FOUND_MAP: "the port as found",
    SUPPLIED_MAP: "the sleeve as supplied",
}
"""Maps that corners are taken from: of what is wanted the first, and the sleeve's."""


def with_corners(told: CutTold, said: ToldMap) -> ToldMap:
    """A map as left with the corners that were not read; any other map as it is."""
    if said.key != LEFT_MAP or not any(map(_is_without, said.ports)):
        return said
    ports = tuple(_with_corners(told, port)[0] for port in said.ports)
    return replace(said, ports=ports)


def corners_taken(told: CutTold) -> tuple[str, ...]:
    """What was taken so, in words, port by port."""
    said = told_map(told.folded, LEFT_MAP, cylinder=told.cylinder)
    words = []
    for port in said.ports:
        made, key = _with_corners(told, port)
        if key and made.radius is not None and port.angle is not None:
            words.append(
                f"{port.name.capitalize()}: no corner radius was read as left; that of "
                f"{FROM[key]} is taken, {made.radius.text}. Lay a radius gauge in."
            )
    return tuple(words)


def _is_without(port: ToldPort) -> bool:
    """Whether a window was told by sizes, and its corners were not."""
    return port.radius is None and not port.outline and port.width is not None


def _with_corners(told: CutTold, port: ToldPort) -> tuple[ToldPort, str]:
    """A port with corners, and the map that they are from; as it is where there are none."""
    if not _is_without(port):
        return port, ""
    known = [
        (key, other)
        for key in FROM
        for other in (told_map(told.folded, key, cylinder=told.cylinder).port(port.name),)
        if other is not None and other.radius is not None
    ]
    if not known:
        return port, ""
    key, other = known[0]
    if known[-1][0] == SUPPLIED_MAP and _radius(known[-1][1]) > _radius(other):
        key = SUPPLIED_MAP
    made = dict(known)[key]
    arch = port.arch if port.arch is not None else other.arch
    return replace(port, radius=made.radius, arch=arch), key


def _radius(port: ToldPort) -> float:
    """Its corner radius; nought where none was told. [m]."""
    return 0.0 if port.radius is None else port.radius.value
