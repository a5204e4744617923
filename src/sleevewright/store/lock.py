"""Who writes in a data folder: a lock of the operating system, and a text that names the holder.

The lock goes when its process ends, however it ends; the text may stay behind and means
nothing without the lock.
"""

from __future__ import annotations

import contextlib
import importlib
import json
import os
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

from sleevewright.store.errors import StoreLocked

LOCK = "writer.lock"
WHO = "writer.json"
_PATIENCE = 0.5
"""Seconds that a start waits, as a look at the lock holds it for a moment."""


@dataclass(frozen=True)
class Writer:
    """The process that writes in a folder, and where it answers, if anywhere."""

    pid: int
    address: str


class FolderLock:
    """The lock on a data folder, held from its making until ``release``."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._file = _open(folder)
        until = time.monotonic() + _PATIENCE
        while not _take(self._file):
            if time.monotonic() > until:
                self._file.close()
                held = _told(folder)
                raise StoreLocked(str(folder), held.pid, held.address)
            time.sleep(0.01)
        self.announce("")

    def announce(self, address: str) -> None:
        """Tell others where this process answers."""
        text = json.dumps({"pid": os.getpid(), "address": address})
        fresh = self._folder / f"{WHO}.new"
        fresh.write_text(text, encoding="utf-8")
        fresh.replace(self._folder / WHO)

    def release(self) -> None:
        """Let the folder go."""
        if self._file.closed:
            return
        with contextlib.suppress(OSError):
            (self._folder / WHO).unlink(missing_ok=True)
        _give(self._file)
        self._file.close()


def find_writer(folder: Path) -> Writer | None:
    """The process that writes in a folder now; nothing where none does."""
    if not (folder / LOCK).exists():
        return None
    with _open(folder) as file:
        if _take(file):
            _give(file)
            return None
    return _told(folder)


def _open(folder: Path) -> BinaryIO:
    return (folder / LOCK).open("ab")


def _told(folder: Path) -> Writer:
    """What the text says; it may just be being written."""
    try:
        told = json.loads((folder / WHO).read_text(encoding="utf-8"))
        return Writer(int(told["pid"]), str(told["address"]))
    except (OSError, ValueError, KeyError, TypeError):
        return Writer(0, "")


def _take(file: BinaryIO) -> bool:
    """Take the lock if it is free."""
    try:
        if os.name == "nt":
            system: Any = importlib.import_module("msvcrt")
            file.seek(0)
            system.locking(file.fileno(), system.LK_NBLCK, 1)
        else:
            system = importlib.import_module("fcntl")
            system.flock(file.fileno(), system.LOCK_EX | system.LOCK_NB)
    except OSError:
        return False
    return True


def _give(file: BinaryIO) -> None:
    if os.name == "nt":
        system: Any = importlib.import_module("msvcrt")
        file.seek(0)
        system.locking(file.fileno(), system.LK_UNLCK, 1)
    else:
        system = importlib.import_module("fcntl")
        system.flock(file.fileno(), system.LOCK_UN)
