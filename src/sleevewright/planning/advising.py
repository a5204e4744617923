"""What is said about a chosen fit, beside the plan: sources, preset, recommended range, dissent.

Answers stand under ``fit.advised``, ``fit.says.``, ``fit.not_counted.``, ``fit.preset``,
``fit.range``, ``fit.best``, ``fit.disagrees`` and ``fit.reason``.
None of them moves a number of the plan.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.fits.balance import balanced_fit
from sleevewright.core.materials import material
from sleevewright.jobs.fitreason import EARLIER, WANTED
from sleevewright.jobs.model import Choice, Job
from sleevewright.jobs.stageholds import DISAGREES
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, ledger_of
from sleevewright.planning.chooser import Chooser
from sleevewright.planning.fit_advice import (
    Advice,
    Pairing,
    Stand,
    advice_for,
    figure,
    not_counted_for,
    said_figures,
    span_of,
)
from sleevewright.planning.fit_disagreements import (
    ChosenFit,
    Disagreement,
    asking,
    disagreements,
    found_out,
)
from sleevewright.planning.fit_presets import (
    TELL_BOTH,
    family_of,
    no_preset_said,
    preset_for,
    ratio_said,
    reason_said,
)
from sleevewright.planning.fit_range import FitRange, Recommendation, margins_of, recommended
from sleevewright.planning.fit_range_said import (
    best_said,
    empty_said,
    ends_said,
    opened_by,
    range_figures,
    undecided_said,
)
from sleevewright.planning.fit_statements import EVIDENCE_SAID, STANDS, Statement
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.shop import default_in

Q = Quantity

KEY, TITLE = "advice", "What others say of this fit"
RANGE_KEY, RANGE_TITLE = "fit-range", "Which fits are good"
NOTHING = "nothing"
PRESET = "Preset of this kind of casting"
UNKNOWN = "unknown-aluminium"
WHERE_SET = "Settings, Fits by metal and cooling"
BEST = Line(
    "fit.best",
    "Balanced fit",
    Q.DEVIATION,
    "diametral",
    would_change="whatever moves an end of the range; it is no order, the fit is yours to choose",
)
FITS = Line("fit.range_fits", "interferences of the range", Q.RECORD, is_detail=True)
MARGINS = Line("fit.range_margins", "margins to the limits, in doubts", Q.RECORD, is_detail=True)


@dataclass(frozen=True)
class Advised:
    """What was said about the fit of one body: each source, the preset, each disagreement."""

    choice: ChosenFit
    advice: tuple[Advice, ...]
    rejected: tuple[Statement, ...]
    found: tuple[Disagreement, ...]
    state: str = WANTED  # how it stands with the reason


def advised(plan: Plan, job: Job, state: str = WANTED) -> Advised | None:
    """What is said about the fit of a job; nothing before the sleeve's size is known.

    Of a casting of another metal than aluminium and iron nothing is said at all.

    Parameters
    ----------
    plan : Plan
        The plan of the cylinder.
    job : Job
        The job that it was made of.
    state : str
        How it stands with the reason.

    Returns
    -------
    Advised | None
        Sources, preset, disagreements.
    """
    numbers = [_number(plan, name) for name in ("sleeve.od", "fit.wanted", "fit.least")]
    diameter, wanted, least = numbers
    family = family_of(material(job.casting.material or UNKNOWN).family)
    if diameter is None or wanted is None or least is None or family is None:
        return None
    sleeve = material(job.sleeve.material or "unknown-iron").family
    flanged = True if job.sleeve.flange_diameter or job.grid("flange-od") else None
    pairing = Pairing(
        family, job.engine.cooling, diameter, flanged, "iron" if "iron" in sleeve else sleeve
    )
    preset = preset_for(family, job.engine.cooling, plan.chosen)
    told = job.choice.least is not None
    choice = ChosenFit(pairing, preset, wanted, least, told, plan.units)
    found = (*disagreements(choice), *found_out(plan))
    advice = advice_for(pairing)
    return Advised(choice, advice, not_counted_for(pairing), found, state)


def advice_stage(plan: Plan, job: Job, state: str) -> StageAnswers | None:
    """The answers on what others say of the fit, to stand beside the plan."""
    told, ledger = advised(plan, job, state), ledger_of(plan)
    metal = material(job.casting.material or UNKNOWN).family
    if told is not None:
        _enter_span(ledger, told)
        for one in told.advice:
            _enter_source(ledger, told.choice, one)
        for rejected in told.rejected:
            _enter_rejected(ledger, rejected)
        _enter_preset(ledger, told.choice)
        _enter_disagreements(ledger, told.found, job.choice, state)
    elif family_of(metal) is None:
        line = _text("fit.preset", PRESET, f"{no_preset_said(metal)}. {TELL_BOTH}")
        _say(ledger, line, "none", "the tool's tables")
        _enter_disagreements(ledger, found_out(plan), job.choice, state)
    else:
        return None
    return beside(plan, KEY, TITLE, ledger.result())


def range_stage(plan: Plan, job: Job, picture: Chooser) -> StageAnswers | None:
    """The answers on which fits are good, from the chooser's picture; to stand beside the plan."""
    told = recommended(picture, guard=default_in(plan.chosen, "guard_factor").value)
    if told is None:
        return None
    ledger, system, good = ledger_of(plan), plan.units, told.good
    said = empty_said(told, system=system) if good.is_empty else ends_said(good, system=system)
    chosen = f"the fit as it stands, {figure(told.chosen, system=system)}, lies {told.where}"
    line = _text("fit.range", "Fits at which all is good", f"diametral; {said}; {chosen}")
    _say(ledger, line, range_figures(good, system=system), "derived")
    undecided = undecided_said(told, system=system)
    if undecided:
        line = _text("fit.range_undecided", "Nothing is out", undecided)
        _say(ledger, line, range_figures(told.not_out, system=system), "derived")
    if opened_by(told):
        label = "Would open it" if good.is_empty else "Would let the fit in as it stands"
        _say(ledger, _text("fit.range_opens", label), "; ".join(opened_by(told)), "practice")
    if told.best is not None:
        _enter_best(ledger, picture, told, advised(plan, job))
    return beside(plan, RANGE_KEY, RANGE_TITLE, ledger.result())


