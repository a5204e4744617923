"""From the records of a job to the document that a job file would hold.

Only what is known is taken: of a cell in which two different values stand, neither is.
The document is then read as a job file is, by the same readers.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog import port_names
from sleevewright.jobs.entries import BLANKS
from sleevewright.jobs.field import Field, Sort
from sleevewright.jobs.fields import TABLES, fields_of
from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.gaugesetting import TOLD
from sleevewright.jobs.heat_limits import least_limit, on_casting
from sleevewright.jobs.life import engine_kind
from sleevewright.jobs.livinggauges import Gauges, gauges_of
from sleevewright.jobs.model import FEATURES
from sleevewright.jobs.places import Place
from sleevewright.jobs.records import Record
from sleevewright.jobs.setreading import document_reading
from sleevewright.jobs.sets import (
    SetState,
    blanks_of,
    newest,
    places_of,
    reading_cell,
    shape_of,
    why_void,
    zero_text,
)
from sleevewright.jobs.stagefield import YES
from sleevewright.jobs.toldset import repeats_told
from sleevewright.units.dictation import written
from sleevewright.units.keyed import keyed

_OPENED_ALONE = ("job.number", "job.units", "job.invented")

PORT_KEYS = {"roof": "found.roof", "floor": "found.floor", "width": "found.width"}
"""Keys of a port of the job file, and the end of the cell that tells each."""

Problems = list[tuple[str, str]]


@dataclass
class Document:
    """The tables of a job, and which cell each value came from."""

    tables: dict[str, Any] = field(default_factory=dict)
    cells: dict[Place, str] = field(default_factory=dict)
    problems: Problems = field(default_factory=list)


def escaped(name: str) -> str:
    """A name as it stands inside of a cell."""
    return name.replace("%", "%25").replace("/", "%2F")


def document_of(folded: Folded, cylinder: int) -> Document:
    """Everything that is known of a cylinder, as tables of texts."""
    made = Document()
    made.tables["job"] = _opening(folded)
    for table in TABLES:
        if not table.repeated:
            _single(made, table.name, folded, cylinder)
    made.tables["engine"] |= {"kind": engine_kind(folded)}
    cooling = folded.text("engine.cooling", cylinder=cylinder) or folded.opened.get("cooling")
    made.tables["engine"] |= {"cooling": str(cooling or "air")}
    _dry(made, folded, cylinder)
    _limit(made, folded, cylinder)
    made.tables["port"] = list(_ports(made, folded, cylinder))
    states = [state for state in _grids(folded, cylinder) if state is not None]
    states.sort(key=lambda state: state.record.number)
    gauges = _instruments(made, folded, cylinder, states)
    made.tables["instrument"] = [dict(row) for row in gauges.rows]
    made.tables["grid"] = [
        _grid(made, index, state.record, folded) | _read_with(gauges, state.record)
        for index, state in enumerate(states)
    ]
    _tell_conflicts(made, folded, cylinder)
    _tell_void(made, folded, cylinder)
    return made


def _opening(folded: Folded) -> dict[str, Any]:
    """What was said when the job was opened."""
    opened = folded.opened
    units = opened.get("units")
    return {
        "number": folded.job,
        "title": str(opened.get("title", "")),
        "units": units if units in ("inch", "metric") else "inch",
        "invented": opened.get("invented") is True,
    }


def _single(made: Document, table: str, folded: Folded, cylinder: int) -> None:
    """The told values of one table that is there once."""
    values = made.tables.setdefault(table, {})
    for key, asked in fields_of(table).items():
        told = folded.value(asked.path, cylinder=cylinder)
        if told is not None and asked.path not in _OPENED_ALONE:
            values[key] = _said(asked, told)
            made.cells[(table, key)] = asked.path


def _said(asked: Field, told: Told) -> Any:
    """A told value as it stands in a document."""
    if asked.sort is Sort.FLAG:
        return told.text.strip().lower() == YES
    if asked.sort is Sort.CHOICE:
        return told.text.strip()
    if asked.sort is not Sort.QUANTITY:
        return told.text
    text = _plain(told.text)
    return text if told.kind == asked.kind else {"value": text, "kind": told.kind}


def _plain(text: str) -> str:
    """A text as the readers take it; as it was keyed where that says the same."""
    spoken = written(keyed(text))
    tidy = " ".join(text.replace("\N{MINUS SIGN}", "-").split())
    return text if spoken == tidy else spoken


def _dry(made: Document, folded: Folded, cylinder: int) -> None:
    """Dry and drained: as ticked where both are, else as the file said."""
    told = [folded.text(f"ready.{key}", cylinder=cylinder) for key in ("dry", "drained")]
    if all(told):
        made.tables["heat"]["dry"] = all(one.strip().lower() == YES for one in told)


def _limit(made: Document, folded: Folded, cylinder: int) -> None:
    """The casting's limit by what is on it, where nobody told one."""
    least = least_limit(on_casting(folded, cylinder))
    casting = made.tables.setdefault("casting", {})
    if least and "limit" not in casting:
        casting["limit"] = {"value": least, "kind": "assumed"}


