"""A backup made into a data folder again: held against its manifest, opened, verified, renamed.

Everything happens in a folder of another name, which takes its own only when the store in
it was opened and every chain verified.  The journal of the damaged folder, where it can
still be read, brings what came after the backup.
"""

from __future__ import annotations

import os
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection, delete

from sleevewright.errors import InputError
from sleevewright.store.attached import (
    bring_attachments,
    bring_missing,
    missing_attachments,
    note_attachments,
)
from sleevewright.store.attachments import FOLDER as ATTACHMENTS
from sleevewright.store.backup import TABLES
from sleevewright.store.backup_manifest import Backup, check_files
from sleevewright.store.chain import Link, link_hash, seal_hash
from sleevewright.store.database import writing_engine
from sleevewright.store.errors import ChainBroken, StoreDamaged
from sleevewright.store.examining import Ends, ends_of
from sleevewright.store.journal import FOLDER as JOURNAL
from sleevewright.store.journal import Mark, is_short, lots_after
from sleevewright.store.keeping import by_job
from sleevewright.store.migrating import migrate
from sleevewright.store.queries import read_meta, write_meta
from sleevewright.store.reader import GENERATION, ORIGIN
from sleevewright.store.store import Store, open_store
from sleevewright.store.tablecopy import FOLDER as ROWS
from sleevewright.store.tablecopy import fill_tables
from sleevewright.store.tables import meta
from sleevewright.store.wholefile import UNFINISHED, lumps_of, sync_folder, write_whole
from sleevewright.store.writer import MARK

KEYS = "keys"
"""Folder of the secrets within a data folder."""


@dataclass(frozen=True)
class Restored:
    """What a restoring came to."""

    folder: Path
    ends: Ends
    replayed: int  # records that the journal brought beyond the backup
    remarks: str  # what could not be brought back; empty where everything was
    identity: str


@dataclass(frozen=True)
class Wish:
    """How a backup is to be restored."""

    url: str | None = None  # database on a server, for a backup of one
    damaged: Path | None = None  # folder whose journal is replayed
    moment: datetime | None = None  # the store takes a new identity of this moment


def restore_backup(backup: Backup, into: Path, wish: Wish) -> Restored:
    """Restore a backup into a folder that is empty or not there.

    Parameters
    ----------
    backup : Backup
        The backup.
    into : Path
        The data folder that is to be.
    wish : Wish
        Database, journal and identity.

    Returns
    -------
    Restored
        What is there now.

    Raises
    ------
    InputError
        If something lies in the folder already.
    StoreDamaged
        If the backup is not what was written, or what it holds does not verify; then
        nothing was put in place.
    """
    if into.exists() and any(into.iterdir()):
        raise InputError("folder", str(into), "", "an empty folder, or none")
    into.parent.mkdir(parents=True, exist_ok=True)
    with unpacked(backup, into.parent, wish) as (scratch, unpacked_ends):
        remarks = [_with_journal(scratch, wish)]
        _bring_files(scratch, wish)
        store = open_store(scratch, url=wish.url)
        try:
            remarks += [_adopted(store, wish), _attached(store)]
            ends, identity = _proven(store, wish)
        finally:
            store.close()
        if into.exists():
            into.rmdir()
        scratch.rename(into)
        sync_folder(into.parent)
    more = ends.records - unpacked_ends.records
    return Restored(into, ends, more, " ".join(filter(None, remarks)), identity)


def _bring_files(scratch: Path, wish: Wish) -> None:
    """Bring what was attached, and keys that were made, since the backup."""
    if wish.damaged is not None:
        bring_attachments(wish.damaged, scratch)
        bring_missing(wish.damaged / KEYS, scratch / KEYS)


def _attached(store: Store) -> str:
    """Write the rows of attachments that were brought; what is lacking, in words."""
    store.write(lambda connection: note_attachments(connection, store.folder))
    lost = store.read(lambda connection: missing_attachments(connection, store.folder))
    return f"Attachments that are not there: {', '.join(lost)}." if lost else ""


@contextmanager
def unpacked(backup: Backup, home: Path, wish: Wish) -> Iterator[tuple[Path, Ends]]:
    """A folder with the data of a backup, gone after the block where it was not renamed.

    Raises
    ------
    StoreDamaged
        If the backup, or what its database holds, is not what was written.
    """
    if (wish.url is not None) != (backup.manifest["database"] == TABLES) and wish.moment:
        raise InputError(
            "database", "this backup", "",
            "the file of a data folder for a backup of one, a database's URL for one of a server",
        )  # fmt: skip
    check_files(backup)
    scratch = home / f".restoring-{secrets.token_hex(4)}{UNFINISHED}"
    try:
        for name in backup.files:
            is_rehearsed = wish.moment is None and name.startswith(f"{ATTACHMENTS}/")
            (_share if is_rehearsed else _copy)(backup.data / name, scratch / name)
        ends = _filled(backup, scratch, wish)
        if asdict(ends) != backup.manifest["ends"]:
            raise StoreDamaged("the chains of the backup end elsewhere than written", backup.name)
        yield scratch, ends
    finally:
        shutil.rmtree(scratch, ignore_errors=True)


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    write_whole(target, lumps_of(source), mode=source.stat().st_mode & 0o777)


