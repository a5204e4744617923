"""One commit's worth of drafts: which are kept, under which numbers, and which are refused.

Everything is decided before the first row is written, so that a refused group leaves no
trace and those beside it never notice.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from sqlalchemy import Connection

from sleevewright.jobs.records import JOB, Draft
from sleevewright.store.chain import START, Link, link_hash
from sleevewright.store.drafts import Ready
from sleevewright.store.errors import DeviceNumberUsed, IdUsed, StoreError, UnknownJob
from sleevewright.store.queries import by_ids, end_of, is_used, last_of_device

_MOST_REMEMBERED = 20_000
"""Ends and counts that are remembered; a shop has some dozens."""


@dataclass(frozen=True)
class Kept:
    """A draft that is on the disk: its number in the job; not new when it came before."""

    draft: Draft
    number: int
    received: str
    is_new: bool


@dataclass
class Memory:
    """Where the chains of jobs and the counts of devices end: only what is committed."""

    ends: dict[str, tuple[int, str]] = field(default_factory=dict)
    counts: dict[tuple[str, str], int] = field(default_factory=dict)

    def forget(self) -> None:
        """The database is asked anew."""
        self.ends.clear()
        self.counts.clear()

    def learn(self, lot: Lot) -> None:
        """A lot was committed."""
        if len(self.ends) + len(self.counts) > _MOST_REMEMBERED:
            self.forget()
        self.ends.update(lot.ends)
        self.counts.update(lot.counts)


class Lot:
    """What one commit adds, seen group by group."""

    def __init__(
        self,
        connection: Connection,
        groups: Sequence[Sequence[Ready]],
        received: str,
        memory: Memory,
    ) -> None:
        self.links: list[Link] = []
        self.ends: dict[str, tuple[int, str]] = {}
        self.counts: dict[tuple[str, str], int] = {}
        self._connection = connection
        self._received = received
        self._memory = memory
        self._ids = by_ids(connection, {one.draft.id for group in groups for one in group})
        self._used: set[tuple[str, str, int]] = set()

    def take(self, group: Sequence[Ready]) -> tuple[Kept, ...]:
        """Number and chain a group.

        Raises
        ------
        StoreError
            If one of it cannot be kept; then none of it is.
        UnknownJob
            If it begins a job with anything but its opening.
        """
        count = len(self.links)
        keys = {(one.draft.job, one.draft.device) for one in group}
        counts = {key: self.counts[key] for key in keys if key in self.counts}
        try:
            return tuple(self._take(one) for one in group)
        except (StoreError, UnknownJob):
            for link in reversed(self.links[count:]):
                del self._ids[link.id]
                self._used.discard((link.job, link.device, link.device_number))
                self.ends[link.job] = (link.number - 1, link.previous)
            for key in keys:
                self.counts.pop(key, None)
            self.counts.update(counts)
            del self.links[count:]
            raise

    def _take(self, one: Ready) -> Kept:
        draft = one.draft
        known = self._ids.get(draft.id)
        if known is not None:
            return _again(one, known)
        last, head = self._end(draft.job)
        if last == 0 and draft.kind != JOB:
            raise UnknownJob(draft.job)
        draft = self._numbered(draft)
        link = chained(draft, one.text, last + 1, self._received, head)
        self.links.append(link)
        self._ids[link.id] = link
        self.ends[link.job] = (link.number, link.hash)
        return Kept(draft, link.number, link.received, is_new=True)

    def _end(self, job: str) -> tuple[int, str]:
        if job not in self.ends:
            self.ends[job] = self._memory.ends.get(job) or end_of(self._connection, job)
        return self.ends[job]

    def _numbered(self, draft: Draft) -> Draft:
        """The draft with a number of its device that is free."""
        key = (draft.job, draft.device)
        last = self.counts.get(key, self._memory.counts.get(key))
        if last is None:
            last = last_of_device(self._connection, *key)
        count = draft.device_number or last + 1
        if count <= last and self._is_used(key, count):
            raise DeviceNumberUsed(*key, count)
        self._used.add((*key, count))
        self.counts[key] = max(last, count)
        return draft if draft.device_number else replace(draft, device_number=count)

    def _is_used(self, key: tuple[str, str], count: int) -> bool:
        """Whether a number at or below the device's last is used; it may fill a gap."""
        return (*key, count) in self._used or is_used(self._connection, *key, count)


def chained(draft: Draft, text: str, number: int, received: str, previous: str) -> Link:
    """The record as it is kept, with its hash."""
    bare = Link(
        draft.job, number, draft.id, draft.device, draft.device_number, received, draft.kind,
        draft.version, text, previous, START,
    )  # fmt: skip
    return replace(bare, hash=link_hash(bare))


def _again(one: Ready, known: Link) -> Kept:
    """What was kept before, when it is the same."""
    draft = one.draft
    same = (known.job, known.device, known.kind, known.version, known.body) == (
        draft.job, draft.device, draft.kind, draft.version, one.text,
    ) and draft.device_number in (0, known.device_number)  # fmt: skip
    if not same:
        raise IdUsed(draft.id, known.number)
    numbered = replace(draft, device_number=known.device_number)
    return Kept(numbered, known.number, known.received, is_new=False)


def by_job(links: Iterable[Link]) -> dict[str, list[Link]]:
    """Records of each job, in order."""
    found: dict[str, list[Link]] = {}
    for link in links:
        found.setdefault(link.job, []).append(link)
    return found
