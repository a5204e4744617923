"""One go: the live page, Heat's own page and the drop screen say the same of the same readings."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from benches import EXAMPLES, bench_in
from sleevewright.planning.oven_stand import IS_GO, NOT_YET, STALE, WARM, is_odd
from sleevewright.services.bench import Bench
from sleevewright.services.cut_told import CutTold
from sleevewright.services.demo import tell
from sleevewright.services.drop_screen import drop_screen
from sleevewright.services.jobs import look
from sleevewright.services.oven_live import oven_live
from sleevewright.services.oven_watch import oven_watch
from sleevewright.services.ready_told import heating_log
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.hot.ready_views import ready_now
from sleevewright.web.plan.ready_drawing import ready_drawing
from sleevewright.web.plan.viewer import Viewer

JOB, FILES = "D-246", (EXAMPLES / "demo-water.toml",)
LATER = timedelta(minutes=6)
Cells = dict[str, str]


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with a casting that went in 31 minutes ago."""
    opened = bench_in(tmp_path, FILES)
    at = opened.clock() - timedelta(minutes=31)
    tell(opened, JOB, [_event("oven-in", at=at.isoformat())])
    yield opened
    opened.close()


def _event(what: str, **more: str) -> dict[str, object]:
    """Something that happened at the oven."""
    return {"record": "event", "cylinder": 1, "stage": "heat", "what": what, **more}


def _row(number: int, minutes: str, body: str, flange: str) -> Cells:
    """Both fits gauged at a minute."""
    start = f"heat.log/{number}/"
    return {f"{start}minutes": minutes, f"{start}body": body, f"{start}flange": flange}


def _told(bench: Bench, cells: Cells) -> None:
    """Tell cells."""
    folded = look(bench, JOB, 1).folded
    rows = [
        {"record": "value", "cylinder": 1, "cell": cell, "text": text,
         "replaces": [one.id for one in folded.heads(cell)]}
        for cell, text in cells.items()
    ]  # fmt: skip
    tell(bench, JOB, rows)


def _stands(bench: Bench, after: timedelta = timedelta(0)) -> list[str]:
    """What the live page, Heat's page and the drop screen say so long from now."""
    now, live, seen = bench.clock() + after, oven_live(bench, JOB, 1), look(bench, JOB, 1)
    told = CutTold(seen.living.job, seen.folded, 1, shop_of_bench(bench))
    assert live.plan is not None
    assert seen.plan is not None
    watch = oven_watch(live.plan, told, now=now)
    screen = drop_screen(seen.plan, told, now=now)
    return [watch.stand, str(seen.plan.answer("oven.stand").value), screen.stand]


def test_three_pages_say_one_go_by_needle_plug_or_both(bench: Bench) -> None:
    """Body under its go: not yet everywhere; its plug enters: go; six minutes on: no proof."""
    _told(bench, _row(1, "20 min", "100 um", "275 um") | _row(2, "30 min", "135 um", "345 um"))
    assert _stands(bench) == [NOT_YET] * 3
    _told(bench, {"heat.plug_body": "enters freely"})
    assert _stands(bench) == [IS_GO] * 3
    plan = look(bench, JOB, 1).plan
    assert plan is not None
    drawn = ready_drawing(Viewer(plan, "metric"), plan.answer("ready_when.curve"))
    assert "time of day" in str(drawn)  # Heat's own picture goes by the clock too
    assert _stands(bench, LATER) == [STALE, IS_GO, STALE]  # Heat's says: as gauged last
    _told(bench, {"heat.plug_body": "does not enter"} | _row(3, "31 min", "170 um", "350 um"))
    assert _stands(bench) == [NOT_YET] * 3


def test_the_last_look_before_the_drop_counts_as_gauged(bench: Bench) -> None:
    """What Heat's own page takes as slip just before the drop is a reading like any other."""
    _told(bench, _row(1, "20 min", "110 um", "290 um") | _row(2, "30 min", "142 um", "340 um"))
    assert _stands(bench) == [NOT_YET] * 3
    _told(bench, {"heat.slip_body": "165 um", "heat.slip_flange": "350 um"})
    assert _stands(bench) == [IS_GO] * 3


