"""After a commit: what the plan judges of a job, reckoned beside the writing.

The shelf names the next action without a plan; where a hold asks for a verdict (is the
bore round?), that verdict is reckoned here a moment after the last reading and kept with
the number of the record that it saw.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Mapping
from functools import partial

from sqlalchemy import and_, or_, select

from sleevewright.errors import SleevewrightError
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import look
from sleevewright.services.shelf import keep_verdicts, shelf_table, verdict_table

QUIET = 0.4
"""Seconds without a new record of a job before its plan is reckoned."""

MOST_BEHIND = 100
"""Jobs that a start looks at; the others are reckoned when somebody looks at them."""

log = logging.getLogger(__name__)


class Reckoner:
    """A thread that reckons verdicts of the jobs that were told something."""

    def __init__(self, bench: Bench, *, quiet: float = QUIET) -> None:
        self._bench = bench
        self._quiet = quiet
        self._told = threading.Condition()
        self._jobs: dict[str, None] = dict.fromkeys(behind(bench))
        self._is_ending = False
        self._thread = threading.Thread(target=self._run, name="reckoner", daemon=True)
        self._end = bench.store.listen(self._hear)
        self._thread.start()

    def _hear(self, numbers: Mapping[str, int]) -> None:
        with self._told:
            self._jobs.update(dict.fromkeys(numbers))
            self._told.notify()

    def _run(self) -> None:
        while (jobs := self._told_of()) is not None:
            for job in jobs:
                if self._is_ending:
                    return
                reckon(self._bench, job)

    def _told_of(self) -> tuple[str, ...] | None:
        """The jobs to be reckoned, once it is quiet; nothing when it is over."""
        with self._told:
            self._told.wait_for(lambda: bool(self._jobs) or self._is_ending)
            # More may be coming in; a plan of half a grid helps nobody.
            while not self._is_ending and self._told.wait(self._quiet):
                pass
            jobs, self._jobs = tuple(self._jobs), {}
            return None if self._is_ending else jobs

    def close(self) -> None:
        """End the thread; what was not reckoned is reckoned when the job is looked at."""
        self._end()
        with self._told:
            self._is_ending = True
            self._told.notify()
        self._thread.join(timeout=30.0)


def behind(bench: Bench) -> tuple[str, ...]:
    """Jobs of which something was told since their plan was last judged."""
    both = shelf_table.outerjoin(
        verdict_table,
        and_(
            verdict_table.c.job == shelf_table.c.job,
            verdict_table.c.cylinder == shelf_table.c.cylinder,
        ),
    )
    query = (
        select(shelf_table.c.job)
        .select_from(both)
        .where(or_(verdict_table.c.last.is_(None), verdict_table.c.last < shelf_table.c.last))
        .order_by(shelf_table.c.released, shelf_table.c.changed.desc())
        .limit(MOST_BEHIND)
    )
    return tuple(bench.store.read(lambda connection: connection.execute(query).scalars().all()))


def reckon(bench: Bench, number: str) -> None:
    """Keep the verdicts of each cylinder of a job."""
    try:
        for cylinder in range(1, bench.store.folded(number).cylinders + 1):
            seen = look(bench, number, cylinder)
            bench.store.write(
                partial(
                    keep_verdicts, folded=seen.folded, cylinder=cylinder, verdicts=seen.verdicts
                )
            )
    except SleevewrightError as refused:
        log.warning("job %s was not reckoned: %s", number, refused)
