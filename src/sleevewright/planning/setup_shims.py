"""What goes under a casting that leans, and whether its bore is square to its base."""

from __future__ import annotations

import math

from sleevewright.core.metrology.shims import (
    FEWEST_STUDS,
    base_squareness,
    face_slope,
    lean_left,
    span_shim,
    stud_shims,
    thickest_shim,
)
from sleevewright.errors import InputError
from sleevewright.planning.answers import Kind, Quantity, Verdict
from sleevewright.planning.centred import length_doubt, offset_judge
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.proofing import most
from sleevewright.planning.setup_told import SetUpTold, Taken

Q = Quantity

STEP = Line("setup.shim_step", "Step of the shims", Q.DEVIATION, "axial", is_detail=True)
SPAN = Line("setup.span", "Between the supports", Q.SIZE, is_detail=True)
STUDS = Line("setup.studs", "Where the studs are", Q.RECORD, is_detail=True)
SHIMS = Line("setup.shims", "Shims under the studs", Q.RECORD, is_detail=True)
SHIM = Line("setup.shim", "Shim", Q.DEVIATION, "axial", of="thickest, in whole steps")
SHIM_LEFT = Line("setup.shim_left", "Lean left with these shims", Q.SLOPE, "radial")
BASE_READ = Line("setup.base_read", "Readings on the base", Q.RECORD, is_detail=True)
BASE_RADIUS = Line("setup.base_radius", "Base swept at radius", Q.SIZE, "radial", is_detail=True)
BASE = Line("setup.base", "Slope of the base", Q.RECORD, is_detail=True)
SQUARE = Line("setup.square", "Bore out of square to its base", Q.SLOPE, "radial")
REPEATS = Line("setup.repeats", "Fixture repeats within", Q.DEVIATION, of="swing")


def shims_reckoned(ledger: Ledger, told: SetUpTold) -> None:
    """Shims by the studs where they were told, else by the span between the supports.

    A bore that stands upright wants none; where supports were told it is reckoned all the same.
    """
    tilt = ledger.entry("setup.tilt").answer.judgement
    is_good = tilt is not None and tilt.verdict is Verdict.GOOD
    is_told = bool(told.studs) or told.figure("span") is not None
    if tilt is None or (is_good and not is_told):
        return
    step = ledger.default("shim_step")
    ledger.fact(STEP, Given(step.value, Kind.ASSUMED, step.source, step.stated))
    if len(told.studs) < FEWEST_STUDS:
        span = told.figure("span")
        need = "the span between the supports, or three studs with angle and radius"
        value, typed = (None, "") if span is None else (span.value, span.text)
        ledger.fact(SPAN, Given(value or None, Kind.MEASURED, "the job", typed, need=need))
        ledger.compute(SHIM, span_shim, CENTRALLY, lean="setup.lean", span=SPAN.id, step=STEP.id)
        return
    need = _studs_wrong(ledger, told)
    ledger.fact(STUDS, Given(None if need else told.studs, Kind.MEASURED, "the job", need=need))
    ledger.compute(SHIMS, stud_shims, CENTRALLY, lean="setup.lean", studs=STUDS.id, step=STEP.id)
    ledger.compute(SHIM, thickest_shim, CENTRALLY, shims=SHIMS.id)
    ledger.compute(SHIM_LEFT, lean_left, CENTRALLY, shims=SHIMS.id)
    doubt = ledger.entry("setup.tilt").answer.doubt
    if ledger.has(SHIM_LEFT.id) and doubt is not None:
        limit = ledger.default("squareness").value
        _doubted(ledger, SHIM_LEFT, doubt.standard, limit, "take thinner shims, and sweep again")


def _studs_wrong(ledger: Ledger, told: SetUpTold) -> str:
    """Why the studs carry no plane; empty where they do."""
    if not ledger.has("setup.lean"):
        return ""
    lean, step = ledger.value("setup.lean"), ledger.value(STEP.id)
    try:
        stud_shims(lean=lean, studs=told.studs, step=step)
    except InputError as error:
        return str(error)
    return ""


def _doubted(ledger: Ledger, line: Line, standard: float, limit: float, remedy: str) -> None:
    """Give an answer its doubt and hold it against its limit."""
    value = float(ledger.value(line.id))
    doubt = length_doubt(value, standard)
    judged = offset_judge(limit, remedy)(value, None, standard)
    ledger.amend(line.id, doubt=doubt, judgement=judged)


def base_looked_at(ledger: Ledger, base: Taken, told: SetUpTold) -> None:
    """Bore against its base where that was swept, and how well the fixture repeats."""
    repeats = told.figure("repeats")
    if repeats is not None:
        ledger.fact(REPEATS, Given(repeats.value, Kind.MEASURED, "the job", repeats.text))
        judge = most(ledger, "fixture_repeat", "find what moves in the fixture, or sweep each time")
        ledger.amend(REPEATS.id, judgement=judge(repeats.value, None, 0.0))
    if base.sweep is None:
        return
    radius = told.figure("base_radius")
    value = None if radius is None or radius.value <= 0.0 else radius.value
    typed = "" if radius is None else radius.text
    need = "the radius at which the base was swept"
    ledger.fact(BASE_READ, Given(base.sweep, Kind.MEASURED, base.indicator))
    ledger.fact(BASE_RADIUS, Given(value, Kind.MEASURED, "the job", typed, need=need))
    ledger.compute(BASE, face_slope, CENTRALLY, sweep=BASE_READ.id, radius=BASE_RADIUS.id)
    ledger.compute(SQUARE, base_squareness, CENTRALLY, lean="setup.lean", slope=BASE.id)
    if ledger.has(SQUARE.id):
        standard = math.hypot(ledger.value("setup.lean").standard, ledger.value(BASE.id).standard)
        limit = ledger.default("base_square").value
        _doubted(ledger, SQUARE, standard, limit, "see which of both is untrue before it is bored")
