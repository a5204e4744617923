"""The store of a data folder, as everybody else uses it: one that writes, any that read.

``Store`` is what the one process has that writes in the folder; a command beside it has a
:class:`sleevewright.store.reader.Reader`.  What is acknowledged is committed and in the
journal; a full disk passes, any other fault of the disk stops the writing until a restart.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Future
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import TypeVar

from sqlalchemy import Connection, Engine

from sleevewright.errors import NotFound
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import Draft, Record
from sleevewright.store import opening, queries
from sleevewright.store.chain import Link
from sleevewright.store.checking import Verdict, verify_everything
from sleevewright.store.database import checkpoint, reading_engine, writing_engine
from sleevewright.store.drafts import ready
from sleevewright.store.errors import UnknownJob
from sleevewright.store.folds import Folds
from sleevewright.store.journal import Disk, Journal
from sleevewright.store.keeping import Kept, by_job
from sleevewright.store.lock import FolderLock
from sleevewright.store.projections import Projection, apply_all, rebuild
from sleevewright.store.reader import Reader, identity_of, open_reader
from sleevewright.store.replaying import looked_at, new_links
from sleevewright.store.sealing import sealing
from sleevewright.store.waiting import Hears, News
from sleevewright.store.writer import Duties, Outcome, Writer

__all__ = ["Kept", "Reader", "Store", "Verdict", "open_reader", "open_store", "utc_now"]

T = TypeVar("T")


def utc_now() -> datetime:
    """The moment that it is."""
    return datetime.now(UTC)


@dataclass(frozen=True)
class Parts:
    """What a store holds open."""

    lock: FolderLock
    writing: Engine
    reading: Engine
    journal: Journal


class Store(Reader):
    """One that can be written; made by :func:`open_store`."""

    def __init__(
        self,
        folder: Path,
        parts: Parts,
        *,
        projections: Sequence[Projection],
        clock: Callable[[], datetime],
    ) -> None:
        super().__init__(folder, parts.reading)
        self.cautions: tuple[str, ...] = tuple(filter(None, (parts.journal.caution,)))
        self.verdict: Verdict | None = None
        self._parts = parts
        self._projections = tuple(projections)
        self._clock = clock
        self._is_closing = False
        self._checker: threading.Thread | None = None
        self._identity = self.read(identity_of)
        self._news = News(super().last)
        self._folds = Folds(lambda job, after: super(Store, self).records(job, after=after))
        rest = partial(checkpoint, parts.writing, folder)
        duties = Duties(self._now, self._project, self._commits, rest)
        self._writer = Writer(parts.writing, parts.journal, duties)

    @property
    def identity(self) -> str:
        """Which store this is; another one after a backup was restored."""
        return self._identity

    @property
    def stopped(self) -> str:
        """Why nothing is written any more; empty while it goes on."""
        return self._writer.stopped

    @property
    def pulse(self) -> int:
        """How often something was committed since the start."""
        return self._news.pulse

    def append(self, drafts: Sequence[Draft]) -> tuple[Kept, ...]:
        """Keep drafts, all or none; they are on the disk when this returns.

        What came before is answered with its first number and is not new.

        Parameters
        ----------
        drafts : Sequence[Draft]
            In their order; a device number 0 is replaced by the next of that device.

        Returns
        -------
        tuple[Kept, ...]
            One for each draft.

        Raises
        ------
        InputError
            If one can never be kept.
        UnknownJob
            If a job begins with anything but its opening.
        IdUsed
            If an id came before with another content.
        DeviceNumberUsed
            If a device's number came before under another id.
        StoreUnavailable
            If nothing can be kept now: the disk is full, or failed.
        """
        return self.submit(drafts).result()

    def submit(self, drafts: Sequence[Draft]) -> Future[tuple[Kept, ...]]:
        """Keep drafts as ``append`` does, without waiting for it."""
        return self._writer.submit(ready(drafts))

    def write(self, work: Callable[[Connection], T]) -> T:
        """Do any other write in the writer's thread, in a transaction of its own.

        ``work`` must not ask this store to write: it would wait for itself.
        """
        return self._writer.run(work).result()

    def adopt(self, links: Sequence[Link]) -> int:
        """Keep records of another store as they are, with their hashes; how many were new.

        Raises
        ------
        InputError
            If one could not have been kept here.
        ChainBroken
            If they do not verify, or contradict what is kept.
        """
        given = looked_at(links)

        def work(connection: Connection) -> Outcome:
            fresh = new_links(connection, given)
            return Outcome(tuple(fresh), len(fresh))

        return int(self._writer.add(work).result())

    def seal(self, reason: str) -> str:
        """Seal what is new of every job; the head of the seals, which goes on paper."""
        done = self._writer.add(lambda connection: sealing(connection, self._now(), reason))
        return str(done.result())

    def renew(self) -> str:
        """Take another identity, as a restored store must; the new one."""
        self._identity = self.write(opening.renew)
        return self._identity

    def last(self, job: str) -> int:
        """Number of a job's last committed record; 0 where there is none."""
        return self._news.last(job)

    def folded(self, job: str) -> Folded:
        """A job as its committed records tell it; to be read only.

        Raises
        ------
        UnknownJob
            If there is no such job.
        """
        last = self.last(job)
        if not last:
            raise UnknownJob(job)
        return self._folds.get(job, last)

    def folded_by_heart(self, job: str) -> Folded | None:
        """The same without asking the disk; nothing where it would have to be asked."""
        return self._folds.peek(job)

    def wait(self, job: str, after: int, timeout: float) -> bool:
        """Block until a job has a record beyond a number.

        For no job (empty text) ``after`` is a ``pulse``: until anything is committed.
        """
        return self._news.wait(job, after, timeout)

    def listen(self, hears: Hears) -> Callable[[], None]:
        """Be called, in the writer's thread, after each commit; what is returned ends it."""
        return self._news.listen(hears)

    def rebuild(self, name: str | None = None) -> None:
        """Drop a projection, or all, and make it from the records.

        Raises
        ------
        NotFound
            If there is no projection of that name.
        """
        chosen = [one for one in self._projections if name in (None, one.name)]
        if name is not None and not chosen:
            raise NotFound("projection", name, tuple(one.name for one in self._projections))
        self.write(lambda connection: rebuild(connection, chosen))

    def verify_all(self) -> Verdict:
        """Look at the whole file, every record and every seal; the verdict is kept too."""
        self.verdict = verify_everything(self.read, lambda: self._is_closing)
        return self.verdict

    def verify_soon(self) -> None:
        """Do the same in the background."""
        self._checker = threading.Thread(target=self.verify_all, name="store-check", daemon=True)
        self._checker.start()

    def announce(self, address: str) -> None:
        """Tell other processes where this one answers."""
        self._parts.lock.announce(address)

    def close(self) -> None:
        """Write what waits and let the folder go."""
        self._is_closing = True
        self._news.close()
        self._writer.close()
        if self._checker is not None:
            self._checker.join()
        self._parts.journal.close()
        super().close()
        self._parts.writing.dispose()
        self._parts.lock.release()

    def _now(self) -> str:
        moment = self._clock().astimezone(UTC).isoformat(timespec="milliseconds")
        return moment.replace("+00:00", "Z")

    def _project(self, connection: Connection, links: Sequence[Link]) -> Mapping[str, Folded]:
        """Tell the projections what is new; the jobs as they will stand after the commit."""
        fresh: dict[str, tuple[Folded, Sequence[Record]]] = {}
        for job, some in by_job(links).items():
            if not self._projections and self._folds.peek(job) is None:
                continue
            folded = self._before(connection, job, some[0].number)
            records = [one.record() for one in some]
            for record in records:
                folded.add(record)
            fresh[job] = (folded, records)
        failed = apply_all(connection, self._projections, fresh)
        self.cautions = tuple(dict.fromkeys((*self.cautions, *failed)))
        return {job: folded for job, (folded, _records) in fresh.items()}

    def _before(self, connection: Connection, job: str, number: int) -> Folded:
        """A job as it stood before a record; read by the connection that writes."""
        folded = self._folds.peek(job)
        folded = Folded() if folded is None else folded.copy()
        lacking = number - 1 - folded.last
        if lacking:
            for link in queries.links(connection, job, after=folded.last, limit=lacking):
                folded.add(link.record())
        return folded

    def _commits(self, links: Sequence[Link], fresh: Mapping[str, Folded]) -> None:
        self._folds.publish(fresh)
        self._news.tell(by_job(links))


