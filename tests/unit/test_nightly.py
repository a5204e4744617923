"""What the bench does by itself: hourly backups, nightly drills, and how it says they stand."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, time, timedelta, timezone
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import select

from sleevewright.errors import SleevewrightError
from sleevewright.services import backups, nightly
from sleevewright.services.backups import list_backups
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.drills import last_drill, standing
from sleevewright.services.jobs import open_job
from sleevewright.services.nightly import Nightly, backup_is_due, drill_is_due, time_of_day
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.tables import backup, setting

START = datetime(2031, 5, 2, 8, 0, tzinfo=UTC)
MINUTE = timedelta(minutes=1)
AT = time(2, 0)


class Clock:
    """A clock that the test turns."""

    def __init__(self) -> None:
        self.moment = START

    def __call__(self) -> datetime:
        """What it shows."""
        return self.moment


@pytest.fixture
def clock() -> Clock:
    """A clock that stands at eight in the morning."""
    return Clock()


@pytest.fixture
def bench(tmp_path: Path, clock: Clock) -> Iterator[Bench]:
    """A bench with a job, by that clock."""
    with closing(open_bench(tmp_path / "bench")) as made:
        made.clock = clock
        open_job(made, "J-1", {"invented": True})
        yield made


def test_two_days_of_glances_make_hourly_backups_and_nightly_drills(
    bench: Bench, clock: Clock
) -> None:
    """A first drill at once, then at two each night; a backup an hour, old ones let go."""
    made: list[datetime] = []
    drilled: list[datetime] = []
    watch = Nightly(bench, zone=UTC)
    for _ in range(2 * 24 * 12):
        done = watch.tick()
        made += [clock.moment] if "backup" in done else []
        drilled += [clock.moment] if "drill" in done else []
        clock.moment += 5 * MINUTE
    assert drilled == [
        START,
        datetime(2031, 5, 3, 2, 0, tzinfo=UTC),
        datetime(2031, 5, 4, 2, 0, tzinfo=UTC),
    ]
    assert len(made) == 48
    assert {after - before for before, after in pairwise(made)} == {60 * MINUTE}
    assert 24 <= len(list_backups(bench)) <= 27
    assert standing(bench).is_good


def test_the_time_of_day_is_a_setting(bench: Bench, clock: Clock) -> None:
    """At half past three by the shop's own clock, when that was set."""
    row = {"key": nightly.DRILL_TIME, "value": "3:30", "said": "x", "person": None}
    bench.store.write(lambda connection: connection.execute(setting.insert().values(row)))
    zone = timezone(timedelta(hours=2))
    watch = Nightly(bench, zone=zone)
    watch.tick()
    found = []
    for _ in range(24 * 6):
        clock.moment += 10 * MINUTE
        found += [clock.moment.astimezone(zone).time()] if "drill" in watch.tick() else []
    assert found == [time(3, 30)]


def test_a_release_is_backed_up_and_drilled_at_once(bench: Bench, clock: Clock) -> None:
    """Whoever releases asks; the hour and the night do not matter then."""
    watch = Nightly(bench, zone=UTC)
    watch.tick()
    clock.moment += MINUTE
    assert watch.tick() == ()
    watch.soon()
    assert watch.tick() == ("backup", "drill")
    assert watch.tick() == ()


def test_the_thread_does_it_and_ends_when_it_is_told(bench: Bench) -> None:
    """Started, asked, closed: the drill is there and no thread is left."""
    watch = Nightly(bench, zone=UTC, glance=0.01)
    watch.start()
    watch.soon()
    watch.close()
    done = last_drill(bench)
    assert done is not None
    assert done.state == "good"
    assert not [one for one in threading.enumerate() if one.name == "nightly"]


