"""Use case: what others say of a chosen fit, and which fits are good, put with its plan.

What others say is cheap and stands beside every look at a job, so that its holds see it.
Which fits are good rests on the chooser's whole picture; it is made where it is shown.
"""

from __future__ import annotations

from functools import lru_cache

from sleevewright.jobs.model import Job
from sleevewright.planning.advising import KEY, RANGE_KEY, advice_stage, range_stage
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import with_stage
from sleevewright.planning.chooser import Chooser, chooser
from sleevewright.planning.shop import Shop

PICTURES_KEPT = 8
"""Pictures of the chooser that are kept; each holds some hundred numbers."""


def with_advice(plan: Plan, job: Job) -> Plan:
    """The plan with what sources and presets say of its fit.

    Parameters
    ----------
    plan : Plan
        The plan of the cylinder.
    job : Job
        The job that it was made of.

    Returns
    -------
    Plan
        The same where the sleeve's size is not known yet.
    """
    stage = None if _has(plan, KEY) else advice_stage(plan, job)
    return plan if stage is None else with_stage(plan, stage)


def with_range(plan: Plan, job: Job, shop: Shop) -> Plan:
    """The plan with the range of fits at which all is good, and what ends it.

    Parameters
    ----------
    plan : Plan
        The plan of the cylinder.
    job : Job
        The job that it was made of.
    shop : Shop
        The shop that it was made in.

    Returns
    -------
    Plan
        The same where no picture of the fit can be drawn yet.
    """
    stage = None if _has(plan, RANGE_KEY) else range_stage(plan, job, _picture(job, shop))
    return plan if stage is None else with_stage(plan, stage)


def _has(plan: Plan, key: str) -> bool:
    """Whether a stage stands beside a plan already."""
    return any(stage.key == key for stage in plan.stages)


@lru_cache(maxsize=PICTURES_KEPT)
def _picture(job: Job, shop: Shop) -> Chooser:
    """The chooser's picture of a job, kept for the next look."""
    return chooser(job, shop)
