"""Use case: the plan of the heat, from a job and what was told of its oven."""

from __future__ import annotations

from sleevewright.jobs.heat_limits import on_casting
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.heat_remedies import HeatTold, heat_plan
from sleevewright.planning.old_heat import old_heat
from sleevewright.services.cut_told import CutTold


def heat_plan_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Margin, time, limits and ways of the heat."""
    has = on_casting(told.folded, told.cylinder)
    return heat_plan(
        plan,
        HeatTold(
            told.job.casting,
            told.job.sleeve,
            told.text("heat.oven_kind"),
            has,
            _dial(told),
        ),
    )


def _dial(told: CutTold) -> Entry | None:
    """The oven's dial as it was told."""
    value = told.number("heat.oven_set")
    return None if value is None else Entry(value, told.text("heat.oven_set"), "typed")


def old_heat_part(plan: Plan, _told: CutTold) -> StageAnswers | None:
    """How hot an old shrunk sleeve is heated to fall out."""
    return old_heat(plan)
