"""The picture of a heat: what it shows is what was told and what is forecast, at its place."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from benches import EXAMPLES, bench_in
from sleevewright.core.heat.joining import slip
from sleevewright.planning.answers import Plan
from sleevewright.planning.oven_chart import oven_chart
from sleevewright.services.demo import tell
from sleevewright.services.oven_live import oven_live
from sleevewright.web.hot.ready_views import ready_now
from sleevewright.web.plan.ready_drawing import ready_picture, time_ticks
from sleevewright.web.plan.viewer import Viewer

JOB, FILES = "D-246", (EXAMPLES / "demo-water.toml",)
IN = datetime(2026, 11, 24, 10, 11, tzinfo=UTC)
TOLD = (("12 min", "20 um", "110 C"), ("20 min", "75 um", "143 C"))


@cache
def _heated(*, is_read: bool = True) -> Plan:
    """A worked barrel in the oven, read twice."""
    with TemporaryDirectory() as folder:
        bench = bench_in(Path(folder), FILES)
        records = [
            {"record": "value", "cylinder": 1, "cell": f"heat.log/{number}/{name}", "text": text}
            for number, row in enumerate(TOLD, 1)
            for name, text in zip(("minutes", "body", "casting"), row, strict=True)
        ]
        tell(bench, JOB, records if is_read else [])
        live = oven_live(bench, JOB, 1)
        bench.close()
    assert live.plan is not None, live.problem
    return live.plan


def test_every_gauged_slip_and_every_answer_stands_in_the_picture() -> None:
    """Both points with their figures, the go line, the limit, and by the clock when it is ready."""
    plan = _heated()
    drawn = ready_picture(Viewer(plan, "metric"), IN)
    assert drawn is not None
    broad, slim = drawn.split("</svg>")[:2]
    for one in (broad, slim):
        assert all(f">{text}<" in one for text in ("+20", "+75", "= go", "230", "still tight"))
        assert one.count('class="gauge"') == len(TOLD)
    assert re.search(r"reached at 1[0-2]:\d\d, between 1[0-2]:\d\d and 1[0-2]:\d\d\.", broad)
    assert "time of day" in broad


def test_the_limit_stands_where_this_castings_own_growth_puts_it() -> None:
    """Against the book's slip at the limit, scaled from the cold fit by what the readings say."""
    chart = oven_chart(_heated())
    assert chart is not None
    fit = dict(chart.heating.fits)[chart.forecast.decides]
    book = {
        heat: float(
            slip(
                diameter=fit.diameter,
                interference=fit.interference,
                casting_law=chart.heating.casting_law,
                sleeve_law=chart.heating.sleeve_law,
                casting_temperature=heat,
                sleeve_temperature=chart.heating.zero_temperature,
            )
        )
        for heat in (chart.heating.zero_temperature, chart.limit_temperature)
    }
    cold, hot = book.values()
    assert (chart.limit - cold) / (hot - cold) == pytest.approx(chart.forecast.expansion)
    middle = chart.forecast.slips[2]
    shown = chart.slip_at(chart.forecast.temperatures[-1])
    assert shown == pytest.approx(middle[-1], abs=5e-6)


def test_without_a_reading_there_is_no_picture() -> None:
    """Nothing is drawn that nobody gauged."""
    plan = _heated(is_read=False)
    assert oven_chart(plan) is None
    assert ready_picture(Viewer(plan, "metric")) is None


def test_ticks_of_the_clock_are_round_and_no_more_than_six() -> None:
    """From 10:11 on a heat of 50 minutes: every ten; of minutes: from nought."""
    assert [words for _, words in time_ticks(50.0, IN)] == [
        "10:20", "10:30", "10:40", "10:50", "11:00",
    ]  # fmt: skip
    assert time_ticks(26.0, None)[0] == (0.0, "0")
    assert len(time_ticks(300.0, IN)) <= 6


