"""The folder's own secrets: made when first asked for, kept in ``keys/``, part of a backup.

Only the owner of the folder may read them (mode 0600 where the system has modes).
"""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from sleevewright.errors import SleevewrightError

FOLDER = "keys"
LENGTH = 32
"""Bytes of a secret."""


def keys_folder(folder: Path) -> Path:
    """Where the secrets of a data folder lie; made where it is missing."""
    place = folder / FOLDER
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    return place


def secret_of(folder: Path, name: str) -> bytes:
    """The secret of this name, made when it is first asked for.

    Raises
    ------
    SleevewrightError
        If what lies there is no secret; it is never replaced silently, because everything
        that was made with it would stop to work.
    """
    place = keys_folder(folder) / name
    if not place.exists():
        write_secret(place, secrets.token_hex(LENGTH).encode())
    try:
        found = bytes.fromhex(place.read_text(encoding="ascii").strip())
    except (ValueError, UnicodeDecodeError):
        found = b""
    if len(found) != LENGTH:
        raise SleevewrightError(
            f"{FOLDER}/{name}: what lies there is no key of {LENGTH} bytes. Restore it from a "
            "backup; without it every device pairs anew and every PIN is set anew."
        )
    return found


def write_secret(place: Path, content: bytes) -> None:
    """Write a secret so that it is whole or not there, and nobody else ever reads it.

    Where another process was quicker, what it wrote stays.
    """
    unfinished = place.with_name(f"{place.name}.{secrets.token_hex(4)}.part")
    handle = os.open(unfinished, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        try:
            os.link(unfinished, place)
        except FileExistsError:
            return
        except OSError:  # a disk without links: the name is taken over as a whole
            unfinished.replace(place)
    finally:
        unfinished.unlink(missing_ok=True)
