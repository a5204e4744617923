"""A job read from a file of :mod:`sleevewright.store.packing`, with everything checked first."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any, BinaryIO, TypeVar

from sleevewright.errors import InputError
from sleevewright.jobs.field import NAME_PATTERN
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import JOB, canonical
from sleevewright.store.attachments import LARGEST_ATTACHMENT, Attachment, type_of
from sleevewright.store.body_formats import body_problem
from sleevewright.store.chain import Link, Seal, seal_hash, verify_chain
from sleevewright.store.packing import (
    ATTACHMENTS,
    FORMAT,
    FORMAT_VERSION,
    LARGEST_RECORDS,
    LARGEST_TEXT,
    MANIFEST,
    MOST_ATTACHMENTS,
    MOST_RECORDS,
    RECORDS,
    SEALS,
    attachments_of,
    line_of,
    summed,
)
from sleevewright.store.plainzip import Archive, NotAsWritten, read_zip

_JOB_FILE = re.compile(r"job-[1-9][0-9]?\.toml")
_HEX64 = re.compile(r"[0-9a-f]{64}")
_DEVICE = re.compile(r"[A-Za-z0-9_.\-]{1,64}")
_ID = re.compile(r"[0-9a-f]{32}")
_RECEIVED = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z")
_Row = TypeVar("_Row", Link, Seal)


@dataclass(frozen=True)
class Package:
    """A job that was read from a file and found to be whole."""

    job: str
    links: tuple[Link, ...]
    seals: tuple[Seal, ...]
    attachments: tuple[Attachment, ...]
    code_version: str
    archive: Archive

    @property
    def last(self) -> int:
        """Number of the last record."""
        return self.links[-1].number

    @property
    def head(self) -> str:
        """Hash of the last record."""
        return self.links[-1].hash

    def content(self, sha256: str) -> bytes:
        """An attachment."""
        return self.archive.read(ATTACHMENTS + sha256)


def unpack(file: BinaryIO, *, name: str) -> Package:
    """Read a job from a file, and check all of it.

    Raises
    ------
    InputError
        If any of it is not as it was written, or cannot be taken here; the text says what.
    """
    try:
        archive = read_zip(file)
        manifest = _manifest(archive)
        _check_members(archive, manifest)
        links = _rows(archive, RECORDS, Link)
        seals = _rows(archive, SEALS, Seal)
        _check_links(links, manifest)
        _check_seals(seals, links)
        attachments = _checked_attachments(archive, links)
    except NotAsWritten as wrong:
        hint = "Ask for the export anew from where it was made."
        raise InputError(name, f"{wrong};", "it", "an export as it was written", hint) from wrong
    return Package(links[0].job, links, seals, attachments, str(manifest["code_version"]), archive)


def _manifest(archive: Archive) -> dict[str, Any]:
    """The manifest, which its own hash holds, in a version that is read here."""
    place = archive.places.get(MANIFEST)
    if place is None or place.size > LARGEST_TEXT or next(iter(archive.places)) != MANIFEST:
        raise NotAsWritten("it does not begin with a manifest")
    text = archive.read(MANIFEST)
    if hashlib.sha256(text).hexdigest() != archive.comment:
        raise NotAsWritten("its manifest was changed")
    manifest = _json(text, MANIFEST)
    if manifest.get("format") != FORMAT:
        raise NotAsWritten("its manifest is not that of a job")
    if manifest.get("version") != FORMAT_VERSION:
        told = f"it has format {manifest.get('version')!r} and this bench reads {FORMAT_VERSION}"
        raise NotAsWritten(told)
    sorts = {"code_version": str, "job": str, "last": int, "head": str, "members": dict}
    if not all(isinstance(manifest.get(key), sort) for key, sort in sorts.items()):
        raise NotAsWritten("its manifest lacks something")
    return manifest


def _check_members(archive: Archive, manifest: Mapping[str, Any]) -> None:
    """Each member is known, is told of in the manifest, and has the sum that stands there."""
    told = manifest["members"]
    if [MANIFEST, *told] != list(archive.places) or not {RECORDS, SEALS} <= set(told):
        raise NotAsWritten("its members are not those of its manifest")
    photos = [name for name in told if name.startswith(ATTACHMENTS)]
    if len(photos) > MOST_ATTACHMENTS:
        raise NotAsWritten(f"it has more than {MOST_ATTACHMENTS} attachments")
    for name in told:
        limit = _limit(name)
        if archive.places[name].size > limit:
            raise NotAsWritten(f"{name} is larger than {limit} bytes")
        if told[name] != summed(archive.lumps(name)):
            raise NotAsWritten(f"{name} was changed")


def _limit(name: str) -> int:
    """Bytes that a member may have; a name that is none of ours may not be there at all."""
    if name == RECORDS:
        return LARGEST_RECORDS
    if name == SEALS or _JOB_FILE.fullmatch(name):
        return LARGEST_TEXT
    if name.startswith(ATTACHMENTS) and _HEX64.fullmatch(name[len(ATTACHMENTS) :]):
        return LARGEST_ATTACHMENT
    raise NotAsWritten(f"it holds {name[:40]!r}, which no export has")


def _rows(archive: Archive, name: str, kind: Callable[..., _Row]) -> tuple[_Row, ...]:
    """Rows of a member, each line exactly as it would be written."""
    try:
        text = archive.read(name).decode("utf-8")
    except UnicodeDecodeError as wrong:
        raise NotAsWritten(f"{name} is not text") from wrong
    found: list[_Row] = []
    for number, line in enumerate(text.split("\n")[:-1], start=1):
        if number > MOST_RECORDS:
            raise NotAsWritten(f"{name} has more than {MOST_RECORDS} lines")
        try:
            row = kind(**_json(line.encode(), name))
        except TypeError as wrong:
            raise NotAsWritten(f"line {number} of {name} has other columns") from wrong
        if line_of(row) != f"{line}\n" or not _has_its_sorts(row):
            raise NotAsWritten(f"line {number} of {name} is not as it is written")
        found.append(row)
    if text and not text.endswith("\n"):
        raise NotAsWritten(f"the last line of {name} is not whole")
    return tuple(found)


def _has_its_sorts(row: Link | Seal) -> bool:
    """Whether each column is text or a whole number, as it must be."""
    return all(
        type(getattr(row, one.name)) is (int if one.type == "int" else str) for one in fields(row)
    )


def _json(text: bytes, name: str) -> dict[str, Any]:
    try:
        read = json.loads(text)
    except (ValueError, RecursionError) as wrong:
        raise NotAsWritten(f"{name} cannot be read") from wrong
    if not isinstance(read, dict):
        raise NotAsWritten(f"{name} cannot be read")
    return read


def _check_links(links: Sequence[Link], manifest: Mapping[str, Any]) -> None:
    """The records are a whole chain of one job, and each can be read."""
    if not links or links[0].kind != JOB or not re.fullmatch(NAME_PATTERN, links[0].job):
        raise NotAsWritten("it does not begin with the opening of a job")
    broken = verify_chain(links)
    if broken is not None:
        raise NotAsWritten(f"record {broken} breaks the chain")
    told = (manifest["job"], manifest["last"], manifest["head"])
    if told != (links[0].job, links[-1].number, links[-1].hash):
        raise NotAsWritten("its manifest tells of another job or another end")
    if len({link.id for link in links}) < len(links):
        raise NotAsWritten("an id stands twice in it")
    if len({(link.device, link.device_number) for link in links}) < len(links):
        raise NotAsWritten("a number of a device stands twice in it")
    for link in links:
        if problem := _link_problem(link, links[0].job):
            raise NotAsWritten(f"record {link.number} is {problem}")
    try:
        Folded(link.record() for link in links)
    except (KeyError, TypeError, ValueError, AttributeError) as wrong:
        raise NotAsWritten("its records do not make a job") from wrong


def _link_problem(link: Link, job: str) -> str:
    """What is wrong with one record; empty where nothing is."""
    if link.job != job:
        return "of another job"
    if not (_ID.fullmatch(link.id) and _DEVICE.fullmatch(link.device) and link.device_number > 0):
        return "without a usable id or device"
    if not _RECEIVED.fullmatch(link.received):
        return "without a usable time"
    body = _json(link.body.encode(), f"the body of record {link.number}")
    try:
        if canonical(body) != link.body:
            return "not written in the one way that is hashed"
    except (ValueError, RecursionError):
        return "not made of numbers that can be written"
    return body_problem(link.kind, link.version, body)


def _check_seals(seals: Sequence[Seal], links: Sequence[Link]) -> None:
    """Each seal is whole in itself and fits a record of the job."""
    for one in seals:
        fits = one.job == links[0].job and 1 <= one.last <= len(links)
        if not fits or links[one.last - 1].hash != one.head or seal_hash(one) != one.hash:
            raise NotAsWritten(f"seal {one.number} does not fit")


def _checked_attachments(archive: Archive, links: Sequence[Link]) -> tuple[Attachment, ...]:
    """The attachments that the records speak of are there, are what they say, and no others."""
    wanted = attachments_of(links)
    there = tuple(
        sorted(n[len(ATTACHMENTS) :] for n in archive.places if n.startswith(ATTACHMENTS))
    )
    if wanted != there:
        raise NotAsWritten("its attachments are not those of its records")
    found = []
    for sha256 in there:
        content = archive.read(ATTACHMENTS + sha256)
        kind = type_of(content)
        if hashlib.sha256(content).hexdigest() != sha256 or not kind:
            raise NotAsWritten(f"attachment {sha256[:12]} is neither photo nor PDF as it was kept")
        found.append(Attachment(sha256, len(content), kind))
    return tuple(found)
