"""How a heat stands: by what was gauged or tried just now, never by the clock."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from sleevewright.core.heat.heating import DOOR_SECONDS
from sleevewright.core.heat.ready_said import GO, STOP, WAIT
from sleevewright.jobs.model import Job
from sleevewright.planning.answers import Answer, Kind, Plan, Quantity, StageAnswers, Value
from sleevewright.planning.oven_stand import (
    IS_GO,
    NEVER,
    NOT_YET,
    OVER,
    STALE,
    UNREAD,
    oven_stand,
    plug_says,
)
from sleevewright.planning.shop import Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.oven_watch import OvenWatch, newest_look, oven_watch
from sleevewright.services.ready_told import heating_log
from told_jobs import Teller

IN = datetime(2026, 11, 24, 10, 0, tzinfo=UTC)
PLUG = 0.0763


def _plan(**values: Value) -> Plan:
    """A plan of nothing but a few values; ``__`` in a name is the point."""
    answers = tuple(
        Answer(name.replace("__", "."), name, value, Quantity.RATIO, Kind.COMPUTED)
        for name, value in values.items()
    )
    stage = StageAnswers("heat", "Heat", answers)
    return Plan("J-1", "barrel", "inch", True, "", (), (), (stage,))


def _said(word: str, never: float = 0.0) -> Plan:
    """A plan whose forecast says a word, with a plug for body and flange."""
    return _plan(
        ready_when__say=word, ready_when__never=never,
        heat__plug=PLUG, heat__plug_flange=PLUG + 0.006,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("word", "age", "never", "stands"),
    [
        (WAIT, None, 0.0, UNREAD),
        (WAIT, 60.0, 0.0, NOT_YET),
        (WAIT, 60.0, 0.9, NEVER),
        (GO, 60.0, 0.0, IS_GO),
        (GO, 301.0, 0.0, STALE),
        (STOP, 60.0, 0.0, OVER),
        (STOP, 9000.0, 0.0, OVER),
    ],
)
def test_an_old_reading_is_no_go_and_over_the_limit_is_never_stale(
    word: str, age: float | None, never: float, stands: str
) -> None:
    """Go only with a reading of the last five minutes; out over the limit however old."""
    assert oven_stand(_said(word, never), age=age) == stands


def test_plugs_let_go_only_together_and_one_that_sticks_forbids_it() -> None:
    """Both fits by their plugs are go; one alone is not; the needle does not overrule a plug."""
    assert oven_stand(_said(WAIT), age=5.0, plugs={"body": True, "flange": True}) == IS_GO
    assert oven_stand(_said(WAIT), age=5.0, plugs={"body": True}) == NOT_YET
    assert oven_stand(_said(GO), age=5.0, plugs={"body": False}) == NOT_YET


@pytest.mark.parametrize(
    ("word", "size", "says"),
    [
        ("enters freely", None, True),
        ("enters freely", PLUG + 1e-5, True),
        ("enters freely", PLUG - 1e-5, None),
        ("does not enter", None, False),
        ("does not enter", PLUG + 1e-5, None),
        ("does not enter", PLUG - 1e-5, False),
        ("", None, None),
    ],
)
def test_a_plug_of_another_size_proves_only_what_it_can(
    word: str, size: float | None, says: bool | None
) -> None:
    """A smaller plug that enters and a larger one that sticks say nothing."""
    assert plug_says(_said(WAIT), "body", word=word, size=size) is says


def _watched(job: Teller, minutes: float) -> OvenWatch:
    """The heat of a told job so many minutes after it went in."""
    told = CutTold(Job(), job.folded, 1, Shop())
    return oven_watch(_said(WAIT), told, now=IN + timedelta(minutes=minutes))


def _at(minutes: float) -> str:
    """So many minutes after the casting went in."""
    return (IN + timedelta(minutes=minutes)).isoformat()


def _event(job: Teller, what: str, minutes: float) -> None:
    """Something that happened to the casting."""
    job.tell("event", {"cylinder": 1, "stage": "heat", "what": what, "at": _at(minutes)})


def test_a_reading_is_as_old_as_its_minutes_say() -> None:
    """Told at whatever time: it was read so many minutes after the casting went in."""
    job = Teller()
    _event(job, "oven-in", 0.0)
    job.value("heat.log/1/minutes", "20 min")
    job.value("heat.log/1/body", "3.4 thou", received=_at(21.0))
    assert _watched(job, 22.0).age == pytest.approx(120.0)
    assert _watched(job, 22.0).stand == NOT_YET
    assert _watched(job, 26.0).stand == STALE


def test_out_and_in_again_is_the_same_heat_within_half_an_hour() -> None:
    """After a look outside the clock goes on; the next day it begins anew."""
    job = Teller()
    _event(job, "oven-in", 0.0)
    _event(job, "out", 10.0)
    assert _watched(job, 11.0).left == IN + timedelta(minutes=10)
    _event(job, "oven-in", 12.0)
    assert (_watched(job, 13.0).went_in, _watched(job, 13.0).left) == (IN, None)
    _event(job, "out", 30.0)
    _event(job, "oven-in", 24 * 60.0)
    assert _watched(job, 1500.0).went_in == IN + timedelta(days=1)


def test_a_gauge_put_back_within_ten_minutes_of_a_hot_reading_is_warm() -> None:
    """Its zero is then no zero to be set on; later it is."""
    for after, is_warm in ((9.0, True), (11.0, False)):
        job = Teller()
        _event(job, "oven-in", 0.0)
        job.value("heat.log/1/minutes", "20 min")
        job.value("heat.log/1/body", "3.4 thou", received=_at(20.5))
        said = (IN + timedelta(minutes=20.0 + after)).isoformat()
        job.value("heat.zero_body", "-0.2 thou", received=said)
        (zero,) = _watched(job, 40.0).zeros
        assert (zero.fit, zero.text, zero.is_warm) == ("body", "-0.2 thou", is_warm)


def test_a_plug_that_was_tried_long_ago_says_nothing() -> None:
    """It lets go just now, not six minutes later, when it is warm and the bore is another."""
    job = Teller(cooling="water")
    job.value("sleeve.flange", "plain")
    said = (IN + timedelta(minutes=20.0)).isoformat()
    for fit in ("body", "flange"):
        job.value(f"heat.plug_{fit}", "enters freely", received=said)
    assert _watched(job, 21.0).stand == IS_GO
    assert _watched(job, 26.0).stand == UNREAD
    assert newest_look(CutTold(Job(), job.folded, 1, Shop())) == IN + timedelta(minutes=20)
    _event(job, "oven-in", 1440.0)  # the next day it says nothing of the new heat, on any page
    assert newest_look(CutTold(Job(), job.folded, 1, Shop())) is None


def test_a_figure_without_its_minutes_is_no_reading_yet() -> None:
    """Nothing is forecast from it, so it stands as unread, whatever its age."""
    assert oven_stand(_plan(heat__plug=PLUG), age=5.0) == UNREAD
    assert oven_stand(_plan(heat__plug=PLUG), age=5.0, plugs={"body": True}) == IS_GO


def test_rows_of_an_earlier_heat_are_no_readings_of_this_one() -> None:
    """Yesterday's go is no go today: its rows stand in the job and are left out, which is said."""
    job = Teller()
    _event(job, "oven-in", -1440.0)
    job.value("heat.log/1/minutes", "40 min", received=_at(-1400.0))
    first = job.value("heat.log/1/body", "6.4 thou", received=_at(-1400.0))
    series = "within 0.3; casting 0 293.2, 600 350.4 | 900 380.1, 1200 400.0"
    job.value("heat.series", series, received=_at(-1390.0))
    job.value("heat.zero_body", "0.3 thou", received=_at(-1390.0))
    _event(job, "out", -1380.0)
    _event(job, "oven-in", 0.0)
    assert (_watched(job, 38.0).age, _watched(job, 38.0).stand) == (None, UNREAD)
    assert heating_log(CutTold(Job(), job.folded, 1, Shop())).readings == ()
    assert any("earlier heat" in one for one in _watched(job, 38.0).doubts)
    job.value("heat.log/1/body", "6.5 thou", received=_at(38.0), replaces=[first.id])
    assert _watched(job, 38.5).age is None  # mended today, read yesterday
    job.value("heat.log/2/minutes", "39 min", received=_at(39.0))
    job.value("heat.log/2/body", "1.0 thou", received=_at(39.0))
    assert _watched(job, 40.0).age == pytest.approx(60.0)
    (reading,) = heating_log(CutTold(Job(), job.folded, 1, Shop())).readings
    assert reading.growth == pytest.approx(25.4e-6)  # nor is yesterday's zero taken off it


