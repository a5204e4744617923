"""Use cases: make a backup, list them, restore one, and say how they stand.

A backup is good only after it was restored in a drill (:mod:`sleevewright.services.drills`).
"""

from __future__ import annotations

import shutil
import threading
import time
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection, delete, insert, select, update

from sleevewright import __version__
from sleevewright.errors import InputError, NotFound
from sleevewright.services.bench import Bench, opened
from sleevewright.store.backup import HOME, Source, copy_backup, make_backup, sweep
from sleevewright.store.backup_manifest import Backup, backup_folders, read_backup, time_of
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.lock import FolderLock
from sleevewright.store.restoring import Restored, Wish, restore_backup
from sleevewright.store.rotation import kept
from sleevewright.store.tables import backup as backup_table
from sleevewright.store.tables import setting as setting_table
from sleevewright.store.wholefile import UNFINISHED, sync_folder

SECOND_FOLDER = "backup_folder"
"""Setting: a second folder, as on a stick, into which each backup is copied."""

MADE, GOOD, BAD = "made", "good", "bad"
FAILED = "failed-"
"""How the name of a backup begins that there is not."""
one_at_a_time = threading.RLock()
"""Backups, drills and the letting go of old ones follow each other."""


@dataclass(frozen=True)
class BackupRow:
    """A backup as it lies in its folder, with what is known of it."""

    name: str
    path: Path
    made: str
    size: int
    state: str  # "made" until a drill restored it: then "good" or "bad"
    text: str


def home_of(folder: Path) -> Path:
    """Folder of the backups of a data folder."""
    return folder / HOME


def back_up(bench: Bench, *, reason: str = "backup") -> BackupRow:
    """Copy everything, seal what is new, let go what is too old.

    A seal says that there is such a backup, so it is made once the copy is.

    Parameters
    ----------
    bench : Bench
        The open bench; it goes on taking readings meanwhile.
    reason : str
        What the seal says.

    Returns
    -------
    BackupRow
        The new backup; what kept a second copy from being made stands in its text.

    Raises
    ------
    StoreDamaged
        If the database is damaged.
    InputError
        If the disk refuses; nothing that looks like a backup is left.
    """
    with one_at_a_time:
        began = time.monotonic()
        home = home_of(bench.folder)
        source = Source(bench.folder, url_of(bench))
        good = _newest_good(bench)
        try:
            made = make_backup(
                source, home, made=bench.clock(), code_version=__version__, previous=good
            )
        except OSError as refused:
            why = refused.strerror or "not writable"
            raise InputError(str(home), why, "", "a disk with room for a backup") from refused
        bench.store.seal(reason)
        text = _second_copy(bench, made)
        seconds = time.monotonic() - began
        row = BackupRow(made.name, made.path, made.made, made.size, MADE, text)
        bench.store.write(lambda connection: _keep_row(connection, row, seconds))
        let_go(bench, home)
        return row


def url_of(bench: Bench) -> str | None:
    """The database on a server that a bench uses; nothing where it is the folder's file."""
    url = bench.store.read(lambda connection: connection.engine.url)
    return None if url.drivername.startswith("sqlite") else url.render_as_string(False)


def setting_text(bench: Bench, key: str) -> str:
    """A setting as it was typed; empty where none was."""
    query = select(setting_table.c.value).where(setting_table.c.key == key)
    return str(
        bench.store.read(lambda connection: connection.execute(query).scalar()) or ""
    ).strip()


def _second_copy(bench: Bench, made: Backup) -> str:
    """Copy a backup to the second folder; why that was not done, if it was not."""
    told = setting_text(bench, SECOND_FOLDER)
    if not told:
        return ""
    place = Path(told).expanduser()
    if not place.is_dir():
        return f"There was no second copy: the folder {told} is not there."
    try:
        copy_backup(made, place)
        let_go(bench, place)
    except (OSError, StoreDamaged) as refused:
        return f"There was no second copy in {told}: {refused}."
    return ""


def _keep_row(connection: Connection, row: BackupRow, seconds: float) -> None:
    values = {
        "made": row.made, "path": str(row.path), "size": row.size, "seconds": seconds,
        "state": row.state, "text": row.text,
    }  # fmt: skip
    connection.execute(delete(backup_table).where(backup_table.c.id == row.name))
    connection.execute(insert(backup_table).values(id=row.name, **values))


def note_failure(bench: Bench, text: str) -> None:
    """Keep that a backup failed, for the first screen; of several failures the last."""
    row = BackupRow(f"{FAILED}{bench.now()}", Path(), bench.now(), 0, BAD, text)

    def work(connection: Connection) -> None:
        connection.execute(delete(backup_table).where(backup_table.c.id.like(f"{FAILED}%")))
        _keep_row(connection, row, 0.0)

    bench.store.write(work)


def failed_backup(bench: Bench) -> str:
    """Why the last backup failed; empty where it did not."""
    query = select(backup_table).order_by(backup_table.c.made.desc()).limit(1)
    row = bench.store.read(lambda connection: connection.execute(query).first())
    return str(row.text) if row is not None and row.id.startswith(FAILED) else ""


