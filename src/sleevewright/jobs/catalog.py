"""Every stage of the route with everything that it asks for: the one table behind the pages.

A cell is known where this table, the tables of the job file, or a set of readings know it;
what is told for any other name is refused.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from sleevewright.errors import NotFound
from sleevewright.jobs.catalog_cuts import CUTS
from sleevewright.jobs.catalog_end import END
from sleevewright.jobs.catalog_front import FRONT, OPTIONS, TO_BE
from sleevewright.jobs.catalog_hot import HOT
from sleevewright.jobs.fields import fields_of
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.life import AFTER, LIFE, engine_kind, is_ported, life_of, stages_of
from sleevewright.jobs.route import Stage
from sleevewright.jobs.stagefield import (
    NUMBER_PLACE,
    PORT_PLACE,
    StageField,
    StageGrid,
    StageSheet,
    date,
    keyed_as,
    minutes,
    words,
)

__all__ = [
    "AFTER",
    "EVENTS",
    "LIFE",
    "OPTIONS",
    "TO_BE",
    "Stage",
    "StageField",
    "StageGrid",
    "StageSheet",
    "engine_kind",
    "field_of",
    "grid_of_feature",
    "is_ported",
    "life_of",
    "port_names",
    "sheet_of",
    "simple_cells",
    "stages_of",
]

WAITS = (
    words("waits.for", "Waits for", "What has to come before the work goes on.", "the piston",
          per_job=True),
    date("waits.until", "Waits until", "When it is due.", per_job=True),
)  # fmt: skip
KEPT = (
    words("place", "Lies at", "Where the part lies.", "shelf 3, left", per_job=True),
    date("promised", "Promised for", "Day that was promised to the customer.", per_job=True),
)

_SHEETS: dict[str, StageSheet] = {}
for _sheet in (*FRONT, *CUTS, *HOT, *END):
    _time = minutes(f"operation.{_sheet.stage}.minutes", "Minutes worked", "Touch time, all told.")
    _planned = minutes(f"operation.{_sheet.stage}.planned", "Minutes planned", "As quoted.")
    _kept = KEPT if _sheet.stage == "intake" else ()
    _SHEETS[_sheet.stage] = replace(
        _sheet, fields=(*_sheet.fields, *_kept, *WAITS, _planned, _time)
    )

EVENTS = tuple(dict.fromkeys(what for sheet in _SHEETS.values() for what in sheet.events))
"""Everything that can happen, as events tell it."""

_INSTRUMENT = tuple(
    replace(keyed_as(f"instrument.{key}", key.replace("_", " ")), cell=f"instrument/<port>/{key}")
    for key in fields_of("instrument")
)


def sheet_of(stage: str) -> StageSheet:
    """Everything that a stage asks for; :class:`NotFound` where there is no such stage."""
    if stage not in _SHEETS:
        raise NotFound("stage", stage, tuple(_SHEETS))
    return _SHEETS[stage]


def field_of(cell: str) -> StageField | None:
    """What a cell is; nothing where no stage knows it.

    Examples
    --------
    >>> field_of("port/main left/found.roof").title
    'Roof below the deck'
    """
    fixed, patterns = _known()
    if cell in fixed:
        return fixed[cell]
    for pattern, field in patterns:
        if pattern.fullmatch(cell):
            return replace(field, cell=cell)
    return None


@cache
def _known() -> tuple[dict[str, StageField], tuple[tuple[re.Pattern[str], StageField], ...]]:
    """Fields by name, and by pattern where a port or a number stands in the name."""
    fixed: dict[str, StageField] = {}
    patterns: dict[str, tuple[re.Pattern[str], StageField]] = {}
    for field in (*(one for sheet in _SHEETS.values() for one in sheet.fields), *_INSTRUMENT):
        if not field.each:
            fixed.setdefault(field.cell, field)
            continue
        pattern = re.escape(field.cell)
        pattern = pattern.replace(re.escape(PORT_PLACE), r"[^/\x00-\x1f]{1,60}")
        pattern = pattern.replace(re.escape(NUMBER_PLACE), r"[1-9][0-9]{0,2}")
        patterns.setdefault(field.cell, (re.compile(pattern), field))
    return fixed, tuple(patterns.values())


@cache
def grid_of_feature(feature: str, *, stage: str = "") -> StageGrid | None:
    """What a set of readings is of: as this stage asks for it, else the first that does."""
    found = [
        (sheet.stage, grid)
        for sheet in _SHEETS.values()
        for grid in sheet.grids
        if grid.feature == feature
    ]
    own = [grid for key, grid in found if key == stage]
    all_of_it = own or [grid for _, grid in found]
    return all_of_it[0] if all_of_it else None


def port_names(folded: Folded, *, cylinder: int = 1) -> tuple[str, ...]:
    """Names of the ports of which something was told, in the order of the telling."""
    return folded.once(("ports", cylinder), lambda: _port_names(folded, cylinder))


def _port_names(folded: Folded, cylinder: int) -> tuple[str, ...]:
    """The same, looked for among the cells."""
    names = (
        cell.split("/")[1].replace("%2F", "/").replace("%25", "%")
        for cell in folded.cells("port/", cylinder=cylinder)
        if folded.text(cell, cylinder=cylinder) or folded.heads(cell, cylinder=cylinder)[1:]
    )
    return tuple(dict.fromkeys(names))


def simple_cells(job: Folded | str) -> tuple[StageField, ...]:
    """What a simple job of this kind of engine needs told, besides its grids.

    ``job`` is a folded job or a kind of engine.
    """
    kind = job if isinstance(job, str) else engine_kind(job)
    has_ports = any(stage.key == "ports" for stage in stages_of(kind))
    return tuple(
        field
        for stage in stages_of(kind)
        for field in _SHEETS[stage.key].fields
        if field.simple
        and field.only != "jacket"
        and (field.only != "ports" or has_ports)
        and (field.only != "plain wall" or not has_ports)
    )
