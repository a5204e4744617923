"""Use case: a map of ports on paper at true size, and the scale of the flange's rim.

Texts come in as they were typed, for a page and for a command alike; what was typed wrong is
refused with the name of its field.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.seams import refuse_cut_port, widest_seam
from sleevewright.core.ports.wrap import (
    THICKEST,
    THINNEST,
    Wrap,
    bar_correction,
    paper_of_eight,
    refuse_unequal,
)
from sleevewright.errors import InputError
from sleevewright.jobs.catalog_maps import (
    CAST_MAP,
    FOUND_MAP,
    LEFT_MAP,
    MAP_TITLES,
    SUPPLIED_MAP,
    TARGET_MAP,
)
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import known_in
from sleevewright.planning.map_stops import own_fault
from sleevewright.planning.shown import shown_answer
from sleevewright.planning.wrapping import (
    FLANGE_OD,
    LENGTH,
    PAPER,
    WALL,
    WrapTold,
    number_of,
    paper_of,
    wrapping,
)
from sleevewright.services.clock_told import (
    ClockedPose,
    placed_words,
    pose_of,
    stop_told,
    unposed_words,
)
from sleevewright.services.cut_told import CutTold
from sleevewright.services.decks import cut_of
from sleevewright.services.port_maps import CylinderMap, datum_below_deck, map_of, target_of
from sleevewright.sheets.rim_scale import Rim
from sleevewright.sheets.wrap_sheets import Titled, paper_named
from sleevewright.sheets.wrap_strip import MarkedAngle, Wrapped
from sleevewright.units import Dimension, parse

GRIND = "grind"
PRINTED = {
    TARGET_MAP: "Ports to be",
    FOUND_MAP: "Ports as found",
    SUPPLIED_MAP: "Sleeve as supplied",
    CAST_MAP: "Windows of the casting",
    LEFT_MAP: "Ports as left",
    GRIND: "What to grind: ports to be over the sleeve",
}
"""Maps that can be printed, and what they are called on paper."""

VIEWS = ("inside", "outside")
GRINDING = (
    "Grinding: eyes, lungs and ears covered; iron and aluminium dust apart; never into a bore "
    "whose sleeve is not masked."
)
MARK_OF_CYLINDER = "the sleeve's datum comes here"
MARK_OF_SLEEVE = "comes to the datum on the deck"
LONGEST = 0.1  # m, of a bar
BAR_DOWNS = (0.1, 0.05)
MOST = 1.0  # m, of any length that is typed here

EIGHT_WORDS = "Fold it to eight layers, measure those by a micrometer and divide by eight."
WHOLE_WORDS = "Print it at 100 %, without fitting it to the page, and measure again."
LIMITS = {
    "thickness": (THINNEST, THICKEST, EIGHT_WORDS),
    "eight": (8 * THINNEST, 8 * THICKEST, EIGHT_WORDS),
    "bar_across": (0.097, 0.103, WHOLE_WORDS),
    "bar_down": (0.0485, 0.103, WHOLE_WORDS),
}
"""Least and most of each length, in metres, and what to do beyond."""


@dataclass(frozen=True)
class Wanted:
    """Which cylinder of which job is printed."""

    number: str
    is_invented: bool


@dataclass(frozen=True)
class MadeWrap:
    """Everything of a wrap: what is drawn, what is said, on which paper."""

    wrapped: Wrapped
    titled: Titled
    paper: str
    stage: StageAnswers
    words: tuple[str, ...] = ()


def wrap_of(plan: Plan, told: CutTold, wanted: Wanted, texts: Mapping[str, str]) -> MadeWrap:
    """The wrap that is asked for.

    Parameters
    ----------
    plan : Plan
        The plan of the job with everything beside it.
    told : CutTold
        What was told of the cylinder.
    wanted : Wanted
        Whose sheet it is.
    texts : Mapping[str, str]
        ``map``, ``view``, ``paper``, ``thickness``, ``eight``, ``seam``, ``wall``, ``bar_across``,
        ``bar_down``; what is empty is as usual.

    Raises
    ------
    InputError
        If something was typed that cannot be, or the map was not told yet.
    """
    key, is_outside = _chosen(texts)
    ports, words = _map(plan, told, key)
    wall, source = _wall(plan, ports, texts, is_outside=is_outside)
    stage = wrapping(plan, WrapTold(wall, source, is_outside, *_paper(texts)))
    thick = paper_of(stage)
    across, down = corrections(texts)
    wrap = Wrap(wall, thick, _seam(ports, texts), is_outside, across, down)
    pose = pose_of(plan, told)
    turn, more = _turn(plan, told, pose)
    beneath, said = _beneath(plan, told, key, pose)
    marks = () if turn is None else (_mark(key, turn),)
    wrapped = Wrapped(ports, wrap, _datum(told, key), marks, beneath)
    name = paper_named_or_first(texts)
    titled = _titled(plan, stage, wanted, key)
    notes = (*words, *((GRINDING,) if key == GRIND else ()))
    made = MadeWrap(wrapped, replace(titled, notes=notes), name, stage)
    return replace(made, words=(*words, *said, *more))


def paper_named_or_first(texts: Mapping[str, str]) -> str:
    """The paper that was chosen; A4 where none was."""
    name = texts.get("paper", "").strip().lower() or "a4"
    paper_named(name)
    return name


NEW_DECK = "Depths count from the deck as it is now, after the cut."
"""What a sheet says that is laid against a deck that was cut."""


def _chosen(texts: Mapping[str, str]) -> tuple[str, bool]:
    """Which map, and whether it is laid round the outside."""
    key, view = texts.get("map", "") or TARGET_MAP, texts.get("view", "") or VIEWS[0]
    if key not in PRINTED:
        raise InputError("map", key, "", ", ".join(PRINTED))
    if view not in VIEWS:
        raise InputError("view", view, "", " or ".join(VIEWS))
    return key, view == VIEWS[1]


def _map(plan: Plan, told: CutTold, key: str) -> tuple[PortMap, tuple[str, ...]]:
    """The map that is scribed, its depths from its own datum, and what it lacks."""
    if key in (TARGET_MAP, GRIND):
        ports = target_of(plan, told)
        reads = [map_of(plan, told, one).read for one in (TARGET_MAP, FOUND_MAP)]
        lacking = tuple(dict.fromkeys(need for read in reads for need in read.needs))
        refused = tuple(one for read in reads for one in read.refused)
    else:
        found: CylinderMap = map_of(plan, told, key)
        ports, lacking, refused = found.read.map, found.read.needs, found.read.refused
        down = datum_below_deck(plan, told, found.told) or 0.0
        if ports is not None and down:
            ports = replace(ports.turned(0.0, down=-down), is_placed=ports.is_placed)
    if ports is None:
        shown = "; ".join((*lacking, *(why for _, why in refused))) or "nothing told"
        hint = "Tell its ports at the stage where they are measured."
        raise InputError(f"map {MAP_TITLES.get(key, key)}", shown, "", "a map with ports", hint)
    cut = 0.0 if key == SUPPLIED_MAP else cut_of(told)
    fault = own_fault(ports)
    words = [f"Scribe nothing by this sheet: {fault}."] if fault else []
    if cut:
        ports = replace(ports.turned(0.0, down=-cut), is_placed=ports.is_placed)
        words.append(NEW_DECK)
    words += [f"Not on the sheet, {need} is missing." for need in lacking]
    words += [f"Not on the sheet, {name}: {why}" for name, why in refused]
    return ports, tuple(words)


def _datum(told: CutTold, key: str) -> str:
    """What the depths of a map count from, as it stands on the sheet."""
    if key != SUPPLIED_MAP:
        return "deck"
    return told.text("ports.supplied.datum").removeprefix("the ") or "deck"


def _wall(
    plan: Plan, ports: PortMap, texts: Mapping[str, str], *, is_outside: bool
) -> tuple[float, str]:
    """The wall that the paper lies against and where its size is from."""
    typed = _length(texts, "wall", "wall of the paper")
    if typed is not None:
        return typed, "this sheet"
    if not is_outside:
        return ports.diameter, "the map"
    known = known_in(plan, "sleeve.od")
    if known is None or not isinstance(known.value, float):
        hint = "Measure the sleeve outside, or type the wall that the paper goes round."
        raise InputError("wall", "not known", "", "the outside of the sleeve", hint)
    return known.value, known.source or "the plan"


def _paper(texts: Mapping[str, str]) -> tuple[float | None, str]:
    """Thickness of the paper and how it was typed; by eight layers where those were measured."""
    paper = _length(texts, "thickness", "thickness of the paper")
    eight = _length(texts, "eight", "eight layers")
    if paper is not None and eight is not None:
        said = "both are typed"
        raise InputError("thickness of the paper", said, "", "one sheet or eight layers")
    if eight is None:
        return paper, texts.get("thickness", "").strip()
    return paper_of_eight(layers=eight), f"{texts['eight'].strip()} by eight"


def _seam(ports: PortMap, texts: Mapping[str, str]) -> float:
    """Where the ends of the paper meet: as told, else midway in the widest blank."""
    text = texts.get("seam", "").strip()
    if not text:
        return widest_seam(ports)
    seam = parse(text, field="seam", dimension=Dimension.ANGLE, unit="deg").value
    widest_seam(ports)
    refuse_cut_port(ports, seam=seam)
    return seam


def corrections(texts: Mapping[str, str]) -> tuple[float, float]:
    """What the printer is put right by, from both measured bars; nothing where none was told.

    Raises
    ------
    InputError
        If one bar is missing, one is off by more than 3 %, or the two are unequal.
    """
    across = _length(texts, "bar_across", "measured bar across")
    down = _length(texts, "bar_down", "measured bar down")
    if across is None and down is None:
        return 1.0, 1.0
    if across is None or down is None:
        lacking = "measured bar across" if across is None else "measured bar down"
        hint = "A printer is off by two different shares: measure both bars of one sheet."
        raise InputError(lacking, "not told", "", "a length for both bars", hint)
    tall = min(BAR_DOWNS, key=lambda one: abs(one - down))
    found = bar_correction(bar=LONGEST, measured=across), bar_correction(bar=tall, measured=down)
    refuse_unequal(across=found[0], down=found[1])
    return found


def _length(texts: Mapping[str, str], name: str, field: str) -> float | None:
    """A length that was typed; a bare number is in mm."""
    text = texts.get(name, "").strip()
    if not text:
        return None
    found = parse(text, field=field, dimension=Dimension.LENGTH, unit="mm").value
    low, high, hint = LIMITS.get(name, (0.0, MOST, ""))
    if not low <= found <= high:
        allowed = f"{low * 1e3:g} to {high * 1e3:g} mm"
        raise InputError(field, round(found * 1e3, 4), "mm", allowed, hint)
    return found


def _turn(
    plan: Plan, told: CutTold, pose: ClockedPose | None
) -> tuple[float | None, tuple[str, ...]]:
    """How far the sleeve stands from its mark: as set, before that as planned."""
    if pose is not None:
        return pose.turn, ()
    lacking = unposed_words(plan, told)
    why = f"No clocking is known yet, wanted {lacking}" if lacking else "No clocking is known yet"
    return None, (f"{why}: no scribe mark is drawn.",)


def _mark(key: str, turn: float) -> MarkedAngle:
    """The scribe mark: on the sleeve's own map the other way, since it is the sleeve that turns."""
    if key == SUPPLIED_MAP:
        return MarkedAngle(-turn, MARK_OF_SLEEVE)
    return MarkedAngle(turn, MARK_OF_CYLINDER)


