"""Old sleeve out: how it comes out, which islands stay, and where the wall stops the job."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from benches import bench_in
from sleevewright.core.cutting.islands import Island
from sleevewright.jobs.holds import MET, NOT_MET
from sleevewright.jobs.model import Entry, Grid, Instrument, Part
from sleevewright.planning.answers import Plan, StageAnswers, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.oldout import OldOut, old_out
from sleevewright.planning.oldtold import OLD_BORE, Keyed, OldTold, WallTold
from sleevewright.planning.oldwall import old_wall
from sleevewright.planning.proofing import Gauged
from sleevewright.planning.shown import shown_answer
from sleevewright.services.plans import plan_file
from wall_jobs import CELLS, look_at, wall_job

MM = 1e-3


@pytest.fixture(scope="module")
def water(root: Path) -> Plan:
    """The plan of the worked water-cooled job: parent bore 71.921 mm, clean-out 71.8 mm."""
    plan = plan_file(root / "examples" / "demo-water.toml")
    return with_stage(plan, old_out(plan, OldOut(size(71.8))))


def size(mm: float) -> Entry:
    """A length as it was gauged."""
    return Entry(mm * MM, f"{mm} mm", "measured")


def walls(mean: float, shift: float = 0.0, depths: tuple[float, ...] = (12.0, 48.0)) -> Gauged:
    """Walls at eight places: thick at 0 degrees, thin at 180."""
    angles = [math.radians(45.0 * step) for step in range(8)]
    rows = tuple(tuple(size(mean + shift * math.cos(one)) for one in angles) for _ in depths)
    directions = tuple(Entry(one, "", "measured") for one in angles)
    return Gauged(
        Grid("wall-left", stations=tuple(map(size, depths)), directions=directions, readings=rows)
    )


def said(stage: StageAnswers, identity: str) -> Any:
    """The answer of a stage with this id."""
    return next(one for one in stage.answers if one.id == identity)


def has(stage: StageAnswers, identity: str) -> bool:
    """Whether a stage answers this."""
    return any(one.id == identity for one in stage.answers)


@pytest.mark.parametrize(
    ("kind", "metal", "way", "way_not"),
    [
        ("cast in", "aluminium-356", "Bore it out, all of it", "Heat and the press"),
        ("shrunk in", "aluminium-356", "Heat the casting", "Pushing it cold"),
        ("shrunk in", "grey-iron-200", "Bore to a thin shell", "Heat: iron in iron"),
        ("pressed in", "grey-iron-200", "Press it out", "Heat: iron in iron"),
        ("plated", "aluminium-356", "No sleeve to take out", "Heat, the press and a shell"),
    ],
)
def test_the_way_out_follows_how_it_sits_and_in_what(
    water: Plan, kind: str, metal: str, way: str, way_not: str
) -> None:
    """Keys are bored, shrunk ones heated out of aluminium alone; each says why not otherwise."""
    keyed = Keyed(liner_outside=size(70.0))
    stage = old_wall(water, OldTold(casting=Part(metal), kind=kind, keyed=keyed))
    assert said(stage, "old.way").value.startswith(way)
    assert said(stage, "old.way_not").value.startswith(way_not)
    assert has(stage, "old.frees_at") == (kind == "shrunk in" and "aluminium" in metal)


def test_a_fit_that_lets_go_only_above_the_limit_is_not_heated_out(water: Plan) -> None:
    """0.4 mm on 70 mm wants more heat than the casting may see: it is bored to a shell."""
    told = OldTold(
        casting=Part("aluminium-356"),
        kind="shrunk in",
        tightness=size(0.4),
        keyed=Keyed(liner_outside=size(70.0)),
    )
    stage = old_wall(water, told)
    assert said(stage, "old.frees_at").judgement.verdict is Verdict.OUT
    assert said(stage, "old.way").value.startswith("Bore to a thin shell")
    assert "above what the casting may see" in said(stage, "old.way_not").value


def test_the_heat_that_frees_it_is_that_of_both_growths(water: Plan) -> None:
    """A fit of i opens at about i / D over the difference of both coefficients, by hand."""
    told = OldTold(
        casting=Part("aluminium-356"),
        kind="shrunk in",
        tightness=size(0.07),
        keyed=Keyed(liner_outside=size(70.0)),
    )
    freed = said(old_wall(water, told), "old.frees_at")
    rise = freed.value - 293.15
    growth = 20.7e-6 + 1.0e-8 * rise - (10.69e-6 + 6.0e-9 * rise)
    assert growth * rise * 70.0 == pytest.approx(0.07, rel=0.02)
    assert freed.doubt.standard > 5.0


def test_neighbours_are_told_of_where_there_are_any(water: Plan) -> None:
    """Of two cylinders the other one's sleeve is looked after; of one nothing is said."""
    told = OldTold(
        casting=Part("aluminium-356"), kind="shrunk in", keyed=Keyed(liner_outside=size(70.0))
    )
    assert not has(old_wall(water, told), "old.neighbour")
    stage = old_wall(water, replace(told, cylinders=2))
    assert said(stage, "old.neighbour").value is not None
    assert any("block each from below" in one for one in stage.advice)


