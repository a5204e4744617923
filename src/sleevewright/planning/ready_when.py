"""Beside the plan: when the casting is ready, from its readings in the oven.

The forecast says when to look again; the needle alone says go.  What the readings tell of this
very casting's growth goes on into where its fit lets go and what is left of it in the engine.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from sleevewright.core.expansion import ExpansionLaw, scaled_law
from sleevewright.core.fits.running import (
    grip_temperature,
    opening_casting_temperature,
    running_interference,
)
from sleevewright.core.heat.heating import (
    DoorOpening,
    HeatedFit,
    Heating,
    OvenReading,
    ReadyForecast,
)
from sleevewright.core.heat.ready import ready_forecast
from sleevewright.core.heat.ready_said import (
    casting_now,
    look_again_in,
    never_reached,
    ready_in,
    ready_word,
    slip_now,
)
from sleevewright.errors import NotConverged
from sleevewright.planning.answers import Answer, Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, known_in, ledger_of
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.ready_words import say_of
from sleevewright.units import shown

Q = Quantity
kept_forecast = lru_cache(maxsize=32)(ready_forecast)
"""The same readings are not fitted twice."""

HEATING = Line("ready_when.heating", "what is known of the heat", Q.RECORD, is_detail=True)
READINGS = Line("ready_when.readings", "readings in the oven", Q.RECORD, is_detail=True)
JUDGED = Line("ready_when.judged", "readings that say how it stands", Q.RECORD, is_detail=True)
DOORS = Line("ready_when.doors", "door openings", Q.RECORD, is_detail=True)
NOW = Line("ready_when.now", "since it went in", Q.TIME, is_detail=True)
GUARD = Line("ready_when.guard", "needle past its go, in its own doubts", Q.RATIO, is_detail=True)
FORECAST = Line("ready_when.curve", "slip against time, with its fan", Q.RECORD, is_detail=True)
SAY = Line(
    "ready_when.say", "Now", Q.TEXT, of="by the newest readings of every fit, never by the clock"
)
NEVER = Line(
    "ready_when.never", "Chance that it never gets there", Q.PROBABILITY, of="oven as it is set"
)
CASTING = Line("ready_when.casting", "Casting now", Q.TEMPERATURE, of="by all readings together")
AGAIN = Line("ready_when.look_again", "Look again in", Q.TIME, of="a tenth are ready by then")
SCALE = Line(
    "ready_when.expansion", "This casting grows", Q.RATIO,
    of="times what the book says of its alloy",
    would_change="one more look with gauge and probe together",
)  # fmt: skip
WHOLE = {"heating": HEATING.id, "readings": READINGS.id}
LEVELS = (
    ("in", 0.5, "Ready in", "as likely before as after; what is read decides"),
    ("earliest", 0.05, "earliest", "one in twenty is ready by then"),
    ("latest", 0.95, "latest", "nineteen in twenty are ready by then"),
)
NEEDS = (
    ("sleeve.od", "the sleeve's outside"),
    ("heat.needle", "where the needle says go"),
    ("heat.room", "the room"),
    ("heat.limit", "the casting's limit"),
)
AIR_LIKE = 560.0
MISREAD = "f-as-c"
"""Remark on a probe that was told in degC and fits the others in degF."""

OVEN_DOUBT, AIR_DOUBT = 6.0, 4.0
"""Standard uncertainty of the dial, and of one probe in the air of the oven. [K]"""
LOOKS, APART = 2, 240.0
"""Looks that are still to come are counted with: so many, so far apart where none was yet. [s]"""


@dataclass(frozen=True)
class HeatingLog:
    """What was told of a heat.

    Attributes
    ----------
    readings : tuple[OvenReading, ...]
        Looks at the casting, and a logger's series.
    doors : tuple[DoorOpening, ...]
        Openings of the door.
    now : float
        Time since the casting went in. [s]
    oven : float | None
        Setting of the oven, where it was told. [K]
    zeros : tuple[tuple[str, float], ...]
        Per fit what the needle showed put straight back on the sleeve, already taken off. [m]
    air : float | None
        Air of the oven by a logger's channel, where there is one. [K]
    """

    readings: tuple[OvenReading, ...] = ()
    doors: tuple[DoorOpening, ...] = ()
    now: float = 0.0
    oven: float | None = None
    zeros: tuple[tuple[str, float], ...] = ()
    air: float | None = None


def heating_of(plan: Plan, log: HeatingLog) -> Heating | None:
    """What the plan knows of the heat; nothing where the plan lacks a size for it."""
    known = {name: _number(plan, name) for name, _ in NEEDS}
    oven = log.oven if log.oven is not None else _number(plan, "heat.oven")
    oven = log.air if log.air is not None else oven
    laws = [known_in(plan, f"{part}.law") for part in ("casting", "sleeve")]
    fits = _fits(plan)
    casting, sleeve = (None if one is None else one.value for one in laws)
    if oven is None or not fits or any(one is None for one in known.values()):
        return None
    if not isinstance(casting, ExpansionLaw) or not isinstance(sleeve, ExpansionLaw):
        return None
    room = float(known["heat.room"] or 0.0)
    scale = _standard(known_in(plan, "casting.growth_scale"))
    slow = known_in(plan, "heat.time_constant")
    return Heating(
        fits, casting, sleeve, room, room, room, oven, float(known["heat.limit"] or 0.0),
        time_constant=_number(plan, "heat.time_constant") or 900.0,
        time_constant_spread=_standard(slow) or 0.4,
        expansion_standard=scale or 0.03,
        oven_standard=OVEN_DOUBT if log.air is None else AIR_DOUBT,
        air_time_constant=_number(plan, "heat.air_time_constant") or AIR_LIKE,
    )  # fmt: skip


def _fits(plan: Plan) -> tuple[tuple[str, HeatedFit], ...]:
    """Body and flange, as far as the plan says where their needles say go."""
    rows = []
    for name, diameter, tight, go in (
        ("body", "sleeve.od", "fit.as_cut", "heat.needle"),
        ("flange", "flange.od", "fit.flange_as_cut", "heat.needle_flange"),
    ):
        sizes = [_number(plan, one) for one in (diameter, tight, go)]
        if all(one is not None for one in sizes):
            across, fit, needle = (float(one or 0.0) for one in sizes)
            doubt = _standard(known_in(plan, tight))
            rows.append((name, HeatedFit(across, fit, needle, doubt)))
    return tuple(rows)


def with_looks(log: HeatingLog) -> tuple[DoorOpening, ...]:
    """The doors with the looks that are still to come, as far apart as those so far."""
    times = sorted({one.time for one in log.readings if one.growth is not None})
    apart = APART if len(times) < 2 else max((times[-1] - times[0]) / (len(times) - 1), 60.0)
    coming = (DoorOpening(log.now + apart * (number + 1)) for number in range(LOOKS))
    return (*log.doors, *coming)


def forecast_of(plan: Plan, log: HeatingLog) -> ReadyForecast | None:
    """The forecast alone, as a page draws it; nothing where the plan lacks what it needs."""
    heating = heating_of(plan, log)
    if heating is None:
        return None
    return kept_forecast(heating, log.readings, with_looks(log), now=log.now)


def ready_when(plan: Plan, log: HeatingLog) -> StageAnswers:
    """When it is ready, when to look again, and what this casting's growth means for its fit."""
    ledger = ledger_of(plan)
    heating = heating_of(plan, log)
    if heating is None:
        for name, need in NEEDS:
            from_plan(ledger, plan, name, need=need)
        missing = Line("ready_when.in", "Ready in", Q.TIME)
        ledger.fact(missing, Given(None, Kind.COMPUTED, need="sizes and a fit, for the needle"))
        return beside(plan, "heat", "Heat", ledger.result())
    _enter_told(ledger, heating, log)
    try:
        ledger.compute(FORECAST, kept_forecast, CENTRALLY, doors=DOORS.id, now=NOW.id, **WHOLE)
    except NotConverged:
        return _unsettled(ledger, plan, log)
    _enter(ledger, heating, log)
    told = ledger.value(FORECAST.id)
    _enter_growth(ledger, plan, heating, told)
    say_of(ledger, plan, heating, told, log.zeros)
    if log.air is not None:
        air = shown(log.air, quantity="temperature", system=plan.units)
        ledger.advise(f"The oven's air is the logger's, {air.figure} {air.unit}, not the dial's.")
    return beside(plan, "heat", "Heat", ledger.result())


