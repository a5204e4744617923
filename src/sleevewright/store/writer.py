"""The one thread that writes: it takes all that waits and commits it at once.

Order of a commit: rows and projections within the transaction, the same records into the
journal and onto the disk, then the commit, then the answers.  What is acknowledged is
therefore in both.  A full disk undoes all of it and passes; any other fault of the disk
stops the writing for good, because what the disk holds is not known any more.
"""

from __future__ import annotations

import contextlib
import queue
import threading
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, field
from functools import partial
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import DBAPIError

from sleevewright.jobs.folding import Folded
from sleevewright.store.chain import Link
from sleevewright.store.database import is_busy, is_fault, is_full
from sleevewright.store.drafts import Ready
from sleevewright.store.errors import (
    StoreBusy,
    StoreError,
    StoreFull,
    StoreStopped,
    StoreUnavailable,
    UnknownJob,
)
from sleevewright.store.journal import Entry, Journal, Mark
from sleevewright.store.keeping import Kept, Lot, Memory
from sleevewright.store.queries import insert_links, insert_seals, write_meta

T = TypeVar("T")
Folding = Mapping[str, Folded]
MARK = "journal"
"""Key under which the database keeps up to where of the journal it holds everything."""
_MOST_RECORDS = 5000
"""Records of one commit; what is more waits for the next."""


@dataclass
class _Group:
    """Drafts that are kept together or not at all."""

    ready: tuple[Ready, ...]
    future: Future[tuple[Kept, ...]] = field(default_factory=Future)


@dataclass
class _Work:
    """Any other write, in a transaction of its own."""

    work: Callable[[Connection], Any]
    future: Future[Any] = field(default_factory=Future)


@dataclass(frozen=True)
class Outcome:
    """What a piece of work wants written into the chains, and what it answers."""

    entries: tuple[Entry, ...]
    answer: Any
    lot: Lot | None = None


@dataclass(frozen=True)
class Duties:
    """What the writer calls on: the clock, the projections, those who wait, the log."""

    now: Callable[[], str]
    project: Callable[[Connection, Sequence[Link]], Folding]
    committed: Callable[[Sequence[Link], Folding], None]
    rest: Callable[[], None]


