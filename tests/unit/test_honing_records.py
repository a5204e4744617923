"""Honing as the records of a job tell it: what came after what, holds, the page."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from benches import app_in
from hone_examples import said
from sleevewright.jobs.holds import hold_of
from sleevewright.jobs.living import living_job
from sleevewright.jobs.model import Entry, Grid
from sleevewright.planning.answers import Plan, StageAnswers, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.hone_passes import honing
from sleevewright.planning.hone_told import FIT, PISTON, HoneTold
from sleevewright.planning.proofing import Gauged
from sleevewright.planning.shop import Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.entry import take
from sleevewright.services.honing_told import hone_told, honed_to_fit, honed_to_piston
from sleevewright.services.jobs import open_job
from sleevewright.services.plans import plan_file
from told_jobs import Teller


@pytest.fixture(scope="module")
def water(root: Path) -> Plan:
    """The plan of the worked water-cooled job."""
    return plan_file(root / "examples" / "demo-water.toml")


def bench() -> Teller:
    """A two-stroke of which nothing was told."""
    return Teller("two-stroke")


def cut_of(job: Teller) -> CutTold:
    """What the parts of the stages that cut may read of it."""
    return CutTold(living_job(job.folded, 1).job, job.folded, 1, Shop())


def tell_pass(job: Teller, number: int, strokes: str = "10", taken: str = "0.4 thou") -> None:
    """Tell one pass of the hone."""
    job.value(f"hone.pass/{number}/strokes", strokes)
    job.value(f"hone.pass/{number}/taken", taken)


def test_what_a_pass_took_is_counted_once_however_late_it_is_keyed() -> None:
    """Strokes, a reading, and only then what they took: the reading holds it already."""
    job = bench()
    job.value("hone.pass/1/strokes", "10")
    job.value("hone.now", "65.990 mm")
    job.value("hone.pass/1/taken", "1.2 thou")
    assert hone_told(cut_of(job), PISTON).since == ()
    tell_pass(job, 2)
    job.value("hone.pass/1/taken", "1.1 thou")
    assert [one.name for one in hone_told(cut_of(job), PISTON).since] == ["2"]
    job.grid("ab13", "finish-bore", "hone", [["2.3995 in", "2.3996 in"]] * 2,
             stations=["0.5 in", "2.0 in"], directions=["0 deg", "90 deg"])  # fmt: skip
    tell_pass(job, 3)
    job.value("set/ab13/0/0", "2.3994 in")
    assert [one.name for one in hone_told(cut_of(job), PISTON).since] == ["3"]


def test_a_pass_told_after_the_reading_counts_as_honed_since() -> None:
    """Before the reading it is in it, after it it is not; a full set takes the reading's place."""
    job = bench()
    tell_pass(job, 1)
    job.value("hone.now", "2.3990 in")
    assert hone_told(cut_of(job), PISTON).since == ()
    tell_pass(job, 2)
    assert [one.name for one in hone_told(cut_of(job), PISTON).since] == ["2"]
    job.grid("ab12", "finish-bore", "hone", [["2.3995 in", "2.3996 in"]] * 2,
             stations=["0.5 in", "2.0 in"], directions=["0 deg", "90 deg"])  # fmt: skip
    told = hone_told(cut_of(job), PISTON)
    assert told.since == ()
    assert told.now is None
    assert told.gauged.grid is not None


def test_a_bore_that_became_smaller_is_given_no_strokes(water: Plan) -> None:
    """One reading under the grid before it, beyond doubt: a slip or a warm gauge, said as such."""
    target = water.answer("bore.target").value
    assert isinstance(target, float)
    rows = ((target - 10e-6,) * 2,) * 2
    grid = Grid("parent-bore", readings=rows, stations=(0.01, 0.06), directions=(0.0, 1.57))
    answer = replace(water.answer("bore.target"), id="bore.size", value=target - 10e-6)
    gauged = with_stage(water, StageAnswers("parent", "Parent bore", (answer,), is_beside=True))
    for less, is_slip in ((2e-6, False), (70e-6, True)):
        now = Entry(target - 10e-6 - less, "made", "measured")
        stage = honing(gauged, HoneTold(FIT, now=now, as_bored=Gauged(grid)))
        texts = [one.text for one in stage.cautions if one.code == "smaller:honefit.now"]
        assert bool(texts) is is_slip
        assert (said(stage, "honefit.sure").value is None) is is_slip
    assert "became smaller" in texts[0]


@pytest.mark.parametrize(
    ("stones", "grit"),
    [
        ("220, soft", 220.0),
        ("80 mm long, 280 grit", 280.0),
        ("180, then 280", 180.0),
        ("soft", None),
    ],
)
def test_the_grit_that_the_stones_were_told_with_counts(
    water: Plan, stones: str, grit: float | None
) -> None:
    """Where no pass names a grit it is read out of the stones, and the rate says so."""
    job = bench()
    job.value("hone.stones", stones)
    job.value("hone.now", "2.3990 in")
    told = hone_told(cut_of(job), PISTON)
    assert told.stones_grit == grit
    of = said(honing(water, told), "hone.rate").of
    assert ("as the stones are told" in of) is (grit is not None)
    assert "nine times in ten" in said(honing(water, told), "hone.strokes").of
    job.value("hone.pass/1/grit", "400")
    assert (
        "as the stones" not in said(honing(water, hone_told(cut_of(job), PISTON)), "hone.rate").of
    )