def _share(source: Path, target: Path) -> None:
    """Let a file that is only looked at stand in two places, where the disk can."""
    target.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(source, target)
    except OSError:  # a disk without links
        _copy(source, target)


@contextmanager
def _writing(folder: Path, url: str | None) -> Iterator[Connection]:
    """A connection to the database of a folder that nobody else has yet."""
    engine = writing_engine(folder, url)
    try:
        with engine.begin() as connection:
            yield connection
    finally:
        engine.dispose()


def _filled(backup: Backup, scratch: Path, wish: Wish) -> Ends:
    """Bring the database up: its file is there, or its tables are read back."""
    with _writing(scratch, wish.url) as connection:
        if backup.manifest["database"] == TABLES:
            migrate(connection, to=str(backup.manifest["schema"]))
            fill_tables(connection, scratch)
        # What is reckoned from the records is reckoned anew when the bench is opened.
        connection.execute(delete(meta).where(meta.c.key.startswith("projection/")))
        ends = ends_of(connection)
    shutil.rmtree(scratch / ROWS, ignore_errors=True)
    return ends


def _with_journal(scratch: Path, wish: Wish) -> str:
    """Put the damaged folder's journal in the place of the backup's, where all of it is whole."""
    if wish.damaged is None:
        return ""
    source = wish.damaged / JOURNAL
    if not source.is_dir():
        return "There was no journal beside what is restored; what came after the backup is lost."
    with _writing(scratch, wish.url) as connection:
        origin, mark = _place(connection)
    if not _is_whole(wish.damaged, origin, mark):
        return ""  # what of it can be read is adopted when the store is open
    shutil.rmtree(scratch / JOURNAL, ignore_errors=True)
    for path in sorted(source.iterdir()):
        if path.is_file():
            _copy(path, scratch / JOURNAL / path.name)
    return ""


def _place(connection: Connection) -> tuple[str, Mark]:
    return read_meta(connection, ORIGIN), Mark.read(read_meta(connection, MARK) or str(Mark()))


def _is_whole(folder: Path, origin: str, mark: Mark) -> bool:
    """Whether a journal can be read from a place to its end, each line as it was written."""
    if is_short(folder, mark):
        return False
    try:
        return all(
            entry.hash == (link_hash(entry) if isinstance(entry, Link) else seal_hash(entry))
            for lot in lots_after(folder, origin, mark)
            for entry in lot.entries
        )
    except (StoreDamaged, OSError):
        return False


def _adopted(store: Store, wish: Wish) -> str:
    """Take from a damaged journal what can be read of it; what is to be said of that."""
    if wish.damaged is None or not (wish.damaged / JOURNAL).is_dir():
        return ""
    origin, mark = store.read(_place)
    broken: dict[str, int] = {}
    said = ""
    try:
        for lot in lots_after(wish.damaged, origin, mark):
            links = [entry for entry in lot.entries if isinstance(entry, Link)]
            for job, some in by_job(links).items():
                try:
                    store.adopt(some)
                except ChainBroken as error:
                    broken.setdefault(job, error.number)
    except (StoreDamaged, OSError) as error:
        said = f"The journal was read up to where it is damaged ({error.args[0]}) "
    lost = [f"job {job} from record {number} on" for job, number in sorted(broken.items())]
    told = [said.strip()] if said else []
    told += [f"Damaged in the journal, and lost: {', '.join(lost)}."] if lost else []
    return " ".join(told)


def _proven(store: Store, wish: Wish) -> tuple[Ends, str]:
    """Verify everything; give the store its new identity where one is wished."""
    verdict = store.verify_all()
    if not verdict.is_good:
        raise StoreDamaged(verdict.problem, "in what was restored")
    if wish.moment is not None:
        seconds = int(wish.moment.timestamp())
        store.write(lambda connection: _renew(connection, seconds))
    return store.read(ends_of), store.renew() if wish.moment is not None else store.identity


def _renew(connection: Connection, seconds: int) -> None:
    """Count restorings by the second, so that no two from one backup are taken for one."""
    known = int(read_meta(connection, GENERATION) or "0")
    write_meta(connection, GENERATION, str(max(known, seconds)))
