"""A small job and its export, for the tests of both."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from sleevewright.jobs.records import canonical
from sleevewright.store.attachments import keep_attachment
from sleevewright.store.chain import START, Link, Seal, link_hash, seal_hash
from sleevewright.store.packing import WholeJob, pack
from sleevewright.store.unpacking import Package, unpack

JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00 invented photo"

BODIES: tuple[tuple[str, dict[str, Any]], ...] = (
    ("job", {"title": "175 single", "units": "inch", "cylinders": 1, "invented": True}),
    ("value", {"cylinder": 1, "cell": "casting.mass", "text": "5 lb", "si": 2.26796185}),
    ("set", {"cylinder": 1, "set": "k3f9", "stage": "parent", "feature": "parent-bore",
             "stations": ["0.2 in", "1.0 in"], "directions": ["0", "90"]}),
    ("value", {"cylinder": 1, "cell": "set/k3f9/0/1", "text": "+2,5", "nm": 66956950,
               "replaces": []}),
    ("lift", {"cylinder": 1, "stage": "parent", "person": "p1", "reason": "seen, äöü, accepted"}),
    ("event", {"cylinder": 1, "stage": "ready", "what": "wipe", "result": "clean"}),
    ("given-up", {"reason": "typed twice"}),
)  # fmt: skip


def linked(job: str, number: int, kind: str, body: Mapping[str, Any], previous: str) -> Link:
    """A record as it is kept."""
    bare = Link(
        job, number, f"{number:032x}", "tablet-1", number, "2031-05-02T08:00:00.000Z", kind, 1,
        canonical(body), previous, "",
    )  # fmt: skip
    return replace(bare, hash=link_hash(bare))


def chained(bodies: tuple[tuple[str, dict[str, Any]], ...], job: str = "J-31") -> tuple[Link, ...]:
    """Records of a job, each chained to the one before."""
    links: list[Link] = []
    for number, (kind, body) in enumerate(bodies, start=1):
        previous = links[-1].hash if links else START
        links.append(linked(job, number, kind, body, previous))
    return tuple(links)


def whole(folder: Path) -> WholeJob:
    """A small job with a photo and a seal."""
    photo = keep_attachment(folder, JPEG)
    told = {"cylinder": 1, "stage": "intake", "sha256": photo.sha256, "size": photo.size,
            "type": photo.type, "name": "as it came.jpg", "caption": ""}  # fmt: skip
    links = chained((*BODIES, ("attachment", told)))
    bare = Seal(7, "2031-05-02T09:00:00.000Z", "backup", "J-31", 4, links[3].hash, "f" * 64, "")
    seal = replace(bare, hash=seal_hash(bare))
    places = {photo.sha256: folder / "attachments" / photo.sha256}
    return WholeJob(links, (seal,), places, ('[job]\nnumber = "J-31"\n',))


def packed(job: WholeJob) -> bytes:
    """The bytes of an export."""
    file = io.BytesIO()
    pack(file, job, code_version="1.2.3")
    return file.getvalue()


def taken(content: bytes) -> Package:
    """The export read back."""
    return unpack(io.BytesIO(content), name="J-31.zip")
