"""A job file's job as records: what each value was, told from a file.

Reading the records gives the same job again.  What a job file cannot say, as who agreed
or which photos there are, is not invented: the holds stay open until it is told.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from contextlib import suppress
from typing import Any

from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog import field_of
from sleevewright.jobs.entries import BLANKS
from sleevewright.jobs.fields import TABLES, fields_of
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gridfile import READING_UNITS
from sleevewright.jobs.jobwriter import write_job
from sleevewright.jobs.livingdoc import PORT_KEYS, escaped
from sleevewright.jobs.model import Job
from sleevewright.jobs.records import SET, VALUE, WHOLE_JOB
from sleevewright.jobs.setreading import SIZE, exact_reading
from sleevewright.jobs.sets import reading_cell
from sleevewright.jobs.stagefield import NO, YES
from sleevewright.jobs.told import read_cell

Drafted = tuple[str, dict[str, Any]]

STAGE_OF = {
    "as-found-bore": "found",
    "sleeve-od": "sleeve",
    "sleeve-id": "sleeve",
    "flange-od": "sleeve",
    "flange-thickness": "sleeve",
    "parent-bore": "parent",
    "counterbore": "counterbore",
    "counterbore-depth": "counterbore",
}
"""At which stage a grid of a job file is taken to have been read."""

_OF_READINGS = ("readings", "temperatures", "zero_start", "zero_end")
"""Keys of a grid that become values of their own."""

_OPENED_WITH = ("job.number", "job.title", "job.units", "job.invented", "engine.kind",
                "engine.cooling")  # fmt: skip


def drafts_of_job(job: Job, *, cylinder: int = 1) -> list[Drafted]:
    """Kind and body of the records that tell a job, in order.

    Parameters
    ----------
    job : Job
        As a file told it.
    cylinder : int
        Which cylinder of the job it is.

    Returns
    -------
    list[Drafted]
        Values and sets; the record that opens the job (title, units, kind of engine,
        cooling) is made by whoever opens it.
    """
    document = tomllib.loads(write_job(job))
    folded = Folded()
    folded.opened = {"units": job.units}
    made = _Drafting(cylinder, folded)
    found: list[Drafted] = []
    for table in TABLES:
        if not table.repeated:
            found += made.table(table.name, document.get(table.name, {}))
    for row in document.get("port", []):
        found += made.port(row)
    instruments = document.get("instrument", [])
    for row in instruments:
        found += made.instrument(row)
    for index, row in enumerate(document.get("grid", [])):
        found += made.grid(f"file{index + 1:02d}", row, instruments)
    return found


class _Drafting:
    """What the records of one cylinder have in common."""

    def __init__(self, cylinder: int, folded: Folded) -> None:
        self.cylinder = cylinder
        self.folded = folded

    def table(self, name: str, values: Mapping[str, Any]) -> Iterator[Drafted]:
        """The values of a table that is there once."""
        for key, said in values.items():
            asked = fields_of(name)[key]
            if asked.path not in _OPENED_WITH:
                known = field_of(asked.path)
                per_job = known is not None and known.per_job
                yield self.value(
                    asked.path, said, asked.kind, WHOLE_JOB if per_job else self.cylinder
                )

    def port(self, row: Mapping[str, Any]) -> Iterator[Drafted]:
        """A port with what is known of it."""
        start = f"port/{escaped(row['name'])}/"
        yield self.value(f"{start}name", row["name"], "typed", self.cylinder)
        for key, end in PORT_KEYS.items():
            if key in row:
                kind = fields_of("port")[key].kind
                yield self.value(start + end, row[key], kind, self.cylinder)

    def instrument(self, row: Mapping[str, Any]) -> Iterator[Drafted]:
        """An instrument with its doubt."""
        start = f"instrument/{escaped(row['name'])}/"
        for key, said in row.items():
            kind = fields_of("instrument")[key].kind
            yield self.value(start + key, said, kind, self.cylinder)

    def grid(
        self, name: str, row: Mapping[str, Any], instruments: list[dict[str, Any]]
    ) -> Iterator[Drafted]:
        """A set and its readings."""
        body: dict[str, Any] = {
            "cylinder": self.cylinder,
            "set": name,
            "stage": STAGE_OF[row["feature"]],
            "unit": READING_UNITS[self.folded.opened["units"]],
            "entry": SIZE,
            "source": "file",
            "instruments": _chains(row, instruments),
        }
        body |= {key: said for key, said in row.items() if key not in _OF_READINGS}
        if not row.get("directions"):
            body["columns"] = max(len(line) for line in row["readings"])
        yield SET, body
        for end in ("start", "end"):
            if f"zero_{end}" in row:
                cell = f"set/{name}/zero-{end}"
                yield self.value(cell, row[f"zero_{end}"], "measured", self.cylinder)
        for down, line in enumerate(row["readings"]):
            for across, text in enumerate(line):
                if text in BLANKS:
                    continue
                extra = _temperature(row, down, across)
                yield self.reading(reading_cell(name, down, across), text, body, extra)

    def reading(
        self, cell: str, text: str, body: Mapping[str, Any], extra: dict[str, Any]
    ) -> Drafted:
        """One reading of a set."""
        told = {"cylinder": self.cylinder, "cell": cell, "text": text, **extra}
        with suppress(SleevewrightError):  # who reads the job says what is wrong with it
            told["nm"] = exact_reading(text, body, self.folded, field=cell, is_deviation=False)[0]
        return VALUE, told | {"kind": "measured", "source": "file", "replaces": []}

    def value(self, cell: str, said: Any, kind: str, cylinder: int) -> Drafted:
        """One value of a cell."""
        if isinstance(said, dict):
            said, kind = said["value"], said.get("kind", kind)
        if isinstance(said, bool):
            said = YES if said else NO
        text = said if isinstance(said, str) else repr(said)
        told: dict[str, Any] = {"cylinder": cylinder, "cell": cell, "text": text}
        with suppress(SleevewrightError):  # as above
            told |= read_cell(cell, text, folded=self.folded, cylinder=cylinder).kept
        return VALUE, told | {"kind": kind, "source": "file", "replaces": []}


def _temperature(row: Mapping[str, Any], down: int, across: int) -> dict[str, Any]:
    """Temperature of the part at one reading, where the file noted it."""
    rows = row.get("temperatures")
    said = rows[down][across] if rows else "-"
    return {} if said in BLANKS else {"part_temperature": said}


def _chains(row: Mapping[str, Any], instruments: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The instrument of a set with what it was set from, and what it was set on here."""
    found = _chain(row.get("instrument", ""), instruments)
    return [
        *found,
        *(one for one in _chain(row.get("master", ""), instruments) if one not in found),
    ]


def _chain(name: str, instruments: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The instrument of a set and what it was set from."""
    known = {row["name"]: row for row in instruments}
    found: list[dict[str, Any]] = []
    while name in known and known[name] not in found:
        found.append(known[name])
        name = known[name].get("set_from", "")
    return found
