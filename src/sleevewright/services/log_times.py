"""The times of a logger's file in seconds: clocks, dates, elapsed times, and what is odd there."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

import numpy as np

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.serieslog import Floats
from sleevewright.services.log_table import Table, is_number

DAY, HOUR = 86400.0, 3600.0
UNITS = {"s": 1.0, "min": 60.0, "h": 3600.0, "ms": 1e-3}
MOST_BACK = 0.02
"""Share of rows whose time may lie before the one above; they are left out, and said."""

_CLOCK = re.compile(
    r"(\d{1,4}):(\d{1,2})(?::(\d{1,2}(?:[.,]\d{1,6})?))?\s*([AaPp])?\.?(?:[Mm]\.?)?"
)
_DATE = re.compile(r"(\d{1,4})[./\-](\d{1,2})[./\-](\d{1,4})")
_ZONE = re.compile(r"(?<=\d)\s*(?:Z|UTC|[+-]\d{2}:?\d{2})$")
_UNIT_WORDS = (
    ("ms", r"\bms\b|millisec"),
    ("min", r"\bmin(?:ute)?s?\b"),
    ("h", r"\bh\b|\bhrs?\b|\bhours?\b"),
    ("s", r"\bs\b|\bsecs?\b|\bseconds?\b"),
)


@dataclass(frozen=True, eq=False)
class Times:
    """Times of the rows.

    Attributes
    ----------
    seconds : Floats
        Since the first row; no number where a row has no usable time. (n,) [s]
    columns : tuple[int, ...]
        Columns that they stand in.
    first : float | None
        The first row by the logger's own clock, since 1970 as if it were UTC; nothing where
        the file has no date. [s]
    remarks : tuple[str, ...]
        What was odd, and what was made of it.
    asks : str
        What must be answered before they can be used; empty where nothing.
    """

    seconds: Floats
    columns: tuple[int, ...]
    first: float | None = None
    remarks: tuple[str, ...] = ()
    asks: str = ""


def read_times(table: Table, unit: str = "") -> Times:
    """Times of a table's rows; ``unit`` is that of bare numbers where the heading says none.

    Raises
    ------
    InputError
        If no column holds times, or they do not rise.
    """
    for make in (_moments, _clocks, _numbers):
        found = make(table, unit)
        if found is not None:
            return found
    row = " | ".join(column[0] for column in table.columns)
    raise InputError(
        f"file, line {table.lines[0]}", clipped(row), "",
        "a column of times: a clock, a date with a clock, or seconds or minutes that rise",
        "Export the log with its times.",
    )  # fmt: skip


def _share(cells: Sequence[str], is_so: Callable[[str], object]) -> float:
    few = cells[:: max(1, len(cells) // 200)]
    return sum(bool(is_so(cell)) for cell in few) / len(few)


def _tidy(cell: str) -> str:
    return _ZONE.sub("", cell.strip().replace("T", " ", 1))


def _moments(table: Table, _unit: str) -> Times | None:
    """A column of dates with the clock in it, or in a column beside it."""
    for i, column in enumerate(table.columns):
        if _share(column, lambda cell: _DATE.match(_tidy(cell))) < 0.7:
            continue
        cells, used = [_tidy(cell) for cell in column], [i]
        if _share(cells, lambda cell: ":" in cell) < 0.7:
            j = next((k for k in range(len(table.columns)) if k != i and _is_clock(table, k)), None)
            if j is None:
                continue
            beside = table.columns[j]
            cells = [f"{a} {_tidy(b)}" for a, b in zip(cells, beside, strict=True)]
            used = [i, j]
        days, remark = _days([_DATE.match(cell) for cell in cells])
        clocks = np.array([_clock(_DATE.sub("", cell, count=1)) for cell in cells])
        return _ordered(table, days + clocks, tuple(used), remark, has_date=True)
    return None


def _days(found: Sequence[re.Match[str] | None]) -> tuple[Floats, tuple[str, ...]]:
    """Days of dates in seconds; whether day or month stands first is seen from all of them."""
    parts = [None if one is None else tuple(map(int, one.groups())) for one in found]
    known = {one for one in parts if one is not None}
    remark: tuple[str, ...] = ()
    if any(one[0] > 31 for one in known):
        order = (0, 1, 2)
    elif any(one[1] > 12 for one in known):
        order = (2, 0, 1)
    elif any(one[0] > 12 for one in known) or "." in "".join(m[0] for m in found[:1] if m):
        order = (2, 1, 0)
    else:
        month, day = (_spread(known, order) for order in ((2, 0, 1), (2, 1, 0)))
        order = (2, 0, 1) if month < day else (2, 1, 0)
        if month == day:
            remark = (("Whether day or month stands first in its dates cannot be told; "
                      "it moves no time within the log."),)  # fmt: skip
    stamps = {one: _stamp(one, order) for one in known}
    return np.array([np.nan if one is None else stamps[one] for one in parts]), remark


def _spread(known: set[tuple[int, ...]], order: tuple[int, int, int]) -> float:
    stamps = [_stamp(one, order) for one in known]
    return float(max(stamps) - min(stamps)) if stamps else 0.0


def _stamp(parts: tuple[int, ...], order: tuple[int, int, int]) -> float:
    """Seconds since 1970 of a day; no number where it is none."""
    year, month, day = (parts[i] for i in order)
    try:
        return datetime(year + 2000 if year < 100 else year, month, day, tzinfo=UTC).timestamp()
    except (ValueError, OverflowError):
        return np.nan


def _clock(text: str) -> float:
    """Seconds of a clock time or of hours, minutes and seconds that passed."""
    found = _CLOCK.fullmatch(text.strip())
    if found is None:
        return np.nan
    hours, minutes = int(found[1]), int(found[2])
    if found[4] is not None:
        hours = hours % 12 + (12 if found[4].lower() == "p" else 0)
    if found[3] is None:
        return hours * HOUR + minutes * 60.0
    return hours * HOUR + minutes * 60.0 + float(found[3].replace(",", "."))


def _is_clock(table: Table, i: int) -> bool:
    return _share(table.columns[i], lambda cell: _CLOCK.fullmatch(_tidy(cell))) >= 0.7


_TWO_PART = re.compile(r"\d{1,4}:\d{1,2}")
BEGINNING = 600.0
"""A clock of two parts that begins before ten past midnight may as well be minutes. [s]"""


def _clocks(table: Table, unit: str) -> Times | None:
    """A column of clock or elapsed times without a date; past midnight it goes on."""
    place = next((i for i in range(len(table.columns)) if _is_clock(table, i)), None)
    if place is None:
        return None
    cells = [_tidy(cell) for cell in table.columns[place]]
    seconds = np.array([_clock(cell) for cell in cells])
    told = _two_parts(table.names[place], cells, seconds, unit)
    if told == "min":
        return _ordered(table, seconds / 60.0, (place,), ("Its times are minutes and seconds.",))
    known = np.flatnonzero(np.isfinite(seconds))
    steps = np.diff(seconds[known])
    passes = np.concatenate(([0.0], np.cumsum(steps < -0.5 * DAY)))
    seconds[known] += passes * DAY
    remark = ("Its clock passed midnight.",) if passes[-1:].any() else ()
    found = _ordered(table, seconds, (place,), remark)
    return found if told else replace(found, asks=ASK_PARTS.format(table.names[place], cells[-1]))


ASK_PARTS = (
    "Are the times of “{}”, the last of them {}, minutes and seconds (min) or hours and "
    "minutes (h)?"
)


def _two_parts(name: str, cells: Sequence[str], seconds: Floats, unit: str) -> str:
    """Whether times of two parts are minutes and seconds or hours and minutes; empty to ask."""
    if _share(cells, _TWO_PART.fullmatch) < 0.7:
        return "h"
    plain = name.lower()
    if unit in ("min", "h"):
        return unit
    if "mm:ss" in plain or any(one.split(":")[0] > "23" and len(one.split(":")[0]) > 1
                               for one in cells if _TWO_PART.fullmatch(one)):  # fmt: skip
        return "min"
    begins = float(np.nanmin(seconds[: max(1, len(seconds) // 10)]))
    return "h" if "hh:mm" in plain or begins > BEGINNING else ""


def _numbers(table: Table, unit: str) -> Times | None:
    """A column of numbers that rise; of several, the one whose heading says time."""
    rising = []
    for i, column in enumerate(table.columns):
        if _share(column, is_number) < 0.7:
            continue
        values = numbers_of(column)
        steps = np.diff(values[np.isfinite(values)])
        if steps.size and np.mean(steps > 0.0) > 0.95:
            says = bool(re.search(r"time|elapsed|zeit|date", table.names[i].lower()))
            rising.append((not (says or _unit_said(table.names[i])), i, values))
    if not rising:
        return None
    _, place, values = min(rising, key=lambda one: one[:2])
    begin, span = float(np.nanmin(values)), float(np.nanmax(values) - np.nanmin(values))
    if 20_000.0 < begin < 80_000.0 and span < 30.0:
        return _ordered(table, values * DAY - 25_569.0 * DAY, (place,), (), has_date=True)
    if 1e9 < begin < 4e9:
        return _ordered(table, values, (place,), (), has_date=True)
    if 1e12 < begin < 4e12:
        return _ordered(table, values * 1e-3, (place,), (), has_date=True)
    said = _unit_said(table.names[place]) or unit
    asks = "" if said in UNITS else (
        f"Are the times of “{table.names[place]}” seconds, minutes or hours? They run from "
        f"{begin:.6g} to {begin + span:.6g}."
    )  # fmt: skip
    found = _ordered(table, values * UNITS.get(said, 1.0), (place,), ())
    return Times(found.seconds, found.columns, None, found.remarks, asks)


def _unit_said(name: str) -> str:
    return next(
        (unit for unit, words in _UNIT_WORDS if re.search(words, name.lower().replace("_", " "))),
        "",
    )


def numbers_of(cells: Sequence[str]) -> Floats:
    """Numbers of texts; no number where there is none."""
    try:
        return np.array(cells, dtype=np.float64)
    except ValueError:
        return np.array([_number(cell) for cell in cells])


def _number(cell: str) -> float:
    plain = cell.strip().rstrip("CFKdeg° ").replace(",", ".")
    return float(plain) if is_number(cell) else np.nan


def _ordered(
    table: Table,
    seconds: Floats,
    columns: tuple[int, ...],
    remarks: tuple[str, ...],
    *,
    has_date: bool = False,
) -> Times:
    """Times that rise: a clock set back is gone on with, a row out of its order is left out."""
    told, said = seconds.copy(), list(remarks)
    bad = ~np.isfinite(told)
    if bad.mean() > 0.5:
        line = table.lines[int(np.argmax(bad))]
        cell = " ".join(table.columns[i][int(np.argmax(bad))] for i in columns)
        hint = "Export the log with its times."
        raise InputError(f"file, line {line}", clipped(cell), "", "a time", hint)
    if bad.any():
        first = table.lines[int(np.argmax(bad))]
        said.append(f"{int(bad.sum())} rows have no readable time and are left out, the first in "
                    f"line {first}.")  # fmt: skip
    known = np.flatnonzero(~bad)
    _set_back(told, known, table, said)
    _spread_minutes(told, known, said)
    _out_of_order(told, known, table, said)
    begin = float(told[np.isfinite(told)][0])
    return Times(told - begin, columns, begin if has_date else None, tuple(said))


def _set_back(told: Floats, known: np.ndarray, table: Table, said: list[str]) -> None:
    """Go on past a clock that was set back by an hour, as in autumn."""
    values = told[known]
    steps = np.diff(values)
    usual = float(np.median(steps[steps > 0.0])) if np.any(steps > 0.0) else 0.0
    back = np.abs(steps + HOUR - usual) <= max(2.0 * usual, 1.0)
    back &= steps < -0.5 * HOUR
    if not back.any() or back.sum() > 2:
        return
    at = int(np.argmax(back))
    # A row out of its order comes back at once; a clock that was set back does not.
    if np.any(values[at + 1 : at + 4] >= values[at]) and at + 1 < len(values) - 1:
        return
    told[known[at + 1 :]] += HOUR
    said.append(f"Its clock was set back an hour before line {table.lines[known[at + 1]]}; the "
                "times go on.")  # fmt: skip


def _spread_minutes(told: Floats, known: np.ndarray, said: list[str]) -> None:
    """Rows that share a minute, of a clock that shows no seconds, are spread evenly over it."""
    values = told[known]
    same = np.diff(values) == 0.0
    if not same.size or same.mean() < 0.3:
        return
    starts = np.concatenate(([0], np.flatnonzero(~same) + 1))
    counts = np.diff(np.append(starts, len(values)))
    steps = np.diff(values[starts])
    if not steps.size or not np.median(steps) > 0.0:
        return
    most, length = int(counts.max()), float(np.median(steps))
    place = np.arange(len(values)) - np.repeat(starts, counts)
    place[: counts[0]] += most - counts[0]
    told[known] = values + place * length / most
    said.append(f"Up to {most} rows share one time; they are spread evenly over it.")


def _out_of_order(told: Floats, known: np.ndarray, table: Table, said: list[str]) -> None:
    """Leave out rows that lie no later than one above them; refuse many."""
    values = told[known]
    ahead = np.maximum.accumulate(values)
    wrong = np.concatenate(([False], values[1:] <= ahead[:-1]))
    if not wrong.any():
        return
    at = int(np.argmax(wrong))
    line = table.lines[known[at]]
    doubled = int(np.sum(np.diff(values) == 0.0))
    if wrong.mean() > MOST_BACK and wrong.sum() - doubled > 3:
        raise InputError(
            f"file, line {line}", f"{values[at] - ahead[at]:.0f}", "s after the row above",
            "times that rise", "Sort the rows by their time, or export one heat alone.",
        )  # fmt: skip
    told[known[wrong]] = np.nan
    said.append(f"{int(wrong.sum())} rows are no later than one above them and are left out, the "
                f"first in line {line}.")  # fmt: skip
