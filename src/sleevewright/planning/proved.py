"""Was the fit obtained: the fit as measured, and what the close-up of the bore says of it.

Before and after are entered in one ledger, so that a setting that both were gauged with
cancels by its name.  What all stations share stays one error of all of them.  Diametral.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.allowances import rest_of
from sleevewright.core.fits.closeratio import expected_close_up
from sleevewright.core.fits.closeups import StationCloseUps, mean_close_up
from sleevewright.core.fits.posterior import (
    Prior,
    chance_proved_below,
    fit_by_close_ups,
    mean_proved_fit,
    proved_fit,
)
from sleevewright.core.fits.proof import fit_surprise, station_fits
from sleevewright.errors import NotConverged
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import (
    Doubt,
    Judgement,
    Kind,
    Plan,
    Quantity,
    StageAnswers,
    Verdict,
)
from sleevewright.planning.beside import beside, from_plan
from sleevewright.planning.habit import MEASURED as WITHOUT_HABIT
from sleevewright.planning.judges import Judge
from sleevewright.planning.judging import against_chance
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.proofing import Frame
from sleevewright.planning.proofplaces import (
    BEFORE,
    enter_places,
    is_one_setting,
    own_setting,
    setting_of,
)
from sleevewright.planning.proofratio import (
    COVERAGE,
    NARROWER,
    doubt_of_fit,
    enter_band,
    enter_ratio,
)
from sleevewright.planning.provable import BothTimes, was_refused
from sleevewright.planning.softness import SOFT, enter_softness
from sleevewright.planning.stationfactors import StationFactors

Q = Quantity
WHAT_PROOF_WANTS = "what the close-up wants, as it stands above"
NORMAL_95 = 1.959963984540054
TOO_FAR = (
    "cannot be told: the bore closed so far from what the fit gives that no stiffness of the "
    "casting explains it; gauge both again"
)
CONTRADICTED = (
    "what was measured and how far the bore closed contradict each other, so that their mean is "
    "worth little: see the fit by the close-up alone, and gauge again"
)
BELOW_REMEDY = (
    "gauge the bore again at more places; if it stands, the fit is less than the least: only a "
    "hold lifted in writing passes it"
)

LOSS = Line("cool.loss", "what roughness takes off", Q.DEVIATION, is_detail=True)
PRIOR = Line("cool.prior", "the fit as measured", Q.RECORD, is_detail=True)
CLOSED = Line("cool.closed", "Bore closed by", Q.DEVIATION, "diametral", of="before less after")
EXPECTED = Line(
    "cool.expected", "Bore should have closed by", Q.DEVIATION, "diametral",
    of="by the fit as measured", would_change=NARROWER,
)  # fmt: skip
POSTERIOR = Line("cool.posterior", "the fit as proved", Q.RECORD, is_detail=True)
PROVED = Line(
    "cool.proved", "How tight, proved", Q.DEVIATION, "diametral",
    of="as measured and as the bore closed, at 20 °C", would_change=NARROWER,
)  # fmt: skip
BELOW = Line(
    "cool.proved_below_least", "Chance of less than the least, proved", Q.PROBABILITY,
    of="body, by what was measured and by how far the bore closed", would_change=NARROWER,
)  # fmt: skip
ALONE = Line(
    "cool.alone", "By the close-up alone", Q.DEVIATION, "diametral",
    of="whatever was measured before the drop", would_change=NARROWER,
)  # fmt: skip
BY_CLOSING = Line("cool.by_closing", "the fit by the close-up alone", Q.RECORD, is_detail=True)
PROOF = Line(
    "cool.proof",
    "Close-up, measured against predicted",
    Q.RATIO,
    of="in standard uncertainties; far below zero the fit was not obtained",
    would_change="gauge the bore at the same places with the same gauge before and after",
)
BY_STATION = Line("cool.by_station", "fit by station", Q.RECORD, is_detail=True)


@dataclass(frozen=True)
class ToProve:
    """What is proved: both gaugings, the sleeve, and a solid model's factors where there is one."""

    both: BothTimes
    sleeve: Part
    solid: StationFactors | None = None
    least_chance_most: float = 0.05


