"""What a set of readings shows beside its sizes: how it was keyed, in which order, how quickly.

Only facts are gathered here; whether they mean anything is judged elsewhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sleevewright.errors import SleevewrightError
from sleevewright.jobs.entries import BLANKS
from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.records import Body, Record
from sleevewright.jobs.setreading import DEVIATION
from sleevewright.jobs.sets import places_of, reading_cell, said_in, unit_of
from sleevewright.units.exact import nanometres

BY_HAND = "keyed"
"""Source of a reading that somebody keyed, as against one that a gauge typed."""


@dataclass(frozen=True)
class SetSeen:
    """One set as it was keyed. Lengths in whole nanometres."""

    feature: str
    gauge: str
    unit: str
    as_read: tuple[int, ...]  # as the gauge showed them: sizes, or what is over the nominal
    resolution: int | None
    before_zero: int  # readings that were told before the gauge was on its master
    moments: tuple[tuple[float, ...], ...]  # of readings keyed by hand, device by device. [s]


def set_seen(folded: Folded, record: Record) -> SetSeen:
    """A set as it was keyed, from the readings that stand."""
    body = record.body
    heads = _standing(folded, record)
    over = _nominal(body) if body.get("entry") == DEVIATION else 0
    return SetSeen(
        feature=str(body.get("feature", "")),
        gauge=str(body.get("instrument", "")),
        unit=unit_of(body, folded),
        as_read=tuple(int(one.body["nm"]) - over for one in heads),
        resolution=_resolution(body),
        before_zero=_before_zero(folded, record, heads),
        moments=_moments(heads),
    )


def _standing(folded: Folded, record: Record) -> list[Told]:
    """The one reading of each place that holds one, in the order in which they were told."""
    name = str(record.body["set"])
    found = []
    for row, column in places_of(record.body):
        told = folded.value(reading_cell(name, row, column), cylinder=record.cylinder)
        is_read = told is not None and told.text.strip() not in BLANKS
        if told is not None and is_read and isinstance(told.body.get("nm"), int):
            found.append(told)
    return sorted(found, key=lambda one: one.number)


def _nominal(body: Body) -> int:
    text = said_in(body, "nominal")
    return nanometres(text, field="nominal") if text else 0


def _resolution(body: Mapping[str, Any]) -> int | None:
    """The step that the gauge of a set shows; nothing where it was not told."""
    name = body.get("instrument")
    for one in body.get("instruments", ()):
        if one.get("name") == name and one.get("resolution"):
            try:
                return nanometres(str(one["resolution"]), field="resolution")
            except SleevewrightError:
                return None
    return None


def _before_zero(folded: Folded, record: Record, heads: list[Told]) -> int:
    """Readings that stand and were told before the zero was, of a set whose zero was told."""
    cell = f"set/{record.body['set']}/zero-start"
    zeroes = folded.history(cell, cylinder=record.cylinder)
    if not zeroes:
        return 0
    first = min(one.number for one in zeroes)
    return sum(one.number < first for one in heads)


def _moments(heads: list[Told]) -> tuple[tuple[float, ...], ...]:
    """When each device says that readings were keyed on it; one that says nothing is left out."""
    found: dict[str, list[float]] = {}
    for one in heads:
        said = one.body.get("said")
        if one.body.get("source") != BY_HAND or not isinstance(said, str):
            continue
        try:
            moment = datetime.fromisoformat(said).timestamp()
        except ValueError:
            continue
        found.setdefault(one.device, []).append(moment)
    return tuple(tuple(moments) for moments in found.values())
