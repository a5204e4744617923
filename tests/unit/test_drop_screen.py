"""What the drop screen is given: the planner's figures, how long it is out, what to go through."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from ported_jobs import also, ported_bench, told_of
from sleevewright.services.bench import Bench
from sleevewright.services.demo import tell
from sleevewright.services.drop_screen import DropScreen, drop_screen

JOB = "D-131"
NOW = datetime(2026, 3, 1, 12, 0, 0, tzinfo=UTC)
SIZES = {"sleeve.outside_diameter": "72.00 mm", "sleeve.inside_diameter": "66.40 mm"}


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with the ported job, its sleeve measured."""
    opened = ported_bench(tmp_path)
    also(opened, SIZES)
    yield opened
    opened.close()


def screen(bench: Bench) -> DropScreen:
    """The screen as it stands."""
    plan, told = told_of(bench)
    return drop_screen(plan, told, now=NOW)


def happened(bench: Bench, what: str, stage: str, ago: float) -> None:
    """Tell the job that something happened so many seconds ago."""
    at = (NOW - timedelta(seconds=ago)).isoformat()
    tell(bench, JOB, [{"record": "event", "cylinder": 1, "stage": stage, "what": what, "at": at}])


def test_line_up_is_never_shown_above_five_seconds(bench: Bench) -> None:
    """However long it may stay free, the dial has five seconds at most, whole ones."""
    shown = screen(bench)
    assert shown.line_up is not None
    assert shown.line_up <= 5.0
    assert shown.line_up == int(shown.line_up)
    assert shown.why_not == ""


def test_seconds_out_of_the_oven_are_told_until_it_goes_in_again(bench: Bench) -> None:
    """From the newest *out*, by when it was, not by when it came; nothing once the sleeve is in."""
    assert screen(bench).out_age is None
    happened(bench, "oven-in", "heat", 3000.0)
    happened(bench, "out", "heat", 25.0)
    assert screen(bench).out_age == pytest.approx(25.0)
    assert "every ten seconds more cost" in screen(bench).carry
    happened(bench, "oven-in", "heat", 2000.0)
    assert screen(bench).out_age == pytest.approx(25.0)
    happened(bench, "in", "drop", 5.0)
    assert screen(bench).out_age is None


def test_a_bag_is_asked_of_a_chilled_sleeve_only(bench: Bench) -> None:
    """A sleeve told as warm as the room is wiped; one from the freezer comes out of its bag."""
    dry = {one.key: one.words for one in screen(bench).dry_run}["dry"]
    assert dry == "Sleeve dry and wiped"
    also(bench, {"sleeve.temperature": "-18 C"})
    dry = {one.key: one.words for one in screen(bench).dry_run}["dry"]
    assert "bag" in dry
