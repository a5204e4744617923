"""Use cases: restore the newest backup into a scratch folder, and say how the backups stand.

A drill does everything that a restoring does: it holds each file against the manifest,
opens the store, verifies every chain, and holds its ends against those of the live store.
"""

from __future__ import annotations

import secrets
import shutil
import time
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sqlalchemy import insert, select

from sleevewright.errors import SleevewrightError
from sleevewright.services.backups import (
    BAD,
    GOOD,
    failed_backup,
    find_backup,
    home_of,
    list_backups,
    mark_backup,
    one_at_a_time,
)
from sleevewright.services.bench import Bench
from sleevewright.store.attached import missing_attachments
from sleevewright.store.backup import SCRATCH
from sleevewright.store.backup_manifest import Backup, backup_folders, time_of
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.examining import Ends, ends_of, first_difference
from sleevewright.store.restoring import Wish, unpacked
from sleevewright.store.store import Store, open_store
from sleevewright.store.tables import drill as drill_table

STALE = timedelta(hours=36)
"""A drill or a backup older than this is no evidence of today's; a night may be missed."""


@dataclass(frozen=True)
class Drilled:
    """What a drill found."""

    id: str
    made: str
    seconds: float
    state: str  # "good" or "bad"
    text: str
    backup: str


@dataclass(frozen=True)
class Standing:
    """How the backups stand, as the first screen says it."""

    words: str
    is_good: bool
    when: str  # of the last good drill, ISO, UTC; empty where there was none


def drill(bench: Bench) -> Drilled:
    """Restore the newest backup into a scratch folder and hold it against the live store.

    Returns
    -------
    Drilled
        Good, or what is wrong with the backup; kept beside the backups either way.
    """
    with one_at_a_time:
        return _drilled(bench)


def _drilled(bench: Bench) -> Drilled:
    began, name = time.monotonic(), ""
    try:
        backup = find_backup(None, bench.folder)
        name = backup.name
        ends = _rehearsed(bench, backup)
        state = GOOD
        text = f"{ends.jobs} jobs, {ends.records} records, {ends.seals} seals: every chain verified"
    except SleevewrightError as wrong:
        state, text = BAD, str(wrong)
    except OSError as refused:
        state, text = BAD, f"The disk refused the drill: {refused}."
    if not name and state == BAD:
        rows = list_backups(bench)
        name = rows[0].name if rows else ""
    seconds = time.monotonic() - began
    done = Drilled(secrets.token_hex(8), bench.now(), seconds, state, text, name)
    _keep(bench, done)
    return done


def _rehearsed(bench: Bench, backup: Backup) -> Ends:
    """The ends of what was restored; raises at the first thing that is wrong."""
    scratch = bench.folder / SCRATCH
    shutil.rmtree(scratch, ignore_errors=True)
    scratch.mkdir()
    try:
        with unpacked(backup, scratch, Wish()) as (folder, _written):
            restored = open_store(folder)
            try:
                return _compared(bench, restored)
            finally:
                restored.close()
    finally:
        shutil.rmtree(scratch, ignore_errors=True)


def _compared(bench: Bench, restored: Store) -> Ends:
    verdict = restored.verify_all()
    if not verdict.is_good:
        raise StoreDamaged(verdict.problem, "in the restored backup")
    job = restored.read(lambda mine: bench.store.read(lambda live: first_difference(mine, live)))
    if job:
        raise StoreDamaged(f"job {job} of the backup ends in what the live store does not have")
    missing = restored.read(lambda mine: missing_attachments(mine, restored.folder))
    if missing:
        raise StoreDamaged(f"attachments are not in the backup: {', '.join(missing)}")
    return restored.read(ends_of)


def _keep(bench: Bench, done: Drilled) -> None:
    row = {
        "id": done.id, "made": done.made, "seconds": done.seconds, "state": done.state,
        "text": done.text,
    }  # fmt: skip
    bench.store.write(lambda connection: connection.execute(insert(drill_table).values(row)))
    if done.backup:
        mark_backup(bench, done.backup, done.state, done.text)


def last_drill(bench: Bench, state: str | None = None) -> Drilled | None:
    """The last drill, or the last of a state."""
    query = select(drill_table).order_by(drill_table.c.made.desc()).limit(1)
    if state is not None:
        query = query.where(drill_table.c.state == state)
    row = bench.store.read(lambda connection: connection.execute(query).first())
    return None if row is None else Drilled(row.id, row.made, row.seconds, row.state, row.text, "")


def standing(bench: Bench) -> Standing:
    """How the backups stand; good only where one was restored of late and found whole."""
    last, good = last_drill(bench), last_drill(bench, GOOD)
    when = "" if good is None else good.made
    if last is None:
        made = bool(list_backups(bench))
        words = "no backup was restored in a drill yet" if made else "no backup was made yet"
        return Standing(words, is_good=False, when=when)
    if last.state != GOOD:
        words = f"the last drill, {_said(last.made)}, found the backup bad: {last.text}"
        return Standing(words, is_good=False, when=when)
    words = f"last drill {_said(last.made)}, {last.seconds:.1f} s, {last.text}"
    if failed := failed_backup(bench):
        return Standing(f"the last backup failed: {failed}", is_good=False, when=when)
    newest = backup_folders(home_of(bench.folder))
    copied = time_of(newest[-1].name) if newest else None
    if bench.clock() - min(_moment(last.made), copied or _moment(last.made)) > STALE:
        return Standing(f"{words}; nothing since", is_good=False, when=when)
    return Standing(words, is_good=True, when=when)


def _moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


def _said(text: str) -> str:
    return f"{_moment(text).astimezone(UTC):%Y-%m-%d %H:%M} UTC"
