"""Whether what is kept is what was kept: the file, the chains of the jobs, that of the seals."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import groupby
from typing import Any

from sqlalchemy import Connection
from sqlalchemy.exc import DBAPIError

from sleevewright.store import queries
from sleevewright.store.chain import START, Link, Seal, verify_chain, verify_seals
from sleevewright.store.database import is_sqlite

Read = Callable[[Callable[[Connection], Any]], Any]
_BEFORE_ALL = -(2**63)
"""A number that none is before, so that a seal with a wrong one is seen too."""
_JOBS_AT_ONCE = 200
"""Jobs that are verified on one view of the database; a longer one would hold up its log."""


@dataclass(frozen=True)
class Verdict:
    """What a look at the whole store found: nothing wrong, or the first bad place."""

    is_good: bool
    records: int
    seals: int
    seconds: float
    problem: str = ""
    job: str = ""
    number: int = 0

    def __str__(self) -> str:
        """As it is told."""
        looked = f"{self.records} records and {self.seals} seals in {self.seconds:.1f} s"
        return f"all is as it was kept: {looked}" if self.is_good else self.problem


class BadPlaceError(Exception):
    """Carries the first bad place out of the search for it."""

    def __init__(self, problem: str, job: str = "", number: int = 0) -> None:
        self.problem = problem
        self.job = job
        self.number = number
        super().__init__(problem)


def file_problem(connection: Connection, *, thorough: bool) -> str:
    """What is wrong with the database file; empty where nothing is."""
    if not is_sqlite(connection):
        return ""
    pragma = "integrity_check(1)" if thorough else "quick_check(1)"
    try:
        said = str(connection.exec_driver_sql(f"PRAGMA {pragma}").scalar())
    except DBAPIError as error:
        said = str(error.orig)
    return "" if said == "ok" else said.strip()


def verify_recent(connection: Connection) -> int:
    """Look at everything that no seal covers yet; how many records that were.

    Raises
    ------
    BadPlaceError
        At the first record that breaks its chain.
    """
    last = queries.last_seal(connection)
    if last is not None and verify_seals([last], after=last.number - 1, head=last.previous):
        raise BadPlaceError(f"seal {last.number} is not what was sealed", last.job, last.number)
    count = 0
    for job in queries.unsealed_jobs(connection):
        sealed = queries.last_seal(connection, job)
        after, head = (sealed.last, sealed.head) if sealed else (0, START)
        found = queries.links(connection, job, after=after)
        _look(job, found, after, head)
        count += len(found)
    return count


def verify_everything(read: Read, is_over: Callable[[], bool]) -> Verdict:
    """Look at the file, at every record and at every seal."""
    begun = time.monotonic()
    records = seals = 0
    try:
        read(_whole_file)
        for lot in queries.in_lots(read(queries.job_numbers), _JOBS_AT_ONCE):
            _go_on(is_over)
            records += read(partial(_look_at, lot))
        seals = read(_look_at_seals)
    except BadPlaceError as bad:
        return Verdict(
            False, records, seals, time.monotonic() - begun, bad.problem, bad.job, bad.number
        )
    except DBAPIError as error:
        problem = f"the database cannot be read ({error.orig})"
        return Verdict(False, records, seals, time.monotonic() - begun, problem)
    return Verdict(True, records, seals, time.monotonic() - begun)


def _go_on(is_over: Callable[[], bool]) -> None:
    if is_over():
        raise BadPlaceError("the look at the store was broken off")


def _whole_file(connection: Connection) -> int:
    problem = file_problem(connection, thorough=True)
    if problem:
        raise BadPlaceError(f"the database file is damaged ({problem})")
    return 0


def _look_at(jobs: list[str], connection: Connection) -> int:
    count = 0
    for job, found in groupby(queries.links_of(connection, jobs), key=lambda link: link.job):
        kept = list(found)
        _look(job, kept, 0, START)
        count += len(kept)
    return count


def _look(job: str, links: Iterable[Link], after: int, head: str) -> None:
    try:
        bad = verify_chain(links, after=after, head=head)
    except (TypeError, ValueError) as error:  # a column holds what no column of ours does
        problem = f"a record of job {job} after {after} is not what was kept ({error})"
        raise BadPlaceError(problem, job, after) from error
    if bad is not None:
        raise BadPlaceError(f"record {bad} of job {job} is not what was kept", job, bad)


def _look_at_seals(connection: Connection) -> int:
    count = 0

    def counted(seals: Iterator[Seal]) -> Iterator[Seal]:
        nonlocal count
        for one in seals:
            count += 1
            yield one

    bad = verify_seals(counted(queries.seals_after(connection, _BEFORE_ALL)))
    if bad is not None:
        raise BadPlaceError(f"seal {bad} is not what was sealed", number=bad)
    cut = queries.first_uncovered_seal(connection)
    if cut is not None:
        raise BadPlaceError(
            f"record {cut.last} of job {cut.job}, which was sealed, is not there as it was",
            cut.job, cut.last,
        )  # fmt: skip
    return count
