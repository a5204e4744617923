"""Those who wait for news of a job: by blocking, or by being called."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence
from itertools import count

from sleevewright.store.chain import Link

Fresh = Mapping[str, Sequence[Link]]
"""What a commit kept, by job, in order."""

Hears = Callable[[Fresh], None]
"""Called in the writer's thread with what was kept; returns soon."""


class News:
    """Last committed numbers, and who waits for them."""

    def __init__(self, last: Callable[[str], int]) -> None:
        self._last = last
        self._changed = threading.Condition()
        self._numbers: dict[str, int] = {}
        self._pulse = 0
        self._hearers: dict[int, Hears] = {}
        self._tickets = count()
        self._is_closed = False

    @property
    def pulse(self) -> int:
        """How often something was committed since the start."""
        return self._pulse

    def last(self, job: str) -> int:
        """Number of a job's last committed record."""
        known = self._numbers.get(job)
        if known is None:
            found = self._last(job)
            with self._changed:
                known = max(found, self._numbers.get(job, 0))
                if known:  # names of jobs that do not exist would fill the memory
                    self._numbers[job] = known
        return known

    def tell(self, fresh: Fresh) -> None:
        """There is news."""
        numbers = {job: some[-1].number for job, some in fresh.items()}
        with self._changed:
            self._numbers.update(numbers)
            self._pulse += 1
            self._changed.notify_all()
            hearers = tuple(self._hearers.items())
        for ticket, hears in hearers:
            try:
                hears(fresh)
            except Exception:  # noqa: BLE001 - one that fails to hear must not fail the keeping
                self._hearers.pop(ticket, None)

    def wait(self, job: str, after: int, timeout: float) -> bool:
        """Block until a job has a record beyond a number; of no job, until the pulse is."""
        if job:
            self.last(job)
        with self._changed:
            return self._changed.wait_for(lambda: self._is_over(job, after), timeout) and not (
                self._is_closed and not self._has_news(job, after)
            )

    def _is_over(self, job: str, after: int) -> bool:
        return self._is_closed or self._has_news(job, after)

    def _has_news(self, job: str, after: int) -> bool:
        return (self._numbers.get(job, 0) if job else self._pulse) > after

    def listen(self, hears: Hears) -> Callable[[], None]:
        """Be called with all news; what is returned ends it."""
        ticket = next(self._tickets)
        with self._changed:
            self._hearers[ticket] = hears

        def end() -> None:
            with self._changed:
                self._hearers.pop(ticket, None)

        return end

    def close(self) -> None:
        """Let everybody go who waits."""
        with self._changed:
            self._is_closed = True
            self._changed.notify_all()
