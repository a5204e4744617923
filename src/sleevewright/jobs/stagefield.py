"""What a stage asks for: its fields and grids as rows of a table.

A cell is the name under which a value is told.  Of things that a cylinder has several of,
the name holds a place to be filled: ``port/<port>/found.roof`` for each port,
``old.island/<n>/from`` for each island.  Values that are believed lie in a span (SI), wide
on purpose: it catches a wrong unit or a lost decimal point.  Source of the spans: common
practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from sleevewright.jobs.field import Sort, Span
from sleevewright.jobs.fields import FIELDS
from sleevewright.units import Dimension

QUANTITY = "quantity"
WORDS = "words"
CHOICE = "choice"
TICK = "tick"
DATE = "date"
PERSON = "person"
MINUTES = "minutes"
MONEY = "money"

SORTS = (QUANTITY, WORDS, CHOICE, TICK, DATE, PERSON, MINUTES, MONEY)

YES, NO = "yes", "no"
"""How a tick is told: set, or looked at and not so."""

PORT_PLACE, NUMBER_PLACE = "<port>", "<n>"

_SORT_OF = {
    Sort.TEXT: WORDS,
    Sort.CHOICE: CHOICE,
    Sort.FLAG: TICK,
    Sort.QUANTITY: QUANTITY,
}


@dataclass(frozen=True)
class StageField:
    """One value that a stage asks for."""

    cell: str
    title: str
    sort: str  # one of SORTS
    doc: str
    example: str
    span: Span | None = None  # of a quantity
    allowed: tuple[str, ...] = ()  # of a choice
    kind: str = "typed"  # who says so: measured, typed, chosen or assumed
    per_job: bool = False  # told of the whole job (cylinder 0), not of each cylinder
    simple: bool = False  # needed in a simple job
    is_gauged: bool = False  # read off a gauge: counts as a reading, not as typing
    only: str = ""  # "ports", "flange", "jacket" or "plain": where it is asked at all

    @property
    def dimension(self) -> Dimension | None:
        """What kind of quantity it is; nothing where it is none."""
        return None if self.span is None else self.span.dimension

    @property
    def each(self) -> str:
        """``port`` or ``n`` where there is one for each; empty where there is one."""
        if PORT_PLACE in self.cell:
            return "port"
        return "n" if NUMBER_PLACE in self.cell else ""

    def cell_for(self, name: str | int) -> str:
        """The cell of one port or one number."""
        place = PORT_PLACE if PORT_PLACE in self.cell else NUMBER_PLACE
        said = str(name).replace("%", "%25").replace("/", "%2F")
        return self.cell.replace(place, said)


@dataclass(frozen=True)
class StageGrid:
    """Readings that a stage asks for: stations by directions of one feature."""

    feature: str
    title: str
    doc: str
    span: Span  # of a whole reading
    sense: str = "diametral"  # or "axial", "radial"
    stations: tuple[str, str] = ("", "")  # usual depths, by comma: inch job, metric job
    directions: str = ""  # usual directions, by comma
    most_off: float = 0.002  # how far from its nominal a reading is believed [m]
    simple: bool = False
    only: str = ""
    is_deviation: bool = False  # read around zero, not around a size
    has_port_lands: bool = False  # some places may lie in a port: nothing to read
    least: tuple[int, int] = (1, 1)  # depths that a hold asks, and directions at each of them

    @property
    def dimension(self) -> Dimension:
        """What kind of quantity a reading is."""
        return self.span.dimension


@dataclass(frozen=True)
class StageSheet:
    """Everything that one stage asks for."""

    stage: str
    fields: tuple[StageField, ...]
    grids: tuple[StageGrid, ...] = ()
    events: tuple[str, ...] = ()  # what can happen here, as events tell it

    @property
    def ticks(self) -> tuple[StageField, ...]:
        """The fields that are only ticked."""
        return tuple(field for field in self.fields if field.sort == TICK)


def gauged(cell: str, title: str, span: Span, doc: str, example: str, **more: Any) -> StageField:
    """A quantity that is read off a gauge."""
    more = {"kind": "measured", "is_gauged": True, **more}
    return StageField(cell, title, QUANTITY, doc, example, span, **more)


def keyed(cell: str, title: str, span: Span, doc: str, example: str, **more: Any) -> StageField:
    """A quantity that somebody types."""
    return StageField(cell, title, QUANTITY, doc, example, span, **more)


def words(cell: str, title: str, doc: str, example: str, **more: Any) -> StageField:
    """Words."""
    return StageField(cell, title, WORDS, doc, example, **more)


def one_of(cell: str, title: str, allowed: tuple[str, ...], doc: str, **more: Any) -> StageField:
    """One of a few answers; the first is the usual one."""
    more = {"kind": "chosen", **more}
    return StageField(cell, title, CHOICE, doc, allowed[0], allowed=allowed, **more)


def tick(cell: str, title: str, doc: str, **more: Any) -> StageField:
    """Something that is done, or so."""
    return StageField(cell, title, TICK, doc, YES, **more)


def date(cell: str, title: str, doc: str, **more: Any) -> StageField:
    """A day."""
    return StageField(cell, title, DATE, doc, "2026-11-30", **more)


def person(cell: str, title: str, doc: str, **more: Any) -> StageField:
    """Somebody of the shop, by the key of the list of people, or as they sign."""
    return StageField(cell, title, PERSON, doc, "p1", **more)


def money(cell: str, title: str, doc: str, **more: Any) -> StageField:
    """An amount in the shop's own currency."""
    return StageField(cell, title, MONEY, doc, "140.00", **more)


def minutes(cell: str, title: str, doc: str, **more: Any) -> StageField:
    """Time that was worked."""
    return StageField(cell, title, MINUTES, doc, "45", **more)


def keyed_as(path: str, title: str, **more: Any) -> StageField:
    """A key of the job file as a cell of the same name."""
    key = next(field for field in FIELDS if field.path == path)
    return StageField(
        path,
        title,
        _SORT_OF[key.sort],
        key.doc,
        YES if key.sort is Sort.FLAG else key.example.strip('"'),
        key.span,
        key.allowed,
        **{"kind": key.kind, **more},
    )


def port_keyed_as(path: str, cell: str, title: str, **more: Any) -> StageField:
    """A key of a port of the job file as a cell of each port."""
    return replace(keyed_as(path, title, **more), cell=cell)
