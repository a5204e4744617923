"""Where the bore was gauged before and after, and what both gaugings share.

Both are entered in one ledger, so that a setting that both were made with cancels by its
name; a setting that was made anew is told apart.  Diametral.
"""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.fits.closeratio import at_factors
from sleevewright.core.fits.closeups import (
    Scatter,
    shared_close_up,
    station_close_ups,
    stations_below,
)
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.facts import enter_metal
from sleevewright.planning.gauges import slug
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.proofing import Frame, Gauged, enter_bore
from sleevewright.planning.proofwarm import enter_cold
from sleevewright.planning.provable import BothTimes, why_refused
from sleevewright.planning.sizes import Feature
from sleevewright.planning.stationfactors import StationFactors

Q = Quantity

BEFORE = Feature(
    "cool.before", "Sleeve's bore before the drop", "cooled", of="at 20 °C", is_bore=True,
    has_form=False,
)  # fmt: skip
COOLED = Feature(
    "cool.bore", "Sleeve's bore, cooled", "cooled", of="after the drop, at 20 °C", is_bore=True
)
ALL_STATIONS = Line("cool.all_stations", "close-ups, wherever gauged", Q.RECORD, is_detail=True)
BESIDE_FLANGE = Line("cool.beside_flange", "beside the flange, down to", Q.SIZE, is_detail=True)
FACTORS = Line("cool.factors", "close-up of each station, by their mean", Q.RECORD, is_detail=True)
SOLID_RATIO = Line("cool.solid_ratio", "mean close-up of the fit, solid", Q.RATIO, is_detail=True)
STATIONS = Line("cool.stations", "close-ups by station", Q.RECORD, is_detail=True)
SHARED = Line("cool.shared_close", "close-up but for scatter", Q.DEVIATION, is_detail=True)
SHARED_DOUBT = Line(
    "cool.shared", "doubt that all stations share", Q.DEVIATION,
    of="setting and temperature, both times", is_detail=True,
)  # fmt: skip


def enter_places(
    frame: Frame, ledger: Ledger, both: BothTimes, sleeve: Part, solid: StationFactors | None
) -> None:
    """Enter both gaugings and the close-up at each place that they share, or why there is none."""
    enter_metal(ledger, "cooled", sleeve, fallback="grey-iron", name="sleeve in place")
    enter_bore(ledger, BEFORE, both.before, frame, need="the sleeve's bore gauged before")
    enter_bore(ledger, COOLED, both.after, frame, need="the sleeve's bore gauged cold")
    _enter_close_ups(ledger, frame.plan, both, solid)


def _enter_close_ups(
    ledger: Ledger, plan: Plan, both: BothTimes, solid: StationFactors | None
) -> None:
    """Enter the close-up at each place, or why there is none."""
    refused = why_refused(both)
    known = ledger.has("cool.before") and ledger.has("cool.bore")
    if refused or not known:
        need = refused or "the sleeve's bore gauged before the drop and cooled"
        for line in (STATIONS, SHARED, SHARED_DOUBT):
            ledger.fact(line, Given(None, Kind.MEASURED, need=need))
        return
    after = enter_cold(ledger, plan)
    scatter = Scatter(*(_reading(ledger, one) for one in ("cool.before", "cool.bore")))
    ledger.fact(
        Line("cool.scatter", "doubt of one reading, both times", Q.RECORD, is_detail=True),
        Given(scatter, Kind.MEASURED, source="the readings"),
    )
    ledger.compute(
        ALL_STATIONS, station_close_ups, CENTRALLY,
        before="cool.before.used", after="cool.bore.used",
        before_size="cool.before", after_size=after, scatter="cool.scatter",
        part_expansion="cooled.expansion", gauge_expansion="gauge.expansion",
    )  # fmt: skip
    _enter_counting(ledger, plan, solid)
    ledger.compute(
        SHARED, shared_close_up, before="cool.before", after=after,
        before_repeat="cool.before.repeat", before_form="cool.before.form",
        after_repeat="cool.bore.repeat", after_form="cool.bore.form",
    )  # fmt: skip
    doubt = ledger.entry("cool.shared_close").answer.doubt
    own = 0.0 if doubt is None else doubt.standard
    twice = 0.0 if is_one_setting(both) else math.sqrt(2.0) * own_setting(ledger, both)
    source = "the readings, and the setting that was made anew" if twice else "the readings"
    ledger.fact(SHARED_DOUBT, Given(math.hypot(own, twice), Kind.COMPUTED, source))


def _reading(ledger: Ledger, feature: str) -> float:
    """Standard uncertainty of one reading of a feature, by itself."""
    count = np.isfinite(ledger.value(f"{feature}.used").readings).sum()
    doubt = ledger.entry(f"{feature}.repeat").answer.doubt
    return 0.0 if doubt is None else float(doubt.standard * math.sqrt(count))


def _enter_counting(ledger: Ledger, plan: Plan, solid: StationFactors | None) -> None:
    """Enter the stations that count: below the flange by plain rings, all by a solid model."""
    if solid is not None:
        found = solid.at(ledger.value("cool.all_stations").depths)
        mean = float(found.mean())
        factors = Given(tuple(map(float, found / mean)), Kind.COMPUTED, "the solid model")
        ledger.fact(FACTORS, factors)
        ratio = Given(mean, Kind.COMPUTED, "the solid model", standard=mean * solid.standard)
        ledger.fact(SOLID_RATIO, ratio)
        ledger.compute(
            STATIONS, at_factors, CENTRALLY, stations="cool.all_stations", factors="cool.factors"
        )
        return
    thick = next((one.value for one in plan.answers() if one.id == "flange.thickness"), None)
    thickness = thick if isinstance(thick, float) else 0.0
    ledger.fact(BESIDE_FLANGE, Given(thickness, Kind.MEASURED, "the plan"))
    ledger.compute(
        STATIONS, stations_below, CENTRALLY,
        stations="cool.all_stations", flange_thickness="cool.beside_flange",
    )  # fmt: skip


def own_setting(ledger: Ledger, both: BothTimes) -> float:
    """Standard uncertainty of one setting of the gauge by itself, without its master."""
    grid = both.after.grid
    identity = f"gauge.{slug((grid.instrument if grid else '') or 'gauge')}.setting"
    if not ledger.has(identity):
        return 0.0
    return ledger.entry(identity).roots[identity].standard


def setting_of(gauged: Gauged) -> tuple[str, str, str]:
    """The setting that a set was read from: gauge, when and by whom; empty where not told."""
    grid = gauged.grid
    if grid is None or not grid.set_at:
        return ("", "", "")
    return (grid.instrument, grid.set_at, grid.set_by)


def is_one_setting(both: BothTimes) -> bool:
    """Whether before and after were read from one and the same setting of the gauge."""
    one = setting_of(both.before)
    return bool(one[0]) and one == setting_of(both.after)
