"""Verdict on how far off a centre is: a length that scatter only makes longer."""

from __future__ import annotations

from sleevewright.core.cutting.concentric import Chain, chance_within
from sleevewright.core.metrology.centring import offset_bounds
from sleevewright.planning.answers import Judgement, Verdict
from sleevewright.planning.judges import Judge

RULE = "a bore at its limit is called good, or out, once in twenty (length of a vector, Rice)"


def offset_judge(limit: float, remedy: str) -> Judge:
    """Judge the length of an offset or a lean against the largest that is accepted."""

    def judge(value: float, _: object, standard: float) -> Judgement:
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
