"""Use case: the checks of every map of a cylinder, as cautions at the stage that tells it."""

from __future__ import annotations

from sleevewright.core.ports.mapped import PortMap
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_maps import (
    CAST_MAP,
    FOUND_MAP,
    LEFT_MAP,
    SUPPLIED_MAP,
    TARGET_MAP,
)
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import beside, known_in, ledger_of
from sleevewright.planning.map_checks import Flaw, OnWall, flaws_of_told, is_even
from sleevewright.planning.map_pairs import enter_pairs
from sleevewright.planning.portmaps import read_map
from sleevewright.services.cut_told import CutTold
from sleevewright.services.decks import from_old_deck
from sleevewright.services.port_maps import map_of, wall_of

STAGES = {
    FOUND_MAP: ("found", "As found", "found."),
    TARGET_MAP: ("choice", "Choice", "target."),
    SUPPLIED_MAP: ("sleeve", "Sleeve in hand", "sleeve."),
    CAST_MAP: ("ready", "Make ready", "cast."),
    LEFT_MAP: ("ports", "Ports", "ports."),
}
"""The stage at which each map is told, its title, and how its answers begin."""

ONLY_MARK = (
    "Only the mark tells which way round this map of the sleeve is: left and right are so alike "
    "that its mirror image would fit too. Check the foot of the mark before it is clocked: it "
    "points clockwise seen from the deck."
)
"""The remark on an even cylinder: maps that were both mirrored, names and all, look sound."""

AGAINST = {
    TARGET_MAP: (FOUND_MAP,),
    SUPPLIED_MAP: (FOUND_MAP,),
    CAST_MAP: (FOUND_MAP,),
    LEFT_MAP: (TARGET_MAP, FOUND_MAP),
}
"""What each map is compared with, the first that was told."""


def found_map_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The map as found."""
    return _part(plan, told, FOUND_MAP)


def target_map_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The map that the ports are to become."""
    return _part(plan, told, TARGET_MAP)


def sleeve_map_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The map of the sleeve as supplied."""
    return _part(plan, told, SUPPLIED_MAP)


def cast_map_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The windows of the casting."""
    return _part(plan, told, CAST_MAP)


def left_map_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The ports as they are handed back."""
    return _part(plan, told, LEFT_MAP)


def only_mark_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """At Make ready: that only the mark tells which way round the map of the sleeve is."""
    own = map_of(plan, told, SUPPLIED_MAP).told
    wall, _ = wall_of(plan, told, own) if own.ports else (None, "")
    if wall is None or not is_even(OnWall(own, wall), _other(plan, told, SUPPLIED_MAP)):
        return None
    ledger = ledger_of(plan)
    ledger.advise(ONLY_MARK)
    return beside(plan, "ready", "Make ready", ledger.result())


MAP_CHECKS = (
    found_map_part,
    target_map_part,
    sleeve_map_part,
    cast_map_part,
    left_map_part,
    only_mark_part,
)


def flaws_of(plan: Plan, told: CutTold, key: str) -> tuple[Flaw, ...]:
    """What is wrong or doubtful about one map of a cylinder: key and words of each flaw.

    Parameters
    ----------
    plan : Plan
        The plan of the cylinder. [record]
    told : CutTold
        What was told of it. [record]
    key : str
        Which map, one of ``MAPS``.
    """
    own = from_old_deck(told, key)
    wall, _ = wall_of(plan, told, own)
    if wall is None:
        return ()
    flange = known_in(plan, "flange.thickness") if key == SUPPLIED_MAP else None
    return flaws_of_told(
        OnWall(own, wall),
        _other(plan, told, key),
        ledger_of(plan).default("port_bridge_least").value,
        flange.value if flange is not None and isinstance(flange.value, float) else None,
        plan.units,
    )


def _other(plan: Plan, told: CutTold, key: str) -> OnWall | None:
    """What a map is compared with, the first that was told and can be drawn."""
    for other in AGAINST.get(key, ()):
        said = from_old_deck(told, other)
        wall, _ = wall_of(plan, told, said)
        if wall is not None and read_map(said, wall).map is not None:
            return OnWall(said, wall)
    return None


def other_map(plan: Plan, told: CutTold, key: str) -> tuple[str, PortMap | None]:
    """The map that another is compared with: its key and itself, where one was told."""
    other = _other(plan, told, key)
    return ("", None) if other is None else (other.told.key, read_map(other.told, other.wall).map)


def _part(plan: Plan, told: CutTold, key: str) -> StageAnswers | None:
    """The cautions about one map and how its pairs differ; nothing where none was told."""
    stage, title, prefix = STAGES[key]
    own = map_of(plan, told, key)
    if not own.told.ports:
        return None
    ledger = ledger_of(plan)
    for flaw, text in flaws_of(plan, told, key):
        ledger.caution(f"port-map-{flaw}:{prefix}map", text, "derived")
    if own.read.map is not None:
        try:
            enter_pairs(ledger, own.read.map, f"{prefix}pair", units=plan.units)
        except SleevewrightError as refused:
            ledger.caution(f"port-map-pairs:{prefix}map", str(refused), "derived")
    return beside(plan, stage, title, ledger.result())
