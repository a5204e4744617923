"""Use case: what the stages that cut answer on their own account, beside the plan of a job.

Each part reads the cells and sets that it rests on and hands them to the planner; its stage is
put with the plan, so that pages, holds and paper see one plan.  A later part sees what the
earlier ones answered.
"""

from __future__ import annotations

from collections.abc import Callable

from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import with_stage
from sleevewright.services.cut_told import CutTold
from sleevewright.services.honing_told import honed_to_fit, honed_to_piston

Part = Callable[[Plan, CutTold], StageAnswers | None]

PARTS: tuple[Part, ...] = (
    # one a line
    honed_to_fit,
    honed_to_piston,
)
"""Parts in the order in which they are answered."""


def with_cuts(plan: Plan, told: CutTold) -> Plan:
    """The plan with what the stages that cut answer, as far as they were told."""
    for part in PARTS:
        stage = part(plan, told)
        if stage is not None:
            plan = with_stage(plan, stage)
    return plan
