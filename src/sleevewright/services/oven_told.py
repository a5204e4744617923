"""Use case: how a heat stood at its newest look, beside the plan, so that every page says one go.

It is told without a clock of this moment: the page at the oven alone says when that grows old.
"""

from __future__ import annotations

from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.oven_stand import oven_said
from sleevewright.services.cut_told import CutTold
from sleevewright.services.oven_watch import newest_look, oven_watch


def oven_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Go or not as gauged last, and when it went in; nothing until something was read or tried."""
    at = newest_look(told)
    if at is None:
        return None
    watch = oven_watch(plan, told, now=at)
    return oven_said(plan, watch.stand, watch.went_in)
