"""After a commit: what the plan judges of a job, reckoned beside the writing.

The shelf names the next action without a plan; where a hold asks for a verdict (is the
bore round?), that verdict is reckoned here a moment after the last reading of the job and
kept with the number of the record that it saw.  It is reckoned anew when a setting or a
gauge of the shop changes, and kept as well when a page looked at the job and judged
otherwise than is kept.
"""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from sqlalchemy import Connection, and_, or_, select

from sleevewright.errors import SleevewrightError
from sleevewright.services.bench import Bench, nobody
from sleevewright.services.jobs import Look, judged
from sleevewright.services.shelf import (
    are_verdicts_kept,
    keep_verdicts,
    shelf_table,
    verdict_table,
)
from sleevewright.store.waiting import Fresh

if TYPE_CHECKING:
    Task = Callable[[], None]

QUIET = 0.4
"""Seconds without a new record of a job before its plan is reckoned."""

MOST_QUIET = 60.0
"""Seconds after which it is reckoned though more is coming in; pages that are open ask anew."""

LOT = 100
"""Jobs left behind that are looked for at once; the rest when those are reckoned."""

PAUSE = 4.0
"""How much longer than a job took none of the others in work is reckoned: a fifth of a core.
Without it many jobs in work at once would take the core that readings are kept by."""

REST = 9.0
"""How much longer than a job left behind took nothing is done of the next: a tenth of a core."""

log = logging.getLogger(__name__)


class Reckoner:
    """A thread that reckons verdicts of the jobs that were told something."""

    def __init__(
        self,
        bench: Bench,
        *,
        quiet: float = QUIET,
        most: float = MOST_QUIET,
        rest: float = REST,
        settled: Callable[[], object] = nobody,
    ) -> None:
        self._bench = bench
        self._settled = settled  # called once, after the first job
        self._quiet, self._most, self._rest = quiet, most, rest
        self._told = threading.Condition()
        self._news: dict[str, tuple[float, float]] = {}  # job: first and last told, in seconds
        self._looks: dict[tuple[str, int], Look] = {}
        self._behind = dict.fromkeys(behind(bench))
        self._tried: set[str] = set()
        self._rested = self._resumed = 0.0
        self._is_ending = False
        self._thread = threading.Thread(target=self._run, name="reckoner", daemon=True)
        self._end = bench.store.listen(self._hear)
        bench.on_look, bench.on_change = self._looked, self._changed
        self._thread.start()

    def _hear(self, fresh: Fresh) -> None:
        """Note what was told; the thread wakes by itself when a job that it knows of is due."""
        now = time.monotonic()
        with self._told:
            is_first = not self._news.keys() >= fresh.keys()
            for job in fresh:
                first, _last = self._news.get(job, (now, now))
                self._news[job] = (first, now)
            if is_first:
                self._told.notify()

    def _looked(self, seen: Look) -> None:
        """A page looked at a cylinder; whether that is news is seen by the thread."""
        with self._told:
            self._looks[seen.number, seen.cylinder] = seen
            self._told.notify()

    def _changed(self) -> None:
        """The shop judges otherwise now: the jobs in flight are due at once."""
        due = behind(self._bench)
        left = due[LOT - 1 :]  # after the last of a whole lot more is asked for
        with self._told:
            self._news |= dict.fromkeys(due[: LOT - 1], (0.0, 0.0))
            self._behind |= dict.fromkeys(left)
            self._tried.clear()
            self._told.notify()

    def _run(self) -> None:
        while (task := self._next()) is not None:
            try:
                task()
            except Exception:  # a job that cannot be reckoned stops no other
                log.exception("a job was not reckoned")
            settled, self._settled = self._settled, nobody
            settled()

    def _next(self) -> Task | None:
        """What is to be done next, once something is; nothing when it is over."""
        with self._told:
            while not self._is_ending:
                now = time.monotonic()
                task = self._due(now)
                if task is not None:
                    return task
                self._told.wait(self._idle(now))
            return None

    def _due(self, now: float) -> Task | None:
        """What is due: a look first, which costs little, then news, then what was left behind."""
        if self._looks:
            _key, seen = self._looks.popitem()
            return partial(keep_look, self._bench, seen)
        for job, told in self._news.items():
            if now >= max(self._when(told), self._resumed):
                del self._news[job]
                self._behind.pop(job, None)
                return partial(self._keep_up, job)
        if self._behind and now >= self._rested:
            job = next(iter(self._behind))
            del self._behind[job]
            return partial(self._catch_up, job)
        return None

    def _when(self, told: tuple[float, float]) -> float:
        """When a job is due: more may be coming in, and a plan of half a grid helps nobody."""
        first, last = told
        return min(last + self._quiet, first + self._most)

    def _idle(self, now: float) -> float | None:
        """Seconds until something is due; nothing where it waits for news."""
        moments = [max(self._when(told), self._resumed) for told in self._news.values()]
        moments += [self._rested] if self._behind else []
        return max(0.0, min(moments) - now) if moments else None

    def _keep_up(self, job: str) -> None:
        """Reckon a job of which something was told, then pause."""
        began = time.monotonic()
        try:
            reckon(self._bench, job)
        finally:
            now = time.monotonic()
            self._resumed = now + PAUSE * (now - began)

    def _catch_up(self, job: str) -> None:
        """Reckon a job that was left behind, then rest; after the last of a lot ask for more."""
        began = time.monotonic()
        self._tried.add(job)
        reckon(self._bench, job)
        with self._told:
            is_over = not self._behind
        more = [one for one in behind(self._bench) if one not in self._tried] if is_over else []
        now = time.monotonic()
        with self._told:
            self._behind |= dict.fromkeys(more)
            self._rested = now + self._rest * (now - began)

    def close(self) -> None:
        """End the thread; what was not reckoned is found by the next start."""
        self._end()
        self._bench.on_look = self._bench.on_change = nobody
        with self._told:
            self._is_ending = True
            self._told.notify()
        self._thread.join(timeout=30.0)


def behind(bench: Bench) -> tuple[str, ...]:
    """Jobs of which something was told, or the shop changed, since their plan was last judged."""
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
        .limit(LOT)
    )
    return tuple(bench.store.read(lambda connection: connection.execute(query).scalars().all()))


def reckon(bench: Bench, number: str) -> None:
    """Keep the verdicts of each cylinder of a job."""
    try:
        for cylinder in range(1, bench.store.folded(number).cylinders + 1):
            keep(bench, judged(bench, number, cylinder))
    except SleevewrightError as refused:
        log.warning("job %s was not reckoned: %s", number, refused)


def keep_look(bench: Bench, seen: Look) -> None:
    """Keep what was judged when a page looked, where it was judged otherwise before."""
    told = (seen.folded, seen.cylinder, seen.verdicts)
    if not bench.store.read(lambda connection: are_verdicts_kept(connection, *told)):
        keep(bench, seen)


def keep(bench: Bench, seen: Look) -> None:
    """Keep the verdicts of a look; the rows follow from the job as it stands by then."""

    def work(connection: Connection) -> None:
        now = bench.store.folded(seen.number)
        keep_verdicts(connection, now, seen.cylinder, seen.verdicts, last=seen.folded.last)

    bench.store.write(work)