def test_islands_are_gone_at_the_tips_and_the_target_may_fall_short(water: Plan) -> None:
    """70 mm and keys of 1.5 mm: gone at 73 mm and twice the offset; the target is 1.1 short."""
    told = OldTold(kind="cast in", keyed=Keyed(size(70.0), size(1.5), 12.0, size(2.5)))
    stage = old_wall(water, told)
    assert said(stage, "old.gone_at").value == pytest.approx(73.0 * MM + 2 * 25.4e-6, abs=1e-9)
    past = said(stage, "old.past_keys")
    assert past.value == pytest.approx((71.9213 - 73.0508) * MM, abs=1e-7)
    assert past.judgement.verdict is Verdict.OUT
    assert 0.10 < said(stage, "old.iron_share").value < 0.16
    clean = said(old_wall(water, replace(told, is_clean=True)), "old.past_keys")
    assert clean.judgement is None


def test_half_of_what_is_told_answers_half_and_says_what_lacks(water: Plan) -> None:
    """Keys without the sleeve's outside, and the other way round: needs, no figure."""
    for keyed in (Keyed(key_depth=size(1.5)), Keyed(liner_outside=size(70.0))):
        gone = said(old_wall(water, OldTold(kind="cast in", keyed=keyed)), "old.gone_at")
        assert gone.value is None
        assert gone.needs
    stage = old_wall(water, OldTold())
    assert said(stage, "old.way").needs == (
        "how the old sleeve sits: cast in, shrunk in, pressed in or plated",
    )
    assert said(stage, "old.least_wall").value is not None


def test_a_clean_out_past_the_sleeve_asks_for_the_next_that_is_had(root: Path) -> None:
    """72.4 mm clean: the next step of 20 thou over the sleeve in hand, its fit and its bore."""
    plan = plan_file(root / "examples" / "demo-water.toml")
    plan = with_stage(plan, old_out(plan, OldOut(size(72.4))))
    stage = old_wall(plan, OldTold())
    sleeve = plan.answer("sleeve.od").value
    assert isinstance(sleeve, float)
    blank = said(stage, "old.next_blank").value
    assert blank == pytest.approx(sleeve + 0.508 * MM, abs=1e-9)
    assert said(stage, "old.next_fit").value == pytest.approx(blank - 72.4 * MM, abs=1e-9)
    assert said(stage, "old.next_bore").value == pytest.approx(blank - 90e-6, abs=1e-9)
    assert said(stage, "old.bored").value == pytest.approx(72.4 * MM), "the wall is gone already"


