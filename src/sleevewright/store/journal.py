"""The journal: every kept record a second time, as lines of JSON on the disk before the commit.

A journal is a row of files, ``journal-00000001.jsonl`` and so on, each begun by a line that
names the store.  What one commit keeps is one lot; each line tells its lot and how many
lines of the lot are left, so that a lot which the power cut in two is seen as such.  The
database remembers up to which place of the journal it holds everything; a start, and a
restored backup as well, replays from there.
"""

from __future__ import annotations

import errno
import importlib
import json
import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

from sleevewright.store.chain import Link, Seal
from sleevewright.store.errors import StoreDamaged, StoreFull

_ENCODED = json.JSONEncoder(separators=(",", ":"), ensure_ascii=False).encode
FOLDER = "journal"
_LONGEST = 8_000_000
"""Bytes after which a new file is begun."""
_NO_ROOM = {errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)}

Entry = Link | Seal


class Disk:
    """The few things that a journal asks of a file; tests put faults in their place."""

    def write(self, file: BinaryIO, data: bytes) -> int:
        """Write some of the bytes at the end; how many were written."""
        return file.write(data)

    def sync(self, file: BinaryIO) -> None:
        """Wait until what was written is on the disk."""
        if sys.platform == "darwin":
            system: Any = importlib.import_module("fcntl")
            system.fcntl(file.fileno(), system.F_FULLFSYNC)
        else:
            getattr(os, "fdatasync", os.fsync)(file.fileno())

    def truncate(self, file: BinaryIO, length: int) -> None:
        """Cut the file to a length."""
        file.truncate(length)
        os.fsync(file.fileno())

    def sync_folder(self, folder: Path) -> None:
        """Wait until the names of a folder's files are on the disk."""
        if os.name == "nt":
            return
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@dataclass(frozen=True)
class Mark:
    """A place in the journal: up to here the database holds everything."""

    file: int = 0
    length: int = 0
    lot: int = 0

    def __str__(self) -> str:
        """As the database keeps it."""
        return f"{self.file}:{self.length}:{self.lot}"

    @classmethod
    def read(cls, text: str) -> Mark:
        """From the text that it is kept as."""
        return cls(*map(int, text.split(":")))


@dataclass(frozen=True)
class Lot:
    """What one commit kept, and the place after it."""

    entries: tuple[Entry, ...]
    mark: Mark


class Journal:
    """The journal of a store, open for adding after ``mark``."""

    def __init__(
        self, folder: Path, store: str, mark: Mark, disk: Disk, *, is_lost: bool = False
    ) -> None:
        self._folder = folder / FOLDER
        self._store = store
        self._disk = disk
        self._mark = mark
        self._file: BinaryIO | None = None
        self.is_ahead = False  # it holds a lot that is not known to be committed
        self._is_lost = is_lost

    @property
    def caution(self) -> str:
        """What the keeper should know of it; empty where all is well."""
        if not self._is_lost:
            return ""
        return "The journal is shorter than the database; it goes on in a fresh file."

    @property
    def mark(self) -> Mark:
        """The place after the last lot that was kept."""
        return self._mark

    def add(self, entries: Sequence[Entry]) -> Mark:
        """Put a lot on the disk; the place after it, which counts once ``keep`` is told.

        Raises
        ------
        StoreFull
            If there is no room; the journal is as it was.
        OSError
            If the disk fails; what it holds is not known then.
        """
        lot = self._mark.lot + 1
        data = b"".join(
            _line(lot, len(entries) - place, entry) for place, entry in enumerate(entries, 1)
        )
        try:
            file = self._opened()
            start = self._mark.length
            self.is_ahead = True
            self._write(file, data)
        except OSError as error:
            if error.errno not in _NO_ROOM:
                raise
            self.take_back()
            raise StoreFull(str(error)) from error
        self._disk.sync(file)
        return Mark(self._mark.file, start + len(data), lot)

    def keep(self, mark: Mark) -> None:
        """The lot before this place is in the database too."""
        self._mark = mark
        self.is_ahead = False

    def take_back(self) -> None:
        """Cut off what was added since the last kept lot."""
        if self._file is not None and self.is_ahead:
            self._disk.truncate(self._file, self._mark.length)
        self.is_ahead = False

    def settle(self) -> None:
        """Cut off a torn lot, and drop a file whose beginning never reached the disk."""
        for number in numbers(self._folder):
            if number > self._mark.file:
                file_of(self._folder, number).unlink()
        path = file_of(self._folder, self._mark.file)
        if self._mark.file and path.stat().st_size > self._mark.length:
            with path.open("ab", buffering=0) as file:
                self._disk.truncate(file, self._mark.length)

    def close(self) -> None:
        """Close the file."""
        if self._file is not None:
            self._file.close()
            self._file = None

    def _write(self, file: BinaryIO, data: bytes) -> None:
        while data:
            data = data[self._disk.write(file, data) :]

    def _opened(self) -> BinaryIO:
        """The file to add to: the last one, or a fresh one where that is long or there is none."""
        is_over = self._mark.length > _LONGEST or not self._mark.file
        if self._file is not None and not is_over:
            return self._file
        self.close()
        if is_over or self._is_lost:
            self._file = self._begun()
            self._is_lost = False
            return self._file
        self._file = file_of(self._folder, self._mark.file).open("ab", buffering=0)
        return self._file

    def _begun(self) -> BinaryIO:
        """A fresh file with its first line; where that fails, nothing of it is left behind."""
        self._folder.mkdir(parents=True, exist_ok=True)
        number = max(self._mark.file, *numbers(self._folder), 0) + 1
        head = _json({"journal": 1, "store": self._store, "file": number})
        path = file_of(self._folder, number)
        file = path.open("ab", buffering=0)
        try:
            self._disk.truncate(file, 0)
            self._write(file, head)
            self._disk.sync(file)
            self._disk.sync_folder(self._folder)
            self._disk.sync_folder(self._folder.parent)
        except BaseException:
            file.close()
            with suppress(OSError):  # one that stays is passed over when the journal is read
                path.unlink()
            raise
        self._mark = Mark(number, len(head), self._mark.lot)
        return file


