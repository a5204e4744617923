"""A whole job as one file: its records with their chain, the seals, the attachments.

The file is a zip (:mod:`sleevewright.store.plainzip`)::

    manifest.json          versions, job, last number, head; size and SHA-256 of each member
    job-1.toml, ...        each cylinder as a job file, to be read by eye; never read back
    records.jsonl          the records in order, one a line, each as it is kept
    seals.jsonl            the seals of the job
    attachments/<SHA-256>  photos and scans

Its comment is the SHA-256 of the manifest.  A file is taken only when all of it is as it
was written: every byte is summed, chained, or has one value that it can have.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, BinaryIO

from sleevewright.jobs.records import ATTACHMENT, VERSION
from sleevewright.store.chain import Link, Seal
from sleevewright.store.plainzip import Member, write_zip

FORMAT = "sleevewright job"
FORMAT_VERSION = 1
MANIFEST, RECORDS, SEALS = "manifest.json", "records.jsonl", "seals.jsonl"
ATTACHMENTS = "attachments/"

MOST_RECORDS = 200_000
MOST_ATTACHMENTS = 1000
LARGEST_RECORDS = 200_000_000
"""Bytes of all records; a job of a thousand readings has about half a million."""
LARGEST_TEXT = 4_000_000
"""Bytes of any other text in it."""


def attachments_of(links: Sequence[Link]) -> tuple[str, ...]:
    """Hashes of the attachments that records speak of, in order."""
    bodies = (json.loads(link.body) for link in links if link.kind == ATTACHMENT)
    return tuple(sorted({str(body["sha256"]) for body in bodies}))


@dataclass(frozen=True)
class WholeJob:
    """All that an export holds of a job."""

    links: tuple[Link, ...]  # all records, in order
    seals: tuple[Seal, ...]
    attachments: Mapping[str, Path]  # where each lies, by its hash
    job_files: tuple[str, ...]  # each cylinder as the text of a job file


def pack(file: BinaryIO, whole: WholeJob, *, code_version: str) -> None:
    """Write a job into a file; the same job gives the same bytes.

    What is written here, :func:`sleevewright.store.unpacking.unpack` reads.

    Parameters
    ----------
    file : BinaryIO
        Open for writing.
    whole : WholeJob
        The job.
    code_version : str
        Version of this program.
    """
    places = whole.attachments
    members = [
        *(Member(f"job-{n}.toml", text.encode()) for n, text in enumerate(whole.job_files, 1)),
        Member(RECORDS, _lines(whole.links)),
        Member(SEALS, _lines(whole.seals)),
        *(Member(ATTACHMENTS + sha256, places[sha256]) for sha256 in sorted(places)),
    ]
    manifest = {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        "body_version": VERSION,
        "code_version": code_version,
        "job": whole.links[-1].job,
        "last": whole.links[-1].number,
        "head": whole.links[-1].hash,
        "members": {member.name: summed(member.lumps()) for member in members},
    }
    text = _manifest_text(manifest)
    comment = hashlib.sha256(text).hexdigest()
    write_zip(file, [Member(MANIFEST, text), *members], comment=comment)


def _lines(rows: Sequence[Link] | Sequence[Seal]) -> bytes:
    return "".join(line_of(row) for row in rows).encode()


def line_of(row: Link | Seal) -> str:
    """A row as a line of JSON, its columns in their order."""
    return json.dumps(asdict(row), ensure_ascii=False, separators=(",", ":")) + "\n"


def summed(lumps: Iterator[bytes]) -> dict[str, Any]:
    """Size and SHA-256, as they stand in the manifest."""
    digest, size = hashlib.sha256(), 0
    for lump in lumps:
        digest.update(lump)
        size += len(lump)
    return {"size": size, "sha256": digest.hexdigest()}


def _manifest_text(manifest: Mapping[str, Any]) -> bytes:
    return (json.dumps(manifest, indent=1, ensure_ascii=True) + "\n").encode()
