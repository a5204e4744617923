"""Use case: the file of a data logger is looked at, proposed, and taken as a series of a job."""

from __future__ import annotations

import gzip
import zlib
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sleevewright.errors import InputError, NotFound
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import VALUE
from sleevewright.jobs.serieslog import CELLS, Floats, Series
from sleevewright.services.bench import Bench
from sleevewright.services.entry_bodies import body_of
from sleevewright.services.jobs import server_draft
from sleevewright.services.log_columns import CASTING, OVEN, UNITS, Column, read_columns
from sleevewright.services.log_series import Start, found_start, gaps_said, series_of
from sleevewright.services.log_table import LARGEST, Table, read_table
from sleevewright.services.log_times import UNITS as TIME_UNITS
from sleevewright.services.log_times import Times, read_times
from sleevewright.store.attachments import PACKED, read_attachment

LOG = "log"
"""Kind under which the file of a logger is handed in."""

NONE = "none"
EARLIER = 1440.0
"""How long before the first row a heat may have begun. [min]"""

COOL = "cool"


@dataclass(frozen=True)
class Asked:
    """What a person said of a file; empty where the proposal is good."""

    time_unit: str = ""
    casting: str = ""  # number of the column, from 1
    oven: str = ""  # the same, or none
    units: Mapping[int, str] | None = None  # of a column by its place
    start: str = ""  # minutes after the first row


@dataclass(frozen=True, eq=False)
class LogLook:
    """What a file holds and what would be kept of it."""

    table: Table
    times: Times
    columns: tuple[Column, ...]
    casting: Column | None
    oven: Column | None
    start: Start | None
    series: Series | None
    text: str
    remarks: tuple[str, ...]
    asks: tuple[str, ...]


def packed_log(content: bytes) -> bytes:
    """The file of a logger as it is kept: packed, and only where it can be read as a table.

    Raises
    ------
    InputError
        If it is no table of times and numbers.
    """
    read_times(read_table(content))
    return gzip.compress(content, 6, mtime=0)


def unpacked(content: bytes) -> bytes:
    """A kept file as it was handed in.

    Raises
    ------
    InputError
        If it is no file of a logger, or a larger one than is read.
    """
    stream = zlib.decompressobj(wbits=31)
    try:
        told = stream.decompress(content, LARGEST + 1)
    except zlib.error as error:
        raise InputError("file", "a packed file", "", "one of a logger", "Take it anew.") from error
    if len(told) > LARGEST:
        raise InputError("file", "a packed file", "", f"at most {LARGEST} bytes", "Cut it.")
    return told


def kept_logs(folded: Folded, *, stage: str, cylinder: int) -> tuple[tuple[int, str], ...]:
    """Files of loggers that were laid to a stage: record and name, the newest first."""
    own = [
        (one.number, str(one.body.get("name") or f"file {one.number}"))
        for one in folded.attachments
        if one.body.get("type") == PACKED
        and one.body.get("stage") == stage
        and one.body.get("cylinder") in (0, cylinder)
    ]
    return tuple(reversed(own))


def kept_file(bench: Bench, folded: Folded, record: int) -> bytes:
    """The file of a record.

    Raises
    ------
    NotFound
        If no such file was laid to the job.
    """
    for one in folded.attachments:
        if one.number == record and one.body.get("type") == PACKED:
            return unpacked(read_attachment(bench.folder, str(one.body["sha256"]))[0])
    known = tuple(str(one.number) for one in folded.attachments if one.body.get("type") == PACKED)
    raise NotFound("log of this job", str(record), known)


def look_at(content: bytes, key: str, asked: Asked) -> LogLook:
    """What a file holds, what is proposed of it, what must be asked.

    Raises
    ------
    InputError
        If it is no table with times, or what was said of it cannot be.
    """
    table = read_table(content)
    times = read_times(table, _one_of("time unit", asked.time_unit, tuple(TIME_UNITS)))
    units = {place: _one_of("unit", unit, UNITS) for place, unit in (asked.units or {}).items()}
    columns = read_columns(table, times, units, is_cooling=key == COOL)
    casting = _chosen(columns, asked.casting, CASTING)
    oven = None if key == COOL else _chosen(columns, asked.oven, OVEN)
    if oven is not None and casting is not None and oven.place == casting.place:
        oven = None
    asks = _asks(columns, casting, oven, times)
    remarks = (*_of_table(table), *times.remarks)
    if casting is None or asks:
        return LogLook(table, times, columns, casting, oven, None, None, "", remarks, asks)
    start = _start(times, casting, key, asked.start)
    air = None if oven is None else oven.kelvin
    series, text = series_of(times.seconds, casting.kelvin, air, start=start.seconds)
    remarks = (*remarks, *gaps_said(series))
    return LogLook(table, times, columns, casting, oven, start, series, text, remarks, ())


