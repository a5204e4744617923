"""What was told for a cell: read to SI, or refused with what is wrong and what to do.

A refusal holds the entry back on its device; nothing is changed to make it fit.  The text
stays as it was keyed.  Plain digits, signs and dictated words are read as what they say.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from sleevewright.errors import InputError, clipped
from sleevewright.jobs import stagefield as sort
from sleevewright.jobs.catalog import EVENTS, field_of
from sleevewright.jobs.entries import disbelief, span_of
from sleevewright.jobs.field import Field, Sort
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.serieslog import CELLS as SERIES_CELLS
from sleevewright.jobs.serieslog import series_of_text
from sleevewright.jobs.setreading import refuse_groups
from sleevewright.jobs.stagefield import NO, YES, StageField
from sleevewright.jobs.toldset import is_of_a_set, read_reading, read_set
from sleevewright.units import Dimension, parse
from sleevewright.units.dictation import written
from sleevewright.units.exact import millikelvin, nanometres
from sleevewright.units.gaugetext import typed
from sleevewright.units.keyed import keyed

__all__ = ["EVENTS", "Reading", "nanometres", "read_cell", "read_set"]

LONGEST_WORDS = 4000
LONGEST_NAME = 60
MOST_MINUTES = 10_000
_MOST_MONEY = Decimal(10_000_000)


@dataclass(frozen=True)
class Reading:
    """What a text comes to; words and ticks have no value."""

    value: float | None  # SI
    unit: str  # the unit that was meant, "" where there is none
    dimension: str
    text: str
    nm: int | None = None  # of a length, exactly
    mk: int | None = None  # of a temperature
    kind: str = "typed"

    @property
    def kept(self) -> dict[str, Any]:
        """What is written into the record beside the keyed text."""
        kept: dict[str, Any] = {"kind": self.kind}
        if self.nm is not None:
            kept["nm"] = self.nm
        elif self.mk is not None:
            kept["mk"] = self.mk
        elif self.value is not None:
            kept["si"] = self.value
        return kept


def read_cell(cell: str, text: str, *, folded: Folded, cylinder: int = 1) -> Reading:
    """What a text says for a cell of a job.

    Parameters
    ----------
    cell : str
        Name of the cell: ``casting.mass``, ``port/exhaust/found.roof``, ``set/k3f9/0/1``.
    text : str
        As keyed, dictated or typed by a gauge.
    folded : Folded
        The job: its units, and the set that a reading belongs to.
    cylinder : int
        Which cylinder; 0 is the whole job.

    Returns
    -------
    Reading
        SI value, unit, dimension, and the exact whole number that is kept.

    Raises
    ------
    InputError
        If the cell is not known, or the text cannot be right for it.
    """
    if is_of_a_set(cell):
        value, unit, nm = read_reading(cell, text, folded=folded, cylinder=cylinder)
        if nm is None:
            return Reading(None, "", "words", text)
        return Reading(value, unit, Dimension.LENGTH.value, text, nm=nm, kind="measured")
    field = field_of(cell)
    if field is None:
        allowed = "a cell that a stage, a port or a set of readings has"
        raise InputError(clipped(cell), clipped(text), "", allowed, "Load the page again.")
    reading = _READERS[field.sort](field, text, _system(folded))
    _refuse_upside_down(cell, field.title, reading, folded, cylinder)
    if cell in SERIES_CELLS.values() and text.strip():
        series_of_text(text, field=field.title)
    return reading


_EDGE = re.compile(r"(port/[^/]+/(?:found|target|left)\.)(roof|floor)")


def _refuse_upside_down(
    cell: str, title: str, reading: Reading, folded: Folded, cylinder: int
) -> None:
    """A port's roof lies above its floor: both are depths below the deck."""
    found = _EDGE.fullmatch(cell)
    if found is None or reading.nm is None:
        return
    is_roof = found[2] == "roof"
    other = "floor" if is_roof else "roof"
    told = folded.value(found[1] + other, cylinder=cylinder)
    nm = None if told is None else told.body.get("nm")
    if told is None or not isinstance(nm, int):
        return
    if (reading.nm < nm) if is_roof else (reading.nm > nm):
        return
    than = "less" if is_roof else "more"
    allowed = f"{than} than the {other}, {clipped(told.text.strip())}: depths count from the deck"
    hint = f"Were roof and floor swapped? Where the {other} is wrong, put that right first."
    raise InputError(title, clipped(reading.text.strip()), "", allowed, hint)


