"""Quick question at the degree wheel: when a port opens, and for how long."""

from __future__ import annotations

from collections.abc import Iterable

from sleevewright.core.engine.crank import port_duration, port_opens
from sleevewright.errors import InputError
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import by_default, needed, read_words

TIMING_INPUTS = (*needed("stroke", "rod", "depth"), by_default("deck", "deck_clearance"))


def quick_timing(words: Iterable[str]) -> QuickAnswer:
    """When a port opens and how long it stays open."""
    typed = read_words("timing", TIMING_INPUTS, words)
    depth, deck, stroke = (typed.value(name) for name in ("depth", "deck", "stroke"))
    if not 0.0 < depth - deck < stroke:
        allowed = f"more than the deck, {typed.text('deck')}, and less than deck and stroke"
        hint = "Is it the roof's depth below the deck?"
        raise InputError("depth", typed.text("depth"), "", allowed, hint)
    if typed.value("rod") <= 0.75 * stroke:
        allowed = f"more than three quarters of the stroke, {typed.text('stroke')}"
        raise InputError("rod", typed.text("rod"), "", allowed, "Were rod and stroke swapped?")
    opens = float(
        port_opens(roof_depth=depth, deck_clearance=deck, stroke=stroke, rod=typed.value("rod"))
    )
    lasts = float(port_duration(opens))
    lines = (
        Line("opens_deg", "Opens", opens, "angle", port_opens, note="after top dead centre"),
        Line("duration_deg", "Lasts", lasts, "angle", port_duration, note="of the crank"),
    )
    return QuickAnswer("timing", typed, lines)
