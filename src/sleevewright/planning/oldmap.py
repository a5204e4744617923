"""The wall as a map: read round and down the bore, less what the planned bore takes off each side.

Where the walls were read from the old bore, the new axis lies off it as the set-up swept it;
read from the clean-out, both are one axis.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.cutting.concentric import moves_spread
from sleevewright.core.cutting.coreshift import (
    check_walls,
    is_all_round,
    largest_shift,
    wall_wander,
    wander_freedom,
)
from sleevewright.core.cutting.evening import evening_move, move_amount, move_towards
from sleevewright.core.cutting.shiftdoubt import shift_doubt
from sleevewright.core.cutting.wallleast import (
    chance_of_too_thin,
    least_wall_in_twenty,
    least_wall_likely,
    least_wall_standard,
    thinnest_angle,
    thinnest_depth,
)
from sleevewright.core.cutting.wallmap import CastWall, PlannedCut, planned_wall
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.sweep import Sweep
from sleevewright.errors import InputError
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, told_size
from sleevewright.planning.facts import find_instrument
from sleevewright.planning.gauges import readings_of
from sleevewright.planning.judges import Judge
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.oldtold import OLD_BORE, WallTold
from sleevewright.planning.proofing import reading_parts

Q = Quantity

READ = Line("old.wall_read", "Wall as read", Q.RECORD, "radial", is_detail=True)
BORE = Line("old.wall_bore", "Bore that it was read from", Q.SIZE, "diametral", is_detail=True)
CUT = Line("old.cut", "Bore that is planned, and its axis", Q.RECORD, is_detail=True)
CAST = Line("old.cast", "Casting and gauge of the wall", Q.RECORD, is_detail=True)
MAP = Line("old.map", "Wall left, unrolled", Q.RECORD, "radial", is_detail=True)
LEAST = Line(
    "old.least_wall",
    "Least wall, planned bore",
    Q.SIZE,
    "radial",
    of="at its thinnest, as likely less as more",
    would_change="read the wall at more places, the thin side first",
)
LOW = Line("old.wall_low", "Least wall, 19 times in 20", Q.SIZE, "radial",
           of="at its thinnest, at least")  # fmt: skip
THIN = Line("old.thin", "Chance of too thin a wall", Q.PROBABILITY, of="somewhere in the casting")
SPREAD = Line("old.least_standard", "doubt of the least wall", Q.DEVIATION, is_detail=True)
AT = Line("old.least_at", "Thinnest at", Q.ANGLE, of="from the table's +X, counter-clockwise")
DEEP = Line("old.least_depth", "and that far down", Q.SIZE, of="below the deck")
SHIFTED = Line("old.shifted", "Core stood off by", Q.DEVIATION, "radial",
               of="at the depth where it is most")  # fmt: skip
EVENS = Line("old.evening", "move that evens the wall", Q.RECORD, is_detail=True)
SURE = Line("old.shift_doubt", "how far the shift is sure", Q.RECORD, is_detail=True)
EVEN_BY = Line("old.even_by", "Centre that evens the wall lies off by", Q.DEVIATION, "radial",
               of="told only: it leaves the crank's axis")  # fmt: skip
EVEN_AT = Line("old.even_at", "Towards", Q.ANGLE, of="the thick side")
LEDGE_BORE = Line("counterbore.diameter", "Counterbore", Q.SIZE, is_detail=True)
LEDGE_READ = Line("old.ledge_read", "wall read beside the counterbore", Q.RECORD, is_detail=True)
LEDGE_CUT = Line("old.ledge_cut", "counterbore that is planned", Q.RECORD, is_detail=True)
LEDGE_MAP = Line("old.ledge_map", "wall beside the counterbore", Q.RECORD, is_detail=True)
LEDGE_THIN = Line("old.ledge_thin", "Chance of too thin a wall, counterbore", Q.PROBABILITY,
                  of="at the depths that were read there")  # fmt: skip
LEDGE = Line("old.ledge_wall", "Least wall, counterbore", Q.SIZE, "radial",
             of="19 times in 20 at least, at the depths that were read there")  # fmt: skip

NEED_BORE = "the bore when the wall was read"
FACTS = {
    "x": "new axis off the old, towards 0 degrees",
    "y": "new axis off the old, towards 90 degrees",
    "lean_x": "what that gains by depth",
    "lean_y": "what that gains by depth, towards 90 degrees",
    "spread": "what is not known of the axis, along each of two",
    "standard": "doubt of the metal that the cut takes",
}

EVEN_WARNING = (
    "A bore on the centre that evens the wall leaves the axis of the crank by as much: piston, "
    "rings and ports would stand off. It is told, not planned."
)
FEW = (
    "At some depth the wall was read at fewer than three places all round: there the usual core "
    "shift stands in. Read four or more, the thin side first."
)
FAR_APART = 0.05
"""Depths that lie farther apart hide more than one plane between them can tell. [m]"""

FAR = (
    "Two depths that were read lie more than 2 in (50 mm) apart: a rough wall may be thinner "
    "between them than is promised. Read one more between."
)
FEW_MET = 4.5
"""Draws that met a limit, or missed it: of fewer a chance is told to whole per cent. [1]"""

LEAST_STEP = 1e-7
"""A gauge that reads finer is no surer: places at one angle stay two readings. [m]"""

NO_SHIFT = (
    "No shift beyond doubt: a wall that wanders reads as if its core had stood off by as much. No "
    "direction is told; read more places round it where it matters."
)
LEDGE_NOT = (
    "No wall was read as high up as the counterbore reaches; what it leaves there is not judged."
)


@dataclass(frozen=True)
class Axis:
    """The new axis against that of the bore which the walls were read from."""

    x: float = 0.0
    y: float = 0.0
    lean_x: float = 0.0
    lean_y: float = 0.0
    spread: float = 0.0


def enter_map(
    ledger: Ledger, plan: Plan, told: WallTold, *, judge: Callable[[Ledger], Judge]
) -> bool:
    """Enter the map and the least of it; false where no wall was read."""
    grid = told.read.grid
    if grid is None:
        return False
    try:
        readings = _in_order(readings_of(grid))
        check_walls(readings)
        _enter_inputs(ledger, plan, told, readings)
        if not ledger.has(BORE.id):
            for line in (LEAST, THIN):
                ledger.fact(line, Given(None, Kind.COMPUTED, need=NEED_BORE))
            return True
        ledger.compute(
            MAP, planned_wall, CENTRALLY, walls_read=READ.id, planned_cut=CUT.id, cast_wall=CAST.id
        )
    except InputError as refused:
        for line in (LEAST, THIN):
            ledger.fact(line, Given(None, Kind.COMPUTED, need="the wall read again"))
        ledger.caution("wall:old.map", f"Wall not reckoned. {refused}", "derived")
        return True
    _enter_least(ledger, judge(ledger))
    _enter_shift(ledger, readings)
    _enter_ledge(ledger, plan, readings, judge(ledger))
    return True


def _in_order(readings: GridReadings) -> GridReadings:
    """The readings from the deck downwards, whichever way round they were told."""
    order = np.argsort(readings.stations, kind="stable")
    return replace(readings, stations=readings.stations[order], readings=readings.readings[order])


def _enter_inputs(ledger: Ledger, plan: Plan, told: WallTold, readings: GridReadings) -> None:
    """Enter readings, bore, axis, and what is known of casting and gauge."""
    source = "" if told.read.grid is None else told.read.grid.instrument
    ledger.fact(READ, Given(readings, Kind.MEASURED, source or "the job"))
    _enter_bore(ledger, plan, told)
    axis = _axis(ledger, plan, told)
    sizes = (BORE.id, "old.bored")
    doubts = [ledger.entry(one).answer.doubt for one in sizes]
    standard = 0.5 * math.hypot(*(0.0 if one is None else one.standard for one in doubts))
    for key, label in FACTS.items():
        value = standard if key == "standard" else float(getattr(axis, key))
        line = Line(f"old.axis_{key}", label, Q.RATIO if "lean" in key else Q.DEVIATION, "radial",
                    is_detail=True)  # fmt: skip
        ledger.fact(line, Given(value, Kind.COMPUTED, "the plan"))
    if ledger.has(BORE.id):
        ledger.compute(
            CUT,
            PlannedCut,
            CENTRALLY,
            bore=BORE.id,
            planned_bore="old.bored",
            **{key: f"old.axis_{key}" for key in FACTS},
        )
    _enter_cast(ledger, told)


def _enter_bore(ledger: Ledger, plan: Plan, told: WallTold) -> None:
    """Enter the bore that the walls were read from: as told, the bore as found, the clean-out."""
    gauge = ledger.default("gauge_setting").value
    is_old = told.read_from == OLD_BORE
    if told.bore is not None:
        ledger.fact(BORE, told_size(told.bore, doubt=gauge, need="bore when the wall was read"))
        return
    name, need = (
        ("found.size", "bore as found") if is_old else ("old.clean_out", "clean-out diameter")
    )
    if is_old:
        from_plan(ledger, plan, name, need=need)
    known = ledger.entry(name).answer
    standard = 0.0 if known.doubt is None else known.doubt.standard
    ledger.fact(BORE, Given(ledger.value(name), known.kind, "the plan", known.typed, standard,
                            need=NEED_BORE))  # fmt: skip


def _axis(ledger: Ledger, plan: Plan, told: WallTold) -> Axis:
    """The new axis: the spindle's, as the last sweeps of the old bore left it."""
    if told.read_from != OLD_BORE:
        return Axis()
    known = {one.id: one for one in plan.answers()}
    sweeps = [
        known[f"setup.{which}"].value for which in ("top", "bottom") if f"setup.{which}" in known
    ]
    swept = [one for one in sweeps if isinstance(one, Sweep)]
    if not swept:
        usual = ledger.default("recentring").value
        offset = known.get("setup.offset")
        if offset is not None and isinstance(offset.value, float):
            return Axis(spread=offset.value / math.sqrt(2.0))
        return Axis(spread=moves_spread(moves=1.0, recentring=usual))
    spread = max(one.move_doubt for one in swept)
    top = swept[0]
    if len(swept) < 2 or len(told.sweep_depths) < 2:
        return Axis(top.move_x, top.move_y, spread=spread)
    upper, lower = told.sweep_depths[:2]
    if lower == upper:
        return Axis(top.move_x, top.move_y, spread=spread)
    lean_x = (swept[1].move_x - top.move_x) / (lower - upper)
    lean_y = (swept[1].move_y - top.move_y) / (lower - upper)
    return Axis(top.move_x - lean_x * upper, top.move_y - lean_y * upper, lean_x, lean_y, spread)


