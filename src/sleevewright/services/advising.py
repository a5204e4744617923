"""Use case: what others say of a chosen fit, put with its plan.

It is cheap and stands beside every look at a job, so that its holds see it.
"""

from __future__ import annotations

from sleevewright.jobs.fitreason import state_of_text
from sleevewright.jobs.model import Job
from sleevewright.planning.advising import KEY, advice_stage
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import with_stage


def with_advice(plan: Plan, job: Job, *, state: str = "") -> Plan:
    """The plan with what sources and presets say of its fit.

    Parameters
    ----------
    plan : Plan
        The plan of the cylinder.
    job : Job
        The job that it was made of.
    state : str
        How it stands with the reason, from the records; else as the job alone tells it.

    Returns
    -------
    Plan
        The same where the sleeve's size is not known yet.
    """
    state = state or state_of_text(job.choice.reason)
    stage = None if has_stage(plan, KEY) else advice_stage(plan, job, state)
    return plan if stage is None else with_stage(plan, stage)


def has_stage(plan: Plan, key: str) -> bool:
    """Whether a stage stands beside a plan already."""
    return any(stage.key == key for stage in plan.stages)
