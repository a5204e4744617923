"""The shop's gauges: honest starting doubts, what is refused, snapshots and plans."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from sleevewright.core.gauges import _kinds_from, gauge_kind, gauge_kinds
from sleevewright.core.materials import default
from sleevewright.errors import InputError, NotFound
from sleevewright.jobs.fields_readings import INSTRUMENT_KINDS
from sleevewright.planning.gauges import SETTINGS
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.instruments import (
    DIMENSIONS,
    Instrument,
    instrument,
    instruments,
    planned_instruments,
    retire_instrument,
    revive_instrument,
    save_instrument,
    snapshot,
    starting_values,
)
from sleevewright.services.settings import shop_of_bench
from sleevewright.units import parse

MIC = {"name": "mic 2-3", "kind": "micrometer", "range": "2 to 3 in", "turn": "0.025 in"}
BORE = {"name": "bore gauge", "kind": "dial-bore-gauge", "set_from": "mic 2-3", "turn": "0.5 mm"}


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench of its own."""
    opened = open_bench(tmp_path / "data")
    yield opened
    opened.close()


def test_each_kind_says_what_it_is_worth_and_says_it_right() -> None:
    """What a row states at the bench is its SI value, for the doubt and for the step."""
    for one in gauge_kinds():
        dimension = DIMENSIONS[one.unit]
        said = parse(one.stated, field=one.kind, dimension=dimension).value
        assert said == pytest.approx(one.value, rel=1e-4), one.kind
        assert one.low <= one.value <= one.high
        if one.resolution is not None:
            step = parse(one.resolution_stated, field=one.kind, dimension=dimension).value
            assert step == pytest.approx(one.resolution, rel=1e-4), one.kind
        assert (one.source, one.evidence) == ("practice", "practice")
        assert one.title
        assert one.note


def test_the_planners_own_defaults_are_the_same_figures() -> None:
    """A gauge with its starting doubt plans as one of which nothing was told, or wider."""
    for kind, name in SETTINGS.items():
        assert gauge_kind(kind).value == pytest.approx(default(name).value), kind
    # A caliper is entered once for inside and outside: it starts with the larger.
    assert gauge_kind("caliper").value == default("caliper_inside_setting").value
    assert set(INSTRUMENT_KINDS) <= {one.kind for one in gauge_kinds()}


def test_a_table_that_cannot_be_right_is_refused_with_its_line() -> None:
    """A value outside its range, a kind that stands twice, a unit that is none."""
    head = (
        "kind,title,value,low,high,unit,resolution,stated,resolution_stated,source,evidence,note\n"
    )
    row = "mic,Mic,{},1e-6,2e-6,{},,1 µm,,practice,practice,x\n"
    for text, field in (
        (row.format("3e-6", "m"), "value"),
        (row.format("1e-6", "in"), "unit"),
        (row.format("1e-6", "m") * 2, "kind"),
    ):
        with pytest.raises(InputError, match=f"instruments.csv line .*{field}"):
            _kinds_from(head + text)
    with pytest.raises(NotFound, match="micrometer"):
        gauge_kind("yardstick")


def test_a_gauge_starts_with_the_honest_doubt_of_its_kind(bench: Bench) -> None:
    """Where nothing is told, step and doubt are the usual ones; they are then assumed ones."""
    mic = save_instrument(bench, MIC)
    assert (mic.resolution, mic.setting) == ("0.1 thou", "0.2 thou")
    assert mic.is_as_usual
    assert starting_values("micrometer")["setting"] == "0.2 thou"
    changed = save_instrument(bench, {"setting": "0.3 thou"}, name="mic 2-3")
    assert not changed.is_as_usual
    assert changed.turn == "0.025 in", "what is left out stays"
    assert instrument(bench, "mic 2-3") == changed


def test_a_snapshot_has_the_gauge_and_what_it_was_set_from(bench: Bench) -> None:
    """The chain of masters, nearest first, with the texts as they were keyed."""
    save_instrument(bench, {"name": "ring 65", "kind": "setting-ring"})
    save_instrument(bench, {**MIC, "set_from": "ring 65"})
    save_instrument(bench, BORE)
    found = snapshot(bench, "bore gauge")
    assert [one["name"] for one in found] == ["bore gauge", "mic 2-3", "ring 65"]
    assert found[0] == {
        "name": "bore gauge",
        "kind": "dial-bore-gauge",
        "resolution": "0.1 thou",
        "setting": "0.4 thou",
        "set_from": "mic 2-3",
        "turn": "0.5 mm",
    }
    with pytest.raises(NotFound, match=r"Known are: .*bore gauge"):
        snapshot(bench, "nobody's gauge")


def test_a_renamed_master_keeps_its_gauges(bench: Bench) -> None:
    """What was set from it follows the new name."""
    save_instrument(bench, MIC)
    save_instrument(bench, BORE)
    save_instrument(bench, {"name": "mic A"}, name="mic 2-3")
    assert instrument(bench, "bore gauge").set_from == "mic A"
    with pytest.raises(NotFound):
        instrument(bench, "mic 2-3")


