"""A layer between the interpreter's own SQLite and its files: it listens, and it fails on order.

The system layer (VFS) of the very library that Python is linked with is copied; of the copy
only opening, deleting, writing, truncating and syncing pass through Python first.  It is made
the default while ``layered`` lasts, so the store opens its database as it always does and
nothing of it is replaced.  Our journal goes through the small class ``Disk`` that the store
asks; :class:`LayeredDisk` is the same ear there.
"""

from __future__ import annotations

import _sqlite3
import ctypes
import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager
from ctypes import CFUNCTYPE, POINTER, c_char_p, c_int, c_int64, c_void_p
from pathlib import Path
from typing import BinaryIO

from sleevewright.store.journal import Disk

OK = 0
FULL = 13
IOERR_WRITE, IOERR_FSYNC, IOERR_TRUNCATE = 778, 1034, 1546


class Watcher:
    """Hears every change of a file; this one hears and says nothing."""

    def before(self, what: str, name: str) -> str:
        """Asked before a ``write``, ``sync`` or ``truncate``: "" lets it happen.

        ``full`` or ``error`` lets it fail, ``skip`` leaves a sync out as if it were done.
        """
        del what, name
        return ""

    def opened(self, name: str) -> None:
        """A file was opened, and made where it was not there."""

    def wrote(self, name: str, offset: int, data: bytes) -> None:
        """Bytes were written."""

    def truncated(self, name: str, size: int) -> None:
        """A file was cut or stretched to a size."""

    def synced(self, name: str) -> None:
        """What was written to a file is on the disk."""

    def folder_synced(self, name: str) -> None:
        """The names in a folder are on the disk; "" is the data folder itself."""

    def deleted(self, name: str) -> None:
        """A file was deleted."""


class _Vfs(ctypes.Structure):
    pass


class _Methods(ctypes.Structure):
    pass


_Write = CFUNCTYPE(c_int, c_void_p, c_void_p, c_int, c_int64)
_Size = CFUNCTYPE(c_int, c_void_p, c_int64)
_Sync = CFUNCTYPE(c_int, c_void_p, c_int)
_Close = CFUNCTYPE(c_int, c_void_p)
_Open = CFUNCTYPE(c_int, c_void_p, c_void_p, c_void_p, c_int, c_void_p)
_Delete = CFUNCTYPE(c_int, c_void_p, c_char_p, c_int)

_Methods._fields_ = [
    ("version", c_int),
    ("close", _Close),
    ("read", c_void_p),
    ("write", _Write),
    ("truncate", _Size),
    ("sync", _Sync),
    *((f"rest{place}", c_void_p) for place in range(14)),
]
_Vfs._fields_ = [
    ("version", c_int),
    ("file_size", c_int),
    ("longest_path", c_int),
    ("next", c_void_p),
    ("name", c_char_p),
    ("data", c_void_p),
    ("open", _Open),
    ("delete", _Delete),
    *((f"rest{place}", c_void_p) for place in range(14)),
]

_WATCHED = (".db", ".db-wal", ".db-journal")


