"""Use case: the metronome of a hone: strokes by the minute and the angle that each makes.

A device that beats time only looks up: every rate that its hand can come to, by a half of a
per cent, stands in a table with its angle.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.cutting.crosshatch import (
    angle_about_axis,
    angle_from_across,
    included_angle,
)
from sleevewright.core.cutting.strokes import STEEPEST
from sleevewright.jobs.catalog_hatch import CYCLES, EVEN
from sleevewright.planning.answers import Plan
from sleevewright.services.cut_told import CutTold
from sleevewright.services.hatch_told import BORES
from sleevewright.services.quick_answer import QuickAnswer
from sleevewright.services.quick_crosshatch import (
    BY_THE_MINUTE,
    CROSSHATCH_INPUTS,
    HoneSet,
    hone_of,
    quick_crosshatch,
)
from sleevewright.services.quick_inputs import read_words
from sleevewright.units import display_unit, from_unit, shown

STEPS = 10
"""Steps of the table in five per cent."""

STEP = 1.05 ** (1.0 / STEPS)
_PLAIN = re.compile(r"[\d.,\s]+")
UNITS = {"bore": ("in", "mm"), "stroke": ("in", "mm"), "angle": ("deg", "deg")}
"""Units of a bare number, inch and metric."""


@dataclass(frozen=True)
class Rate:
    """One rate of the table, as it is shown: full cycles a minute and angles in degrees."""

    cycles: float  # a minute, for the beat itself
    figure: str
    included: str  # where it is read, in the middle
    line: str
    axis: str
    mean: str


@dataclass(frozen=True)
class Metronome:
    """What a metronome shows and beats."""

    spindle: str
    wanted: str
    rates: tuple[Rate, ...]
    at: int  # the rate that it starts with
    answer: QuickAnswer  # the same setting, in full


def words_of(texts: Mapping[str, str], system: str) -> tuple[str, ...]:
    """Texts of fields as the words of the quick topic; a bare number gets the shop's unit.

    Examples
    --------
    >>> words_of({"bore": "2.75", "rpm": "150", "cycles": ""}, "inch")
    ('bore=2.75 in', 'rpm=150')
    """
    found = []
    for name, text in texts.items():
        said = text.strip()
        if said and name in UNITS and _PLAIN.fullmatch(said):
            said = f"{said} {UNITS[name][system == 'metric']}"
        if said:
            found.append(f"{name}={said}")
    return tuple(found)


def metronome(texts: Mapping[str, str], system: str) -> Metronome:
    """The metronome of what was typed; a refusal names its field."""
    words = words_of(texts, system)
    hone = hone_of(read_words("crosshatch", CROSSHATCH_INPUTS, words))
    low, high = (from_unit(one, BY_THE_MINUTE) for one in (CYCLES.low, CYCLES.high))
    down = math.floor(math.log(hone.cycles / low) / math.log(STEP) + 1e-9)
    up = math.floor(math.log(high / hone.cycles) / math.log(STEP) + 1e-9)
    cycles = hone.cycles * STEP ** np.arange(-max(down, 0), max(up, 0) + 1)
    return Metronome(
        spindle=_figure(hone.turns, "rate"),
        wanted=_figure(hone.wanted, "angle"),
        rates=_rates(hone, cycles),
        at=max(down, 0),
        answer=quick_crosshatch(words),
    )


def _rates(hone: HoneSet, cycles: NDArray[np.float64]) -> tuple[Rate, ...]:
    """The table: each rate with its angles, as far as lines still cross."""
    made = np.asarray(
        included_angle(bore=hone.bore, turns=hone.turns, stroke=hone.stroke, cycles=cycles)
    )
    kept = np.minimum(made, STEEPEST)
    read = np.minimum(hone.read_at(kept), STEEPEST)
    columns = (read, angle_from_across(read), angle_about_axis(read), kept)
    rows = np.column_stack([cycles / from_unit(1.0, BY_THE_MINUTE), *columns])[made <= STEEPEST]
    return tuple(
        Rate(round(float(rate), 6), *_figures(float(rate), angles)) for rate, *angles in rows
    )


def _figures(rate: float, angles: Sequence[float]) -> tuple[str, str, str, str, str]:
    """A rate and its four angles as they are shown."""
    figure = f"{rate:.0f}"  # nobody strokes to a tenth
    included, line, axis, mean = (_figure(float(angle), "angle") for angle in angles)
    return figure, included, line, axis, mean


def _figure(value: float, quantity: str) -> str:
    """A value in the digits in which it is shown."""
    return shown(value, quantity=quantity, system="inch").figure


def told_texts(plan: Plan | None, told: CutTold, stage: str) -> dict[str, str]:
    """What a job already knows of its hone, as texts of the fields."""
    cells = {"rpm": "speed", "stroke": "stroke", "angle": "angle_wanted", "cycles": "cycles"}
    texts = {name: told.text(f"{stage}.{cell}") for name, cell in cells.items()}
    texts["drive"] = "even" if told.text(f"{stage}.drive") == EVEN else ""
    system = "inch" if plan is None else plan.units
    known = {} if plan is None else {one.id: one.value for one in plan.answers()}
    bore = next((v for one in BORES[stage] if isinstance(v := known.get(one), float)), None)
    if bore is not None:
        figures = shown(bore, quantity="size", system=system)
        texts["bore"] = f"{figures.figure} {display_unit('size', system=system)}"
    return {name: text for name, text in texts.items() if text}
