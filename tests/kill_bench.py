"""Servers that are killed while devices hand readings in, and what must be true afterwards.

A nursery process imports everything once and forks each server, so that a thousand of them
cost a few minutes; a server is the real one on a port that the system gives.  Devices are
threads that keep an outbox as the page does: a reading keeps its id until it is
acknowledged, and is handed in again after every silence.
"""

from __future__ import annotations

import http.client
import json
import os
import random
import signal
import socket
import subprocess
import sys
import threading
import time
import uuid
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

from kill_look import problems_in

LOOPBACK = "127.0.0.1"
JOB = "J-1"
PATIENCE = 20.0
"""Seconds after which a server that does not answer is a failure."""
SEALED_EACH = 100
"""Kills after which the store is sealed, as a backup does each night."""


@dataclass(frozen=True)
class Server:
    """A server that was forked."""

    pid: int
    port: int


class Nursery:
    """The process that has imported everything and forks servers."""

    def __init__(self, log: Path) -> None:
        root = Path(__file__).resolve().parent.parent
        places = os.pathsep.join([str(root / "src"), str(root / "tests")])
        self._process = subprocess.Popen(
            [sys.executable, str(Path(__file__).resolve()), str(log)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            encoding="utf-8",
            env={**os.environ, "PYTHONPATH": places, "OMP_NUM_THREADS": "1"},
        )
        self._ask({"hello": True})

    def start(self, folder: Path) -> Server:
        """Fork a server on a folder; it listens already when this returns."""
        answer = self._ask({"start": str(folder)})
        return Server(answer["pid"], answer["port"])

    def kill(self, server: Server) -> None:
        """Kill it as the system does without asking, and wait until it is gone."""
        os.kill(server.pid, signal.SIGKILL)
        self._ask({"bury": server.pid})

    def close(self) -> None:
        """End the nursery."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.close()
        self._process.wait(PATIENCE)
        self._process.stdout.close()

    def _ask(self, order: dict[str, object]) -> dict[str, int]:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write(json.dumps(order) + "\n")
        self._process.stdin.flush()
        answer = self._process.stdout.readline()
        assert answer, "the nursery has ended"
        return dict(json.loads(answer))


@contextmanager
def nursery(log: Path) -> Iterator[Nursery]:
    """A nursery for the length of a block."""
    made = Nursery(log)
    try:
        yield made
    finally:
        made.close()


@dataclass
class Outbox:
    """What one device has said: what waits, and what was acknowledged under which number."""

    device: str
    cylinder: int
    count: int = 0
    waiting: list[dict[str, object]] = field(default_factory=list)
    kept: dict[str, int] = field(default_factory=dict)
    held: list[str] = field(default_factory=list)

    def say(self) -> None:
        """One more reading, which replaces the one before."""
        self.count += 1
        before = self.waiting[-1]["id"] if self.waiting else next(reversed(self.kept), None)
        body = {
            "cylinder": self.cylinder,
            "cell": "casting.mass",
            "text": f"{1000 + self.count % 900} g",
            "replaces": [before] if before else [],
        }
        entry = {"id": uuid.uuid4().hex, "job": JOB, "n": self.count, "kind": "value"}
        self.waiting.append({**entry, "version": 1, "body": body})

    def told(self, answers: list[dict[str, object]]) -> None:
        """What the server answered."""
        for one in answers:
            if one["state"] == "kept":
                self.kept[str(one["id"])] = int(str(one["number"]))
            else:
                self.held.append(str(one.get("text")))
        done = {one["id"] for one in answers}
        self.waiting = [one for one in self.waiting if one["id"] not in done]


def kept_of(outboxes: Sequence[Outbox]) -> dict[str, dict[str, int]]:
    """What was acknowledged to each device: ids and numbers."""
    return {one.device: dict(one.kept) for one in outboxes}


class Device(threading.Thread):
    """Says one reading after the other and hands in what waits."""

    def __init__(self, outbox: Outbox, where: Where) -> None:
        super().__init__(daemon=True)
        self.outbox = outbox
        self.problem = ""
        self._where = where

    def run(self) -> None:
        """Until the end is called; then until nothing waits."""
        try:
            while not self._where.is_over or self.outbox.waiting:
                self._serve(self._where.port())
        except Exception as error:
            self.problem = repr(error)
            raise

    def _serve(self, port: int) -> None:
        """With one server, until it is silent."""
        line = http.client.HTTPConnection(LOOPBACK, port, timeout=PATIENCE)
        try:
            while True:
                if not self._where.is_over and len(self.outbox.waiting) < 5:
                    self.outbox.say()
                if not self.outbox.waiting:
                    return
                if not self._hand_in(line):
                    return
                self._where.answered(port)
        except (OSError, http.client.HTTPException):
            self._where.silent(port)
        finally:
            line.close()

    def _hand_in(self, line: http.client.HTTPConnection) -> bool:
        """One delivery; false where the server asks to come again."""
        told = {"device": self.outbox.device, "entries": self.outbox.waiting}
        line.request("POST", "/api/records", json.dumps(told), {"Content-Type": "application/json"})
        answer = line.getresponse()
        text = answer.read()
        if answer.status == http.client.SERVICE_UNAVAILABLE:
            time.sleep(0.02)
            return False
        assert answer.status == http.client.OK, f"{answer.status}: {text[:300]!r}"
        self.outbox.told(json.loads(text)["answers"])
        return True


class Where:
    """The port of the server that runs now."""

    def __init__(self) -> None:
        self.is_over = False
        self._changed = threading.Condition()
        self._port = 0
        self._has_answered = False

    def port(self) -> int:
        """The port, as soon as there is a server."""
        with self._changed:
            assert self._changed.wait_for(lambda: self._port, PATIENCE), "no server came"
            return self._port

    def open(self, port: int) -> None:
        """There is a server."""
        with self._changed:
            self._port, self._has_answered = port, False
            self._changed.notify_all()

    def silent(self, port: int) -> None:
        """The server of this port answers no longer."""
        with self._changed:
            if self._port == port:
                self._port = 0

    def answered(self, port: int) -> None:
        """The server of this port has answered."""
        with self._changed:
            if self._port == port and not self._has_answered:
                self._has_answered = True
                self._changed.notify_all()

    def first_answer(self) -> bool:
        """Wait until the server has answered for the first time."""
        with self._changed:
            return self._changed.wait_for(lambda: self._has_answered, PATIENCE)


@dataclass
class Figures:
    """What a run of kills came to."""

    kills: int = 0
    kills_while_starting: int = 0
    acknowledged: int = 0
    seconds: float = 0.0
    starts: list[float] = field(default_factory=list)
    problems: list[str] = field(default_factory=list)

    def words(self) -> str:
        """In one line."""
        times = sorted(self.starts) or [0.0]
        return (
            f"{self.kills} kills ({self.kills_while_starting} while starting) in "
            f"{self.seconds:.1f} s, {self.acknowledged} readings acknowledged, "
            f"{len(self.problems)} problems; from fork to first answer "
            f"{1e3 * times[len(times) // 2]:.0f} ms in the middle, {1e3 * times[-1]:.0f} ms at most"
        )


def kill_many(
    folder: Path, nurse: Nursery, kills: int, *, seed: int, devices: int = 3, checked_each: int = 10
) -> Figures:
    """Kill that many servers on a folder while devices hand in, and look each tenth time."""
    from sleevewright.services.bench import opened

    chance = random.Random(seed)  # noqa: S311 - instants, no secret
    figures, where = Figures(), Where()
    outboxes = [Outbox(f"tablet-{place}", 1 + place) for place in range(devices)]
    threads = [Device(outbox, where) for outbox in outboxes]
    began = time.monotonic()
    for thread in threads:
        thread.start()
    for turn in range(1, kills + 1):
        _one_kill(folder, nurse, where, chance, figures)
        if turn % checked_each == 0:
            figures.problems += problems_in(folder, kept_of(outboxes))
        if turn % SEALED_EACH == 0:
            with opened(folder) as bench:
                bench.store.seal("backup")
    server = nurse.start(folder)
    where.is_over = True
    where.open(server.port)
    for thread in threads:
        thread.join(PATIENCE)
    nurse.kill(server)
    figures.seconds = time.monotonic() - began
    figures.acknowledged = sum(len(one.kept) for one in outboxes)
    figures.problems += [one.problem for one in threads if one.problem]
    figures.problems += [f"held back: {one.held[0]}" for one in outboxes if one.held]
    figures.problems += [f"{one.device} waits still" for one in outboxes if one.waiting]
    figures.problems += problems_in(folder, kept_of(outboxes))
    return figures


def _one_kill(
    folder: Path, nurse: Nursery, where: Where, chance: random.Random, figures: Figures
) -> None:
    """Start a server and kill it at an instant of chance: one in five while it starts."""
    began = time.monotonic()
    server = nurse.start(folder)
    where.open(server.port)
    if chance.random() < 0.2:
        time.sleep(chance.uniform(0.0, 0.2))
        figures.kills_while_starting += 1
    elif where.first_answer():
        figures.starts.append(time.monotonic() - began)
        time.sleep(chance.uniform(0.0, 0.06))
    else:
        figures.problems.append("a server did not answer")
    where.silent(server.port)
    nurse.kill(server)
    figures.kills += 1


def _nurse(log: Path) -> None:
    """The nursery's own life: import everything, then fork on demand."""
    _warm_up(log.parent / "warm")
    assert threading.active_count() == 1, threading.enumerate()
    alive: set[int] = set()
    for line in sys.stdin:
        order = json.loads(line)
        answer: dict[str, int] = {}
        if "bury" in order:
            os.waitpid(order["bury"], 0)
            alive.discard(order["bury"])
        elif "start" in order:
            listening = socket.create_server((LOOPBACK, 0))
            answer = {"port": listening.getsockname()[1], "pid": os.fork()}
            if answer["pid"] == 0:
                _serve(Path(order["start"]), listening, log)
            alive.add(answer["pid"])
            listening.close()
        sys.stdout.write(json.dumps(answer) + "\n")
        sys.stdout.flush()
    for pid in alive:  # those that a test which broke off has left
        os.kill(pid, signal.SIGKILL)


def _warm_up(folder: Path) -> None:
    """Go once through everything that a server does, so that each has it imported."""
    from fastapi.testclient import TestClient

    from sleevewright.services.bench import opened
    from sleevewright.services.jobs import open_job
    from sleevewright.web.app import create_app

    folder.mkdir(parents=True)
    outbox = Outbox("warm", 1)
    outbox.say()
    with opened(folder) as bench:
        open_job(bench, JOB, {})
        with TestClient(create_app(bench), base_url="http://localhost") as client:
            told = {"device": outbox.device, "entries": outbox.waiting}
            outbox.told(client.post("/api/records", json=told).json()["answers"])
    assert outbox.kept, outbox.held
    deadline = time.monotonic() + PATIENCE
    while threading.active_count() > 1 and time.monotonic() < deadline:
        time.sleep(0.01)


def _serve(folder: Path, listening: socket.socket, log: Path) -> None:
    """Be a server until the kill comes; what it has to say goes to a file."""
    import uvicorn

    from sleevewright.services.bench import opened
    from sleevewright.web.app import create_app

    with suppress(OSError):
        os.close(0)
    said = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    os.dup2(said, 1)
    os.dup2(said, 2)
    try:
        with opened(folder) as bench:
            settings = uvicorn.Config(create_app(bench), log_level="warning")
            uvicorn.Server(settings).run(sockets=[listening])
    finally:
        os._exit(1)


if __name__ == "__main__":
    _nurse(Path(sys.argv[1]))