def test_minutes_that_are_still_to_come_make_no_reading_fresh() -> None:
    """50 keyed for 20: it was read when it was told, at the latest, and the row is named."""
    job = Teller()
    _event(job, "oven-in", 0.0)
    job.value("heat.log/1/minutes", "50 min", received=_at(20.0))
    job.value("heat.log/1/body", "3.4 thou", received=_at(20.0))
    assert _watched(job, 26.0).age == pytest.approx(360.0)
    assert _watched(job, 26.0).stand == STALE
    assert any("Row 1" in one for one in _watched(job, 26.0).doubts)


def test_a_probe_of_just_now_does_not_make_an_older_slip_fresh() -> None:
    """Slip at 30 min and probe at 34: at 36 the slip is six minutes old and no proof."""
    assert oven_stand(_said(GO), age=120.0, gauged={"body": 360.0}) == STALE
    assert oven_stand(_said(GO), age=120.0, gauged={"body": 290.0, "flange": 280.0}) == IS_GO
    job = Teller()
    _event(job, "oven-in", 0.0)
    for row, name, text, at in (
        (1, "minutes", "30 min", 30.0), (1, "body", "6.4 thou", 30.0),
        (2, "minutes", "34 min", 34.0), (2, "casting", "340 F", 34.0),
    ):  # fmt: skip
        job.value(f"heat.log/{row}/{name}", text, received=_at(at))
    told = CutTold(Job(), job.folded, 1, Shop())
    stands = [
        oven_watch(_said(GO), told, now=IN + timedelta(minutes=one)).stand for one in (34, 36)
    ]
    assert stands == [IS_GO, STALE]


