"""Jobs that are being bored, for the tests of the next cut."""

from __future__ import annotations

from simple_job import Counting, simple_job
from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Answer, Plan
from sleevewright.planning.beside import with_stage
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Settings, Shop
from sleevewright.services.alongside import widened
from sleevewright.services.cut_told import CutTold
from sleevewright.services.passes_told import parent_pass, parent_stock, piston_pass
from sleevewright.services.proving import proved

FEW = Settings(budget_samples=2000, drop_samples=100)
THOU = 25.4e-6


def looked(job: Counting, shop: Shop | None = None) -> Plan:
    """The plan of the cylinder with both next cuts."""
    shop = Shop(FEW) if shop is None else shop
    living = living_job(job.folded)
    seen = widened(plan(living.job, shop), living.job, job.folded)
    seen = proved(seen, living.job, job.folded, shop)
    for part in (parent_stock, parent_pass, piston_pass):
        stage = part(seen, CutTold(living.job, job.folded, 1, shop))
        seen = seen if stage is None else with_stage(seen, stage)
    return seen


def passes(*rows: tuple[str, str]) -> Counting:
    """A job that is being bored: what each pass was asked and the reading after it, in thou."""
    job = simple_job("four-stroke", until="parent")
    job.begin("ps", "parent-pass", "parent", nominal="2.6360 in", unit="thou",
              stations=[str(number + 1) for number in range(max(len(rows), 2))],
              directions=["0 deg"])  # fmt: skip
    for number, (asked, read) in enumerate(rows):
        if asked:
            job.value(f"parent.pass/{number + 1}/asked", asked)
        if read:
            job.value(f"set/ps/{number}/0", read)
    return job


def found(seen: Plan, identity: str) -> Answer:
    """An answer that is there."""
    return seen.answer(identity)


def value(seen: Plan, identity: str) -> float:
    """A number that is there."""
    known = found(seen, identity).value
    assert isinstance(known, float), found(seen, identity).needs
    return known


def about_to_be_bored() -> Counting:
    """A job whose sleeve has cooled, with its piston in hand."""
    job = simple_job("four-stroke", until="piston")
    job.value("piston.diameter", "2.3992 in")
    job.value("piston.clearance", "2.8 thou")
    return job