def test_islands_as_told_are_judged_by_their_share(water: Plan) -> None:
    """A small one is good, one of half the wall is out; what cannot be is said, not counted."""
    small = Island("1", 1.0, 1.3, 20 * MM, 30 * MM)
    large = Island("1", 0.5, 5.0, 0.0, 80 * MM)
    for island, verdict in ((small, Verdict.GOOD), (large, Verdict.OUT)):
        stage = old_wall(water, OldTold(islands=(island,)))
        assert said(stage, "old.islands_share").judgement.verdict is verdict
    stage = old_wall(water, OldTold(problem="islands: 1 and 2 cannot be used."))
    assert [one.text for one in stage.cautions] == [
        "Islands not counted. islands: 1 and 2 cannot be used."
    ]
    assert not has(stage, "old.islands_share")


@pytest.mark.parametrize(("mean", "verdict"), [(6.0, Verdict.GOOD), (3.5, Verdict.OUT)])
def test_the_wall_is_judged_at_its_thinnest(water: Plan, mean: float, verdict: Verdict) -> None:
    """0.8 mm of core shift come off the side at 180 degrees; the limit is 3.05 mm."""
    stage = old_wall(water, OldTold(wall=WallTold(walls(mean, 0.8))))
    least = said(stage, "old.least_wall")
    assert least.value == pytest.approx((mean - 0.8 - 0.06) * MM, abs=0.12 * MM)
    assert said(stage, "old.wall_low").value < least.value
    assert math.degrees(said(stage, "old.least_at").value) == pytest.approx(180.0, abs=0.1)
    assert said(stage, "old.thin").judgement.verdict is verdict
    assert said(stage, "old.even_by").value == pytest.approx(0.8 * MM, abs=1e-6)
    assert any("leaves the axis of the crank" in one for one in stage.advice)
    stops = [one.text for one in stage.cautions if one.code.startswith("thin-wall")]
    assert bool(stops) is (verdict is Verdict.OUT)


def test_a_wall_that_was_read_from_the_old_bore_counts_its_own_metal(water: Plan) -> None:
    """Read from 65 mm, 3.46 mm go a side; the least of many places is a little less yet."""
    told = WallTold(walls(9.0), read_from=OLD_BORE, bore=size(65.0))
    least = said(old_wall(water, OldTold(wall=told)), "old.least_wall").value
    assert (9.0 - 3.4607 - 0.25) * MM < least < (9.0 - 3.4607) * MM
    untold = old_wall(water, OldTold(wall=replace(told, bore=None)))
    assert said(untold, "old.thin").value is None
    assert said(untold, "old.thin").needs == ("the bore when the wall was read",)


def test_too_few_places_and_depths_far_apart_are_told(water: Plan) -> None:
    """Depths 72 mm apart, and a depth with two places, each ask for more readings."""
    far = old_wall(water, OldTold(wall=WallTold(walls(6.0, 0.0, (12.0, 84.0)))))
    assert any("more than 2 in" in one for one in far.advice)
    near = old_wall(water, OldTold(wall=WallTold(walls(6.0))))
    assert not any("apart" in one or "fewer than three" in one for one in near.advice)
    grid = replace(walls(6.0).grid, readings=((size(6.0), size(6.0), *[None] * 6),) * 2)  # type: ignore[type-var] # a grid
    few = old_wall(water, OldTold(wall=WallTold(Gauged(grid))))
    assert any("fewer than three places" in one for one in few.advice)
    assert said(few, "old.wall_low").value < said(near, "old.wall_low").value - 0.5 * MM


def one_thin(setting: float) -> Gauged:
    """Walls of 3.90 mm at eight places three deep, one of 3.05, by a gauge set this well [mm]."""
    grid = walls(3.90, 0.0, (12.0, 36.0, 60.0)).grid
    assert grid is not None
    rows = [list(row) for row in grid.readings]
    rows[1][3] = size(3.05)
    gauge = Instrument("wall gauge", resolution=size(0.0254), setting=size(setting))
    return Gauged(replace(grid, readings=tuple(map(tuple, rows)), instrument=gauge.name), (gauge,))