def proof(frame: Frame, told: ToProve) -> StageAnswers:
    """Whether the fit was obtained, by how far the bore closed."""
    plan, ledger = frame.plan, frame.ledger()
    if told.both.after.grid is None:
        return _nothing_yet(ledger, plan)
    enter_places(frame, ledger, told.both, told.sleeve, told.solid)
    enter_ratio(ledger, plan)
    _enter_prior(ledger, plan, told)
    _enter_proved(ledger, told)
    enter_band(ledger)
    enter_softness(ledger, plan, told.least_chance_most)
    if was_refused(ledger.entry("cool.proof").answer):
        for line in (CLOSED, PROVED, BELOW, ALONE, SOFT):
            ledger.amend(line.id, needs=(WHAT_PROOF_WANTS,))  # told once is enough
    stage = beside(plan, "cool", "Cool and prove", ledger.result())
    # The plan has the cautions of the first gauging already, as those of the sleeve.
    own = tuple(one for one in stage.cautions if BEFORE.id not in one.code)
    return replace(stage, cautions=own)


def _nothing_yet(ledger: Ledger, plan: Plan) -> StageAnswers:
    """Until the bore is gauged cooled there is nothing to prove: say so, and work nothing out."""
    for line in (CLOSED, PROOF, PROVED, BELOW, ALONE, SOFT):
        ledger.fact(line, Given(None, Kind.COMPUTED, need="the sleeve's bore gauged cold"))
    return beside(plan, "cool", "Cool and prove", ledger.result())


def _enter_prior(ledger: Ledger, plan: Plan, told: ToProve) -> None:
    """Enter the fit as it was measured, with what it shares with the close-up."""
    for identity in ("fit.as_cut", "fit.effective", "fit.least"):
        from_plan(ledger, plan, identity, need="the fit")
    if any(one.id == WITHOUT_HABIT.id for one in plan.answers()):
        from_plan(ledger, plan, WITHOUT_HABIT.id, need="the fit")
    ledger.compute(LOSS, rest_of, CENTRALLY, whole="fit.as_cut", part="fit.effective")
    names = (_measured(ledger), "cool.loss", "cool.shared")
    needs = [need for name in names for need in ledger.entry(name).answer.needs]
    doubt = ledger.entry(names[0]).answer.doubt
    if needs or doubt is None:
        need = needs[0] if needs else "what the fit's measurement is worth"
        ledger.fact(PRIOR, Given(None, Kind.COMPUTED, need=need))
        return
    fit, loss, shared = (float(ledger.value(name)) for name in names)
    prior = Prior(fit, doubt.standard, loss, shared, _covariance(ledger, told.both))
    ledger.fact(PRIOR, Given(prior, Kind.COMPUTED, "the plan and the readings"))


def _measured(ledger: Ledger) -> str:
    """The fit as it was measured: a habit that is counted in would hide what is to be proved."""
    return WITHOUT_HABIT.id if ledger.has(WITHOUT_HABIT.id) else "fit.as_cut"


def _covariance(ledger: Ledger, both: BothTimes) -> float:
    """What the fit as measured shares with the close-up: a setting that was in both.

    A gauge that was set large makes the parent bore large and the fit small; it makes the
    close-up large where the sleeve was gauged from that setting before, small where after.
    """
    parent = setting_of(both.parent)
    if not parent[0] or is_one_setting(both):
        return 0.0
    own = own_setting(ledger, both) ** 2
    if parent == setting_of(both.before):
        return -own
    return own if parent == setting_of(both.after) else 0.0


