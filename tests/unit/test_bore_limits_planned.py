"""Limits of the parent bore and book classes, as the plan has them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry, Job
from sleevewright.jobs.pastjobs import pairing_of
from sleevewright.planning.answers import Plan
from sleevewright.planning.habit import HABIT
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Posterior, Settings, Shop

EXAMPLES = Path(__file__).parents[2] / "examples"
FEW = Settings(budget_samples=4_000, drop_samples=100)


@pytest.fixture(scope="module")
def uncut() -> Job:
    """The water-cooled worked job: the sleeve is in hand, the bore is not cut."""
    return read_job((EXAMPLES / "demo-water.toml").read_text(encoding="utf-8"), name="demo")


def numbers(found: Plan) -> tuple[float, float]:
    """Smallest and largest size that may be gauged."""
    low, high = found.answer("bore.allowed_low").value, found.answer("bore.allowed_high").value
    assert isinstance(low, float)
    assert isinstance(high, float)
    return low, high


def with_setting(job: Job, setting: float) -> Job:
    """The job with another doubt of the bore gauge's setting."""
    gauges = tuple(
        replace(one, setting=Entry(setting, "told"), set_from="")
        if one.kind == "dial-bore-gauge"
        else one
        for one in job.instruments
    )
    return replace(job, instruments=gauges)


def test_a_better_bore_gauge_allows_more_at_both_ends(uncut: Job) -> None:
    """Half the doubt of its setting widens the sizes that may be gauged, at both ends."""
    coarse = numbers(plan(with_setting(uncut, 20e-6), Shop(FEW)))
    fine = numbers(plan(with_setting(uncut, 4e-6), Shop(FEW)))
    assert fine[0] < coarse[0] < coarse[1] < fine[1]


def test_the_micrometer_that_both_are_set_from_cancels(uncut: Job) -> None:
    """However little its micrometer is known, a gauge set from it reads the same fit."""

    def limits(setting: float, set_from: str) -> tuple[float, float]:
        gauges = tuple(
            replace(one, setting=Entry(setting, "told")) if one.name == "mic 50-75"
            else replace(one, set_from=set_from) if one.kind == "dial-bore-gauge" else one
            for one in uncut.instruments
        )  # fmt: skip
        return numbers(plan(replace(uncut, instruments=gauges), Shop(FEW)))

    assert limits(20e-6, "mic 50-75") == pytest.approx(limits(1e-6, "mic 50-75"), abs=0.15e-6)
    apart, known = limits(20e-6, ""), limits(1e-6, "")
    assert apart[1] < known[1] - 5e-6  # set from elsewhere, the micrometer's doubt is in the fit


