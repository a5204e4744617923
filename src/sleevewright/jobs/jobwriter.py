"""A job written as a job file: what was typed stays as it was typed.

Reading what is written here gives the same job.  An entry whose text alone would not be
read back, as one that counted on a field's own unit, is written in SI with all its digits.
"""

from __future__ import annotations

import json
from typing import Any

from sleevewright.errors import InputError
from sleevewright.jobs.field import Field, Sort, Span
from sleevewright.jobs.fields import TABLES, Table, fields_of
from sleevewright.jobs.gridfile import READING_UNITS, SIZE_UNITS
from sleevewright.jobs.model import Entry, Grid, Job
from sleevewright.units import Dimension, Spoken, parse

_SI = {
    Dimension.LENGTH: "m",
    Dimension.TEMPERATURE: "K",
    Dimension.TEMPERATURE_DIFFERENCE: "K",
    Dimension.MASS: "kg",
    Dimension.PRESSURE: "Pa",
    Dimension.TIME: "s",
    Dimension.ANGLE: "rad",
    Dimension.EXPANSION: "1/K",
    Dimension.RATIO: "",
}


def write_job(job: Job) -> str:
    """The text of a job file that tells this job.

    Numbers that were not told are left out; the few words that have a default (units,
    invented, kind, cooling) are always written, so that the file says what it stands for.

    Examples
    --------
    >>> print(write_job(Job(number="J-31", units="metric")), end="")
    [job]
    number = "J-31"
    units = "metric"
    invented = false
    <BLANKLINE>
    [engine]
    kind = "two-stroke"
    cooling = "air"
    """
    tables: list[str] = []
    for table in TABLES:
        if table.repeated:
            tables += [_table(table, one, job) for one in getattr(job, table.attribute)]
        else:
            record = getattr(job, table.attribute) if table.attribute else job
            tables.append(_table(table, record, job))
    return "\n".join(table for table in tables if table)


def _table(table: Table, record: Any, job: Job) -> str:
    """One table with what was told in it; nothing where nothing was."""
    lines = [
        f"{key} = {written}"
        for key, field in fields_of(table.name).items()
        if (written := _written(field, getattr(record, key), record, job))
    ]
    if not lines:
        return ""
    head = f"[[{table.name}]]" if table.repeated else f"[{table.name}]"
    return "\n".join([head, *lines]) + "\n"


def _written(field: Field, value: Any, record: Any, job: Job) -> str:
    """Right of the equals sign; empty where there is nothing to say."""
    if field.sort is Sort.QUANTITY:
        return "" if value is None else _entry(field, value)
    if field.sort is Sort.LIST:
        return f"[{', '.join(_entry(field, entry) for entry in value)}]" if value else ""
    if field.sort in (Sort.READINGS, Sort.ROWS):
        return _rows(field, value, record, job) if value else ""
    if isinstance(value, bool):
        return str(value).lower()
    if value in (None, "") or (field.path == "job.units" and value == Job().units):
        return ""
    return _quoted(value)


def _entry(field: Field, entry: Entry) -> str:
    """An entry as its text; in a table of its own where its kind is not the usual one."""
    text = entry.text if _reads_back(field, entry) else _in_si(field, entry)
    shown = _quoted(text)
    return shown if entry.kind == field.kind else f'{{ value = {shown}, kind = "{entry.kind}" }}'


def _reads_back(field: Field, entry: Entry) -> bool:
    """Whether the text alone says the value and its doubt."""
    try:
        said = parse(entry.text, field=field.key, dimension=_span(field).dimension)
    except InputError:
        return False
    return _is_same(said, entry)


def _is_same(said: Spoken, entry: Entry) -> bool:
    return said.value == entry.value and said.doubt == entry.doubt


def _in_si(field: Field, entry: Entry) -> str:
    """The value with all its digits, in SI."""
    unit = _SI[_span(field).dimension]
    doubt = "" if entry.doubt is None else f" ± {entry.doubt!r}"
    return f"{entry.value!r}{doubt} {unit}".strip()


def _span(field: Field) -> Span:
    """The span of a quantity; the table of fields gives one to every quantity."""
    if field.span is None:
        raise TypeError(f"{field.path} is not a quantity")
    return field.span


def _rows(field: Field, rows: tuple[tuple[Entry | None, ...], ...], grid: Grid, job: Job) -> str:
    """Rows of readings or temperatures, blanks as a dash."""
    lines = []
    for row in rows:
        cells = []
        for entry in row:
            if entry is None:
                cells.append('"-"')
            elif field.sort is Sort.ROWS:
                cells.append(_entry(field, entry))
            else:
                cells.append(_quoted(_reading(field, entry, grid, job)))
        lines.append("    [" + ", ".join(cells) + "],")
    return "\n".join(["[", *lines, "]"])


def _reading(field: Field, entry: Entry, grid: Grid, job: Job) -> str:
    """A reading as it was pencilled, where the grid's nominal gives it back."""
    nominal = None if grid.nominal is None else grid.nominal.value
    unit = (SIZE_UNITS if nominal is None else READING_UNITS)[job.units]
    try:
        said = parse(
            entry.text,
            field=field.key,
            dimension=Dimension.LENGTH,
            nominal=nominal,
            unit=unit,
        )
    except InputError:
        return _in_si(field, entry)
    return entry.text if _is_same(said, entry) else _in_si(field, entry)


def _quoted(text: str) -> str:
    """A string of TOML; JSON writes the same but for one letter."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
