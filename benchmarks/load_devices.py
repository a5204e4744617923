"""Devices and pages as the server meets them, for the benchmark of its load.

A device says readings and hands them in on one connection that stays open; a page listens to
the events of its job.
"""

from __future__ import annotations

import asyncio
import itertools
import json
import time
import uuid
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

JOBS = 10
SHAPE = (4, 4)
"""Stations and directions of a set; then the device begins the next."""


class Line:
    """One connection that stays open, as a browser keeps it."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._reader: asyncio.StreamReader | None = None
        self._writer: asyncio.StreamWriter | None = None

    async def post(self, told: dict[str, object]) -> dict[str, object]:
        """Hand a delivery in; what was answered."""
        if self._reader is None or self._writer is None:
            self._reader, self._writer = await asyncio.open_connection("127.0.0.1", self._port)
        body = json.dumps(told).encode()
        head = (
            "POST /api/records HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
            f"Content-Length: {len(body)}\r\n\r\n"
        )
        self._writer.write(head.encode() + body)
        status = await self._reader.readline()
        length = 0
        while (line := await self._reader.readline()) not in (b"\r\n", b""):
            name, _, value = line.partition(b":")
            if name.lower() == b"content-length":
                length = int(value)
        answer = await self._reader.readexactly(length)
        if b" 200 " not in status:
            raise RuntimeError(f"{status!r} {answer[:300]!r}")
        return dict(json.loads(answer))

    def close(self) -> None:
        """Hang up."""
        if self._writer is not None:
            self._writer.close()


@dataclass
class Device:
    """A device: what it says next, and when each of its readings was handed in."""

    name: str
    job: str
    cylinder: int
    counts: Iterator[int] = field(default_factory=lambda: itertools.count(1))
    sets: Iterator[int] = field(default_factory=itertools.count)
    places: list[tuple[str, int, int]] = field(default_factory=list)

    def next(self) -> list[dict[str, object]]:
        """The next reading, after the beginning of its set where it is the first of one."""
        entries = []
        if not self.places:
            name = f"{self.name}x{next(self.sets)}"
            self.places = [
                (name, row, column) for row in range(SHAPE[0]) for column in range(SHAPE[1])
            ]
            entries.append(self._entry("set", _set(name, self.cylinder)))
        name, row, column = self.places.pop(0)
        body = {
            "cylinder": self.cylinder,
            "cell": f"set/{name}/{row}/{column}",
            "text": f"2.63{60 + (row + column) % 3} in",
            "source": "gauge",
            "replaces": [],
        }
        return [*entries, self._entry("value", body)]

    def _entry(self, kind: str, body: dict[str, object]) -> dict[str, object]:
        return {
            "id": uuid.uuid4().hex, "job": self.job, "n": next(self.counts), "kind": kind,
            "version": 1, "body": body,
        }  # fmt: skip

    def delivery(self, entries: Sequence[dict[str, object]]) -> dict[str, object]:
        """As it goes over the wire."""
        return {"device": self.name, "store": "", "entries": list(entries)}


def _set(name: str, cylinder: int) -> dict[str, object]:
    return {
        "cylinder": cylinder, "set": name, "stage": "parent", "feature": "parent-bore",
        "instrument": "", "instruments": [], "nominal": "2.6360 in", "unit": "in",
        "stations": ["0.3 in", "1 in", "2 in", "3 in"], "blank": [],
        "directions": ["0 deg", "45 deg", "90 deg", "135 deg"],
        "part_temperature": "70 F", "gauge_temperature": "70 F", "entry": "size",
    }  # fmt: skip


class Hall:
    """All pages that are open, and when each reading came to them."""

    def __init__(self, port: int) -> None:
        self.sent: dict[str, float] = {}
        self.heard: list[float] = []
        self.is_open = asyncio.Event()
        self._wanted = 0
        self._port = port
        self._tasks: list[asyncio.Task[None]] = []

    async def open_pages(self, count: int) -> None:
        """Open that many pages of each job."""
        self._wanted = JOBS * count
        for number in range(1, JOBS + 1):
            self._tasks += [asyncio.create_task(self._page(f"J-{number}")) for _ in range(count)]
        await self.is_open.wait()

    async def _page(self, job: str) -> None:
        reader, writer = await asyncio.open_connection("127.0.0.1", self._port)
        writer.write(f"GET /api/jobs/{job}/stream HTTP/1.1\r\nHost: localhost\r\n\r\n".encode())
        if b" 200 " not in await reader.readline():
            raise RuntimeError("a stream was refused")
        self._wanted -= 1
        if not self._wanted:
            self.is_open.set()
        try:
            while line := await reader.readline():
                place = line.find(b'"id":"')
                if line.startswith(b"data:") and place > 0:
                    sent = self.sent.get(line[place + 6 : place + 38].decode())
                    if sent is not None:
                        self.heard.append(time.perf_counter() - sent)
        finally:
            writer.close()

    async def close(self) -> None:
        """Close all pages."""
        for task in self._tasks:
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)