def _one_of(field: str, told: str, allowed: tuple[str, ...]) -> str:
    """A word of a list, or nothing."""
    if told and told not in allowed:
        raise InputError(field, told, "", ", ".join(allowed), "Choose one of them.")
    return told


def _chosen(columns: tuple[Column, ...], told: str, role: str) -> Column | None:
    """The column that was chosen, else the one that is proposed."""
    if told == NONE:
        return None
    if not told:
        return next((one for one in columns if one.role == role), None)
    known = {str(one.place + 1): one for one in columns}
    if told not in known:
        raise InputError(f"column of the {role}", told, "", ", ".join(known), "Choose one of them.")
    if known[told].refused:
        raise InputError(
            f"column of the {role}", known[told].name, "", "a column of temperatures",
            f"{known[told].refused}.",
        )  # fmt: skip
    return known[told]


def _asks(
    columns: tuple[Column, ...], casting: Column | None, oven: Column | None, times: Times
) -> tuple[str, ...]:
    """What must be answered before the file can be taken."""
    asks = [times.asks] if times.asks else []
    if casting is None:
        why = "; ".join(f"“{one.name}”: {one.refused}" for one in columns if one.refused)
        asks.append(f"Which column is the casting? {why}".strip())
    asks += [
        f"Is “{one.name}” in °C or °F? Both could be; nothing in the file says so."
        for one in (casting, oven)
        if one is not None and not one.unit
    ]
    return tuple(asks)


def _of_table(table: Table) -> tuple[str, ...]:
    """What was left out of the table itself."""
    said = []
    if table.short[0]:
        said.append(f"{table.short[0]} rows have fewer columns and are left out, the first in "
                    f"line {table.short[1]}")  # fmt: skip
    if table.step > 1:
        said.append(f"{table.rows} rows: every {table.step}th is looked at")
    return tuple(said)


def _start(times: Times, casting: Column, key: str, told: str) -> Start:
    """The start that was typed, else the one that is seen."""
    if not told.strip():
        return found_start(times.seconds, casting.kelvin, is_cooling=key == COOL)
    plain = told.strip().removesuffix("min").strip().replace(",", ".")
    try:
        minutes = float(plain)
    except ValueError as error:
        allowed = "minutes after the first row"
        raise InputError("start", told, "", allowed, "Type a number, as 3.5.") from error
    last = float(np.nanmax(times.seconds)) / 60.0
    if not -EARLIER <= minutes < last:
        allowed = f"{-EARLIER:.0f} to {last:.0f} min"
        raise InputError(
            "start", told, "min", allowed, "Count from its first row; minus is before."
        )
    return Start(minutes * 60.0, "as typed")


def shown_minutes(seconds: Floats, start: Start | None) -> Floats:
    """Minutes since the start, or since the first row. [min]."""
    return (seconds - (0.0 if start is None else start.seconds)) / 60.0


@dataclass(frozen=True)
class Taking:
    """What is to be taken where: job, cylinder, heat or cooling, the record of the file."""

    number: str
    cylinder: int
    key: str
    record: int
    asked: Asked
    person: str = ""


def take(bench: Bench, told: Taking) -> tuple[int, ...]:
    """Write the series of a file into its cells; what stood there is replaced, and kept.

    Raises
    ------
    InputError
        If something must be answered first, or it cannot be read.
    """
    folded = bench.store.folded(told.number)
    seen = look_at(kept_file(bench, folded, told.record), told.key, told.asked)
    if seen.asks or not seen.text or seen.casting is None or seen.start is None:
        why = "; ".join(seen.asks) or "it holds nothing that can be taken"
        raise InputError("file", why, "", "a file of which all is clear", "Answer it on the page.")
    drafts = []
    for cell, text in (
        (CELLS[told.key], seen.text),
        (f"{CELLS[told.key]}_from", said_from(seen, told.record)),
    ):
        said = {
            "cylinder": told.cylinder,
            "cell": cell,
            "text": text,
            "kind": "measured",
            "source": "file",
            "replaces": [one.id for one in folded.heads(cell, cylinder=told.cylinder)],
        }
        if told.person:
            said["person"] = told.person
        drafts.append(server_draft(told.number, VALUE, body_of(VALUE, said, folded)))
    return tuple(one.number for one in bench.store.append(drafts))


def said_from(seen: LogLook, record: int) -> str:
    """Where a series is from, in words."""
    parts = [f"file of record {record}"]
    for role, column in ((CASTING, seen.casting), (OVEN, seen.oven)):
        if column is not None:
            parts.append(f"{role} from column {column.place + 1} “{column.name}” in {column.unit}")
            parts += [f"{role}: {one}" for one in column.remarks]
    if seen.start is not None:
        parts.append(f"begun {seen.start.seconds / 60.0:.1f} min after its first row, "
                     f"{seen.start.why}")  # fmt: skip
    return "; ".join((*parts, *seen.remarks))[:2000]
