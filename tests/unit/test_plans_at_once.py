"""Plans asked for at one time: few are reckoned at once, and nothing is reckoned twice."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest

from sleevewright.jobs.model import Job
from sleevewright.services import plans
from sleevewright.services.plans import PLANS_AT_ONCE, StageCache, plan_job

PATIENCE = 20.0
"""Seconds after which a thread that waits is taken for stuck."""


def test_a_stage_is_reckoned_once_for_all_who_ask() -> None:
    """Eight ask while the first is at work: one reckoning, one result for all of them."""
    made: list[object] = []
    go, begun = threading.Event(), threading.Event()

    def stage(record: Any) -> Any:
        begun.set()
        assert go.wait(PATIENCE)
        made.append(record)
        return object()

    cache = StageCache()
    with ThreadPoolExecutor(8) as pool:
        asked = [pool.submit(cache, stage, "record") for _ in range(8)]
        assert begun.wait(PATIENCE)
        go.set()
        results = {id(one.result(PATIENCE)) for one in asked}
    assert made == ["record"]
    assert len(results) == 1


def test_other_stages_do_not_wait() -> None:
    """While one record is being reckoned another is answered."""
    go = threading.Event()

    def stage(record: Any) -> Any:
        if record == "slow":
            assert go.wait(PATIENCE)
        return record

    cache = StageCache()
    with ThreadPoolExecutor(1) as pool:
        slow = pool.submit(cache, stage, "slow")
        assert cache(stage, "fast") == "fast"
        assert not slow.done()
        go.set()
        assert slow.result(PATIENCE) == "slow"


def test_a_stage_that_fails_is_tried_again_by_who_waits() -> None:
    """A failure goes to the one who asked; the one who waited gets a result of its own."""
    begun, go = threading.Event(), threading.Event()
    tries: list[str] = []

    def stage(record: Any) -> Any:
        tries.append(record)
        if len(tries) == 1:
            begun.set()
            assert go.wait(PATIENCE)
            raise ZeroDivisionError
        return record

    cache = StageCache()
    with ThreadPoolExecutor(2) as pool:
        first = pool.submit(cache, stage, "record")
        assert begun.wait(PATIENCE)
        second = pool.submit(cache, stage, "record")
        go.set()
        assert second.result(PATIENCE) == "record"
        with pytest.raises(ZeroDivisionError):
            first.result(PATIENCE)
    assert len(tries) == 2


def test_what_is_kept_of_stages_is_bounded() -> None:
    """The result that was asked for longest ago is reckoned again."""
    made: list[str] = []

    def stage(record: Any) -> Any:
        made.append(record)
        return record

    cache = StageCache(kept=2)
    for record in ("a", "b", "a", "c", "a", "b"):
        assert cache(stage, record) == record
    assert made == ["a", "b", "c", "b"]


def test_few_plans_are_reckoned_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of eight plans two are at work at any time, and all are answered."""
    lock, full = threading.Lock(), threading.Barrier(PLANS_AT_ONCE, timeout=PATIENCE)
    now, most = 0, 0

    def planned(*_: object, **__: object) -> str:
        nonlocal now, most
        with lock:
            now += 1
            most = max(most, now)
        full.wait()  # passes only where as many as may be are here together
        with lock:
            now -= 1
        return "planned"

    monkeypatch.setattr(plans, "plan", planned)
    with ThreadPoolExecutor(8) as pool:
        assert set(pool.map(plan_job, [Job()] * 8)) == {"planned"}
    assert most == PLANS_AT_ONCE
