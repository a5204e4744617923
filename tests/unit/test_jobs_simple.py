"""A whole simple job: how little has to be told, and that every hold is met by it."""

from __future__ import annotations

import pytest

from simple_job import STAGES, Counting, simple_job
from sleevewright.jobs.catalog import field_of, life_of, simple_cells
from sleevewright.jobs.holds import MET, NONE, NOT_MET, hold_of
from sleevewright.jobs.living import living_job
from sleevewright.jobs.stagefield import CHOICE, TICK
from sleevewright.jobs.stageholds import VERDICTS
from sleevewright.jobs.walk import next_action, steps
from sleevewright.planning.shop import Shop
from sleevewright.services.alongside import widened
from sleevewright.services.jobs import verdicts_of
from sleevewright.services.plans import plan_job
from sleevewright.services.proving import proved

KINDS = ("two-stroke", "four-stroke")
ABOUT_TWENTY = {"two-stroke": 23, "four-stroke": 20}  # three names of ports among them
GOOD = {answer: "good" for answers in VERDICTS.values() for answer in answers}
RESTS_ON = {"fit": {"counterbore"}, "sleeve": {"counterbore", "heat", "cool"}, "ports": {"hone"}}
"""Later holds that rest on the same words: stand-out, whether there is a flange, chamfers."""

# The parent bore's full grid at size, honed, stands for the one before the hone.

TOLD_ONCE = ("fit.by", "decision.agreed_by", "release.person", "decision.option", "job.title",
             "engine.kind", "engine.cooling")  # fmt: skip


def verdicts_on(job: Counting) -> dict[str, str]:
    """What the planner itself judges of a job."""
    living = living_job(job.folded)
    assert living.problems == ()
    shop = Shop()
    plan = widened(plan_job(living.job, shop=shop), living.job, job.folded)
    return verdicts_of(proved(plan, living.job, job.folded, shop))


@pytest.mark.parametrize("kind", KINDS)
def test_a_simple_job_needs_about_twenty_values(kind: str) -> None:
    """Typed and chosen values together; gauge readings and ticks are counted apart."""
    job = simple_job(kind)
    values = [*job.typed, *job.chosen]
    assert len(values) == len(set(values)) <= ABOUT_TWENTY[kind], values
    assert len(job.typed) <= 10, job.typed
    assert len(job.ticked) <= 10, job.ticked
    assert len(job.read) > 90


@pytest.mark.parametrize("kind", KINDS)
def test_what_a_simple_job_tells_is_what_is_marked_as_needed(kind: str) -> None:
    """The marks of the table are those of the test that meets every hold, and no others."""
    job = simple_job(kind)
    told = {*job.typed, *job.chosen, *job.ticked, *job.read} - set(TOLD_ONCE)
    told = {cell for cell in told if not cell.startswith("set/")}
    needed = {
        cell
        for field in simple_cells(kind)
        for cell in (
            [field.cell_for(name) for name in ("exhaust", "main left", "main right")]
            if field.each
            else [field.cell]
        )
    }
    assert told - needed == {"face.done"}
    assert needed - told - {"fit.by"} == set()


@pytest.mark.parametrize("kind", KINDS)
def test_a_simple_job_meets_every_hold_by_the_planner_s_own_verdicts(kind: str) -> None:
    """Every hold is met without lifting any; the last thing to do is to sign."""
    job = simple_job(kind, until="release")
    verdicts = verdicts_on(job)
    for stage in life_of(job.folded):
        hold = hold_of(stage.key, job.folded, verdicts=verdicts)
        assert hold.state == (MET if stage.hold else NONE), (stage.key, hold.lacks)
    assert next_action(job.folded, verdicts=verdicts).words.startswith("Wash the cylinder")
    for tick in ("washed", "tag", "photos"):
        job.value(f"release.{tick}", "yes")
    assert next_action(job.folded, verdicts=verdicts).words == "Sign the release"
    job.release()
    assert next_action(job.folded, verdicts=verdicts).stage == "after"


@pytest.mark.parametrize("kind", KINDS)
def test_each_stage_left_out_is_what_lacks(kind: str) -> None:
    """With one stage untold, its hold is not met, it is the stage in hand and says why."""
    for stage in STAGES:
        name = stage.__name__
        if name not in {one.key for one in life_of(simple_job(kind).folded)}:
            continue
        job = simple_job(kind, without=(name,))
        states = {step.stage: step.hold.state for step in steps(job.folded, verdicts=GOOD)}
        lacking = {key for key, state in states.items() if state == NOT_MET} - {"release"}
        expected = set() if states[name] == NONE or name in ("release", "parent") else {name}
        expected |= RESTS_ON.get(name, set())
        assert lacking == expected, (name, lacking)
        if expected:
            action = next_action(job.folded, verdicts=GOOD)
            assert action.stage == name
            assert action.words


@pytest.mark.parametrize("kind", KINDS)
def test_a_job_is_walked_stage_by_stage(kind: str) -> None:
    """Told up to a stage, that stage is in hand: nothing is skipped and nothing asked twice."""
    order = [one.key for one in life_of(simple_job(kind).folded)]
    for stage in STAGES:
        name = stage.__name__
        if name in order:
            job = simple_job(kind, until=name)
            assert next_action(job.folded, verdicts=GOOD).stage == name
            states = [step.state for step in steps(job.folded, verdicts=GOOD)]
            now = order.index(name)
            assert states == ["done"] * now + ["now"] + ["ahead"] * (len(order) - now - 1)


def test_values_are_typed_chosen_or_ticked_by_their_sort() -> None:
    """The count of a simple job counts what the table says of each cell."""
    assert all(field_of(cell).sort == CHOICE for cell in ("intake.agreed", "old.clean"))  # type: ignore[union-attr]  # known cells
    assert field_of("ready.dry").sort == TICK  # type: ignore[union-attr]  # a known cell