def _enter_proved(ledger: Ledger, told: ToProve) -> None:
    """Enter the fit by both, its chance of less than the least, and the surprise."""
    ledger.compute(CLOSED, mean_close_up, CENTRALLY, stations="cool.stations")
    _doubt_of_closed(ledger)
    ledger.compute(
        EXPECTED, expected_close_up,
        ratio="cool.ratio", interference=_measured(ledger), roughness_loss="cool.loss",
    )  # fmt: skip
    by_both = {"prior": "cool.prior", "stations": "cool.stations"}
    by_ratio = {**by_both, "ratio": "cool.ratio", "ratio_standard": "cool.ratio_doubt"}
    try:
        ledger.compute(POSTERIOR, proved_fit, CENTRALLY, samples="cool.ratio", **by_both)
    except NotConverged:
        ledger.fact(POSTERIOR, Given(None, Kind.COMPUTED, need=TOO_FAR))
    ledger.compute(PROVED, mean_proved_fit, CENTRALLY, posterior="cool.posterior")
    doubt_of_fit(ledger, "cool.proved", "cool.posterior")
    most = told.least_chance_most
    judge = against_chance(most, 1.0 - most, remedy=BELOW_REMEDY)
    ledger.compute(
        BELOW, chance_proved_below, How(judge=judge, is_sampled=False),
        posterior="cool.posterior", limit="fit.least",
    )  # fmt: skip
    how = How(judge=surprise_judge(ledger), is_sampled=False)
    ledger.compute(PROOF, fit_surprise, how, **by_ratio)
    ledger.compute(BY_STATION, station_fits, CENTRALLY, **by_ratio)
    _enter_alone(ledger)
    _refuse_blind(ledger)
    _refuse_contradicted(ledger)


def _enter_alone(ledger: Ledger) -> None:
    """Enter the fit by the close-up alone, whatever was measured before the drop."""
    ledger.compute(
        BY_CLOSING, fit_by_close_ups, CENTRALLY,
        samples="cool.ratio", prior="cool.prior", stations="cool.stations",
    )  # fmt: skip
    ledger.compute(ALONE, mean_proved_fit, CENTRALLY, posterior="cool.by_closing")
    doubt_of_fit(ledger, "cool.alone", "cool.by_closing")


def _refuse_contradicted(ledger: Ledger) -> None:
    """Where measurement and close-up contradict each other, their mean is not called good."""
    proof = ledger.entry("cool.proof").answer.judgement
    judged = ledger.entry("cool.proved_below_least").answer.judgement
    if proof is None or judged is None or judged.verdict is not Verdict.GOOD:
        return
    if abs(float(ledger.value("cool.proof"))) > ledger.default("surprise_close").value:
        amended = replace(judged, verdict=proof.verdict, remedy=CONTRADICTED)
        ledger.amend("cool.proved_below_least", judgement=amended)


def _doubt_of_closed(ledger: Ledger) -> None:
    """Give the mean close-up its doubt: of its stations, and what they share."""
    if not ledger.has("cool.closed"):
        return
    own: StationCloseUps = ledger.value("cool.stations")
    mean = float(np.sqrt((own.standards**2).sum())) / own.depths.size
    standard = math.hypot(mean, float(ledger.value("cool.shared")))
    value, half = float(ledger.value("cool.closed")), NORMAL_95 * standard
    doubt = Doubt(standard, value - half, value + half, COVERAGE, "linear")
    ledger.amend("cool.closed", doubt=doubt if standard > 0.0 else None)


def _refuse_blind(ledger: Ledger) -> None:
    """A gauging that could not have told a lost fit from a good one proves nothing."""
    judged = ledger.entry("cool.proof").answer.judgement
    if judged is None or judged.verdict is not Verdict.GOOD:
        return
    out = ledger.default("surprise_out").value
    prior: Prior = ledger.value("cool.prior")
    expected = float(ledger.value("cool.expected"))
    closed = ledger.entry("cool.closed").answer.doubt
    gauged = 0.0 if closed is None else closed.standard
    lost = float(ledger.value("cool.ratio")) * prior.standard
    relative = float(ledger.value("cool.ratio_doubt")) * expected
    if expected < out * math.hypot(gauged, lost, relative):
        remedy = "this gauging would not see a lost fit: take a better gauge or more readings"
        ledger.amend(
            "cool.proof", judgement=replace(judged, verdict=Verdict.TOO_CLOSE, remedy=remedy)
        )


def surprise_judge(ledger: Ledger) -> Judge:
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
