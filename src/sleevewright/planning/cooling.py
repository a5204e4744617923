"""Beside the plan, stage Cool: how long until it is caught, unclamped, touched and gauged.

A forecast until the casting is read: a measured temperature decides, never the clock.
"""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.heat.cooling import CoolingBody, cooling_curve, finned_surface
from sleevewright.core.heat.cooling_fit import (
    CELLS,
    CoolingForecast,
    CoolingPrior,
    cooling_forecast,
    expected_time,
    times_to_cool,
)
from sleevewright.core.materials import material
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, known_in
from sleevewright.planning.cooling_ends import enter_ends
from sleevewright.planning.cooling_lift import enter_lift_after
from sleevewright.planning.cooling_state import enter_state
from sleevewright.planning.cooling_told import CoolingTold
from sleevewright.planning.cooling_warm import enter_warm
from sleevewright.planning.hold_down import enter_hold_down
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity
SINCE = "since it was seated; a forecast, a probe decides"
DRAWS = 2000
"""Draws behind these doubts: known to 2 %, and a look at a job is not kept waiting."""

ROOM_SPAN = 2.0
"""Least of what a temperature lies over the room to be waited for. [K]"""

BODY = Line("cool.body", "what cools", Q.RECORD, is_detail=True)
CURVE = Line("cool.curve_plain", "cooling as it is expected", Q.RECORD, is_detail=True)
FORECAST = Line("cool.forecast", "Cooling", Q.RECORD, is_detail=True)
SCALE = Line(
    "cool.pace", "Pace of the cooling", Q.RATIO,
    of="against the expected one; learned from readings", is_detail=True,
)  # fmt: skip
TARGETS = (
    ("cool.caught_at", "caught_in", "Caught after"),
    ("cool.unclamp", "unclamp_in", "May be unclamped after"),
    ("cool.touch_safe", "touch_in", "Cool to the hand after"),
    ("cool.measure_at", "measure_in", "Gauge it after"),
)
"""Temperature, ending of the answer, words; in the order in which they come."""

LADDER = (("in_50", 323.15), ("in_30", 303.15), ("in_26", 299.15), ("in_23", 296.15))
"""Further steps down, as asked of a curve; those that lie above the room are answered."""


def cooling_stage(plan: Plan, told: CoolingTold) -> StageAnswers | None:
    """What the stage answers; nothing while the sizes of the drop are not known."""
    start = known_in(plan, "drop.equal")
    if start is None or not isinstance(start.value, float):
        return None
    ledger = Ledger(count=DRAWS, seed=plan.seed, chosen=plan.chosen)
    for name in ("sleeve.length", "sleeve.od", "sleeve.id", "fit.as_cut", "cool.left_in_room",
                 "cool.unclamp", "heat.room", "heat.at_entry", "drop.equal"):  # fmt: skip
        from_plan(ledger, plan, name, need="the sizes of the drop")
    for part in ("casting", "sleeve"):
        from_plan(ledger, plan, f"{part}.capacity", need=f"mass of the {part}")
        _record(ledger, plan, f"{part}.law")
    _enter_forecast(ledger, plan, told, start.value)
    enter_state(ledger, plan, told)
    if ledger.has(FORECAST.id):
        _enter_times(ledger)
    enter_ends(ledger, plan, told)
    if told.has_flange:
        enter_hold_down(ledger, plan, told)
        enter_lift_after(ledger, plan, told)
    enter_warm(ledger, plan, told)
    return beside(plan, "cool", "Cool and prove", ledger.result())


def _record(ledger: Ledger, plan: Plan, name: str) -> None:
    """Enter a record of the plan as it stands there."""
    known = known_in(plan, name)
    line = Line(name, name if known is None else known.label, Q.RECORD, is_detail=True)
    value = None if known is None else known.value
    ledger.fact(line, Given(value, Kind.COMPUTED, "the plan", need="the metals"))


