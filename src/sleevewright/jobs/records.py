"""Records: everything that was ever told of a job, one after the other, never altered.

A record is what a device said at one moment: a keyed value, a set of readings begun, a
hold lifted, an event.  Nothing is ever changed in one; who wants to correct a value tells
a new one that names what it replaces.  The numbers inside of a job count from 1 without a
gap; each device counts what it said of each job, so that a gap shows that something is
still waiting on it.

Cells.  A *value* is told for a cell, named by a path: ``casting.mass`` (table and key of a
job file), ``ready.burrs`` (stage and key), ``port/exhaust/found.roof``, or
``set/<set>/<station>/<direction>`` for one reading of a set (counted from 0).
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

VERSION = 1
"""Format of the bodies that are written today."""

JOB = "job"  # opened: title, units, engine kind, cylinders
VALUE = "value"  # a cell: text, unit, what it replaces
SET = "set"  # a set of readings begun: feature, instrument, stations, directions
LIFT = "lift"  # a hold lifted: stage, person, reason
DECISION = "decision"  # an option agreed: what was offered, price, by whom
EVENT = "event"  # something that happened at a moment: a wash, a wipe, the drop
ATTACHMENT = "attachment"  # a photo or scan, by the hash of its content
RELEASE = "release"  # signed out: person, what was signed
GIVEN_UP = "given-up"  # a number of a device that will never come: why

KINDS = (JOB, VALUE, SET, LIFT, DECISION, EVENT, ATTACHMENT, RELEASE, GIVEN_UP)

WHOLE_JOB = 0
"""Cylinder number of what is told of the whole job; cylinders count from 1."""

Body = Mapping[str, Any]


@dataclass(frozen=True)
class Draft:
    """What a device says, before the store has numbered it.

    ``id`` is 32 hexadecimal digits that the device made up: what comes twice is kept once.
    """

    job: str
    id: str
    device: str
    device_number: int
    kind: str
    body: Body
    version: int = VERSION


@dataclass(frozen=True)
class Record:
    """A draft that was kept: its place in the job, and when it was received (UTC)."""

    job: str
    number: int
    id: str
    device: str
    device_number: int
    received: str  # ISO 8601 with milliseconds and Z
    kind: str
    version: int
    body: Body

    @property
    def cylinder(self) -> int:
        """Which cylinder it is about; 0 is the whole job."""
        return int(self.body.get("cylinder", WHOLE_JOB))


def canonical(body: Body) -> str:
    """A body as the one text that is hashed: keys in order, no spaces, letters as they are.

    Examples
    --------
    >>> canonical({"text": "54,010", "cell": "casting.mass"})
    '{"cell":"casting.mass","text":"54,010"}'
    """
    return json.dumps(
        body, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
    )
