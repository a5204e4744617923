"""A logged temperature as text: what a record keeps of the file of a data logger.

``within 0.3; casting 0 293.2, 600 350.4 | 900 380.1, ...; oven 0 470.0, ...``: each point is
seconds since the casting went into the oven (or was gripped, of a cooling) and kelvin, whatever
units the job shows.  A bar stands where the logger was silent: nothing is known between the
points beside it.  ``within`` is how far, in kelvin, the straight lines between the points lie
from what was logged.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.folding import Folded

Floats = NDArray[np.float64]

CELLS = {"heat": "heat.series", "cool": "cool.series"}
"""Cell of each series, by the stage that it belongs to."""

MOST_POINTS = 200
"""Points of one channel that a record keeps."""

COLDEST, HOTTEST = 70.0, 900.0  # K: from liquid nitrogen to molten aluminium
FARTHEST = 2e6  # s, three weeks before or after

_POINT = re.compile(r"\s*([+-]?\d{1,7}(?:\.\d{1,3})?)\s+(\d{1,4}(?:\.\d{1,3})?)\s*")
_WITHIN = re.compile(r"\s*within\s+(\d{1,3}(?:\.\d{1,3})?)\s*")


@dataclass(frozen=True, eq=False)
class Channel:
    """One channel of a logger.

    Attributes
    ----------
    seconds : Floats
        Times, rising. (n,) [s]
    kelvin : Floats
        Temperatures. (n,) [K]
    starts : tuple[int, ...]
        Points before which the logger was silent, the first of all not among them.
    """

    seconds: Floats
    kelvin: Floats
    starts: tuple[int, ...] = ()

    @property
    def gaps(self) -> tuple[tuple[float, float], ...]:
        """From when to when the logger was silent [s]."""
        return tuple((float(self.seconds[i - 1]), float(self.seconds[i])) for i in self.starts)


@dataclass(frozen=True, eq=False)
class Series:
    """What a logger told of one heat or one cooling.

    Attributes
    ----------
    casting : Channel
        The channel on the casting.
    oven : Channel | None
        The channel in the oven's air, where there was one.
    within : float
        How far the lines between the points lie from what was logged, at most. [K]
    """

    casting: Channel
    oven: Channel | None = None
    within: float = 0.0

    @property
    def seconds(self) -> Floats:
        """Times of the casting's channel. (n,) [s]"""
        return self.casting.seconds

    @property
    def kelvin(self) -> Floats:
        """Temperatures of the casting. (n,) [K]"""
        return self.casting.kelvin


def told_series(folded: Folded, key: str, *, cylinder: int = 1) -> Series | None:
    """The series of a heat (``heat``) or a cooling (``cool``); nothing where none stands.

    A text that is no series was refused when it was told, and is none here.
    """
    text = folded.text(CELLS[key], cylinder=cylinder)
    if not text:
        return None

    def read() -> Series | None:
        try:
            return series_of_text(text, field=CELLS[key])
        except InputError:
            return None

    return folded.once(("series", key, cylinder), read)


def series_of_text(text: str, *, field: str = "series") -> Series:
    """The series that a text tells.

    Raises
    ------
    InputError
        If it is none; the text says which point, what is allowed and what to do.

    Examples
    --------
    >>> series_of_text("casting 0 293.2, 60 300.0 | 600 350.0").casting.gaps
    ((60.0, 600.0),)
    """
    within, channels = 0.0, {}
    for part in text.split(";"):
        found = _WITHIN.fullmatch(part)
        if found is not None:
            within = float(found[1])
            continue
        name, _, points = part.strip().partition(" ")
        if name not in ("casting", "oven") or name in channels:
            allowed = "a part 'casting', and 'oven' where its air was logged"
            raise InputError(field, clipped(part.strip()), "", allowed, "Take the file again.")
        channels[name] = _channel(points, name, field)
    if "casting" not in channels:
        allowed = "a part 'casting' with seconds and kelvin"
        raise InputError(field, clipped(text), "", allowed, "Take the file of the logger again.")
    return Series(channels["casting"], channels.get("oven"), within)


