"""Verdict on how far off a centre is, and its doubt: a length that scatter only makes longer."""

from __future__ import annotations

import math

from sleevewright.core.cutting.concentric import Chain, chance_within
from sleevewright.core.metrology.centring import offset_bounds, offset_range
from sleevewright.planning.answers import Doubt, Judgement, Verdict
from sleevewright.planning.judges import Judge

RULE = (
    "good: out by a chance of one in twenty at most; out: more than a bore at its limit shows "
    "once in twenty (length of a vector, Rice)"
)


def offset_judge(limit: float, remedy: str) -> Judge:
    """Judge the length of an offset or a lean against the largest that is accepted."""

    def judge(value: float, _: object, standard: float) -> Judgement:
        if math.isinf(standard):
            return Judgement(Verdict.TOO_CLOSE, limit, "most", RULE, remedy)
        if standard > 0.0:
            bounds = offset_bounds(limit=limit, standard=standard)
            low, high = bounds.good_below, bounds.out_above
        else:
            low = high = limit
        verdict = Verdict.TOO_CLOSE
        if value <= low:
            verdict = Verdict.GOOD
        elif value > high:
            verdict = Verdict.OUT
        settle = "" if verdict is Verdict.GOOD else remedy
        chance = None
        if standard > 0.0:
            # Where the true centre is is as unsure along both axes: its length is Rice's.
            chance = 1.0 - chance_within(limit, chain=Chain((value,), standard))
        return Judgement(verdict, limit, "most", RULE, settle, chance)

    return judge


def length_doubt(value: float, standard: float) -> Doubt:
    """Doubt of a length: its interval never goes below nought, and need not be even."""
    if standard <= 0.0:
        return Doubt(0.0, value, value, 0.95, "length")
    if math.isinf(standard):
        return Doubt(standard, 0.0, math.inf, 0.95, "length")
    found = offset_range(value, standard=standard)
    return Doubt(standard, found.low, found.high, 0.95, "length")
