"""Twenty devices with five pages open each, against the real server on this machine.

Run as ``python benchmarks/load_bench.py [seconds]`` on a quiet machine; 100 s where nothing
is said.  The server is started as the command starts it, with the shop's own settings.
Two devices work on each of ten jobs, each on a cylinder of its own; each of a job's ten pages
hears both.  Printed, beside what a sync of this disk takes:

(a) paced: each device hands in five readings a second, one by one; a reading counts from the
moment at which it was due, so that a late answer makes the next one late too;
(b) burst: five hundred of each, the next as soon as the one before is answered, and once
more as a device does that was cut off: all that waits together; beside it, one reading a
commit by the same store and settings;
(c) one device alone.
"""

from __future__ import annotations

import asyncio
import os
import subprocess
import sys
import tempfile
import threading
import time
import uuid
from collections.abc import Awaitable, Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from load_devices import JOBS, Device, Hall, Line
from sleevewright.jobs.records import Draft
from sleevewright.services.bench import Bench, opened
from sleevewright.services.jobs import open_job

DEVICES_A_JOB, PAGES_A_DEVICE = 2, 5
DEVICES = JOBS * DEVICES_A_JOB
PER_SECOND = 5
BURST = 500
SINGLE = 500
TOGETHER = 200
"""Readings of one delivery of a device that was cut off, as the page sends them."""
WARM_UP = 3.0


@dataclass(frozen=True)
class Goal:
    """What is promised of the times of an answer, in milliseconds."""

    p95: float | None = None
    p95_syncs: int = 0
    p99: float | None = None
    longest: float | None = None


PACED = Goal(p95=10.0, p95_syncs=3, p99=40.0, longest=250.0)
IN_BURST = Goal(p99=60.0)
ALONE = Goal(p95=3.0, p95_syncs=3)
TIMES_FASTER = 3.0


class Trial:
    """One server, its devices, and the times of their answers."""

    def __init__(self, server: Served) -> None:
        self.hall = Hall(server.port)
        self.port = server.port
        self.times: list[float] = []
        self.rows = 0
        self.core_ms = 0.0
        self._worked = server.worked()
        self._server = server

    def end(self) -> None:
        """Note how many milliseconds of a core the server used for a row."""
        self.core_ms = 1e3 * (self._server.worked() - self._worked) / max(1, self.rows)

    async def hand_in(self, device: Device, line: Line, count: int, due: float) -> None:
        """Hand readings in and note how long after ``due`` they were answered."""
        entries = [entry for _ in range(count) for entry in device.next()]
        for entry in entries:
            self.hall.sent[str(entry["id"])] = due
        answer = await line.post(device.delivery(entries))
        self.times.append(time.perf_counter() - due)
        self.rows += len(entries)
        answers = answer["answers"]
        if not isinstance(answers, list) or any(one["state"] != "kept" for one in answers):
            raise RuntimeError(f"not all was kept: {str(answers)[:300]}")

    async def paced(self, device: Device, place: int, seconds: float) -> None:
        """Five readings a second, the devices evenly apart."""
        line = Line(self.port)
        start = time.perf_counter() + place / DEVICES / PER_SECOND
        for turn in range(round(seconds * PER_SECOND)):
            due = start + turn / PER_SECOND
            await asyncio.sleep(max(0.0, due - time.perf_counter()))
            await self.hand_in(device, line, 1, due)
        line.close()

    async def burst(self, device: Device, count: int, together: int) -> None:
        """As fast as the answers come."""
        line = Line(self.port)
        for _ in range(0, count, together):
            await self.hand_in(device, line, min(together, count), time.perf_counter())
        line.close()

    def clear(self) -> None:
        """Forget what was measured."""
        self.times.clear()
        self.hall.heard.clear()
        self.rows = 0
        self._worked = self._server.worked()


