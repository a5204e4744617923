"""Attachments held against the records that speak of them, and brought from another folder."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

from sqlalchemy import Connection, insert, select

from sleevewright.jobs.records import ATTACHMENT
from sleevewright.store.attachments import FOLDER, attachment_names, type_of
from sleevewright.store.tables import attachment, record
from sleevewright.store.wholefile import file_sha256, lumps_of, write_whole


def attachments_told(connection: Connection) -> dict[str, tuple[str, str]]:
    """Hash of each attachment that a record speaks of, with a job of it and when it came."""
    query = select(record.c.job, record.c.received, record.c.body)
    found: dict[str, tuple[str, str]] = {}
    for row in connection.execute(query.where(record.c.kind == ATTACHMENT)):
        found.setdefault(str(json.loads(row.body)["sha256"]), (row.job, row.received))
    return found


def missing_attachments(connection: Connection, folder: Path) -> tuple[str, ...]:
    """What records speak of and the folder does not have, in words."""
    there = set(attachment_names(folder))
    told = attachments_told(connection)
    return tuple(f"{name[:12]} of job {told[name][0]}" for name in sorted(set(told) - there))


def bring_attachments(source: Path, target: Path) -> None:
    """Copy attachments that a folder lacks from another, those that are what they were."""
    there = set(attachment_names(target))
    for name in attachment_names(source):
        path = source / FOLDER / name
        if name not in there and file_sha256(path) == name:
            (target / FOLDER).mkdir(exist_ok=True)
            write_whole(target / FOLDER / name, lumps_of(path))


def note_attachments(connection: Connection, folder: Path) -> None:
    """Write the rows of attachments that are in the folder and have none."""
    known = set(connection.execute(select(attachment.c.sha256)).scalars())
    told = attachments_told(connection)
    for name in attachment_names(folder):
        if name in told and name not in known:
            path = folder / FOLDER / name
            row = {"size": path.stat().st_size, "type": type_of(_beginning(path))}
            received = told[name][1]
            connection.execute(insert(attachment).values(sha256=name, received=received, **row))


def _beginning(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(16)


def bring_missing(source: Path, target: Path) -> None:
    """Copy files that a folder lacks from another, as they are; what is there stays."""
    for path in _files(source):
        place = target / path.relative_to(source)
        if not place.exists():
            place.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(path, place)


def _files(folder: Path) -> Iterator[Path]:
    if folder.is_dir():
        yield from (path for path in folder.rglob("*") if path.is_file() and not path.is_symlink())
