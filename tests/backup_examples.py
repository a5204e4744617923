"""A filled data folder for the tests of backups, and faults to put into them."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import insert

from sleevewright.jobs.records import JOB, VALUE, Draft
from sleevewright.services.bench import Bench
from sleevewright.services.keys import secret_of
from sleevewright.store import wholefile
from sleevewright.store.attachments import keep_attachment
from sleevewright.store.tables import person

NOW = datetime(2031, 5, 2, 8, 0, tzinfo=UTC)
JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00 invented photo" + bytes(range(256)) * 8


def drafts(job: str, count: int, *, start: int = 1) -> list[Draft]:
    """The opening of a job and values of it, or more values of it."""
    made = []
    for number in range(start, start + count):
        told: dict[str, Any] = {"cylinder": 0, "cell": f"note/{number}", "text": f"{number} thou"}
        kind = VALUE if number > 1 else JOB
        body = told if number > 1 else {"title": "invented", "cylinders": 1, "invented": True}
        identity = f"{int(job.partition('-')[2]):04x}{number:028x}"
        made.append(Draft(job, identity, "tablet-1", number, kind, body))
    return made


def fill(bench: Bench) -> None:
    """Two jobs, a photo, a person, a key."""
    bench.store.append(drafts("J-1", 40))
    bench.store.append(drafts("J-2", 15))
    keep_attachment(bench.folder, JPEG)
    secret_of(bench.folder, "session")
    row = {"key": "p1", "name": "Invented Person", "pin": None, "is_active": True, "since": "x"}
    bench.store.write(lambda connection: connection.execute(insert(person).values(row)))


def flip(path: Path, place: int, bit: int) -> None:
    """Flip one bit of a file."""
    with path.open("r+b") as file:
        file.seek(place)
        byte = file.read(1)[0]
        file.seek(place)
        file.write(bytes([byte ^ (1 << bit)]))


class Fault:
    """Fails the n-th sync of a file as a full disk does."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.left = -1
        self._real = os.fsync
        monkeypatch.setattr(wholefile.os, "fsync", self)

    def __call__(self, descriptor: int) -> None:
        """Sync, or fail when it is this one's turn."""
        self.left -= 1
        if self.left == 0:
            raise OSError(28, "No space left on device")
        self._real(descriptor)