def test_a_clock_that_is_off_is_put_right_and_a_late_record_is_not() -> None:
    """Two prompt records of a clock behind, or one of a clock ahead, show it; waiting does not."""
    for lag, shift in ((7.0, 7.0), (-4.0, -4.0)):
        job = Teller()
        for minutes in (0.0, 20.0):
            body = {"cylinder": 1, "stage": "heat", "what": "oven-in" if not minutes else "door",
                    "at": _at(minutes - lag), "said": _at(minutes - lag)}  # fmt: skip
            job.tell("event", body, received=_at(minutes))
        watched = _watched(job, 21.0)
        assert watched.went_in == IN
        assert list(watched.heat.clocks.values()) == [timedelta(minutes=shift)]
        assert any("clock" in one for one in watched.doubts)
    job = Teller()
    for minutes in (0.0, 20.0):  # both waited on the device for the bench until 25
        body = {"cylinder": 1, "stage": "heat", "what": "oven-in" if not minutes else "door",
                "at": _at(minutes), "said": _at(minutes)}  # fmt: skip
        job.tell("event", body, received=_at(25.0))
    assert (_watched(job, 26.0).went_in, _watched(job, 26.0).doubts) == (IN, ())


def test_in_the_oven_pressed_twice_does_not_lose_the_readings() -> None:
    """With readings and no way out before it the heat goes on from the first press."""
    job = Teller()
    _event(job, "oven-in", 0.0)
    _event(job, "oven-in", 1.0)  # nothing was read: the door shut only now
    assert _watched(job, 2.0).went_in == IN + timedelta(minutes=1)
    job.value("heat.log/1/minutes", "20 min", received=_at(21.0))
    job.value("heat.log/1/body", "3.4 thou", received=_at(21.0))
    _event(job, "oven-in", 25.0)
    watched = _watched(job, 26.0)
    assert (watched.went_in, watched.row) == (IN + timedelta(minutes=1), 1)
    assert any("pressed again" in one for one in watched.doubts)


def test_taken_out_and_back_in_counts_as_outside_for_as_long_as_it_was() -> None:
    """Out at 10 and back at 13 minutes: three minutes of room air, by the presses of a look."""
    job = Teller()
    _event(job, "oven-in", 0.0)
    _event(job, "taken-out", 10.0)
    assert _watched(job, 11.0).left == IN + timedelta(minutes=10)
    _event(job, "back-in", 13.0)
    _event(job, "door", 20.0)
    assert (_watched(job, 21.0).went_in, _watched(job, 21.0).left) == (IN, None)
    doors = heating_log(CutTold(Job(), job.folded, 1, Shop())).doors
    assert [(one.time, one.seconds, one.is_out) for one in doors] == [
        (600.0, 180.0, True), (1200.0, DOOR_SECONDS, False),
    ]  # fmt: skip
