"""The page of a logger's file as a record: columns with what they seem, picture, what is asked."""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from markupsafe import Markup

from sleevewright.services.log_columns import CASTING, OVEN, Column
from sleevewright.services.log_desk import NONE, LogLook, shown_minutes
from sleevewright.services.log_times import UNITS as TIME_UNITS
from sleevewright.units import Dimension, to_unit
from sleevewright.web.pictures.log_channels import DrawnChannel, LogPicture, log_picture

DRAWN = 400
"""Points of a channel that are drawn."""

WORDS = {"heat": "since the casting went in", "cool": "since it was gripped"}
START = {
    "heat": "Went in, minutes after the first row",
    "cool": "Gripped, minutes after the first row",
}


@dataclass(frozen=True)
class Choice:
    """One entry of a list to choose from."""

    value: str
    words: str
    is_chosen: bool


@dataclass(frozen=True)
class ColumnView:
    """A column with what is thought of it."""

    number: int
    name: str
    span: str
    says: tuple[str, ...]
    units: tuple[Choice, ...]  # to choose from; none where it is no temperature


@dataclass(frozen=True)
class LogView:
    """Everything that the page shows of one file."""

    record: int
    columns: tuple[ColumnView, ...]
    casting: tuple[Choice, ...]
    oven: tuple[Choice, ...]
    time_units: tuple[Choice, ...]
    start: str
    start_words: str
    start_why: str
    remarks: tuple[str, ...]
    asks: tuple[str, ...]
    kept: str
    picture: Markup
    can_be_taken: bool


def log_view(seen: LogLook, record: int, key: str, told: Mapping[str, str], units: str) -> LogView:
    """The view of a file that was looked at."""
    usable = [one for one in seen.columns if not one.refused]
    start = "" if seen.start is None else f"{seen.start.seconds / 60.0:.1f}"
    series = seen.series
    kept = ""
    if series is not None:
        kept = (
            f"{series.seconds.size} points of the casting, whose lines lie within "
            f"{series.within:.1f} K of what was logged; the oven's air within twice that"
        )
    return LogView(
        record,
        tuple(_column(one, told, units) for one in seen.columns),
        _choices(usable, seen.casting),
        () if key == "cool" else (Choice(NONE, "none", seen.oven is None),
                                  *_choices(usable, seen.oven)),
        tuple(Choice(one, one, one == told.get("time", "")) for one in TIME_UNITS)
        if seen.times.asks or told.get("time") else (),
        told.get("start", "") or start,
        START[key],
        "" if seen.start is None else seen.start.why,
        seen.remarks,
        seen.asks,
        kept,
        _picture(seen, key, units),
        not seen.asks and series is not None,
    )  # fmt: skip


def _choices(usable: list[Column], chosen: Column | None) -> tuple[Choice, ...]:
    """Columns that may be chosen."""
    return tuple(
        Choice(
            str(one.place + 1),
            f"{one.place + 1}, {one.name}",
            chosen is not None and one.place == chosen.place,
        )
        for one in usable
    )


def _column(column: Column, told: Mapping[str, str], units: str) -> ColumnView:
    """One row of the table of columns."""
    says = [f"left aside: {column.refused}"] if column.refused else []
    if column.role in (CASTING, OVEN):
        where = "casting" if column.role == CASTING else "oven's air"
        says.append(f"proposed as the {where}, {column.why}")
    says += column.remarks
    chosen = told.get(f"unit{column.place + 1}", "") or column.unit
    choices = tuple(
        Choice(one, words, one == chosen)
        for one, words in (("", "ask"), ("C", "°C"), ("F", "°F"), ("K", "K"))
        if one or not chosen
    )
    return ColumnView(
        column.place + 1,
        column.name,
        _span(column, units),
        tuple(says),
        () if column.refused else choices,
    )


def _span(column: Column, units: str) -> str:
    """From where to where it goes, in the job's unit."""
    good = column.kelvin[np.isfinite(column.kelvin)]
    if column.refused or not good.size:
        return ""
    low, high = (_degrees(float(one), units) for one in (good.min(), good.max()))
    return f"{low:.0f} to {high:.0f} {_unit(units)}"


def _unit(units: str) -> str:
    return "°C" if units == "metric" else "°F"


def _degrees(kelvin: float, units: str) -> float:
    """A temperature in the job's unit."""
    return to_unit(kelvin, unit=_unit(units), dimension=Dimension.TEMPERATURE)


def _picture(seen: LogLook, key: str, units: str) -> Markup:
    """All usable channels, and the points that would be kept."""
    minutes = shown_minutes(seen.times.seconds, seen.start)
    channels = tuple(
        DrawnChannel(one.name, _runs(minutes, one.kelvin, units), one is seen.casting)
        for one in seen.columns
        if not one.refused
    )
    channels = tuple(one for one in channels if one.runs)
    if not channels or seen.times.asks:
        return Markup("")
    kept: tuple[tuple[float, float], ...] = ()
    if seen.series is not None:
        pairs = zip(seen.series.seconds, seen.series.kelvin, strict=True)
        kept = tuple((float(x) / 60.0, _degrees(float(y), units)) for x, y in pairs)
    says = f"{len(channels)} channels of the file over time, {len(kept)} points to be kept"
    foot = f"minutes {WORDS[key] if seen.start is not None else 'since the first row'}"
    return log_picture(LogPicture(channels, kept, _unit(units), foot, says))


def _runs(
    minutes: np.ndarray, kelvin: np.ndarray, units: str
) -> tuple[tuple[tuple[float, float], ...], ...]:
    """What is drawn of a channel, cut where nothing was logged."""
    good = np.flatnonzero(np.isfinite(minutes) & np.isfinite(kelvin))
    good = good[:: max(1, good.size // DRAWN)]
    if good.size < 2:
        return ()
    at = minutes[good]
    longest = 8.0 * float(np.median(np.diff(at)))
    cuts = [0, *(np.flatnonzero(np.diff(at) > longest) + 1).tolist(), good.size]
    found = []
    for begin, end in itertools.pairwise(cuts):
        run = good[begin:end]
        if run.size > 1:
            found.append(tuple((float(minutes[i]), _degrees(float(kelvin[i]), units)) for i in run))
    return tuple(found)
