"""How a heat stands: by what was gauged or tried just now, never by the clock."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

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
from sleevewright.services.oven_watch import OvenWatch, oven_watch
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


def _event(job: Teller, what: str, minutes: float) -> None:
    """Something that happened to the casting."""
    at = (IN + timedelta(minutes=minutes)).isoformat()
    job.tell("event", {"cylinder": 1, "stage": "heat", "what": what, "at": at})


def test_a_reading_is_as_old_as_its_minutes_say() -> None:
    """Told at whatever time: it was read so many minutes after the casting went in."""
    job = Teller()
    _event(job, "oven-in", 0.0)
    job.value("heat.log/1/minutes", "20 min")
    job.value("heat.log/1/body", "3.4 thou")
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
        job.value("heat.log/1/body", "3.4 thou")
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


def test_a_figure_without_its_minutes_is_no_reading_yet() -> None:
    """Nothing is forecast from it, so it stands as unread, whatever its age."""
    assert oven_stand(_plan(heat__plug=PLUG), age=5.0) == UNREAD
    assert oven_stand(_plan(heat__plug=PLUG), age=5.0, plugs={"body": True}) == IS_GO
