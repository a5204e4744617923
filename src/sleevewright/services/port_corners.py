"""Use case: corners of a port as left that nobody read, taken from another map and said.

A window is never cut with sharp corners.  Where sizes were read as left without a radius, the
corners are taken as they are wanted: a stone that follows the outline leaves that radius.  The
sleeve's own counts where it is larger, or where no other is known.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sleevewright.jobs.catalog_maps import FOUND_MAP, LEFT_MAP, SUPPLIED_MAP, TARGET_MAP
from sleevewright.jobs.livingdoc import escaped
from sleevewright.jobs.model import Entry
from sleevewright.jobs.portmaps import ToldMap, ToldPort, entry_of
from sleevewright.services.cut_told import CutTold

FROM = {
    TARGET_MAP: "the port as it is to be",
    FOUND_MAP: "the port as found",
    SUPPLIED_MAP: "the sleeve as supplied",
}
"""Maps that corners are taken from: of what is wanted the first, and the sleeve's."""


@dataclass(frozen=True)
class _Corner:
    """A corner radius, with the arch of the roof that goes with it, and the map it is from."""

    key: str
    radius: Entry
    arch: Entry | None


def with_corners(told: CutTold, said: ToldMap) -> ToldMap:
    """A map as left with the corners that were not read; any other map as it is."""
    if said.key != LEFT_MAP:
        return said
    return replace(said, ports=tuple(_with_corners(told, port) for port in said.ports))


def corners_taken(told: CutTold, said: ToldMap) -> tuple[str, ...]:
    """What was taken so for a map as left, in words, port by port; of ports told whole."""
    words = []
    for port in said.ports:
        is_whole = port.angle is not None and not port.outline and port.width is not None
        if not is_whole or _entry(told, port.name, LEFT_MAP, "radius") is not None:
            continue
        taken = _corner(told, port.name)
        if taken is not None:
            words.append(
                f"{port.name.capitalize()}: no corner radius was read as left; that of "
                f"{FROM[taken.key]} is taken, {taken.radius.text}. Lay a radius gauge in."
            )
    return tuple(words)


def _with_corners(told: CutTold, port: ToldPort) -> ToldPort:
    """A port told by sizes with the corners that it is taken to have."""
    if port.radius is not None or port.outline or port.width is None:
        return port
    taken = _corner(told, port.name)
    if taken is None:
        return port
    arch = port.arch if port.arch is not None else taken.arch
    return replace(port, radius=taken.radius, arch=arch)


def _corner(told: CutTold, name: str) -> _Corner | None:
    """The corners that a port is taken to have; nothing where no map tells of any."""
    found = [
        _Corner(key, radius, _entry(told, name, key, "arch"))
        for key in FROM
        for radius in (_entry(told, name, key, "radius"),)
        if radius is not None
    ]
    if not found:
        return None
    first, last = found[0], found[-1]
    if last.key == SUPPLIED_MAP and last.radius.value > first.radius.value:
        return replace(last, arch=first.arch)
    return first


def _entry(told: CutTold, name: str, key: str, size: str) -> Entry | None:
    """One size of a port in one map."""
    return entry_of(told.folded, f"port/{escaped(name)}/{key}.{size}", told.cylinder)
