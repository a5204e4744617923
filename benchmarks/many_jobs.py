"""Invented jobs in any number, handed to the store as devices and the server would.

Each has an opening, eight typed values, a set of forty-one places with its readings, and,
but for the last few, a release: fifty readings a job.  They go through the store's own
``submit`` in groups of a job each, with all projections, so that the tables are those of a
shop that typed for years; only the checks of what a device hands in are passed by.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

from sleevewright.jobs.records import JOB, RELEASE, SET, VALUE, Draft
from sleevewright.services.bench import Bench
from sleevewright.services.entry_bodies import body_of

STATIONS, DIRECTIONS = 6, 7
TYPED = 8
IN_FLIGHT = 40
"""Jobs that are not released: the last ones."""
AT_ONCE = 100
SEALED_EACH = 1_000
MAKES = ("enduro", "outboard", "mower", "scooter", "kart", "chainsaw", "generator", "trials")
COOLED = ("air-cooled", "water-cooled", "fan-cooled")
PLACES = ("seized at the exhaust", "ring broken", "plating flaked", "cracked bridge", "worn out")
FIRST = datetime(2006, 1, 2, 8, tzinfo=UTC)


class Calendar:
    """A clock that goes on as the jobs come in, some of them a day."""

    def __init__(self) -> None:
        self.now = FIRST

    def __call__(self) -> datetime:
        """The moment; each question takes a little."""
        self.now += timedelta(milliseconds=40)
        return self.now

    def next_job(self) -> None:
        """Some hours later."""
        self.now += timedelta(hours=2)


def drafts_of(number: int, *, is_released: bool) -> list[Draft]:
    """All that was told of one invented job."""
    chance = random.Random(number)  # noqa: S311 - invented data
    name, bore = f"J-{number}", chance.uniform(40.0, 90.0)
    told = list(_bodies(number, bore, chance))
    if is_released:
        answers = {"fit.cold": {"value": chance.uniform(4e-5, 9e-5)}}
        release = {"cylinder": 1, "person": "p1", "code_version": "0", "answers": answers}
        told.append((RELEASE, {**release, "plan": {}, "head": "0" * 64}))
    return [
        Draft(name, f"{chance.getrandbits(128):032x}", "tablet", place, kind, body)
        for place, (kind, body) in enumerate(told, start=1)
    ]


def _bodies(
    number: int, bore: float, chance: random.Random
) -> Iterator[tuple[str, dict[str, Any]]]:
    size = chance.randrange(50, 400, 5)
    yield JOB, {
        "title": f"{size} barrel", "units": "metric", "invented": True, "cylinders": 1,
        "engine_kind": "two-stroke", "cooling": "air", "source": "",
    }  # fmt: skip
    typed = {
        "engine.description": f"{chance.choice(COOLED)} {size} {chance.choice(MAKES)}",
        "engine.bore": f"{bore:.2f} mm",
        "casting.material": chance.choice(("aluminium-356", "aluminium-319")),
        "sleeve.material": "grey-iron",
        "casting.mass": f"{chance.uniform(0.8, 3.0):.2f} kg",
        "intake.failed": chance.choice(PLACES),
        "intake.marks": f"tag {number % 97}, stud {chance.randrange(1, 9)}",
        "intake.casting_number": f"C{chance.randrange(10**6)}",
    }
    assert len(typed) == TYPED
    for cell, text in typed.items():
        more = {"nm": round(float(text.split()[0]) * 1e6)} if cell == "engine.bore" else {}
        yield VALUE, _value(cell, text, more)
    yield SET, {
        "cylinder": 1, "set": "a", "stage": "parent", "feature": "parent-bore", "unit": "mm",
        "instrument": "", "instruments": [], "entry": "size", "nominal": f"{bore + 3.0:.2f} mm",
        "stations": [f"{10 * place + 8} mm" for place in range(STATIONS)],
        "directions": [f"{25 * place} deg" for place in range(DIRECTIONS)], "blank": [],
        "part_temperature": "21 C", "gauge_temperature": "21 C",
    }  # fmt: skip
    for station in range(STATIONS):
        for direction in range(DIRECTIONS):
            nm = 1000 * (round((bore + 3.0) * 1e3) + chance.randrange(-8, 9))
            cell = f"set/a/{station}/{direction}"
            yield VALUE, _value(cell, f"{nm / 1e6:.3f} mm", {"nm": nm, "kind": "measured"})


def _value(cell: str, text: str, more: dict[str, Any]) -> dict[str, Any]:
    return {
        "cylinder": 1, "cell": cell, "text": text, "kind": "typed", "source": "keyed",
        "replaces": [], **more,
    }  # fmt: skip


def fill(bench: Bench, count: int, *, calendar: Calendar | None = None) -> int:
    """Take in jobs 1 to ``count``; how many records that were."""
    records, waiting = 0, []
    for number in range(1, count + 1):
        drafts = drafts_of(number, is_released=number <= count - IN_FLIGHT)
        records += len(drafts)
        if calendar is not None:
            calendar.next_job()
        waiting.append(bench.store.submit(drafts))
        if len(waiting) == AT_ONCE:
            _wait(waiting)
        if number % SEALED_EACH == 0:
            _wait(waiting)
            bench.store.seal("backup")
    _wait(waiting)
    return records


def _wait(waiting: list[Any]) -> None:
    for one in waiting:
        one.result()
    waiting.clear()


def is_as_handed_in(bench: Bench, number: int) -> str:
    """The first value of a job that devices could not have handed in as it stands, if any."""
    folded = bench.store.folded(f"J-{number}")
    for record in bench.store.records(f"J-{number}"):
        if record.kind == VALUE:
            made = body_of(VALUE, record.body, folded)
            if made["text"] != record.body["text"] or made.get("nm") != record.body.get("nm"):
                return f"{record.body} would be kept as {made}"
    return ""
