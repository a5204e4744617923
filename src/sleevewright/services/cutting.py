"""Use case: what the stages that cut answer on their own account, beside the plan of a job.

Each part reads the cells and sets that it rests on and hands them to the planner; its stage is
put with the plan, so that pages, holds and paper see one plan.  A later part sees what the
earlier ones answered.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import with_stage
from sleevewright.planning.shop import Shop

NANO = 1e-9


@dataclass(frozen=True)
class CutTold:
    """Everything that a part may read: the job, its records, one cylinder and the shop."""

    job: Job
    folded: Folded
    cylinder: int
    shop: Shop

    def length(self, cell: str) -> Entry | None:
        """A length that was told in a cell; nothing where there is none."""
        told = self.folded.value(cell, cylinder=self.cylinder)
        nm = None if told is None else told.body.get("nm")
        if told is None or not isinstance(nm, int):
            return None
        return Entry(nm * NANO, told.text, told.kind)

    def text(self, cell: str) -> str:
        """What was told in a cell of words; empty where there is nothing."""
        return self.folded.text(cell, cylinder=self.cylinder)


Part = Callable[[Plan, CutTold], StageAnswers | None]

PARTS: tuple[Part, ...] = ()
"""Parts in the order in which they are answered."""


def with_cuts(plan: Plan, told: CutTold) -> Plan:
    """The plan with what the stages that cut answer, as far as they were told."""
    for part in PARTS:
        stage = part(plan, told)
        if stage is not None:
            plan = with_stage(plan, stage)
    return plan
