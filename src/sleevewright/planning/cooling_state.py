"""In which state a cooling casting is, by its last reading, and what comes next."""

from __future__ import annotations

import math
from functools import lru_cache

from sleevewright.core.checks import Number, not_negative
from sleevewright.core.fits.flange import flange_lift
from sleevewright.core.fits.running import running_interference
from sleevewright.core.formulas import formula
from sleevewright.core.heat.cooling_fit import (
    CoolingForecast,
    CoolingReading,
    cooled_band,
    expected_time,
    times_to_cool,
)
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, known_in
from sleevewright.planning.cooling_told import CoolingTold
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity
GRIP = "fit.grip"
ONE_IN_TWENTY = 1.644853626951472
"""Standard uncertainties below which 19 in 20 lie on one side. [1]"""

LEVEL_AFTER = 120.0
"""So long after seating the sleeve is taken to be as warm as the casting. [s] derived

Its own time through a gap of 2 thou is some 20 s, through a closed fit less than 5 s.
"""

MARGIN = Line(
    "cool.caught_margin", "margin of the grip temperature", Q.TEMPERATURE_DIFFERENCE,
    is_detail=True,
)  # fmt: skip
CAUGHT_AT = Line(
    "cool.caught_at", "Caught below", Q.TEMPERATURE,
    of="casting, sleeve as warm; 19 in 20 such fits have gripped by then; not yet unclamped",
)  # fmt: skip
TOUCH = Line("cool.touch_safe", "Cool to the hand below", Q.TEMPERATURE, of="gloves until then")
MEASURE = Line(
    "cool.measure_at", "Gauge it below", Q.TEMPERATURE, of="near the room, or corrected",
    is_detail=True,
)  # fmt: skip
STATE = Line("cool.state", "It is", Q.TEXT, of="by its last reading")
DO = Line("cool.do", "So", Q.TEXT)
NEXT = Line("cool.next", "Next", Q.TEXT)
TO_COME = Line(
    "cool.to_come", "Length still to part after unclamping", Q.DEVIATION, "axial",
    of="casting over sleeve, whole length, down to 20 °C; friction takes a part of it",
)  # fmt: skip
NOW_LEFT = Line(
    "cool.to_come_now", "Length still to part from the last reading", Q.DEVIATION, "axial",
    of="casting over sleeve, whole length, down to 20 °C",
)  # fmt: skip
BEFORE, UNREAD, HOT, CAUGHT, FREE, TOUCHED, READY = (
    "not in", "unread", "hot", "caught", "unclamp", "cool", "gauge it",
)  # fmt: skip
"""States in a word, to be read at arm's length."""

WHAT_TO_DO = {
    BEFORE: "not dropped yet",
    UNREAD: "not read yet: put a probe on the casting; until then keep it down",
    HOT: "not caught for certain: keep it down and let it be",
    CAUGHT: "caught: keep it down, most of the shrinking is still to come",
    FREE: "may be unclamped: then try the feeler and the dial",
    TOUCHED: "cool to the hand: too warm to gauge",
    READY: "ready to gauge: two readings ten minutes apart must agree",
}
ALIKE = "caught: both shrink alike from here; keep it down until it may be unclamped all the same"
"""What is done with iron in iron, of which no length is still to part."""

WARM_UNCLAMPED = (
    "Unclamped while the casting was still warm: the seat may have drawn away from the flange "
    "since. Try the thinnest feeler all round and a dial on the deck before anything else is done; "
    "where it enters, press the flange home, and see what lies under it."
)
ASTRAY = "the readings do not follow one curve: read it again in ten minutes"
WANDERS = (
    "The readings do not follow one cooling: was a fan put on or taken off, the probe moved, a "
    "time or a temperature mistyped? The times here are worth little; what it reads decides."
)
APART = 3.0
"""So far beside the band of the forecast, in kelvin, a reading does not belong to it. [K]"""