def _enter_cast(ledger: Ledger, told: WallTold) -> None:
    """Enter what castings usually do, and what the gauge of the wall is worth."""
    for usual, line in (
        (ledger.default("core_shift"),
         Line("old.usual_shift", "usual core shift", Q.DEVIATION, is_detail=True)),
        (ledger.default("wall_wander"),
         Line("old.usual_wander", "usual wander", Q.DEVIATION, is_detail=True)),
        (ledger.default("wall_reach"),
         Line("old.reach", "reach of a thin place", Q.ANGLE, is_detail=True)),
    ):  # fmt: skip
        ledger.fact(line, Given(usual.value, Kind.ASSUMED, usual.source, usual.stated))
    setting, step = reading_parts(ledger, told.read, "wall_gauge")
    gauge = (
        None
        if told.read.grid is None
        else find_instrument(told.read.grid.instrument, told.read.instruments)
    )
    repeat = None if gauge is None else gauge.repeatability
    # What the setting is off, all readings share: it is no scatter of each.
    one = math.hypot(max(step.standard, LEAST_STEP), 0.0 if repeat is None else repeat.value)
    for key, value in (("one", one), ("shared", setting.standard)):
        line = Line(f"old.gauge_{key}", f"gauge of the wall, {key}", Q.DEVIATION, is_detail=True)
        ledger.fact(line, Given(value, Kind.ASSUMED, "practice"))
    ledger.compute(Line("old.wander", "wander of this wall", Q.DEVIATION, is_detail=True),
                   wall_wander, CENTRALLY, walls_read=READ.id, usual_wander="old.usual_wander",
                   reading_standard="old.gauge_one")  # fmt: skip
    ledger.compute(Line("old.wander_freedom", "readings behind it", Q.RATIO, is_detail=True),
                   wander_freedom, CENTRALLY, walls_read=READ.id)  # fmt: skip
    ledger.compute(
        CAST,
        CastWall,
        CENTRALLY,
        usual_shift="old.usual_shift",
        wander="old.wander",
        reach="old.reach",
        reading_standard="old.gauge_one",
        shared_standard="old.gauge_shared",
        wander_freedom="old.wander_freedom",
    )


