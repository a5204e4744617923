"""Quick questions at the mill: which way to move the table, how far off, how lean."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from sleevewright.core.materials import default
from sleevewright.errors import Caution, InputError
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, needed, optional, read_words
from sleevewright.units import Dimension, parse

if TYPE_CHECKING:
    from sleevewright.core.metrology.setup import OneSweep

MACHINE = (
    QuickInput("counted", "counter-clockwise"),
    QuickInput("lever", "0 deg"),
)
AXES = (QuickInput("plus_x", "right"), QuickInput("plus_y", "away"))
SWEEP_INPUTS = (*needed("readings", "mount"), *MACHINE, *AXES)
SWING_INPUTS = needed("read")
LEAN_INPUTS = (*needed("top", "bottom", "apart", "mount"), *MACHINE, *optional("span"))

_NEXT_READING = re.compile(r"[,;]\s*(?=[+\-]?\d+(?:[.,]\d+)?\s*(?:deg|°)?\s*:)")
_NEXT_OF_PAIR = re.compile(r"[,;]\s*(?=[+\-])")
_FEWEST = 3


def quick_sweep(words: Iterable[str]) -> QuickAnswer:
    """Which way to move the table so that the bore comes under the spindle."""
    from sleevewright.core.metrology.moves import move_of
    from sleevewright.core.metrology.setup import swept
    from sleevewright.core.metrology.sweep import sweep_offset
    from sleevewright.core.metrology.table import Axes, table_travel
    from sleevewright.planning.setup_said import words_on

    typed = read_words("sweep", SWEEP_INPUTS, words)
    one = _sweep_of(typed, "readings")
    found = swept(sweep=one)
    travel = table_travel(
        move=move_of(sweep=found), axes=Axes(typed.text("plus_x"), typed.text("plus_y"))
    )
    typed.units = (_unit_of(typed.text("readings")),)
    doubt = found.widening * found.move_doubt
    lines = (
        Line("move_x_um", "Move along X", travel.dial_x, "deviation", table_travel, "of travel",
             note="as its dial counts"),
        Line("move_y_um", "Move along Y", travel.dial_y, "deviation", table_travel, "of travel",
             note="as its dial counts"),
        Line("right_um", "Table to the right", travel.right, "deviation", table_travel,
             "of travel", note="negative is to the left, as you stand"),
        Line("away_um", "Table away", travel.away, "deviation", table_travel, "of travel",
             note="negative is toward you"),
        Line("move_doubt_um", "Known within", doubt, "deviation", sweep_offset, note="95 %"),
        Line("offset_um", "Centre off", found.offset, "deviation", sweep_offset, "radial",
             note="the total swing is twice this"),
        Line("form_um", "Form that is left", found.form, "deviation", sweep_offset, "radial",
             note="highest less lowest without the offset"),
    )  # fmt: skip
    said = tuple(Caution("sweep", text) for text in words_on(found, "here"))
    return QuickAnswer("sweep", typed, lines, said)


def quick_swing(words: Iterable[str]) -> QuickAnswer:
    """How far off the centre is, from the total swing alone or from one pair of readings."""
    from sleevewright.core.metrology.centring import pair_offset, swing_offset
    from sleevewright.planning.answers import Verdict
    from sleevewright.planning.setup_quick import pair_judged, swing_judged

    typed = read_words("swing", SWING_INPUTS, words)
    text = typed.text("read")
    parts = _NEXT_OF_PAIR.split(text)
    read = [parse(one, field="read", dimension=Dimension.LENGTH) for one in parts]
    typed.units = (read[0].unit,)
    standard, limit = _reading_standard() / 2.0**0.5, default("centring").value
    if len(read) == 1:
        offset = swing_offset(swing=read[0].value)
        judged = swing_judged(offset, standard, limit)
        line = Line("offset_um", "Centre off", offset, "deviation", swing_offset, "radial",
                    note="half of the swing; sweep all round to know which way")  # fmt: skip
    elif len(read) == 2:
        offset = pair_offset(here=read[0].value, opposite=read[1].value)
        judged = pair_judged(offset, standard, limit)
        line = Line("towards_um", "Move towards the first", offset, "deviation", pair_offset,
                    "radial", note="along that line only")  # fmt: skip
    else:
        hint = "As read=3.2thou, or read=+1.6thou,-1.4thou."
        raise InputError("read", text, "", "one swing, or two opposite readings", hint)
    verdict = Line("verdict_is_good", "Within the limit", judged.verdict is Verdict.GOOD, "text",
                   line.relation, note=judged.verdict.value)  # fmt: skip
    typed.assume("limit", default("centring").stated)
    remedies = (judged.remedy,) if judged.remedy else ()
    return QuickAnswer(
        "swing", typed, (line, verdict), remedies=remedies, is_out=judged.verdict is Verdict.OUT
    )


def quick_lean(words: Iterable[str]) -> QuickAnswer:
    """How much the bore leans, from sweeps at two depths, and the shim that sets it upright."""
    from sleevewright.core.metrology.centring import offset_range
    from sleevewright.core.metrology.setup import TwoSweeps, setup_lean, setup_tilt
    from sleevewright.core.metrology.shims import span_shim
    from sleevewright.core.metrology.sweepfigures import lean_towards

    typed = read_words("lean", LEAN_INPUTS, words)
    upper, lower = _sweep_of(typed, "top"), _sweep_of(typed, "bottom")
    apart = parse(typed.text("apart"), field="apart", dimension=Dimension.LENGTH)
    typed.units = (_unit_of(typed.text("top")),)
    two = TwoSweeps(
        upper.angles, upper.readings, lower.readings, apart.value, upper.mount, upper.sense,
        lower.angles, (upper.standard, lower.standard),
    )  # fmt: skip
    lean = setup_lean(sweeps=two)
    known = offset_range(lean.amount, standard=lean.standard)
    lines = [
        Line("lean", "Lean", lean.amount, "slope", setup_tilt, "radial"),
        Line("lean_doubt", "Known within", known.high - lean.amount, "slope", offset_range,
             note="95 %, the longer side"),
        Line("towards_deg", "Upper end leans towards", lean_towards(lean=lean), "angle",
             lean_towards, note="counter-clockwise from +X"),
    ]  # fmt: skip
    if "span" in typed.words:
        span = parse(typed.text("span"), field="span", dimension=Dimension.LENGTH).value
        step = default("shim_step")
        shim = span_shim(lean=lean, span=span, step=step.value)
        typed.assume("step of the shims", step.stated)
        lines.append(Line("shim_um", "Shim under the side it leans to", shim, "deviation",
                          span_shim, "axial"))  # fmt: skip
    return QuickAnswer("lean", typed, tuple(lines))


def _sweep_of(typed: Typed, name: str) -> OneSweep:
    """One sweep as it was typed, with mount, sense and lever."""
    from sleevewright.core.metrology.setup import OneSweep
    from sleevewright.core.metrology.sweep import Mount, Sense, lever_reading

    angles, readings = _read_sweep(name, typed.text(name))
    mount, counted = typed.text("mount").lower(), typed.text("counted").lower()
    if mount not in tuple(Mount):
        raise InputError("mount", mount, "", "spindle or table", "What turns during the sweep?")
    if counted not in tuple(Sense):
        raise InputError("counted", counted, "", "counter-clockwise or clockwise, from above")
    lever = parse(typed.text("lever"), field="lever", dimension=Dimension.ANGLE, unit="°").value
    share = float(lever_reading(1.0, angle=lever))
    return OneSweep(
        tuple(angles), tuple(share * one for one in readings), Mount(mount), Sense(counted),
        share * _reading_standard(),
    )  # fmt: skip


def _reading_standard() -> float:
    """Standard uncertainty of a reading of a usual test indicator."""
    from sleevewright.planning.beside import SAMPLES
    from sleevewright.planning.ledger import Ledger
    from sleevewright.planning.proofing import Gauged, reading_doubt

    return reading_doubt(Ledger(count=SAMPLES, seed=1), Gauged(), "indicator_setting")


def _read_sweep(name: str, text: str) -> tuple[list[float], list[float]]:
    """Angles and readings of ``0:+3thou,90:+1thou``."""
    angles: list[float] = []
    readings: list[float] = []
    for pair in _NEXT_READING.split(text.strip().strip(",;")):
        angle, sign, reading = pair.partition(":")
        if not sign:
            hint = "Write each as angle:reading, as 0:+3thou,90:+1thou,180:-3thou,270:-1thou."
            raise InputError(name, pair, "", "pairs of angle and reading", hint)
        angles.append(parse(angle, field=name, dimension=Dimension.ANGLE, unit="°").value)
        readings.append(parse(reading, field=name, dimension=Dimension.LENGTH).value)
    if len(angles) < _FEWEST:
        hint = "Two do not say where a centre is."
        raise InputError(name, text, "", f"{_FEWEST} readings or more", hint)
    return angles, readings


def _unit_of(text: str) -> str:
    """Unit of the first reading, to answer in the same."""
    first = _NEXT_READING.split(text)[0].partition(":")[2]
    return parse(first, field="readings", dimension=Dimension.LENGTH).unit