def test_a_failed_backup_shows_until_one_goes_through(
    bench: Bench, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The thread goes on after a failure, and the first screen says why it was."""
    tried = threading.Event()

    def fail(*_words: object, **_named: object) -> None:
        tried.set()
        raise StoreDamaged("a page is torn")

    Nightly(bench, zone=UTC).tick()
    clock.moment += 90 * MINUTE
    with monkeypatch.context() as patch:
        patch.setattr(nightly, "back_up", fail)
        watch = Nightly(bench, zone=UTC, glance=0.01)
        watch.start()
        assert tried.wait(10)
        watch.close()
    assert not standing(bench).is_good
    assert "a page is torn" in standing(bench).words
    clock.moment += MINUTE
    Nightly(bench, zone=UTC).tick()
    assert standing(bench).is_good


def test_a_failing_backup_is_tried_less_and_less_often(bench: Bench, clock: Clock) -> None:
    """A day without a place for backups: a few tries, one note, no seal; then all is made up."""
    watch = Nightly(bench, zone=UTC)
    watch.tick()
    seals = bench.store.verify_all().seals
    place = backups.home_of(bench.folder)
    place.rename(aside := place.with_name("aside"))
    place.write_text("no folder")
    failed: list[datetime] = []
    watch.soon()
    for _ in range(24 * 120):
        try:
            assert watch.tick() == ()
        except SleevewrightError as refused:
            failed.append(clock.moment)
            nightly.note_failure(bench, str(refused))
        clock.moment += timedelta(seconds=30)
    gaps = [(after - before) / MINUTE for before, after in pairwise(failed)]
    assert gaps[:8] == [1, 2, 4, 8, 16, 32, 60, 60]
    assert set(gaps[7:]) == {60}
    assert bench.store.verify_all().seals == seals
    query = select(backup.c.id).where(backup.c.id.like("failed-%"))
    assert len(bench.store.read(lambda connection: connection.execute(query).all())) == 1
    place.unlink()
    aside.rename(place)
    clock.moment += timedelta(hours=1)
    assert watch.tick() == ("backup", "drill")
    assert bench.store.verify_all().seals == seals + 1
    assert standing(bench).is_good


def test_whoever_asks_is_not_put_off_by_a_failure(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a failure a release is backed up at once; what failed while asked stays asked."""
    watch = Nightly(bench, zone=UTC)
    with monkeypatch.context() as patch:
        patch.setattr(nightly, "back_up", refuse)
        with pytest.raises(StoreDamaged):
            watch.tick()
        assert watch.tick() == ()
        watch.soon()
        with pytest.raises(StoreDamaged):
            watch.tick()
    assert watch.tick() == ()
    watch.soon()
    assert watch.tick() == ("backup", "drill")


def refuse(*_words: object, **_named: object) -> None:
    """A backup that fails."""
    raise StoreDamaged("a page is torn")


def test_how_the_backups_stand_in_words(bench: Bench, clock: Clock) -> None:
    """None, none drilled, good, too old, bad: each is another sentence."""
    assert standing(bench).words == "no backup was made yet"
    watch = Nightly(bench, zone=UTC)
    nightly.back_up(bench)
    assert standing(bench).words == "no backup was restored in a drill yet"
    watch.soon()
    watch.tick()
    good = standing(bench)
    assert (good.is_good, good.when) == (True, "2031-05-02T08:00:00.000Z")
    assert good.words.startswith("last drill 2031-05-02 08:00 UTC, ")
    assert "every chain verified" in good.words
    clock.moment += timedelta(hours=40)
    old = standing(bench)
    assert (old.is_good, old.when) == (False, good.when)
    shutil.rmtree(bench.folder / "backups")
    nightly.drill(bench)
    assert not standing(bench).is_good
    assert "bad" in standing(bench).words


@given(st.integers(-3000, 3000), st.integers(0, 1439), st.integers(-12, 14))
def test_a_drill_is_due_once_for_each_passing_of_its_hour(
    minutes: int, at_minute: int, hours: int
) -> None:
    """Right after a drill none is due; a day later one is, whatever the hour and the zone."""
    at, zone = time(at_minute // 60, at_minute % 60), timezone(timedelta(hours=hours))
    last = START + minutes * MINUTE
    assert not drill_is_due(last, last, at, zone)
    assert drill_is_due(last + timedelta(days=1), last, at, zone)
    steps = [last + n * MINUTE for n in range(1, 1441)]
    due = [moment for moment in steps if drill_is_due(moment, last, at, zone)]
    first = due[0].astimezone(zone)
    assert (first.hour, first.minute) == (at.hour, at.minute)


def test_a_clock_that_jumped_back_does_not_stop_the_backups() -> None:
    """A last backup in the far future counts as none; one a little ahead is waited for."""
    assert backup_is_due(START, None)
    assert backup_is_due(START, START - timedelta(hours=1))
    assert not backup_is_due(START, START - 59 * MINUTE)
    assert not backup_is_due(START, START + 30 * MINUTE)
    assert backup_is_due(START, START + timedelta(days=400))
    assert drill_is_due(START, START + timedelta(days=400), AT, UTC)
    assert drill_is_due(START, None, AT, UTC)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("02:00", AT),
        ("23.15", time(23, 15)),
        ("", AT),
        ("24:00", AT),
        ("noon", AT),
        ("7:05", time(7, 5)),
    ],
)
def test_a_time_of_day_is_read_or_the_usual_one(text: str, told: time) -> None:
    """Hours and minutes with a colon or point; anything else is two at night."""
    assert time_of_day(text) == told