RULE = (
    "Gauge it after a night's rest, or at least three hours in still air, or 45 minutes before a "
    "fan, and only when two readings ten minutes apart agree to 0.1 thou (2.5 µm)."
)


@formula(
    name="temperature below which a sleeve counts as caught",
    expression="T = T_g - 1.645 sqrt(u(T_g)^2 + u_probe^2)",
    sources=("derived",),
    validity="sleeve and casting at one temperature",
    unit="K",
)
def caught_below(*, lets_go: Number, off: Number) -> Number:
    """Temperature of the casting below which 19 in 20 such sleeves have gripped.

    Parameters
    ----------
    lets_go : Number
        Temperature at which the interference is nothing. [K]
    off : Number
        What it may be off, on one side. [K]

    Returns
    -------
    Number
        Temperature. [K]

    Raises
    ------
    InputError
        If the margin is negative.

    Notes
    -----
    Source: ``derived``.
    """
    return lets_go - not_negative("margin", off, "K")


def enter_state(ledger: Ledger, plan: Plan, told: CoolingTold) -> None:
    """Enter the temperatures that part the states, the state itself and what comes next."""
    _enter_bounds(ledger, plan)
    _enter_to_come(ledger, told)
    state = _state(ledger, told)
    ledger.fact(STATE, Given(state, Kind.COMPUTED, source="practice"))
    alike = state == CAUGHT and not ledger.has(CAUGHT_AT.id)
    ledger.fact(DO, Given(ALIKE if alike else WHAT_TO_DO[state], Kind.COMPUTED, source="practice"))
    ledger.fact(NEXT, Given(_next(ledger, told), Kind.COMPUTED, source="practice"))
    if told.unclamped_at is not None and told.unclamped_at > ledger.value("cool.unclamp"):
        ledger.caution("unclamped-warm", WARM_UNCLAMPED, "practice")
    if not _follows(ledger.value("cool.forecast"), told.last):
        ledger.advise(WANDERS)
    ledger.advise(RULE)


def _enter_bounds(ledger: Ledger, plan: Plan) -> None:
    """Enter the temperatures that part the states."""
    grip = known_in(plan, GRIP)
    if grip is not None and isinstance(grip.value, float):
        spread = 0.0 if grip.doubt is None else grip.doubt.standard
        probe = ledger.default("probe_temperature").doubt
        from_plan(ledger, plan, GRIP, need="the sizes of the fit")
        margin = Given(ONE_IN_TWENTY * math.hypot(spread, probe), Kind.COMPUTED, "the plan")
        ledger.fact(MARGIN, margin)
        ledger.compute(CAUGHT_AT, caught_below, CENTRALLY, lets_go=GRIP, off=MARGIN.id)
    else:
        need = "nothing: iron in iron is caught when both are as warm as each other"
        ledger.fact(CAUGHT_AT, Given(None, Kind.COMPUTED, need=need))
    touch, within = ledger.default("touch_safe"), ledger.default("soak_within")
    ledger.fact(TOUCH, Given(touch.value, Kind.CHOSEN, touch.source, touch.note))
    room = float(ledger.value("heat.room"))
    ledger.fact(MEASURE, Given(room + within.value, Kind.CHOSEN, within.source, within.note))


def _enter_to_come(ledger: Ledger, told: CoolingTold) -> None:
    """Enter the mismatch of length that is left below unclamping, and below the last reading."""
    points = [("unclamp", TO_COME)]
    if told.last is not None:
        line = Line("cool.last", "Casting, last read", Q.TEMPERATURE)
        ledger.fact(line, Given(told.last.temperature, Kind.MEASURED, "the job",
                                standard=told.last.standard))  # fmt: skip
        points.append(("last", NOW_LEFT))
    for ending, line in points:
        left = Line(f"cool.fit_{ending}", "fit at that temperature", Q.DEVIATION, "diametral",
                    is_detail=True)  # fmt: skip
        at = {"casting_temperature": f"cool.{ending}", "sleeve_temperature": f"cool.{ending}"}
        ledger.compute(left, running_interference, diameter="sleeve.od",
                       interference="fit.as_cut", casting_law="casting.law",
                       sleeve_law="sleeve.law", **at)  # fmt: skip
        ledger.compute(line, flange_lift, anchor_length="sleeve.length",
                       interference="fit.as_cut", interference_left=left.id,
                       diameter="sleeve.od")  # fmt: skip


