"""Stage As found: how far the bore is worn, and the size at which it cleans up.

Readings are taken in the old sleeve's iron.  Diametral at 20 degC; a score is a depth.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.cleanout import clean_up_bore, largest_of
from sleevewright.core.cutting.eccentric import (
    best_circle,
    best_clean_up,
    centred_clean_up,
    clean_up_move_x,
    clean_up_move_y,
    deepest_wear,
    one_sided_clean_up,
    worn_wall,
)
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.sweep import lever_reading, place_sign
from sleevewright.errors import InputError
from sleevewright.jobs.model import Entry, Job, Part
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, ledger_of, told_size
from sleevewright.planning.facts import (
    STATED_COVERAGE_FACTOR,
    assumed,
    enter_default,
    enter_metal,
    given,
)
from sleevewright.planning.form import ports_of
from sleevewright.planning.gauges import readings_of
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.proofing import Gauged, reading_doubt
from sleevewright.planning.setup_told import SetUpTold, lever_share
from sleevewright.planning.sizes import Bench, Feature, enter_size

Q = Quantity
FEATURE = "as-found-bore"
NOTHING_GAUGED = Gauged()


@dataclass(frozen=True)
class Swept:
    """The wall as swept with an indicator, and the bore where it is not worn.

    ``made`` tells what turned, which way angles were counted and how the lever stood.
    """

    gauged: Gauged = NOTHING_GAUGED
    unworn: Entry | None = None
    made: SetUpTold = field(default_factory=SetUpTold)

    @property
    def share(self) -> float:
        """How much of what the indicator shows is square to the wall."""
        return float(lever_reading(1.0, angle=self.made.lever))

    def standing(self, readings: GridReadings) -> GridReadings:
        """The readings square to the wall, at their places counter-clockwise on the bore."""
        sign = place_sign(mount=self.made.mount, sense=self.made.sense)
        return replace(
            readings,
            directions=sign * readings.directions,
            readings=self.share * readings.readings,
        )


NOT_SWEPT = Swept()
BORE = Feature("found.size", "As found", "found", of="old sleeve, at 20 °C", is_bore=True)
NOMINAL = Line("found.nominal", "Bore, nominal", Q.SIZE, "diametral", of="engine")
LARGEST = Line("found.largest", "As found, largest", Q.SIZE, "diametral", of="anywhere, at 20 °C")
WEAR = Line(
    "found.wear", "Worn", Q.DEVIATION, "diametral", of="largest less the engine's nominal bore"
)
SCORE = Line("found.score", "Deepest score", Q.DEVIATION, "radial")
ALLOWANCE = Line("found.allowance", "Clean-up all round", Q.DEVIATION, "diametral", is_detail=True)
CLEAN_UP = Line(
    "found.clean_up",
    "Cleans up at",
    Q.SIZE,
    "diametral",
    of="a cut true to the worn bore",
    would_change="an offset of the cut comes on top, twice",
)

UNWORN = Line("found.unworn", "Bore where it is not worn", Q.SIZE, "diametral", is_detail=True)
ONE_SIDE = Line(
    "found.one_side",
    "or, wear all on one side",
    Q.SIZE,
    "diametral",
    of="a cut centred where it is not worn",
    would_change="diameters do not tell the side: sweep the wall with an indicator",
)
SWEEP = Line("found.sweep", "Wall swept for wear", Q.RECORD, is_detail=True)
SWEEP_ERROR = Line("found.sweep_error", "error of the sweep", Q.DEVIATION, "radial", is_detail=True)
WALL = Line("found.wall", "Worn wall about the datum", Q.RECORD, is_detail=True)
CIRCLE = Line("found.circle", "Smallest bore round the wall", Q.RECORD, is_detail=True)
DEEPEST = Line("found.deepest_wear", "Deepest wear", Q.DEVIATION, "radial", of="as swept")
BEST = Line(
    "found.best_clean_up",
    "Cleans up at, best centre",
    Q.SIZE,
    "diametral",
    of="smallest bore round the worn wall",
    would_change="it moves the bore off the old axis: see what the ports and the crank allow",
)
CENTRED = Line(
    "found.centred_clean_up",
    "Cleans up at, old centre",
    Q.SIZE,
    "diametral",
    of="centred where it is not worn",
)
MOVE_X = Line(
    "found.move_x",
    "Table to the best centre, towards 0°",
    Q.READING,
    "of travel",
    of="from the old centre, angles counter-clockwise on the bore; minus is towards 180°",
)
MOVE_Y = Line(
    "found.move_y",
    "Table to the best centre, towards 90°",
    Q.READING,
    "of travel",
    of="from the old centre, angles counter-clockwise on the bore; minus is towards 270°",
)


FIRST_IS_WORN = (
    "No best centre yet. The bore round the swept wall would be smaller than the largest size that "
    "was gauged: the first depth of the sweep is worn, or the size of the bore where it is not "
    "worn is too small. Begin the sweep at a depth that nothing has worn."
)


def as_found(
    plan: Plan, job: Job, *, score: Entry | None, swept: Swept = NOT_SWEPT
) -> StageAnswers:
    """Wear, form and clean-up size of the bore as it came in."""
    ledger = ledger_of(plan)
    grid = job.grid(FEATURE)
    if grid is not None and any(one is not None for row in grid.readings for one in row):
        enter_metal(ledger, "found", Part("grey-iron"), fallback="grey-iron", name="old sleeve")
        ports = ports_of(job.ports)
        enter_size(ledger, BORE, grid, None, Bench(job.instruments, job.units, ports))
        _enter_wear(ledger, job, score)
        _enter_side(ledger, swept)
    else:
        line = Line(BORE.id, BORE.label, Q.SIZE, BORE.sense, BORE.of)
        ledger.fact(line, Given(None, Kind.MEASURED, need="the bore gauged as found"))
    _enter_swept(ledger, job, score, swept)
    return beside(plan, "found", "As found", ledger.result())


def _enter_side(ledger: Ledger, swept: Swept) -> None:
    """Enter how much larger it gets if the wear is all on one side: diameters do not tell."""
    if swept.unworn is not None:
        _unworn(ledger, swept.unworn)
    unworn = UNWORN.id if swept.unworn is not None else NOMINAL.id
    ledger.compute(
        ONE_SIDE,
        one_sided_clean_up,
        bore="found.largest",
        unworn=unworn,
        score="found.score",
        allowance="found.allowance",
    )


def _enter_wear(ledger: Ledger, job: Job, score: Entry | None) -> None:
    """Enter what follows from the largest reading."""
    ledger.compute(
        LARGEST,
        largest_of,
        readings="found.size.used",
        part_expansion="found.expansion",
        gauge_expansion="gauge.expansion",
    )
    ledger.fact(NOMINAL, given(job.engine.bore, need="the engine's nominal bore"))
    ledger.compute(WEAR, rest_of, whole="found.largest", part="found.nominal")
    _enter_cut(ledger, score)
    ledger.compute(
        CLEAN_UP,
        clean_up_bore,
        bore="found.largest",
        score="found.score",
        allowance="found.allowance",
    )


def _enter_cut(ledger: Ledger, score: Entry | None) -> None:
    """Enter the deepest score and what the last cut takes."""
    if score is None:
        ledger.fact(SCORE, assumed(0.0, source="practice", note="no score was told"))
    else:
        ledger.fact(SCORE, given(score, need="depth of the deepest score"))
    enter_default(ledger, ALLOWANCE, None, "clean_up")


def _enter_swept(ledger: Ledger, job: Job, score: Entry | None, swept: Swept) -> None:
    """Enter where to bore and to which size, from the wall as it was swept."""
    grid = swept.gauged.grid
    unworn = job.engine.bore if swept.unworn is None else swept.unworn
    if grid is None or unworn is None:
        return
    try:
        readings = swept.standing(readings_of(grid))
        wall = worn_wall(readings=readings, unworn=unworn.value)
    except InputError as refused:
        ledger.caution("found.sweep:found.sweep", f"No best centre yet. {refused}", "derived")
        return
    if _is_below_gauged(ledger, 2.0 * best_circle(worn=wall).radius, unworn, swept):
        ledger.caution("found.sweep:found.sweep", FIRST_IS_WORN, "derived")
        return
    if not ledger.has(SCORE.id):
        _enter_cut(ledger, score)
    ledger.fact(SWEEP, Given(readings, Kind.MEASURED, source=grid.instrument))
    zone = _unworn(ledger, unworn)
    one = swept.share * reading_doubt(ledger, swept.gauged, "indicator_setting")
    lever = lever_share(ledger, swept.made.lever)
    both = math.hypot(one, 0.5 * zone.standard, lever * float(wall.wear.max()))
    ledger.fact(SWEEP_ERROR, assumed(0.0, source="practice", standard=both))
    ledger.compute(WALL, worn_wall, CENTRALLY, readings=SWEEP.id, unworn=UNWORN.id)
    ledger.compute(CIRCLE, best_circle, CENTRALLY, worn=WALL.id)
    ledger.compute(DEEPEST, deepest_wear, CENTRALLY, worn=WALL.id)
    for line, size in ((BEST, best_clean_up), (CENTRED, centred_clean_up)):
        ledger.compute(
            line,
            size,
            worn=WALL.id,
            sweep_error=SWEEP_ERROR.id,
            score=SCORE.id,
            allowance=ALLOWANCE.id,
        )
    for line, move in ((MOVE_X, clean_up_move_x), (MOVE_Y, clean_up_move_y)):
        ledger.compute(line, move, CENTRALLY, worn=WALL.id)
    for line in (DEEPEST, MOVE_X, MOVE_Y):
        by_lever = lever * float(ledger.value(line.id))
        _give_doubt(ledger, line, math.hypot(math.sqrt(2.0) * one, by_lever))


def _is_below_gauged(ledger: Ledger, smallest: float, unworn: Entry, swept: Swept) -> bool:
    """Whether a bore round the swept wall would be smaller than the largest that was gauged."""
    if not ledger.has(LARGEST.id):
        return False
    zone = told_size(unworn, doubt=ledger.default("gauge_setting").value, need=UNWORN.label)
    gauged = ledger.entry(LARGEST.id).answer.doubt
    parts = (
        2.0 * swept.share * reading_doubt(ledger, swept.gauged, "indicator_setting"),
        zone.standard,
        0.0 if gauged is None else gauged.standard,
    )
    least = float(ledger.value(LARGEST.id)) - STATED_COVERAGE_FACTOR * math.hypot(*parts)
    return smallest < least


def _unworn(ledger: Ledger, told: Entry) -> Given:
    """Enter the bore where it is not worn, with what such a reading is honestly worth."""
    found = told_size(told, doubt=ledger.default("gauge_setting").value, need=UNWORN.label)
    ledger.fact(UNWORN, found)
    return found


def _give_doubt(ledger: Ledger, line: Line, standard: float) -> None:
    """Restate an answer with the doubt of the readings that it rests on."""
    value, half = float(ledger.value(line.id)), STATED_COVERAGE_FACTOR * standard
    ledger.amend(line.id, doubt=Doubt(standard, value - half, value + half, 0.95, "linear"))