@pytest.mark.parametrize(
    ("told", "field", "allowed"),
    [
        ({"name": ""}, "name", "1 to 40 letters"),
        ({"name": "x" * 41}, "name", "1 to 40 letters"),
        ({"kind": "yardstick"}, "kind", "one of micrometer"),
        ({"kind": ""}, "kind", "one of micrometer"),
        ({"setting": "0.2"}, "setting", "a length"),
        ({"setting": "0.2 lb"}, "setting", "a length"),
        ({"setting": "0.2 in"}, "setting", "50 times the usual 0.2 thou"),
        ({"setting": "0 thou"}, "setting", "50 times the usual"),
        ({"setting": "-0.2 thou"}, "setting", "50 times the usual"),
        ({"resolution": "1 mm"}, "resolution", "50 times the usual 0.1 thou"),
        ({"turn": "0 mm"}, "turn", "more than nought"),
        ({"range": "about 3"}, "range", "two sizes"),
        ({"range": "3 to 2 in"}, "range", "two sizes"),
        ({"range": "2 to 3"}, "range", "a length"),
        ({"last_check": "March"}, "last check", "year-month-day"),
        ({"last_check": "2026-02-30"}, "last check", "year-month-day"),
        ({"last_check": "2026-03-01", "next_due": "2026-03-01"}, "next due", "2026-03-01"),
        ({"set_from": "bore gauge 9"}, "set from", "a gauge of this shop"),
        ({"set_from": "mic 2-3"}, "set from", "not set from this one"),
    ],
)
def test_what_cannot_be_right_is_refused_by_field(
    bench: Bench, told: dict[str, str], field: str, allowed: str
) -> None:
    """Each refusal names the field, what was told, what is allowed; nothing is kept."""
    with pytest.raises(InputError) as caught:
        save_instrument(bench, {**MIC, **told})
    assert str(caught.value).startswith(f"{field}: ")
    assert allowed in str(caught.value)
    assert instruments(bench) == ()


def test_gauges_set_in_a_circle_are_refused(bench: Bench) -> None:
    """A master that was set from its own gauge is no master."""
    save_instrument(bench, MIC)
    save_instrument(bench, BORE)
    with pytest.raises(InputError, match=r"set from: bore gauge .*Name the master"):
        save_instrument(bench, {"set_from": "bore gauge"}, name="mic 2-3")
    assert instrument(bench, "mic 2-3").set_from == ""


def test_two_gauges_have_two_names(bench: Bench) -> None:
    """A name stands once, a retired gauge's too."""
    save_instrument(bench, MIC)
    retire_instrument(bench, "mic 2-3")
    with pytest.raises(InputError, match="a name that no other gauge has"):
        save_instrument(bench, {**MIC, "name": "MIC 2-3"})


def test_a_retired_gauge_is_out_of_the_lists_and_stays_in_sets(bench: Bench) -> None:
    """It can still be snapshot and put back; a change does not bring it back by itself."""
    save_instrument(bench, MIC)
    assert not retire_instrument(bench, "mic 2-3").is_active
    assert instruments(bench) == ()
    assert planned_instruments(bench) == ()
    assert snapshot(bench, "mic 2-3")[0]["name"] == "mic 2-3"
    assert not save_instrument(bench, {"turn": "0.5 mm"}, name="mic 2-3").is_active
    assert revive_instrument(bench, "mic 2-3").is_active
    assert [one.name for one in instruments(bench)] == ["mic 2-3"]


def test_other_gauges_are_kept_in_their_own_units(bench: Bench) -> None:
    """A thermocouple doubts in degrees, a wrench in percent; neither reaches a fit."""
    told = {"name": "probe", "kind": "thermocouple", "range": "0 to 300 C", "setting": "4 F"}
    assert save_instrument(bench, told).setting == "4 F"
    save_instrument(bench, {"name": "wrench", "kind": "torque-wrench", "range": "10 to 60 N m"})
    assert planned_instruments(bench) == ()
    with pytest.raises(InputError, match="setting"):
        save_instrument(bench, {**told, "setting": "1 thou"}, name="probe")


def test_a_check_is_overdue_after_its_day() -> None:
    """On the day itself it is not; without a day it is never."""
    due = Instrument("mic", "micrometer", next_due="2026-03-01")
    assert not due.is_overdue(date(2026, 3, 1))
    assert due.is_overdue(date(2026, 3, 2))
    assert not Instrument("mic", "micrometer").is_overdue(date(2026, 3, 2))


def test_the_planner_gets_the_shops_gauges(bench: Bench) -> None:
    """SI values, the text as keyed; a usual doubt is assumed, a stated one typed."""
    save_instrument(bench, MIC)
    save_instrument(bench, {**BORE, "setting": "0.3 thou"})
    mic, bore = shop_of_bench(bench).instruments
    assert (mic.name, mic.kind, bore.set_from) == ("mic 2-3", "micrometer", "mic 2-3")
    assert mic.setting is not None
    assert bore.setting is not None
    assert (mic.setting.kind, bore.setting.kind) == ("assumed", "typed")
    assert mic.setting.value == pytest.approx(5.08e-6)
    assert bore.setting.value == pytest.approx(7.62e-6)
    assert bore.turn is not None
    assert bore.turn.value == pytest.approx(5e-4)
