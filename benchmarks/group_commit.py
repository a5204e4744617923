"""Rows a second through the store: whatever waits at once, against a row a commit.

Run with ``python benchmarks/group_commit.py``; a folder of its own is used and removed.  The
time that the disk takes to sync 4 KiB is printed beside, as all figures hang on it.
"""

from __future__ import annotations

import os
import tempfile
import threading
import time
import uuid
from collections.abc import Callable
from pathlib import Path

from sleevewright.jobs.records import Draft
from sleevewright.store import database, writer
from sleevewright.store.store import Store, open_store

JOBS = 5
LOG = database.WRITING
ROLLBACK = tuple(
    one.replace("WAL", "DELETE").replace("synchronous=FULL", "synchronous=EXTRA") for one in LOG
)


def main() -> None:
    """Print the figures of both settings of SQLite."""
    print(f"sync of 4 KiB: {told(syncs(300))}")
    for name, pragmas in (("log, FULL", LOG), ("rollback, EXTRA", ROLLBACK)):
        database.WRITING = pragmas
        for words, threads, each, most in (
            ("20 devices, group commit", 20, 200, 5000),
            ("20 devices, a row a commit", 20, 60, 1),
            ("one device", 1, 300, 5000),
        ):
            writer._MOST_RECORDS = most  # noqa: SLF001 - what is compared
            seconds, times = run(threads, each)
            print(f"{name}, {words}: {threads * each / seconds:.0f} rows/s, {told(times)}")


def run(threads: int, each: int) -> tuple[float, list[float]]:
    """Seconds of all, and of each record from its handing in to its acknowledgement."""
    times: list[float] = []
    with tempfile.TemporaryDirectory() as folder:
        store = open_store(Path(folder))
        for number in range(JOBS):
            store.append([Draft(f"J-{number}", uuid.uuid4().hex, "bench", 0, "job", {"title": ""})])
        begun = time.perf_counter()
        devices = [
            threading.Thread(target=device, args=(store, number, each, times.append))
            for number in range(threads)
        ]
        for one in devices:
            one.start()
        for one in devices:
            one.join()
        seconds = time.perf_counter() - begun
        store.close()
    return seconds, times


def device(store: Store, number: int, each: int, note: Callable[[float], None]) -> None:
    """Hand in one reading after the other."""
    body = {"cylinder": 1, "text": "+1.2", "unit": "thou", "nm": 30480, "kind": "measured"}
    for count in range(1, each + 1):
        cell = f"set/k3f9/{count % 8}/{count % 4}"
        draft = Draft(
            f"J-{number % JOBS}", uuid.uuid4().hex, f"d{number}", count, "value",
            {**body, "cell": cell},
        )  # fmt: skip
        begun = time.perf_counter()
        store.append([draft])
        note(time.perf_counter() - begun)


def syncs(count: int) -> list[float]:
    """Seconds of syncing 4 KiB, again and again."""
    times: list[float] = []
    with tempfile.TemporaryFile() as file:
        for _ in range(count):
            file.write(bytes(4096))
            file.flush()
            begun = time.perf_counter()
            os.fsync(file.fileno())
            times.append(time.perf_counter() - begun)
    return times


def told(times: list[float]) -> str:
    """Median and tail in milliseconds."""
    ordered = sorted(times)
    shares = [
        ordered[min(len(ordered) - 1, int(share * len(ordered)))] for share in (0.5, 0.95, 0.99)
    ]
    p50, p95, p99 = (one * 1000 for one in shares)
    return f"p50 {p50:.2f}, p95 {p95:.2f}, p99 {p99:.2f}, max {ordered[-1] * 1000:.1f} ms"


if __name__ == "__main__":
    main()
