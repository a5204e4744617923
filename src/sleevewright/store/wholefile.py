"""Files that are there whole or not at all: written under another name, synced, renamed."""

from __future__ import annotations

import hashlib
import os
import secrets
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

UNFINISHED = ".unfinished"
"""End of the name of what is not whole yet; whoever reads a folder passes it by."""

LUMP = 1 << 20
"""Bytes that are read at a time."""


@contextmanager
def whole_file(path: Path, *, mode: int = 0o644) -> Iterator[BinaryIO]:
    """A file to write into, which takes its name only when the block ends well.

    Raises
    ------
    OSError
        If the disk refuses; nothing is left behind then.
    """
    unfinished = path.with_name(f"{path.name}.{secrets.token_hex(4)}{UNFINISHED}")
    descriptor = os.open(unfinished, os.O_RDWR | os.O_CREAT | os.O_EXCL | _BINARY, mode)
    try:
        with os.fdopen(descriptor, "w+b") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        unfinished.replace(path)
    except BaseException:
        with suppress(OSError):
            unfinished.unlink()
        raise
    sync_folder(path.parent)


def write_whole(path: Path, content: bytes | Iterable[bytes], *, mode: int = 0o644) -> None:
    """Write a file at once."""
    with whole_file(path, mode=mode) as file:
        file.writelines([content] if isinstance(content, bytes) else content)


def lumps_of(path: Path) -> Iterator[bytes]:
    """What a file holds, a lump at a time."""
    with path.open("rb") as file:
        while lump := file.read(LUMP):
            yield lump


def file_sha256(path: Path) -> str:
    """SHA-256 of what a file holds, in small hexadecimal digits."""
    digest = hashlib.sha256()
    for lump in lumps_of(path):
        digest.update(lump)
    return digest.hexdigest()


def sync_folder(folder: Path) -> None:
    """Let the names of a folder outlast a power cut, where the system can."""
    if os.name == "nt":  # a folder cannot be opened there; its names are written at once
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


_BINARY = getattr(os, "O_BINARY", 0)
