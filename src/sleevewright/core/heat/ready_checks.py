"""Readings of a hot casting that do not go together: which, why, and without which it is fitted.

Nothing is thrown away: a value that is held out keeps its place among the readings and is
named with what the others say there.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np

from sleevewright.core.checks import finite, not_negative, positive
from sleevewright.core.heat.heating import DoorOpening, Heating, OvenReading, Remark
from sleevewright.core.heat.oven_course import HORIZON, Openings
from sleevewright.core.heat.ready_fit import (
    Fitted,
    Seen,
    Unknowns,
    count_of,
    fitted,
    modelled,
    without,
)
from sleevewright.errors import InputError

SURPRISE = 4.0
"""A value so many standard uncertainties off what the others say is held out. [1]"""

AGREES = 2.5
"""A slip of units explains a value where it comes so near to what the others say. [1]"""

BEYOND = 40.0
"""A casting is never so far beyond the room or the oven. [K]"""

STILL = 2.0
"""Probes that move less than this in all do not move. [K]"""

MOVED = 15.0
"""What a casting must have warmed before a probe that stands still is suspect. [K]"""

AHEAD = 8.0
"""A probe that is so far ahead of the growth sits on thin metal. [K]"""

LONG = 4.0
"""After so many of the longest likely time constants a casting is near its oven's heat. [1]"""

_ZERO = 273.15
_ALIKE: tuple[tuple[str, Callable[[float], float]], ...] = (
    ("f-as-c", lambda kelvin: (kelvin - _ZERO - 32.0) / 1.8 + _ZERO),
    ("c-as-f", lambda kelvin: (kelvin - _ZERO) * 1.8 + 32.0 + _ZERO),
)
_LENGTHS: tuple[tuple[str, float], ...] = (
    ("thou-as-mm", 0.0254),
    ("mm-as-thou", 1.0 / 0.0254),
    ("thou-as-um", 25.4),
    ("um-as-thou", 1.0 / 25.4),
    ("sign", -1.0),
)


def refuse_impossible(
    heating: Heating, readings: tuple[OvenReading, ...], doors: tuple[DoorOpening, ...], now: float
) -> None:
    """Refuse what cannot be, by its name.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    readings : tuple[OvenReading, ...]
        Looks at the casting. [record]
    doors : tuple[DoorOpening, ...]
        Door openings but for the loading. [record]
    now : float
        Time since the casting went in. [s]

    Raises
    ------
    InputError
        If a time is negative, a doubt or a size is not positive or there is no fit.
    """
    if not heating.fits:
        raise InputError("fits", 0, "", "the body at least")
    for _, fit in heating.fits:
        positive("diameter", fit.diameter, "m")
        positive("bore", fit.diameter - finite("interference", fit.interference, "m"), "m")
        finite("needle that means go", fit.go, "m")
    for field in ("start", "room", "oven", "limit", "zero_temperature"):
        positive(field.replace("_", " "), getattr(heating, field), "K")
    for field in ("time_constant", "air_time_constant", "time_constant_spread"):
        positive(field.replace("_", " "), getattr(heating, field), "s")
    not_negative("now", now, "s")
    for door in doors:
        finite("door opened at", door.time, "s")
        not_negative("door open for", door.seconds, "s")
    for one in readings:
        not_negative("time of a reading", one.time, "s")
        positive("doubt of a growth", one.growth_standard, "m")
        positive("doubt of a temperature", one.temperature_standard, "K")


def _is_hours(heating: Heating, one: OvenReading) -> bool:
    """Whether a reading is so late, and its casting so cool, that its minutes are hours."""
    if one.time > HORIZON:
        return True
    if one.time < LONG * heating.time_constant * np.exp(2.0 * heating.time_constant_spread):
        return False
    least = heating.oven - BEYOND
    if one.temperature is not None:
        return one.temperature < least
    names = [name for name, _ in heating.fits]
    if one.growth is None or one.fit not in names:
        return False
    unknowns = Unknowns(heating, np.zeros(count_of(heating, Openings((), heating.room, 1.0))))
    return one.growth < float(unknowns.slip(names.index(one.fit), np.asarray(least)))


def in_order(
    heating: Heating, readings: tuple[OvenReading, ...]
) -> tuple[tuple[OvenReading, ...], tuple[Remark, ...]]:
    """Readings by their time, those that belong to no heat left out, and what is to be said.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    readings : tuple[OvenReading, ...]
        Looks at the casting. [record]

    Returns
    -------
    tuple
        Readings by their time, and what is odd. [record]
    """
    remarks = []
    kept = []
    for one in readings:
        if _is_hours(heating, one):
            remarks.append(Remark("hours", one.time, "time", one.time, one.time / 60.0))
        else:
            kept.append(one)
    last = 0.0
    for one in kept:
        if one.time < last:
            remarks.append(Remark("order", one.time, "time", one.time, last, is_held_out=False))
        last = max(last, one.time)
    seen_at = set()
    for one in kept:
        for what in ("growth", "temperature"):
            if getattr(one, what) is None:
                continue
            key = (one.time, what, one.fit if what == "growth" else "")
            if key in seen_at:
                value = float(getattr(one, what))
                remarks.append(Remark("twice", one.time, what, value, value, is_held_out=False))
            seen_at.add(key)
    return tuple(sorted(kept, key=lambda one: one.time)), (*remarks, *_falls(kept))