class _Layer:
    """The copied system layer; there is one of it, since SQLite keeps pointers into it."""

    def __init__(self) -> None:
        self.watcher = Watcher()
        self._library = ctypes.CDLL(_sqlite3.__file__)
        self._library.sqlite3_vfs_find.restype = POINTER(_Vfs)
        self._original = self._library.sqlite3_vfs_find(None)
        self._vfs = _Vfs()
        ctypes.pointer(self._vfs)[0] = self._original.contents
        self._vfs.name = b"watched"
        self._vfs.open, self._vfs.delete = _Open(self._open), _Delete(self._delete)
        self._names: dict[int, tuple[str, _Methods]] = {}
        self._methods: dict[int, _Methods] = {}

    def put(self) -> None:
        """Let every database that is opened from now on go through here."""
        self._library.sqlite3_vfs_register(ctypes.byref(self._vfs), 1)

    def take_away(self) -> None:
        """Let databases be opened as ever."""
        self._library.sqlite3_vfs_register(self._original, 1)

    def _open(self, vfs: int, path: int, file: int, flags: int, out: int) -> int:
        code = int(self._original.contents.open(vfs, path, file, flags, out))
        if code != OK or not path:
            return code
        name = Path(os.fsdecode(ctypes.string_at(path))).name
        if name.endswith(_WATCHED):
            slot = ctypes.cast(file, POINTER(c_void_p))
            real = slot[0]
            known = ctypes.cast(real, POINTER(_Methods)).contents
            self._names[file] = (name, known)
            slot[0] = ctypes.addressof(self._layered(real, known))
            self.watcher.opened(name)
        return code

    def _layered(self, real: int, known: _Methods) -> _Methods:
        """Methods that pass through here, once for each kind of file."""
        if real not in self._methods:
            made = _Methods()
            ctypes.pointer(made)[0] = known
            made.write, made.truncate = _Write(self._write), _Size(self._truncate)
            made.sync, made.close = _Sync(self._sync), _Close(self._close)
            self._methods[real] = made
        return self._methods[real]

    def _write(self, file: int, data: int, count: int, offset: int) -> int:
        name, known = self._names[file]
        fault = self.watcher.before("write", name)
        if fault:  # some of it got there before the disk refused
            part = count // 2
            if part and known.write(file, data, part, offset) == OK:
                self.watcher.wrote(name, offset, ctypes.string_at(data, part))
            return FULL if fault == "full" else IOERR_WRITE
        code = int(known.write(file, data, count, offset))
        if code == OK:
            self.watcher.wrote(name, offset, ctypes.string_at(data, count))
        return code

    def _truncate(self, file: int, size: int) -> int:
        name, known = self._names[file]
        if self.watcher.before("truncate", name):
            return IOERR_TRUNCATE
        code = int(known.truncate(file, size))
        if code == OK:
            self.watcher.truncated(name, size)
        return code

    def _sync(self, file: int, flags: int) -> int:
        name, known = self._names[file]
        fault = self.watcher.before("sync", name)
        if fault and fault != "skip":
            return FULL if fault == "full" else IOERR_FSYNC
        code = OK if fault else int(known.sync(file, flags))
        if code == OK:
            self.watcher.synced(name)
        return code

    def _close(self, file: int) -> int:
        _, known = self._names.pop(file)
        return int(known.close(file))

    def _delete(self, vfs: int, path: bytes, flags: int) -> int:
        code = int(self._original.contents.delete(vfs, path, flags))
        name = Path(os.fsdecode(path)).name
        if code == OK and name.endswith(_WATCHED):
            self.watcher.deleted(name)
        return code


class LayeredDisk(Disk):
    """The same ear at the files of the journal."""

    def __init__(self, watcher: Watcher) -> None:
        self._watcher = watcher

    def write(self, file: BinaryIO, data: bytes) -> int:
        """Write, or write half of it and fail."""
        name = _named(file)
        fault = self._watcher.before("write", name)
        part = data[: len(data) // 2] if fault else data
        offset = file.seek(0, os.SEEK_END)
        done = super().write(file, part) if part else 0
        self._watcher.wrote(name, offset, data[:done])
        if fault:
            raise _refused(fault)
        return done

    def sync(self, file: BinaryIO) -> None:
        """Sync, or fail."""
        if self._ask("sync", _named(file)):
            super().sync(file)
        self._watcher.synced(_named(file))

    def truncate(self, file: BinaryIO, length: int) -> None:
        """Truncate and sync, or fail."""
        name = _named(file)
        self._ask("truncate", name)
        self._watcher.opened(name)
        file.truncate(length)
        if self._ask("sync", name):
            os.fsync(file.fileno())
        self._watcher.truncated(name, length)
        self._watcher.synced(name)

    def sync_folder(self, folder: Path) -> None:
        """Sync the names of a folder, or fail."""
        if self._ask("sync", folder.name):
            super().sync_folder(folder)
        self._watcher.folder_synced(folder.name)

    def _ask(self, what: str, name: str) -> bool:
        """Whether it is to be done at all."""
        fault = self._watcher.before(what, name)
        if fault and fault != "skip":
            raise _refused(fault)
        return not fault


def _named(file: BinaryIO) -> str:
    path = Path(file.name)
    return f"{path.parent.name}/{path.name}"


def _refused(fault: str) -> OSError:
    number = errno.ENOSPC if fault == "full" else errno.EIO
    return OSError(number, os.strerror(number))


_LAYER: list[_Layer] = []


@contextmanager
def layered(watcher: Watcher) -> Iterator[LayeredDisk]:
    """Let a watcher hear every database that is opened within the block.

    Everything opened within must be closed within.  What comes is the disk that a store's
    journal is to be given.
    """
    if not _LAYER:
        _LAYER.append(_Layer())
    layer = _LAYER[0]
    layer.watcher = watcher
    layer.put()
    try:
        yield LayeredDisk(watcher)
    finally:
        layer.take_away()
        layer.watcher = Watcher()
