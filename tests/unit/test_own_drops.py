"""The shop's own drops count from five on, once a person accepts them, and never above 5 s."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from benches import EXAMPLES, bench_in
from past_jobs import Past, drafts_of, told_past
from sleevewright.core.heat.learned_drops import learned_drops
from sleevewright.errors import InputError
from sleevewright.jobs.pastdrops import own_drop
from sleevewright.jobs.records import EVENT, RELEASE, Draft
from sleevewright.planning.answers import Kind, Plan
from sleevewright.planning.document import plan_document
from sleevewright.planning.drop_habit import DROP_FORM_LEARNED, DROP_LEAN_LEARNED
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Posterior, Settings, Shop
from sleevewright.services.bench import Bench
from sleevewright.services.own_drops import (
    LEAST_DROPS,
    accept_drops,
    drop_acceptances,
    from_drops,
    own_drops,
    revoke_drops,
    standing_drops,
)
from sleevewright.services.people import add_person
from sleevewright.services.plans import load_job
from sleevewright.services.settings import shop_of_bench
from told_jobs import Teller

FEW = Settings(budget_samples=4_000, drop_samples=400)
DEMO = EXAMPLES / "demo-air-175.toml"


@cache
def planned(*posteriors: Posterior) -> Plan:
    """The demonstration's plan with what was accepted."""
    return plan(load_job(DEMO), Shop(settings=FEW, posteriors=posteriors))


@cache
def signed() -> dict[str, Any]:
    """The demonstration's plan as a release signs it."""
    return plan_document(planned())


def dropped_job(number: str, *happened: tuple[str, float], invented: bool = False,
                slip: str = "0.137 mm") -> Teller:  # fmt: skip
    """A released job of which the drop was told by pedal."""
    job = told_past(Past(number, invented=invented))
    release = {"cylinder": 1, "person": "p1", "plan": signed(), "answers": {}}
    if slip:
        job.value("heat.slip_body", slip)
    for what, seconds in (("in", 0.0), *happened):
        job.tell(EVENT, {
            "cylinder": 1, "stage": "drop", "what": what, "result": f"pedal {seconds:.1f}",
            "at": f"2026-11-03T10:00:{int(seconds):02d}+00:00", "said": "",
        })  # fmt: skip
    job.tell(RELEASE, release)
    return job


def kept(bench: Bench, jobs: list[Teller]) -> None:
    """Put told jobs into a bench."""
    for job in jobs:
        number = job.records[0].job
        bench.store.append([
            Draft(number, f"{abs(hash((number, one.number))):032x}"[-32:], "tablet", one.number,
                  one.kind, one.body)
            for one in job.records
        ])  # fmt: skip