def _enter_least(ledger: Ledger, judge: Judge) -> None:
    """Enter the least wall, its doubt from the draws, where it is and how surely it is enough."""
    ledger.compute(LEAST, least_wall_likely, CENTRALLY, wall_map=MAP.id)
    ledger.compute(SPREAD, least_wall_standard, CENTRALLY, wall_map=MAP.id)
    standard = float(ledger.value(SPREAD.id))
    draws = ledger.value(MAP.id).least_draws
    low, high = (float(one) for one in np.quantile(draws, (0.025, 0.975)))
    doubt = Doubt(standard, low, high, 0.95, "sampled", samples=draws.size)
    ledger.amend(LEAST.id, doubt=doubt)
    ledger.compute(LOW, least_wall_in_twenty, CENTRALLY, wall_map=MAP.id)
    ledger.compute(AT, thinnest_angle, CENTRALLY, wall_map=MAP.id)
    ledger.compute(DEEP, thinnest_depth, CENTRALLY, wall_map=MAP.id)
    _enter_chance(ledger, THIN, MAP, judge)


def _enter_chance(ledger: Ledger, line: Line, found: Line, judge: Judge) -> None:
    """Enter the chance of too thin a wall; of few draws that met it no tenths are told."""
    ledger.compute(line, chance_of_too_thin, How(judge=judge, is_sampled=False),
                   wall_map=found.id, least_wall="old.wall_limit")  # fmt: skip
    draws = ledger.value(found.id).least_draws
    chance = float(ledger.value(line.id))
    if FEW_MET < chance * draws.size < draws.size - FEW_MET:
        return
    one = max(1.0 / (draws.size + 2.0), math.sqrt(chance * (1.0 - chance) / draws.size))
    low, high = max(chance - 2.0 * one, 0.0), min(chance + 2.0 * one, 1.0)
    ledger.amend(line.id, doubt=Doubt(one, low, high, 0.95, "counted", samples=draws.size))