def test_what_a_gauge_was_set_off_smooths_no_thin_reading_away(water: Plan) -> None:
    """A setting of 10 thou moves all readings alike: the thin one stays on the map, judged."""
    stage = old_wall(water, OldTold(wall=WallTold(one_thin(0.254))))
    assert said(stage, "old.least_wall").value == pytest.approx(2.99 * MM, abs=0.04 * MM)
    assert said(stage, "old.thin").value > 0.4
    assert said(stage, "old.thin").judgement.verdict is not Verdict.GOOD
    fine = old_wall(water, OldTold(wall=WallTold(one_thin(0.0254))))
    assert said(fine, "old.least_wall").value == pytest.approx(
        said(stage, "old.least_wall").value, abs=0.01 * MM
    )


def test_a_shift_within_the_wander_has_no_direction(water: Plan) -> None:
    """One thin place is no core shift: the interval holds nought, no side is named, and said."""
    stage = old_wall(water, OldTold(wall=WallTold(one_thin(0.0254))))
    assert said(stage, "old.shifted").doubt.low == 0.0
    assert said(stage, "old.even_by").doubt.low == 0.0
    assert not has(stage, "old.even_at")
    assert any(one.startswith("No shift beyond doubt") for one in stage.advice)
    clear = old_wall(water, OldTold(wall=WallTold(walls(6.0, 0.8))))
    assert has(clear, "old.even_at")
    assert said(clear, "old.shifted").doubt.low > 0.3 * MM


def test_a_chance_that_no_draw_met_is_no_figure(water: Plan) -> None:
    """19.8 mm where 3.05 is wanted: less than one per cent, and not the bound of 800 draws."""
    chance = said(old_wall(water, OldTold(wall=WallTold(walls(19.9)))), "old.thin")
    assert chance.judgement.verdict is Verdict.GOOD
    assert shown_answer(chance, system="metric").figure == "< 1"


def test_a_ring_as_stiff_as_the_casting_is_no_wall(water: Plan) -> None:
    """Without a wall or an outside told there is no verdict: a guide, and what is asked for."""
    stage = old_wall(water, OldTold())
    assert said(stage, "old.thin").value is None
    assert said(stage, "old.thin").judgement is None
    assert "no wall" in said(stage, "old.thin").needs[0]
    assert said(stage, "old.least_wall").value is not None


def test_islands_against_the_keys_are_told(water: Plan) -> None:
    """Keys that end below the bore leave none: both cannot be; else the rest of a key counts."""
    island = Island("1", 1.0, 1.3, 20 * MM, 30 * MM)
    for liner, against, deep in ((66.0, True, 1.5), (70.0, False, 0.6254)):
        keyed = Keyed(size(liner), size(1.5), 12.0, size(2.5))
        stage = old_wall(water, OldTold(kind="cast in", keyed=keyed, islands=(island,)))
        assert any("none can be left" in one for one in stage.advice) is against
        assert said(stage, "old.island_deep").value == pytest.approx(deep * MM, abs=1e-7)


def test_a_bad_wall_is_never_good(water: Plan) -> None:
    """A reading below nought, a wall of nothing, a bore as large as the casting: no verdict."""
    for told in (
        WallTold(walls(0.5, 0.8)),
        WallTold(least=size(0.0)),
        WallTold(thin_outside=size(70.0)),
    ):
        stage = old_wall(water, OldTold(wall=told))
        assert said(stage, "old.thin").judgement is None
        assert said(stage, "old.least_wall").value is None
        assert any(one.code.startswith("wall:old.") for one in stage.cautions)


def test_a_least_wall_that_was_told_is_reckoned_on(water: Plan) -> None:
    """3.2 mm in a clean-out of 71.8 leave 3.139 at the target, with the gauge's own doubt."""
    stage = old_wall(water, OldTold(wall=WallTold(least=size(3.2))))
    assert said(stage, "old.least_wall").value == pytest.approx(3.1393 * MM, abs=1e-7)
    assert said(stage, "old.thin").judgement.verdict is Verdict.GOOD
    allows = said(stage, "old.wall_allows").value
    assert allows == pytest.approx(71.9213 * MM + 2 * (3.05396 - 3.048) * MM, abs=2e-7)


