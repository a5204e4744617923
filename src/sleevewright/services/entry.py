"""Use case: a device hands in what was told on it; what can be kept is kept, once.

An entry that cannot be taken is held back with the reason and stays on the device, where
the person puts it right or gives it up; it never stops the entries beside it.  What was
kept before is acknowledged again and changes nothing, so a device may send twice.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from concurrent.futures import Future
from dataclasses import dataclass
from functools import partial

from sqlalchemy import Connection, select

from sleevewright.errors import SleevewrightError, clipped
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import SET, VALUE, VERSION, Draft, Record
from sleevewright.services.bench import SERVER, Bench
from sleevewright.services.entry_bodies import TAKEN_KINDS, body_of
from sleevewright.store.errors import StoreUnavailable
from sleevewright.store.store import Kept
from sleevewright.store.tables import record as record_table

MOST_ENTRIES = 1000
"""Entries of one delivery; a device sends the rest with the next."""

MOST_OF_A_JOB = 1_000_000
"""Entries of one device in one job; a count beyond it is no count."""

MOST_AHEAD = 5000
"""Entries that a device may still hold before the one it sends; each would be missed here."""

LOT = 500
"""Ids that are asked for at once."""

_ID = re.compile(r"[0-9a-f]{32}")
_DEVICE = re.compile(r"[A-Za-z0-9_.\-]{1,64}")


@dataclass(frozen=True)
class Answered:
    """What became of one entry: kept under a number of its job, or held back and why."""

    id: str
    state: str  # "kept" or "held"
    number: int = 0
    text: str = ""


@dataclass(frozen=True)
class Delivery:
    """The answers to a delivery, in its order, and the last number of each of its jobs."""

    answers: tuple[Answered, ...]
    last: dict[str, int]


def take(bench: Bench, device: str, entries: Sequence[object]) -> Delivery:
    """Keep what a device hands in, in its order.

    Parameters
    ----------
    bench : Bench
        The open bench.
    device : str
        Key of the device.
    entries : Sequence[object]
        As they came over the wire: ``id``, ``job``, ``n``, ``kind``, ``version``, ``body``.

    Returns
    -------
    Delivery
        One answer for each entry; acknowledged is only what is committed.

    Raises
    ------
    StoreUnavailable
        If nothing can be kept now, as on a full disk: the device keeps everything.
    """
    known = _known(bench, [_told_id(entry) for entry in entries])
    judged: dict[str, Folded] = {}
    pending = [_begun(bench, device, entry, known, judged) for entry in _in_order(entries)]
    answers = [_finished(one) for one in pending]
    jobs = {_told_job(entry) for entry in entries} - {""}
    last = {job: number for job in jobs if (number := bench.store.last(job))}
    order = {_told_id(entry): place for place, entry in enumerate(entries)}
    answers.sort(key=lambda one: order.get(one.id, 0))
    return Delivery(tuple(answers), last)


def hand_on(bench: Bench, device: str, entry: object) -> Future[tuple[Kept, ...]] | None:
    """Judge a value or a set where the caller stands; hand it to the writer without waiting.

    Nothing but the job as it is known by heart is looked at, so it takes less than a
    millisecond.  Whatever cannot be taken so, and whatever is refused here or by the writer,
    goes through :func:`take`, which knows what was kept before and has the words.

    Parameters
    ----------
    bench : Bench
        The open bench.
    device : str
        Key of the device.
    entry : object
        As it came over the wire.

    Returns
    -------
    Future[tuple[Kept, ...]] | None
        Done when it is committed; nothing where it has to be taken by :func:`take`.
    """
    folded = bench.store.folded_by_heart(_told_job(entry))
    if folded is None or not isinstance(entry, dict) or entry.get("kind") not in (VALUE, SET):
        return None
    try:
        draft = draft_of(bench, device, entry, {folded.job: folded})
        return bench.store.submit([draft])
    except SleevewrightError:
        return None


def _in_order(entries: Sequence[object]) -> list[object]:
    """By the device's own count: a burst may have been packed out of order."""
    return sorted(entries, key=lambda one: (_told_job(one), _told_count(one)))


@dataclass(frozen=True)
class _Begun:
    """An entry on its way: answered already, or waiting for its commit."""

    id: str
    answer: Answered | None = None
    waiting: Future[tuple[Kept, ...]] | None = None