def _falls(readings: list[OvenReading]) -> tuple[Remark, ...]:
    """Growth that falls by more than its doubt from one look to the next."""
    remarks = []
    for fit in dict.fromkeys(one.fit for one in readings):
        row = sorted(
            (one for one in readings if one.fit == fit and one.growth is not None),
            key=lambda one: one.time,
        )
        for before, later in pairwise(row):
            was, is_now = float(before.growth or 0.0), float(later.growth or 0.0)
            doubt = float(np.hypot(before.growth_standard, later.growth_standard))
            if was - is_now > AGREES * doubt:
                remarks.append(Remark("fell", later.time, "growth", is_now, was, is_held_out=False))
    return tuple(remarks)


def checked_fit(
    heating: Heating, plan: Openings, told: Seen
) -> tuple[Seen, Fitted, tuple[Remark, ...]]:
    """The fit without the values that do not go with the others, and those by name.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    plan : Openings
        Door openings in their order. [record]
    told : Seen
        The values that are fitted. [record]

    Returns
    -------
    tuple
        The values that are used, their fit, and what is odd. [record]
    """
    wild = _wild(heating, plan, told)
    whole, told = told, _without(told, wild)
    told, remarks = _probes(heating, plan, told)
    fit = fitted(heating, plan, told)
    for place in wild:
        expected = _expected(heating, plan, whole, fit, place)
        remarks.append(_remark(whole, place, expected, _explained(whole, place, expected)))
    most = max(1, len(told.times) // 3) if told.times else 0
    for _ in range(most):
        oddest = _oddest(heating, plan, told, fit)
        if oddest is None:
            break
        number = oddest
        rest = without(told, number)
        fit = fitted(heating, plan, rest)
        expected = _expected(heating, plan, told, fit, number)
        remarks.append(_remark(told, number, expected, _explained(told, number, expected)))
        told = rest
    return told, fit, tuple(remarks)


def _wild(heating: Heating, plan: Openings, told: Seen) -> list[int]:
    """Values that no casting between the room and this oven can give."""
    unknowns = Unknowns(heating, np.zeros(count_of(heating, plan)))
    cold, hot = heating.room - BEYOND, heating.oven + BEYOND
    found = []
    for index, channel in enumerate(told.channels):
        low, high = cold, hot
        if channel >= 0:
            low, high = (float(unknowns.slip(channel, np.asarray(one))) for one in (cold, hot))
        if not low <= float(told.values[index]) <= high:
            found.append(index)
    return found


def _without(told: Seen, numbers: list[int]) -> Seen:
    """The values without some of them."""
    for number in reversed(numbers):
        told = without(told, number)
    return told


def _oddest(heating: Heating, plan: Openings, told: Seen, fit: Fitted) -> int | None:
    """The value without which the others go together best; nothing where all do."""
    odd = [index for index, one in enumerate(np.abs(fit.surprises)) if one > SURPRISE]
    if len(odd) < 2:
        return odd[0] if odd else None

    def left(index: int) -> float:
        rest = fitted(heating, plan, without(told, index)).surprises
        return float(np.abs(rest).max(initial=0.0))

    return min(odd, key=left)


def _expected(heating: Heating, plan: Openings, told: Seen, fit: Fitted, number: int) -> float:
    """What a fit says where one value was read."""
    return float(modelled(heating, plan, told, fit.middle)[..., number])


def _explained(told: Seen, number: int, expected: float) -> str:
    """The slip of units that makes a value what the others say, else ``off``."""
    value, doubt = float(told.values[number]), float(told.standards[number])
    if told.channels[number] < 0:
        room = AGREES * max(doubt, 4.0)
        for code, meant in _ALIKE:
            if abs(meant(value) - expected) < room < abs(value - expected):
                return code
        return "off"
    for code, factor in _LENGTHS:
        room = AGREES * doubt + 0.1 * abs(expected)
        if abs(value * factor - expected) < room < abs(value - expected):
            return code
    return "off"


def _remark(told: Seen, number: int, expected: float, code: str) -> Remark:
    """One value that is held out."""
    what = "temperature" if told.channels[number] < 0 else "growth"
    return Remark(code, told.times[number], what, float(told.values[number]), expected)


def _probes(heating: Heating, plan: Openings, told: Seen) -> tuple[Seen, list[Remark]]:
    """The values without those of a probe that stands still or sits on thin metal."""
    probes = [index for index, one in enumerate(told.channels) if one < 0]
    if len(probes) < 2:
        return told, []
    rest = _without(told, probes)
    fit = fitted(heating, plan, rest)
    expected = [_expected(heating, plan, told, fit, index) for index in probes]
    read = told.values[probes]
    code = ""
    if np.ptp(read) < STILL and np.ptp(expected) > MOVED:
        code = "still"
    elif rest.times and float(np.abs(fit.surprises).max()) < SURPRISE:
        ahead = read - np.array(expected)
        known = 2.5 * np.hypot(
            told.standards[probes].max() / np.sqrt(len(probes)),
            heating.expansion_standard * (read.max() - heating.start),
        )
        if ahead.min() > 0.0 and ahead.mean() > max(AHEAD, known):
            code = "fin"
    if not code:
        return told, []
    remarks = [_remark(told, index, one, code) for index, one in zip(probes, expected, strict=True)]
    return rest, remarks
