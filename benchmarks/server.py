"""Server time of one recompute of the plan page, for the largest example (five grids).

Run as ``python benchmarks/server.py``.  Each request changes one figure of the job, so
that stages really are computed again; times are of the whole request inside one process,
without the network.  Prints P50 and P95 beside R of the same run.
"""

from __future__ import annotations

from reference import reference_seconds

# isort: split
import time
from dataclasses import replace
from pathlib import Path

from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Shop
from sleevewright.services.plans import StageCache, load_job, plan_document

EXAMPLES = Path(__file__).parents[1] / "examples"
ROUNDS = 60
WANTED = 0.150


def main() -> None:
    """Time recomputes with one typed figure changed at a time."""
    reference = reference_seconds()
    job = load_job(EXAMPLES / "demo-air-175.toml")
    cache = StageCache()
    shop = Shop()
    plan_document(plan(job, shop, run=cache))
    taken = []
    for turn in range(ROUNDS):
        changed = _change(job, turn)
        start = time.perf_counter()
        plan_document(plan(changed, shop, run=cache))
        taken.append(time.perf_counter() - start)
    taken.sort()
    middle, late = taken[len(taken) // 2], taken[int(0.95 * len(taken))]
    print(f"R = {1e3 * reference:.1f} ms")
    print(f"recompute, P50 {1e3 * middle:.0f} ms ({middle / reference:.2f} R)")
    met = "yes" if late <= WANTED else "no"
    print(f"recompute, P95 {1e3 * late:.0f} ms ({late / reference:.2f} R), wanted 150 ms: {met}")


def _change(job, turn):  # noqa: ANN001, ANN202 - a job, of which one entry is changed
    """The job with another slip, another ring or another reading, in turn."""
    step = 1.0e-7 * (turn + 1)
    if turn % 3 == 0:
        slip = replace(job.heat.slip, value=job.heat.slip.value + step)
        return replace(job, heat=replace(job.heat, slip=slip))
    if turn % 3 == 1:
        ring = replace(job.sleeve.inside_diameter, value=job.sleeve.inside_diameter.value + step)
        return replace(job, sleeve=replace(job.sleeve, inside_diameter=ring))
    grid = job.grids[-1]
    cell = replace(grid.readings[0][0], value=grid.readings[0][0].value + step)
    row = (cell, *grid.readings[0][1:])
    return replace(job, grids=(*job.grids[:-1], replace(grid, readings=(row, *grid.readings[1:]))))


if __name__ == "__main__":
    main()