def _enter_best(
    ledger: Ledger, picture: Chooser, told: Recommendation, said: Advised | None
) -> None:
    """Enter the balanced fit with its margins, and where it stands to the sources."""
    fits, margins = _inside(picture, told.good)
    ledger.fact(FITS, Given(fits, Kind.COMPUTED, source="derived"))
    ledger.fact(MARGINS, Given(margins, Kind.COMPUTED, source="derived"))
    span = None if said is None else span_of(said.advice)
    stands = Stand.WITHIN if span is None or told.best is None else span.stand(told.best)
    also = "" if stands is Stand.WITHIN else f"; it lies {stands.value} every range of a source"
    line = replace(BEST, of=f"{best_said(told)}{also}")
    ledger.compute(line, balanced_fit, CENTRALLY, interferences=FITS.id, margins=MARGINS.id)


def _inside(picture: Chooser, good: FitRange) -> tuple[object, object]:
    """Interferences of a range with its ends, and the margin to each limit at each."""
    drawn = np.asarray(picture.interferences)
    between = drawn[(drawn > good.low) & (drawn < good.high)]
    fits = np.unique(np.concatenate([[good.low], between, [good.high]]))
    judged = [one for one in picture.curves if one.verdicts]
    rows = [np.interp(fits, drawn, margins_of(one, picture.samples)) for one in judged]
    return fits, np.array(rows)


def _enter_span(ledger: Ledger, told: Advised) -> None:
    """Enter the lowest and highest fit that any source advises for this pairing."""
    choice, span = told.choice, span_of(told.advice)
    if span is None:
        return
    who = dict.fromkeys(one.statement.said_by for one in (span.lowest, span.highest))
    of = (
        f"diametral; {' to '.join(who)}; "
        f"the wanted {choice.said(choice.wanted)} lies {span.stand(choice.wanted).value}, "
        f"the least {choice.said(choice.least)} {span.stand(choice.least).value}"
    )
    low = choice.said(span.low).rpartition(" ")[0]
    line = _text("fit.advised", "Sources, from lowest to highest", of)
    _say(ledger, line, f"{low} to {choice.said(span.high)}", "derived")


