"""Shelf, job page, search and start at 1,000 jobs and at more, in one run, beside each other.

Run as ``python benchmarks/scale.py [jobs]``; 10,000 where nothing is said, 100,000 (five
million readings, the better part of an hour) for the figure that is promised.  Database time
is that of all reading that a request does; the request is whole but for the network.
"""

from __future__ import annotations

import one_thread  # noqa: F401 - must come before numpy

# isort: split
import logging
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from fastapi.testclient import TestClient

from many_jobs import Calendar, fill, is_as_handed_in
from sleevewright.services.bench import Bench, open_bench
from sleevewright.web.app import create_app

FEW = 1_000
ROUNDS = 60
RATIO = 2.0
REQUEST_MS = 60.0
START_S = 2.0


@dataclass
class Times:
    """Seconds of many turns."""

    database: list[float] = field(default_factory=list)
    request: list[float] = field(default_factory=list)

    @property
    def database_ms(self) -> float:
        """The middle of the database's times."""
        return 1e3 * statistics.median(self.database)

    @property
    def request_p95_ms(self) -> float:
        """The request that only one in twenty is slower than."""
        return 1e3 * sorted(self.request)[int(0.95 * len(self.request))]


class Shop:
    """A bench with many jobs, its pages, and a watch on what it reads."""

    def __init__(self, bench: Bench, client: TestClient, count: int) -> None:
        self.bench = bench
        self.count = count
        self.spent = 0.0
        self._client = client
        read: Callable[[Any], Any] = bench.store.read

        def watched(work: Callable[[Any], Any]) -> Any:
            begun = time.perf_counter()
            try:
                return read(work)
            finally:
                self.spent += time.perf_counter() - begun

        bench.store.read = watched  # type: ignore[method-assign] # a watch around it

    def ask(self, address: str, times: Times) -> None:
        """Ask for a page and note what it took."""
        self.spent, begun = 0.0, time.perf_counter()
        answer = self._client.get(address)
        times.request.append(time.perf_counter() - begun)
        times.database.append(self.spent)
        if answer.status_code != 200:
            raise RuntimeError(f"{address} answered {answer.status_code}")


PAGES: dict[str, Callable[[random.Random, int], str]] = {
    "shelf": lambda _chance, _count: "/",
    "job page, just worked on": lambda chance, count: f"/jobs/J-{count - chance.randrange(4)}",
    "job page, any job": lambda chance, count: f"/jobs/J-{chance.randrange(1, count + 1)}",
    "search, common words": lambda chance, _c: (
        f"/search?q=seized+kart+{chance.randrange(50, 400, 5)}"
    ),
    "search, a slip": lambda _chance, _count: "/search?q=exhuast+siezed",
    "search, a size": lambda chance, _count: f"/search?q={chance.uniform(41, 89):.1f}+mm",
    "search, a number": lambda chance, count: f"/search?q=J-{chance.randrange(1, count + 1)}",
}


@contextmanager
def shop_of(folder: Path, count: int) -> Iterator[Shop]:
    """A shop with that many jobs, made where there is none."""
    if not folder.exists():
        fill_folder(folder, count)
    bench = open_bench(folder)
    try:
        with TestClient(create_app(bench), base_url="http://localhost") as client:
            yield Shop(bench, client, count)
    finally:
        bench.close()


def fill_folder(folder: Path, count: int) -> None:
    """Make a shop, and look that what it holds is what devices hand in."""
    bench, calendar = open_bench(folder), Calendar()
    bench.store._clock = calendar  # noqa: SLF001 - years go by in a minute
    begun = time.perf_counter()
    records = fill(bench, count, calendar=calendar)
    spent = time.perf_counter() - begun
    bench.store.seal("backup")
    wrong = is_as_handed_in(bench, count // 2)
    bench.close()
    if wrong:
        raise RuntimeError(wrong)
    size = sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())
    print(
        f"{count} jobs, {records} records: {records / spent:.0f} records/s, {size / 1e6:.0f} MB",
        flush=True,
    )


def settle(longest: float = 120.0) -> None:
    """Wait until what a start does in the background is done: this process is idle."""
    until = time.monotonic() + longest
    while time.monotonic() < until:
        used = time.process_time()
        time.sleep(1.0)
        if time.process_time() - used < 0.1:
            return


def measured(shops: Sequence[Shop], rounds: int) -> dict[str, list[Times]]:
    """Times of each page in each shop, the shops in turns so that all see the same machine."""
    settle()
    found: dict[str, list[Times]] = {}
    chance = random.Random(7)  # noqa: S311 - which job is asked for
    for name, page in PAGES.items():
        kept = found[name] = [Times() for _ in shops]
        for turn in range(rounds + 3):
            for shop, times in zip(shops, kept, strict=True):
                shop.ask(page(chance, shop.count), Times() if turn < 3 else times)
    return found


def opening_seconds(folder: Path) -> float:
    """Seconds to open a bench, without starting a process."""
    begun = time.perf_counter()
    bench = open_bench(folder)
    spent = time.perf_counter() - begun
    bench.close()
    return spent


def start_seconds(folder: Path) -> float:
    """Seconds from the command to the line that says where the bench is."""
    command = [sys.executable, "-m", "sleevewright", "serve", str(folder), "--port", "0"]
    begun = time.perf_counter()
    with subprocess.Popen(command, stdout=subprocess.PIPE, encoding="utf-8") as process:  # noqa: S603 - our own command
        if process.stdout is None or not process.stdout.readline():
            raise RuntimeError("the bench did not start")
        spent = time.perf_counter() - begun
        process.kill()
    return spent


def main(arguments: Sequence[str]) -> None:
    """Print the table."""
    logging.disable()
    many = int(arguments[0]) if arguments else 10_000
    with tempfile.TemporaryDirectory() as scratch:
        folders = {count: Path(scratch, str(count)) for count in (FEW, many)}
        with shop_of(folders[FEW], FEW) as few, shop_of(folders[many], many) as much:
            found = measured((few, much), ROUNDS)
        print(f"{'':<26}{'database, median ms':>24}{'ratio':>8}{'request, P95 ms':>22}")
        print(f"{'':<26}{FEW:>12}{many:>12}{f'< {RATIO}':>8}{FEW:>12}{f'{many}':>10}")
        for name, (one, other) in found.items():
            print(
                f"{name:<26}{one.database_ms:>12.2f}{other.database_ms:>12.2f}"
                f"{other.database_ms / one.database_ms:>8.2f}"
                f"{one.request_p95_ms:>12.1f}{other.request_p95_ms:>10.1f}"
            )
        for count, folder in folders.items():
            opening = min(opening_seconds(folder) for _ in range(3))
            starts = sorted(start_seconds(folder) for _ in range(5))
            print(
                f"{count} jobs: opened in {opening:.2f} s, started as a command in "
                f"{starts[2]:.2f} s (wanted {START_S:.0f}), {starts[-1]:.2f} at most"
            )
    print(f"wanted: ratio at most {RATIO}, request at most {REQUEST_MS:.0f} ms")


if __name__ == "__main__":
    main(sys.argv[1:])
