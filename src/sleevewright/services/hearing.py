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
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile

from sleevewright.store.chain import Link
from sleevewright.store.store import Store

KEPT_OF_A_JOB = 200
JOBS_KEPT = 500


@dataclass(frozen=True)
class Heard:
    """A record as it goes over the wire."""

    number: int
    text: str


def heard_of(link: Link) -> Heard:
    """A record as JSON in one line; its body is the text that is kept."""
    head = json.dumps(
        {
            "number": link.number,
            "id": link.id,
            "device": link.device,
            "n": link.device_number,
            "received": link.received,
            "kind": link.kind,
            "version": link.version,
        },
        ensure_ascii=False,
        separators=(",", ":"),
    )
    return Heard(link.number, f'{head[:-1]},"body":{link.body}}}')


class _Recent:
    """The newest records of a job, made ready once for all who wait."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.kept: deque[Heard] = deque(maxlen=KEPT_OF_A_JOB)

    def add(self, links: Sequence[Link]) -> None:
        """Put what a commit kept behind what is there; what is known already is passed over."""
        last = self.kept[-1].number if self.kept else links[0].number - 1
        if links[0].number > last + 1:
            self.kept.clear()  # what lies between is asked for when somebody wants it
        new = (link for link in links[-KEPT_OF_A_JOB:] if link.number > last)
        self.kept.extend(map(heard_of, new))


_Waiter = tuple[asyncio.AbstractEventLoop, "asyncio.Future[None]"]


class Ear:
    """Hears every commit of a store and wakes who waits for it."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._lock = threading.Lock()
        self._recent: OrderedDict[str, _Recent] = OrderedDict()
        self._waiting: dict[str, set[_Waiter]] = {}
        self._asking: dict[tuple[int, str], asyncio.Future[tuple[Heard, ...]]] = {}
        self._end = store.listen(self._hear)

    def _hear(self, fresh: Mapping[str, Sequence[Link]]) -> None:
        """Called by the writer after a commit."""
        woken: list[_Waiter] = []
        for job, links in fresh.items():
            with self._lock:
                recent = self._recent.get(job)
                woken += self._waiting.get(job, ())
            if recent is not None and recent.lock.acquire(blocking=False):
                try:
                    recent.add(links)
                finally:
                    recent.lock.release()
        _wake(woken)

    def after(self, job: str, number: int) -> tuple[Heard, ...]:
        """What was kept of a job after a number."""
        last = self._store.last(job)
        if last <= number:
            return ()
        recent = self._recent_of(job)
        with recent.lock:
            newest = recent.kept[-1].number if recent.kept else max(number, last - KEPT_OF_A_JOB)
            if newest < last:
                recent.kept.extend(map(heard_of, self._store.links(job, after=newest)))
            kept = tuple(recent.kept)
        if kept and kept[0].number <= number + 1:
            return tuple(one for one in kept if one.number > number)
        return tuple(map(heard_of, self._store.links(job, after=number)))

    def _recent_of(self, job: str) -> _Recent:
        with self._lock:
            found = self._recent.setdefault(job, _Recent())
            self._recent.move_to_end(job)
            while len(self._recent) > JOBS_KEPT:
                self._recent.popitem(last=False)
            return found

    async def wait(self, job: str, number: int, seconds: float) -> tuple[Heard, ...]:
        """What comes after a number, as soon as it comes; nothing when the time is over."""
        loop = asyncio.get_running_loop()
        news = loop.create_future()
        mine = (loop, news)
        with self._lock:
            self._waiting.setdefault(job, set()).add(mine)
        timer = loop.call_later(seconds, _set, (news,))
        try:
            if self._store.last(job) <= number:
                await news
            return await self._fetched(job, number) if self._store.last(job) > number else ()
        finally:
            timer.cancel()
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
        _wake(woken)


def _wake(waiting: Iterable[_Waiter]) -> None:
    """Let those who wait go on, each in its own loop, which is called once for all of them."""
    by_loop: dict[asyncio.AbstractEventLoop, list[asyncio.Future[None]]] = {}
    for loop, news in waiting:
        by_loop.setdefault(loop, []).append(news)
    for loop, some in by_loop.items():
        if not loop.is_closed():
            loop.call_soon_threadsafe(_set, some)


def _set(waiting: Iterable[asyncio.Future[None]]) -> None:
    for news in waiting:
        if not news.done():
            news.set_result(None)
