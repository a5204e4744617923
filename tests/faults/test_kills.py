"""Servers killed while devices hand in: nothing acknowledged is lost, nothing is doubled."""

import json
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from kill_bench import JOB, LOOPBACK, Nursery, Outbox, kept_of, kill_many, nursery
from kill_look import problems_in
from sleevewright.cli.serve import listen
from sleevewright.services.bench import opened
from sleevewright.services.jobs import open_job

BUDGET = 2.0
"""Seconds in which a bench that was killed answers again."""
SPARE = 2.0
"""How much slower a machine may be that does other things beside."""


@pytest.fixture
def nurse(tmp_path: Path) -> Iterator[Nursery]:
    """A process that forks servers."""
    with nursery(tmp_path / "nursery" / "log.txt") as made:
        yield made


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A data folder with one job of three cylinders."""
    place = tmp_path / "data"
    with opened(place) as bench:
        open_job(bench, JOB, {"title": "invented", "cylinders": 3, "invented": True})
    return place


def test_twenty_kills(nurse: Nursery, folder: Path) -> None:
    """Twenty kills at random instants, through the interface that the page uses."""
    figures = kill_many(folder, nurse, 20, seed=50)
    sys.stdout.write(f"{figures.words()}\n")
    assert figures.problems == []
    assert figures.kills == 20
    assert figures.acknowledged > 20


@pytest.mark.slow
def test_thousand_kills(nurse: Nursery, folder: Path) -> None:
    """A thousand kills."""
    figures = kill_many(folder, nurse, 1000, seed=1000)
    sys.stdout.write(f"{figures.words()}\n")
    assert figures.problems == []
    assert figures.kills == 1000
    assert figures.acknowledged > 1000


def test_killed_bench_answers_within_two_seconds(folder: Path, root: Path) -> None:
    """Real starts of the command, each after a kill: the time to the first answer."""
    assert time_of_starts(folder, root, 3) < BUDGET * SPARE


@pytest.mark.slow
def test_twenty_killed_benches_answer_within_two_seconds(folder: Path, root: Path) -> None:
    """Twenty of them."""
    assert time_of_starts(folder, root, 20) < BUDGET * SPARE


def time_of_starts(folder: Path, root: Path, count: int) -> float:
    """The middle of the times of some starts, after the figures were told."""
    importing = timed([sys.executable, "-c", "import sleevewright.web.app, uvicorn"], root)
    times = sorted(time_to_answer(folder, root) for _ in range(count))
    middle = times[count // 2]
    sys.stdout.write(
        f"{count} starts: {middle:.2f} s in the middle, {times[-1]:.2f} s at most, "
        f"of which importing takes {importing:.2f} s\n"
    )
    return middle


def timed(command: list[str], root: Path) -> float:
    """Seconds that a command takes."""
    began = time.monotonic()
    subprocess.run(command, cwd=root, check=True)
    return time.monotonic() - began


def time_to_answer(folder: Path, root: Path) -> float:
    """Start the bench, ask it for its shelf, kill it."""
    command = [sys.executable, "-m", "sleevewright", "serve", str(folder), "--port", "0"]
    began = time.monotonic()
    with subprocess.Popen(
        command, cwd=root, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, encoding="utf-8"
    ) as process:
        try:
            assert process.stdout is not None
            said = process.stdout.readline()
            address = next(word for word in said.split() if word.startswith("http"))
            port = int(address.rstrip("/").rpartition(":")[2])
            assert answer_of(port)["last"] >= 1
            return time.monotonic() - began
        finally:
            process.kill()


def answer_of(port: int) -> dict[str, int]:
    """What the bench answers to the question for a job's records."""
    with socket.create_connection((LOOPBACK, port), timeout=20.0) as line:
        ask = (
            f"GET /api/jobs/{JOB}/records HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"
        )
        line.sendall(ask.encode())
        whole = b""
        while part := line.recv(65536):
            whole += part
    head, _, body = whole.partition(b"\r\n\r\n")
    assert b" 200 " in head.splitlines()[0], whole[:300]
    return dict(json.loads(body))


def test_lost_or_doubled_reading_would_be_seen(folder: Path) -> None:
    """The test of the test: what was acknowledged and is not there is told."""
    outbox = Outbox("tablet", 1, kept={"0" * 32: 2})
    assert any("lost" in one for one in problems_in(folder, kept_of([outbox])))
    assert problems_in(folder, kept_of([Outbox("tablet", 1)])) == []


def test_answers_are_sent_at_once() -> None:
    """The bench listens in a way that lets the event loop send without waiting for more."""
    with listen(LOOPBACK, 0) as listening:
        assert listening.proto == socket.IPPROTO_TCP
