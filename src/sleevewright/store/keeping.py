"""One commit's worth of drafts: which are kept, under which numbers, and which are refused.

Everything is decided before the first row is written, so that a refused group leaves no
trace and those beside it never notice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from sqlalchemy import Connection

from sleevewright.jobs.records import JOB, Draft
from sleevewright.store.chain import START, Link, link_hash
from sleevewright.store.drafts import Ready
from sleevewright.store.errors import DeviceNumberUsed, IdUsed, StoreError, UnknownJob
from sleevewright.store.queries import by_ids, end_of, last_of_device, used_numbers

Refused = StoreError | UnknownJob


@dataclass(frozen=True)
class Kept:
    """A draft that is on the disk: its number in the job; not new when it came before."""

    draft: Draft
    number: int
    received: str
    is_new: bool


class Lot:
    """What one commit adds, seen group by group."""

    def __init__(
        self,
        connection: Connection,
        groups: Sequence[Sequence[Ready]],
        received: str,
        ends: Mapping[str, tuple[int, str]],
    ) -> None:
        self.links: list[Link] = []
        self.ends: dict[str, tuple[int, str]] = {}
        self._connection = connection
        self._received = received
        self._known_ends = ends
        drafts = [one.draft for group in groups for one in group]
        self._ids = by_ids(connection, {draft.id for draft in drafts})
        self._used = used_numbers(connection, {_number(one) for one in drafts})
        self._counts: dict[tuple[str, str], int] = {}

    def take(self, group: Sequence[Ready]) -> tuple[Kept, ...]:
        """Number and chain a group.

        Raises
        ------
        StoreError
            If one of it cannot be kept; then none of it is.
        UnknownJob
            If it begins a job with anything but its opening.
        """
        count, counts = len(self.links), dict(self._counts)
        try:
            return tuple(self._take(one) for one in group)
        except (StoreError, UnknownJob):
            for link in reversed(self.links[count:]):
                del self._ids[link.id]
                self._used.discard((link.job, link.device, link.device_number))
                self.ends[link.job] = (link.number - 1, link.previous)
            self._counts = counts
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
        self._used.add(_number(draft))
        self.ends[link.job] = (link.number, link.hash)
        return Kept(draft, link.number, link.received, is_new=True)

    def _end(self, job: str) -> tuple[int, str]:
        if job not in self.ends:
            known = self._known_ends.get(job)
            self.ends[job] = known or end_of(self._connection, job)
        return self.ends[job]

    def _numbered(self, draft: Draft) -> Draft:
        """The draft with a number of its device that is free."""
        key = (draft.job, draft.device)
        if draft.device_number:
            if _number(draft) in self._used:
                raise DeviceNumberUsed(draft.job, draft.device, draft.device_number)
            if key in self._counts:
                self._counts[key] = max(self._counts[key], draft.device_number)
            return draft
        if key not in self._counts:
            here = [one[2] for one in self._used if one[:2] == key]
            self._counts[key] = max(last_of_device(self._connection, *key), *here, 0)
        self._counts[key] += 1
        return replace(draft, device_number=self._counts[key])


def chained(draft: Draft, text: str, number: int, received: str, previous: str) -> Link:
    """The record as it is kept, with its hash."""
    bare = Link(
        draft.job, number, draft.id, draft.device, draft.device_number, received, draft.kind,
        draft.version, text, previous, START,
    )  # fmt: skip
    return replace(bare, hash=link_hash(bare))


def _number(draft: Draft) -> tuple[str, str, int]:
    return (draft.job, draft.device, draft.device_number)


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
