"""Taking in records that have their numbers and hashes already: from the journal or a file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sqlalchemy import Connection

from sleevewright.errors import InputError
from sleevewright.jobs.records import Draft
from sleevewright.store import queries
from sleevewright.store.chain import Link, Seal, verify_chain, verify_seals
from sleevewright.store.drafts import ready
from sleevewright.store.errors import ChainBroken, StoreDamaged
from sleevewright.store.journal import Entry
from sleevewright.store.keeping import by_job


def looked_at(links: Sequence[Link]) -> tuple[Link, ...]:
    """Records from outside, when each could have been kept here as it is.

    Raises
    ------
    InputError
        If one could not; the text says which of its fields and why.
    ChainBroken
        If the text of a body is not the canonical one.
    """
    for one in links:
        _look_at(one)
    return tuple(links)


def _look_at(link: Link) -> None:
    try:
        told = link.record()
    except (ValueError, TypeError, RecursionError) as error:
        raise InputError("body", str(link.body), "", "the JSON text of a body") from error
    draft = Draft(
        told.job, told.id, told.device, told.device_number, told.kind, told.body, told.version
    )
    if ready([draft])[0].text != link.body or not link.device_number:
        raise ChainBroken(link.job, link.number, "it is not written as it was kept")


def new_links(connection: Connection, links: Sequence[Link]) -> list[Link]:
    """Those that are not kept yet, when all of them continue what is kept.

    Raises
    ------
    ChainBroken
        If one differs from the record that is kept under its id, or leaves the chain.
    """
    known = queries.by_ids(connection, {one.id for one in links})
    fresh = [one for one in links if one.id not in known]
    for one in links:
        if one.id in known and known[one.id] != one:
            raise ChainBroken(one.job, one.number, "another record is kept under its id")
    for job, some in by_job(fresh).items():
        last, head = queries.end_of(connection, job)
        bad = verify_chain(some, after=last, head=head)
        if bad is not None:
            raise ChainBroken(job, bad, "it does not continue the chain of the job")
    return fresh


def new_seals(connection: Connection, seals: Sequence[Seal]) -> list[Seal]:
    """Those that are not kept yet, when all of them continue what is kept.

    Raises
    ------
    ChainBroken
        If one differs from the seal that is kept under its number, or leaves the chain.
    """
    last = queries.last_seal(connection)
    number, head = (last.number, last.hash) if last else (0, "0" * 64)
    fresh = [one for one in seals if one.number > number]
    old = [one for one in seals if one.number <= number]
    if old:
        kept = {one.number: one for one in queries.seals_after(connection, old[0].number - 1)}
        if any(kept.get(one.number) != one for one in old):
            raise ChainBroken(old[0].job, old[0].number, "another seal is kept under its number")
    if verify_seals(fresh, after=number, head=head):
        raise ChainBroken(fresh[0].job, fresh[0].number, "it does not continue the seals")
    return fresh


def replay(connection: Connection, entries: Iterable[Entry]) -> tuple[Link, ...]:
    """Write what a lot of the journal has and the database lacks; the records among it.

    Raises
    ------
    StoreDamaged
        If journal and database contradict each other.
    """
    told = tuple(entries)
    try:
        links = new_links(connection, [one for one in told if isinstance(one, Link)])
        seals = new_seals(connection, [one for one in told if isinstance(one, Seal)])
    except ChainBroken as error:
        raise StoreDamaged(f"journal and database differ: {error}") from error
    if links:
        queries.insert_links(connection, links)
    if seals:
        queries.insert_seals(connection, seals)
    return tuple(links)
