"""From what was typed to a job: the text of a job file, read by the reader of job files.

So a job without a name is refused in the same words as a written one, and what was typed
can be kept as a file that the shelf will read.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass

from sleevewright.errors import InputError, SleevewrightError
from sleevewright.jobs.jobfile import JobFileErrors, read_job
from sleevewright.jobs.model import Job
from sleevewright.web.trial.fields import BY_NAME, FIELDS, TrialField

LONGEST_ENTRY = 60
NAME = "what was typed"
PORT = "exhaust"
_WITHOUT_UNIT = re.compile(r"[\d.,\s+\-\N{MINUS SIGN}±]+")
_INDEX = re.compile(r" \d+")


@dataclass(frozen=True)
class Entries:
    """What was typed, by the names of the fields; blanks are left out."""

    texts: tuple[tuple[str, str], ...]
    system: str

    @property
    def by_name(self) -> dict[str, str]:
        """Texts by field."""
        return dict(self.texts)


class EntryErrors(SleevewrightError):
    """Entries that cannot be taken: a message for each field, and what is left over."""

    def __init__(self, by_field: Mapping[str, str], others: tuple[str, ...]) -> None:
        self.by_field = dict(by_field)
        self.others = others
        super().__init__(" ".join((*self.by_field.values(), *others)))


def entries_of(texts: Mapping[str, str], system: str) -> Entries:
    """The entries among what an address or a form brought; the rest is not ours."""
    kept = tuple(
        (field.name, texts[field.name].strip()[:LONGEST_ENTRY])
        for field in FIELDS
        if texts.get(field.name, "").strip()
    )
    return Entries(kept, system)


def with_units(entries: Entries) -> tuple[tuple[str, str], ...]:
    """The entries with the unit written behind each bare number.

    A page that is turned to the other system must not give an old number a new unit.
    """
    return tuple(
        (name, _with_unit(BY_NAME[name], text, entries.system)) for name, text in entries.texts
    )


def job_text(entries: Entries) -> str:
    """The entries as a job file.

    Examples
    --------
    >>> print(job_text(entries_of({"fit-wanted": "3.4"}, "inch")))
    [job]
    units = "inch"
    <BLANKLINE>
    [fit]
    wanted = "3.4 thou"
    <BLANKLINE>
    """
    tables: dict[str, list[str]] = {}
    for name, text in with_units(entries):
        table, _, key = BY_NAME[name].path.partition(".")
        tables.setdefault(table, []).append(f"{key} = {_quoted(text)}")
    lines = ["[job]", f"units = {_quoted(entries.system)}", ""]
    for table, rows in tables.items():
        if table == "port":
            lines += ["[[port]]", f"name = {_quoted(PORT)}", *rows, ""]
        else:
            lines += [f"[{table}]", *rows, ""]
    return "\n".join(lines)


def job_of(entries: Entries) -> Job:
    """The job that was typed; :class:`EntryErrors` where something cannot be taken."""
    try:
        return read_job(job_text(entries), name=NAME)
    except JobFileErrors as refused:
        by_field: dict[str, str] = {}
        others: list[str] = []
        for problem in refused.problems:
            field = _field_of(problem.key)
            if field is None:
                others.append(problem.text)
            else:
                by_field.setdefault(field.name, _said_at_field(problem.text, problem.key))
        raise EntryErrors(by_field, tuple(others)) from refused


def errors_of(refused: InputError) -> EntryErrors:
    """What the plan itself could not take, at its field where it names one."""
    field = _field_of(refused.field)
    if field is None:
        return EntryErrors({}, (str(refused),))
    return EntryErrors({field.name: _said_at_field(str(refused), refused.field)}, ())


def _with_unit(field: TrialField, text: str, system: str) -> str:
    unit = field.unit(system)
    return f"{text} {unit}" if unit and _WITHOUT_UNIT.fullmatch(text) else text


def _quoted(text: str) -> str:
    """Text in the quotes of a job file, whose escapes are those of JSON."""
    return json.dumps(text, ensure_ascii=False).replace("\N{DELETE}", "\\u007f")


def _field_of(key: str) -> TrialField | None:
    """The field of a key as messages name it; ports count, here there is one."""
    return BY_NAME.get(_INDEX.sub("", key).replace(".", "-"))


def _said_at_field(text: str, key: str) -> str:
    """A message without the key in front: it stands beside its field."""
    said = text.removeprefix(f"{key}: ")
    return said[:1].upper() + said[1:]
