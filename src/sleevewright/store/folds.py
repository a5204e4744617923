"""Folds of jobs kept ready: one is never changed once it was handed out."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import Record

_MOST = 256
"""Jobs that are kept ready; a shop has a dozen in flight."""

Load = Callable[[str, int], Sequence[Record]]
"""Committed records of a job after a number."""


class Folds:
    """The committed state of the jobs that were asked for last."""

    def __init__(self, load: Load) -> None:
        self._load = load
        self._lock = threading.Lock()
        self._known: OrderedDict[str, Folded] = OrderedDict()

    def get(self, job: str, last: int) -> Folded:
        """A job with all records up to a number, and perhaps some that came since."""
        with self._lock:
            known = self._known.get(job)
            if known is not None:
                self._known.move_to_end(job)
        if known is not None and known.last >= last:
            return known
        folded = Folded() if known is None else known.copy()
        for record in self._load(job, folded.last):
            folded.add(record)
        self.publish({job: folded})
        return folded

    def peek(self, job: str) -> Folded | None:
        """What is ready of a job, if anything."""
        with self._lock:
            return self._known.get(job)

    def publish(self, fresh: Mapping[str, Folded]) -> None:
        """Take newer ones; what is older than what is known is passed over."""
        with self._lock:
            for job, folded in fresh.items():
                known = self._known.get(job)
                if folded.last and (known is None or known.last < folded.last):
                    self._known[job] = folded
                    self._known.move_to_end(job)
            while len(self._known) > _MOST:
                self._known.popitem(last=False)