class Writer:
    """Owns the writing connection and the journal; started by making it."""

    def __init__(
        self,
        engine: Engine,
        journal: Journal,
        duties: Duties,
    ) -> None:
        self.stopped = ""
        self._engine = engine
        self._journal = journal
        self._duties = duties
        self._memory = Memory()
        self._queue: queue.SimpleQueue[_Group | _Work | None] = queue.SimpleQueue()
        self._is_closed = False
        self._gate = threading.Lock()
        self._thread = threading.Thread(target=self._run, name="store-writer", daemon=True)
        self._thread.start()

    def submit(self, ready: tuple[Ready, ...]) -> Future[tuple[Kept, ...]]:
        """Queue a group; the answer comes when it is on the disk."""
        group = _Group(ready)
        self._put(group)
        return group.future

    def run(self, work: Callable[[Connection], T]) -> Future[T]:
        """Queue any other write."""
        asked = _Work(work)
        self._put(asked)
        return asked.future

    def add(self, work: Callable[[Connection], Outcome]) -> Future[Any]:
        """Queue work that says what is added to the chains; its future has the answer of it."""
        asked = _Work(work)
        self._put(asked)
        return asked.future

    def close(self) -> None:
        """Write what waits, then end."""
        with self._gate:
            if not self._is_closed:
                self._is_closed = True
                self._queue.put(None)
        if threading.current_thread() is not self._thread:
            self._thread.join()

    def _put(self, item: _Group | _Work) -> None:
        with self._gate:
            if self._is_closed:
                raise StoreStopped("the store is closed")
            self._queue.put(item)

    def _run(self) -> None:
        is_open = True
        while is_open:
            items, is_open = self._waiting()
            groups: list[_Group] = []
            for item in items:
                if isinstance(item, _Group):
                    groups.append(item)
                    continue
                self._keep(groups)
                groups = []
                self._do(item)
            self._keep(groups)
            self._rested()

    def _rested(self) -> None:
        """What is done when everybody has an answer."""
        if not self.stopped:
            with contextlib.suppress(StoreUnavailable):
                self._guarded(self._duties.rest)

    def _waiting(self) -> tuple[list[_Group | _Work], bool]:
        """All that waits now, at least one thing; whether more can come."""
        items: list[_Group | _Work] = []
        count = 0
        item = self._queue.get()
        while item is not None:
            items.append(item)
            count += len(item.ready) if isinstance(item, _Group) else 1
            if count >= _MOST_RECORDS:
                return items, True
            try:
                item = self._queue.get_nowait()
            except queue.Empty:
                return items, True
        return items, False

    def _keep(self, groups: list[_Group]) -> None:
        """Commit groups together; where that is refused as a whole, each by itself."""
        asked = [one for one in groups if one.future.set_running_or_notify_cancel()]
        if not asked:
            return
        try:
            answers = self._commit(partial(self._taken, groups=asked))
        except StoreUnavailable as error:
            for one in asked:
                one.future.set_exception(_again(error))
        except Exception as error:  # noqa: BLE001 - whatever it is, those who wait are told
            self._keep_singly(asked, error)
        else:
            for one, answer in zip(asked, answers, strict=True):
                _settle(one.future, answer)

    def _keep_singly(self, asked: list[_Group], error: Exception) -> None:
        if len(asked) == 1:
            asked[0].future.set_exception(error)
            return
        for one in asked:
            try:
                answers = self._commit(partial(self._taken, groups=[one]))
            except Exception as own:  # noqa: BLE001 - likewise
                one.future.set_exception(own)
            else:
                _settle(one.future, answers[0])

    def _taken(self, connection: Connection, groups: Sequence[_Group]) -> Outcome:
        lot = Lot(connection, [one.ready for one in groups], self._duties.now(), self._memory)
        answers: list[tuple[Kept, ...] | Exception] = []
        for one in groups:
            try:
                answers.append(lot.take(one.ready))
            except (StoreError, UnknownJob) as refused:
                answers.append(refused)
        return Outcome(tuple(lot.links), answers, lot)

    def _do(self, item: _Work) -> None:
        if not item.future.set_running_or_notify_cancel():
            return
        try:
            answer = self._commit(item.work)
        except BaseException as error:  # noqa: BLE001 - likewise
            item.future.set_exception(error)
        else:
            item.future.set_result(answer)

    def _commit(self, work: Callable[[Connection], Any]) -> Any:
        """Do work in a transaction with everything that belongs to it.

        Raises
        ------
        StoreUnavailable
            If there is no room, or the disk failed now or before.
        """
        if self.stopped:
            raise StoreStopped(self.stopped)
        try:
            return self._guarded(lambda: self._committing(work))
        except StoreStopped:
            raise
        except BaseException as error:
            if self._journal.is_ahead and not isinstance(error, StoreFull):
                raise self._stop(f"a commit ended in an unknown way ({error!r})") from error
            self._memory.forget()
            self._on_disk(self._journal.take_back)
            raise

    def _committing(self, work: Callable[[Connection], Any]) -> Any:
        with self._engine.begin() as connection:
            answer = work(connection)
            if not isinstance(answer, Outcome):
                answer = Outcome((), answer)
            links = [one for one in answer.entries if isinstance(one, Link)]
            news: Folding = {}
            mark = None
            if answer.entries:
                news = self._write(connection, answer.entries, links)
                mark = self._added(answer.entries)
                write_meta(connection, MARK, str(mark))
        if mark is not None:
            self._journal.keep(mark)
        self._remember(answer, links)
        self._duties.committed(links, news)
        return answer.answer

    def _write(
        self, connection: Connection, entries: Sequence[Entry], links: Sequence[Link]
    ) -> Folding:
        seals = [one for one in entries if not isinstance(one, Link)]
        if links:
            insert_links(connection, links)
        if seals:
            insert_seals(connection, seals)
        return self._duties.project(connection, links)

    def _remember(self, outcome: Outcome, links: Sequence[Link]) -> None:
        if outcome.lot is not None:
            self._memory.learn(outcome.lot)
        elif links:
            self._memory.forget()

    def _added(self, entries: tuple[Entry, ...]) -> Mark:
        return self._on_disk(lambda: self._journal.add(entries))

    def _on_disk(self, work: Callable[[], T]) -> T:
        """Do something with the journal; a fault of its disk stops the writing."""
        try:
            return work()
        except OSError as error:
            raise self._stop(f"the journal could not be written ({error})") from error

    def _guarded(self, work: Callable[[], T]) -> T:
        """Do something with the database: full and busy pass, any other fault stops the writing."""
        try:
            return work()
        except DBAPIError as error:
            said = str(error.orig).strip()
            if is_full(error):
                raise StoreFull(said) from error
            if is_busy(error):
                raise StoreBusy(said) from error
            if is_fault(error):
                raise self._stop(f"the database could not be written ({said})") from error
            raise

    def _stop(self, reason: str) -> StoreStopped:
        self.stopped = reason
        return StoreStopped(reason)


def _again(error: StoreUnavailable) -> StoreUnavailable:
    """The same error for another who waits."""
    if isinstance(error, StoreStopped):
        return StoreStopped(error.reason)
    return type(error)(str(getattr(error, "detail", "")))


def _settle(future: Future[tuple[Kept, ...]], answer: tuple[Kept, ...] | Exception) -> None:
    if isinstance(answer, Exception):
        future.set_exception(answer)
    else:
        future.set_result(answer)
