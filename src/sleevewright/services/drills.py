"""Use cases: restore the newest backup into a scratch folder, and say how the backups stand.

A drill does everything that a restoring does: it holds each file against the manifest,
opens the store, verifies every chain, and holds its ends against those of the live store.
"""

from __future__ import annotations

import multiprocessing
import secrets
import time
from concurrent.futures import BrokenExecutor, ProcessPoolExecutor
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
    url_of,
)
from sleevewright.services.bench import Bench
from sleevewright.store.backup_manifest import Backup, backup_folders, time_of
from sleevewright.store.examining import Ends
from sleevewright.store.rehearsing import Rehearsed, give_way, rehearse
from sleevewright.store.tables import drill as drill_table

BESIDE = 20_000
"""Records from which on a drill has a process of its own: it would be felt at the bench."""

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
        name, found = backup.name, _rehearsed(bench, backup)
    except SleevewrightError as wrong:
        rows = list_backups(bench)
        name, found = rows[0].name if rows else "", Rehearsed(None, str(wrong))
    seconds = time.monotonic() - began
    state, text = (BAD, found.problem) if found.ends is None else (GOOD, _held(found.ends))
    done = Drilled(secrets.token_hex(8), bench.now(), seconds, state, text, name)
    _keep(bench, done)
    return done


def _held(ends: Ends) -> str:
    return f"{ends.jobs} jobs, {ends.records} records, {ends.seals} seals: every chain verified"


def _rehearsed(bench: Bench, backup: Backup) -> Rehearsed:
    """Rehearse here, or in a process of its own where that takes long."""
    asked = (bench.folder, url_of(bench), backup.path)
    if int(backup.manifest["ends"]["records"]) < BESIDE:
        return rehearse(*asked)
    alone = multiprocessing.get_context("spawn")
    try:
        with ProcessPoolExecutor(1, mp_context=alone, initializer=give_way) as pool:
            return pool.submit(rehearse, *asked).result()
    except BrokenExecutor:
        return Rehearsed(None, "The process of the drill ended before it was done.")


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
