"""Hone, next oversize or sleeve: what the size at which a bore cleans up decides.

The sums are worked by hand beside each check; there is no published table of them.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sleevewright.core.engine.cleanup import displacement_gain, next_oversize, wall_after_boring
from sleevewright.core.engine.volumes import swept_volume
from sleevewright.errors import InputError
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.choice import PLATED, Choosing, choice_stage
from sleevewright.planning.document import Retrace, plan_document
from sleevewright.planning.options import Option, options
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Settings, Shop

INCH = 0.0254
EXAMPLES = Path(__file__).parents[2] / "examples"


def entry(inches: float, kind: str = "measured") -> Entry:
    """A size in inches."""
    return Entry(inches * INCH, f"{inches} in", kind)


WORN = Choosing(
    largest=entry(2.7562),
    score=entry(0.006),
    clean_up=entry(0.003, "chosen"),
    standard=entry(2.7555, "typed"),
    wall=entry(0.125),
)
"""Worn 0.7 thou, scored 6 thou deep: cleans up at 2.7562 + 0.012 + 0.003 = 2.7712 in."""


@pytest.fixture(scope="module")
def demo() -> Plan:
    """The plan that the choice stands beside."""
    text = (EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8")
    few = Shop(settings=Settings(budget_samples=2_000, drop_samples=100))
    return plan(read_job(text, name="demo"), few)


def number(stage: StageAnswers, identity: str) -> float:
    """The value of an answer that has to be a number."""
    value = next(one.value for one in stage.answers if one.id == identity)
    assert isinstance(value, float), identity
    return value


def verdict(stage: StageAnswers, identity: str) -> Verdict:
    """The verdict of an answer that has to have one."""
    judged = next(one.judgement for one in stage.answers if one.id == identity)
    assert judged is not None
    return judged.verdict


def by_key(plan_of: Plan, told: Choosing) -> dict[str, Option]:
    """Options by their key."""
    return {one.key: one for one in options(plan_of, choice_stage(plan_of, told))}


def test_score_counts_twice_and_the_next_piston_is_found(demo: Plan) -> None:
    """2.7562 + 2 x 0.006 + 0.003 is 2.7712 in: 20 over, 4.3 thou of room, 115.35 thou of wall."""
    stage = choice_stage(demo, WORN)
    assert number(stage, "choice.cleaned") / INCH == pytest.approx(2.7712, abs=1e-7)
    assert number(stage, "choice.oversize.next") / INCH == pytest.approx(0.020, abs=1e-9)
    assert number(stage, "choice.oversize.room") / INCH == pytest.approx(0.0043, abs=1e-7)
    left = 0.125 - (2.7755 - 2.7562) / 2.0
    assert number(stage, "choice.oversize.wall") / INCH == pytest.approx(left, abs=1e-7)
    assert verdict(stage, "choice.oversize.wall") is Verdict.GOOD
    assert verdict(stage, "choice.hone.over") is Verdict.OUT


def test_options_stand_side_by_side_with_words(demo: Plan) -> None:
    """Hone falls away, the oversize and the sleeve stand, each with words for and against."""
    found = by_key(demo, WORN)
    assert list(found) == ["hone", "oversize", "sleeve"]
    assert found["hone"].stands == "not possible"
    assert not found["hone"].can_be_had
    assert found["oversize"].stands == "possible"
    assert found["sleeve"].can_be_had
    assert all(one.speaks_for and one.against and one.next_step for one in found.values())
    assert "4.3" in " ".join(found["oversize"].why)


def test_thin_wall_forbids_the_oversize(demo: Plan) -> None:
    """A wall of 60 thou cannot lose ten more."""
    found = by_key(demo, replace(WORN, wall=entry(0.060)))
    assert found["oversize"].stands == "not possible"
    assert found["oversize"].next_step == "Choose another."


def test_score_near_the_step_is_too_close_to_call(demo: Plan) -> None:
    """What is left to the next piston is less than the doubt of the score allows."""
    edge = replace(WORN, score=entry((2.7755 - 2.7562 - 0.003 - 0.0002) / 2.0))
    found = by_key(demo, edge)
    assert found["oversize"].stands == "too close to call"


def test_no_piston_large_enough_is_said(demo: Plan) -> None:
    """A score of 40 thou leaves the sleeve alone."""
    stage = choice_stage(demo, replace(WORN, score=entry(0.040)))
    found = {one.key: one for one in options(demo, stage)}
    assert found["oversize"].stands == "not possible"
    assert "No oversize" in found["oversize"].why[0]


def test_what_is_missing_is_named(demo: Plan) -> None:
    """Without the score nothing is claimed, and the words say what to give."""
    found = by_key(demo, replace(WORN, score=None, wall=None))
    assert found["hone"].stands == "not known yet"
    assert "depth of the deepest score" in found["oversize"].needs
    assert "wall of the old sleeve" in found["oversize"].needs
    assert found["sleeve"].stands == "possible"


def test_plated_bore_is_plated_again_and_not_bored(demo: Plan) -> None:
    """A plated bore has no oversize; the plater answers."""
    found = by_key(demo, replace(WORN, surface=PLATED))
    assert list(found) == ["hone", "replate", "sleeve"]
    assert found["replate"].stands == "the plater says"


def test_grid_of_the_old_bore_gives_its_largest_reading(demo: Plan) -> None:
    """The largest reading of the grid stands, with the gauge's doubt."""
    text = (EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8")
    job = read_job(text, name="demo")
    grid = job.grid("as-found-bore")
    told = replace(WORN, grid=grid, largest=None, instruments=job.instruments)
    stage = choice_stage(demo, told)
    assert grid is not None
    largest = max(one.value for row in grid.readings for one in row if one is not None)
    assert number(stage, "choice.largest") == pytest.approx(largest, abs=5e-6)
    doubt = next(one.doubt for one in stage.answers if one.id == "choice.largest")
    assert doubt is not None
    assert doubt.standard > 1e-6


def test_every_answer_can_be_computed_again(demo: Plan) -> None:
    """The answers join the plan's document, and a stranger gets the same values from it."""
    volume = Entry(14.2e-6, "14.2 cc", "measured")
    told = replace(WORN, stroke=entry(2.75, "typed"), volume=volume)
    document = plan_document(with_stage(demo, choice_stage(demo, told)))
    leaves = [
        leaf
        for stage in document["stages"]
        for leaf in stage["answers"]
        if leaf["id"].startswith("choice.") and leaf["kind"] == "computed"
    ]
    again = Retrace(document)
    assert len(leaves) >= 8
    for leaf in leaves:
        value = again.value(leaf["id"])
        if isinstance(value, float):
            assert value == pytest.approx(leaf[next(k for k in leaf if k.startswith("value"))])


def test_displacement_grows_with_the_square_of_the_bore() -> None:
    """The gain is the ratio of two swept volumes, which are computed by another function."""
    gain = displacement_gain(bore=0.061, new_bore=0.0615)
    volumes = [swept_volume(bore=bore, stroke=0.058) for bore in (0.061, 0.0615)]
    assert gain == pytest.approx(volumes[1] / volumes[0], rel=1e-12)


def test_bore_that_cleans_up_at_a_step_has_that_step() -> None:
    """Rounding of the last bit does not cost an oversize; a bore below standard takes the first."""
    sizes = {"standard_bore": 61.0e-3, "step": 0.25e-3, "largest_step": 1e-3}
    assert next_oversize(cleaned_bore=61.25e-3, **sizes) == pytest.approx(0.25e-3)
    assert next_oversize(cleaned_bore=60.9e-3, **sizes) == pytest.approx(0.25e-3)
    assert next_oversize(cleaned_bore=61.2501e-3, **sizes) == pytest.approx(0.5e-3)


def test_impossible_sizes_are_refused() -> None:
    """A wall of nothing and a negative step are no input."""
    with pytest.raises(InputError):
        wall_after_boring(wall=0.0, bore=0.061, new_bore=0.062)
    with pytest.raises(InputError):
        next_oversize(cleaned_bore=0.061, standard_bore=0.061, step=-1e-3, largest_step=1e-3)
