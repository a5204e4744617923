"""Use case: which fits of a job are good, what ends their range, put with its plan.

It rests on the chooser's whole picture, so that it is made only where it is shown.
"""

from __future__ import annotations

from sleevewright.jobs.model import Job
from sleevewright.planning.advising import RANGE_KEY, range_stage
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import with_stage
from sleevewright.planning.shop import Shop
from sleevewright.services.advising import has_stage
from sleevewright.services.fitting import fits_by_hand


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
    stage = None if has_stage(plan, RANGE_KEY) else range_stage(plan, job, fits_by_hand(job, shop))
    return plan if stage is None else with_stage(plan, stage)
