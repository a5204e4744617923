"""Use cases about plans: read a job, plan it, write the plan as a document.

Stages are cached by their input record: a frozen record hashes by its content, so an
edit that touches the oven leaves the answers of the bore where they are.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from sleevewright.jobs.model import Job
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import with_stage
from sleevewright.planning.document import plan_document
from sleevewright.planning.ledger import StageResult
from sleevewright.planning.plan import Runner, StageFunction, plan
from sleevewright.planning.shop import Shop
from sleevewright.planning.stress import is_webbed_or_ringed, stress_stage
from sleevewright.services.jobfiles import load_job

__all__ = ["load_job", "plan_document", "plan_file", "plan_job", "with_stages"]

Asked = TypeVar("Asked")

STAGES_KEPT = 48
"""About six plans; a plan with all its samples holds some 40 MB."""

PLANS_AT_ONCE = 2
"""Plans that are reckoned at one time; the next waits, so that none starves the others."""


class StageCache:
    """Results of stages by function, input record and the results they stand on."""

    def __init__(self, kept: int = STAGES_KEPT) -> None:
        self._kept = kept
        self._results: OrderedDict[Any, StageResult] = OrderedDict()
        self._underway: dict[Any, threading.Event] = {}
        self._lock = threading.Lock()

    def __call__(self, stage: StageFunction, record: Any, *upstream: StageResult) -> StageResult:
        """The cached result, or the stage's answer, kept for the next time.

        Who asks for what another is reckoning waits for it; where that fails, reckons anew.
        """
        key = (stage, record, upstream)
        while True:
            with self._lock:
                if key in self._results:
                    self._results.move_to_end(key)
                    return self._results[key]
                another = self._underway.get(key)
                if another is None:
                    self._underway[key] = threading.Event()
                    break
            another.wait()
        try:
            result = stage(record, *upstream)
            self._keep(key, result)
        finally:
            with self._lock:
                self._underway.pop(key).set()
        return result

    def _keep(self, key: Any, result: StageResult) -> None:
        """Keep a result; the one that was asked for longest ago goes."""
        with self._lock:
            self._results[key] = result
            while len(self._results) > self._kept:
                self._results.popitem(last=False)


_cache = StageCache()
_at_work = threading.BoundedSemaphore(PLANS_AT_ONCE)


def plan_job(job: Job, *, shop: Shop | None = None, units: str | None = None) -> Plan:
    """Plan a job, reusing the stages whose inputs have not changed.

    ``units`` makes the plan speak in inches or millimetres whatever the job speaks in.
    """
    spoken = job if units is None else replace(job, units=units)
    return with_stages(lambda run: plan(spoken, shop or Shop(), run=run))


def with_stages(ask: Callable[[Runner], Asked]) -> Asked:
    """Ask something that runs stages of a plan, with those that were run already kept."""
    with _at_work:
        return ask(_cache)


def plan_file(path: Path, *, shop: Shop | None = None, units: str | None = None) -> Plan:
    """Read a job file and plan it; a web or a ring that it tells of is answered beside."""
    job = load_job(path)
    made = plan_job(job, shop=shop, units=units)
    if is_webbed_or_ringed(job.casting):
        return with_stage(made, stress_stage(made, job.casting))
    return made
