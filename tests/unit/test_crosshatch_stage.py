"""Crosshatch and roughness beside the plan: what is said of half the input and of all of it."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sleevewright.jobs.catalog_hatch import CRANK, EVEN
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.answers import Plan, StageAnswers, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.crosshatch import Hatch, crosshatch_stage
from sleevewright.planning.shop import Shop
from sleevewright.planning.surface import Surface
from sleevewright.services.cut_told import CutTold
from sleevewright.services.hatch_told import fit_hatch, hone_hatch
from sleevewright.services.plans import plan_file, plan_job
from told_jobs import Teller

UIN = 2.54e-8


@pytest.fixture(scope="module")
def water(root: Path) -> Plan:
    """The plan of the worked water-cooled job."""
    return plan_file(root / "examples" / "demo-water.toml")


def hatch(**more: Any) -> Hatch:
    """A hone at 150 turns and 89 cycles a minute on a stroke of 3 in."""
    told = {"turns": 2.5, "cycles": 89.0 / 60.0, "stroke": Entry(0.0762, "3 in"), "drive": CRANK}
    names = ("hone", "Hone to piston", "hatch", ("finish.size", "finish.bore"))
    return Hatch(*names, **{**told, **more})


def said(stage: StageAnswers, identity: str) -> Any:
    """The answer of a stage with this id."""
    return next(answer for answer in stage.answers if answer.id == identity)


def degrees(stage: StageAnswers, identity: str) -> float:
    """An angle of a stage in degrees."""
    return math.degrees(said(stage, identity).value)


def test_the_angle_is_told_by_both_conventions(water: Plan) -> None:
    """Included, half of it from across the bore, and the rest of a half turn about the axis."""
    stage = crosshatch_stage(water, hatch(drive=EVEN))
    bore = water.answer("finish.bore").value
    by_hand = 2.0 * math.degrees(math.atan(2.0 * 3.0 * 89.0 / (math.pi * bore / 0.0254 * 150.0)))
    assert degrees(stage, "hatch.included") == pytest.approx(by_hand, rel=1e-9)
    assert degrees(stage, "hatch.line") == pytest.approx(by_hand / 2.0, rel=1e-9)
    assert degrees(stage, "hatch.axis") == pytest.approx(180.0 - by_hand, rel=1e-9)
    assert "opened towards the circumference" in said(stage, "hatch.included").of


def test_the_cycles_for_the_wanted_angle_make_it(water: Plan) -> None:
    """Set as advised, the crosshatch is the wanted one where it is read, and nothing is off."""
    for drive, read_at in ((CRANK, "hatch.middle"), (EVEN, "hatch.included")):
        first = crosshatch_stage(water, hatch(drive=drive))
        cycles = said(first, "hatch.cycles_for").value
        read = math.radians(45.0)
        again = crosshatch_stage(water, hatch(cycles=cycles, drive=drive, measured=read))
        assert degrees(again, read_at) == pytest.approx(45.0, abs=1e-9)
        assert degrees(again, "hatch.line") == pytest.approx(22.5, abs=1e-9)
        assert degrees(again, "hatch.off_wanted") == pytest.approx(0.0, abs=1e-6)
        assert degrees(again, "hatch.off") == pytest.approx(0.0, abs=1e-6)
        assert said(again, read_at).judgement.verdict is Verdict.GOOD


def test_a_crank_is_judged_in_the_middle_where_it_is_read(water: Plan) -> None:
    """89 cycles are 45 degrees by the mean and 66 in the middle: too steep, and the mean told."""
    stage = crosshatch_stage(water, hatch(cycles=89.46 / 60.0))
    assert degrees(stage, "hatch.middle") > 60.0
    assert said(stage, "hatch.middle").judgement.verdict is Verdict.OUT
    assert said(stage, "hatch.included").judgement is None
    order, mean = (said(stage, f"hatch.{one}").value for one in ("cycles_for", "cycles_mean"))
    assert mean / order == pytest.approx(math.pi / 2.0, rel=1e-9)


def test_recommended_strokes_lie_beside_every_track(water: Plan) -> None:
    """Where those for the angle would be two turns a cycle, others are told, and why."""
    bore = water.answer("finish.bore").value
    stroke = math.pi * bore * 2.0 * math.tan(math.radians(22.5)) / 2.0
    stage = crosshatch_stage(water, hatch(stroke=Entry(stroke, "set"), drive=EVEN))
    assert said(stage, "hatch.cycles_exact").value == pytest.approx(2.5 / 2.0)
    assert said(stage, "hatch.cycles_for").value != pytest.approx(2.5 / 2.0, rel=1e-4)
    assert any("would make the wanted angle" in text for text in stage.advice)


@pytest.mark.parametrize(
    ("cycles", "verdict", "word"),
    [(30.0, Verdict.OUT, "too flat"), (89.0, Verdict.GOOD, ""), (180.0, Verdict.OUT, "too steep")],
)
def test_flat_and_steep_are_judged_with_what_they_do(
    water: Plan, cycles: float, verdict: Verdict, word: str
) -> None:
    """Below 30 and above 60 degrees are out by the shop's own limits."""
    stage = crosshatch_stage(water, hatch(cycles=cycles / 60.0, drive=EVEN))
    judged = said(stage, "hatch.included").judgement
    assert judged.verdict is verdict
    assert word in judged.remedy


