"""Database time of a search at 1,000 jobs and at more, in one run, beside each other.

Run as ``python benchmarks/search_scale.py [jobs]``; 10,000 where nothing is said, 100,000
for the figure that is promised.  Invented jobs go through the search's own projection into
an SQLite file, as they would with their records.  Each question is asked many times over,
half of them common words that nearly every job holds; the ratio is that of the medians.
"""

from __future__ import annotations

import random
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import Connection, Engine

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.likeness import facts_of
from sleevewright.jobs.records import JOB, VALUE, Record
from sleevewright.jobs.searchwords import Asked, read_query
from sleevewright.store.database import writing_engine
from sleevewright.store.search import SearchProjection, metadata
from sleevewright.store.searching import candidates, heard_words

FEW = 1_000
GOAL = 2.0
ROUNDS = 40
MAKES = ("enduro", "outboard", "mower", "scooter", "kart", "chainsaw", "generator", "trials")
COOLED = ("air-cooled", "water-cooled", "fan-cooled")
PLACES = ("seized at the exhaust", "ring broken", "plating flaked", "cracked bridge", "worn out")
METALS = ("aluminium-356", "aluminium-319", "grey-iron")
QUERIES = (
    "two-stroke sleeve",
    "seized exhaust",
    "exhuast siezed",
    "water-cooled kart 250",
    "61.3 mm",
    "2.402 in enduro",
    "J-517",
    "no such word",
)


def records_of(number: int, chance: random.Random) -> Iterator[Record]:
    """The records of one invented job that hold words or sizes."""
    name = f"J-{number}"
    moment = datetime(2000, 1, 1, tzinfo=UTC) + timedelta(minutes=30 * number)
    size = chance.randrange(50, 400, 5)
    bore = chance.uniform(40.0, 90.0)
    said = {
        "engine.description": f"{chance.choice(COOLED)} {size} {chance.choice(MAKES)}",
        "engine.bore": f"{bore:.2f} mm",
        "casting.material": chance.choice(METALS),
        "sleeve.material": "grey-iron",
        "intake.failed": chance.choice(PLACES),
        "intake.marks": f"tag {number % 97}, stud {chance.randrange(1, 9)}",
        "intake.casting_number": f"C{chance.randrange(10**6)}",
        "job.note": f"sleeve two-stroke part{chance.choice('abcdefgh')}{number % 5000}",
    }
    opening = {"title": f"{size} barrel", "engine_kind": "two-stroke", "cylinders": 1}
    bodies = [(JOB, opening)] + [
        (VALUE, {"cylinder": 1, "cell": cell, "text": text, **_nm(cell, bore)})
        for cell, text in said.items()
    ]
    for place, (kind, body) in enumerate(bodies, start=1):
        received = moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")
        yield Record(
            name, place, f"{number:024x}{place:08x}", "bench", place, received, kind, 1, body
        )


def _nm(cell: str, bore: float) -> dict[str, int]:
    return {"nm": round(bore * 1e6)} if cell == "engine.bore" else {}


def filled(engine: Engine, count: int) -> float:
    """Put this many jobs through the projection; seconds a job."""
    projection, chance = SearchProjection(), random.Random(1)  # noqa: S311 - invented data
    start = time.perf_counter()
    with engine.begin() as connection:
        metadata.create_all(connection)
    for first in range(1, count + 1, FEW):
        with engine.begin() as connection:
            for number in range(first, min(first + FEW, count + 1)):
                told = list(records_of(number, chance))
                projection.apply(connection, Folded(told), told)
    return (time.perf_counter() - start) / count


def asked_of(connection: Connection, asked: Asked) -> float:
    """Seconds that one question takes of the database."""
    start = time.perf_counter()
    candidates(connection, asked, heard_words(connection, asked.words), None)
    return time.perf_counter() - start


def beside(connection: Connection, number: int) -> float:
    """Seconds that looking for jobs like one takes of the database."""
    facts = facts_of(Folded(records_of(number, random.Random(number))), 1)  # noqa: S311 - likewise
    start = time.perf_counter()
    candidates(connection, Asked(), (), facts)
    return time.perf_counter() - start


def main(arguments: Sequence[str]) -> None:
    """Print milliseconds of each question at both sizes, and the ratio."""
    many = int(arguments[0]) if arguments else 10_000
    with tempfile.TemporaryDirectory() as folder:
        engines = {}
        for count in (FEW, many):
            place = Path(folder, str(count))
            place.mkdir()
            engines[count] = writing_engine(place, None)
            spent = filled(engines[count], count)
            print(f"{count:>7} jobs: {1e3 * spent:.2f} ms a job to take in")
        print(f"{'question':<28}{FEW:>9}{many:>9}   ratio, goal {GOAL}")
        with engines[FEW].connect() as small, engines[many].connect() as large:
            for query in QUERIES:
                _row(query, small, large, lambda c, q=query: asked_of(c, read_query(q)))
            _row("jobs like this one", small, large, lambda c: beside(c, 500))
        for engine in engines.values():
            engine.dispose()


def _row(name: str, small: Connection, large: Connection, run: object) -> None:
    """One line of the table; both sizes in turns, so that they see the same machine."""
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(ROUNDS):
        for connection, kept in zip((small, large), times, strict=True):
            kept.append(run(connection))  # type: ignore[operator] # a function of a connection
    few, many = (1e3 * statistics.median(kept) for kept in times)
    print(f"{name:<28}{few:>8.2f} {many:>8.2f}   {many / few:.2f}")


if __name__ == "__main__":
    main(sys.argv[1:])
