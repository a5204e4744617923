"""What the holds ask to be proved of the finished bore: round, straight, and its clearance.

Diametral.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.hone_heat import fit_easing
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.metrology.form import Range
from sleevewright.jobs.model import Entry as Told
from sleevewright.jobs.model import Part
from sleevewright.jobs.pistonreading import growth_named
from sleevewright.planning.answers import Kind, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, known_in, told_size
from sleevewright.planning.facts import enter_metal, given, given_in_doubt
from sleevewright.planning.form import ONE_SIDED, bounds_of, judged_form
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.planning.proofing import Frame, Gauged, enter_bore, within
from sleevewright.planning.sizes import Feature

Q = Quantity

FINISH = Feature(
    "finish.as_gauged", "Finished bore", "finished", of="as honed, at 20 °C", is_bore=True
)
CLEARANCE = Line("finish.gap", "Piston clearance", Q.DEVIATION, "diametral", of="as honed")
OFF = Line(
    "finish.clearance",
    "Piston clearance, off what was wanted",
    Q.DEVIATION,
    "diametral",
    of="positive is more than wanted",
)
EASED = Line(
    "finish.eased", "Read too large, as its fit had eased", Q.DEVIATION, "diametral",
    of="gauged warm; the grid's own correction is that of iron alone",
)  # fmt: skip
COLD = Line(
    "finish.cold", "Finished bore, its fit's easing taken off", Q.SIZE, "diametral", of="at 20 °C"
)
IRON_ALONE = (
    "The bore was gauged warm and its fit is not known: it is corrected as iron alone, and reads "
    "large by what the fit had eased. Gauge it cold."
)
HEIGHT = (
    "At what height the piston was gauged is not told: at another than its maker's it may read "
    "0.5 to 2 thou small, and the clearance is then less by as much. Its verdict counts none of it."
)


@dataclass(frozen=True)
class PistonRead:
    """The piston at 20 degC and the clearance wanted; how it was read, as far as it was told."""

    diameter: Told | None = None
    clearance: Told | None = None
    kind: str = ""  # "cast" or "forged"
    has_temperature: bool = False
    has_height: bool = False


def finish(frame: Frame, bore: Gauged, piston: PistonRead) -> StageAnswers:
    """Whether the finished bore is round, straight and has the clearance that was wanted."""
    plan, ledger = frame.plan, frame.ledger()
    enter_metal(ledger, "finished", Part("grey-iron"), fallback="grey-iron", name="sleeve")
    enter_bore(ledger, FINISH, bore, frame, need="the finished bore gauged")
    line = Line("finish.piston", "Piston", Q.SIZE, "diametral", of="at 20 °C")
    ledger.fact(line, _piston(ledger, piston))
    wanted = given(piston.clearance, need="the clearance that was wanted")
    ledger.fact(Line("finish.wanted", "Clearance wanted", Q.DEVIATION, "diametral"), wanted)
    honed = _cold(ledger, frame, bore)
    ledger.compute(CLEARANCE, rest_of, whole=honed, part="finish.piston")
    judge = within(ledger, "clearance_over", "hone to the clearance, or see which piston fits")
    ledger.compute(OFF, rest_of, How(judge=judge), whole="finish.gap", part="finish.wanted")
    if ledger.has(OFF.id) and not piston.has_height:
        ledger.advise(HEIGHT)
    for name, kind, remedy in (
        ("out_of_round", Range.OUT_OF_ROUND, "hone it round"),
        ("taper", Range.TAPER, "hone it straight"),
    ):
        _rejudge(ledger, name, kind, remedy)
    return beside(plan, "hone", "Hone to piston", ledger.result())


def _cold(ledger: Ledger, frame: Frame, bore: Gauged) -> str:
    """The id of the bore at 20 degC: of one gauged warm, less what its fit had eased by then."""
    grid, plan = bore.grid, frame.plan
    warm = None if grid is None else grid.part_temperature
    within = ledger.default("soak_within").value
    if warm is None or abs(warm.value - REFERENCE_TEMPERATURE) <= within:
        return FINISH.id
    for name in ("sleeve.od", "fit.effective", "fit.close_up"):
        from_plan(ledger, plan, name, need="the fit of the sleeve")
    fit, closed = (ledger.value(one) for one in ("fit.effective", "fit.close_up"))
    laws = {one: known_in(plan, f"{one}.law") for one in ("casting", "sleeve")}
    if not (fit and closed and 0.0 < closed <= fit and all(laws.values())):
        ledger.advise(IRON_ALONE)
        return FINISH.id
    for part, law in laws.items():
        line = Line(f"{part}.law", f"growth of the {part}'s metal", Q.RECORD, is_detail=True)
        ledger.fact(line, Given(None if law is None else law.value, Kind.COMPUTED, "the plan"))
    ratio = Line("finish.ratio", "Close-up, of the fit", Q.RATIO, is_detail=True)
    ledger.fact(ratio, Given(closed / fit, Kind.COMPUTED, "the plan"))
    at = Line("finish.grid_at", "Part while the grid was read", Q.TEMPERATURE, is_detail=True)
    ledger.fact(at, given_in_doubt(warm, ledger.default("probe_temperature")))
    ledger.compute(EASED, fit_easing, diameter="sleeve.od", interference="fit.effective",
                   ratio=ratio.id, casting_law="casting.law", sleeve_law="sleeve.law",
                   temperature=at.id)  # fmt: skip
    ledger.compute(COLD, rest_of, whole=FINISH.id, part=EASED.id)
    return COLD.id


def _piston(ledger: Ledger, piston: PistonRead) -> Given:
    """The piston with what its micrometer and its temperature are honestly worth."""
    setting = ledger.default("micrometer_setting").value
    told = told_size(piston.diameter, doubt=setting, need="the piston")
    if piston.diameter is None:
        return told
    warmth = ledger.default("probe_temperature" if piston.has_temperature else "room_temperature")
    growth = ledger.default(growth_named(piston.kind)).value
    apart = growth - ledger.default("gauge_expansion").value
    worth = piston.diameter.value * apart * warmth.doubt
    return replace(told, standard=math.hypot(told.standard, worth))


def _rejudge(ledger: Ledger, name: str, kind: Range, remedy: str) -> None:
    """Enter a form of the finished bore under the name that its hold asks for."""
    gauged = f"finish.as_gauged.{name}"
    if not ledger.has(gauged):
        return
    used, scatter = (ledger.value(f"finish.as_gauged.{one}") for one in ("used", "scatter"))
    bounds = bounds_of(float(ledger.value(gauged)), kind, used, scatter, coverage=ONE_SIDED)
    limit = ledger.default("form_most").value
    ledger.amend(gauged, id=f"finish.{name}", judgement=judged_form(bounds, limit, remedy))
