"""What was told of the piston and the rings, handed to the planner."""

from __future__ import annotations

from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.piston import PistonTold, piston_stage
from sleevewright.planning.warming import warming
from sleevewright.services.cut_told import CutTold


def piston_part(plan: Plan, told: CutTold) -> StageAnswers:
    """The piston at 20 degC, sizes with limits, and what sources say of its clearance."""
    return piston_stage(
        plan,
        told.job.engine,
        PistonTold(
            diameter=told.job.piston.diameter,
            height=told.length("piston.height"),
            temperature=told.number("piston.temperature"),
            kind=told.text("piston.kind"),
            plate=told.text("piston.plate"),
            bored=told.gauged("finish-bore", "piston"),
        ),
    )


def warming_part(plan: Plan, told: CutTold) -> StageAnswers:
    """What a cold start leaves of the clearance, relative."""
    return warming(plan, told.text("piston.kind"))