def file_of(folder: Path, number: int) -> Path:
    """Path of a file of the journal."""
    return folder / f"journal-{number:08d}.jsonl"


def numbers(folder: Path) -> list[int]:
    """Numbers of the files of a journal, in order."""
    return sorted(int(path.stem.rpartition("-")[2]) for path in folder.glob("journal-*.jsonl"))


def is_short(folder: Path, mark: Mark) -> bool:
    """Whether the journal lacks what the database holds: it was lost, or cut."""
    if not mark.file:
        return False
    path = file_of(folder / FOLDER, mark.file)
    return not path.exists() or path.stat().st_size < mark.length


def store_named(folder: Path) -> str:
    """The store whose journal lies in a folder; empty where none does."""
    for number in numbers(folder / FOLDER):
        with file_of(folder / FOLDER, number).open("rb") as file:
            told = _told_store(file.readline())
        if told:
            return told
    return ""


def _told_store(line: bytes) -> str:
    try:
        return str(json.loads(line)["store"])
    except (ValueError, KeyError, TypeError):
        return ""


def _json(item: Mapping[str, Any]) -> bytes:
    return f"{_ENCODED(item)}\n".encode()


def _line(lot: int, left: int, entry: Entry) -> bytes:
    kind = "record" if isinstance(entry, Link) else "seal"
    return _json({"lot": lot, "left": left, kind: vars(entry)})


@dataclass(frozen=True)
class _Line:
    lot: int
    left: int
    entry: Entry


def lots_after(folder: Path, store: str, mark: Mark) -> Iterator[Lot]:
    """Whole lots after a place, through all files; a last one that was cut in two is left out.

    Raises
    ------
    StoreDamaged
        If the journal is another store's, or a line other than in the last lot is unreadable.
    """
    home = folder / FOLDER
    wanted = [one for one in numbers(home) if one >= mark.file]
    for number in wanted:
        data = file_of(home, number).read_bytes()
        is_last = number == wanted[-1]
        start = mark.length if number == mark.file else 0
        head = _head(data, home, number, store)
        if head is None and not start and not _has_later(data, mark.lot):
            continue  # its beginning was never on the disk, so nothing in it was acknowledged
        start = start or head or 0
        for lot in _lots(data, start, number, mark.lot, is_last=is_last):
            mark = lot.mark
            yield lot


def _head(data: bytes, home: Path, number: int, store: str) -> int | None:
    """Length of the first line, after a look whether it is of this store."""
    end = data.find(b"\n") + 1
    told = _told_store(data[:end])
    if told and told != store:
        raise StoreDamaged("the journal is that of another store", file_of(home, number).name)
    return end if told else None


def _lots(data: bytes, start: int, number: int, last: int, *, is_last: bool) -> Iterator[Lot]:
    waiting: list[Entry] = []
    place = start
    while place < len(data):
        end = data.find(b"\n", place) + 1
        line = _read(data[place:end]) if end else None
        fits = line is not None and line.lot == last + 1
        if line is None or not fits:
            if is_last and not _has_later(data[place:], last + 1):
                return
            raise StoreDamaged("a line of the journal is unreadable", f"file {number}, {place}")
        place = end
        waiting.append(line.entry)
        if line.left == 0:
            last += 1
            yield Lot(tuple(waiting), Mark(number, place, last))
            waiting = []


def _has_later(data: bytes, torn: int) -> bool:
    """Whether a lot after the torn one is there: then the tear is no power cut but damage."""
    lines = (_read(one + b"\n") for one in data.split(b"\n"))
    return any(line is not None and line.lot > torn for line in lines)


def _read(line: bytes) -> _Line | None:
    try:
        told = json.loads(line)
        if "record" in told:
            return _Line(int(told["lot"]), int(told["left"]), Link(**told["record"]))
        return _Line(int(told["lot"]), int(told["left"]), Seal(**told["seal"]))
    except (ValueError, KeyError, TypeError):
        return None
