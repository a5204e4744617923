"""Use cases: look into the journal, hold it against the database, bring what the database lacks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection

from sleevewright.services.bench import Bench
from sleevewright.store import queries
from sleevewright.store.chain import Link, Seal, link_hash, seal_hash
from sleevewright.store.database import DATABASE
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.examining import ends_of
from sleevewright.store.journal import Entry, Mark, lots_after, store_named
from sleevewright.store.lock import find_writer
from sleevewright.store.reader import Reader, open_reader
from sleevewright.store.store import open_store

_LOT = 500


@dataclass(frozen=True)
class Checked:
    """The journal held against the database."""

    lots: int
    records: int
    seals: int
    only_in_journal: int
    only_in_database: int
    different: int
    problem: str  # where it cannot be read any further; empty where it can

    @property
    def is_good(self) -> bool:
        """Whether both hold the same, and all of it can be read."""
        return not (self.only_in_journal or self.only_in_database or self.different or self.problem)


def journal_entries(folder: Path) -> Iterator[tuple[int, Entry]]:
    """Number of the lot and each entry, from the beginning.

    Raises
    ------
    StoreDamaged
        Where a line cannot be read, or is not as it was written.
    """
    for lot in lots_after(folder, store_named(folder), Mark()):
        for entry in lot.entries:
            wanted = link_hash(entry) if isinstance(entry, Link) else seal_hash(entry)
            if entry.hash != wanted:
                told = f"{entry.job} {entry.number}"
                raise StoreDamaged("a line of the journal was changed", told)
            yield lot.mark.lot, entry


def check_journal(reader: Reader) -> Checked:
    """Hold every line of the journal against the database."""
    lots = records = seals = missing = different = 0
    problem = ""
    try:
        for some in queries.in_lots(journal_entries(reader.folder), _LOT):
            lots = some[-1][0]
            links = [entry for _, entry in some if isinstance(entry, Link)]
            records += len(links)
            seals += sum(isinstance(entry, Seal) for _, entry in some)
            absent, other = _compared(reader, links)
            missing, different = missing + absent, different + other
    except StoreDamaged as damaged:
        problem = str(damaged)
    here = reader.read(ends_of).records
    lacking = max(0, here - (records - missing))
    return Checked(lots, records, seals, missing, lacking, different, problem)


def _compared(reader: Reader, links: list[Link]) -> tuple[int, int]:
    """How many are missing in the database, and how many differ there."""

    def known(connection: Connection) -> dict[str, Link]:
        return queries.by_ids(connection, [one.id for one in links])

    there = reader.read(known)
    missing = sum(one.id not in there for one in links)
    return missing, sum(one.id in there and there[one.id] != one for one in links)


def replay_journal(bench: Bench) -> int:
    """Bring every record of the journal that the database lacks; how many that were.

    Raises
    ------
    StoreDamaged
        Where the journal cannot be read; what came before is kept.
    ChainBroken
        If the journal contradicts the database.
    """
    new = 0
    for lot in lots_after(bench.folder, store_named(bench.folder), Mark()):
        links = [entry for entry in lot.entries if isinstance(entry, Link)]
        new += bench.store.adopt(links) if links else 0
    return new


def replay_here(folder: Path, *, url: str | None = None) -> dict[str, int]:
    """Replay where the folder is written; a database that is gone is made anew from the journal.

    Raises
    ------
    StoreDamaged
        Where the journal cannot be read, or is not there.
    """
    from sleevewright.services.commands import run

    if find_writer(folder) is not None:
        return {"new": int(run(folder, "journal-replay", {}, url=url)["new"])}
    if not store_named(folder):
        raise StoreDamaged("there is no journal to replay", str(folder))
    before = 0
    if url is not None or (folder / DATABASE).is_file():
        before = _count(folder, url)
    # A start replays from the last place that the database knew; the rest asks for all of it.
    open_store(folder, url=url, from_journal=True).close()
    run(folder, "journal-replay", {}, url=url)
    return {"new": _count(folder, url) - before}


def _count(folder: Path, url: str | None) -> int:
    reader = open_reader(folder, url=url)
    try:
        return reader.read(ends_of).records
    finally:
        reader.close()
