"""A quick question at the oven: when the casting is ready, by what was read so far."""

from __future__ import annotations

import math
from collections.abc import Iterable

from sleevewright.core.heat.heating import DoorOpening, HeatedFit, Heating, OvenReading
from sleevewright.core.heat.ready import ready_forecast
from sleevewright.core.heat.ready_said import (
    GO,
    STOP,
    casting_now,
    look_again_in,
    never_reached,
    ready_in,
    ready_word,
)
from sleevewright.core.materials import default
from sleevewright.errors import Caution, InputError
from sleevewright.planning.hazards import STAGE_HAZARDS
from sleevewright.planning.ready_words import remark_words
from sleevewright.services.quick_answer import Line, QuickAnswer, Relation
from sleevewright.services.quick_fit import METALS, read_interference
from sleevewright.services.quick_inputs import QuickInput, Typed, by_default, needed, read_words
from sleevewright.units import Dimension, parse

READY_INPUTS = (
    *needed("sleeve_od", "parent_bore"),
    QuickInput("go", said=("Needle over its zero on the sleeve at which it may go.", "5.6thou")),
    QuickInput("oven", said=("Setting of the oven.", "415F")),
    QuickInput("readings", said=(
        "Looks so far: minutes since the loading, needle, probe where there is one; comma between.",
        "5:-1.1thou:150F,9:0.8thou:197F",
    )),
    *METALS,
    by_default("ambient", "room"),
    by_default("limit", "part_limit"),
)  # fmt: skip
_LEVELS = ((0.05, "earliest_s", "Earliest"), (0.5, "ready_s", "Ready in"), (0.95, "latest_s",
           "Latest"))  # fmt: skip


def quick_ready(words: Iterable[str]) -> QuickAnswer:
    """When the slip is there, when to look again, and whether the needle says go."""
    typed = read_words("ready", READY_INPUTS, words)
    heating = _heating(typed)
    readings = _readings(typed)
    now = max(one.time for one in readings)
    doors = tuple(DoorOpening(time) for time in sorted({one.time for one in readings}))
    told = ready_forecast(heating, readings, doors, now=now)
    word = ready_word(heating=heating, readings=readings, guard=default("guard_factor").value)
    lines = [_time(key, label, ready_in(forecast=told, level=level), ready_in)
             for level, key, label in _LEVELS]  # fmt: skip
    lines += [
        _time("look_again_s", "Look again in", look_again_in(forecast=told), look_again_in),
        Line("never_1", "Chance of never", never_reached(forecast=told), "probability",
             never_reached),
        Line("casting_c", "Casting now", casting_now(forecast=told), "temperature", casting_now),
        Line("expansion_1", "Grows, times its alloy", told.expansion, "ratio", ready_forecast),
        Line("go", "Needle says go", word == GO, "text", ready_word, note=word),
    ]  # fmt: skip
    odd = tuple(
        Caution(f"reading-{one.code}", remark_words(one, typed.system), "derived")
        for one in told.remarks
    )
    remedies: tuple[str, ...] = ()
    if told.chance_never > 0.5:
        remedies = ("a hotter oven within the limit; a chilled sleeve; less slip",)
    if word == STOP:
        remedies = ("take it out of the oven now: it is over its limit",)
    return QuickAnswer(
        "ready",
        typed,
        tuple(lines),
        (*odd, *STAGE_HAZARDS["heat"]),
        remedies,
        is_out=bool(remedies),
    )


def _time(key: str, label: str, value: float, relation: Relation) -> Line:
    """A time, or never."""
    known = None if math.isinf(value) else value
    return Line(key, label, known, "time", relation, note="" if known is not None else "never")


def _heating(typed: Typed) -> Heating:
    """What was told of the heat beforehand."""
    tight = read_interference(typed)
    go = parse(typed.text("go"), field="go", dimension=Dimension.LENGTH).value
    oven = parse(typed.text("oven"), field="oven", dimension=Dimension.TEMPERATURE).value
    room = typed.value("ambient")
    slow = default("oven_time_constant")
    typed.assume("oven's time constant", slow.stated)
    return Heating(
        (("body", HeatedFit(typed.value("sleeve_od"), tight, go)),),
        typed.metal("casting").expansion, typed.metal("sleeve").expansion,
        room, room, room, oven, typed.value("limit"),
        time_constant=slow.value, time_constant_spread=slow.doubt,
        oven_standard=default("oven_doubt").value,
        air_time_constant=default("air_time_constant").value,
    )  # fmt: skip


def _readings(typed: Typed) -> tuple[OvenReading, ...]:
    """The looks, each with its minutes."""
    found = []
    for one in typed.text("readings").split(","):
        parts = [part.strip() for part in one.split(":")]
        if len(parts) not in (2, 3):
            raise InputError("readings", one.strip(), "", "minutes:needle or minutes:needle:probe")
        minutes = parts[0] if not _is_number(parts[0]) else f"{parts[0]}min"
        time = parse(minutes, field="readings", dimension=Dimension.TIME).value
        growth = temperature = None
        if parts[1]:
            growth = parse(parts[1], field="readings", dimension=Dimension.LENGTH).value
        if len(parts) == 3 and parts[2]:
            temperature = parse(parts[2], field="readings", dimension=Dimension.TEMPERATURE).value
        found.append(OvenReading(time, growth, temperature))
    return tuple(found)


def _is_number(text: str) -> bool:
    """Whether a text is a plain number."""
    try:
        float(text)
    except ValueError:
        return False
    return True
