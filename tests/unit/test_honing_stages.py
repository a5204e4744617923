"""Hone to fit and hone to piston: strokes, heat, taper, overrun, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from hone_examples import length, passed, said, told_of
from sleevewright.core.cutting.hone_dwell import DwellPlace, DwellPlan, dwell_plan, dwell_words
from sleevewright.core.cutting.honing import Passes, falling_rate, usual_rate
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.profile import NO_PORTS, Profile, profile_of
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.errors import InputError
from sleevewright.jobs.model import Entry, Grid, Job, Part
from sleevewright.planning.answers import Plan, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.hone_passes import honing
from sleevewright.planning.hone_rates import same_stones
from sleevewright.planning.hone_told import PISTON, HonePass, HoneTold, TallestPort
from sleevewright.planning.proofing import Gauged
from sleevewright.planning.shop import ShopDefault
from sleevewright.services.plans import plan_file, plan_job
from sleevewright.web.plan.hone_drawing import hone_drawing
from sleevewright.web.plan.viewer import Viewer


@pytest.fixture(scope="module")
def water(root: Path) -> Plan:
    """The plan of the worked water-cooled job."""
    return plan_file(root / "examples" / "demo-water.toml")


def test_passes_say_the_strokes_to_go(water: Plan) -> None:
    """Three like passes of 1 um a stroke and 30 um to go: some 30 strokes, the sure ones fewer."""
    stage = honing(water, told_of(water, passes=passed((20, 20), (20, 20), (20, 20))))
    assert said(stage, "hone.stock").value == pytest.approx(30e-6, abs=1e-9)
    assert said(stage, "hone.rate").value == pytest.approx(1e-6, rel=0.02)
    assert said(stage, "hone.strokes").value == pytest.approx(30.0, rel=0.03)
    levels = [said(stage, f"hone.strokes_{one}").value for one in ("p05", "p50", "p95")]
    assert levels == sorted(levels)
    assert said(stage, "hone.sure").value % 1.0 == 0.0
    assert said(stage, "hone.sure").value <= said(stage, "hone.strokes").value
    assert said(stage, "hone.overshoots").value <= 0.02


def test_before_the_first_pass_the_usual_rate_stands(water: Plan) -> None:
    """Nothing told of passes: the usual rate of the grit, and a band of more than threefold."""
    stage = honing(water, told_of(water))
    assert "usual range" in said(stage, "hone.rate").of
    assert said(stage, "hone.strokes_p95").value > 3.0 * said(stage, "hone.strokes_p05").value


def test_a_shop_that_bears_less_risk_gauges_sooner(water: Plan) -> None:
    """With half a per cent in place of 2 % fewer strokes are allowed."""
    told = told_of(water, passes=passed((20, 20), (20, 20)))
    usual = said(honing(water, told), "hone.sure").value
    own = (ShopDefault("hone_overshoot_most", 0.005, "0.5 %"),)
    careful = replace(water, chosen=own, _index={})
    assert said(honing(careful, told), "hone.sure").value < usual


def test_a_bore_at_its_target_is_not_honed_on(water: Plan) -> None:
    """Between target and upper limit metal could still be taken, and no stroke is said."""
    stage = honing(water, told_of(water, under=-2e-6, passes=passed((20, 20), (20, 20))))
    assert said(stage, "hone.room").value > 5e-6
    assert said(stage, "hone.sure").value == 0.0


def test_a_bore_over_its_limit_is_out_and_has_no_strokes_left(water: Plan) -> None:
    """Metal cannot be put back: the verdict says so, strokes are nought."""
    stage = honing(water, told_of(water, under=-60e-6))
    room = said(stage, "hone.room")
    assert room.judgement.verdict is Verdict.OUT
    assert "metal cannot be put back" in room.judgement.remedy
    assert said(stage, "hone.strokes").value == 0.0
    assert said(stage, "hone.sure").value == 0.0
    assert said(stage, "hone.overshoots").value > 0.99


@pytest.mark.parametrize(
    ("more", "answer", "words"),
    [
        ({"passes": passed((0, 8))}, "hone.strokes", "strokes of pass 1: 0 cannot be used"),
        ({"passes": passed((10, -3))}, "hone.strokes", "taken in pass 1"),
        ({"passes": passed((10, 8), grit=5.0)}, "hone.strokes", "40 to 1200"),
        ({"stone": length(0.150)}, "hone.stroke_wanted", "fit shorter stones"),
        ({"stone": length(0.040), "overrun": length(0.021)}, "hone.stroke_wanted",
         "half of the stones at most"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_name(
    water: Plan, more: dict[str, Any], answer: str, words: str
) -> None:
    """No strokes, metal put back, stones as long as the bore, an overrun that leaves it."""
    sleeve = Part(length=length(0.090))
    stage = honing(water, told_of(water, sleeve=sleeve, **more))
    found = said(stage, answer)
    assert found.value is None
    assert words in found.needs[0]
    assert any(words in text for text in stage.advice)


def test_passes_refuse_what_is_no_pass() -> None:
    """A pass that took less than nothing, and lists that do not go together."""
    with pytest.raises(InputError, match="zero or more"):
        Passes(np.array([10.0]), np.array([-1e-6]))
    with pytest.raises(InputError, match="as many as there are strokes"):
        Passes(np.array([10.0]), np.array([1e-6, 2e-6]))
    before = usual_rate(rate=1e-6, low=0.5e-6, high=2e-6, scatter=0.25)
    with pytest.raises(InputError, match="3 or more"):
        falling_rate(before, passes=Passes(np.ones(2), np.ones(2) * 1e-6), reading=1e-6)


def test_stones_that_dull_are_to_be_dressed(water: Plan) -> None:
    """Six passes that take less and less: the chance is high and the advice says dress them."""
    less = passed((20, 30), (20, 24), (20, 17), (20, 11), (20, 7), (20, 4))
    stage = honing(water, told_of(water, passes=less))
    assert said(stage, "hone.dulls").value > 0.95
    assert any("Dress them" in text for text in stage.advice)
    steady = honing(water, told_of(water, passes=passed(*[(20, 20)] * 6)))
    assert not any("Dress them" in text for text in steady.advice)


def test_only_the_stones_in_use_teach() -> None:
    """After a change of grit the passes before it no longer count; no grit is the one before."""
    coarse = passed((10, 40), (10, 38), grit=80.0)
    fine = passed((20, 18), (20, 19), grit=None)
    changed = (HonePass("3", Entry(20.0, "20"), length(2e-5), 220.0), *fine)
    assert same_stones((*coarse, *changed)) == changed
    assert same_stones(coarse) == coarse
    assert same_stones(()) == ()


def test_a_warm_bore_stops_above_its_target(water: Plan) -> None:
    """Warmer than its gauge it is to read more than the target, waits, and colder it is smaller."""
    warm = Entry(308.15, "35 C", "measured")
    room = Entry(293.15, "20 C", "measured")
    stage = honing(water, told_of(water, part_at=warm, gauge_at=room))
    target = said(stage, "hone.target").value
    grown = said(stage, "hone.growth").value
    assert said(stage, "hone.stop_at").value == pytest.approx(target + grown, abs=1e-9)
    assert target * 10e-6 * 15 < grown < target * 24e-6 * 15
    assert said(stage, "hone.cold_now").value < said(stage, "hone.now").value
    assert said(stage, "hone.wait").value > 600.0
    assert any("steer by the reading" in text for text in stage.advice)


def test_without_a_fit_the_iron_alone_is_counted_and_said() -> None:
    """A job of which only this stage was told: the growth is that of iron, and its line says so."""
    plan = plan_job(Job(engine=Job().engine))
    told = HoneTold(PISTON, now=length(0.0700), part_at=Entry(303.15, "30 C", "measured"))
    stage = honing(plan, told)
    grown = said(stage, "hone.growth_now")
    assert "iron alone" in grown.of
    assert grown.value == pytest.approx(0.0700 * 10.6e-6 * 10.0, rel=0.1)
    assert said(stage, "hone.size_now").value == pytest.approx(0.07, abs=20e-6)
    assert said(stage, "hone.strokes").needs


def test_parts_that_cannot_be_leave_the_iron_alone(water: Plan) -> None:
    """A finished bore larger than its sleeve: said in words, and the other answers stand."""
    answer = water.answer("finish.bore")
    stages = tuple(
        replace(one, answers=tuple(replace(each, value=0.4) if each.id == answer.id else each
                                   for each in one.answers))
        for one in water.stages
    )  # fmt: skip
    told = HoneTold(PISTON, now=length(0.0700), part_at=Entry(303.15, "30 C", "measured"))
    stage = honing(replace(water, stages=stages, _index={}), told)
    assert any("sleeve inside diameter" in text for text in stage.advice)
    assert "iron alone" in said(stage, "hone.growth_now").of


def test_grits_follow_the_rings_and_share_the_stock(water: Plan) -> None:
    """Moly rings: 80 then 280; the shares are the stock; a small stock begins with the finer."""
    stage = honing(water, told_of(water, under=76.2e-6, rings="moly"))
    assert said(stage, "hone.grits").value == "80, then 280"
    shares = [said(stage, f"hone.grit_{one}").value for one in (1, 2)]
    assert sum(shares) == pytest.approx(said(stage, "hone.stock").value, rel=1e-9)
    small = honing(water, told_of(water, under=30e-6, rings="moly"))
    assert any("begin with 280" in text for text in small.advice)
    least = honing(water, told_of(water, under=15e-6, rings="moly"))
    assert any("too little to clear the marks" in text for text in least.advice)
    much = honing(water, told_of(water, under=300e-6))
    assert any("bore it closer" in text for text in much.advice)


def test_short_stones_dip_into_a_port(water: Plan) -> None:
    """Stones of 30 mm at a port of 25 mm are out, of 60 mm good; figures stand beside it."""
    port = TallestPort("exhaust", 0.025)
    for stone, verdict in ((0.030, Verdict.OUT), (0.060, Verdict.GOOD)):
        told = told_of(water, stone=length(stone), port=port, sleeve=Part(length=length(0.09)))
        found = said(honing(water, told), "hone.bridging")
        assert found.judgement.verdict is verdict
        assert "25" in found.of or "0.98" in found.of


def test_room_below_shortens_the_stroke(water: Plan) -> None:
    """A blind end with 4 mm of room takes the rest of the overrun off the stroke, and says so."""
    told = {"stone": length(0.050), "sleeve": Part(length=length(0.09))}
    free = honing(water, told_of(water, **told))
    blind = honing(water, told_of(water, room_below=length(0.004), **told))
    strokes = [said(one, "hone.stroke_wanted").value for one in (free, blind)]
    assert strokes[0] - strokes[1] == pytest.approx(0.3 * 0.050 - 0.004, abs=1e-9)
    assert any("bottom is left tight" in text for text in blind.advice)


def profile(means: tuple[float, ...]) -> Profile:
    """The shape of a bore of 70 mm that deviates so much at 10, 45 and 80 mm, um."""
    sizes = 0.070 + np.array(means)[:, None] * 1e-6 + np.zeros((1, 4))
    wobble = np.array([[0.3, -0.3, 0.3, -0.3], [-0.3, 0.3, -0.3, 0.3], [0.3, -0.3, 0.3, -0.3]])
    grid = GridReadings(
        np.array([0.010, 0.045, 0.080]), np.radians([0.0, 45.0, 90.0, 135.0]), sizes + wobble * 1e-6
    )
    return profile_of(
        readings=grid,
        part_expansion=11e-6,
        gauge_expansion=11e-6,
        reading=Repeatability(1.0e-6, 9.0),
        ports=NO_PORTS,
    )


@pytest.mark.parametrize(
    ("means", "places"),
    [
        ((0.0, 0.2, -0.1), ()),
        ((12.0, 4.0, 0.0), ("middle", "bottom")),
        ((0.0, 10.0, 11.0), ("top",)),
        ((0.0, 12.0, 0.0), ("top", "bottom")),
        ((12.0, 0.0, 12.0), ("middle",)),
    ],
)
def test_dwell_goes_where_the_bore_is_small(
    means: tuple[float, ...], places: tuple[str, ...]
) -> None:
    """Taper, barrel and waist by depth; what is within doubt is left alone."""
    found = dwell_plan(
        profile=profile(means), rate=0.5e-6, bore_length=0.09, stone_length=0.03, overrun=0.009
    )
    assert tuple(one.where for one in found.places) == places
    words = dwell_words(dwell=found)
    assert ("leave it" in words) == (not places)
    for one in found.places:
        assert f"{one.strokes:.0f} short stroke" in words


def test_a_dwell_is_drawn_with_its_words(water: Plan) -> None:
    """The picture says in words what it shows, for those who do not see it."""
    stage = honing(water, told_of(water))
    target = said(stage, "hone.target").value
    dwell = DwellPlan(
        np.array([0.01, 0.08]),
        target + np.array([-10e-6, -20e-6]),
        0.09,
        (DwellPlace("bottom", 0.075, 10e-6, 12.0),),
        is_told=True,
    )
    answer = replace(said(stage, "hone.rate"), id="hone.dwell", value=dwell)
    drawn = hone_drawing(Viewer(with_stage(water, stage), water.units), answer)
    assert drawn is not None
    assert "12 short strokes in the bottom third" in drawn
    assert drawn.count("<svg") == 2


def test_a_warm_grid_has_not_the_last_word(water: Plan) -> None:
    """Part and gauge 8 K apart: out; 1 K apart: good; where one was not told nothing is judged."""
    for apart, verdict in ((8.0, Verdict.OUT), (-8.0, Verdict.OUT), (1.0, Verdict.GOOD)):
        grid = Grid(
            "finish-bore",
            part_temperature=Entry(293.15 + apart, "warm"),
            gauge_temperature=Entry(293.15, "20 C"),
        )
        stage = honing(water, told_of(water, gauged=Gauged(grid)))
        assert said(stage, "hone.grid_cold").judgement.verdict is verdict
    bare = honing(water, told_of(water))
    assert all(one.id != "hone.grid_cold" for one in bare.answers)
