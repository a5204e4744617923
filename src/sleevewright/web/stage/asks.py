"""The cells of a stage with what stands in them: single ones, and rows of those repeated."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sleevewright.errors import InputError
from sleevewright.jobs.catalog import StageField, StageGrid, StageSheet, is_ported, port_names
from sleevewright.jobs.entries import amount
from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.records import WHOLE_JOB
from sleevewright.jobs.serieslog import CELLS
from sleevewright.jobs.stagefield import MINUTES, NUMBER_PLACE, PORT_PLACE, QUANTITY, TICK
from sleevewright.units import Dimension, parse
from sleevewright.web.stage.views import AskView, RivalView, RowsView

LEAST_ROWS = 1
"""Empty rows that stand ready below those that were told."""

PORT_NAME = "port/<port>/name"
"""Told by naming a port; it stands at the head of its row, not in it."""

HEADINGS = {"island": "Island", "pass": "Pass", "log": "Reading", "stud": "Stud", "peg": "Peg"}


@dataclass(frozen=True)
class Teller:
    """Reads cells of one cylinder of a job."""

    folded: Folded
    cylinder: int
    problems: Mapping[str, str]

    @property
    def units(self) -> str:
        """System of units of the job."""
        return str(self.folded.opened.get("units") or "inch")

    def asks(self, field: StageField) -> bool:
        """Whether this job's kind of cylinder has what the field is about."""
        return asked_of(field.only, self.folded, self.cylinder)

    def asks_grid(self, grid: StageGrid) -> bool:
        """Whether this job's kind of cylinder has what is gauged."""
        return asked_of(grid.only, self.folded, self.cylinder)

    def view(self, field: StageField, cell: str = "", title: str = "") -> AskView:
        """A field with what stands in it."""
        cell = cell or field.cell
        cylinder = WHOLE_JOB if field.per_job else self.cylinder
        heads = self.folded.heads(cell, cylinder=cylinder)
        one = heads[0] if len(heads) == 1 else None
        text = one.text.strip() if one else "" if heads else self._opened(cell)
        span = field.span
        return AskView(
            cell=cell,
            key=re.sub(r"[^a-z0-9]+", "-", cell.lower()),
            cylinder=cylinder,
            title=title or field.title,
            doc=field.doc,
            sort=field.sort,
            example=example_of(field, self.units),
            kind=one.kind if one else field.kind,
            dimension=dimension_of(field),
            unit=_bare_unit(field),
            low=f"{span.low:.9g}" if span else "",
            high=f"{span.high:.9g}" if span else "",
            allowed=field.allowed,
            span_words=_span_words(field, self.units),
            text=text,
            ids=tuple(told.id for told in heads),
            rivals=rivals(heads),
            problem=self.problems.get(cell, ""),
            is_simple=field.simple,
            is_shared=field.per_job and self.folded.cylinders > 1,
        )

    def _opened(self, cell: str) -> str:
        """What was said of a cell when the job was taken in; empty where nothing was."""
        key = _SAID_AT_OPENING.get(cell, "")
        return str(self.folded.opened.get(key) or "") if key else ""


_SAID_AT_OPENING = {
    "engine.kind": "engine_kind",
    "engine.cooling": "cooling",
    "job.title": "title",
}


def _bare_unit(field: StageField) -> str:
    """Unit of a number that is keyed without one; empty where a unit has to be keyed."""
    if field.sort == MINUTES:
        return "min"
    return "deg" if field.dimension is Dimension.ANGLE else ""


def example_of(field: StageField, system: str) -> str:
    """An example of what is keyed, in the units of the job.

    Examples
    --------
    >>> from sleevewright.jobs.catalog import field_of
    >>> example_of(field_of("casting.mass"), "metric")
    '1.45 kg'
    """
    if system == "inch" or field.span is None or field.dimension is Dimension.ANGLE:
        return field.example
    try:
        spoken = parse(field.example, field=field.title, dimension=field.span.dimension)
    except InputError:
        return field.example
    return amount(spoken.value, field.span, system)