def test_an_outside_alone_takes_what_cores_usually_shift(water: Plan) -> None:
    """80 mm outside: 4.04 mm even; 20 thou each way leave 2.8 mm 19 times in 20."""
    stage = old_wall(water, OldTold(wall=WallTold(thin_outside=size(80.0))))
    even = 0.5 * (80.0 - 71.9213)
    assert said(stage, "old.wall_low").value == pytest.approx(
        (even - 2.4477 * 0.508) * MM, abs=3e-6
    )
    assert any("core shift comes off one side" in one for one in stage.advice)
    grid = Grid("casting-outside", readings=((size(81.0), size(79.0), size(80.0)),))
    least = old_wall(water, OldTold(wall=WallTold(outside=Gauged(grid))))
    assert said(least, "old.outside_least").value == pytest.approx(79.0 * MM)


def test_a_counterbore_takes_more_where_the_wall_was_read_beside_it(water: Plan) -> None:
    """Read 3 mm down, within a ledge 3.96 mm deep: 2.6 mm less than beside the body."""
    stage = old_wall(water, OldTold(wall=WallTold(walls(6.0, 0.0, (3.0, 48.0)))))
    assert said(stage, "old.ledge_wall").value < said(stage, "old.wall_low").value - 2.2 * MM
    below = old_wall(water, OldTold(wall=WallTold(walls(6.0))))
    assert not has(below, "old.ledge_wall")
    assert any("not judged" in one for one in below.advice)


def test_keys_that_do_not_fit_round_cost_only_their_own_answer(water: Plan) -> None:
    """Ninety keys of 5 mm: the share is refused in words, all other answers stand."""
    stage = old_wall(water, OldTold(keyed=Keyed(size(70.0), size(1.5), 90.0, size(5.0))))
    assert any("keys that fit round" in one.text for one in stage.cautions)
    assert not has(stage, "old.iron_share")
    assert said(stage, "old.gone_at").value is not None


def test_a_clean_out_that_cannot_be_is_told(water: Plan) -> None:
    """Smaller than the old sleeve outside: its iron cannot be gone."""
    told = OldTold(kind="cast in", keyed=Keyed(size(72.5), size(0.5)))
    codes = [one.code for one in old_wall(water, told).cautions]
    assert "small-clean-out:old.clean_out" in codes


def test_a_wall_below_the_limit_holds_the_job_and_is_drawn(tmp_path: Path) -> None:
    """Records to hold: 0.13 in off all walls stops Old sleeve out and Parent bore."""
    bench = bench_in(tmp_path / "thin")
    look = look_at(bench, wall_job(thinner=0.130, cells={**CELLS, "old.clean": "clean all round"}))
    for stage in ("old", "parent"):
        hold = look.hold(stage)
        assert hold.state == NOT_MET
        assert hold.lacks[0].why == "wall left of the casting: out"
        assert hold.lacks[0].cure.startswith("Stop: read the wall")
    bench.close()


def test_enough_wall_lets_the_job_go_on(tmp_path: Path) -> None:
    """The same job with its walls as they are meets the hold of Old sleeve out."""
    bench = bench_in(tmp_path / "enough")
    look = look_at(bench, wall_job(cells={**CELLS, "old.clean": "clean all round"}))
    assert look.verdicts["old.thin"] == "good"
    assert look.hold("old").state == MET
    bench.close()


def test_islands_of_the_records_are_taken_whole_or_told_why_not(tmp_path: Path) -> None:
    """Beyond a turn they are refused in words; with an edge missing they are not counted."""
    for number, (cell, text, words) in enumerate(
        (
            ("old.island/1/angle_from", "-20 deg", "0 to 360 deg"),
            ("old.island/2/angle_from", "200 deg", "an edge is missing: island 2"),
        )
    ):
        bench = bench_in(tmp_path / str(number))
        look = look_at(bench, wall_job(cells={**CELLS, cell: text}))
        assert look.plan is not None
        assert any(words in one.text for one in look.cautions)
        bench.close()