def open_store(  # noqa: PLR0913 - one call opens all that a folder has
    folder: Path,
    *,
    url: str | None = None,
    projections: Sequence[Projection] = (),
    clock: Callable[[], datetime] = utc_now,
    disk: Disk | None = None,
    from_journal: bool = False,
) -> Store:
    """Open the store of a data folder for writing; it is made where there is none.

    Takes the folder's lock, brings the tables up to date, looks at the file and at what
    came since the last seal, replays the journal and rebuilds what is out of date.

    Parameters
    ----------
    folder : Path
        The data folder.
    url : str | None
        A PostgreSQL database in the place of the folder's own file.
    projections : Sequence[Projection]
        What is reckoned from the records in the same transaction.
    clock : Callable[[], datetime]
        When something is received; order never goes by it.
    disk : Disk | None
        What the journal writes by; tests put faults there.
    from_journal : bool
        Whether a missing database is made from the journal.

    Returns
    -------
    Store
        To be closed at the end.

    Raises
    ------
    StoreLocked
        If another process writes there.
    StoreDamaged
        If what is there cannot be trusted; its files are left as they are.
    StoreUnavailable
        If the disk is full, another program holds the database, or a server does not answer.
    """
    folder.mkdir(parents=True, exist_ok=True)
    lock = FolderLock(folder)
    try:
        writing = writing_engine(folder, url)
        reading = reading_engine(folder, url)
    except BaseException:
        lock.release()
        raise
    try:
        journal = opening.prepare(
            writing, folder, projections, disk or Disk(), from_journal=from_journal
        )
        parts = Parts(lock, writing, reading, journal)
        return Store(folder, parts, projections=projections, clock=clock)
    except BaseException:
        writing.dispose()
        reading.dispose()
        lock.release()
        raise
