"""A recommended range of fits in words: what ends it, what excludes what, what would open it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sleevewright.planning.chooser import Curve
from sleevewright.planning.fit_advice import figure
from sleevewright.planning.fit_range import FitRange, Recommendation

NO_LONGER = {
    "fit.running": "the running fit is not surely above its least",
    "fit.hard": "the fit in a hard pull is not surely above its least",
    "fit.below_least": "the chance of less than the shop's least is more than is accepted",
    "fit.casting_hoop": "the pull around the casting is not surely within what it bears",
    "fit.sleeve_hoop": "the squeeze in the sleeve is not surely short of its yield",
    "fit.limit_margin": "too little is left to the strength of casting or sleeve",
    "heat.casting": "the oven would pass the casting's limit",
    "heat.slip_at_limit": "the hottest casting gives too little slip for the drop",
    "finish.stock": "too little is left in the sleeve to bore and hone",
}
"""What stops being good at an end of the range, by the answer that ends it."""

NAMES = {
    "fit.running": "the running fit",
    "fit.hard": "the fit in a hard pull",
    "fit.below_least": "the least",
    "fit.casting_hoop": "the pull around the casting",
    "fit.sleeve_hoop": "the squeeze in the sleeve",
    "fit.limit_margin": "the strength of casting and sleeve",
    "heat.casting": "the oven",
    "heat.slip_at_limit": "the slip for the drop",
    "finish.stock": "the stock left to bore and hone",
}
"""What each answer is called in the middle of a sentence."""

OPENS = {
    "fit.running": "a cooler casting, or a sleeve metal that grows more",
    "fit.hard": "less load, a cooler casting, or a sleeve metal that grows more",
    "fit.below_least": "a gauge that is better known, or a tighter cut",
    "fit.casting_hoop": "a stronger or thicker casting, or its outside measured",
    "fit.sleeve_hoop": "a thicker sleeve",
    "fit.limit_margin": "a thicker sleeve, or the casting's outside measured",
    "heat.casting": "the sleeve chilled before the drop",
    "heat.slip_at_limit": "the sleeve chilled before the drop",
    "finish.stock": "a sleeve with more stock inside",
}
"""What would move that end, by the same answer."""

CLAMPED = "a flange clamped by the head, so that less has to be left hot"
"""What opens a range that the hot fit ends: common practice, no source."""
HOT = ("fit.running", "fit.hard")


def no_longer(curve: Curve) -> str:
    """What stops being good at this answer's end."""
    return NO_LONGER.get(curve.id, f"{curve.label[:1].lower()}{curve.label[1:]} is not good")


def range_figures(found: FitRange, *, system: str) -> str:
    """The range in figures, or that there is none."""
    if found.is_empty:
        return "none"
    low, high = (figure(end, system=system) for end in (found.low, found.high))
    return f"{high} alone" if low == high else f"{low.rpartition(' ')[0]} to {high}"


def ends_said(found: FitRange, *, system: str) -> str:
    """What ends a range below and above, in one sentence."""
    low, high = (figure(end, system=system) for end in (found.low, found.high))
    below = "nothing that was drawn ends it below"
    above = "nothing that was drawn ends it above"
    if found.below is not None:
        below = f"below {low} {no_longer(found.below)}"
    if found.above is not None:
        above = f"above {high} {no_longer(found.above)}"
    return f"{below}; {above}"


def empty_said(told: Recommendation, *, system: str) -> str:
    """Why no fit is good for everything, and by how much it is missed."""
    found = told.good
    if found.never:
        named = "; ".join(dict.fromkeys(no_longer(one) for one in found.never))
        rest = range_figures(replace(found, never=()), system=system)
        others = "" if found.low > found.high else f"; for everything else {rest} is good"
        return f"at no fit that was drawn: {named}{others}"
    by = figure(found.overlap, system=system)
    return f"{ends_said(found, system=system)}: the two exclude each other by {by}"


def undecided_said(told: Recommendation, *, system: str) -> str:
    """Where nothing is good for all and nothing is out either; empty where that is not so."""
    if not told.good.is_empty or told.not_out.is_empty:
        return ""
    between = range_figures(told.not_out, system=system)
    return f"from {between} nothing is out either: too close to call"


def opened_by(told: Recommendation) -> tuple[str, ...]:
    """What would open an empty range, or let the fit in that lies outside: each once, in order."""
    found = told.good
    if found.is_empty:
        ends = found.never or (found.below, found.above)
    else:
        ends = (found.below if told.chosen < found.low else None,
                found.above if told.chosen > found.high else None)  # fmt: skip
    return tuple(dict.fromkeys(_ways(one for one in ends if one is not None)))


def _ways(ends: Iterable[Curve]) -> Iterable[str]:
    for one in ends:
        if one.id in OPENS:
            yield OPENS[one.id]
        if one.id in HOT:
            yield CLAMPED


def best_said(told: Recommendation) -> str:
    """Why the balanced fit lies where it does."""
    if told.best is None:
        return ""
    doubts = f"{told.margin:.1f} doubts"
    named = [NAMES.get(one.id, f"{one.label[:1].lower()}{one.label[1:]}") for one in told.least_of]
    if told.is_between:
        return f"{' and '.join(named)} are there as far from their limits: {doubts} each"
    return f"{' and '.join(named)}: there as far from its limit as it gets, {doubts}"
