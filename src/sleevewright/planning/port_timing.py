"""Stages As found and Ports: when every port opens, for how long, and what that has changed.

As found answers the map as the cylinder came.  Ports answers the ports as they are now beside
what they are to become: left where that was told, else the sleeve as it was supplied.  Every
length along a width is along the wall, depths are axial, angles are of the crank.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sleevewright.core.ports.area_doubt import angles_apart, share_changed
from sleevewright.core.ports.crank import offset_worth
from sleevewright.jobs.catalog_maps import PISTON_INLET
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, known_in, told_size
from sleevewright.planning.facing_told import in_units
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.gauges import slug
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.port_breathing import Breathing, enter_breathing
from sleevewright.planning.port_chamfer_timing import Chamfer, enter_chamfers
from sleevewright.planning.port_inlets import enter_inlets
from sleevewright.planning.port_timed import (
    PIN,
    ROD,
    STROKE,
    MapCurves,
    TimedMap,
    enter_map,
    enter_pairs,
    first_open,
    sum_id,
)

Q = Quantity
DRAWS = 1000
"""Draws behind these doubts: many answers on few inputs; a doubt is then known to 2 %."""

FOUND, NOW, WANTED = "found", "now", "wanted"
STAGES = {FOUND: ("found", "As found"), NOW: ("ports", "Ports")}
PIN_DOUBT = 1e-4
"""Half-width of what a pin's offset is worth as it is told: a tenth of a millimetre."""

UNEVEN = 0.0087266
"""Half a degree in radians: a pair that opens further apart than that is told of."""


@dataclass(frozen=True, eq=False)
class TimingTold:
    """What one stage answers on timing.

    Attributes
    ----------
    now : TimedMap
        The map as found, or as the ports are now.
    wanted : TimedMap | None
        What they are to become; nothing at As found.
    pin_offset : Entry | None
        Pin off the axis of the crank.
    breathing : Breathing
        Speed, volumes and passages.
    chamfers : Mapping[str, Chamfer]
        Chamfer of each port's roof.
    needs : tuple[str, ...]
        What is still missing of the maps, in words.
    refused : tuple[tuple[str, str], ...]
        Ports whose sizes cannot be, each with the reason.
    has_new_deck : bool
        Whether the deck was cut, so that what is now counts from another deck.
    said : tuple[str, ...]
        What else is to be known of the map, in sentences.
    """

    now: TimedMap
    wanted: TimedMap | None = None
    pin_offset: Entry | None = None
    breathing: Breathing = field(default_factory=Breathing)
    chamfers: Mapping[str, Chamfer] = field(default_factory=dict)
    needs: tuple[str, ...] = ()
    refused: tuple[tuple[str, str], ...] = ()
    has_new_deck: bool = False
    said: tuple[str, ...] = ()


def port_timing(plan: Plan, told: TimingTold) -> StageAnswers:
    """Timing and areas of one stage."""
    ledger = Ledger(count=DRAWS, seed=plan.seed, chosen=plan.chosen)
    _enter_crank(ledger, plan, told)
    now = told.now
    made = enter_map(ledger, now, is_detail=False)
    enter_pairs(ledger, now)
    enter_inlets(ledger, now, made)
    if told.wanted is not None:
        wanted = enter_map(ledger, told.wanted, is_detail=True)
        enter_inlets(ledger, told.wanted, wanted, is_detail=True)
        _enter_changes(ledger, now, told.wanted)
        _enter_curves(ledger, told.wanted, wanted)
    _enter_curves(ledger, now, made)
    _enter_offset(ledger, now, told)
    enter_chamfers(ledger, now, told.chamfers)
    enter_breathing(ledger, plan, now, made, told.breathing)
    _say(ledger, told, plan.units)
    key, title = STAGES[now.key]
    return beside(plan, key, title, ledger.result())


def _enter_crank(ledger: Ledger, plan: Plan, told: TimingTold) -> None:
    """Enter stroke, rod, pin and where the piston stands, before and after the deck was cut."""
    from_plan(ledger, plan, STROKE, need="stroke")
    from_plan(ledger, plan, ROD, need="rod, centre to centre")
    pin = Line(PIN, "Pin off the axis of the crank", Q.SIZE, is_detail=True)
    if told.pin_offset is None:
        ledger.fact(pin, Given(0.0, Kind.ASSUMED, "practice", "on the axis: nothing was told"))
    else:
        ledger.fact(pin, told_size(told.pin_offset, doubt=PIN_DOUBT, need="pin offset"))
    ledger.fact(
        Line("timing.deck", "Piston below the deck at top dead centre", Q.SIZE, "axial",
             is_detail=True),
        _deck(ledger, plan),
    )  # fmt: skip
    if told.has_new_deck:
        from_plan(ledger, plan, "face.deck_after", need="piston below the deck after the cut")


def _deck(ledger: Ledger, plan: Plan) -> Given:
    """The deck as the plan has it, with what a depth gauge is worth where it tells no doubt."""
    known = known_in(plan, "engine.deck")
    if known is None or not isinstance(known.value, float):
        return Given(None, Kind.TYPED, need="piston below the deck at top dead centre")
    gauge = ledger.default("depth_micrometer_setting").value / STATED_COVERAGE_FACTOR
    standard = gauge if known.doubt is None else known.doubt.standard
    return Given(known.value, known.kind, known.source or "the plan", known.typed, standard)