def test_without_the_spindle_the_rest_is_asked_for(water: Plan) -> None:
    """Nothing is made up: what is missing is named, and what does not need it is answered."""
    stage = crosshatch_stage(water, hatch(turns=None))
    assert said(stage, "hatch.included").value is None
    assert said(stage, "hatch.included").needs == ("spindle of the hone, turns a minute",)
    assert said(stage, "hatch.turns_for").value > 0.0


def test_the_stroke_that_stones_ask_for_stands_in(water: Plan) -> None:
    """Where none is told; what is told goes before it."""
    first = crosshatch_stage(water, hatch())
    asked = replace(said(first, "hatch.stroke"), id="hone.stroke_wanted", value=0.060)
    plan = with_stage(water, replace(first, answers=(asked,)))
    assert said(crosshatch_stage(plan, hatch(stroke=None)), "hatch.stroke").value == 0.060
    assert said(crosshatch_stage(plan, hatch()), "hatch.stroke").value == 0.0762


def test_a_track_that_repeats_is_told_with_a_way_beside_it(water: Plan) -> None:
    """150 turns and 75 cycles are two turns a cycle: every line falls on the first."""
    stage = crosshatch_stage(water, hatch(cycles=75.0 / 60.0))
    assert said(stage, "hatch.ratio").value == pytest.approx(2.0)
    told = next(text for text in stage.advice if "own track again" in text)
    assert re.search(r"Set \d+ cycles a minute", told)  # whole ones, as they are beaten
    odd = crosshatch_stage(water, hatch(cycles=92.0 / 60.0))
    assert not any("own track again" in text for text in odd.advice)


def test_what_is_read_is_compared_with_the_middle_of_a_crank_stroke(water: Plan) -> None:
    """A crank cuts steeper there than by its mean; an even feed does not."""
    read = math.radians(62.0)
    crank = crosshatch_stage(water, hatch(measured=read))
    even = crosshatch_stage(water, hatch(measured=read, drive=EVEN))
    assert degrees(crank, "hatch.off") == pytest.approx(62.0 - degrees(crank, "hatch.middle"))
    assert degrees(even, "hatch.off") == pytest.approx(62.0 - degrees(even, "hatch.included"))
    assert said(even, "hatch.off").judgement.verdict is Verdict.OUT
    assert not [one for one in even.answers if one.id in ("hatch.middle", "hatch.share")]


