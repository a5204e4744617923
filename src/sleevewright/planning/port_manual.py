"""A manual's degrees as the height of a roof, port by port, with the doubt of a printed degree."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from sleevewright.core.ports.manualdegrees import (
    opening_before_bottom,
    opening_before_true_bottom,
    opening_of_duration,
    opening_of_true_duration,
    roof_by_opening,
    roof_by_true_opening,
)
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_targets import (
    AFTER_TOP,
    AS_DURATION,
    AT_LIFT,
    BEFORE_BOTTOM,
    BY_MANUAL,
)
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, told_size
from sleevewright.planning.gauges import slug
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.port_sources import Offer
from sleevewright.planning.port_timing import PIN_DOUBT
from sleevewright.planning.ports import ENGINE_DECK, ENGINE_ROD, ENGINE_STROKE

Q = Quantity
PIN = Line("manual.pin_offset", "Pin off the axis of the crank", Q.SIZE, is_detail=True,
           of="taken into the heights by the manual")  # fmt: skip
"""The pin as it was told at As found; not entered where nothing was told."""
_DECIMALS = re.compile(r"[.,](\d+)")


@dataclass(frozen=True)
class ManualTold:
    """What a manual prints of one port, and how it counts."""

    opens: Entry
    counted: str = ""
    at: str = ""
    lift: Entry | None = None
    name: str = ""
    pin: Entry | None = None  # off the axis of the crank, as told at As found


@dataclass(frozen=True)
class ManualRoof:
    """The opening that a manual comes to, and the name of the height in the ledger."""

    opens: float  # after top dead centre [rad]
    identity: str
    words: str
    origin: str


def printed_half(text: str) -> float:
    """Half of the last digit that was printed, in radians: half a degree of a whole one.

    Examples
    --------
    >>> [round(math.degrees(printed_half(one)), 6) for one in ("116 deg", "84.5")]
    [0.5, 0.05]
    """
    found = _DECIMALS.search(text)
    return math.radians(0.5 * 10.0 ** -(len(found[1]) if found else 0))


def manual_openings(
    told: Mapping[str, ManualTold | None], crank: Mapping[str, float] | None = None
) -> dict[str, float]:
    """Opening after top dead centre of every port of which the manual tells one, in radians.

    ``crank`` are stroke, rod and pin offset where the pin stands off the axis.
    """
    known = {name: one for name, one in told.items() if one is not None}
    found = {}
    for name, one in known.items():
        try:
            opens = _opening(one, crank)
        except SleevewrightError:  # what is printed can be no opening at all
            continue
        if 0.0 < opens < math.pi:
            found[name] = opens
    return found


def _opening(told: ManualTold, crank: Mapping[str, float] | None) -> float:
    """The opening that a printed figure means."""
    printed = told.opens.value
    if told.counted == AS_DURATION and crank is not None:
        return float(opening_of_true_duration(open_for=printed, **crank))
    if told.counted == AS_DURATION:
        return float(opening_of_duration(printed))
    if told.counted == BEFORE_BOTTOM and crank is not None:
        return float(opening_before_true_bottom(before_bottom=printed, **crank))
    return float(opening_before_bottom(printed)) if told.counted == BEFORE_BOTTOM else printed


def enter_pin(ledger: Ledger, pin: Entry | None) -> None:
    """Enter how far the pin stands off the axis, where that was told."""
    if pin is not None:
        ledger.fact(PIN, told_size(pin, doubt=PIN_DOUBT, need="pin offset"))


def enter_manuals(
    ledger: Ledger, plan: Plan, told: Mapping[str, ManualTold | None]
) -> dict[str, ManualRoof]:
    """Enter the height of every port of which the manual tells something, each figure once.

    A pin that a figure was told with is entered before: see :func:`enter_pin`.
    """
    known = {name: one for name, one in told.items() if one is not None}
    if not known:
        return {}
    for line in (ENGINE_DECK, ENGINE_STROKE, ENGINE_ROD):
        from_plan(ledger, plan, line.id, need=line.label.lower())
    made: dict[str, ManualRoof] = {}
    figures: dict[str, ManualRoof] = {}
    for name, one in known.items():
        try:
            made[name] = figures.get(one.opens.text) or _enter(ledger, name, one)
        except SleevewrightError as refused:
            ledger.advise(f"{name.capitalize()}, by the manual: {refused}")
            continue
        figures[one.opens.text] = made[name]
    return made


def _enter(ledger: Ledger, name: str, told: ManualTold) -> ManualRoof:
    """Enter one figure: what is printed, the opening it means, the height it comes to."""
    key, label = f"manual.{slug(name)}", f"{name.capitalize()}, by the manual"
    printed = Line(f"{key}.printed", f"{label}, as printed", Q.ANGLE,
                   of=told.counted or AFTER_TOP, is_detail=True)  # fmt: skip
    standard = printed_half(told.opens.text) / math.sqrt(3.0)
    source = told.name or "the manual"
    ledger.fact(
        printed,
        Given(told.opens.value, Kind.TYPED, source, told.opens.text, standard,
              shape=Shape.RECTANGULAR),
    )  # fmt: skip
    inputs = {
        "opens": _enter_opening(ledger, printed, told),
        "deck_clearance": ENGINE_DECK.id,
        "stroke": ENGINE_STROKE.id,
        "rod": ENGINE_ROD.id,
    }
    if told.at == AT_LIFT:
        lift = Line(f"{key}.lift", f"{label}, open by then", Q.SIZE, is_detail=True)
        ledger.fact(lift, told_size(told.lift, doubt=0.0, need="lift at which the manual counts"))
        inputs["lift"] = lift.id
    roof = Line(f"{key}.roof", f"{label}, roof", Q.SIZE, "axial", is_detail=True,
                of="down from the deck; in it half of the last printed digit")  # fmt: skip
    if told.pin is None:
        ledger.compute(roof, roof_by_opening, **inputs)
    else:
        ledger.compute(roof, roof_by_true_opening, pin_offset=PIN.id, **inputs)
    words = f"{source}, {told.opens.text} {told.counted or AFTER_TOP}"
    opens = float(ledger.value(inputs["opens"]))
    return ManualRoof(opens, roof.id, words, f"manual:{told.opens.text}")


def _enter_opening(ledger: Ledger, printed: Line, told: ManualTold) -> str:
    """Enter the opening that a printed figure means; the name of it."""
    if told.counted not in (AS_DURATION, BEFORE_BOTTOM):
        return printed.id
    line = Line(f"{printed.id}.opens", "opens, by the manual", Q.ANGLE, of=AFTER_TOP,
                is_detail=True)  # fmt: skip
    crank = {"stroke": ENGINE_STROKE.id, "rod": ENGINE_ROD.id, "pin_offset": PIN.id}
    is_duration = told.counted == AS_DURATION
    if told.pin is not None and is_duration:
        ledger.compute(line, opening_of_true_duration, open_for=printed.id, **crank)
    elif told.pin is not None:
        ledger.compute(line, opening_before_true_bottom, before_bottom=printed.id, **crank)
    elif is_duration:
        ledger.compute(line, opening_of_duration, open_for=printed.id)
    else:
        ledger.compute(line, opening_before_bottom, before_bottom=printed.id)
    return line.id


def manual_offer(ledger: Ledger, told: ManualRoof | None) -> Offer | None:
    """The roof that the manual comes to; nothing where the crank is not told."""
    if told is None or not ledger.has(told.identity):
        return None
    found = ledger.entry(told.identity).answer
    if not isinstance(found.value, float):
        return None
    standard = 0.0 if found.doubt is None else found.doubt.standard
    return Offer(BY_MANUAL, told.words, {"roof": (found.value, standard)}, origin=told.origin)
