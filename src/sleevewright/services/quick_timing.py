"""Quick question at the degree wheel: when ports open, for how long, and what they let through.

One roof is enough.  With those of the transfers it says the blowdown, with a width and a floor
the area and, with a speed, the specific time-area by the swept volume of one cylinder.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from sleevewright.core.engine.crank import port_duration, port_opens
from sleevewright.core.ports.crank import Crank, offset_worth
from sleevewright.core.ports.crank_offset import lasts_below, passes_down, passes_up
from sleevewright.errors import InputError
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import (
    QuickInput,
    Typed,
    by_default,
    needed,
    optional,
    read_words,
)
from sleevewright.units import Dimension, parse

MOST_ROOFS = 12
TIMING_INPUTS = (
    *needed("stroke", "rod"),
    QuickInput("depth", said=("Roof of the port below the deck; or exhaust=.", "1.450in")),
    by_default("deck", "deck_clearance"),
    QuickInput("offset", is_needed=False, said=(
        "Pin off the axis of the crank, plus to the side on which the crankpin goes down.",
        "1.0mm")),
    QuickInput("exhaust", is_needed=False, said=("Roof of the exhaust below the deck.",
                                                 "37.5mm")),
    QuickInput("transfer", is_needed=False, said=(
        "Roofs of the transfers below the deck, with a comma between two; gives the blowdown.",
        "56.0mm,58.2mm")),
    QuickInput("width", is_needed=False, said=("Width of the port by caliper, its chord.",
                                               "42mm")),
    QuickInput("floor", is_needed=False, said=("Floor of the port below the deck.", "72mm")),
    *optional("bore"),
    QuickInput("rpm", is_needed=False, said=("Speed for the time-area.", "8000rpm")),
)  # fmt: skip
_FASTEST, _SLOWEST = 500.0, 5.0  # turns by the second
_MOST_OFF = 0.010


@dataclass(frozen=True)
class _Roof:
    """One roof: beginning of its keys, its name, its depth, and the word it was typed in."""

    key: str
    title: str
    depth: float
    field: str
    text: str


def quick_timing(words: Iterable[str]) -> QuickAnswer:
    """When ports open and how long they stay open; blowdown and areas as far as they are told."""
    typed = read_words("timing", TIMING_INPUTS, _with_depth(words))
    crank = _crank(typed)
    roofs = _roofs(typed)
    for roof in roofs:
        _believe(roof, crank, typed)
    lines = [line for roof in roofs for line in _timing(roof, crank)]
    lines += _blowdown(roofs, crank)
    if "width" in typed.words or "floor" in typed.words:
        from sleevewright.services.quick_areas import area_lines  # loads what a roof needs not

        lines += area_lines(typed, crank, roofs[0].depth, speed=_speed(typed), until=_first(roofs))
    elif "rpm" in typed.words or "bore" in typed.words:
        told = "rpm" if "rpm" in typed.words else "bore"
        hint = "A time-area needs the port's size."
        raise InputError(told, typed.text(told), "", "with width= and floor=", hint)
    return QuickAnswer("timing", typed, tuple(lines))


def _with_depth(words: Iterable[str]) -> tuple[str, ...]:
    """The words, with the exhaust's roof standing for the depth where that is not told."""
    told = tuple(words)
    names = {word.partition("=")[0].strip() for word in told}
    if "exhaust" not in names or "depth" in names:
        return told
    value = next(w.partition("=")[2] for w in told if w.partition("=")[0].strip() == "exhaust")
    return (*told, f"depth={value}")


def _crank(typed: Typed) -> Crank:
    """The crank, believed."""
    stroke, rod, deck = (typed.value(name) for name in ("stroke", "rod", "deck"))
    typed.value("depth")
    if rod <= 0.75 * stroke:
        allowed = f"more than three quarters of the stroke, {typed.text('stroke')}"
        raise InputError("rod", typed.text("rod"), "", allowed, "Were rod and stroke swapped?")
    off = 0.0
    if "offset" in typed.words:
        off = _length(typed.words["offset"], "offset")
        if abs(off) > _MOST_OFF:
            raise InputError("offset", typed.words["offset"], "", "-10 to 10 mm",
                             "A pin is mostly 0 to 2 mm off.")  # fmt: skip
    return Crank(stroke, rod, deck, off)


def _length(text: str, name: str) -> float:
    """A length that was typed in words of this topic alone."""
    return parse(text, field=name, dimension=Dimension.LENGTH).value


