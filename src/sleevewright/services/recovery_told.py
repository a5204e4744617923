"""Use case: what to do if a drop goes wrong, from a job and its plan."""

from __future__ import annotations

from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.recovery import recovery_stage
from sleevewright.services.cut_told import CutTold


def recovery_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """What helps if the sleeve stops, sits off its mark or is caught too soon."""
    return recovery_stage(
        plan,
        casting=told.job.casting,
        sleeve=told.job.sleeve,
        has_ports=bool(told.job.ports),
    )