def devices(tag: str) -> list[Device]:
    """Twenty devices, two to a job."""
    return [
        Device(f"{tag}{place}", f"J-{place % JOBS + 1}", place // JOBS + 1)
        for place in range(DEVICES)
    ]


async def trial_of(server: Served, run: Callable[[Trial], Awaitable[None]], *, pages: int) -> Trial:
    """Open the pages, run, close them."""
    trial = Trial(server)
    await trial.hall.open_pages(pages)
    try:
        await run(trial)
        trial.end()
        await asyncio.sleep(0.5)  # until the pages have heard the last
    finally:
        await trial.hall.close()
    return trial


async def paced_trial(trial: Trial, seconds: float) -> None:
    """All devices at their pace, after some seconds that do not count."""
    for tag, span in (("w", WARM_UP), ("p", seconds)):
        trial.clear()
        at_work = (trial.paced(one, place, span) for place, one in enumerate(devices(tag)))
        await asyncio.gather(*at_work)


def share(times: Sequence[float], part: float) -> float:
    """The time below which that part of all times lies, in milliseconds."""
    return 1e3 * sorted(times)[min(len(times) - 1, int(part * len(times)))]


def told(name: str, trial: Trial, goal: Goal, sync_ms: float) -> str:
    """A line of the table."""
    p50, p95, p99 = (share(trial.times, part) for part in (0.5, 0.95, 0.99))
    longest = 1e3 * max(trial.times)
    said = []
    if goal.p95 is not None:
        most = goal.p95 + goal.p95_syncs * sync_ms
        said.append(f"p95 at most {most:.1f}: {_met(p95 <= most)}")
    if goal.p99 is not None:
        said.append(f"p99 at most {goal.p99:.0f}: {_met(p99 <= goal.p99)}")
    if goal.longest is not None:
        said.append(f"max at most {goal.longest:.0f}: {_met(longest <= goal.longest)}")
    line = (
        f"{name:<34}{len(trial.times):>6} answers, ms: p50 {p50:.1f}, p95 {p95:.1f}, "
        f"p99 {p99:.1f}, max {longest:.1f}; {'; '.join(said)}\n"
        f"{'':<34}the server used {trial.core_ms:.1f} ms of a core for each row"
    )
    if trial.hall.heard:
        heard = trial.hall.heard
        line += (
            f"\n{'':<34}{len(heard)} times a page heard, ms: p50 {share(heard, 0.5):.1f}, "
            f"p95 {share(heard, 0.95):.1f}, max {1e3 * max(heard):.1f}"
        )
    return line


def _met(is_met: bool) -> str:
    return "yes" if is_met else "no"


def sync_times(folder: Path, count: int = 300) -> list[float]:
    """Seconds of a write of 4 KiB and its sync, on this disk."""
    path, times = folder / "sync", []
    sync = getattr(os, "fdatasync", os.fsync)
    with path.open("wb", buffering=0) as file:
        for _ in range(count):
            begun = time.perf_counter()
            file.write(bytes(4096))
            sync(file.fileno())
            times.append(time.perf_counter() - begun)
    path.unlink()
    return times


def make(folder: Path) -> None:
    """A bench with the jobs that are worked on."""
    with opened(folder) as bench:
        for number in range(1, JOBS + 1):
            opening = {"title": "invented", "cylinders": DEVICES_A_JOB, "invented": True}
            open_job(bench, f"J-{number}", opening)


@dataclass(frozen=True)
class Served:
    """A server that runs."""

    port: int
    pid: int

    def worked(self) -> float:
        """Seconds of a core that it has used; nothing where the system does not tell."""
        path = Path(f"/proc/{self.pid}/stat")
        if not path.exists():
            return 0.0
        ticks = path.read_text(encoding="ascii").rpartition(")")[2].split()[11:13]
        return sum(map(int, ticks)) / os.sysconf("SC_CLK_TCK")

    def settle(self, longest: float = 60.0) -> None:
        """Wait until what a start does in the background is done, as the first backup."""
        until = time.monotonic() + longest
        while time.monotonic() < until:
            worked = self.worked()
            time.sleep(1.0)
            if self.worked() - worked < 0.05:
                return


@contextmanager
def served(folder: Path) -> Iterator[Served]:
    """A server on a folder, started as a command."""
    command = [sys.executable, "-m", "sleevewright", "serve", str(folder), "--port", "0"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, encoding="utf-8") as process:  # noqa: S603 - our own command
        if process.stdout is None:
            raise RuntimeError("the bench says nothing")
        address = next(word for word in process.stdout.readline().split() if "://" in word)
        try:
            server = Served(int(address.rstrip("/").rpartition(":")[2]), process.pid)
            server.settle()
            yield server
        finally:
            process.kill()


def one_a_commit(bench: Bench, count: int) -> float:
    """Rows a second where each reading is a commit of its own, without network or checks."""
    lot = drafts("one", count)
    begun = time.perf_counter()
    for draft in lot:
        bench.store.append([draft])
    return count / (time.perf_counter() - begun)


def many_at_once(bench: Bench, count: int) -> float:
    """Rows a second where twenty threads hand readings to the store, without network."""
    lots = [drafts(f"many{place}", count // DEVICES, place) for place in range(DEVICES)]

    def work(lot: list[Draft]) -> None:
        for draft in lot:
            bench.store.append([draft])

    threads = [threading.Thread(target=work, args=(lot,)) for lot in lots]
    begun = time.perf_counter()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return count / (time.perf_counter() - begun)


def drafts(device: str, count: int, place: int = 0) -> list[Draft]:
    """Readings as the store takes them."""
    body = {
        "cylinder": 1 + place // JOBS, "text": "2.6360 in", "nm": 66954400,
        "kind": "measured", "source": "gauge", "replaces": [],
    }  # fmt: skip
    return [
        Draft(
            f"J-{(place or number) % JOBS + 1}", uuid.uuid4().hex, device, number, "value",
            {**body, "cell": f"set/{device}/{number // 16}/{number % 16}"},
        )
        for number in range(1, count + 1)
    ]  # fmt: skip


def main(seconds: float) -> None:
    """Print everything."""
    with tempfile.TemporaryDirectory() as scratch:
        place = Path(scratch)
        before = sync_times(place)
        sync_ms = share(before, 0.5)
        print(f"sync of this disk: median {sync_ms:.2f} ms, p95 {share(before, 0.95):.2f} ms")
        print(f"others at work (load of the last minute): {os.getloadavg()[0]:.1f}")
        make(place / "load")
        with served(place / "load") as server:
            run = paced_trial_of(seconds)
            trial = asyncio.run(trial_of(server, run, pages=DEVICES_A_JOB * PAGES_A_DEVICE))
            print(told(f"(a) {DEVICES} devices, paced", trial, PACED, sync_ms), flush=True)
            for name, together in (("one by one", 1), (f"{TOGETHER} together", TOGETHER)):
                rate = burst_trial(server, name, together, sync_ms)
                print(f"{'':<34}{rate:.0f} rows/s", flush=True)
        make(place / "one")
        with opened(place / "one") as bench:
            single, group = one_a_commit(bench, 2000), many_at_once(bench, 6000)
        print(
            f"one reading a commit by the same store, no network: {single:.0f} rows/s; twenty "
            f"threads at the store, no network: {group:.0f} rows/s, {group / single:.1f} times "
            f"(wanted {TIMES_FASTER:.0f})"
        )
        make(place / "alone")
        with served(place / "alone") as server:
            alone = asyncio.run(trial_of(server, alone_trial, pages=1))
            print(told("(c) one device", alone, ALONE, sync_ms))
        after = sync_times(place)
        print(
            f"sync afterwards: median {share(after, 0.5):.2f} ms, p95 {share(after, 0.95):.2f} ms"
        )


def paced_trial_of(seconds: float) -> Callable[[Trial], Awaitable[None]]:
    """The paced run over that many seconds."""

    async def run(trial: Trial) -> None:
        await paced_trial(trial, seconds)

    return run


def burst_trial(server: Served, name: str, together: int, sync_ms: float) -> float:
    """Five hundred readings of each device; rows a second."""
    spent = 0.0

    async def run(trial: Trial) -> None:
        nonlocal spent
        begun = time.perf_counter()
        lot = devices(f"b{together}")
        await asyncio.gather(*(trial.burst(one, BURST, together) for one in lot))
        spent = time.perf_counter() - begun

    trial = asyncio.run(trial_of(server, run, pages=DEVICES_A_JOB * PAGES_A_DEVICE))
    goal = IN_BURST if together == 1 else Goal()
    print(told(f"(b) burst of {BURST} each, {name}", trial, goal, sync_ms))
    return trial.rows / spent


async def alone_trial(trial: Trial) -> None:
    """One device at its pace, the others silent."""
    line = Line(trial.port)
    for tag, count in (("v", 25), ("a", SINGLE)):
        trial.clear()
        device = Device(tag, "J-1", 1)
        for _ in range(count):
            await trial.hand_in(device, line, 1, time.perf_counter())
            await asyncio.sleep(0.02)
    line.close()


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 100.0)