def _enter_source(ledger: Ledger, choice: ChosenFit, one: Advice) -> None:
    """Enter what one source says at this diameter, and where wanted and least stand to it."""
    said = one.statement
    metal = "" if one.is_own else "; on no metal in particular"
    taken = f"; “{said.as_said}”: {said.means}"
    right = "" if said.standing == STANDS else f"; put right: {said.reason}"
    of = (
        f"{said.kind}{metal}{taken}; wanted {one.stand(choice.wanted).value}, "
        f"least {one.stand(choice.least).value}; {EVIDENCE_SAID[said.evidence]}{right}"
    )
    line = _text(f"fit.says.{said.id}", said.said_by[:1].upper() + said.said_by[1:], of)
    _say(ledger, line, said_figures(one, system=choice.system), said.source, said.as_said)


def _enter_rejected(ledger: Ledger, said: Statement) -> None:
    """Enter a statement of this pairing that can not be put right: as printed, and why."""
    of = f"“{said.as_said}”, because {said.reason}; {EVIDENCE_SAID[said.evidence]}"
    line = _text(f"fit.not_counted.{said.id}", said.said_by[:1].upper() + said.said_by[1:], of)
    _say(ledger, line, "not counted", said.source, said.as_said)


def _enter_preset(ledger: Ledger, choice: ChosenFit) -> None:
    """Enter which preset stands, its figures at this diameter and why it is so."""
    preset, diameter = choice.preset, choice.pairing.diameter
    wanted, least = choice.said(preset.wanted_at(diameter)), choice.said(preset.least_at(diameter))
    why = reason_said(preset, diameter, system=choice.system)
    brought = "as the tool brings it, common practice"
    whose = f"what is not the shop's own is {brought}" if preset.is_own else brought
    of = (
        f"{choice.pairing.casting}, {choice.pairing.cooling}: {ratio_said(preset, choice.system)}; "
        f"{whose}; changed under {WHERE_SET}. {why}"
    )
    line = _text("fit.preset", PRESET, of)
    _say(ledger, line, f"{wanted}, least {least}", preset.wanted.source)


def _enter_disagreements(
    ledger: Ledger, found: tuple[Disagreement, ...], choice: Choice, state: str
) -> None:
    """Enter what the choice goes against, and the reason that was given for it."""
    count = sum(one.asks for one in found)
    others = [one.words for one in found if not one.asks]
    things = "one thing" if count == 1 else f"{count} things"
    said = f"{things}: {state}" if count else NOTHING
    _say(ledger, _text(DISAGREES, "The choice goes against", asking(found)), said, "derived")
    if others:
        line = replace(
            _text("fit.differs", "Sources that say otherwise", "sources differ; nothing is asked"),
            is_detail=True,
        )
        _say(ledger, line, "; ".join(others), "derived")
    if choice.reason:
        by = "agreed, with a name" if choice.by else "nobody stands for it yet"
        if state == EARLIER:
            by = f"{by}; told for an earlier fit"
        line = _text("fit.reason", "Why this fit", by)
        ledger.fact(line, Given(choice.reason, Kind.CHOSEN, source="the job", typed=choice.reason))


def _text(identity: str, label: str, of: str = "") -> Line:
    """A line of words."""
    return Line(identity, label, Q.TEXT, of=of)


def _say(ledger: Ledger, line: Line, words: str, source: str, typed: str = "") -> None:
    """Enter a text that was made here from figures of a source or of the plan."""
    ledger.fact(line, Given(words, Kind.COMPUTED, source=source, typed=typed))


def _number(plan: Plan, identity: str) -> float | None:
    """A number of the plan, where it is known."""
    found = next((one for one in plan.answers() if one.id == identity), None)
    return found.value if found is not None and isinstance(found.value, float) else None


def asks_reason(plan: Plan) -> str:
    """What a reason is asked for by the answers beside a plan; empty where nothing is."""
    found = next((one for one in plan.answers() if one.id == DISAGREES), None)
    return "" if found is None else found.of
