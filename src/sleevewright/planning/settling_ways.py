"""How ways to settle a verdict are told: the cheapest first, or that somebody has to decide."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from sleevewright.planning.answers import Judgement, Plan, SettlingWay, Verdict

MOST_WAYS = 3
"""More ways than this are no advice."""


@dataclass(frozen=True)
class Timed:
    """A way to settle a verdict, and how long it takes in seconds."""

    way: SettlingWay
    effort: float


def told_ways(judged: Judgement, found: Iterable[Timed]) -> Judgement:
    """The verdict with the cheapest ways; where there is none, with the word to decide."""
    ways = tuple(one.way for one in sorted(found, key=lambda one: (one.effort, one.way.words)))
    if not ways:
        remedy = f"nothing at hand would settle it: decide, or {judged.remedy}"
        return replace(judged, remedy=remedy)
    stays = "" if ways[0].chance is not None else " if the figure stays as it is"
    remedy = f"{ways[0].words} would settle it{stays}"
    return replace(judged, remedy=remedy, ways=ways[:MOST_WAYS])


def close_call(plan: Plan, identity: str) -> Judgement | None:
    """A verdict that is too close to call and was not yet asked about; else nothing."""
    answer = next((one for one in plan.answers() if one.id == identity), None)
    judged = None if answer is None else answer.judgement
    if judged is None or judged.verdict is not Verdict.TOO_CLOSE or judged.ways:
        return None
    return judged
