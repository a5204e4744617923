"""Verdicts of a plan: which limit, on which side, by which rule, and how likely it is wrong."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from sleevewright.core.uncertainty.decision import GUARD_FACTOR, decide_chance, decide_within
from sleevewright.core.uncertainty.risk import chance_out, guard_factor
from sleevewright.core.uncertainty.sampled import probability_below
from sleevewright.planning.answers import Doubt, Judgement, Verdict
from sleevewright.planning.judges import Judge

USUAL = "guard band 1.645 u, one-sided 95 % (ISO 14253-1)"
SHARED = "no guard band, risk shared: the limit itself decides (ISO 14253-1, agreed)"


@dataclass(frozen=True)
class LimitJudge:
    """Judges a value against one limit, with a guard band from its standard uncertainty.

    ``guard`` is in standard uncertainties, nothing for what the shop has set; of a
    distance the limit counts on both sides of nought.  ``opposite`` is the limit on the other
    side, where there is one: it takes part in the verdict and in the chance.  Without
    ``is_by_chance`` the band alone decides, whatever share of the draws lies out.
    """

    limit: float
    side: str
    remedy: str
    guard: float | None = None
    is_distance: bool = False
    opposite: float | None = None
    is_by_chance: bool = True

    def by(self, guard: float) -> LimitJudge:
        """The same with the shop's guard band, where none was set for it."""
        return self if self.guard is not None else replace(self, guard=guard)

    def __call__(
        self,
        value: float,
        samples: NDArray[np.float64] | None,
        standard: float,
        freedom: float = math.inf,
    ) -> Judgement:
        """The verdict, the rule it was made by and the chance of being out."""
        usual = GUARD_FACTOR if self.guard is None else self.guard
        guard = _widened(usual, freedom)
        least, most = self._ends()
        called = decide_within(value, standard=standard, least=least, most=most, guard=guard)
        chance = None  # where nothing is in doubt there is no chance to tell of
        if samples is not None:
            chance = _share_beyond(samples, least, most)
        elif standard > 0.0:
            chance = chance_out(
                value, standard=standard, least=least, most=most, degrees_of_freedom=freedom
            )
        rule = guard_rule(guard, usual=usual, freedom=freedom)
        verdict = Verdict(called.value)
        if verdict is Verdict.GOOD and self.is_by_chance and _is_likelier(chance, usual):
            verdict = Verdict.TOO_CLOSE
            rule = f"{rule}; by chance, good is at most {_promised(usual)} % out"
        settle = self.remedy if verdict is not Verdict.GOOD else ""
        return Judgement(verdict, self.limit, self.side, rule, settle, chance)

    def _ends(self) -> tuple[float | None, float | None]:
        """Least and most."""
        if self.is_distance:
            return -self.limit, self.limit
        ends = (self.limit, self.opposite)
        return ends if self.side == "least" else (self.opposite, self.limit)


def against_limit(
    limit: float, side: str, *, remedy: str, guard: float | None = None
) -> LimitJudge:
    """Judge a value against one limit with a guard band from its standard uncertainty."""
    return LimitJudge(limit, side, remedy, guard)


def between(least: tuple[float, str], most: tuple[float, str], *, value: float) -> LimitJudge:
    """Judge a value against two limits, each with its remedy; it is told of the nearer one."""
    (low, raise_it), (high, lower_it) = least, most
    if value > 0.5 * (low + high):
        return LimitJudge(high, "most", lower_it, opposite=low)
    return LimitJudge(low, "least", raise_it, opposite=high)


def judged_with(judge: LimitJudge, value: float, doubt: Doubt | None) -> Judgement:
    """The verdict on a value with its whole doubt: few degrees of freedom widen the band."""
    if doubt is None:
        return judge(value, None, 0.0)
    freedom = math.inf if doubt.degrees_of_freedom is None else doubt.degrees_of_freedom
    return judge(value, None, doubt.standard, freedom)


def against_chance(good_below: float, out_above: float, *, remedy: str) -> Judge:
    """Judge a probability: good below one bound, out above the other."""
    rule = f"good below {100 * good_below:g} %, out above {100 * out_above:g} %"

    def judge(value: float, _: NDArray[np.float64] | None, __: float) -> Judgement:
        called = decide_chance(value, good_below=good_below, out_above=out_above)
        settle = remedy if called.value != Verdict.GOOD.value else ""
        return Judgement(Verdict(called.value), good_below, "most", rule, settle)

    return judge


def guard_rule(guard: float, *, usual: float, freedom: float = math.inf) -> str:
    """The rule of a verdict in words: its band, what it promises, where it is from."""
    if usual == 0.0:
        return SHARED
    if guard == GUARD_FACTOR:
        return USUAL
    share = f"one-sided {100.0 * float(ndtr(usual)):.3g} %"
    if math.isinf(freedom):
        return f"guard band {guard:g} u, {share} (ISO 14253-1, set by the shop)"
    known = f"{math.floor(freedom + 1e-9)} degrees of freedom"
    return f"guard band {guard:.2f} u, {share} at {known} (ISO 14253-1)"


def _is_likelier(chance: float | None, guard: float) -> bool:
    """Whether more lies out than a guard band promises: it counts one tail of a normal one.

    Draws that are skewed, and two limits that are close, put more than that beyond.
    """
    if chance is None or guard == 0.0:
        return False
    return 100.0 * chance > float(_promised(guard))


def _promised(guard: float) -> str:
    """What lies out at most where a verdict is good, in per cent as it is said."""
    return f"{100.0 * float(ndtr(-guard)):.3g}"


def _widened(guard: float, freedom: float) -> float:
    """The guard band that keeps its promise where the doubt is known from few readings."""
    if math.isinf(freedom) or guard == 0.0:
        return guard
    return guard_factor(probability=float(ndtr(guard)), degrees_of_freedom=max(freedom, 1.0))


def _share_beyond(samples: NDArray[np.float64], least: float | None, most: float | None) -> float:
    """Share of the samples beyond the limits; a chance that was never met is not nought."""
    known = samples[~np.isnan(samples)]
    if known.size < 2:
        return math.nan
    below = 0.0 if least is None else probability_below(known, least).value
    above = 0.0 if most is None else probability_below(-known, -most).value
    rarest = 1.0 / (known.size + 2.0)
    return min(max(below + above, rarest), 1.0 - rarest)