def _system(folded: Folded) -> str:
    return "metric" if folded.opened.get("units") == "metric" else "inch"


def _quantity(field: StageField, text: str, system: str) -> Reading:
    """A number with its unit, believable for this cell."""
    asked = Field(field.cell, Sort.QUANTITY, field.doc, field.example, field.span)
    dimension = span_of(asked).dimension
    plain = written(typed(text), hundredth="mm" if system == "metric" else "")
    spoken = parse(plain, field=field.title, dimension=dimension)
    refuse_groups(plain, spoken.unit, field.title)
    refused = disbelief(asked, spoken, field.title, system)
    if refused is not None:
        raise refused
    nm = mk = None
    if dimension is Dimension.LENGTH:
        nm = nanometres(plain, field=field.title) if spoken.doubt is None else _whole(spoken.value)
    elif dimension is Dimension.TEMPERATURE and spoken.doubt is None:
        mk = millikelvin(plain, field=field.title)
    elif dimension is Dimension.TEMPERATURE:
        mk = round(spoken.value * 1000.0)
    return Reading(spoken.value, spoken.unit, dimension.value, text, nm, mk, field.kind)


def _whole(value: float) -> int:
    """Nanometres of a value that carries a doubt of its own."""
    return round(value * 1e9)


def _words(field: StageField, text: str, _system: str) -> Reading:
    most = LONGEST_NAME if field.sort == sort.PERSON else LONGEST_WORDS
    if len(text) > most:
        raise InputError(field.title, f"{len(text)} letters", "", f"at most {most}")
    return Reading(None, "", field.sort, text, kind=field.kind)


def _choice(field: StageField, text: str, _system: str) -> Reading:
    if text.strip() not in field.allowed:
        raise InputError(field.title, clipped(text.strip()), "", ", ".join(field.allowed))
    return Reading(None, "", field.sort, text, kind=field.kind)


def _tick(field: StageField, text: str, _system: str) -> Reading:
    if text.strip().lower() not in (YES, NO):
        raise InputError(field.title, clipped(text.strip()), "", f"{YES} or {NO}")
    return Reading(None, "", field.sort, text, kind=field.kind)


def _date(field: StageField, text: str, _system: str) -> Reading:
    if _is_day(keyed(text)):
        return Reading(None, "", field.sort, text, kind=field.kind)
    raise InputError(field.title, clipped(text.strip()), "", "a day written as 2026-11-30")


def _is_day(plain: str) -> bool:
    """Whether a text is a day of the calendar, written in full."""
    if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", plain):
        return False
    try:
        date.fromisoformat(plain)
    except ValueError:
        return False
    return True


def _minutes(field: StageField, text: str, _system: str) -> Reading:
    spoken = parse(keyed(text), field=field.title, dimension=Dimension.TIME, unit="min")
    if spoken.value > MOST_MINUTES * 60.0:
        allowed = f"0 to {MOST_MINUTES} min"
        raise InputError(field.title, clipped(text.strip()), "", allowed)
    return Reading(spoken.value, spoken.unit, Dimension.TIME.value, text, kind=field.kind)


def _money(field: StageField, text: str, _system: str) -> Reading:
    plain = keyed(text)
    found = re.fullmatch(r"\d{1,8}(?:[.,]\d{1,2})?", plain)
    amount = Decimal(plain.replace(",", ".")) if found else _MOST_MONEY + 1
    if amount > _MOST_MONEY:
        allowed = "an amount as 140 or 140.50, without groups of thousands"
        raise InputError(field.title, clipped(text.strip()), "", allowed)
    return Reading(float(amount), "", field.sort, text, kind=field.kind)


_READERS: Mapping[str, Callable[[StageField, str, str], Reading]] = {
    sort.QUANTITY: _quantity,
    sort.WORDS: _words,
    sort.PERSON: _words,
    sort.CHOICE: _choice,
    sort.TICK: _tick,
    sort.DATE: _date,
    sort.MINUTES: _minutes,
    sort.MONEY: _money,
}