def _roofs(typed: Typed) -> tuple[_Roof, ...]:
    """The roofs that were told: the port's or the exhaust's first, then the transfers'."""
    exhaust = typed.words.get("exhaust")
    depth = typed.words["depth"]
    found = []
    if exhaust is None or exhaust != depth:
        found.append(_Roof("", "", typed.value("depth"), "depth", depth))
    if exhaust is not None:
        both = bool(found)
        found.insert(0, _Roof("exhaust_" if both else "", "Exhaust", _length(exhaust, "exhaust"),
                              "exhaust", exhaust))  # fmt: skip
    transfers = [one for one in typed.words.get("transfer", "").split(",") if one.strip()]
    if len(transfers) > MOST_ROOFS:
        raise InputError("transfer", str(len(transfers)), "roofs", f"at most {MOST_ROOFS}")
    for number, text in enumerate(transfers, start=1):
        several = f" {number}" if len(transfers) > 1 else ""
        key = f"transfer_{number}_" if several else "transfer_"
        found.append(_Roof(key, f"Transfer{several}", _length(text, "transfer"), "transfer", text))
    return tuple(found)


def _believe(roof: _Roof, crank: Crank, typed: Typed) -> None:
    """Refuse a roof that the piston never passes."""
    if not 0.0 < roof.depth - crank.deck_clearance < crank.stroke:
        allowed = f"more than the deck, {typed.text('deck')}, and less than deck and stroke"
        hint = "Is it the roof's depth below the deck?"
        raise InputError(roof.field, roof.text.strip(), "", allowed, hint)


def _timing(roof: _Roof, crank: Crank) -> list[Line]:
    """Opening and duration of one roof; closing too where the pin is off the axis."""
    opens_as = f"{roof.title} opens".strip().capitalize()
    lasts_as = f"{roof.title} lasts".strip().capitalize()
    if not crank.pin_offset:
        opens = float(
            port_opens(
                roof_depth=roof.depth,
                deck_clearance=crank.deck_clearance,
                stroke=crank.stroke,
                rod=crank.rod,
            )
        )
        lasts = float(port_duration(opens))
        return [
            Line(f"{roof.key}opens_deg", opens_as, opens, "angle", port_opens,
                 note="after top dead centre"),
            Line(f"{roof.key}duration_deg", lasts_as, lasts, "angle", port_duration,
                 note="of the crank"),
        ]  # fmt: skip
    parts = {**crank.parts, "edge_depth": roof.depth}
    closes_as = f"{roof.title} closes".strip().capitalize()
    return [
        Line(f"{roof.key}opens_deg", opens_as, float(passes_down(**parts)), "angle", passes_down,
             note="after top dead centre"),
        Line(f"{roof.key}closes_deg", closes_as, float(passes_up(**parts)), "angle", passes_up,
             note="before top dead centre"),
        Line(f"{roof.key}duration_deg", lasts_as, float(lasts_below(**parts)), "angle",
             lasts_below, note="of the crank"),
        Line(f"{roof.key}offset_deg", "The pin's offset moves it by",
             float(offset_worth(**parts)), "angle", offset_worth, note="later; minus: sooner"),
    ]  # fmt: skip


def _first(roofs: tuple[_Roof, ...]) -> float | None:
    """Depth of the highest transfer; nothing where none was told."""
    return min((one.depth for one in roofs if one.field == "transfer"), default=None)


def _blowdown(roofs: tuple[_Roof, ...], crank: Crank) -> list[Line]:
    """From the first roof to the highest transfer."""
    first = _first(roofs)
    if first is None:
        return []
    from sleevewright.core.ports.area_doubt import angles_apart

    later, sooner = (
        float(passes_down(edge_depth=depth, **crank.parts)) for depth in (first, roofs[0].depth)
    )
    apart = float(angles_apart(later=later, sooner=sooner))
    note = "of the crank, to the first transfer"
    return [Line("blowdown_deg", "Blowdown", apart, "angle", angles_apart, note=note)]


def _speed(typed: Typed) -> float | None:
    """Speed in radians by the second; nothing where none was told."""
    text = typed.words.get("rpm")
    if text is None:
        return None
    turns = parse(text, field="rpm", dimension=Dimension.TURNING).value
    if not _SLOWEST <= turns <= _FASTEST:
        raise InputError("rpm", text, "", "300 to 30000 rpm", "Write it as 8000rpm.")
    return 2.0 * math.pi * turns