def _unsettled(ledger: Ledger, plan: Plan, log: HeatingLog) -> StageAnswers:
    """What the needle says, and that there is no time, where the fit does not settle."""
    _enter_word(ledger, log.readings)
    missing = Line("ready_when.in", "Ready in", Q.TIME)
    ledger.fact(missing, Given(None, Kind.COMPUTED, need="readings that one oven can give"))
    ledger.caution(
        "unsettled:ready_when.in",
        "No forecast: no oven was found that gives these readings. Read times, units and signs "
        "again, and look every few minutes; the needle says go as before.",
        "derived",
    )
    return beside(plan, "heat", "Heat", ledger.result())


def _enter_told(ledger: Ledger, heating: Heating, log: HeatingLog) -> None:
    """Enter what is known and what was told."""
    ledger.fact(HEATING, Given(heating, Kind.COMPUTED, "the plan"))
    ledger.fact(READINGS, Given(log.readings, Kind.MEASURED, "the job"))
    ledger.fact(DOORS, Given(with_looks(log), Kind.MEASURED, "the job"))
    ledger.fact(NOW, Given(log.now, Kind.MEASURED, "the job"))
    guard = ledger.default("guard_factor")
    ledger.fact(GUARD, Given(guard.value, Kind.ASSUMED, guard.source, guard.note))