def _channel(text: str, name: str, field: str) -> Channel:
    """One channel out of its text."""
    rows: list[tuple[float, float]] = []
    starts = []
    for number, run in enumerate(text.split("|")):
        if number:
            starts.append(len(rows))
        for part in run.split(","):
            rows.append(_point(part, f"{name}, point {len(rows) + 1}", rows, field))
    if len(rows) < 2:
        raise InputError(field, name, "", "two points or more", "Take the file again.")
    table = np.array(rows)
    return Channel(table[:, 0], table[:, 1], tuple(starts))


def _point(
    text: str, place: str, before: list[tuple[float, float]], field: str
) -> tuple[float, float]:
    """One point, later than those before it."""
    found = _POINT.fullmatch(text)
    if found is None:
        allowed = "seconds, a space, kelvin; points apart by commas"
        raise InputError(field, clipped(text.strip()), "", allowed, f"It is {place}.")
    seconds, kelvin = float(found[1]), float(found[2])
    if not COLDEST <= kelvin <= HOTTEST:
        allowed = f"{COLDEST:.0f} to {HOTTEST:.0f} K"
        raise InputError(field, kelvin, "K", allowed, f"It is {place}; is it in kelvin?")
    if abs(seconds) > FARTHEST or (before and seconds <= before[-1][0]):
        allowed = "times that rise, within three weeks"
        raise InputError(field, seconds, "s", allowed, f"It is {place}; is its time right?")
    return seconds, kelvin


def series_text(series: Series) -> str:
    """The text of a series, to 1 s and 0.1 K.

    Examples
    --------
    >>> series_text(series_of_text("within 0.3; casting 0 293.2, 60 300 | 600 350"))
    'within 0.3; casting 0 293.2, 60 300.0 | 600 350.0'
    """
    parts = [f"within {series.within:.1f}", f"casting {_channel_text(series.casting)}"]
    if series.oven is not None:
        parts.append(f"oven {_channel_text(series.oven)}")
    return "; ".join(parts)


def _channel_text(channel: Channel) -> str:
    """Points of a channel, with a bar where the logger was silent."""
    starts, said = set(channel.starts), ""
    for i, (seconds, kelvin) in enumerate(zip(channel.seconds, channel.kelvin, strict=True)):
        between = "" if i == 0 else " | " if i in starts else ", "
        said += f"{between}{seconds:.0f} {kelvin:.1f}"
    return said


def value_at(channel: Channel, seconds: float) -> float | None:
    """Temperature at a time, by a straight line; nothing outside the log or in a gap [K].

    Examples
    --------
    >>> channel = series_of_text("casting 0 300, 60 310 | 600 350, 660 352").casting
    >>> value_at(channel, 30.0), value_at(channel, 300.0)
    (305.0, None)
    """
    times = channel.seconds
    if not times[0] <= seconds <= times[-1]:
        return None
    after = int(np.searchsorted(times, seconds))
    if after in channel.starts and times[after] != seconds:
        return None
    return float(np.interp(seconds, times, channel.kelvin))


def last_value(channel: Channel, now: float) -> tuple[float, float] | None:
    """The newest temperature up to a time [K], and how old it is [s]; nothing before the first.

    Within a log it is the line's own value, no time old; behind it, or in a gap, the last point.
    """
    at = value_at(channel, now)
    if at is not None:
        return at, 0.0
    before = int(np.searchsorted(channel.seconds, now, side="right")) - 1
    if before < 0:
        return None
    return float(channel.kelvin[before]), now - float(channel.seconds[before])


def rate_now(channel: Channel, now: float, *, over: float = 300.0) -> float | None:
    """How fast it rises over the last minutes before a time [K/s]; minus where it falls.

    From the value at ``now``, or the last one before it, back over ``over`` seconds or to the
    last gap.  Nothing where there is no line of that run to go by, or it is older than ``over``.

    Examples
    --------
    >>> channel = series_of_text("casting 0 300, 600 360").casting
    >>> rate_now(channel, 500.0)
    0.1
    """
    newest = last_value(channel, now)
    if newest is None or newest[1] > over:
        return None
    end = now - newest[1]
    run = max((channel.seconds[i] for i in channel.starts if channel.seconds[i] <= end),
              default=channel.seconds[0])  # fmt: skip
    start = max(float(run), end - over)
    then = value_at(channel, start)
    if then is None or end <= start:
        return None
    return round((newest[0] - then) / (end - start), 9)
