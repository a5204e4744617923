"""The invented ported barrel of the shelf, told anew in a folder of its own."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

from benches import EXAMPLES
from sleevewright.planning.answers import Plan
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.cut_told import CutTold
from sleevewright.services.demo import tell
from sleevewright.services.jobs import look, open_job
from sleevewright.services.settings import shop_of_bench

PORTED = "D-131"


def ported_bench(folder: Path, *, units: str = "metric", without: tuple[str, ...] = ()) -> Bench:
    """A bench with the ported barrel; cells that hold one of some words are left untold."""
    bench = open_bench(folder)
    shelf = json.loads((EXAMPLES / "shelf.json").read_text(encoding="utf-8"))
    told = next(one for one in shelf["jobs"] if one["number"] == PORTED)
    open_job(bench, PORTED, {**told["opening"], "units": units, "invented": True})
    records = [
        one for one in told["records"]
        if one["record"] == "value" and not any(word in one["cell"] for word in without)
    ]  # fmt: skip
    tell(bench, PORTED, records)
    return bench


def also(bench: Bench, cells: dict[str, str]) -> None:
    """Tell more of the ported barrel."""
    records = [
        {"record": "value", "cylinder": 1, "cell": cell, "text": text}
        for cell, text in cells.items()
    ]
    tell(bench, PORTED, records)


def told_of(bench: Bench) -> tuple[Plan, CutTold]:
    """The plan of the ported barrel and what its parts may read."""
    seen = look(bench, PORTED)
    assert seen.plan is not None, seen.problem
    return seen.plan, CutTold(seen.living.job, seen.folded, 1, shop_of_bench(bench))


def unclocked(plan: Plan) -> Plan:
    """The same plan without the answers of the clocking."""
    kept = tuple(
        replace(
            stage,
            answers=tuple(one for one in stage.answers if not one.id.startswith("clock.")),
        )
        for stage in plan.stages
    )
    return replace(plan, stages=kept, _index={})


def as_left(roof_up: str = "0") -> dict[str, str]:
    """Cells of a map as left: six ports a little wider, all roofs where they were wanted."""
    cells: dict[str, str] = {}
    for name, roof, floor, width, angle in (
        ("exhaust", "37.50", "72.0", "42.0", "0"),
        ("main left", "56.00", "71.6", "24.0", "294"),
        ("main right", "56.00", "71.6", "24.0", "66"),
        ("rear left", "56.00", "71.6", "18.0", "248"),
        ("rear right", "56.10", "71.6", "18.0", "112"),
        ("boost", "56.00", "71.6", "22.0", "180"),
    ):
        raised = f"{float(roof) - float(roof_up):.2f} mm"
        start = f"port/{name}/left"
        cells |= {f"{start}.roof": raised, f"{start}.floor": f"{floor} mm",
                  f"{start}.width": f"{width} mm", f"{start}.angle": f"{angle} deg",
                  f"{start}.radius": "9 mm" if name == "exhaust" else "4 mm"}  # fmt: skip
    return cells | {"ports.left.on": "66.45 mm", "port/exhaust/left.arch": "1.2 mm"}
