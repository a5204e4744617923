"""Use case: the forecast of a heat alone, at once after a reading.

A look at a job answers everything about it.  A page that stands by the oven asks for its forecast
after each reading, so it gets the plan, whose stages are kept, and the forecast on top.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.errors import SleevewrightError
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import with_stage
from sleevewright.services.bench import Bench
from sleevewright.services.cut_told import CutTold
from sleevewright.services.jobs import cylinder_of, folded_job
from sleevewright.services.oven_watch import OvenWatch, oven_watch
from sleevewright.services.plans import plan_job
from sleevewright.services.ready_told import ready_part
from sleevewright.services.settings import shop_of_bench


@dataclass(frozen=True)
class OvenLive:
    """A heat as it stands at this moment."""

    plan: Plan | None  # with the forecast beside it; nothing where the job contradicts itself
    problem: str  # why there is none
    watch: OvenWatch


def oven_live(bench: Bench, number: str, cylinder: int) -> OvenLive:
    """The plan with its forecast, and the heat by the clock.

    Raises
    ------
    NotFound
        If there is no such job, or it has no such cylinder.
    """
    job, shop = cylinder_of(bench, number, cylinder).job, shop_of_bench(bench)
    told = CutTold(job, folded_job(bench, number), cylinder, shop)
    plan, problem = None, ""
    try:
        plan = plan_job(job, shop=shop)
        stage = ready_part(plan, told)
        plan = plan if stage is None else with_stage(plan, stage)
    except SleevewrightError as refused:
        problem = str(refused)
    return OvenLive(plan, problem, oven_watch(plan, told, now=bench.clock()))