def test_a_zero_set_on_a_warm_gauge_lets_nothing_go(bench: Bench) -> None:
    """It shows slip that is not there; a probe on the gauge that reads the room's lets it count."""
    _told(bench, _row(1, "20 min", "110 um", "290 um") | _row(2, "29 min", "150 um", "340 um"))
    tell(bench, JOB, [_event("zeroed")])
    _told(bench, {"heat.log/3/body": "168 um", "heat.log/3/flange": "355 um"})
    assert _stands(bench) == [WARM] * 3
    _told(bench, {"heat.zero_gauge": "21 C"})
    assert _stands(bench) == [IS_GO] * 3
    _told(bench, {"heat.zero_gauge": "45 C"})
    assert _stands(bench) == [WARM] * 3


def test_a_slip_that_leaps_past_its_go_is_gauged_again_first(bench: Bench) -> None:
    """Left out of the forecast as odd, it is no go by itself; a second one like it is."""
    _told(bench, _row(1, "12 min", "5 um", "180 um") | _row(2, "20 min", "50 um", "225 um"))
    _told(bench, _row(5, "28 min", "80 um", "255 um"))
    _told(bench, _row(6, "30 min", "172 um", "355 um"))
    assert oven_watch_now(bench) == NOT_YET
    plan = look(bench, JOB, 1).plan
    assert plan is not None
    assert is_odd(plan)
    _told(bench, _row(7, "31 min", "174 um", "357 um"))
    assert oven_watch_now(bench) == IS_GO


def test_fahrenheit_told_as_celsius_is_not_over_the_limit(bench: Bench) -> None:
    """290 degC beside a growth of 290 degF is a unit, which is said, and no burnt casting."""
    _told(bench, _row(1, "20 min", "75 um", "250 um") | {"heat.log/1/casting": "143 C"})
    _told(bench, _row(2, "30 min", "100 um", "280 um") | {"heat.log/2/casting": "311 C"})
    plan = look(bench, JOB, 1).plan
    assert plan is not None
    assert any("told as °C" in one.text for one in plan.cautions)
    assert oven_watch_now(bench) == NOT_YET


def test_minutes_follow_from_the_press_where_they_were_not_told(bench: Bench) -> None:
    """A figure told now is of now, 31 minutes after the casting went in."""
    _told(bench, {"heat.log/1/body": "100 um"})
    seen = look(bench, JOB, 1)
    told = CutTold(seen.living.job, seen.folded, 1, shop_of_bench(bench))
    (reading,) = heating_log(told).readings
    assert reading.time == pytest.approx(31 * 60.0, abs=30.0)


def oven_watch_now(bench: Bench) -> str:
    """How it stands on the live page."""
    return oven_live(bench, JOB, 1).watch.stand


def test_the_drop_screen_shows_the_newest_slip_whichever_cell_told_it(bench: Bench) -> None:
    """A row of the log is a gauged slip there too, as old as its minutes; the needle is wanted."""
    _told(bench, _row(1, "20 min", "110 um", "290 um") | _row(2, "30 min", "165 um", "350 um"))
    seen = look(bench, JOB, 1)
    assert seen.plan is not None
    told = CutTold(seen.living.job, seen.folded, 1, shop_of_bench(bench))
    screen = drop_screen(seen.plan, told, now=bench.clock())
    assert screen.slip == "165 um"
    assert screen.slip_age == pytest.approx(60.0, abs=30.0)
    shown = ready_now(seen.plan, oven_watch(seen.plan, told, now=bench.clock()), now=bench.clock())
    assert shown is not None
    go = next(one.go for one in shown.fits if one.name == "body")
    assert screen.slip_wanted.split()[0] == go
    assert (shown.stand, shown.minutes) == (IS_GO, "")
    assert "reached at" not in str(shown.picture)
