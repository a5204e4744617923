"""Zip files of which each byte is decided: stored members, no times, no owner, no choice.

The same members give the same bytes on every machine, and a file that is not exactly what
would be written from its own members is refused.  So no byte can change unseen: those of
members are summed, and of the others each has one value.  Any unzip program reads it.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from sleevewright.store.wholefile import LUMP, lumps_of

LARGEST_ZIP = 2**31
"""Bytes; well below where the format needs its extension for large files."""

MOST_MEMBERS = 2000

_LOCAL = struct.Struct("<4s5H3L2H")
_CENTRAL = struct.Struct("<4s6H3L5H2L")
_END = struct.Struct("<4s4H2LH")
_LOCAL_SIGN, _CENTRAL_SIGN, _END_SIGN = b"PK\x03\x04", b"PK\x01\x02", b"PK\x05\x06"
_VERSION, _FIRST_DAY, _STORED = 10, 33, 0
_MADE_BY = (3 << 8) | _VERSION
_PLAIN_FILE = 0o100644 << 16
_NAME = re.compile(r"[A-Za-z0-9_\-][A-Za-z0-9_.\-]*(/[A-Za-z0-9_\-][A-Za-z0-9_.\-]*)?")


class NotAsWritten(ValueError):
    """A zip file that is not as it was written; the text says where."""


@dataclass(frozen=True)
class Member:
    """One file of a zip: its name in it, and what it holds or where that lies."""

    name: str
    source: bytes | Path

    def lumps(self) -> Iterator[bytes]:
        """What it holds."""
        if isinstance(self.source, Path):
            yield from lumps_of(self.source)
        else:
            yield self.source


@dataclass(frozen=True)
class Place:
    """Where the content of a member lies in the zip."""

    offset: int
    size: int
    crc: int


@dataclass(frozen=True)
class Archive:
    """A zip that was read and found as it was written, contents apart."""

    file: BinaryIO
    places: Mapping[str, Place]
    comment: str

    def lumps(self, name: str) -> Iterator[bytes]:
        """Content of a member, a lump at a time."""
        place = self.places[name]
        self.file.seek(place.offset)
        left = place.size
        while left:
            lump = self.file.read(min(LUMP, left))
            if not lump:
                raise NotAsWritten(f"{name} ends too early")
            left -= len(lump)
            yield lump

    def read(self, name: str) -> bytes:
        """Content of a member."""
        return b"".join(self.lumps(name))


def write_zip(file: BinaryIO, members: Sequence[Member], *, comment: str) -> None:
    """Write members in their order.

    Raises
    ------
    ValueError
        If a name is not plain, or there is too much of it.
    """
    places: dict[str, Place] = {}
    offset = 0
    if len(members) > MOST_MEMBERS:
        raise ValueError(f"more than {MOST_MEMBERS} members")
    for member in members:
        if not _NAME.fullmatch(member.name) or member.name in places:
            raise ValueError(f"{member.name!r} cannot be the name of a member")
        size, crc = _summed(member)
        head = _local(member.name, size, crc)
        places[member.name] = Place(offset + len(head), size, crc)
        file.write(head)
        file.writelines(member.lumps())
        offset += len(head) + size
        if offset > LARGEST_ZIP:
            raise ValueError(f"more than {LARGEST_ZIP} bytes")
    file.write(_tail(places, comment))


def read_zip(file: BinaryIO) -> Archive:
    """Read where the members lie; their contents are not looked at here.

    Raises
    ------
    NotAsWritten
        If it is not what :func:`write_zip` writes.
    """
    size = file.seek(0, 2)
    if size > LARGEST_ZIP + 2**20:
        raise NotAsWritten(f"it has more than {LARGEST_ZIP} bytes")
    places: dict[str, Place] = {}
    offset = 0
    while (found := _member_at(file, offset, size)) is not None:
        name, place = found
        if name in places or len(places) >= MOST_MEMBERS:
            raise NotAsWritten(f"byte {offset}: a member too many")
        places[name] = place
        offset = place.offset + place.size
    file.seek(offset)
    tail = file.read()
    comment = tail[-64:].decode("ascii", "replace")
    if tail != _tail(places, comment):
        raise NotAsWritten(f"its directory from byte {offset} on does not fit")
    return Archive(file, places, comment)


def _member_at(file: BinaryIO, offset: int, size: int) -> tuple[str, Place] | None:
    """The member whose head begins there; nothing where the directory begins."""
    file.seek(offset)
    head = file.read(_LOCAL.size)
    if head[:4] == _CENTRAL_SIGN:
        return None
    if len(head) < _LOCAL.size:
        raise NotAsWritten(f"it ends at byte {size}, within a member")
    fields = _LOCAL.unpack(head)
    crc, length, name_length = fields[6], fields[8], fields[9]
    name = file.read(min(name_length, 200)).decode("ascii", "replace")
    begins = offset + _LOCAL.size + name_length
    is_plain = _NAME.fullmatch(name) and head + name.encode() == _local(name, length, crc)
    if not is_plain or begins + length > size:
        raise NotAsWritten(f"byte {offset}: not the head of a member")
    return name, Place(begins, length, crc)


def _summed(member: Member) -> tuple[int, int]:
    size = crc = 0
    for lump in member.lumps():
        size += len(lump)
        crc = zlib.crc32(lump, crc)
    return size, crc


def _local(name: str, size: int, crc: int) -> bytes:
    written = name.encode("ascii")
    head = _LOCAL.pack(
        _LOCAL_SIGN, _VERSION, 0, _STORED, 0, _FIRST_DAY, crc, size, size, len(written), 0
    )
    return head + written


def _tail(places: Mapping[str, Place], comment: str) -> bytes:
    """The directory and the end, as they follow from the members."""
    directory = b""
    begins = 0
    for name, place in places.items():
        written = name.encode("ascii")
        directory += _CENTRAL.pack(
            _CENTRAL_SIGN, _MADE_BY, _VERSION, 0, _STORED, 0, _FIRST_DAY, place.crc, place.size,
            place.size, len(written), 0, 0, 0, 0, _PLAIN_FILE, begins,
        ) + written  # fmt: skip
        begins = place.offset + place.size
    count, said = len(places), comment.encode("ascii", "replace")
    end = _END.pack(_END_SIGN, 0, 0, count, count, len(directory), begins, len(said))
    return directory + end + said
