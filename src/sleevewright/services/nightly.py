"""What the bench does by itself: a backup each hour, and a drill each night.

The clock is the bench's own, so that tests turn it.  A night that was missed because the
machine was off is made up for at the next start.
"""

from __future__ import annotations

import logging
import re
import threading
from datetime import datetime, time, timedelta, tzinfo

from sleevewright.errors import SleevewrightError
from sleevewright.services.backups import back_up, home_of, note_failure, setting_text
from sleevewright.services.bench import Bench
from sleevewright.services.drills import drill, last_drill
from sleevewright.store.backup_manifest import backup_folders, time_of

DRILL_TIME = "drill_time"
"""Setting: time of day of the drill, as 02:00, by the clock of the machine."""
USUAL_TIME = time(2, 0)
EVERY = timedelta(hours=1)
GLANCE = 30.0
"""Seconds between two looks at the clock."""
FIRST_PAUSE, LONGEST_PAUSE = timedelta(minutes=1), EVERY
"""After a failure the next try; twice as long after each further one, up to an hour."""

MOST_COUNTED = 10
"""Failures beyond which the pause grows no more."""

_TIME = re.compile(r"([01]?\d|2[0-3])[:.]([0-5]\d)")
log = logging.getLogger(__name__)


def time_of_day(text: str) -> time:
    """A time of day as it is set; the usual one where that says nothing.

    Examples
    --------
    >>> time_of_day("3:30"), time_of_day("at night")
    (datetime.time(3, 30), datetime.time(2, 0))
    """
    found = _TIME.fullmatch(text.strip())
    return time(int(found[1]), int(found[2])) if found else USUAL_TIME


def backup_is_due(now: datetime, last: datetime | None) -> bool:
    """Whether an hour has gone, or the last one lies in a future that cannot be."""
    return last is None or now - last >= EVERY or last - now >= EVERY


def drill_is_due(now: datetime, last: datetime | None, at: time, zone: tzinfo | None) -> bool:
    """Whether the time of day has come since the last drill.

    Parameters
    ----------
    now : datetime
        This moment, with its time zone.
    last : datetime | None
        The last drill.
    at : time
        Time of day of the drill.
    zone : tzinfo | None
        Time zone of the shop; nothing for that of the machine.
    """
    here = now.astimezone(zone)
    tonight = here.replace(hour=at.hour, minute=at.minute, second=0, microsecond=0)
    since = tonight if tonight <= here else tonight - timedelta(days=1)
    return last is None or last < since or last - now >= timedelta(days=1)


class Nightly:
    """The thread that looks at the clock; closed before the bench is."""

    def __init__(self, bench: Bench, *, zone: tzinfo | None = None, glance: float = GLANCE) -> None:
        self._bench = bench
        self._zone = zone
        self._glance = glance
        self._is_asked = threading.Event()
        self._wake = threading.Event()
        self._is_over = False
        self._failures = 0
        self._not_before: datetime | None = None  # after a failure: the next try
        self._thread = threading.Thread(target=self._run, name="nightly", daemon=True)

    def start(self) -> None:
        """Begin to look."""
        self._thread.start()

    def soon(self) -> None:
        """Back up and drill at once, as after a release, though it failed just now."""
        self._not_before = None
        self._is_asked.set()
        self._wake.set()

    def close(self) -> None:
        """End when what is under way is done."""
        self._is_over = True
        self._wake.set()
        if self._thread.is_alive():
            self._thread.join()

    def tick(self) -> tuple[str, ...]:
        """Do what is due; names of what was done.

        After a failure nothing is due for a while: a disk that was taken out is not asked
        for twice a minute, and what was asked for stays asked for.
        """
        now = self._bench.clock()
        if self._pauses(now):
            return ()
        asked = self._is_asked.is_set()
        try:
            done = self._done(now, asked=asked)
        except Exception:
            if asked:
                self._is_asked.set()
            pause = min(FIRST_PAUSE * 2**self._failures, LONGEST_PAUSE)
            self._failures = min(self._failures + 1, MOST_COUNTED)
            self._not_before = now + pause
            raise
        self._failures, self._not_before = 0, None
        return done

    def _pauses(self, now: datetime) -> bool:
        """Whether the next try is yet to come; a clock that was set back is not waited for."""
        until = self._not_before
        return until is not None and now < until <= now + LONGEST_PAUSE

    def _done(self, now: datetime, *, asked: bool) -> tuple[str, ...]:
        bench, done = self._bench, []
        self._is_asked.clear()
        folders = backup_folders(home_of(bench.folder))
        newest = time_of(folders[-1].name) if folders else None
        drilled = last_drill(bench)
        moment = None if drilled is None else datetime.fromisoformat(drilled.made)
        at = time_of_day(setting_text(bench, DRILL_TIME))
        due = asked or drill_is_due(now, moment, at, self._zone)
        if due or backup_is_due(now, newest):
            back_up(bench, reason="release" if asked else "backup")
            done.append("backup")
        if due:
            drill(bench)
            done.append("drill")
        return tuple(done)

    def _run(self) -> None:
        while not self._is_over:
            try:
                self.tick()
            except SleevewrightError as refused:
                log.warning("the backup failed: %s", refused)
                self._note(str(refused))
            except Exception:
                log.exception("the backup failed")
                self._note("The tool failed in it; its window shows what was wrong.")
            self._wake.wait(self._glance)
            self._wake.clear()

    def _note(self, text: str) -> None:
        try:
            note_failure(self._bench, text)
        except SleevewrightError as refused:  # a store that was stopped says so on every page
            log.warning("it could not be noted: %s", refused)
