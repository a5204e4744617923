"""JSON Schema of the job file, made from the table of its keys (draft 2020-12).

Editors that know JSON Schema check a job file while it is typed.  What the schema cannot
say, as that one size lies inside of another, the reader says.
"""

from __future__ import annotations

import re
from typing import Any

from sleevewright.jobs.entries import KINDS
from sleevewright.jobs.field import Field, Sort
from sleevewright.jobs.fields import FIELDS, TABLES, Table, fields_of
from sleevewright.units import Dimension
from sleevewright.units.known import UNITS

_NUMBER = r"[+\-−]?\s*(\d[\d.,]*|[.,]\d+)(\s*[x×·*]\s*10\s*\^?\s*[+\-]?\d+|[eE][+\-]?\d+)?"
_BLANK = r"\s*[-–—]?\s*"
_NEEDED = {"port": ["name"], "instrument": ["name"], "grid": ["feature", "readings"]}

SCHEMA_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def job_schema() -> dict[str, Any]:
    """The schema of a job file as one JSON document."""
    return {
        "$schema": SCHEMA_DIALECT,
        "title": "Job file of Sleevewright",
        "description": "A cylinder on its way through the shop. Units stand in the values.",
        "type": "object",
        "additionalProperties": False,
        "properties": {table.name: _table_schema(table) for table in TABLES},
        "$defs": _definitions(),
    }


def _table_schema(table: Table) -> dict[str, Any]:
    """One table, or a list of them."""
    keys = fields_of(table.name).values()
    schema: dict[str, Any] = {
        "type": "object",
        "description": table.doc,
        "additionalProperties": False,
        "properties": {field.key: _field_schema(field) for field in keys},
    }
    if table.name in _NEEDED:
        schema["required"] = _NEEDED[table.name]
    return {"type": "array", "items": schema} if table.repeated else schema


def _field_schema(field: Field) -> dict[str, Any]:
    """One key, with its sentence and what happens without it."""
    told = f"{field.doc} Left out: {field.without}." if field.without else field.doc
    return {"description": told} | _value_schema(field)


def _value_schema(field: Field) -> dict[str, Any]:
    """What may stand right of the equals sign."""
    plain: dict[Sort, dict[str, Any]] = {
        Sort.TEXT: {"type": "string"},
        Sort.CHOICE: {"enum": list(field.allowed)},
        Sort.FLAG: {"type": "boolean"},
        Sort.READINGS: _rows({"type": "string", "pattern": _reading_pattern()}),
    }
    if field.pattern:
        return {"type": "string", "pattern": f"^({field.pattern})?$"}
    if field.sort in plain:
        return plain[field.sort]
    if field.span is None:
        raise TypeError(f"{field.path} is not a quantity")
    one = {"$ref": f"#/$defs/{_name(field.span.dimension)}"}
    if field.sort is Sort.ROWS:
        return _rows(one)
    return {"type": "array", "items": one} if field.sort is Sort.LIST else one


def _rows(cell: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "minItems": 1, "items": {"type": "array", "items": cell}}


def _name(dimension: Dimension) -> str:
    """Name of a kind of quantity among the definitions."""
    return dimension.value.replace(" ", "-")


def _definitions() -> dict[str, Any]:
    """Each kind of quantity that the job file knows."""
    kinds = {field.span.dimension for field in FIELDS if field.span is not None}
    return {_name(kind): _quantity(kind) for kind in sorted(kinds)}


def _quantity(dimension: Dimension) -> dict[str, Any]:
    """A text with its unit, or the same with its kind and doubt beside it."""
    value: dict[str, Any] = {"type": "string", "pattern": _pattern(dimension)}
    bare = {"type": "number"}
    said = [value, bare] if dimension is Dimension.RATIO else [value]
    inline = {
        "type": "object",
        "additionalProperties": False,
        "required": ["value"],
        "properties": {
            "value": {"anyOf": said},
            "kind": {"enum": list(KINDS)},
            "doubt": {"anyOf": [{"type": "string"}, bare]},
        },
    }
    return {"anyOf": [*said, inline]}


def _pattern(dimension: Dimension) -> str:
    """A number at the start and a unit of its kind behind a number, or a blank."""
    if dimension is Dimension.RATIO:
        return rf"^({_BLANK}|\s*{_NUMBER}.*)$"
    words = "|".join(re.escape(word) for word in _unit_words(dimension))
    return rf"^({_BLANK}|\(?\s*{_NUMBER}(.*[\d\s.,)])?({words})([\s±+)].*)?)$"


def _unit_words(dimension: Dimension) -> list[str]:
    """Every spelling of the units of a kind, the longest first."""
    spelled: set[str] = set()
    for unit in UNITS:
        if unit.dimension is dimension and unit.symbol != "1":
            for word in (unit.symbol, *unit.words):
                spelled |= {word, word.replace("µ", "u")}
    return sorted(spelled, key=lambda word: (-len(word), word))


def _reading_pattern() -> str:
    """A whole size, a difference with its sign, or a blank."""
    return rf"^({_BLANK}|\s*{_NUMBER}[^%]*)$"
