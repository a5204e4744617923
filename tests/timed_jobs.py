"""The invented ported barrel of the shelf, told value by value, for tests of its ports."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import with_stage
from sleevewright.planning.shop import Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.plans import plan_job
from told_jobs import Teller

SHELF = Path(__file__).resolve().parent.parent / "examples" / "shelf.json"


def ported(number: str = "D-131", *, more: Mapping[str, str] | None = None,
           without: tuple[str, ...] = (),
           again: Mapping[str, str] | None = None) -> tuple[Plan, CutTold]:  # fmt: skip
    """The plan of a job of the shelf and what its parts may read, with a few cells more or less.

    What is told ``again`` replaces what was told of the cell before, as the last records.
    """
    jobs: list[dict[str, Any]] = json.loads(SHELF.read_text(encoding="utf-8"))["jobs"]
    job = next(one for one in jobs if one["number"] == number)
    teller = Teller("two-stroke", units="metric", cooling="water", number=number)
    told = {
        one["cell"]: (one["text"], one["cylinder"])
        for one in job["records"]
        if one["record"] == "value" and not one["cell"].startswith(without or ("\0",))
    }
    told |= {cell: (text, 1) for cell, text in (more or {}).items()}
    records = {
        cell: teller.value(cell, text, cylinder=cylinder) for cell, (text, cylinder) in told.items()
    }
    for cell, text in (again or {}).items():
        teller.value(cell, text, replaces=[records[cell].id])
    living = living_job(teller.folded, 1)
    return plan_job(living.job), CutTold(living.job, teller.folded, 1, Shop())


def said(stage: StageAnswers, identity: str) -> Any:
    """The answer of a stage with this id."""
    return next(answer for answer in stage.answers if answer.id == identity)


def put_with(plan: Plan, *stages: StageAnswers | None) -> Plan:
    """The plan with the answers of a few stages more."""
    for stage in stages:
        if stage is not None:
            plan = with_stage(plan, stage)
    return plan