def test_before_the_bore_is_gauged_its_doubt_is_that_of_the_fit_afterwards() -> None:
    """The estimate is what the whole budget makes of both gaugings, but for their scatter."""
    job = read_job((EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8"), name="demo")
    bare = replace(job, grids=tuple(one for one in job.grids if one.feature != "parent-bore"))
    after = plan(job, Shop(FEW)).answer("fit.cold").doubt
    before = plan(bare, Shop(FEW)).answer("bore.fit_standard").value
    assert after is not None
    assert before == pytest.approx(after.standard, rel=0.1)


def test_a_larger_least_allows_less_above_and_the_same_below(uncut: Job) -> None:
    """The least binds above; below it is what the parts bear."""
    before = numbers(plan(uncut, Shop(FEW)))
    choice = replace(uncut.choice, least=Entry(70e-6, "70 um", "chosen"))
    after = numbers(plan(replace(uncut, choice=choice), Shop(FEW)))
    assert after[1] == pytest.approx(before[1] - 10e-6, abs=1e-9)
    assert after[0] == pytest.approx(before[0], abs=1e-9)


def test_a_shop_that_accepts_less_chance_allows_less(uncut: Job) -> None:
    """1 % instead of 20 % moves the upper end inwards."""
    ends = [
        numbers(plan(uncut, Shop(replace(FEW, least_chance_most=chance))))[1]
        for chance in (0.20, 0.05, 0.01)
    ]
    assert ends == sorted(ends, reverse=True)
    assert ends[0] > ends[2]


def test_the_ticket_keeps_its_target(uncut: Job) -> None:
    """Target and its limits stay wanted fit and tolerance; what may be gauged stands beside."""
    found = plan(uncut, Shop(FEW))
    sleeve, wanted = found.answer("sleeve.od").value, found.answer("fit.wanted").value
    target = found.answer("bore.target").value
    assert target == pytest.approx(sleeve - wanted, abs=1e-12)
    low, high = numbers(found)
    assert low < target < high
    assert found.answer("bore.allowed_by").value.startswith("above: the least fit; below: what")


def test_a_wanted_fit_outside_is_said(uncut: Job) -> None:
    """A wanted fit at the least leaves the bore too large by the doubt: a caution."""
    choice = replace(uncut.choice, wanted=Entry(61e-6, "61 um", "chosen"))
    found = plan(replace(uncut, choice=choice), Shop(FEW))
    assert [one for one in found.cautions if one.code == "target-not-allowed"]
    tight = replace(uncut.choice, wanted=Entry(230e-6, "230 um", "chosen"))
    past = plan(replace(uncut, choice=tight), Shop(FEW))
    assert [one for one in past.cautions if one.code == "target-not-allowed"]


def test_where_no_bore_serves_that_is_said(uncut: Job) -> None:
    """A least above what the parts bear leaves no bore at all."""
    choice = replace(uncut.choice, least=Entry(240e-6, "240 um", "chosen"))
    found = plan(replace(uncut, choice=choice), Shop(FEW))
    assert [one for one in found.cautions if one.code == "no-bore-allowed"]


def test_book_classes_are_named_and_meant_for_steel(uncut: Job) -> None:
    """90 um at 72 mm: H7/t6 has 45 to 94, H7/u6 72 to 121 (ISO 286); FN3 and FN4 in inches."""
    found = plan(uncut, Shop(FEW))
    assert found.answer("fit.iso_class").value == "between H7/t6 and H7/u6"
    assert found.answer("fit.ansi_class").value == "between FN3 and FN4"
    assert "not for iron in aluminium" in found.answer("fit.iso_class").of


def test_in_an_iron_casting_the_book_names_its_own_tightest() -> None:
    """Machinery's Handbook, 27th ed., FN2: about the tightest for high-grade cast iron."""
    text = (EXAMPLES / "demo-thin-iron.toml").read_text(encoding="utf-8")
    found = plan(read_job(text, name="demo"), Shop(FEW))
    assert "FN2 is about the tightest" in found.answer("fit.ansi_class").of
    assert "aluminium" not in found.answer("fit.iso_class").of


def test_a_remembered_row_of_the_inch_table_says_so(uncut: Job) -> None:
    """The row over 3.94 in to 4.73 in is from memory: 72 mm is not, 110 mm is."""
    assert "from memory" not in plan(uncut, Shop(FEW)).answer("fit.ansi_class").of
    told = replace(
        uncut.sleeve,
        outside_diameter=Entry(0.110, "110 mm", "measured"),
        inside_diameter=Entry(0.102, "102 mm", "measured"),
    )
    casting = replace(uncut.casting, outside_diameter=Entry(0.14, "140 mm"),
                      outside_low=None, outside_high=None)  # fmt: skip
    found = plan(replace(uncut, sleeve=told, casting=casting, grids=()), Shop(FEW))
    assert "from memory" in found.answer("fit.ansi_class").of


def test_a_sleeve_beyond_the_tables_has_no_class_and_still_a_plan(uncut: Job) -> None:
    """Over 200 mm the inch table ends; the plan goes on without it."""
    told = replace(
        uncut.sleeve,
        outside_diameter=Entry(0.210, "210 mm", "measured"),
        inside_diameter=Entry(0.198, "198 mm", "measured"),
    )
    casting = replace(uncut.casting, outside_diameter=Entry(0.25, "250 mm"),
                      outside_low=None, outside_high=None)  # fmt: skip
    found = plan(replace(uncut, sleeve=told, casting=casting, grids=()), Shop(FEW))
    known = {one.id for one in found.answers()}
    assert "fit.iso_class" in known
    assert "fit.ansi_class" not in known


def bored(job: Job, by: float, *habits: Posterior) -> Plan:
    """The plan of a job whose bore was gauged larger by so much, outliers taken away."""

    def row(one: tuple[Entry | None, ...]) -> tuple[Entry | None, ...]:
        return tuple(cell and replace(cell, value=cell.value + by) for cell in one)

    grids = tuple(
        replace(one, readings=tuple(row(cells) for cells in one.readings))
        if one.feature == "parent-bore"
        else one
        for one in job.grids
    )
    return plan(
        replace(job, grids=grids), Shop(replace(FEW, budget_samples=40_000), posteriors=habits)
    )


def test_a_bore_gauged_at_the_ends_is_judged_as_the_limits_say() -> None:
    """At the upper end the chance of less than the least is the accepted 5 %.

    Just inside of the lower end the fit is good, just outside too close to call: the same
    rules by another road, from samples of every named error.
    """
    name = EXAMPLES / "demo-thin-iron.toml"
    job = read_job(name.read_text(encoding="utf-8"), name="demo")
    here = bored(job, 0.0)
    size = here.answer("bore.size").value
    low, high = numbers(here)
    at_high = bored(job, high - size).answer("fit.below_least").value
    assert at_high == pytest.approx(0.05, abs=0.006)
    inside, outside = bored(job, low - size + 1e-6), bored(job, low - size - 1e-6)
    verdicts = [one.answer("fit.cold").judgement for one in (inside, outside)]
    assert [one.verdict.value for one in verdicts] == ["good", "too close to call"]
    assert verdicts[1].side == "most"


@pytest.mark.parametrize("value", [-10e-6, 10e-6])
def test_an_accepted_habit_moves_the_ends_as_the_verdicts_have_it(value: float) -> None:
    """At the upper end the fit to expect, habit in it, is too little in the accepted 5 %.

    A habit of less fit moves only that end; one of more fit moves both. Just inside and just
    outside of the lower end the plan's own verdict changes, by samples of every named error.
    """
    name = EXAMPLES / "demo-thin-iron.toml"
    job = read_job(name.read_text(encoding="utf-8"), name="demo")
    iron = pairing_of(job.casting.material, job.sleeve.material, job.engine.cooling).key
    habit = Posterior(HABIT, iron, value, 3e-6, "B-1")
    without, here = bored(job, 0.0), bored(job, 0.0, habit)
    size = here.answer("bore.size").value
    (low_before, high_before), (low, high) = numbers(without), numbers(here)
    assert high - high_before < value < 0.0 or 0.0 < high - high_before < value
    assert low == low_before if value < 0.0 else low > low_before + value
    at_high = bored(job, high - size, habit).answer("fit.below_least").value
    assert at_high == pytest.approx(0.05, abs=0.006)
    inside, outside = (bored(job, low - size + off, habit) for off in (1e-6, -1e-6))
    assert inside.answer("fit.cold").judgement.verdict.value == "good"
    assert outside.answer("fit.cold").judgement.verdict.value == "too close to call"