def _begun(
    bench: Bench, device: str, entry: object, known: dict[str, int], judged: dict[str, Folded]
) -> _Begun:
    """Hand an entry to the writer; several of a delivery then share a commit.

    It is judged beside what stands and what was taken of this delivery before it, which is
    in ``judged``: a set first, then its readings, each beside those that came before.
    """
    told = _told_id(entry)
    if told in known:
        return _Begun(told, Answered(told, "kept", known[told]))
    try:
        draft = draft_of(bench, device, entry, judged)
        waiting = bench.store.submit([draft])
        if draft.kind == SET and waiting.exception() is not None:
            return _Begun(told, waiting=waiting)  # its readings find no set and are held back
    except StoreUnavailable:
        raise
    except SleevewrightError as refused:
        return _Begun(told, Answered(told, "held", text=str(refused)))
    judged[draft.job].add(_as_if_kept(draft, judged[draft.job].last + 1, bench.now()))
    return _Begun(told, waiting=waiting)


def _as_if_kept(draft: Draft, number: int, now: str) -> Record:
    """The record that a draft is about to be; its number may yet be another."""
    return Record(
        draft.job, number, draft.id, draft.device, draft.device_number, now, draft.kind,
        draft.version, draft.body,
    )  # fmt: skip


def _finished(begun: _Begun) -> Answered:
    """The answer, once it is committed or refused."""
    if begun.answer is not None or begun.waiting is None:
        return begun.answer or Answered(begun.id, "held", text="It was not handed on.")
    try:
        kept = begun.waiting.result()[0]
    except StoreUnavailable:
        raise
    except SleevewrightError as refused:
        return Answered(begun.id, "held", text=str(refused))
    return Answered(begun.id, "kept", kept.number)


def draft_of(bench: Bench, device: str, entry: object, judged: dict[str, Folded]) -> Draft:
    """The draft that an entry stands for, judged beside what was told before it.

    Of each job that it has to look at, ``judged`` is given a copy as it stands.

    Raises
    ------
    SleevewrightError
        If it cannot be taken; the text says why and what would be.
    """
    if device == SERVER or not _DEVICE.fullmatch(device):
        raise SleevewrightError("The device has no usable key; load the page again.")
    if not isinstance(entry, dict):
        raise SleevewrightError("An entry is an object with id, job, n, kind, version and body.")
    told, count, kind, body = (entry.get(key) for key in ("id", "n", "kind", "body"))
    if not (isinstance(told, str) and _ID.fullmatch(told)):
        raise SleevewrightError("id: an entry is named by 32 hexadecimal digits.")
    if not isinstance(count, int) or isinstance(count, bool) or not 1 <= count <= MOST_OF_A_JOB:
        allowed = f"1 to {MOST_OF_A_JOB}"
        raise SleevewrightError(f"n: the device counts its entries of a job: {allowed}.")
    if entry.get("version", VERSION) != VERSION:
        raise SleevewrightError(f"version: this bench takes entries of version {VERSION}.")
    if kind not in TAKEN_KINDS:
        raise SleevewrightError(f"kind: a device hands in {', '.join(TAKEN_KINDS)}.")
    if not isinstance(body, dict):
        raise SleevewrightError("body: an object is expected.")
    job = _told_job(entry)
    folded = judged.get(job) or judged.setdefault(job, bench.store.folded(job).copy())
    _refuse_ahead(folded, device, count)
    return Draft(job, told, device, count, kind, body_of(kind, body, folded, own=told))


def _refuse_ahead(folded: Folded, device: str, count: int) -> None:
    """A count far beyond the device's last is a slip: all before it would be waited for."""
    most = folded.last_number_of(device) + MOST_AHEAD
    if count > most:
        raise SleevewrightError(
            f"n: {count} is more than {MOST_AHEAD} beyond the last entry of this device that is "
            f"kept of job {folded.job}; at most {most} is taken. Send what comes before it first."
        )


def _known(bench: Bench, ids: list[str]) -> dict[str, int]:
    """Numbers of the records among these ids that are kept already."""
    wanted = [one for one in ids if _ID.fullmatch(one)]
    found: dict[str, int] = {}
    for start in range(0, len(wanted), LOT):
        found |= bench.store.read(partial(_numbers, ids=wanted[start : start + LOT]))
    return found


def _numbers(connection: Connection, ids: list[str]) -> dict[str, int]:
    """Number of each of these ids that is kept."""
    query = select(record_table.c.id, record_table.c.number).where(record_table.c.id.in_(ids))
    return {row.id: row.number for row in connection.execute(query)}


def _told_id(entry: object) -> str:
    told = entry.get("id") if isinstance(entry, dict) else None
    return clipped(told) if isinstance(told, str) else ""


def _told_job(entry: object) -> str:
    told = entry.get("job") if isinstance(entry, dict) else None
    return clipped(told) if isinstance(told, str) else ""


def _told_count(entry: object) -> int:
    told = entry.get("n") if isinstance(entry, dict) else None
    return told if isinstance(told, int) else 0