def _enter_forecast(ledger: Ledger, plan: Plan, told: CoolingTold, start: float) -> None:
    """Enter the curve, and what the readings made of it."""
    mass = known_in(plan, "casting.mass")
    room = float(ledger.value("heat.room") or 0.0)
    holds = [ledger.value(f"{part}.capacity") for part in ("casting", "sleeve")]
    if mass is None or not isinstance(mass.value, float) or None in holds or start <= room + 5.0:
        ledger.fact(FORECAST, Given(None, Kind.COMPUTED, need="mass of the casting"))
        return
    density = material(told.casting.material or "unknown-aluminium").density
    blown = ledger.default("fan_film").value if told.air.startswith("fan") else 0.0
    body = CoolingBody(
        heat_capacity=float(sum(holds)),
        area=float(finned_surface(mass=mass.value, density=density)),
        height=ledger.default("cooling_height").value,
        radiating=ledger.default("cooling_radiates").value,
        blown=blown,
    )
    ledger.fact(BODY, Given(body, Kind.ASSUMED, source="practice"))
    spread = ledger.default("cooling_start").value
    hottest = max((one.temperature for one in told.readings), default=start)
    prior = CoolingPrior(ledger.default("cooling_pace").value, start, spread)
    for line, value, kind in (
        (Line("cool.from", "hottest of the curve", Q.TEMPERATURE, is_detail=True),
         max(start, hottest) + 4.0 * spread, Kind.CHOSEN),
        (Line("cool.prior", "what was thought before", Q.RECORD, is_detail=True), prior,
         Kind.ASSUMED),
        (Line("cool.readings", "casting as it was read", Q.RECORD, is_detail=True),
         told.readings, Kind.MEASURED),
    ):  # fmt: skip
        ledger.fact(line, Given(value, kind, source="practice"))
    ledger.compute(CURVE, cooling_curve, CENTRALLY, body=BODY.id, start="cool.from",
                   room="heat.room")  # fmt: skip
    ledger.compute(FORECAST, cooling_forecast, CENTRALLY, curve=CURVE.id, prior="cool.prior",
                   readings="cool.readings")  # fmt: skip
    found = ledger.value(FORECAST.id)
    ledger.fact(SCALE, Given(found.pace, Kind.COMPUTED, "the readings",
                             standard=found.pace * found.pace_spread))  # fmt: skip


def _enter_times(ledger: Ledger) -> None:
    """Enter when each state begins, with its band."""
    forecast = ledger.value(FORECAST.id)
    room = forecast.curve.room
    for source, ending, words in TARGETS:
        if ledger.has(source) and float(ledger.value(source)) > room + 1.0:
            _enter_time(ledger, forecast, source, Line(f"cool.{ending}", words, Q.TIME, of=SINCE))
    for ending, kelvin in LADDER:
        if kelvin < room + ROOM_SPAN:
            continue
        source = f"cool.{ending}_at"
        line = Line(source, "so cool", Q.TEMPERATURE, is_detail=True)
        ledger.fact(line, Given(kelvin, Kind.CHOSEN, "practice"))
        words = f"{kelvin - 273.15:.0f} °C after"
        _enter_time(ledger, forecast, source, Line(f"cool.{ending}", words, Q.TIME, of=SINCE))


def _enter_time(ledger: Ledger, forecast: CoolingForecast, source: str, line: Line) -> None:
    """Enter one time with the band that the readings leave."""
    line = replace(line, would_change="one more reading of the casting, ten minutes on")
    entry = ledger.compute(line, expected_time, CENTRALLY, forecast=FORECAST.id, temperature=source)
    found = times_to_cool(forecast, temperature=float(ledger.value(source)))
    low, high = found[0], found[-1]
    if isinstance(entry.point, float) and high > low:
        doubt = Doubt(
            (high - low) / 3.92, low, high, 0.95, "sampled", samples=CELLS * (2 * CELLS - 1)
        )
        ledger.amend(line.id, doubt=doubt)
