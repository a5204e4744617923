"""Use case: the maps of a cylinder's ports, each read on its wall, in the frame of the deck."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.ports.mapped import PortMap
from sleevewright.jobs.catalog_maps import (
    FLANGE_SEAT,
    FLANGE_TOP,
    SUPPLIED_MAP,
)
from sleevewright.jobs.portmaps import ToldMap
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import known_in, ledger_of
from sleevewright.planning.portmaps import ReadMap, Wall, read_map
from sleevewright.planning.ports import ENGINE_DECK, ENGINE_ROD, ENGINE_STROKE
from sleevewright.services.cut_told import CutTold
from sleevewright.services.decks import from_old_deck
from sleevewright.services.port_corners import with_corners

WALLS = {
    "found": ("found.size", "engine.bore", "finish.bore"),
    "target": ("finish.bore", "engine.bore", "found.size"),
    "supplied": ("sleeve.id",),
    "cast": ("bore.bored", "bore.target"),
    "left": ("finish.bore", "engine.bore"),
}
"""Answers that tell the wall of each map where the map tells none, the first that is known."""


TARGET_RESTS_ON = tuple(
    dict.fromkeys(
        (
            *(name for names in WALLS.values() for name in names),
            *(line.id for line in (ENGINE_STROKE, ENGINE_ROD, ENGINE_DECK)),
        )
    )
)
"""Answers that the ports as they are to be rest on, beside what was told: they are asked for by
most parts of a look, and worked out anew where one of these is another."""


@dataclass(frozen=True)
class CylinderMap:
    """One map of a cylinder: what was told and what it comes to."""

    told: ToldMap
    read: ReadMap


def map_of(plan: Plan, told: CutTold, key: str) -> CylinderMap:
    """One of the maps ``found``, ``target``, ``supplied``, ``cast``, ``left`` of a cylinder.

    Depths come out from the deck as the cylinder came: a sleeve that was measured from its flange
    is moved down by where its flange will stand, as far as the plan knows, and what was told
    after the deck was cut by what was taken off.
    """
    said = with_corners(told, from_old_deck(told, key))
    wall, lacking = wall_of(plan, told, said)
    if wall is None:
        return CylinderMap(said, ReadMap(None, (lacking,) if said.ports else ()))
    read = told.folded.once(("read", key, told.cylinder, wall), lambda: read_map(said, wall))
    return CylinderMap(said, read)


def wall_of(plan: Plan, told: CutTold, said: ToldMap) -> tuple[Wall | None, str]:
    """What a map is read on, or what is missing to know it."""
    diameter = None if said.on is None else said.on.value
    diameter = diameter if diameter is not None else _wall(plan, told, said.key)
    if diameter is None:
        return None, f"diameter of the wall, for the map {said.key}"
    down, lacking = _down(plan, told, said)
    if down is None:
        return None, lacking
    ledger = ledger_of(plan)
    roof, side = ledger.default("port_height").value, ledger.default("port_side").value
    return Wall(diameter, down, roof, side, plan.units), ""


def _wall(plan: Plan, told: CutTold, key: str) -> float | None:
    """The diameter that a map was most likely measured on."""
    for name in WALLS[key]:
        known = known_in(plan, name)
        if known is not None and isinstance(known.value, float):
            return known.value
    typed = told.job.engine.bore if key != "cast" else None
    return None if typed is None else typed.value


def _down(plan: Plan, told: CutTold, said: ToldMap) -> tuple[float | None, str]:
    """How far the datum of a map lies below the deck, or what is missing to know it.

    The stand-out counts from the deck as it is faced after: from the deck as it is before that,
    ledge and flange both lie deeper by what is faced off.
    """
    if said.key != SUPPLIED_MAP or said.datum not in (FLANGE_TOP, FLANGE_SEAT):
        return 0.0, ""
    entry = told.length("counterbore.faced")
    faced = 0.0 if entry is None else entry.value
    if said.datum == FLANGE_SEAT:
        depth = _value(plan, ("counterbore.depth",))
        now = _value(plan, ("counterbore.depth_now",))
        known = depth + faced if now is None and depth is not None else now
        return known, "depth of the counterbore, for the map of the sleeve"
    stand_out = _value(plan, ("counterbore.stand_out",))
    return (faced if stand_out is None else faced - stand_out), ""


def _value(plan: Plan, names: tuple[str, ...]) -> float | None:
    """The first of some answers that is known."""
    for name in names:
        known = known_in(plan, name)
        if known is not None and isinstance(known.value, float):
            return known.value
    return None


def target_of(plan: Plan, told: CutTold) -> PortMap | None:
    """What the ports are to become: frozen with the job, else by what was chosen of each.

    Its doubt is that of its sources; see :mod:`sleevewright.services.target_told`.
    """
    from sleevewright.services.target_told import target_map  # it reads the maps of this module

    basis = (plan.chosen, plan.seed, *(known_in(plan, name) for name in TARGET_RESTS_ON))
    kept: list[tuple[tuple[object, ...], PortMap | None]]
    kept = told.folded.once(("target", told.cylinder), list)
    for known, found in kept:
        if all(one is other for one, other in zip(known, basis, strict=True)):
            return found
    made = target_map(plan, told)
    kept[:] = [(basis, made)]
    return made


def sleeve_of(plan: Plan, told: CutTold) -> PortMap | None:
    """The sleeve as supplied, where its mark and the datum of the angles lie together."""
    return map_of(plan, told, SUPPLIED_MAP).read.map


def datum_below_deck(plan: Plan, told: CutTold, said: ToldMap) -> float | None:
    """How far the datum of a map lies below the deck, in metres; nothing where it is not known."""
    return _down(plan, told, said)[0]
