"""Attachments: photos, scans and logs, each a file that is named by the SHA-256 of its content.

What a file is, its first bytes say; its name says nothing.  A name of 64 hexadecimal
digits is the only thing that is ever looked up, so no path can lead out of the folder.
"""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from pathlib import Path

from sleevewright.errors import InputError, NotFound, clipped
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.wholefile import file_sha256, write_whole

FOLDER = "attachments"
LARGEST_ATTACHMENT = 25_000_000
"""Bytes; a photo of a large camera has about half of that."""

PACKED = "application/gzip"
"""What the file of a logger is kept as: its own bytes, packed."""

ALLOWED = "a photo (JPEG, PNG, WebP), a PDF, or the packed file of a logger"
_SHA256 = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True)
class Attachment:
    """A file that was kept."""

    sha256: str
    size: int
    type: str


def type_of(content: bytes) -> str:
    """Media type by the first bytes; empty where it is none that is kept.

    Examples
    --------
    >>> type_of(b"%PDF-1.7 ..."), type_of(b"MZ")
    ('application/pdf', '')
    """
    if content.startswith(b"\xff\xd8\xff"):
        return "image/jpeg"
    if content.startswith(b"\x89PNG\r\n\x1a\n"):
        return "image/png"
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return "image/webp"
    if content.startswith(b"\x1f\x8b\x08"):
        return PACKED
    return "application/pdf" if content.startswith(b"%PDF-") else ""


def described(content: bytes) -> Attachment:
    """What a content would be kept as.

    Raises
    ------
    InputError
        If it is too large, or of no kind that is kept.
    """
    if len(content) > LARGEST_ATTACHMENT:
        allowed = f"at most {LARGEST_ATTACHMENT} bytes"
        raise InputError("attachment", f"{len(content)} bytes", "", allowed, "Take it smaller.")
    kind = type_of(content)
    if not kind:
        began = clipped(repr(content[:12])) if content else "an empty file"
        raise InputError("attachment", f"a file that begins with {began}", "", ALLOWED)
    return Attachment(hashlib.sha256(content).hexdigest(), len(content), kind)


def keep_attachment(folder: Path, content: bytes) -> Attachment:
    """Keep a file in a data folder; what is there already is not written again.

    Parameters
    ----------
    folder : Path
        The data folder.
    content : bytes
        All of the file.

    Returns
    -------
    Attachment
        Its hash, size and type.

    Raises
    ------
    InputError
        If it is too large, or of no kind that is kept.
    """
    one = described(content)
    path = folder / FOLDER / one.sha256
    if not path.is_file() or file_sha256(path) != one.sha256:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, content)
    return one


def attachment_path(folder: Path, sha256: str) -> Path:
    """Where an attachment lies.

    Raises
    ------
    NotFound
        If there is none with this hash, or it is no hash.
    """
    path = folder / FOLDER / sha256
    if not _SHA256.fullmatch(sha256) or not path.is_file():
        raise NotFound("attachment", sha256)
    return path


def read_attachment(folder: Path, sha256: str) -> tuple[bytes, str]:
    """Content and media type of an attachment, checked against its hash.

    Raises
    ------
    NotFound
        If there is none with this hash, or it is no hash.
    StoreDamaged
        If what lies there is no longer what was kept.
    """
    content = attachment_path(folder, sha256).read_bytes()
    if hashlib.sha256(content).hexdigest() != sha256:
        raise StoreDamaged("an attachment is not what was kept", f"{FOLDER}/{sha256}")
    return content, type_of(content)


def attachment_names(folder: Path) -> tuple[str, ...]:
    """Hashes of all attachments of a data folder."""
    place = folder / FOLDER
    if not place.is_dir():
        return ()
    return tuple(sorted(path.name for path in place.iterdir() if _SHA256.fullmatch(path.name)))