def _enter(ledger: Ledger, heating: Heating, log: HeatingLog) -> None:
    """Enter what the forecast says."""
    judged = _judged(log.readings, ledger.value(FORECAST.id))
    _enter_word(ledger, judged, forecast=FORECAST.id)
    for key, level, label, of in LEVELS:
        share = Line(f"ready_when.{key}_level", f"share, {label}", Q.RATIO, is_detail=True)
        ledger.fact(share, Given(level, Kind.CHOSEN, "derived"))
        line = Line(f"ready_when.{key}", label.capitalize(), Q.TIME, of=of)
        ledger.compute(line, ready_in, CENTRALLY, forecast=FORECAST.id, level=share.id)
        if math.isinf(ledger.value(line.id)):
            ledger.amend(line.id, value=None, absent="never")
    ledger.compute(AGAIN, look_again_in, CENTRALLY, forecast=FORECAST.id)
    if math.isinf(ledger.value(AGAIN.id)):
        ledger.amend(AGAIN.id, value=None, absent="never")
    ledger.compute(NEVER, never_reached, CENTRALLY, forecast=FORECAST.id)
    ledger.compute(CASTING, casting_now, CENTRALLY, forecast=FORECAST.id)
    for name, _ in heating.fits:
        which = Line(f"ready_when.fit_{name}", "which fit", Q.TEXT, is_detail=True)
        ledger.fact(which, Given(name, Kind.CHOSEN, "derived"))
        line = Line(f"ready_when.slip_{name}", f"Slip now, {name}", Q.READING, "diametral",
                    of="on a gauge zeroed on this sleeve, by all readings together")  # fmt: skip
        ledger.compute(line, slip_now, CENTRALLY, forecast=FORECAST.id, fit=which.id)


