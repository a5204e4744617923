"""Use case: from which deck a depth counts, where the deck was cut on the way.

Every map is brought to one frame, that of the deck as the cylinder came.  A depth as left that
was told before the cut counts from that deck; one that was told after it counts from the new
deck, and lies deeper in the frame of the maps by what was taken off.  All other maps are made
before the cut and are taken so, whenever they were keyed.
"""

from __future__ import annotations

from dataclasses import replace

from sleevewright.jobs.catalog_maps import LEFT_MAP
from sleevewright.jobs.livingdoc import escaped
from sleevewright.jobs.model import Entry
from sleevewright.jobs.portmaps import ToldMap, told_map
from sleevewright.services.cut_told import CutTold

CUT_CELL = "face.cut"
DECK_CELL = "engine.deck"
DEPTHS = ("roof", "floor", "outline")
"""Sizes of a port that count from the deck."""


def cut_of(told: CutTold) -> float:
    """What was taken off the deck; nought where nothing was told. [m]."""
    entry = told.length(CUT_CELL)
    return 0.0 if entry is None else entry.value


def is_after_cut(told: CutTold, cell: str) -> bool:
    """Whether what stands in a cell was told after the deck was cut.

    The first telling of the cut counts: one that is keyed anew is the same cut.
    """
    value = told.folded.value(cell, cylinder=told.cylinder)
    if value is None or told.length(CUT_CELL) is None:
        return False
    first = next(one for one in told.folded.history(CUT_CELL, cylinder=told.cylinder) if one.text)
    return value.number > first.number


def is_deck_late(told: CutTold) -> bool:
    """Whether the piston's place below the deck was told after the deck was cut."""
    return is_after_cut(told, DECK_CELL)


def is_from_new_deck(told: CutTold, key: str, port: str, size: str) -> bool:
    """Whether one depth of a port counts from the deck as it is now."""
    return key == LEFT_MAP and is_after_cut(told, f"port/{escaped(port)}/{key}.{size}")


def from_old_deck(told: CutTold, key: str) -> ToldMap:
    """A map as it was told, every depth from the deck as the cylinder came."""
    return _moved(told, key, new=cut_of(told), old=0.0)


def from_new_deck(told: CutTold, key: str) -> ToldMap:
    """A map as it was told, every depth from the deck as it is now."""
    return _moved(told, key, new=0.0, old=-cut_of(told))


def _moved(told: CutTold, key: str, *, new: float, old: float) -> ToldMap:
    """A map with what each depth lies deeper by, told from the new deck or from the old one."""
    said = told_map(told.folded, key, cylinder=told.cylinder)
    if not cut_of(told):
        return said
    ports = []
    for port in said.ports:
        roof, floor, outline = (
            new if is_from_new_deck(told, key, port.name, size) else old for size in DEPTHS
        )
        ports.append(
            replace(
                port,
                roof=_deeper(port.roof, roof),
                floor=_deeper(port.floor, floor),
                lowered=outline if port.outline else 0.0,
            )
        )
    return replace(said, ports=tuple(ports))


def _deeper(entry: Entry | None, by: float) -> Entry | None:
    """A depth that lies deeper than it was told; its text stays what was told."""
    return entry if entry is None or not by else replace(entry, value=entry.value + by)
