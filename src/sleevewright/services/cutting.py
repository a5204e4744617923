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
from sleevewright.services.face_told import face_part
from sleevewright.services.hatch_told import fit_hatch, hone_hatch
from sleevewright.services.honing_told import honed_to_fit, honed_to_piston
from sleevewright.services.hot_told import HOT_PARTS
from sleevewright.services.ledge_told import counterbore_told
from sleevewright.services.oldwall_told import old_part
from sleevewright.services.passes_told import parent_pass, parent_stock, piston_pass
from sleevewright.services.piston_told import piston_part, rings_part, warming_part
from sleevewright.services.ports_told import PORT_PARTS
from sleevewright.services.speeds_told import SPEEDS

Part = Callable[[Plan, CutTold], StageAnswers | None]

PARTS: tuple[Part, ...] = (
    old_part,
    face_part,
    parent_stock,
    parent_pass,
    piston_pass,
    *SPEEDS,
    piston_part,
    warming_part,
    rings_part,
    counterbore_told,
    honed_to_fit,
    honed_to_piston,
    hone_hatch,
    fit_hatch,
    *PORT_PARTS,
    *HOT_PARTS,
)
"""Parts in the order in which they are answered."""


def with_cuts(plan: Plan, told: CutTold) -> Plan:
    """The plan with what the stages that cut answer, as far as they were told."""
    for part in PARTS:
        stage = part(plan, told)
        if stage is not None:
            plan = with_stage(plan, stage)
    return plan