def test_a_heat_of_months_ago_gets_no_forecast_on_the_page(tmp_path: Path) -> None:
    """The figures stay, the time until ready does not: an oven of last season says nothing."""
    bench = bench_in(tmp_path, FILES)
    at = bench.clock() - timedelta(days=93)
    tell(bench, JOB, [
        {"record": "event", "cylinder": 1, "stage": "heat", "what": "oven-in",
         "at": at.isoformat()},
        {"record": "value", "cylinder": 1, "cell": "heat.log/1/minutes", "text": "20 min"},
        {"record": "value", "cylinder": 1, "cell": "heat.log/1/body", "text": "75 um"},
    ])  # fmt: skip
    live = oven_live(bench, JOB, 1)
    shown = ready_now(live.plan, live.watch, now=bench.clock())
    bench.close()
    assert shown is not None
    assert (shown.is_old, shown.minutes, shown.stand) == (True, "", "stale: gauge again")
    assert shown.fits[0].figure == "+75"
    assert shown.age_words == "93 days ago"


def test_a_needle_past_its_go_by_less_than_its_doubt_is_said_to_be_so(tmp_path: Path) -> None:
    """Not yet, with the reason: the figure on the dial alone would look like a go."""
    bench = bench_in(tmp_path, FILES)
    at = bench.clock() - timedelta(minutes=31)
    tell(bench, JOB, [
        {"record": "event", "cylinder": 1, "stage": "heat", "what": "oven-in",
         "at": at.isoformat()},
        {"record": "value", "cylinder": 1, "cell": "heat.log/1/minutes", "text": "30 min"},
        {"record": "value", "cylinder": 1, "cell": "heat.log/1/flange", "text": "320 um"},
        {"record": "value", "cylinder": 1, "cell": "heat.log/1/body", "text": "145 um"},
    ])  # fmt: skip
    live = oven_live(bench, JOB, 1)
    shown = ready_now(live.plan, live.watch, now=bench.clock())
    bench.close()
    assert shown is not None
    assert (shown.stand, shown.fits[0].go) == ("not yet", "+144")
    assert "less than the doubt" in shown.note


@pytest.mark.parametrize(("shown", "taken_off"), [("-5 um", 0.0), ("5 um", 5e-6)])
def test_a_gauge_that_has_cooled_since_is_not_taken_off_a_later_reading(
    tmp_path: Path, shown: str, taken_off: float
) -> None:
    """A warm gauge's minus is of the reading before it alone; a plus hides no slip and stays."""
    bench = bench_in(tmp_path, FILES)
    for cell, text in (
        ("heat.log/1/minutes", "20 min"), ("heat.log/1/body", "75 um"),
        ("heat.zero_body", shown),
        ("heat.log/2/minutes", "30 min"), ("heat.log/2/body", "120 um"),
    ):  # fmt: skip
        tell(bench, JOB, [{"record": "value", "cylinder": 1, "cell": cell, "text": text}])
    plan = oven_live(bench, JOB, 1).plan
    bench.close()
    assert plan is not None
    chart = oven_chart(plan)
    assert chart is not None
    assert [one.growth for one in chart.gauged] == pytest.approx([75e-6, 120e-6 - taken_off])


def test_over_the_limit_or_ready_no_time_is_forecast(tmp_path: Path) -> None:
    """What the gauge or the probe says now leaves nothing to wait for."""
    for number, (rows, stand) in enumerate((
        ({"body": "170 um", "flange": "345 um"}, "go"),
        ({"casting": "236 C"}, "over the limit: out"),
    )):  # fmt: skip
        bench = bench_in(tmp_path / str(number), FILES)
        at = bench.clock() - timedelta(minutes=31)
        tell(bench, JOB, [
            {"record": "event", "cylinder": 1, "stage": "heat", "what": "oven-in",
             "at": at.isoformat()},
            {"record": "value", "cylinder": 1, "cell": "heat.log/1/minutes", "text": "30 min"},
            *({"record": "value", "cylinder": 1, "cell": f"heat.log/1/{name}", "text": text}
              for name, text in rows.items()),
        ])  # fmt: skip
        live = oven_live(bench, JOB, 1)
        shown = ready_now(live.plan, live.watch, now=bench.clock())
        bench.close()
        assert shown is not None
        assert (shown.stand, shown.minutes, shown.left) == (stand, "", "")
