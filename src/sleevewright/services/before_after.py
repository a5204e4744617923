"""Use case: the ports of a cylinder before and after, as one sheet for the customer."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright import __version__
from sleevewright.errors import InputError
from sleevewright.jobs.catalog_maps import (
    FOUND_MAP,
    LEFT_MAP,
    MAP_TITLES,
    SUPPLIED_MAP,
    TARGET_MAP,
)
from sleevewright.planning.answers import Plan
from sleevewright.planning.before_after import BeforeAfter, Crank, before_after
from sleevewright.planning.beside import known_in
from sleevewright.planning.map_stops import own_fault
from sleevewright.planning.ports import ENGINE_DECK, ENGINE_ROD, ENGINE_STROKE
from sleevewright.services.bench import Bench
from sleevewright.services.clock_told import pose_of
from sleevewright.services.cut_told import CutTold
from sleevewright.services.decks import cut_of, is_deck_late
from sleevewright.services.jobs import look
from sleevewright.services.port_maps import map_of
from sleevewright.services.ring_limits_told import kind_of
from sleevewright.services.sealing import head_for_paper, sealed_words
from sleevewright.services.settings import shop_of_bench
from sleevewright.services.timing_told import NEW_DECK, has_new_deck
from sleevewright.sheets.before_after import Sheet, before_after_sheet

DAY = 10  # letters of a date
MATCHED_TO_FOUND = "ports matched to as found"
MATCHED, LOST = "target.matched", "grind.lost"
"""Answers that say what the ports were matched to, and what was not recovered."""


def before_after_paper(
    bench: Bench, number: str, cylinder: int = 1, *, is_sealed: bool = True
) -> bytes:
    """The ports before and after as a PDF; a bench that is only read puts no seal on it.

    Raises
    ------
    InputError
        If no map of the ports was told, or what was told contradicts itself.
    NotFound
        If there is no such job or cylinder.
    """
    seen = look(bench, number, cylinder)
    if seen.plan is None:
        raise InputError("job", number, "", "records that agree", seen.problem)
    told = CutTold(seen.living.job, seen.folded, cylinder, shop_of_bench(bench))
    compared = ports_before_after(seen.plan, told)
    opened = seen.folded.opened
    return before_after_sheet(
        compared.found,
        Sheet(
            job=number,
            title=str(opened.get("title", "")) or "without a name",
            cylinder=f"{cylinder} of {seen.folded.cylinders}",
            day=newest_day(bench, number),
            units=seen.plan.units,
            is_invented=bool(opened.get("invented")),
            matched=matched_words(seen.plan, told),
            lost=_text(seen.plan, LOST),
            is_posed=pose_of(seen.plan, told) is not None,
            lacking=compared.lacking,
            sharp=compared.sharp,
            cut=cut_of(told),
            is_deck_late=is_deck_late(told),
            faults=compared.faults,
            code=sealed_words(__version__, head_for_paper(bench)) if is_sealed else __version__,
        ),
    )


@dataclass(frozen=True)
class Compared:
    """The ports side by side, what is missing, and maps whose corners were not told."""

    found: BeforeAfter
    lacking: tuple[str, ...] = ()
    sharp: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()  # maps that cannot be, each with the reason


def ports_before_after(plan: Plan, told: CutTold) -> Compared:
    """The ports of every map that was told, the sleeve where it stands, and what is missing."""
    maps, lacking, sharp, faults = {}, [], [], []
    for key in (FOUND_MAP, SUPPLIED_MAP, LEFT_MAP):
        read = map_of(plan, told, key).read
        if read.map is not None:
            maps[key] = read.map
            fault = own_fault(read.map)
            faults += [f"{MAP_TITLES[key]}: {fault}"] if fault else []
            if any(port.shape and not any(port.shape.radii) for port in read.map.ports):
                sharp.append(MAP_TITLES[key])
        lacking += [*read.needs, *(f"{name}: {why}" for name, why in read.refused)]
    if not maps:
        raise InputError(
            "ports", "no map", "", "a map as found, of the sleeve, or as left",
            "Tell roof, floor and width of every port at As found first.",
        )  # fmt: skip
    pose = pose_of(plan, told)
    if pose is not None and SUPPLIED_MAP in maps:
        maps[SUPPLIED_MAP] = maps[SUPPLIED_MAP].turned(pose.turn, down=pose.down)
    names = {port.name for one in maps.values() for port in one.ports}
    kinds = {name: kind_of(told, name) for name in names}
    found = before_after(maps, kinds, crank_of(plan, told))
    return Compared(found, tuple(dict.fromkeys(lacking)), tuple(sharp), tuple(faults))


def crank_of(plan: Plan, told: CutTold) -> Crank | None:
    """What times the ports, as the plan knows it; nothing without stroke and rod.

    All maps count from the deck as the cylinder came, so the cut leaves their timing alone;
    what was taken off the base, or put under it, moves the ports as left.
    """
    known = {}
    for name in (ENGINE_STROKE.id, ENGINE_ROD.id, ENGINE_DECK.id, NEW_DECK):
        answer = known_in(plan, name)
        known[name] = None if answer is None else answer.value
    stroke, rod, deck, new = known.values()
    if not isinstance(stroke, float) or not isinstance(rod, float):
        return None
    left = new + cut_of(told) if isinstance(new, float) and has_new_deck(plan, told) else None
    skirt = told.length("found.skirt")
    return Crank(
        stroke,
        rod,
        deck if isinstance(deck, float) else 0.0,
        left,
        None if skirt is None else skirt.value,
    )


def matched_words(plan: Plan, told: CutTold) -> str:
    """What the ports were matched to: never more than what was told of it.

    Where no map was told that the ports are to become, they can only be matched to what was
    found.
    """
    said = _text(plan, MATCHED)
    if said:
        return said
    if map_of(plan, told, TARGET_MAP).told.ports:
        return "ports matched to the map that was chosen with the customer"
    return MATCHED_TO_FOUND


def newest_day(bench: Bench, number: str) -> str:
    """Day of the newest record of a job, so that the same records give the same sheet."""
    last = bench.store.last(number)
    records = bench.store.records(number, after=max(0, last - 1))
    return "" if not records else records[-1].received[:DAY]


def _text(plan: Plan, name: str) -> str:
    """Words of an answer; empty where the plan has none."""
    known = known_in(plan, name)
    return known.value if known is not None and isinstance(known.value, str) else ""
