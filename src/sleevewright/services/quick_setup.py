"""Quick questions at the mill and the degree wheel: where the centre is, when a port opens."""

from __future__ import annotations

import re
from collections.abc import Iterable

from sleevewright.core.engine.crank import port_duration, port_opens
from sleevewright.errors import InputError
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import by_default, needed, read_words
from sleevewright.units import Dimension, parse

TIMING_INPUTS = (*needed("stroke", "rod", "depth"), by_default("deck", "deck_clearance"))
SWEEP_INPUTS = needed("readings", "mount")

_NEXT_READING = re.compile(r"[,;]\s*(?=[+\-]?\d+(?:[.,]\d+)?\s*(?:deg|°)?\s*:)")
_FEWEST = 3


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


def quick_sweep(words: Iterable[str]) -> QuickAnswer:
    """Which way to move the table so that the bore comes under the spindle."""
    import numpy as np

    from sleevewright.core.metrology.sweep import Mount, sweep_offset

    typed = read_words("sweep", SWEEP_INPUTS, words)
    angles, readings = _read_sweep(typed.text("readings"))
    mount = typed.text("mount").lower()
    if mount not in tuple(Mount):
        raise InputError("mount", mount, "", "spindle or table", "What turns during the sweep?")
    found = sweep_offset(np.array(angles), np.array(readings), mount=Mount(mount))
    typed.units = (_unit_of(typed.text("readings")),)
    lines = (
        Line("move_x_um", "Move along X", found.move_x, "deviation", sweep_offset, "of travel"),
        Line("move_y_um", "Move along Y", found.move_y, "deviation", sweep_offset, "of travel"),
        Line("form_um", "Form that is left", found.form, "deviation", sweep_offset, "radial",
             note="highest less lowest without the offset"),
    )  # fmt: skip
    return QuickAnswer("sweep", typed, lines)


def _read_sweep(text: str) -> tuple[list[float], list[float]]:
    """Angles and readings of ``0:+3thou,90:+1thou``."""
    angles: list[float] = []
    readings: list[float] = []
    for pair in _NEXT_READING.split(text.strip().strip(",;")):
        angle, sign, reading = pair.partition(":")
        if not sign:
            hint = "Write each as angle:reading, as 0:+3thou,90:+1thou,180:-3thou,270:-1thou."
            raise InputError("readings", pair, "", "pairs of angle and reading", hint)
        angles.append(parse(angle, field="readings", dimension=Dimension.ANGLE, unit="°").value)
        readings.append(parse(reading, field="readings", dimension=Dimension.LENGTH).value)
    if len(angles) < _FEWEST:
        hint = "Two do not say where a centre is."
        raise InputError("readings", text, "", f"{_FEWEST} readings or more", hint)
    return angles, readings


def _unit_of(text: str) -> str:
    """Unit of the first reading, to answer in the same."""
    first = _NEXT_READING.split(text)[0].partition(":")[2]
    return parse(first, field="readings", dimension=Dimension.LENGTH).unit
