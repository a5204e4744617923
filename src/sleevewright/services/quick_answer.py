"""The answer to a quick question: lines for a person, a document for a program."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from sleevewright.core.formulas import Formula, formula_of
from sleevewright.errors import Caution
from sleevewright.services.quick_inputs import Typed
from sleevewright.services.stated_units import in_system
from sleevewright.units import shown, to_unit

_SUFFIXES = {
    "um": "µm",
    "mm": "mm",
    "mpa": "MPa",
    "c": "°C",
    "kn": "kN",
    "nm": "N·m",
    "s": "s",
    "deg": "°",
    "cc": "cc",
    "rpm": "rpm",
    "mpm": "m/min",
    "mmpm": "mm/min",
    "n": "N",
    "w": "W",
    "permin": "/min",
    "mm2": "mm²",
    "mm2deg": "mm²·°",
    "spm": "s/m",
}
"""Endings of the document's keys and the units that they mean."""

RESTATED = ("cut", "stack", "crosshatch", "gap", "squish", "speeds")
"""Topics whose defaults and notes are said in the system of the answer."""

_DIGITS = 10  # far below every doubt, without the noise of the last bits
_LENGTH_PLACES = 3  # of a µm: nothing on a bench is known closer

Relation = Callable[..., object]


@dataclass(frozen=True)
class Line:
    """One number of an answer: SI value, what it is, and the relation behind it."""

    key: str  # in the document, its unit at its end
    label: str
    value: float | bool | None
    quantity: str
    relation: Relation
    sense: str = ""
    note: str = ""  # stands where there is no value, and beside it where there is

    @property
    def formula(self) -> Formula:
        """The relation with its sources."""
        return formula_of(self.relation)


@dataclass(frozen=True)
class QuickAnswer:
    """Everything that one quick question answers."""

    topic: str
    typed: Typed
    lines: tuple[Line, ...]
    cautions: tuple[Caution, ...] = ()
    remedies: tuple[str, ...] = ()  # what to do where a verdict is out
    is_out: bool = False
    extra: tuple[tuple[str, object], ...] = ()  # further members of the document
    said: tuple[str, ...] = ()  # lines of words between the numbers and what was assumed


def quick_document(answer: QuickAnswer) -> dict[str, Any]:
    """The answer as JSON: each number under a key that ends in its unit."""
    numbers = {line.key: _number(line) for line in answer.lines}
    return {
        "topic": answer.topic,
        **numbers,
        **dict(answer.extra),
        "given": dict(answer.typed.words),
        "assumed": dict(answer.typed.assumed),
        "sources": {line.key: list(line.formula.sources) for line in answer.lines},
        "cautions": [caution.text for caution in answer.cautions],
        "remedies": list(answer.remedies),
        "is_out": answer.is_out,
    }


def _number(line: Line) -> float | bool | None:
    """Value in the unit that the key names; nothing where there is none."""
    if line.value is None or isinstance(line.value, bool):
        return line.value
    unit = _SUFFIXES.get(line.key.rpartition("_")[2])
    value = line.value if unit is None else to_unit(line.value, unit)
    if unit == "µm" and math.isfinite(value):
        value = round(value, _LENGTH_PLACES) + 0.0  # a negative zero is none
    return float(f"{value:.{_DIGITS}g}") if math.isfinite(value) else None


def quick_lines(answer: QuickAnswer) -> tuple[str, ...]:
    """The answer as lines of text: numbers, then what was assumed, then the cautions."""
    system = answer.typed.system
    say = partial(in_system, system=system) if answer.topic in RESTATED else str
    told = [(line.label, _figure(line, system), say(_behind(line))) for line in answer.lines]
    widths = [max(len(row[column]) for row in told) for column in (0, 1)]
    lines = [f"{a:<{widths[0]}}  {b:>{widths[1]}}  {c}".rstrip() for a, b, c in told]
    lines += answer.said
    lines += [f"assumed: {name} = {say(text)}" for name, text in answer.typed.assumed.items()]
    lines += [f"do instead: {remedy}" for remedy in answer.remedies]
    lines += [f"caution: {say(caution.text)}" for caution in answer.cautions]
    return tuple(lines)


def _figure(line: Line, system: str) -> str:
    """Figure and unit, in the units of the person who asked."""
    if line.value is None:
        return "none"
    if isinstance(line.value, bool):
        return "yes" if line.value else "no"
    figures = shown(line.value, quantity=line.quantity, system=system)
    return f"{figures.figure} {figures.unit}".strip()


def _behind(line: Line) -> str:
    """Sense, note, and where the relation is from."""
    words = [part for part in (line.sense, line.note) if part]
    sources = ", ".join(line.formula.sources)
    return "; ".join([*words, f"{line.formula.name} ({sources})"])
