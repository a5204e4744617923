"""Commands that write, by name: done by the bench that runs on the folder, else here.

Every argument and every answer is a JSON object, so that it makes no difference where a
command is done.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import asdict
from pathlib import Path
from typing import Any, cast

from sqlalchemy.exc import DBAPIError

from sleevewright.errors import InputError, NotFound, clipped
from sleevewright.services.backups import back_up
from sleevewright.services.bench import Bench, opened
from sleevewright.services.calling import call
from sleevewright.services.drills import drill
from sleevewright.services.exchange import import_file
from sleevewright.services.journals import replay_journal
from sleevewright.services.unsent import import_unsent_file, is_unsent_file
from sleevewright.store.database import DATABASE
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.journal import store_named
from sleevewright.store.lock import find_writer
from sleevewright.store.store import Store, open_reader

Told = Mapping[str, Any]
OPENING = ("title", "units", "engine_kind", "cooling", "cylinders", "invented")


def _job_new(bench: Bench, told: Told) -> dict[str, Any]:
    """Open a job."""
    from sleevewright.services.jobs import open_job

    opening = {key: told[key] for key in OPENING if key in told}
    return {"job": open_job(bench, _text(told, "number", optional=True), opening)}


def _import(bench: Bench, told: Told) -> dict[str, Any]:
    """Take in a file of this machine: a job, or what waits on a device."""
    path = Path(_text(told, "path"))
    if is_unsent_file(path):
        return asdict(import_unsent_file(bench, path))
    return asdict(import_file(bench, path))


def _backup_make(bench: Bench, _told: Told) -> dict[str, Any]:
    """Make a backup."""
    made = back_up(bench)
    return {**asdict(made), "path": str(made.path)}


def _backup_drill(bench: Bench, _told: Told) -> dict[str, Any]:
    """Restore the newest backup into a scratch folder."""
    return asdict(drill(bench))


def _journal_replay(bench: Bench, _told: Told) -> dict[str, Any]:
    """Bring what the database lacks."""
    return {"new": replay_journal(bench)}


def _learned_accept(bench: Bench, told: Told) -> dict[str, Any]:
    """Let what was learned of a pairing count."""
    from sleevewright.services.learned import accept_habit
    from sleevewright.services.settings import units_of

    who, pin = _text(told, "person", optional=True), _text(told, "pin", optional=True)
    seen = _text(told, "digest", optional=True)
    made = accept_habit(bench, _text(told, "pairing"), person=who, pin=pin, digest=seen)
    return asdict(made) | {"units": units_of(bench)}


def _learned_revoke(bench: Bench, told: Told) -> dict[str, Any]:
    """Take an acceptance back."""
    from sleevewright.services.learned import revoke_habit

    who, pin = _text(told, "person", optional=True), _text(told, "pin", optional=True)
    number, reason = _text(told, "number"), _text(told, "reason")
    return asdict(revoke_habit(bench, number, reason, person=who, pin=pin))


def _outlines_keep(bench: Bench, told: Told) -> dict[str, Any]:
    """Keep windows out of a drawing of this machine as a port map."""
    from sleevewright.services.outlines_in import outlines_told
    from sleevewright.services.outlines_kept import keep_outlines

    read = outlines_told(told)
    number, key = _text(told, "number"), _text(told, "map")
    kept = keep_outlines(bench, number, read, key=key, cylinder=int(told.get("cylinder", 1)))
    return {"job": number, "map": key, "ports": list(kept), "words": list(read.words)}


COMMANDS: Mapping[str, Callable[[Bench, Told], dict[str, Any]]] = {
    "job-new": _job_new,
    "import": _import,
    "backup-make": _backup_make,
    "backup-drill": _backup_drill,
    "journal-replay": _journal_replay,
    "learned-accept": _learned_accept,
    "learned-revoke": _learned_revoke,
    "outlines-keep": _outlines_keep,
}


def do(bench: Bench, name: str, told: Told) -> dict[str, Any]:
    """Do a command on an open bench.

    Raises
    ------
    NotFound
        If there is no such command.
    """
    command = COMMANDS.get(name)
    if command is None:
        raise NotFound("command", name, tuple(COMMANDS))
    return command(bench, told)


def run(folder: Path, name: str, told: Told, *, url: str | None = None) -> dict[str, Any]:
    """Do a command where the folder is written: in the bench that runs, else here.

    Raises
    ------
    SleevewrightError
        If it is refused, here or there.
    """
    writer = find_writer(folder) if folder.is_dir() else None
    if writer is not None:
        return call(folder, writer, name, told)
    if name.startswith("backup-"):
        _refuse_nothing(folder, url)  # a backup of the wrong folder is worse than none
    with _told_plainly(folder), opened(folder, url=url) as bench:
        return do(bench, name, told)


@contextmanager
def reading(folder: Path, *, url: str | None = None) -> Iterator[Bench]:
    """A bench that can only read, beside whoever writes.

    Raises
    ------
    InputError
        If nothing was ever kept in the folder.
    StoreDamaged
        If what is there cannot be read.
    """
    _refuse_nothing(folder, url)
    with _told_plainly(folder):
        reader = open_reader(folder, url=url)
        try:
            # A reader has all of a store that reading use cases ask for.
            yield Bench(cast("Store", reader))
        finally:
            reader.close()


def _refuse_nothing(folder: Path, url: str | None) -> None:
    """There has to be a store in the folder."""
    if url is not None or (folder / DATABASE).is_file():
        return
    if store_named(folder):
        raise StoreDamaged("its database is missing, while the journal is there", str(folder))
    hint = "A first job makes one: sleevewright job new."
    raise InputError("data folder", str(folder), "", "a folder in which a bench was", hint)


@contextmanager
def _told_plainly(folder: Path) -> Iterator[None]:
    """What the disk or the database refuses, in words."""
    try:
        yield
    except DBAPIError as error:
        raise StoreDamaged(f"the database fails ({error.orig})", str(folder)) from error
    except OSError as refused:
        place = str(refused.filename or folder)
        reason = refused.strerror or "refused"
        raise InputError(place, reason, "", "a place that can be read and written") from refused


def _text(told: Told, key: str, *, optional: bool = False) -> str:
    said = told.get(key, "" if optional else None)
    if not isinstance(said, str):
        raise InputError(key, clipped(repr(said)), "", "a text")
    return said
