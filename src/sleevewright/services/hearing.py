"""Use case: be told of what was kept, within moments, without asking the disk again.

The writer calls once after each commit; whoever waits for a job is woken in its own event
loop.  The newest records of each job are held ready as the text that goes over the wire,
so that a hundred open pages cost one reading of the disk and not a hundred.
"""

from __future__ import annotations

import asyncio
import json
import threading
from collections import OrderedDict, deque
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import takewhile

from sleevewright.jobs.records import Record
from sleevewright.store.store import Store

KEPT_OF_A_JOB = 200
JOBS_KEPT = 500


@dataclass(frozen=True)
class Heard:
    """A record as it goes over the wire."""

    number: int
    text: str


def wire_text(record: Record) -> str:
    """A record as JSON in one line."""
    return json.dumps(
        {
            "number": record.number,
            "id": record.id,
            "device": record.device,
            "n": record.device_number,
            "received": record.received,
            "kind": record.kind,
            "version": record.version,
            "body": dict(record.body),
        },
        ensure_ascii=False,
        separators=(",", ":"),
    )


class _Recent:
    """The newest records of a job, read from the store once for all who wait."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.kept: deque[Heard] = deque(maxlen=KEPT_OF_A_JOB)


class Ear:
    """Hears every commit of a store and wakes who waits for it."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._lock = threading.Lock()
        self._recent: OrderedDict[str, _Recent] = OrderedDict()
        self._waiting: dict[str, set[tuple[asyncio.AbstractEventLoop, asyncio.Event]]] = {}
        self._asking: dict[tuple[int, str], asyncio.Future[tuple[Heard, ...]]] = {}
        self._end = store.listen(self._hear)

    def _hear(self, numbers: Mapping[str, int]) -> None:
        """Called by the writer after a commit."""
        with self._lock:
            woken = [one for job in numbers for one in self._waiting.get(job, ())]
        for loop, event in woken:
            if not loop.is_closed():
                loop.call_soon_threadsafe(event.set)

    def after(self, job: str, number: int) -> tuple[Heard, ...]:
        """What was kept of a job after a number."""
        last = self._store.last(job)
        if last <= number:
            return ()
        recent = self._recent_of(job)
        with recent.lock:
            newest = recent.kept[-1].number if recent.kept else max(number, last - KEPT_OF_A_JOB)
            if newest < last:
                records = self._store.records(job, after=newest)
                recent.kept.extend(Heard(one.number, wire_text(one)) for one in records)
            kept = tuple(recent.kept)
        if kept and kept[0].number <= number + 1:
            return tuple(one for one in kept if one.number > number)
        records = self._store.records(job, after=number)
        return tuple(Heard(one.number, wire_text(one)) for one in records)

    def _recent_of(self, job: str) -> _Recent:
        with self._lock:
            found = self._recent.setdefault(job, _Recent())
            self._recent.move_to_end(job)
            while len(self._recent) > JOBS_KEPT:
                self._recent.popitem(last=False)
            return found

    async def wait(self, job: str, number: int, seconds: float) -> tuple[Heard, ...]:
        """What comes after a number, as soon as it comes; nothing when the time is over."""
        event = asyncio.Event()
        mine = (asyncio.get_running_loop(), event)
        with self._lock:
            self._waiting.setdefault(job, set()).add(mine)
        try:
            if self._store.last(job) <= number:
                try:
                    await asyncio.wait_for(event.wait(), seconds)
                except TimeoutError:
                    return ()
            return await self._fetched(job, number)
        finally:
            with self._lock:
                waiting = self._waiting[job]
                waiting.discard(mine)
                if not waiting:
                    del self._waiting[job]

    async def _fetched(self, job: str, number: int) -> tuple[Heard, ...]:
        """What comes after a number; the pages of a job that wake together ask once."""
        ready = self._ready(job, number)
        if ready:
            return ready
        key = (id(asyncio.get_running_loop()), job)
        asking = self._asking.get(key)
        if asking is None:
            asking = asyncio.ensure_future(asyncio.to_thread(self.after, job, number))
            self._asking[key] = asking
            asking.add_done_callback(lambda _done: self._asking.pop(key, None))
        await asyncio.shield(asking)
        return self._ready(job, number) or await asyncio.to_thread(self.after, job, number)

    def _ready(self, job: str, number: int) -> tuple[Heard, ...]:
        """What is held ready after a number, without asking the disk or waiting for who does."""
        recent = self._recent.get(job)
        if recent is None or not recent.lock.acquire(blocking=False):
            return ()
        try:
            if not recent.kept or recent.kept[0].number > number + 1:
                return ()
            new = takewhile(lambda one: one.number > number, reversed(recent.kept))
            return tuple(new)[::-1]
        finally:
            recent.lock.release()

    def close(self) -> None:
        """Hear no more, and let everybody go who waits."""
        self._end()
        with self._lock:
            woken = [one for some in self._waiting.values() for one in some]
        for loop, event in woken:
            if not loop.is_closed():
                loop.call_soon_threadsafe(event.set)
