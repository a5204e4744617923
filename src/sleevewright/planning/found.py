"""Stage As found: how far the bore is worn, and the size at which it cleans up.

Readings are taken in the old sleeve's iron.  Diametral at 20 degC; a score is a depth.
"""

from __future__ import annotations

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.cleanout import clean_up_bore, largest_of
from sleevewright.jobs.model import Entry, Job, Part
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, ledger_of
from sleevewright.planning.facts import assumed, enter_default, enter_metal, given
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.sizes import Bench, Feature, enter_size

Q = Quantity
FEATURE = "as-found-bore"
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


def as_found(plan: Plan, job: Job, *, score: Entry | None) -> StageAnswers:
    """Wear, taper, out-of-round and clean-up size of the bore as it came in."""
    ledger = ledger_of(plan)
    grid = job.grid(FEATURE)
    if grid is not None and any(one is not None for row in grid.readings for one in row):
        enter_metal(ledger, "found", Part("grey-iron"), fallback="grey-iron", name="old sleeve")
        enter_size(ledger, BORE, grid, None, Bench(job.instruments, job.units))
        _enter_wear(ledger, job, score)
    else:
        line = Line(BORE.id, BORE.label, Q.SIZE, BORE.sense, BORE.of)
        ledger.fact(line, Given(None, Kind.MEASURED, need="the bore gauged as found"))
    return beside(plan, "found", "As found", ledger.result())


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
    if score is None:
        ledger.fact(SCORE, assumed(0.0, source="practice", note="no score was told"))
    else:
        ledger.fact(SCORE, given(score, need="depth of the deepest score"))
    enter_default(ledger, ALLOWANCE, None, "clean_up")
    ledger.compute(
        CLEAN_UP,
        clean_up_bore,
        bore="found.largest",
        score="found.score",
        allowance="found.allowance",
    )