def test_nothing_told_answers_nothing_and_a_sleeve_in_its_bore_ends_it(water: Plan) -> None:
    """Neither stage speaks before something was told; the parent bore not behind a sleeve."""
    job = bench()
    assert honed_to_fit(water, cut_of(job)) is None
    assert honed_to_piston(water, cut_of(job)) is None
    job.value("honefit.now", "2.6360 in")
    stage = honed_to_fit(water, cut_of(job))
    assert stage is not None
    assert stage.key == FIT
    job.grid("cd34", "cooled-bore", "cool", [["2.3379 in", "2.3380 in"]] * 2,
             stations=["0.5 in", "2.0 in"], directions=["0 deg", "90 deg"])  # fmt: skip
    assert honed_to_fit(water, cut_of(job)) is None


def test_ports_are_chamfered_before_the_hone(water: Plan) -> None:
    """Every port without its tick is named, on the page and by the hold; ticked, by neither."""
    job = bench()
    job.value("port/exhaust/found.roof", "1.345 in")
    job.value("hone.now", "2.3990 in")
    told = hone_told(cut_of(job), PISTON)
    assert told.unchamfered == ("exhaust",)
    assert any("Chamfer exhaust" in text for text in honing(water, told).advice)
    whys = [one.why for one in hold_of("hone", job.folded, verdicts={}).lacks]
    assert "exhaust is not chamfered: no burr may cross a finished wall" in whys
    job.value("port/exhaust/left.chamfer", "yes")
    assert hone_told(cut_of(job), PISTON).unchamfered == ()
    whys = [one.why for one in hold_of("hone", job.folded, verdicts={}).lacks]
    assert not any("chamfered" in why for why in whys)


def test_a_grid_that_was_warm_keeps_the_hold() -> None:
    """A verdict that the grid was warm is a lack; none where no temperature was told."""
    job = bench()
    warm = {"hone.grid_cold": Verdict.OUT.value}
    whys = [one.why for one in hold_of("hone", job.folded, verdicts=warm).lacks]
    assert any("gauged cold" in why for why in whys)
    whys = [one.why for one in hold_of("hone", job.folded, verdicts={}).lacks]
    assert not any("gauged cold" in why for why in whys)


def test_a_pass_that_nobody_gauged_leaves_the_strokes_open(water: Plan) -> None:
    """Strokes told after the reading, and not what they took: what is wanted stands instead."""
    job = bench()
    job.value("hone.now", "2.3990 in")
    job.value("hone.pass/1/strokes", "12")
    told = hone_told(cut_of(job), PISTON)
    assert told.ungauged == ("1",)
    stage = honing(water, told)
    for name in ("size_now", "stock", "strokes", "sure"):
        found = said(stage, f"hone.{name}")
        assert found.value is None
        assert found.needs == ("what pass 1 took, or the bore as it reads now",)
    job.value("hone.pass/1/taken", "0.4 thou")
    assert hone_told(cut_of(job), PISTON).ungauged == ()


def test_a_temperature_from_before_the_last_reading_is_asked_anew(water: Plan) -> None:
    """Two readings and one temperature between them is right; one from before both is not."""
    job = bench()
    job.value("hone.temperature", "95 F")
    first = job.value("hone.now", "2.3990 in")
    assert not hone_told(cut_of(job), PISTON).is_stale
    job.value("hone.now", "2.3993 in", replaces=[first.id])
    told = hone_told(cut_of(job), PISTON)
    assert told.is_stale
    assert any("tell how warm it is now" in text for text in honing(water, told).advice)
    kept = job.folded.value("hone.temperature")
    assert kept is not None
    job.value("hone.temperature", "88 F", replaces=[kept.id])
    assert not hone_told(cut_of(job), PISTON).is_stale


def test_a_warm_grid_is_told_what_its_fit_had_eased(water: Plan) -> None:
    """At 35 degC the bore now is less than the grid says by iron alone; at 20 degC it is that."""
    answer = replace(water.answer("finish.bore"), id="finish.as_gauged", judgement=None)
    plan = with_stage(water, StageAnswers("hone", "Hone to piston", (answer,), is_beside=True))
    sizes = []
    for warm in (293.15, 308.15):
        grid = Grid("finish-bore", part_temperature=Entry(warm, "told"))
        stage = honing(plan, HoneTold(PISTON, gauged=Gauged(grid)))
        sizes.append(said(stage, "hone.size_now").value)
    eased = said(stage, "hone.eased").value
    assert sizes[0] - sizes[1] == pytest.approx(eased, abs=1e-12)
    # some ten millionths a kelvin more than iron, on 15 K and half of the diameter
    assert 1e-6 < eased < 12e-6


def test_the_page_says_strokes_and_refuses_in_words(tmp_path: Path) -> None:
    """Told on the bench, the page shows the strokes large and says why an overrun cannot be."""
    app = app_in(tmp_path / "data")
    bench_here = app.state.bench
    open_job(bench_here, "J-1", {"engine_kind": "two-stroke"})
    cells = {
        "engine.bore": "2.4000 in", "piston.diameter": "2.3972 in", "piston.clearance": "2.8 thou",
        "sleeve.length": "3.5 in", "hone.pass/1/strokes": "10", "hone.pass/1/taken": "0.4 thou",
        "hone.now": "2.3990 in", "hone.stone_length": "2.0 in", "hone.overrun": "1.2 in",
    }  # fmt: skip
    entries = [
        {"id": f"{n:032x}", "job": "J-1", "n": n, "kind": "value", "version": 1,
         "body": {"cylinder": 0 if cell.startswith(("engine", "sleeve")) else 1, "cell": cell,
                  "text": text}}
        for n, (cell, text) in enumerate(cells.items(), start=1)
    ]  # fmt: skip
    take(bench_here, "tablet", entries)
    with TestClient(app, base_url="http://127.0.0.1:8000") as client:
        text = client.get("/jobs/J-1/1/hone").text
    bench_here.close()
    assert "Strokes, then gauge again" in text
    assert "half of the stones at most" in text
    assert "A hone can lock" in text
