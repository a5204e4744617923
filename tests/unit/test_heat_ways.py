"""What the plan of the heat tells: margin, ways in their order, limits, kinds of oven."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from ported_jobs import also, ported_bench, told_of
from sleevewright.jobs.model import Entry, Job, Part
from sleevewright.planning.answers import Answer, Plan, StageAnswers, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.heat_remedies import HeatTold, heat_plan
from sleevewright.planning.old_heat import old_heat
from sleevewright.planning.oldtold import Keyed, OldTold
from sleevewright.planning.oldwall import old_wall
from sleevewright.services.jobfiles import load_job
from sleevewright.services.plans import plan_job

WAYS = ["freezer", "dry_ice", "nitrogen", "less", "lighter", "soak"]


@pytest.fixture(scope="module")
def water(root: Path) -> tuple[Job, Plan]:
    """The worked water-cooled job, whose slip is reached with margin, and its plan."""
    job = load_job(root / "examples" / "demo-water.toml")
    return job, plan_job(job)


@pytest.fixture(scope="module")
def iron(root: Path) -> tuple[Job, Plan]:
    """The worked iron job, whose slip is out of reach, and its plan."""
    job = load_job(root / "examples" / "demo-thin-iron.toml")
    return job, plan_job(job)


def told(job: tuple[Job, Plan], **more: object) -> StageAnswers:
    """The plan of the heat of a job with what is told more."""
    record = replace(HeatTold(job[0].casting, job[0].sleeve), **more)  # type: ignore[arg-type] # passed on
    return heat_plan(job[1], record)


def of(stage: StageAnswers, name: str) -> Answer:
    """The answer of this name."""
    return next(one for one in stage.answers if one.id == name)


def ways(stage: StageAnswers) -> list[str]:
    """Keys of the ways, as they are ordered."""
    start = "heat.way."
    return [one.id.removeprefix(start) for one in stage.answers if one.id.startswith(start)]


def test_wanted_margin_within_the_limit_needs_no_way(water: tuple[Job, Plan]) -> None:
    """Where the oven stands 35 K above the casting nothing else is offered."""
    stage = told(water)
    assert ways(stage) == []
    judged = of(stage, "heat.margin_got").judgement
    assert judged is not None
    assert judged.verdict is Verdict.GOOD


def test_ways_stand_in_their_order_with_figures(iron: tuple[Job, Plan]) -> None:
    """Out of reach: chill first, then less slip, a lighter fit, and the long soak last."""
    stage = told(iron)
    assert ways(stage) == WAYS
    assert "above the limit: not enough" in str(of(stage, "heat.way.freezer").value)
    assert "below the limit" in str(of(stage, "heat.way.dry_ice").value)
    assert "brittle" in of(stage, "heat.way.nitrogen").of
    assert [one.code for one in of(stage, "heat.way.nitrogen").cautions] == ["cryogen"]
    assert of(stage, "heat.way.freezer").cautions == ()
    assert "not predictable" in str(of(stage, "heat.way.soak").value)


def test_no_margin_is_an_even_chance_of_never(iron: tuple[Job, Plan]) -> None:
    """With the oven at the limit the heat may never come, and no time is told."""
    stage = told(iron)
    assert of(stage, "heat.never").value == pytest.approx(0.5)
    assert "heat.time_error" not in [one.id for one in stage.answers]


def test_still_oven_takes_longer_than_a_fan(water: tuple[Job, Plan]) -> None:
    """Time goes as one over what the air gives; the mass and margin stay."""
    fan, still = (
        of(told(water, kind=kind), "heat.kind_soak").value for kind in ("fan oven", "still oven")
    )
    assert isinstance(fan, float)
    assert isinstance(still, float)
    assert still / fan == pytest.approx(27.0 / 15.0)


@pytest.mark.parametrize("kind", ["torch", "hot plate"])
def test_one_sided_heat_is_warned_of_and_has_no_time(water: tuple[Job, Plan], kind: str) -> None:
    """Torch and hot plate: a warning that names a shop oven, and no forecast."""
    stage = told(water, kind=kind)
    assert "preferred" in next(one.text for one in stage.cautions if kind in one.code)
    assert "heat.kind_soak" not in [one.id for one in stage.answers]


def test_oven_above_the_limit_is_refused_loudly(water: tuple[Job, Plan]) -> None:
    """240 degC on the dial of a casting that may see 230: out, with what an override asks."""
    stage = told(water, oven=Entry(513.15, "240 C", "typed"))
    judged = of(stage, "heat.oven_is").judgement
    assert judged is not None
    assert judged.verdict is Verdict.OUT
    text = next(one.text for one in stage.cautions if one.code == "oven-above-limit")
    assert "hottest thin spot" in text
    assert "10 K" in text


def test_oven_at_the_limit_is_no_alarm(water: tuple[Job, Plan]) -> None:
    """The limit itself may be set."""
    stage = told(water, oven=Entry(503.15, "230 C", "typed"))
    assert not [one for one in stage.cautions if one.code == "oven-above-limit"]


def test_least_of_what_is_on_it_rules_and_is_named(water: tuple[Job, Plan]) -> None:
    """Paint stands less than a bush: paint is named, and 167 degC is out."""
    stage = told(water, has=("bush", "paint"))
    assert of(stage, "heat.least_limit_of").value == "paint"
    judged = of(stage, "heat.casting_of_limit").judgement
    assert judged is not None
    assert judged.verdict is Verdict.OUT
    assert [one.code for one in stage.cautions] == ["limit-of-fitting"]


def test_ticked_paint_is_the_limit_of_the_whole_plan(tmp_path: Path) -> None:
    """Where nobody told a limit, that of the paint goes into the plan, as an assumption."""
    bench = ported_bench(tmp_path, without=("casting.limit",))
    also(bench, {"heat.has/paint": "yes"})
    plan, _ = told_of(bench)
    assert plan.answer("heat.limit").value == pytest.approx(423.15)


def test_old_sleeve_is_heated_clear_of_where_it_lets_go(water: tuple[Job, Plan]) -> None:
    """40 K above the grip, held against the limit; too tight a fit is out and stays in."""
    hot = {}
    for fit in (0.03, 0.3):
        was = OldTold(
            casting=Part("aluminium-356"),
            kind="shrunk in",
            tightness=Entry(fit * 1e-3, f"{fit} mm", "typed"),
            keyed=Keyed(liner_outside=Entry(0.07, "70 mm", "measured")),
        )
        plan = with_stage(water[1], old_wall(water[1], was))
        stage = old_heat(plan)
        assert stage is not None
        hot[fit] = of(stage, "old.heat_to")
        frees = plan.answer("old.frees_at").value
        assert isinstance(frees, float)
        assert hot[fit].value == pytest.approx(frees + 40.0)
    verdicts = [one.judgement.verdict for one in hot.values() if one.judgement]
    assert verdicts[0] is Verdict.GOOD
    assert verdicts[1] is Verdict.OUT


def test_heat_for_an_old_sleeve_needs_its_grip(water: tuple[Job, Plan]) -> None:
    """Where nothing says how the old sleeve sits, no heat is told for it."""
    assert old_heat(water[1]) is None
