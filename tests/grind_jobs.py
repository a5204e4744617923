"""The invented ported job of the shelf, on a bench of its own, for the tests of the grind list."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from benches import bench_in
from sleevewright.planning.answers import Answer, Plan
from sleevewright.planning.grind_told import GrindMap
from sleevewright.services.bench import Bench
from sleevewright.services.demo import tell
from sleevewright.services.jobs import look, open_job

NUMBER = "D-131"
SHELF = Path(__file__).parents[1] / "examples" / "shelf.json"


def grind_bench(folder: Path, *more: dict[str, Any]) -> Bench:
    """A bench with the ported job, without the casting's windows, and what was told since."""
    bench = bench_in(folder)
    told = next(one for one in json.loads(SHELF.read_text())["jobs"] if one["number"] == NUMBER)
    open_job(bench, NUMBER, {**told["opening"], "invented": True})
    tell(bench, NUMBER, [one for one in told["records"] if "cast." not in one.get("cell", "")])
    if more:
        tell(bench, NUMBER, list(more))
    return bench


def cell(name: str, text: str) -> dict[str, Any]:
    """A value of its one cylinder."""
    return {"record": "value", "cylinder": 1, "cell": name, "text": text}


def plan_in(bench: Bench) -> Plan:
    """The plan of the job with the answers beside it."""
    plan = look(bench, NUMBER, 1).plan
    assert plan is not None
    return plan


def map_in(plan: Plan) -> GrindMap:
    """Its grind list as a record."""
    found = plan.answer("grind.map").value
    assert isinstance(found, GrindMap)
    return found


def answered(plan: Plan, identity: str) -> Answer:
    """One answer of it."""
    return plan.answer(identity)