def let_go(bench: Bench, home: Path) -> None:
    """Delete the backups that are too old; the newest good one always stays."""
    states = _states(bench)
    by_time: dict[datetime, list[Path]] = {}
    for path in backup_folders(home):
        moment = time_of(path.name)
        if moment is not None:
            by_time.setdefault(moment, []).append(path)
    stays = kept(by_time, bench.clock())
    good = [path for path in backup_folders(home) if states.get(path.name, ("",))[0] == GOOD]
    for moment, paths in by_time.items():
        for path in paths:
            if moment not in stays and path not in good[-1:]:
                _remove(path)


def _remove(path: Path) -> None:
    """Take away a backup; half of one never keeps its name."""
    going = path.with_name(f"{path.name}{UNFINISHED}")
    path.rename(going)
    shutil.rmtree(going, ignore_errors=True)


def _states(bench: Bench) -> Mapping[str, tuple[str, str]]:
    query = select(backup_table.c.id, backup_table.c.state, backup_table.c.text)
    rows = bench.store.read(lambda connection: connection.execute(query).all())
    return {row.id: (row.state, row.text) for row in rows}


def _newest_good(bench: Bench) -> Path | None:
    states = _states(bench)
    for row in reversed(backup_folders(home_of(bench.folder))):
        if states.get(row.name, ("",))[0] == GOOD:
            return row
    return None


def mark_backup(bench: Bench, name: str, state: str, text: str) -> None:
    """Note what a drill found."""
    values = {"state": state, "text": text}
    change = update(backup_table).where(backup_table.c.id == name).values(values)
    bench.store.write(lambda connection: connection.execute(change))


def list_backups(bench: Bench) -> tuple[BackupRow, ...]:
    """Backups of the data folder, newest first; one whose manifest is damaged is shown as bad."""
    states = _states(bench)
    rows = []
    for path in reversed(backup_folders(home_of(bench.folder))):
        state, text = states.get(path.name, (MADE, ""))
        try:
            one = read_backup(path)
            rows.append(BackupRow(one.name, path, one.made, one.size, state, text))
        except StoreDamaged as damaged:
            rows.append(BackupRow(path.name, path, "", 0, BAD, damaged.what))
    return tuple(rows)


def find_backup(told: Path | None, folder: Path) -> Backup:
    """The backup that is meant: a folder of one, a folder of several, or the newest here.

    Raises
    ------
    NotFound
        If there is none.
    """
    place = home_of(folder) if told is None else told
    if told is not None and not told.exists() and time_of(told.name):
        place = home_of(folder) / told.name
    if time_of(place.name) and place.is_dir():
        return read_backup(place)
    for home in (place, home_of(place)):
        if found := backup_folders(home):
            return read_backup(found[-1])
    raise NotFound("backup", str(place))


def restore(
    told: Path | None, folder: Path, *, url: str | None = None, replace: bool = False, now: datetime
) -> tuple[Restored, Path | None]:
    """Make a data folder of a backup; what lay there before is moved aside, never deleted.

    Parameters
    ----------
    told : Path | None
        A backup, or a folder with backups, of which the newest is taken; nothing for the
        newest of the data folder itself.
    folder : Path
        The data folder that is to be.
    url : str | None
        Database, for a backup of one on a server.
    replace : bool
        Whether a folder that is not empty may be moved aside; its journal is replayed.
    now : datetime
        This moment; devices take the store for another one from now on.

    Returns
    -------
    tuple[Restored, Path | None]
        What was restored, and where the old folder lies now.

    Raises
    ------
    InputError
        If the folder is not empty and may not be replaced, or the disk refuses.
    StoreLocked
        If a bench runs on it.
    StoreDamaged
        If the backup is damaged; everything is as it was then.
    """
    try:
        done = _restored(find_backup(told, folder), folder, Wish(url, None, now), replace=replace)
        with opened(folder, url=url):  # the shelf and the search are reckoned anew
            return done
    except OSError as refused:
        reason = refused.strerror or "not writable"
        raise InputError(str(folder), reason, "", "a disk with room for the data") from refused


def _restored(
    backup: Backup, folder: Path, wish: Wish, *, replace: bool
) -> tuple[Restored, Path | None]:
    if not folder.exists() or not any(folder.iterdir()):
        return restore_backup(backup, folder, wish), None
    if not replace:
        hint = "With --replace the folder is moved aside first and its journal replayed."
        raise InputError("folder", str(folder), "", "an empty folder, or none", hint)
    moment = wish.moment or datetime.now(UTC)
    lock = FolderLock(folder)
    try:
        fresh = _beside(folder, f"restored-{moment:%Y%m%dT%H%M%SZ}")
        done = restore_backup(backup, fresh, Wish(wish.url, folder, wish.moment))
    finally:
        lock.release()
    aside = _beside(folder, f"damaged-{moment:%Y%m%dT%H%M%SZ}")
    folder.rename(aside)
    fresh.rename(folder)
    if home_of(aside).is_dir() and not home_of(folder).exists():
        home_of(aside).rename(home_of(folder))
    sync_folder(folder.parent)
    return Restored(folder, done.ends, done.replayed, done.remarks, done.identity), aside


def _beside(folder: Path, told: str) -> Path:
    """A free name beside a folder."""
    path, count = folder.with_name(f"{folder.name}.{told}"), 1
    while path.exists():
        count += 1
        path = folder.with_name(f"{folder.name}.{told}-{count}")
    return path


def tidy(folder: Path) -> None:
    """Take away what an interrupted backup left."""
    sweep(home_of(folder))
