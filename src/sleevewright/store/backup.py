"""A backup: database, attachments, keys, journal and whatever else the data folder holds.

SQLite is copied online from a read-only connection; of a database on a server the tables
are copied row by row (:mod:`sleevewright.store.tablecopy`).  A backup is written under a
name that nobody takes for one, and renamed when all of it is on the disk.  Whether it is
good is not known before it was restored.
"""

from __future__ import annotations

import contextlib
import filecmp
import os
import secrets
import shutil
import sqlite3
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine

from sleevewright.store.attachments import FOLDER as ATTACHMENTS
from sleevewright.store.backup_manifest import (
    DATA,
    Backup,
    backup_name,
    files_under,
    read_backup,
    write_manifest,
)
from sleevewright.store.checking import file_problem
from sleevewright.store.database import DATABASE, reading_engine
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.examining import ends_of
from sleevewright.store.lock import LOCK, WHO
from sleevewright.store.migrating import schema_of
from sleevewright.store.reader import identity_of
from sleevewright.store.tablecopy import copy_tables
from sleevewright.store.wholefile import UNFINISHED, file_sha256, lumps_of, sync_folder, write_whole

HOME = "backups"
"""Folder within the data folder in which its backups lie."""
TOKEN = "command.token"  # noqa: S105 - the name of the file, no secret
SCRATCH = "scratch"
PAGES, TABLES = "pages", "tables"
"""What a backup holds: the file of the database, or its tables as lines."""

_NOT_COPIED = {
    HOME,
    SCRATCH,
    LOCK,
    WHO,
    TOKEN,
    *(f"{DATABASE}{end}" for end in ("", "-wal", "-shm")),
}
_PASSING = (UNFINISHED, ".new", ".part", ".tmp")


@dataclass(frozen=True)
class Source:
    """What is backed up: a data folder, and the database where that is on a server."""

    folder: Path
    url: str | None = None


def make_backup(
    source: Source, home: Path, *, made: datetime, code_version: str, previous: Path | None = None
) -> Backup:
    """Write a backup of a data folder into ``home``.

    Parameters
    ----------
    source : Source
        What is backed up; its writer may go on meanwhile.
    home : Path
        Folder of the backups.
    made : datetime
        This moment.
    code_version : str
        Version of this program.
    previous : Path | None
        A backup in the same folder that is good; attachments are shared with it where the
        disk can.

    Returns
    -------
    Backup
        What was written.

    Raises
    ------
    StoreDamaged
        If the pages of the database are damaged: what would be written is no backup.
    OSError
        If the disk refuses; nothing that looks like a backup is left behind.
    """
    home.mkdir(parents=True, exist_ok=True)
    sweep(home)
    unfinished = home / f"{backup_name(made)}.{secrets.token_hex(4)}{UNFINISHED}"
    data = unfinished / DATA
    data.mkdir(parents=True)
    try:
        told = _copied_database(source, data)
        _copy_folder(source.folder, data, None if previous is None else previous / DATA)
        head = {"made": _stated(made), "code_version": code_version}
        write_manifest(unfinished, {**head, **told, "files": _files(data)})
        return _named(unfinished, home, backup_name(made))
    except BaseException:
        shutil.rmtree(unfinished, ignore_errors=True)
        raise


def sweep(home: Path) -> None:
    """Take away what was broken off before it was a backup."""
    if home.is_dir():
        for path in home.glob(f"*{UNFINISHED}"):
            shutil.rmtree(path, ignore_errors=True)


def copy_backup(backup: Backup, home: Path) -> Backup:
    """Copy a finished backup to another place, as a stick; whole there or not at all."""
    home.mkdir(parents=True, exist_ok=True)
    sweep(home)
    unfinished = home / f"{backup.name}.{secrets.token_hex(4)}{UNFINISHED}"
    try:
        for name in files_under(backup.path):
            _copy(backup.path / name, unfinished / name)
        return _named(unfinished, home, backup.name)
    except BaseException:
        shutil.rmtree(unfinished, ignore_errors=True)
        raise


def _named(unfinished: Path, home: Path, name: str) -> Backup:
    """Give a whole backup its name; it loses it where the disk does not confirm that."""
    path = _free_name(home, name)
    unfinished.rename(path)
    try:
        sync_folder(home)
        return read_backup(path)
    except BaseException:
        path.rename(unfinished)
        raise