def _span_words(field: StageField, system: str) -> str:
    """Between what a number is believed, in the units of the job; empty for other fields."""
    if field.span is None or field.sort != QUANTITY:
        return ""
    low, high = (amount(end, field.span, system) for end in (field.span.low, field.span.high))
    return f"{low} to {high}"


def dimension_of(field: StageField) -> str:
    """What a number of a field is; empty where it holds words."""
    if field.sort == MINUTES:
        return Dimension.TIME.value
    return field.span.dimension.value if field.span and field.sort == QUANTITY else ""


def rivals(heads: Iterable[Told]) -> tuple[RivalView, ...]:
    """Values that contradict each other; nothing where one stands."""
    stands = tuple(heads)
    if len(stands) < 2:
        return ()
    return tuple(RivalView(one.id, one.text, one.device) for one in stands)


def asked_of(only: str, folded: Folded, cylinder: int) -> bool:
    """Whether a part that not every cylinder has is asked about.

    Of what was not told yet, everything is asked.
    """
    flange = folded.text("sleeve.flange", cylinder=cylinder)
    cooling = folded.text("engine.cooling", cylinder=0) or folded.opened.get("cooling", "")
    return {
        "ports": is_ported(folded),
        "plain wall": not is_ported(folded),
        "flange": flange != "plain",
        "plain": flange == "plain",
        "jacket": cooling in ("water", ""),
    }.get(only, True)


FROM_A_FILE = tuple(one for cell in CELLS.values() for one in (cell, f"{cell}_from"))
"""Cells that a file fills: nobody types them into a field."""


def single_asks(sheet: StageSheet, teller: Teller) -> tuple[AskView, ...]:
    """Fields that there is one of, ticks apart."""
    return tuple(
        teller.view(field)
        for field in sheet.fields
        if not field.each
        and field.sort != TICK
        and field.cell not in FROM_A_FILE
        and teller.asks(field)
    )


def tick_asks(sheet: StageSheet, teller: Teller) -> tuple[AskView, ...]:
    """What is only ticked."""
    return tuple(
        teller.view(field) for field in sheet.ticks if not field.each and teller.asks(field)
    )


def repeated(
    sheet: StageSheet, teller: Teller, *, named: tuple[str, ...] = ()
) -> tuple[RowsView, ...]:
    """Fields that there are several of, a row for each; ``named`` ports were asked for."""
    groups: dict[str, list[StageField]] = {}
    for field in sheet.fields:
        if field.each and field.cell != PORT_NAME and teller.asks(field):
            groups.setdefault(_group(field.cell), []).append(field)
    return tuple(_rows(key, fields, teller, named) for key, fields in groups.items())


def _group(cell: str) -> str:
    """What a repeated cell belongs to: ``port``, ``old.island``, ``parent.pass``."""
    place = PORT_PLACE if PORT_PLACE in cell else NUMBER_PLACE
    return cell.partition(place)[0].rstrip("/")


def _rows(key: str, fields: list[StageField], teller: Teller, named: tuple[str, ...]) -> RowsView:
    is_port = key == "port"
    if is_port:
        names = tuple(dict.fromkeys((*port_names(teller.folded, cylinder=teller.cylinder), *named)))
    else:
        names = tuple(str(n) for n in range(1, _count(key, teller) + LEAST_ROWS + 1))
    heading = "Port" if is_port else HEADINGS.get(key.rpartition(".")[2], "Number")
    rows = tuple(
        (
            name,
            tuple(
                teller.view(field, field.cell_for(name), f"{heading} {name}, {field.title}")
                for field in fields
            ),
        )
        for name in names
    )
    return RowsView(
        key=key.replace(".", "-"),
        title="Ports" if is_port else f"{heading}s" if heading != "Pass" else "Passes",
        heading=heading,
        columns=tuple(field.title for field in fields),
        rows=rows,
        adds_name=is_port,
    )


def _count(key: str, teller: Teller) -> int:
    """The highest number of which something stands."""
    highest = 0
    for cell in teller.folded.cells(f"{key}/", cylinder=teller.cylinder):
        number = cell.removeprefix(f"{key}/").partition("/")[0]
        if number.isdigit() and teller.folded.text(cell, cylinder=teller.cylinder):
            highest = max(highest, int(number))
    return highest
