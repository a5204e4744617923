"""What plans judge is kept beside the records: soon, whatever else goes on, and as it is now."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from benches import bench_in
from sleevewright.errors import StateError
from sleevewright.services import reckoning
from sleevewright.services.bench import Bench
from sleevewright.services.entry import take
from sleevewright.services.jobs import look, look_afresh, open_job
from sleevewright.services.people import add_person
from sleevewright.services.reckoning import Reckoner, behind
from sleevewright.services.settings import change_setting, reset_setting
from sleevewright.services.shelf import rows_of, verdicts_kept
from sleevewright.services.signing import Signature, release

ENOUGH = 20.0
"""Seconds within which everything here is done on a slow machine."""

SWEEP = "setup.offset"


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with two jobs; the first has two cylinders, both swept."""
    made = bench_in(tmp_path / "data")
    open_job(made, "J-1", {"engine_kind": "four-stroke", "cylinders": 2})
    open_job(made, "J-2", {})
    yield made
    made.close()


def sweep(bench: Bench, cylinder: int, thou: str = "0.7") -> None:
    """Tell a sweep of a bore at the top and at the bottom."""
    entries = []
    for place, (feature, depth) in enumerate([("sweep-top", "0.4 in"), ("sweep-bottom", "3 in")]):
        name = f"s{cylinder}{place}"
        body = {
            "cylinder": cylinder, "set": name, "stage": "setup", "feature": feature,
            "instrument": "indicator", "instruments": [], "unit": "thou", "stations": [depth],
            "directions": ["0 deg", "90 deg", "180 deg", "270 deg"],
        }  # fmt: skip
        entries.append(("set", body))
        for at, text in enumerate((f"+{thou}", "0", f"-{thou}", "0")):
            cell = f"set/{name}/0/{at}"
            entries.append(("value", {"cylinder": cylinder, "cell": cell, "text": text}))
    device = f"tablet{cylinder}"
    told = [
        {"id": f"{cylinder}{n:031x}", "job": "J-1", "n": n, "kind": kind, "body": body}
        for n, (kind, body) in enumerate(entries, 1)
    ]
    assert {one.state for one in take(bench, device, told).answers} == {"kept"}


def note(bench: Bench, n: int, job: str = "J-2") -> None:
    """Tell something that no plan asks for."""
    before = [f"{n - 1:032x}"] if n > 1 else []
    body = {"cylinder": 0, "cell": "place", "text": f"shelf {n}", "replaces": before}
    told = {"id": f"{n:032x}", "job": job, "n": n, "kind": "value", "body": body}
    assert take(bench, "busy", [told]).answers[0].state == "kept"


def kept(bench: Bench, cylinder: int = 1) -> str:
    """What is kept of the sweep of a cylinder of the first job."""
    found = bench.store.read(lambda connection: verdicts_kept(connection, "J-1"))
    return found.get(cylinder, {}).get(SWEEP, "")


def comes(what: Callable[[], bool], each: Callable[[], None] = lambda: None) -> bool:
    """Whether something comes to be; ``each`` is done before each look."""
    end = time.monotonic() + ENOUGH
    while time.monotonic() < end:
        each()
        if what():
            return True
        time.sleep(0.05)
    return False


def test_a_job_is_reckoned_while_another_is_busy(bench: Bench) -> None:
    """Readings of one job without a pause hold up the verdicts of no other."""
    reckoner = Reckoner(bench, quiet=0.5, most=1.0)
    try:
        sweep(bench, 1)
        told = iter(range(1, 10_000))
        assert comes(lambda: kept(bench) == "good", lambda: note(bench, next(told)))
    finally:
        reckoner.close()


def test_a_job_that_is_busy_itself_is_reckoned_after_a_while(bench: Bench) -> None:
    """A pause that never comes is not waited for longer than the cap."""
    reckoner = Reckoner(bench, quiet=0.5, most=1.0)
    try:
        sweep(bench, 1)
        told = iter(range(1, 10_000))
        assert comes(lambda: kept(bench) == "good", lambda: note(bench, next(told), "J-1"))
        assert rows_of(bench, "J-1")[0].place.startswith("shelf ")
    finally:
        reckoner.close()


def test_a_changed_limit_judges_the_jobs_in_flight_anew(bench: Bench) -> None:
    """Lowered and set back, the kept verdict follows; a start after the change finds it too."""
    sweep(bench, 1)
    reckoner = Reckoner(bench, quiet=0.1)
    try:
        assert comes(lambda: kept(bench) == "good")
        change_setting(bench, "centring", "0.5 thou")
        assert comes(lambda: kept(bench) == "out")
        reset_setting(bench, "centring")
        assert comes(lambda: kept(bench) == "good")
    finally:
        reckoner.close()
    assert behind(bench) == ()
    change_setting(bench, "centring", "0.5 thou")
    assert set(behind(bench)) == {"J-1", "J-2"}
    again = Reckoner(bench, quiet=0.1)
    try:
        assert comes(lambda: kept(bench) == "out")
    finally:
        again.close()


def test_what_a_page_judged_is_kept(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a job that nobody reckoned, a look alone brings the shelf up to date, not in its path."""
    monkeypatch.setattr(reckoning, "behind", lambda _bench: ())
    sweep(bench, 1)
    reckoner = Reckoner(bench)
    try:
        assert kept(bench) == ""
        assert look(bench, "J-1").verdicts[SWEEP] == "good"
        assert comes(lambda: kept(bench) == "good")
    finally:
        reckoner.close()
    assert look(bench, "J-1").verdicts[SWEEP] == "good"  # and nobody is told any more


def test_more_jobs_than_a_lot_are_all_reckoned(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a restore every job in flight gets its verdicts, however many there are."""
    monkeypatch.setattr(reckoning, "LOT", 2)
    for _ in range(4):
        open_job(bench, "", {})
    assert len(behind(bench)) == 2
    reckoner = Reckoner(bench, rest=0.0)
    try:
        assert comes(lambda: behind(bench) == ())
    finally:
        reckoner.close()


def test_a_job_that_cannot_be_reckoned_stops_no_other(
    bench: Bench, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """Whatever goes wrong with one, the thread goes on to the next."""
    real = reckoning.reckon

    def failing(on: Bench, number: str) -> None:
        if number == "J-2":
            raise ZeroDivisionError
        real(on, number)

    monkeypatch.setattr(reckoning, "reckon", failing)
    sweep(bench, 1)
    note(bench, 1)
    reckoner = Reckoner(bench, quiet=0.1)
    try:
        assert comes(lambda: kept(bench) == "good")
        assert comes(lambda: "a job was not reckoned" in caplog.text)
    finally:
        reckoner.close()


def test_a_release_judges_every_cylinder_at_that_moment(bench: Bench) -> None:
    """What was kept of another cylinder before a limit changed does not pass its hold."""
    for cylinder in (1, 2):
        sweep(bench, cylinder)
    reckoning.reckon(bench, "J-1")
    change_setting(bench, "centring", "0.5 thou")
    assert look(bench, "J-1", 1).verdicts[f"2/{SWEEP}"] == "good"  # as it is kept
    seen = look_afresh(bench, "J-1", 1)
    assert seen.verdicts[SWEEP] == seen.verdicts[f"2/{SWEEP}"] == "out"
    add_person(bench, "Ann")
    with pytest.raises(StateError, match="not ready for release"):
        release(bench, "J-1", cylinder=1, by=Signature(""))