def _ladder(ledger: Ledger) -> list[tuple[float, str]]:
    """Where the states end: temperature, and what it is announced as."""
    steps = [
        ("cool.caught_at", "caught"),
        ("cool.unclamp", "may be unclamped"),
        ("cool.touch_safe", "cool to the hand"),
        ("cool.measure_at", "gauge it"),
    ]
    return [(float(ledger.value(name)), words) for name, words in steps if ledger.has(name)]


def _state(ledger: Ledger, told: CoolingTold) -> str:
    """The state by the last measured temperature; no clock makes one."""
    if not told.is_down and told.last is None:
        return BEFORE
    if told.last is None:
        return UNREAD
    read = told.last.temperature
    if not _is_caught(ledger, told):
        return HOT
    state = CAUGHT
    for name, below in (
        ("cool.unclamp", FREE),
        ("cool.touch_safe", TOUCHED),
        ("cool.measure_at", READY),
    ):
        if read <= float(ledger.value(name)):
            state = below
    return state


@lru_cache(maxsize=64)
def _follows(forecast: CoolingForecast | None, last: CoolingReading | None) -> bool:
    """Whether the newest reading lies where the forecast that it went into has it."""
    if forecast is None or last is None or last.time < 0.0:
        return True
    band = cooled_band(forecast, time=last.time)
    off = max(band[0] - last.temperature, last.temperature - band[-1])
    return off <= APART + 2.0 * last.standard


def _is_caught(ledger: Ledger, told: CoolingTold) -> bool:
    """Whether the fit has closed by the last reading, as both parts then were.

    A sleeve that is colder than its casting is looser than at one temperature, so that a
    casting that is cool enough says nothing before the sleeve has come level with it.
    """
    last = told.last
    if last is None:
        return False
    has_grip = ledger.has(CAUGHT_AT.id)
    if told.sleeve_last is None:
        is_cool = not has_grip or last.temperature <= float(ledger.value(CAUGHT_AT.id))
        return is_cool and last.time >= LEVEL_AFTER
    margin = float(ledger.value(MARGIN.id)) if has_grip else 0.0
    if not all(ledger.has(name) for name in ("casting.law", "sleeve.law", "fit.as_cut")):
        return False
    left = running_interference(
        diameter=ledger.value("sleeve.od"),
        interference=ledger.value("fit.as_cut"),
        casting_law=ledger.value("casting.law"),
        sleeve_law=ledger.value("sleeve.law"),
        casting_temperature=last.temperature + margin,
        sleeve_temperature=told.sleeve_last + (margin if has_grip else 0.0),
    )
    return float(left) > 0.0


def _next(ledger: Ledger, told: CoolingTold) -> str:
    """What comes next and when, as far as the clock was started."""
    forecast = ledger.value("cool.forecast")
    if forecast is None:
        return "weigh the casting, and the times can be said"
    now = told.last.temperature if told.last is not None else 1e9
    for limit, words in sorted(_ladder(ledger), key=lambda one: -one[0]):
        if limit < now and limit > forecast.curve.room + 1.0:
            found = times_to_cool(forecast, temperature=limit)
            middle = expected_time(forecast, temperature=limit)
            if told.last is not None and middle <= told.last.time:
                return ASTRAY
            if told.begun is None:
                return f"{words} some {middle / 60.0:.0f} min after it was seated"
            early, late = told.at(found[1]), told.at(found[-2])
            return f"{words} about {told.at(middle)}, {early} to {late}; read it then"
    return "gauge it, when it is as warm as the bench"
