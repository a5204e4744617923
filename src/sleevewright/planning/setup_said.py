"""What is said beside the figures of a set-up: how to move, and what a sweep cannot tell."""

from __future__ import annotations

import math

from sleevewright.core.metrology.harmonics import EVERY_FORM
from sleevewright.core.metrology.sweep import Sweep
from sleevewright.planning.answers import Verdict
from sleevewright.planning.ledger import Ledger
from sleevewright.units import shown

WHERE = {"top": "at the top", "bottom": "near the bottom"}
SEEN_SHARE = 0.9
"""What scatter adds to an offset is said where it is more than a tenth of it."""

HALF_ROUND = math.radians(179.0)


def say_sweeps(ledger: Ledger, found: dict[str, Sweep], units: str) -> None:
    """What stands against a sweep: repeats, reach, form, and which comes first."""
    for which, sweep in found.items():
        for text in words_on(sweep, WHERE[which]):
            ledger.advise(text)
        if sweep.offset_without < SEEN_SHARE * sweep.offset:
            ledger.advise(
                f"Swept {WHERE[which]}: scatter makes an offset look larger, never smaller. Less "
                f"what it adds it is {_figure(sweep.offset_without, units, 'deviation')}."
            )
    tilt = ledger.entry("setup.tilt").answer.judgement
    if tilt is not None and tilt.verdict is not Verdict.GOOD:
        ledger.advise(
            "Shim first, clamp, and sweep again: a shim moves the bore sideways too. The table "
            "comes last."
        )


def words_on(sweep: Sweep, where: str) -> tuple[str, ...]:
    """What stands against a sweep, a sentence each: repeats, reach, form, too few places."""
    found = []
    if sweep.repeats:
        found.append(
            f"{sweep.repeats} of its readings stand where another does; they count as repeats, "
            "not as places of their own. What differs there is scatter and widens the doubt: "
            "a place that is read a few times more tells it better."
        )
    if sweep.reach < HALF_ROUND:
        found.append(
            f"the readings reach over {math.degrees(sweep.reach):.0f}° only. The move has the "
            "doubt of that, and an oval would look like an offset: read the rest too."
        )
    if sweep.is_rough:
        found.append(
            "the readings do not lie on a round bore by more than the indicator explains. An oval "
            "bore, a loose indicator or dirt: sweep eight places to tell."
        )
    if sweep.is_three_lobed:
        found.append("three lobes stand out. A gauge with two points does not see them.")
    elif sweep.places < EVERY_FORM:
        found.append(
            f"at {sweep.places} places three lobes would look like an offset. Six places tell "
            "them apart, eight show them."
        )
    return tuple(f"Swept {where}: {text}" for text in found)


def say_travel(ledger: Ledger, units: str) -> None:
    """The dial numbers, with the lost motion taken up."""
    for axis in ("x", "y"):
        if ledger.has(f"setup.to_{axis}"):
            ledger.advise(_dial_words(ledger, axis, units))


def _dial_words(ledger: Ledger, axis: str, units: str) -> str:
    name, screw = axis.upper(), ledger.value("setup.screw")
    now, to = (_figure(ledger.value(f"setup.{one}_{axis}"), units) for one in ("dial", "to"))
    if now == to:
        return f"{name} stays: what is left of its move is less than its dial shows."
    counting = "counting up" if screw.counts_up else "counting down"
    if math.isnan(ledger.value(f"setup.past_{axis}")):
        return f"{name}: from {now} straight to {to}, {counting}."
    past = _figure(ledger.value(f"setup.past_{axis}"), units)
    return f"{name}: from {now} turn back to {past}, past its number, then {counting} to {to}."


def _figure(value: float, units: str, quantity: str = "dial reading") -> str:
    """A dial number, or a small length, with its unit."""
    figures = shown(value, quantity=quantity, system=units)
    return f"{figures.figure} {figures.unit}"
