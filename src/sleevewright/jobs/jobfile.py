"""A job file read: TOML that a person wrote becomes a job, or a list of what to put right.

Nothing is guessed and nothing is dropped: a key that is not known is refused with the
nearest one that is, and a file with one fault gives no job at all.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from typing import Any

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.entries import read_entry
from sleevewright.jobs.field import Field, Sort
from sleevewright.jobs.fields import FIELDS, TABLES, Table, fields_of
from sleevewright.jobs.gridfile import read_grid
from sleevewright.jobs.model import (
    Choice,
    Engine,
    Grid,
    Heat,
    Instrument,
    Job,
    Part,
    Piston,
    Port,
    Running,
)
from sleevewright.jobs.places import Place, places
from sleevewright.jobs.problems import Findings, JobFileErrors, Problem, key_of, nearest
from sleevewright.jobs.sense import check_sense

__all__ = ["JobFileErrors", "Problem", "read_job"]

_AT_LINE = re.compile(r" \(at line (\d+), column \d+\)| \(at end of document\)")
_BARE_QUANTITY = re.compile(r"=\s*[+\-\N{MINUS SIGN}]?[\d.,]+\s*[^\s\d#,\]}]")

_RECORDS: dict[str, Callable[..., object]] = {
    "engine": Engine,
    "casting": Part,
    "sleeve": Part,
    "fit": Choice,
    "running": Running,
    "heat": Heat,
    "piston": Piston,
    "port": Port,
    "instrument": Instrument,
    "grid": Grid,
}
_NEEDED = {"port": ("name",), "instrument": ("name",), "grid": ("feature", "readings")}


def read_job(text: str, *, name: str) -> Job:
    """The job that a file tells.

    Parameters
    ----------
    text : str
        The file's text.
    name : str
        What to call the file in messages.

    Returns
    -------
    Job
        Everything that was told, in SI.

    Raises
    ------
    JobFileErrors
        If anything in it cannot be taken; all that was found is told together.
    """
    text = text.removeprefix("\N{ZERO WIDTH NO-BREAK SPACE}")
    document = _parsed(text, name)
    findings = Findings(name, places(text), _system(document))
    _refuse_unknown_tables(document, findings)
    job = job_of(document, findings)
    findings.refuse()
    check_sense(job, findings)
    findings.refuse()
    return job


def _parsed(text: str, name: str) -> dict[str, object]:
    """The document, or the one fault at which reading stopped."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        told = str(fault)
        found = _AT_LINE.search(told)
        line = int(found[1]) if found and found[1] else text.count("\n") + 1
        words = clipped(_AT_LINE.sub("", told))
        raise JobFileErrors(name, (Problem(line, "", _syntax(words, text, line)),)) from None
    except RecursionError:
        told = "Brackets inside of brackets, far deeper than a job file needs."
        raise JobFileErrors(name, (Problem(0, "", told),)) from None


def _syntax(words: str, text: str, line: int) -> str:
    """What is wrong with the writing, with the likely cure."""
    written = text.splitlines()[line - 1] if line <= text.count("\n") + 1 and text else ""
    if _BARE_QUANTITY.search(written) and '"' not in written:
        return 'A value with a unit stands in quotes, as 3.5 thou in wanted = "3.5 thou".'
    if words.startswith(("Cannot declare", "Cannot overwrite")):
        return f"{words}: it is there twice; keep one of them."
    return f"{words}. This line is not TOML; a key, an equals sign and a value belong on it."


def _refuse_unknown_tables(document: dict[str, object], findings: Findings) -> None:
    """Every name at the outermost level is a table that is known."""
    known = [table.name for table in TABLES]
    for key, value in document.items():
        if key in known:
            continue
        home = [field.table for field in FIELDS if field.key == key]
        if home and not isinstance(value, dict | list):
            findings.add((key,), f"{key} belongs in a table: write [{home[0]}] above it.")
        else:
            findings.add((key,), f"There is no table [{clipped(key)}]; {nearest(key, known)}")