def _stated(made: datetime) -> str:
    return made.isoformat(timespec="milliseconds").replace("+00:00", "Z")


def _free_name(home: Path, name: str) -> Path:
    """The name, or the next of the same second that is free."""
    count, path = 1, home / name
    while path.exists():
        count += 1
        path = home / f"{name}-{count}"
    return path


def _copied_database(source: Source, data: Path) -> dict[str, Any]:
    """Copy the database; what the manifest says of it."""
    with contextlib.closing(_Opened(source.folder, source.url)) as opened:
        if source.url is not None:
            with opened.engine.begin() as connection:
                copy_tables(connection, data)
                return {"database": TABLES, **_told_of(connection)}
        _copy_pages(opened.engine, data / DATABASE)
    _close_up(data / DATABASE)
    with contextlib.closing(_Opened(data, None)) as opened, opened.engine.begin() as connection:
        if problem := file_problem(connection, thorough=True):
            raise StoreDamaged(f"its pages are not whole ({problem})", DATABASE)
        return {"database": PAGES, **_told_of(connection)}


class _Opened:
    """A database that is read, for the length of a block."""

    def __init__(self, folder: Path, url: str | None) -> None:
        self.engine = reading_engine(folder, url)

    def close(self) -> None:
        """Let it go."""
        self.engine.dispose()


def _told_of(connection: Connection) -> dict[str, Any]:
    """What the manifest says of a database."""
    return {
        "schema": schema_of(connection),
        "store": identity_of(connection),
        "ends": asdict(ends_of(connection)),
    }


def _copy_pages(engine: Engine, path: Path) -> None:
    """Copy a database that may be written meanwhile; the copy is that of one moment."""
    raw = engine.raw_connection()
    try:
        with contextlib.closing(sqlite3.connect(path)) as target:
            origin: Any = raw.driver_connection
            origin.backup(target)
    finally:
        raw.close()


def _close_up(path: Path) -> None:
    """Make one file of a copied database, without a log beside it, and put it on the disk."""
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode=DELETE").fetchall()
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def _copy_folder(folder: Path, data: Path, previous: Path | None) -> None:
    """Copy the files beside the database: attachments, journal, keys, what there is."""
    for name in _wanted(folder):
        with contextlib.suppress(FileNotFoundError):  # gone between the look and the copy
            _copy_or_share(folder / name, data / name, previous and previous / name)


def _wanted(folder: Path) -> Iterator[str]:
    for path in sorted(folder.iterdir()):
        if path.name in _NOT_COPIED or path.is_symlink():
            continue
        inner = files_under(path) if path.is_dir() else ("",)
        for name in inner:
            whole = f"{path.name}/{name}" if name else path.name
            if not whole.endswith(_PASSING):
                yield whole


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    write_whole(target, lumps_of(source), mode=source.stat().st_mode & 0o777)


def _copy_or_share(source: Path, target: Path, previous: Path | None) -> None:
    """Share a file with the backup before where that has the same; copy it elsewhere.

    Attachments and the older files of the journal never change, so that they are on the
    disk of the backups once.
    """
    target.parent.mkdir(parents=True, exist_ok=True)
    if previous is not None and _is_same(source, previous):
        with contextlib.suppress(OSError):  # a disk without links
            os.link(previous, target)
            return
    _copy(source, target)


def _is_same(source: Path, previous: Path) -> bool:
    """Whether a file of the backup before can stand for the one in the folder."""
    if not previous.is_file() or previous.stat().st_size != source.stat().st_size:
        return False
    if source.parent.name == ATTACHMENTS:
        return True  # it was held to its name in a drill, which the live one was not
    return filecmp.cmp(source, previous, shallow=False)


def _files(data: Path) -> dict[str, dict[str, Any]]:
    """Size and sum of each file; an attachment is named by its sum, which the drill holds it to."""
    found = {}
    for name in files_under(data):
        path = data / name
        is_named = name.startswith(f"{ATTACHMENTS}/")
        sha256 = path.name if is_named else file_sha256(path)
        found[name] = {"size": path.stat().st_size, "sha256": sha256}
    return found