def test_a_steep_reading_is_asked_about_and_not_compared(water: Plan) -> None:
    """135 degrees may be 45 about the axis; nothing is compared until that is told."""
    stage = crosshatch_stage(water, hatch(measured=math.radians(135.0)))
    assert said(stage, "hatch.off").value is None
    assert any("included angle is 45" in one.text for one in stage.cautions)


@pytest.mark.parametrize(
    ("parameter", "value", "verdict", "word"),
    [
        ("Ra", 20 * UIN, Verdict.GOOD, ""),
        ("Ra", 15.2 * UIN, Verdict.TOO_CLOSE, "little oil"),
        ("Ra", 40 * UIN, Verdict.OUT, "too rough"),
        ("Rpk", 30 * UIN, Verdict.OUT, "eats the rings"),
        ("Rvk", 15 * UIN, Verdict.OUT, "too little oil"),
        ("Mr2", 0.60, Verdict.OUT, "little is left to carry"),
    ],
)
def test_a_reading_is_judged_and_its_meaning_told(
    water: Plan, parameter: str, value: float, verdict: Verdict, word: str
) -> None:
    """Against a range of practice, with the tester's ten per cent as doubt."""
    surface = Surface("rough", "iron", {parameter: value})
    stage = crosshatch_stage(water, hatch(surface=surface))
    found = said(stage, f"rough.{parameter.lower()}")
    assert found.doubt.high - found.doubt.low == pytest.approx(0.2 * value, rel=1e-3)
    assert found.judgement.verdict is verdict
    assert word in found.judgement.remedy


def test_the_same_ra_is_good_for_iron_and_out_for_moly(water: Plan) -> None:
    """22 microinches."""
    verdicts = [
        said(
            crosshatch_stage(water, hatch(surface=Surface("rough", wall, {"Ra": 22 * UIN}))),
            "rough.ra",
        ).judgement.verdict
        for wall in ("iron", "moly")
    ]
    assert verdicts == [Verdict.GOOD, Verdict.OUT]


def test_ra_alone_tells_rz_as_a_range(water: Plan) -> None:
    """Four to seven times; where Rz was read nothing is derived of it."""
    surface = Surface("rough", "any", {"Ra": 20 * UIN})
    stage = crosshatch_stage(water, hatch(surface=surface))
    assert said(stage, "rough.rz_least").value == pytest.approx(80 * UIN)
    assert said(stage, "rough.rz_most").value == pytest.approx(140 * UIN)
    both = replace(surface, read={**surface.read, "Rz": 100 * UIN})
    told = crosshatch_stage(water, hatch(surface=both))
    assert not [one for one in told.answers if one.id.startswith("rough.rz_")]


def told_of(teller: Teller) -> CutTold:
    """What the parts of a cut may read of a told job."""
    return CutTold(Job(), teller.folded, 1, Shop())


def test_cells_of_both_stages_come_to_their_answers() -> None:
    """By the minute as told, by the second inside; nothing told, nothing answered."""
    plan, teller = plan_job(Job()), Teller()
    assert hone_hatch(plan, told_of(teller)) is None
    assert fit_hatch(plan, told_of(teller)) is None
    teller.value("hone.speed", "150")
    teller.value("hone.cycles", "89")
    teller.value("hone.rings", "moly")
    teller.value("hone.ra", "22 uin")
    teller.value("hone.mr2", "80 %")
    teller.value("honefit.roughness", "8 um")
    hone, fit = hone_hatch(plan, told_of(teller)), fit_hatch(plan, told_of(teller))
    assert hone is not None
    assert fit is not None
    assert said(hone, "hatch.turns").value == pytest.approx(2.5)
    assert said(hone, "hatch.ratio").value == pytest.approx(150.0 / 89.0)
    assert "bore" in said(hone, "hatch.included").needs
    assert said(hone, "rough.ra").judgement.verdict is Verdict.OUT
    assert said(hone, "rough.mr2").value == pytest.approx(0.8)
    assert "flatten" in said(fit, "fitrough.rz").judgement.remedy