def _enter_shift(ledger: Ledger, readings: GridReadings) -> None:
    """Enter the core shift that was read, and the centre that would even the wall."""
    rounds = [
        is_all_round(readings.directions[np.isfinite(row)])
        for row in readings.readings
        if np.isfinite(row).any()
    ]
    if not all(rounds):
        ledger.advise(FEW)
    read = readings.stations[np.isfinite(readings.readings).any(axis=1)]
    if (np.diff(read) > FAR_APART).any():
        ledger.advise(FAR)
    if not any(rounds):
        return
    _enter_moves(ledger)


def _enter_moves(ledger: Ledger) -> None:
    """Enter shift and centre with what the wander leaves of them; a direction where one shows."""
    ledger.compute(SHIFTED, largest_shift, CENTRALLY, walls_read=READ.id)
    ledger.compute(EVENS, evening_move, CENTRALLY, walls_read=READ.id)
    ledger.compute(EVEN_BY, move_amount, CENTRALLY, centre_move=EVENS.id)
    ledger.compute(SURE, shift_doubt, CENTRALLY, walls_read=READ.id, cast_wall=CAST.id)
    sure = ledger.value(SURE.id)
    for line, half in ((SHIFTED, sure.of_largest), (EVEN_BY, sure.of_mean)):
        value = float(ledger.value(line.id))
        doubt = Doubt(sure.standard, max(value - half, 0.0), value + half, 0.95, "length")
        ledger.amend(line.id, doubt=doubt)
    if float(ledger.value(EVEN_BY.id)) > sure.of_mean:
        ledger.compute(EVEN_AT, move_towards, CENTRALLY, centre_move=EVENS.id)
        ledger.advise(EVEN_WARNING)
    if float(ledger.value(SHIFTED.id)) <= sure.of_largest:
        ledger.advise(NO_SHIFT)


def _enter_ledge(ledger: Ledger, plan: Plan, readings: GridReadings, judge: Judge) -> None:
    """Enter the wall beside the counterbore, from the depths that were read within it."""
    for name in ("counterbore.diameter", "counterbore.depth"):
        from_plan(ledger, plan, name, need="the counterbore")
    if not (ledger.has("counterbore.diameter") and ledger.has("counterbore.depth")):
        return
    within = readings.stations <= ledger.value("counterbore.depth") + 1e-9
    own = readings.readings[within]
    if not np.isfinite(own).any():
        ledger.advise(LEDGE_NOT)
        return
    beside_it = replace(readings, stations=readings.stations[within], readings=own)
    ledger.fact(LEDGE_READ, Given(beside_it, Kind.MEASURED, "the job"))
    ledger.compute(
        LEDGE_CUT,
        PlannedCut,
        CENTRALLY,
        bore=BORE.id,
        planned_bore="counterbore.diameter",
        **{key: f"old.axis_{key}" for key in FACTS},
    )
    ledger.compute(
        LEDGE_MAP,
        planned_wall,
        CENTRALLY,
        walls_read=LEDGE_READ.id,
        planned_cut=LEDGE_CUT.id,
        cast_wall=CAST.id,
    )
    ledger.compute(LEDGE, least_wall_in_twenty, CENTRALLY, wall_map=LEDGE_MAP.id)
    _enter_chance(ledger, LEDGE_THIN, LEDGE_MAP, judge)