def _enter_word(ledger: Ledger, judged: tuple[OvenReading, ...], **more: str) -> None:
    """Enter what the newest readings say: go, wait or stop."""
    ledger.fact(JUDGED, Given(judged, Kind.MEASURED, "the job"))
    names = {"heating": HEATING.id, "readings": JUDGED.id, "guard": GUARD.id, **more}
    ledger.compute(SAY, ready_word, CENTRALLY, **names)


def _judged(readings: tuple[OvenReading, ...], told: ReadyForecast) -> tuple[OvenReading, ...]:
    """The readings without a probe's figure that was told in the other degrees."""
    misread = {(one.time, one.read) for one in told.remarks if one.code == MISREAD}
    return tuple(
        replace(one, temperature=None) if (one.time, one.temperature) in misread else one
        for one in readings
    )


def _enter_growth(ledger: Ledger, plan: Plan, heating: Heating, told: ReadyForecast) -> None:
    """Enter this casting's growth, and the fit hot as it follows from it."""
    ledger.fact(
        SCALE,
        Given(
            told.expansion, Kind.COMPUTED, "readings of this heat", standard=told.expansion_standard
        ),
    )
    law = heating.casting_law
    for name in ("reference", "slope", "low", "high"):
        line = Line(f"ready_when.law_{name}", f"the book's alloy, {name}", Q.RATIO, is_detail=True)
        ledger.fact(line, Given(float(getattr(law, name)), Kind.COMPUTED, "the plan"))
    names = {name: f"ready_when.law_{name}" for name in ("reference", "slope", "low", "high")}
    own = Line("ready_when.law", "expansion of this very casting", Q.RECORD, is_detail=True)
    ledger.compute(own, scaled_law, scale=SCALE.id, **names)
    iron = Line("ready_when.sleeve_law", "expansion of the sleeve", Q.RECORD, is_detail=True)
    ledger.fact(iron, Given(heating.sleeve_law, Kind.COMPUTED, "the plan"))
    for name, need in (
        ("sleeve.od", "the sleeve's outside"), ("fit.effective", "the fit"),
        ("running.excess", "how much hotter the sleeve runs"),
        ("running.running_casting", "the casting, running"),
        ("running.running_sleeve", "the sleeve, running"),
    ):  # fmt: skip
        from_plan(ledger, plan, name, need=need)
    _enter_hot(ledger)


def _enter_hot(ledger: Ledger) -> None:
    """Enter where the fit lets go and opens, and what is left of it, by this casting's growth."""
    pair = {"diameter": "sleeve.od", "interference": "fit.effective",
            "casting_law": "ready_when.law", "sleeve_law": "ready_when.sleeve_law"}  # fmt: skip
    of = "with this casting's own growth, body"
    grip = Line("ready_when.grip_calibrated", "Lets go at", Q.TEMPERATURE, of=of)
    if ledger.compute(grip, grip_temperature, **pair).answer.value is None:
        ledger.amend(grip.id, absent="none")
    opens = Line("ready_when.opens_calibrated", "Opens at", Q.TEMPERATURE, of=of + "; casting")
    if (
        ledger.compute(
            opens, opening_casting_temperature, sleeve_excess="running.excess", **pair
        ).answer.value
        is None
    ):
        ledger.amend(opens.id, absent="none")
    ledger.compute(
        Line("ready_when.running_calibrated", "How tight, running", Q.DEVIATION, "diametral", of),
        running_interference,
        casting_temperature="running.running_casting",
        sleeve_temperature="running.running_sleeve",
        **pair,
    )


def _number(plan: Plan, name: str) -> float | None:
    """A number of the plan."""
    known = known_in(plan, name)
    value = None if known is None else known.value
    return value if isinstance(value, float) and math.isfinite(value) else None


def _standard(known: Answer | None) -> float:
    """Standard uncertainty of an answer; nought where none was stated."""
    return 0.0 if known is None or known.doubt is None else known.doubt.standard