def job_of(document: dict[str, object], findings: Findings) -> Job:
    """The records of all tables."""
    values: dict[str, Any] = {}
    for table in TABLES:
        if table.name not in document:
            continue
        raw = document[table.name]
        if table.repeated:
            rows = enumerate(_rows(table, raw, findings))
            values[table.attribute] = tuple(
                _record(table, row, (table.name, index), findings) for index, row in rows
            )
        elif not isinstance(raw, dict):
            findings.add((table.name,), f"{table.name} is a table: write [{table.name}].")
        elif table.attribute:
            values[table.attribute] = _record(table, raw, (table.name,), findings)
        else:
            values |= _values(table, raw, (table.name,), findings)
    return Job(**values)


def _system(document: dict[str, object]) -> str:
    """Units of the job, needed before anything else is read."""
    job = document.get("job")
    units = job.get("units") if isinstance(job, dict) else None
    return units if units in ("inch", "metric") else "inch"


def _rows(table: Table, raw: object, findings: Findings) -> list[dict[str, object]]:
    """The elements of a table that may be there more than once."""
    if isinstance(raw, list) and all(isinstance(row, dict) for row in raw):
        return raw
    findings.add((table.name,), f"{table.name} may be there twice: write [[{table.name}]].")
    return []


def _record(table: Table, raw: dict[str, object], place: Place, findings: Findings) -> object:
    """One record of the model."""
    for key in _NEEDED.get(table.name, ()):
        if not raw.get(key):
            field = fields_of(table.name)[key]
            told = f"{key_of(place)}: {key} is missing; write {key} = {field.example}."
            findings.add(place, told)
    values = _values(table, raw, place, findings)
    for key in _NEEDED.get(table.name, ()):
        values.setdefault(key, ())
    return _RECORDS[table.name](**values)


def _values(
    table: Table, raw: dict[str, object], place: Place, findings: Findings
) -> dict[str, Any]:
    """Values of the known keys of one table; unknown keys are refused."""
    known = fields_of(table.name)
    values: dict[str, Any] = {}
    for key, said in raw.items():
        if key not in known:
            findings.add((*place, key), _unknown_key(table, key, known))
        elif known[key].sort in (Sort.LIST, Sort.READINGS, Sort.ROWS):
            continue
        else:
            values[key] = _value(known[key], said, (*place, key), findings)
    if table.name == "grid":
        nominal = values.get("nominal")
        values |= read_grid(raw, place, findings, nominal=nominal)
    return values


def _unknown_key(table: Table, key: str, known: dict[str, Field]) -> str:
    """Where a key belongs, or the nearest that is known."""
    home = [field.table for field in FIELDS if field.key == key]
    if home:
        return f"{table.name} has no {clipped(key)!r}; that belongs in [{home[0]}]."
    return f"{table.name} has no {clipped(key)!r}; {nearest(key, known)}"


def _value(field: Field, said: object, place: Place, findings: Findings) -> object:
    """One value of the sort that its key wants."""
    if field.sort is Sort.QUANTITY:
        return read_entry(field, said, place, findings)
    if field.sort is Sort.FLAG:
        if not isinstance(said, bool):
            told = f"{key_of(place)}: {clipped(repr(said))} cannot be used; write true or false."
            findings.add(place, told)
        return said
    if not isinstance(said, str):
        told = f"{key_of(place)}: words in quotes are expected, as {field.key} = {field.example}."
        findings.add(place, told)
        return ""
    if field.sort is Sort.CHOICE and said not in field.allowed:
        findings.add(
            place,
            f"{key_of(place)}: {clipped(said)!r} is not known; {nearest(said, field.allowed)}",
        )
    if field.pattern and said and not re.fullmatch(field.pattern, said):
        hint = f"As {field.key} = {field.example}."
        findings.add(place, str(InputError(key_of(place), repr(said), "", field.letters, hint)))
    return said
