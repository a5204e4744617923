"""What remembering ten thousand released cylinders costs a page, and the page of all of them.

Run as ``python benchmarks/memory.py [jobs]``.  The rows go through the projection as they do
with a release.  Goal: the line of a stage page and what was accepted take less than 5 ms.
"""

from __future__ import annotations

import random
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import JOB, RELEASE, VALUE, Record
from sleevewright.planning.learning import learned_from
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.learned import all_past_jobs, like_this, standing
from sleevewright.store.memory import MemoryProjection
from sleevewright.web.learned.views import Asked, learned_page

GOAL = 5.0
ROUNDS = 9
AIR = "aluminium|iron|air"
OUTCOMES = ("runs well", "came back", "")
RECEIVED = "2026-03-02T08:00:00.000Z"


def records_of(number: int, chance: random.Random) -> list[Record]:
    """An invented job that was released and, for most, heard of."""
    fit = chance.gauss(80e-6, 10e-6)
    figures = {
        "sleeve.od": 0.065, "fit.cold": fit, "fit.as_cut": fit, "fit.effective": fit,
        "fit.close_up": 0.6 * fit, "cool.closed": 0.6 * (fit - chance.gauss(5e-6, 4e-6)),
    }  # fmt: skip
    answers = [
        {"id": name, "value_m": value, "doubt": {"standard_m": 3e-6}}
        for name, value in figures.items()
    ]
    told: list[tuple[str, dict[str, Any]]] = [
        (JOB, {"title": "barrel", "cylinders": 1, "cooling": chance.choice(("air", "water"))}),
        (VALUE, {"cylinder": 1, "cell": "casting.material", "text": "aluminium-356"}),
        (RELEASE, {"cylinder": 1, "plan": {"stages": [{"answers": answers}]}}),
    ]
    outcome = chance.choices(OUTCOMES, (60, 4, 36))[0]
    if outcome:
        told.append((VALUE, {"cylinder": 1, "cell": "after.outcome", "text": outcome}))
    return [
        Record(f"M-{number}", place, f"{number:024x}{place:08x}", "bench", place, RECEIVED,
               kind, 1, body)
        for place, (kind, body) in enumerate(told, start=1)
    ]  # fmt: skip


def fill(bench: Bench, count: int) -> float:
    """Put this many jobs through the projection; seconds a job."""
    projection, chance = MemoryProjection(), random.Random(1)  # noqa: S311 - invented data
    made = [records_of(number, chance) for number in range(count)]
    start = time.perf_counter()

    def work(connection: Any) -> None:
        for told in made:
            projection.apply(connection, Folded(told), told)

    bench.store.write(work)
    return (time.perf_counter() - start) / count


def middle(run: Callable[[], object]) -> float:
    """Milliseconds of the middle of several runs."""
    taken = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        run()
        taken.append(time.perf_counter() - start)
    return 1e3 * statistics.median(taken)


def main(arguments: Sequence[str]) -> None:
    """Print milliseconds of each question."""
    count = int(arguments[0]) if arguments else 10_000
    with tempfile.TemporaryDirectory() as folder:
        bench = open_bench(Path(folder, "data"))
        print(f"{count} released cylinders: {1e3 * fill(bench, count):.2f} ms each to take in")
        line, kept = middle(lambda: like_this(bench, AIR)), middle(lambda: standing(bench))
        met = "yes" if line + kept < GOAL else "no"
        print(f"what a stage page gains    {line + kept:8.2f} ms, goal {GOAL:g}: {met}")
        jobs = all_past_jobs(bench)
        print(f"every past job read        {middle(lambda: all_past_jobs(bench)):8.2f} ms")
        print(f"the habit of a pairing     {middle(lambda: learned_from(jobs, AIR)):8.2f} ms")
        told = Asked(AIR)
        print(f"page of what was learned   {middle(lambda: learned_page(bench, told)):8.2f} ms")
        bench.close()


if __name__ == "__main__":
    main(sys.argv[1:])
