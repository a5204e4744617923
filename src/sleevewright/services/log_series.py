"""A logger's column as the series that a record keeps: gaps, few points, counted from a start."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError
from sleevewright.jobs.serieslog import MOST_POINTS, Channel, Floats, Series, series_text

BEFORE = 300.0
"""How much of the log before the start is kept. [s]"""

STEPS, LEAST_GAP = 6.0, 120.0
"""A gap is longer than so many usual steps, and than so many seconds."""

RISE = 3.0
"""How far a casting must have warmed to say that it went in. [K]"""

WITHIN = (0.3, 0.4, 0.6, 0.8, 1.2, 1.7, 2.5, 3.5, 5.0)
"""How far straight lines may lie from what was logged, the finest that fits. [K]"""

LONGEST = 4000
OF_OVEN = 100
"""Points of the oven's air at most."""

MIDDLES = 2000
"""Of more than twice so many rows only the middles of neighbours count."""

_REACH = 15


@dataclass(frozen=True, eq=False)
class Start:
    """When the casting went in, or was gripped, on the times of a file. [s]."""

    seconds: float
    why: str


def found_start(seconds: Floats, kelvin: Floats, *, is_cooling: bool) -> Start:
    """Where a heat begins: just before the casting warms; where a cooling does: at its hottest."""
    good = np.isfinite(seconds) & np.isfinite(kelvin)
    at, told = seconds[good], kelvin[good]
    if is_cooling:
        return Start(float(at[int(np.argmax(told))]), "the hottest of the casting")
    cold = float(np.median(told[:_REACH])) if told.size > _REACH else float(told[0])
    cold = min(cold, float(told[0]) + RISE)
    warm = np.flatnonzero(told > cold + RISE)
    if not warm.size or warm[0] == 0:
        return Start(float(at[0]), "the first row: it begins warm already")
    return Start(float(at[warm[0] - 1]), f"the last row before it had warmed by {RISE:.0f} K")


def series_of(
    seconds: Floats, casting: Floats, oven: Floats | None, *, start: float
) -> tuple[Series, str]:
    """The series and its text, as fine as a record can keep it.

    Raises
    ------
    InputError
        If too little is left after the start, or no coarse series fits a record.
    """
    for within in WITHIN:
        first = _channel(seconds, casting, start, within)
        second = None if oven is None else _channel(seconds, oven, start, 2.0 * within)
        if first.seconds.size > MOST_POINTS or (second and second.seconds.size > OF_OVEN):
            continue
        series = Series(first, second, within)
        text = series_text(series)
        if len(text) <= LONGEST:
            return series, text
    raise InputError(
        "file", f"a log that moves too much for {MOST_POINTS} points", "",
        f"one whose lines lie within {WITHIN[-1]:.0f} K", "Leave the oven's air out, or cut the "
        "log to this heat.",
    )  # fmt: skip


def _channel(seconds: Floats, kelvin: Floats, start: float, within: float) -> Channel:
    """One channel from the start on: whole seconds, runs between gaps, few points of each."""
    good = np.isfinite(seconds) & np.isfinite(kelvin) & (seconds >= start - BEFORE)
    at, told = np.round(seconds[good] - start), kelvin[good]
    at, told = _middled(at, told)
    fresh = np.concatenate(([True], np.diff(at) > 0.0)) if at.size else np.zeros(0, dtype=bool)
    at, told = at[fresh], told[fresh]
    if at.size < 2:
        raise InputError(
            "start", f"{start / 60.0:.1f}", "min", "a time with two rows or more after it",
            "Say when it went in, in minutes after the first row.",
        )  # fmt: skip
    runs = _runs(at)
    kept = [begin + _few(at[begin:end], told[begin:end], within) for begin, end in runs]
    sizes = [one.size for one in kept]
    places = np.concatenate(kept)
    starts = tuple(int(one) for one in np.cumsum(sizes)[:-1])
    return Channel(at[places], np.round(told[places], 1), starts)


def _middled(at: Floats, told: Floats) -> tuple[Floats, Floats]:
    """Middles of so many rows each where there are thousands: a probe's noise is no movement."""
    size = at.size // MIDDLES
    if size < 2:
        return at, told
    whole = at.size // size * size
    middles = [np.median(one[:whole].reshape(-1, size), axis=1) for one in (at, told)]
    return np.round(middles[0]), middles[1]


def _runs(at: Floats) -> list[tuple[int, int]]:
    """From where to where the logger was not silent."""
    steps = np.diff(at)
    longest = max(STEPS * float(np.median(steps)), LEAST_GAP)
    cuts = np.flatnonzero(steps > longest) + 1
    return list(zip([0, *cuts.tolist()], [*cuts.tolist(), at.size], strict=True))


def _few(at: Floats, told: Floats, within: float) -> NDArray[np.intp]:
    """Places whose straight lines lie within so much of every row: halved at the farthest."""
    keep = np.zeros(at.size, dtype=bool)
    keep[0] = keep[-1] = True
    waiting = [(0, at.size - 1)]
    while waiting:
        begin, end = waiting.pop()
        if np.count_nonzero(keep) > MOST_POINTS:
            break  # too many for a record: a coarser one is tried
        if end - begin < 2:
            continue
        line = np.interp(at[begin:end], at[[begin, end]], told[[begin, end]])
        off = np.abs(told[begin:end] - line)
        farthest = int(np.argmax(off))
        if off[farthest] > within:
            keep[begin + farthest] = True
            waiting += [(begin, begin + farthest), (begin + farthest, end)]
    return np.flatnonzero(keep)


def gaps_said(series: Series) -> tuple[str, ...]:
    """Each gap of the casting's channel in words."""
    return tuple(
        f"silent from {begin / 60.0:.0f} to {end / 60.0:.0f} min: nothing is known between"
        for begin, end in series.casting.gaps
    )
