"""The temperatures of a logger's file: which columns are any, in which unit, and what is odd."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.jobs.serieslog import COLDEST, HOTTEST, Floats
from sleevewright.services.log_table import Table, is_number
from sleevewright.services.log_times import Times, numbers_of

CASTING, OVEN = "casting", "oven"
UNITS = ("C", "F", "K")
ZERO = 273.15
LEAST_SPAN = 5.0
"""Less than this a column that was in an oven does not move. [K]"""

JUMP, SPIKE = 60.0, 40.0
"""A step into a value that then stands still, and one alone that comes back. [K]"""

FAST = 180.0
"""A casting does not warm by two thirds in less than this. [s]"""

_SENTINELS = (-9999.0, -999.9, -999.0, 999.9, 9999.0, 32767.0, -32768.0, 65535.0, 3276.7,
              6553.5, 1372.0, 1370.0, 1820.0, -200.0, -270.0, 2501.6, 2500.0)  # fmt: skip
"""What loggers write where no sensor is: ends of ranges and full scales; practice."""

_HEADS = r"\b(?:temp\w*|casting|part|bore|oven|air|metal|t)\s*"
_SAID = (
    ("F", r"fahrenheit|°\s*f\b|\bdeg\.?\s*f\b|[(\[]\s*f\s*[)\]]|" + _HEADS + "f$"),
    ("C", r"celsius|°\s*c\b|\bdeg\.?\s*c\b|[(\[]\s*c\s*[)\]]|" + _HEADS + "c$"),
    ("K", r"kelvin|[(\[]\s*k\s*[)\]]"),
)
_NONE = r"%|\brh\b|humid|batt|volt|\bv\b|count|serial|\bno\b|\bnr\b|index|sample|record|press"
_ROLES = ((OVEN, r"oven|air|chamber|ambient"), (CASTING, r"cast|part|bore|barrel|metal|cyl"))
_PEAK = {"C": 320.0, "F": 608.0}
"""Hotter than this nothing here is heated."""

_COLDEST = {"C": -5.0, "F": 41.0}
_WARMEST = {"C": 40.0, "F": 113.0}
"""What a room can be: a heat begins there, a cooling need not reach it."""


@dataclass(frozen=True, eq=False)
class Column:
    """One column that may be a temperature.

    Attributes
    ----------
    place : int
        Its number in the table, from 0.
    name : str
        Its heading.
    kelvin : Floats
        Temperatures; no number where none can be used. (n,) [K]
    unit : str
        Unit that it was read in; empty where that must be asked.
    refused : str
        Why it is no temperature of a casting or an oven; empty where nothing speaks against it.
    remarks : tuple[str, ...]
        What was left out, and what it looks like.
    role : str
        ``casting`` or ``oven`` where that is proposed.
    why : str
        What the proposal rests on.
    """

    place: int
    name: str
    kelvin: Floats
    unit: str
    refused: str = ""
    remarks: tuple[str, ...] = ()
    role: str = ""
    why: str = ""


def read_columns(
    table: Table, times: Times, units: Mapping[int, str], *, is_cooling: bool = False
) -> tuple[Column, ...]:
    """Every column of numbers that holds no times, judged; units as told, else as they seem."""
    found = [
        _column(table, times, place, units.get(place, ""), is_cooling=is_cooling)
        for place in range(len(table.columns))
        if place not in times.columns and _has_numbers(table.columns[place])
    ]
    # Without the unit of its times nothing is fast or slow.
    seconds = times.seconds if not times.asks else times.seconds * 60.0
    return _with_roles(found, seconds, is_cooling=is_cooling)


def _has_numbers(cells: tuple[str, ...]) -> bool:
    """Whether at least one cell in ten is a number."""
    few = cells[:: max(1, len(cells) // 500)]
    return sum(map(is_number, few)) >= max(2, 0.1 * len(few))


def _column(table: Table, times: Times, place: int, unit: str, *, is_cooling: bool) -> Column:
    """One column: what is no reading is left out, then unit and sense are judged."""
    name, values = table.names[place], numbers_of(table.columns[place])
    bad, remarks = _left_out(values, table)
    values = np.where(bad, np.nan, values)
    good = np.isfinite(values) & np.isfinite(times.seconds)
    if good.sum() < 3:
        return Column(place, name, values, unit, "nothing but gaps and open sensors is in it",
                      remarks)  # fmt: skip
    refused = _no_temperature(name, values[good])
    told = unit or _said_unit(name, table.columns[place])
    likely = _likely_units(values[good], is_cooling=is_cooling)
    if not refused:
        remarks += _doubts_of_unit(told, likely, values[good])
    if not unit and told in ("C", "F") and likely and told not in likely:
        told = ""  # named, and cannot be: it is asked
    else:
        told = told or (likely[0] if len(likely) == 1 else "")
    kelvin = _kelvin(values, told or (likely[0] if likely else "C"))
    spikes = _spikes(kelvin)
    if spikes.any():
        remarks += (_count(spikes, table, "alone, far from both neighbours"),)
        kelvin = np.where(spikes, np.nan, kelvin)
    return Column(place, name, kelvin, told, refused or _out_of_reach(kelvin), remarks)


def _left_out(values: Floats, table: Table) -> tuple[NDArray[np.bool_], tuple[str, ...]]:
    """Cells without a number, ends of ranges, and a value that is jumped to and stands still."""
    silent = ~np.isfinite(values)
    ends = np.isin(np.round(values, 1), _SENTINELS)
    still = _stands(np.where(silent | ends, np.nan, values))
    said = []
    for mask, words in (
        (silent, "no number"),
        (ends, "the end of a range, as a logger writes where no sensor is"),
        (still, "a jump to one value that stays: an open or shorted sensor"),
    ):
        if mask.any():
            said.append(_count(mask, table, words))
    return silent | ends | still, tuple(said)


def _count(mask: NDArray[np.bool_], table: Table, words: str) -> str:
    """So many rows, and the line of the first."""
    number, first = int(mask.sum()), table.lines[int(np.argmax(mask))]
    rows = "1 row" if number == 1 else f"{number} rows"
    return f"{rows} left out, {words}; the first in line {first}"


def _stands(values: Floats) -> NDArray[np.bool_]:
    """Runs of three or more of the very same value that a jump leads into."""
    mask = np.zeros(values.size, dtype=bool)
    known = np.flatnonzero(np.isfinite(values))
    if known.size < 4:
        return mask
    told = values[known]
    edges = np.flatnonzero(np.diff(told) != 0.0) + 1
    for start, end in zip(
        np.concatenate(([0], edges)), np.concatenate((edges, [told.size])), strict=True
    ):
        before = abs(told[start] - told[start - 1]) if start else 0.0
        after = abs(told[end] - told[end - 1]) if end < told.size else 0.0
        if end - start >= 3 and max(before, after) > JUMP:
            mask[known[start:end]] = True
    return mask


def _spikes(kelvin: Floats) -> NDArray[np.bool_]:
    """Single values far from the middle of the five about them."""
    mask = np.zeros(kelvin.size, dtype=bool)
    known = np.flatnonzero(np.isfinite(kelvin))
    if known.size < 5:
        return mask
    told = np.pad(kelvin[known], 2, mode="edge")
    middle = np.median(np.lib.stride_tricks.sliding_window_view(told, 5), axis=1)
    mask[known] = np.abs(kelvin[known] - middle) > SPIKE
    return mask


def _no_temperature(name: str, values: Floats) -> str:
    """Why numbers are no temperature of metal or air; empty where they may be one."""
    plain = _plain(name)
    if re.search(_NONE, plain) and not re.search(f"{_SAID[0][1]}|{_SAID[1][1]}", plain):
        return f"its heading “{name}” names no temperature"
    steps = np.diff(values)
    if values.size > 5 and np.ptp(steps) == 0.0 and steps[0] != 0.0:
        return "it counts up evenly, as a number of rows does"
    return ""


def _out_of_reach(kelvin: Floats) -> str:
    """Whether it moves as what is heated moves, within what a shop can have."""
    good = kelvin[np.isfinite(kelvin)]
    if not good.size:
        return "nothing in it can be used"
    if good.min() < COLDEST or good.max() > HOTTEST:
        return f"it reaches {good.min() - ZERO:.0f} to {good.max() - ZERO:.0f} °C"
    if np.ptp(good) < LEAST_SPAN:
        return f"it moves by {np.ptp(good):.1f} K only: nothing that is heated stays so still"
    return ""


def _plain(name: str) -> str:
    """A heading in small letters, its bars as spaces."""
    return name.strip().lower().replace("_", " ")


def _said_unit(name: str, cells: tuple[str, ...]) -> str:
    """The unit that heading or cells name; empty where neither does."""
    for unit, words in _SAID:
        if re.search(words, _plain(name)):
            return unit
    ends = {cell.strip()[-1:] for cell in cells[:50] if cell.strip()}
    return next((unit for unit in UNITS if ends == {unit}), "")


def _likely_units(values: Floats, *, is_cooling: bool) -> tuple[str, ...]:
    """Units that the coldest and the hottest can be in; one where the other cannot be.

    A heat that was begun warm, and a cooling, need not show the room: where both would do, both
    are told, and it is asked.
    """
    low, high = np.percentile(values, (1.0, 99.0))
    found = [one for one in ("C", "F") if low >= _COLDEST[one] and high <= _PEAK[one]]
    if "C" in found and low <= _WARMEST["C"] and not is_cooling:
        return ("C",)
    return tuple(one for one in found if one == "C" or is_cooling or low <= _WARMEST[one])


def _doubts_of_unit(told: str, likely: tuple[str, ...], values: Floats) -> tuple[str, ...]:
    """What speaks against the unit that is named, or which was taken where none is."""
    low, high = np.percentile(values, (1.0, 99.0))
    span = f"it goes from {low:.0f} to {high:.0f}"
    if told in ("C", "F") and likely and told not in likely:
        return (f"it is called °{told}, but {span}: that would be right in °{likely[0]}",)
    if not told and len(likely) == 1:
        return (f"taken as °{likely[0]}: {span}, which the other unit cannot be",)
    return ()


def _kelvin(values: Floats, unit: str) -> Floats:
    """Kelvin of a column."""
    if unit == "F":
        return (values - 32.0) / 1.8 + ZERO
    return values + (0.0 if unit == "K" else ZERO)


def _with_roles(found: list[Column], seconds: Floats, *, is_cooling: bool) -> tuple[Column, ...]:
    """Which column is proposed as casting, which as the oven's air."""
    usable = [one for one in found if not one.refused]
    roles: dict[int, tuple[str, str]] = {}
    for role, words in _ROLES:
        named = [one for one in usable if re.search(words, _plain(one.name))]
        if named and named[0].place not in roles:
            roles[named[0].place] = (role, "by its heading")
    rest = [one for one in usable if one.place not in roles]
    taken = {role for role, _ in roles.values()}
    if CASTING not in taken and rest:
        first = _slowest(rest, seconds) if not is_cooling else max(rest, key=_mean)
        why = "the slowest" if len(rest) > 1 and not is_cooling else "the only one left"
        roles[first.place] = (CASTING, "the hottest" if is_cooling and len(rest) > 1 else why)
        rest.remove(first)
    if OVEN not in taken and rest and not is_cooling:
        first = max(rest, key=_mean)
        roles[first.place] = (OVEN, "the hottest of the others")
    return tuple(
        replace(one, role=roles[one.place][0], why=roles[one.place][1],
                remarks=one.remarks + _of_role(one, roles[one.place][0], seconds))
        if one.place in roles else one
        for one in found
    )  # fmt: skip


def _mean(column: Column) -> float:
    return float(np.nanmean(column.kelvin))


def _slowest(columns: list[Column], seconds: Floats) -> Column:
    return max(columns, key=lambda one: _rise_time(one.kelvin, seconds))


def _rise_time(kelvin: Floats, seconds: Floats) -> float:
    """How long two thirds of the rise take, from a twentieth of it on. [s]."""
    good = np.isfinite(kelvin) & np.isfinite(seconds)
    told, at = kelvin[good], seconds[good]
    low, high = float(told.min()), float(told.max())
    begun = at[int(np.argmax(told > low + 0.05 * (high - low)))]
    done = at[int(np.argmax(told > low + 0.67 * (high - low)))]
    return float(done - begun)


def _of_role(column: Column, role: str, seconds: Floats) -> tuple[str, ...]:
    """What a column looks like that is to be the casting's."""
    if role != CASTING or _rise_time(column.kelvin, seconds) > FAST:
        return ()
    told = column.kelvin[np.isfinite(column.kelvin)]
    if told[-1] < told[0]:
        return ()  # a cooling
    return (
        (
            "it warms by two thirds within three minutes, as air or a fin does and no bore: where "
            "was the probe?"
        ),
    )
