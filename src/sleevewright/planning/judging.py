"""Verdicts of a plan: which limit, on which side, by which rule, and what would settle it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.uncertainty.decision import GUARD_FACTOR, decide, decide_chance
from sleevewright.planning.answers import Judgement, Verdict
from sleevewright.planning.ledger import Judge

GUARD_RULE = "guard band 1.645 u, one-sided 95 % (ISO 14253-1)"


def against_limit(limit: float, side: str, *, remedy: str, guard: float = GUARD_FACTOR) -> Judge:
    """Judge a value against one limit with a guard band from its standard uncertainty."""

    def judge(value: float, _: NDArray[np.float64] | None, standard: float) -> Judgement:
        called = decide(value, standard=standard, limit=limit, side=side, guard=guard)
        settle = remedy if called.value != Verdict.GOOD.value else ""
        return Judgement(Verdict(called.value), limit, side, GUARD_RULE, settle)

    return judge


def against_chance(good_below: float, out_above: float, *, remedy: str) -> Judge:
    """Judge a probability: good below one bound, out above the other."""
    rule = f"good below {100 * good_below:g} %, out above {100 * out_above:g} %"

    def judge(value: float, _: NDArray[np.float64] | None, __: float) -> Judgement:
        called = decide_chance(value, good_below=good_below, out_above=out_above)
        settle = remedy if called.value != Verdict.GOOD.value else ""
        return Judgement(Verdict(called.value), good_below, "most", rule, settle)

    return judge
