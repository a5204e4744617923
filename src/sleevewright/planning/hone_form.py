"""How the hone travels and where it dwells: stroke, overrun, ports, taper by depth.  Axial."""

from __future__ import annotations

from sleevewright.core.cutting.hone_dwell import dwell_plan, dwell_words
from sleevewright.core.cutting.hone_stroke import (
    TIPS,
    hone_stroke,
    overrun_for,
    port_bridging,
)
from sleevewright.core.metrology.profile import Profile
from sleevewright.errors import InputError
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.facts import given
from sleevewright.planning.hone_told import FIT, PISTON, HoneTold
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.units import shown

Q = Quantity
PROFILES = {FIT: "bore.profile", PISTON: "finish.as_gauged.profile"}
LEAST_BELOW = 0.25
"""Share of the stone that must find room below a bore's bottom end, a quarter at least."""


def enter_travel(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter the overrun at both ends, the stroke that gives it, and what stones do at ports."""
    _enter_length(ledger, told)
    stone = Line(told.named("stone"), "Stones, long", Q.SIZE, "axial", is_detail=True)
    ledger.fact(stone, given(told.stone, need="length of the stones"))
    _enter_overruns(ledger, plan, told)
    line = Line(told.named("stroke_wanted"), "Stroke of the hone", Q.SIZE, "axial",
                of="between its turning points, so that the stones overrun both ends")  # fmt: skip
    ends = {f"overrun_{end}": told.named(f"overrun_{end}") for end in ("top", "bottom")}
    try:
        _refuse(plan, told)
        ledger.compute(line, hone_stroke, bore_length=told.named("length"),
                       stone_length=stone.id, **ends)  # fmt: skip
    except InputError as refused:
        ledger.fact(line, Given(None, Kind.COMPUTED, need=str(refused)))
        ledger.advise(str(refused))
    _enter_ports(ledger, plan, told)


def _enter_length(ledger: Ledger, told: HoneTold) -> None:
    """Enter the length that is honed: of the sleeve, or of the contact in the casting."""
    ends = (told.sleeve, told.casting) if told.key == PISTON else (told.casting, told.sleeve)
    length = next((one.length for one in ends if one.length is not None), None)
    line = Line(told.named("length"), "Bore, long", Q.SIZE, "axial", is_detail=True)
    ledger.fact(line, given(length, need="length of the sleeve"))


def _enter_overruns(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter how far the stones stand out at top and bottom: told, else the usual share."""
    share = ledger.default("hone_overrun")
    line = Line(told.named("overrun_share"), "share of the stone out of an end", Q.RATIO,
                is_detail=True)  # fmt: skip
    ledger.fact(line, Given(share.value, Kind.ASSUMED, share.source, share.note))
    top = Line(told.named("overrun_top"), "Overrun at the top", Q.SIZE, "axial",
               of="of the stones, at the turning point; a quarter to a third of them")  # fmt: skip
    bottom = Line(told.named("overrun_bottom"), "Overrun at the bottom", Q.SIZE, "axial",
                  of="of the stones, at the turning point")  # fmt: skip
    if told.overrun is not None:
        ledger.fact(top, given(told.overrun, need="overrun"))
    else:
        ledger.compute(top, overrun_for, stone_length=told.named("stone"), share=line.id)
    room, wanted = told.room_below, ledger.value(top.id)
    if room is None or wanted is None or room.value >= wanted:
        fact = Given(wanted, Kind.COMPUTED, "derived", need="length of the stones")
        ledger.fact(bottom, fact)
        return
    ledger.fact(bottom, given(room, need="room below the bore"))
    if told.stone is not None and room.value < LEAST_BELOW * told.stone.value:
        ledger.advise(
            f"Below the bore there is room for {_said(plan, room.value)}, and the stones want "
            f"{_said(plan, LEAST_BELOW * told.stone.value)} or more: the bottom is left tight. "
            "Shorter stones, or dwell there with short strokes."
        )


def _refuse(plan: Plan, told: HoneTold) -> None:
    """Refuse stones and overruns that cannot be, in the units of the job."""
    if told.stone is None:
        return
    stone, half = told.stone, TIPS * told.stone.value
    length = told.sleeve.length if told.key == PISTON else told.casting.length
    length = length or told.sleeve.length or told.casting.length
    if length is not None and stone.value >= length.value:
        raise InputError(
            "length of the stones", stone.text, "",
            f"less than the bore, which is {_said(plan, length.value)} long",
            "A stone as long as the bore cannot travel in it: fit shorter stones.",
        )  # fmt: skip
    if told.overrun is not None and told.overrun.value > half:
        raise InputError(
            "overrun", told.overrun.text, "",
            f"half of the stones at most, {_said(plan, half)}",
            "With more of them out of the bore the hone tips and bells the end: a quarter to a "
            "third is usual.",
        )  # fmt: skip


def _said(plan: Plan, value: float) -> str:
    """A length in the units of the job."""
    return shown(value, quantity=Q.SIZE.value, system=plan.units).words


def _enter_ports(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter whether the stones bridge the tallest port."""
    if told.port is None or told.key != PISTON:
        return
    height = Line(told.named("port_height"), f"Tallest port, {told.port.name}", Q.SIZE, "axial",
                  is_detail=True)  # fmt: skip
    ledger.fact(height, Given(told.port.height, Kind.MEASURED, "the job"))
    least = ledger.default("hone_bridge_least").value
    judge = against_limit(least, "least", remedy="longer stones, or a hone that guides them")
    line = Line(told.named("bridging"), "Stones over the tallest port", Q.RATIO,
                of=f"{told.port.name}, {_said(plan, told.port.height)} high; short stones dip into "
                "it, long ones bridge it")  # fmt: skip
    ledger.compute(line, port_bridging, How(judge=judge, is_sampled=False),
                   stone_length=told.named("stone"), port_height=height.id)  # fmt: skip


def enter_dwell(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter where the bore is small by depth, and where to dwell; nothing without a grid."""
    known = next((one for one in plan.answers() if one.id == PROFILES[told.key]), None)
    if known is None or not isinstance(known.value, Profile):
        return
    ids = {name: told.named(name) for name in ("length", "stone")}
    overrun, rate = told.named("overrun_top"), told.named("rate")
    is_known = all(ledger.has(one) for one in (*ids.values(), overrun, rate))
    line = Line(
        told.named("dwell_says"),
        "Where to dwell",
        Q.TEXT,
        of="short strokes of half a stone, by the newest grid; a guide: gauge again",
    )
    if not is_known or not ledger.has(told.named("stroke_wanted")):
        needs = next((ledger.entry(one).answer.needs for one in
                      (*ids.values(), rate, told.named("stroke_wanted"))
                      if not ledger.has(one)), ("length of the stones",))  # fmt: skip
        ledger.fact(line, Given(None, Kind.COMPUTED, need=needs[0]))
        return
    shape = Line(known.id, known.label, Q.RECORD, is_detail=True)
    ledger.fact(shape, Given(known.value, Kind.MEASURED, "the readings"))
    dwell = Line(told.named("dwell"), "Bore by depth", Q.RECORD, is_detail=True)
    ledger.compute(
        dwell,
        dwell_plan,
        CENTRALLY,
        profile=shape.id,
        rate=rate,
        bore_length=ids["length"],
        stone_length=ids["stone"],
        overrun=overrun,
    )
    ledger.compute(line, dwell_words, CENTRALLY, dwell=dwell.id)