def _ports(made: Document, folded: Folded, cylinder: int) -> Iterator[dict[str, Any]]:
    for index, name in enumerate(port_names(folded, cylinder=cylinder)):
        start = f"port/{escaped(name)}/"
        row: dict[str, Any] = {"name": folded.text(f"{start}name", cylinder=cylinder) or name}
        made.cells[("port", index)] = f"{start}name"
        for key, end in PORT_KEYS.items():
            told = folded.value(start + end, cylinder=cylinder)
            if told is not None:
                row[key] = _said(fields_of("port")[key], told)
                made.cells[("port", index, key)] = start + end
        yield row


def _grids(folded: Folded, cylinder: int) -> Iterator[SetState | None]:
    """The newest set of each feature that a plan knows."""
    for feature in FEATURES:
        found = newest(folded, feature, cylinder=cylinder)
        if feature == "parent-bore":
            one_pass = newest(folded, "parent-pass", cylinder=cylinder)
            if one_pass and (found is None or one_pass.record.number > found.record.number):
                found = one_pass
        yield found


def _instruments(made: Document, folded: Folded, cylinder: int, states: list[SetState]) -> Gauges:
    """Instruments that were told, then those that the sets were read with."""
    rows: dict[str, dict[str, Any]] = {}
    for cell in folded.cells("instrument/", cylinder=cylinder):
        _, escaped_name, key = cell.split("/", 2)
        told = folded.value(cell, cylinder=cylinder)
        if told is not None:
            name = escaped_name.replace("%2F", "/").replace("%25", "%")
            row = rows.setdefault(name, {"name": name})
            if key != "name":
                row[key] = _said(fields_of("instrument")[key], told)
    gauges = gauges_of(rows, [state.record.body for state in states])
    for index, row in enumerate(gauges.rows):
        start = f"instrument/{escaped(str(row['name']))}"
        made.cells[("instrument", index)] = start
        made.cells |= {("instrument", index, key): f"{start}/{key}" for key in row}
    return gauges


def _read_with(gauges: Gauges, record: Record) -> dict[str, Any]:
    """Under which name the document has the gauge of a set, how it was set, what it repeats to."""
    name, master = gauges.name_of(record.body), gauges.master_of(record.body)
    told = repeats_told(record.body)
    named = ({"instrument": name} if name else {}) | ({"master": master} if master else {})
    return {**named, **told}


def _grid(made: Document, index: int, record: Record, folded: Folded) -> dict[str, Any]:
    """One set of readings as a grid."""
    body = record.body
    name = str(body["set"])
    made.cells[("grid", index)] = f"set/{name}"
    is_pass = body["feature"] == "parent-pass"
    grid: dict[str, Any] = {"feature": "parent-bore" if is_pass else body["feature"]}
    for key in ("nominal", "part_temperature", "gauge_temperature"):
        if body.get(key):
            grid[key] = body[key]
    grid |= {key: body[key] for key in TOLD if body.get(key)}
    for end in ("start", "end"):
        if text := zero_text(folded, record, end):
            grid[f"zero_{end}"] = text
    if body.get("land_only"):
        grid["land_only"] = True
    readings, temperatures = _cells(made, index, record, folded)
    if is_pass:
        return grid | {"readings": _last(readings)}
    for key in ("stations", "directions"):
        if body.get(key):
            grid[key] = [keyed(one) if isinstance(one, str) else one for one in body[key]]
    grid["readings"] = readings
    if temperatures:
        grid["temperatures"] = temperatures
    return grid


def _last(readings: list[list[str]]) -> list[list[str]]:
    """The reading of the last pass alone."""
    told = [one for row in readings for one in row if one not in BLANKS]
    return [told[-1:] or ["-"]]


def _cells(
    made: Document, index: int, record: Record, folded: Folded
) -> tuple[list[list[str]], list[list[Any]]]:
    """Readings row by row, and their temperatures where any was noted."""
    rows, columns = shape_of(record.body)
    readings = [["-"] * columns for _ in range(rows)]
    temperatures: list[list[Any]] = [["-"] * columns for _ in range(rows)]
    name, blank = str(record.body["set"]), blanks_of(record.body)
    for row, column in places_of(record.body):
        cell = reading_cell(name, row, column)
        made.cells[("grid", index, "readings", row, column)] = cell
        told = folded.value(cell, cylinder=record.cylinder)
        if told is None or (row, column) in blank or told.text.strip() in BLANKS:
            continue
        try:
            readings[row][column] = document_reading(told.text, record.body, folded)
        except SleevewrightError as refused:
            made.problems.append((cell, str(refused)))
        temperatures[row][column] = told.body.get("part_temperature") or "-"
    has_any = any(one != "-" for line in temperatures for one in line)
    return readings, temperatures if has_any else []


def _tell_conflicts(made: Document, folded: Folded, cylinder: int) -> None:
    """Two values that stand for one cell."""
    for cell, heads in folded.conflicts(cylinder=cylinder).items():
        said = " and ".join(sorted({one.text.strip() or "taken back" for one in heads}))
        made.problems.append((cell, f"Two different values stand: {said}. Say which holds."))


def _tell_void(made: Document, folded: Folded, cylinder: int) -> None:
    """Sets that do not count because the gauge drifted."""
    for name, record in folded.sets.items():
        if record.cylinder not in (0, cylinder):
            continue
        typed = folded.text(f"set/{name}/void", cylinder=record.cylinder)
        why = "" if typed.strip() else why_void(folded, record)
        if why:
            made.problems.append((f"set/{name}", f"This set does not count: {why}."))
