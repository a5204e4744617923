"""Use case: what heat, drop and cooling answer on their own account, beside the plan of a job."""

from __future__ import annotations

from collections.abc import Callable

from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.services.cooling_told import cooling_part
from sleevewright.services.cut_told import CutTold
from sleevewright.services.heat_plan_told import heat_plan_part, old_heat_part
from sleevewright.services.oven_told import oven_part
from sleevewright.services.ready_told import ready_part
from sleevewright.services.recovery_told import recovery_part

HotPart = Callable[[Plan, CutTold], StageAnswers | None]

HOT_PARTS: tuple[HotPart, ...] = (
    old_heat_part,
    heat_plan_part,
    ready_part,
    oven_part,
    recovery_part,
    cooling_part,
)
"""Parts in the order in which they are answered; each sees what the earlier ones answered."""
