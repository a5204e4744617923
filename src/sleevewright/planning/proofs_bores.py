"""What the holds ask to be proved of bores: the close-up after cooling, the finish to the piston.

A fit that was obtained closes the sleeve's bore by as much as it should; the finished bore
is round, straight and leaves the piston the clearance that was wanted.  Diametral.
"""

from __future__ import annotations

import math
from dataclasses import replace

from sleevewright.core.allowances import rest_of
from sleevewright.core.fits.proof import close_up_surprise, measured_close_up
from sleevewright.core.metrology.form import Range
from sleevewright.jobs.model import Entry as Told
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Judgement, Kind, Quantity, StageAnswers, Verdict
from sleevewright.planning.beside import beside, from_plan
from sleevewright.planning.facts import enter_metal, given
from sleevewright.planning.form import ONE_SIDED, bounds_of, judged_form
from sleevewright.planning.judges import Judge
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.planning.proofing import Frame, Gauged, enter_bore, within
from sleevewright.planning.sizes import Feature

Q = Quantity

COOLED = Feature(
    "cool.bore", "Sleeve's bore, cooled", "cooled", of="after the drop, at 20 °C", is_bore=True
)
CLOSED = Line("cool.closed", "Bore closed by", Q.DEVIATION, "diametral", of="before less after")
STANDARD = Line("cool.proof_doubt", "doubt of measured less predicted", Q.DEVIATION, is_detail=True)
PROOF = Line(
    "cool.proof",
    "Close-up, measured against predicted",
    Q.RATIO,
    of="in standard uncertainties; far below zero the fit was not obtained",
    would_change="gauge the bore at the same places with the same gauge before and after",
)


def proof(frame: Frame, cooled: Gauged, sleeve: Part) -> StageAnswers:
    """Whether the bore closed as the fit says it should."""
    plan, ledger = frame.plan, frame.ledger()
    enter_metal(ledger, "cooled", sleeve, fallback="grey-iron", name="sleeve in place")
    enter_bore(ledger, COOLED, cooled, frame, need="the sleeve's bore gauged cold")
    from_plan(ledger, plan, "sleeve.id", need="sleeve's bore before the drop")
    from_plan(ledger, plan, "fit.close_up", need="the fit")
    ledger.compute(CLOSED, measured_close_up, before="sleeve.id", after="cool.bore")
    spread = _together(ledger, "cool.closed", "fit.close_up")
    ledger.fact(STANDARD, Given(spread, Kind.COMPUTED, "derived", need="both close-ups"))
    ledger.compute(
        PROOF,
        close_up_surprise,
        How(judge=_surprise(ledger), is_sampled=False),
        measured="cool.closed",
        predicted="fit.close_up",
        standard="cool.proof_doubt",
    )
    _refuse_blind(ledger)
    return beside(plan, "cool", "Cool and prove", ledger.result())


def _refuse_blind(ledger: Ledger) -> None:
    """A gauging that could not have told a lost fit from a good one proves nothing."""
    judged = ledger.entry("cool.proof").answer.judgement
    if judged is None or judged.verdict is not Verdict.GOOD:
        return
    out = ledger.default("surprise_out").value
    if ledger.value("fit.close_up") < out * ledger.value("cool.proof_doubt"):
        remedy = "this gauging would not see a lost fit: take a better gauge or more readings"
        ledger.amend(
            "cool.proof", judgement=replace(judged, verdict=Verdict.TOO_CLOSE, remedy=remedy)
        )


def _together(ledger: Ledger, *names: str) -> float | None:
    """Standard uncertainty of the difference of answers that share nothing."""
    if not all(ledger.has(name) for name in names):
        return None
    doubts = [ledger.entry(name).answer.doubt for name in names]
    return math.hypot(*(0.0 if one is None else one.standard for one in doubts)) or None


def _surprise(ledger: Ledger) -> Judge:
    """Good near zero, out far below it, else too close to call."""
    close, out = ledger.default("surprise_close").value, ledger.default("surprise_out").value
    rule = f"good within {close:g}, out below {-out:g} standard uncertainties"
    remedy = "gauge it again, as warm as the bench; if it stands, the fit is not what it was cut to"

    def judge(value: float, _: object, __: float) -> Judgement:
        if abs(value) <= close:
            return Judgement(Verdict.GOOD, -out, "least", rule)
        verdict = Verdict.OUT if value < -out else Verdict.TOO_CLOSE
        return Judgement(verdict, -out, "least", rule, remedy)

    return judge


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


def finish(frame: Frame, bore: Gauged, piston: tuple[Told | None, Told | None]) -> StageAnswers:
    """Whether the finished bore is round, straight and has the clearance that was wanted.

    ``piston`` is its diameter and the clearance that was wanted.
    """
    plan, ledger = frame.plan, frame.ledger()
    enter_metal(ledger, "finished", Part("grey-iron"), fallback="grey-iron", name="sleeve")
    enter_bore(ledger, FINISH, bore, frame, need="the finished bore gauged")
    ledger.fact(
        Line("finish.piston", "Piston", Q.SIZE, "diametral"), given(piston[0], need="the piston")
    )
    wanted = given(piston[1], need="the clearance that was wanted")
    ledger.fact(Line("finish.wanted", "Clearance wanted", Q.DEVIATION, "diametral"), wanted)
    ledger.compute(CLEARANCE, rest_of, whole="finish.as_gauged", part="finish.piston")
    judge = within(ledger, "clearance_over", "hone to the clearance, or see which piston fits")
    ledger.compute(OFF, rest_of, How(judge=judge), whole="finish.gap", part="finish.wanted")
    for name, kind, remedy in (
        ("out_of_round", Range.OUT_OF_ROUND, "hone it round"),
        ("taper", Range.TAPER, "hone it straight"),
    ):
        _rejudge(ledger, name, kind, remedy)
    return beside(plan, "hone", "Hone to piston", ledger.result())


def _rejudge(ledger: Ledger, name: str, kind: Range, remedy: str) -> None:
    """Enter a form of the finished bore under the name that its hold asks for."""
    gauged = f"finish.as_gauged.{name}"
    if not ledger.has(gauged):
        return
    used, scatter = (ledger.value(f"finish.as_gauged.{one}") for one in ("used", "scatter"))
    bounds = bounds_of(float(ledger.value(gauged)), kind, used, scatter, coverage=ONE_SIDED)
    limit = ledger.default("form_most").value
    ledger.amend(gauged, id=f"finish.{name}", judgement=judged_form(bounds, limit, remedy))
