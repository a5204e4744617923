"""Seals: the last number and hash of every job that has something new, in one chain."""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy import Connection

from sleevewright.store import queries
from sleevewright.store.chain import START, Seal, seal_hash
from sleevewright.store.writer import Outcome


def sealing(connection: Connection, made: str, reason: str) -> Outcome:
    """The seals that are due, and the head of their chain as the answer.

    A sealing without news still leaves one seal, of no job, so that its moment is kept.
    """
    last = queries.last_seal(connection)
    number, head = (last.number, last.hash) if last else (0, START)
    ends = [(job, *queries.end_of(connection, job)) for job in queries.unsealed_jobs(connection)]
    seals: list[Seal] = []
    for job, end, hashed in ends or [("", 0, START)]:
        number += 1
        bare = Seal(number, made, reason, job, end, hashed, head, START)
        seals.append(replace(bare, hash=seal_hash(bare)))
        head = seals[-1].hash
    return Outcome(tuple(seals), head)
