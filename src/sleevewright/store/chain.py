r"""The chain of a job and the chain of the seals: pure, so that an exported job verifies alone.

Each record's hash is the SHA-256, in small hexadecimal digits, of the UTF-8 bytes of three
lines without a newline at the end::

    <hash of the record before, or 64 zeros for the first>
    ["<job>",<number>,"<id>","<device>",<device number>,"<received>","<kind>",<version>]
    <the body as it is kept>

The second line is a JSON array without spaces and with letters as they are, the third the
canonical JSON of :func:`sleevewright.jobs.records.canonical`; neither holds a newline, so
no two records have the same bytes.  A seal's hash is that of two lines: the hash of the
seal before, and ``[<number>,"<made>","<reason>","<job>",<last>,"<head>"]``.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass

from sleevewright.jobs.records import Record

_ENCODED = json.JSONEncoder(separators=(",", ":"), ensure_ascii=False).encode
START = "0" * 64
"""What stands for the hash before the first record or seal."""


@dataclass(frozen=True)
class Link:
    """A record as it is kept: its body as text, with its hash and that of the one before."""

    job: str
    number: int
    id: str
    device: str
    device_number: int
    received: str
    kind: str
    version: int
    body: str
    previous: str
    hash: str

    def record(self) -> Record:
        """The record that it keeps."""
        return Record(
            self.job, self.number, self.id, self.device, self.device_number, self.received,
            self.kind, self.version, json.loads(self.body),
        )  # fmt: skip


@dataclass(frozen=True)
class Seal:
    """One job's last number and hash at a moment, in the chain of all seals."""

    number: int
    made: str
    reason: str
    job: str
    last: int
    head: str
    previous: str
    hash: str


def _digest(*lines: str) -> str:
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def _array(*items: str | int) -> str:
    return _ENCODED(items)


def link_hash(link: Link) -> str:
    """The hash that a record must have, from all of it but its own.

    Parameters
    ----------
    link : Link
        The record; its ``hash`` is not looked at.

    Returns
    -------
    str
        64 hexadecimal digits.
    """
    columns = _array(
        link.job, link.number, link.id, link.device, link.device_number, link.received,
        link.kind, link.version,
    )  # fmt: skip
    return _digest(link.previous, columns, link.body)


def seal_hash(one: Seal) -> str:
    """The hash that a seal must have, from all of it but its own."""
    columns = _array(one.number, one.made, one.reason, one.job, one.last, one.head)
    return _digest(one.previous, columns)


def verify_chain(links: Iterable[Link], *, after: int = 0, head: str = START) -> int | None:
    """Number of the first record of a job that breaks its chain; nothing when all is well.

    Parameters
    ----------
    links : Iterable[Link]
        Records of one job in the order of their numbers.
    after : int
        Number of the last record that is known to be good.
    head : str
        The hash of that record.

    Returns
    -------
    int | None
        The number that the first bad record has or should have.
    """
    for link in links:
        after += 1
        follows = link.number == after and link.previous == head
        if not follows or link.hash != link_hash(link):
            return after
        head = link.hash
    return None


def verify_seals(seals: Iterable[Seal], *, after: int = 0, head: str = START) -> int | None:
    """Number of the first seal that breaks the chain of the seals; nothing when all is well."""
    for one in seals:
        after += 1
        follows = one.number == after and one.previous == head
        if not follows or one.hash != seal_hash(one):
            return after
        head = one.hash
    return None