def _beneath(
    plan: Plan, told: CutTold, key: str, pose: ClockedPose | None
) -> tuple[PortMap | None, tuple[str, ...]]:
    """The sleeve under the ports that are wanted, turned to where it stands."""
    if key != GRIND:
        return None, ()
    sleeve = map_of(plan, told, SUPPLIED_MAP).read.map
    if sleeve is None:
        hint = "Tell its ports at Sleeve in hand."
        raise InputError("map sleeve as supplied", "nothing told", "", "a map with ports", hint)
    stopped = stop_told(target_of(plan, told), sleeve)
    if stopped:
        allowed = "two maps that can be laid over each other"
        raise InputError("maps of what to grind", "not alike", "", allowed, f"Here {stopped}.")
    sleeve = replace(sleeve.turned(0.0, down=-cut_of(told)), is_placed=sleeve.is_placed)
    if pose is None:
        return sleeve, ("The sleeve is drawn as it came, not turned.",)
    turned = f"{math.degrees(pose.turn):+.2f}°, clockwise from the deck"
    said = f"The sleeve is drawn turned by {turned}, {placed_words(pose)}."
    return sleeve.turned(pose.turn, down=pose.down), (said,)


def _titled(plan: Plan, stage: StageAnswers, wanted: Wanted, key: str) -> Titled:
    """The words at the top of the sheet; its figures are those of the page."""

    def said(identity: str) -> str:
        shown = shown_answer(number_of(stage, identity), system=plan.units)
        return f"{shown.figure} {shown.unit}"

    facts = (
        f"Wall {said(WALL.id)}, paper {said(PAPER.id)}, flat length {said(LENGTH.id)}. "
        "Solid: to scribe."
    )
    if key == GRIND:
        facts = f"{facts} Dashed: the sleeve. Hatched: to grind."
    return Titled(f"{PRINTED[key]}, job {wanted.number}", facts, wanted.is_invented)


def rim_of(plan: Plan, wanted: Wanted, texts: Mapping[str, str]) -> tuple[Rim, Titled]:
    """The scale of the flange's rim.

    Raises
    ------
    InputError
        If the flange was not measured.
    """
    known = known_in(plan, FLANGE_OD)
    if known is None or not isinstance(known.value, float):
        hint = "Measure the flange at Sleeve in hand."
        raise InputError("diameter of the flange", "not known", "", "a measured flange", hint)
    told = WrapTold(known.value, "the plan", True, *_paper(texts))
    stage = wrapping(plan, told)
    across, down = corrections(texts)
    thick = paper_of(stage)
    # The scale is for scribing before the drop: it keeps to the order, not to how it came out.
    ordered = known_in(plan, "clock.turn")
    turn = ordered.value if ordered is not None and isinstance(ordered.value, float) else None
    rim = Rim(known.value, thick, turn, plan.units, across, down)
    shown = shown_answer(known, system=plan.units)
    facts = f"Flange {shown.figure} {shown.unit} outside. The rose lies flat on it."
    return rim, Titled(f"Scale of the rim, job {wanted.number}", facts, wanted.is_invented)
