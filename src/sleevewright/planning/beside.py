"""Answers that stand beside the plan: of one stage, from the plan's own answers and a few facts.

The plan answers what follows from the job.  What a stage asks on its own account (does the
sleeve still serve, what does a grain of dirt cost) is answered here on top of it, with the
plan's answers entered as facts with the doubt that they have there.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.errors import NotFound
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Answer, Judgement, Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.hazards import STAGE_HAZARDS
from sleevewright.planning.ledger import Given, Ledger, Line, StageResult
from sleevewright.planning.shown import worded

SAMPLES = 4000
"""Draws behind these doubts: enough to show two digits."""


def ledger_of(plan: Plan) -> Ledger:
    """A ledger for answers beside a plan, with the plan's seed and the shop's own limits."""
    return Ledger(count=SAMPLES, seed=plan.seed, chosen=plan.chosen)


def known_in(plan: Plan, identity: str) -> Answer | None:
    """The answer of this name; nothing where the plan has none."""
    try:
        return plan.answer(identity)
    except NotFound:
        return None


def from_plan(ledger: Ledger, plan: Plan, identity: str, *, need: str) -> None:
    """Enter an answer of the plan as it stands there; missing where the plan lacks it."""
    known = known_in(plan, identity)
    if known is None or not isinstance(known.value, float):
        line = Line(identity, need, Quantity.SIZE if known is None else known.quantity)
        ledger.fact(line, Given(None, Kind.COMPUTED, need=need))
        return
    line = Line(known.id, known.label, known.quantity, known.sense, known.of, is_detail=True)
    standard = 0.0 if known.doubt is None else known.doubt.standard
    # A doubt that was stated is drawn as it was stated: a band must not reach beyond its ends.
    stated = known.doubt is not None and known.doubt.method == "stated"
    shape = Shape(known.doubt.shape) if known.doubt is not None and stated else Shape.NORMAL
    ledger.fact(
        line,
        Given(
            known.value,
            known.kind,
            known.source or "the plan",
            known.typed,
            standard,
            shape=shape,
        ),
    )


def told_size(entry: Entry | None, *, doubt: float, need: str) -> Given:
    """A size that was keyed: its own stated doubt, else what such a reading is honestly worth."""
    if entry is None:
        return Given(None, Kind.TYPED, need=need)
    half = doubt if entry.doubt is None else entry.doubt
    return Given(
        entry.value,
        Kind(entry.kind),
        "the job",
        entry.text,
        half / STATED_COVERAGE_FACTOR,
        math.inf,
    )


def beside(plan: Plan, key: str, title: str, result: StageResult) -> StageAnswers:
    """The answers of one stage, in the words of the job's units."""
    answers = tuple(_in_words(entry.answer, plan.units) for entry in result.entries)
    advice = tuple(worded(text, system=plan.units) for text in result.advice)
    hazards = STAGE_HAZARDS.get(key, ())
    return StageAnswers(key, title, answers, hazards, advice, result.cautions, is_beside=True)


def _in_words(answer: Answer, system: str) -> Answer:
    """An answer in the words of the job's units; itself where nothing is to be restated."""
    of, label = worded(answer.of, system=system), worded(answer.label, system=system)
    if of == answer.of and label == answer.label:
        return answer
    return replace(answer, of=of, label=label)


def with_stage(plan: Plan, stage: StageAnswers) -> Plan:
    """The plan with the answers of one more stage; what it had of the same names, it keeps."""
    known = {answer.id for answer in plan.answers()}
    new = replace(stage, answers=tuple(one for one in stage.answers if one.id not in known))
    cautions = tuple(dict.fromkeys((*plan.cautions, *stage.cautions)))
    return replace(plan, stages=(*plan.stages, new), cautions=cautions, _index={})


def rejudged(plan: Plan, told: Mapping[str, Judgement]) -> Plan:
    """The plan with other verdicts on the answers that are named."""
    if not told:
        return plan
    stages = tuple(
        replace(
            stage,
            answers=tuple(
                replace(one, judgement=told[one.id]) if one.id in told else one
                for one in stage.answers
            ),
        )
        for stage in plan.stages
    )
    return replace(plan, stages=stages, _index={})