def _enter_changes(ledger: Ledger, now: TimedMap, wanted: TimedMap) -> None:
    """Enter what every port differs by from what it is to become, and the sums of all."""
    for port in now.ports:
        names = {
            what: (now.entry(port.name, what), wanted.entry(port.name, what))
            for what in ("opens", "area")
        }
        title = port.name.capitalize()
        own, other = names["opens"]
        if port.is_of_crown and ledger.has(own) and ledger.has(other):
            line = Line(f"timing.change.{slug(port.name)}.opens",
                        f"{title} opens later than it is to", Q.ANGLE,
                        of="of crank, and closes sooner by as much; minus: opens sooner, "
                                    "and no metal is put back")  # fmt: skip
            ledger.compute(line, angles_apart, later=own, sooner=other)
        _enter_longer(ledger, (now, wanted), port.name, port.kind)
        _enter_share(ledger, f"timing.change.{slug(port.name)}.area", f"{title}, angle-area",
                     names["area"])  # fmt: skip
    if not _are_same(ledger, now, wanted):
        return  # a sum of other windows is no comparison
    for what, title in (("exhausts", "Exhaust, angle-area in all"),
                        ("transfers", "All transfers, boost with them, angle-area")):  # fmt: skip
        pair = (sum_id(ledger, now, what), sum_id(ledger, wanted, what))
        _enter_share(ledger, f"timing.change.{what}", title, pair)
    blown = (f"timing.{now.key}.blowdown_area", f"timing.{wanted.key}.blowdown_area")
    _enter_share(ledger, "timing.change.blowdown", "Blowdown angle-area", blown)


def _enter_longer(ledger: Ledger, maps: tuple[TimedMap, TimedMap], name: str, kind: str) -> None:
    """Enter how much longer the skirt leaves an inlet open than it is to."""
    own, other = (one.entry(name, "lasts") for one in maps)
    if kind != PISTON_INLET or not (ledger.has(own) and ledger.has(other)):
        return
    line = Line(f"timing.change.{slug(name)}.lasts",
                f"{name.capitalize()} stays open longer than it is to", Q.ANGLE,
                of="of crank, by its floor: half of it before top dead centre; minus: shorter, "
                   "and there is metal to take")  # fmt: skip
    ledger.compute(line, angles_apart, later=own, sooner=other)


def _are_same(ledger: Ledger, now: TimedMap, wanted: TimedMap) -> bool:
    """Whether the areas of the same windows are known in both maps; else the sums differ."""
    known = [
        {port.name for port in one.ports if ledger.has(one.entry(port.name, "area"))}
        for one in (now, wanted)
    ]
    apart = sorted(known[0] ^ known[1])
    if apart:
        ledger.advise(
            f"Sums are not compared: the areas of {', '.join(apart)} are known in one map alone."
        )
    return not apart


def _enter_share(ledger: Ledger, identity: str, label: str, pair: tuple[str, str]) -> None:
    """Enter how much more there is now than wanted, in per cent."""
    if not all(name and ledger.has(name) for name in pair):
        return
    line = Line(identity, label, Q.CHANGE, of="more than it is to be; minus: less")
    ledger.compute(line, share_changed, former_area=pair[1], present_area=pair[0])


def _enter_curves(ledger: Ledger, one: TimedMap, made: MapCurves | None) -> None:
    """Enter the open areas over the turn, for the picture."""
    if made is None:
        return
    line = Line(f"timing.{one.key}.curves", f"Open areas, {one.title}", Q.RECORD, is_detail=True)
    ledger.fact(line, Given(made.curves, Kind.COMPUTED, "derived"))


def _enter_offset(ledger: Ledger, now: TimedMap, told: TimingTold) -> None:
    """Enter what the pin's offset moves: the plan's own figures leave it out."""
    first = first_open(ledger, now, is_exhaust=True) or first_open(ledger, now, is_exhaust=False)
    if told.pin_offset is None or first is None:
        return
    ledger.compute(
        Line(f"timing.{now.key}.offset_worth", "Pin off the axis moves an opening by", Q.ANGLE,
             of=f"of crank, at {first.name}; left out of the plan's own figures and of Face's, "
                "taken into all of these; a duration it hardly moves"),
        offset_worth,
        CENTRALLY,
        edge_depth=now.entry(first.name, "roof"),
        deck_clearance=now.deck,
        stroke=STROKE,
        rod=ROD,
        pin_offset=PIN,
    )  # fmt: skip


def _say(ledger: Ledger, told: TimingTold, units: str) -> None:
    """Say what is missing, and which side of a pair is late."""
    for text in told.said:
        ledger.advise(text)
    for need in told.needs:
        ledger.advise(f"For the timing, still to tell: {need}.")
    for name, reason in told.refused:
        why = in_units(reason, units)
        code = f"timing.refused:timing.{told.now.key}.{name}"
        text = f"{name.capitalize()}: not timed, its sizes cannot be. {why}"
        ledger.caution(code, text, "derived")
    now = told.now
    reeds = [port.name for port in now.ports if port.kind == "inlet, behind a reed"]
    for name in reeds:
        ledger.advise(
            f"{name.capitalize()}: behind a reed, the pressure opens it and not the piston. "
            "Its window has no timing of its own; make sure that the skirt leaves it free."
        )
    for entry in ledger.result().entries:
        answer = entry.answer
        is_pair = answer.id.startswith(f"timing.{now.key}.pair.")
        if is_pair and isinstance(answer.value, float) and abs(answer.value) > UNEVEN:
            ledger.advise(
                f"{answer.label} by more than half a degree: one side of the loop starts before "
                "the other. Read both roofs again before anything is cut."
            )
