"""What a stage's page no longer shows: figures that would mislead as the cylinder stands."""

from __future__ import annotations

from functools import cache

from simple_job import Counting, simple_job
from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Plan
from sleevewright.planning.shop import Shop
from sleevewright.services.alongside import widened
from sleevewright.services.cut_told import CutTold
from sleevewright.services.cutting import with_cuts
from sleevewright.services.plans import plan_job
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.stage.content import CONTENTS
from sleevewright.web.stage.rows import Rows
from sleevewright.web.stage.said import SaysView
from sleevewright.web.stage.says import says_of


def planned(job: Counting) -> Plan:
    """The plan with what stands beside it."""
    living = living_job(job.folded)
    plan = widened(plan_job(living.job), living.job, job.folded)
    return with_cuts(plan, CutTold(living.job, job.folded, 1, Shop()))


def says(plan: Plan, stage: str) -> SaysView:
    """What the page of a stage says."""
    return says_of(Rows(Viewer(plan, "inch"), "/jobs/J-1", 1), CONTENTS[stage], stage)


@cache
def with_piston(piston: str) -> Plan:
    """A two-stroke up to the piston, which is measured."""
    job = simple_job("two-stroke", until="piston")
    job.value("piston.diameter", piston)
    return planned(job)


def test_a_sleeve_that_is_too_large_already_gives_no_size_to_bore_to() -> None:
    """A piston half an inch smaller than the sleeve: words stand large, no figure."""
    said = says(with_piston("2.0000 in"), "piston")
    assert "finish.bored" not in [one.id for one in said.lead]
    (one,) = [one for one in said.lead if one.id == "finish.too_large"]
    assert one.shown.figure == "too large already"


def test_with_the_piston_told_nothing_waits_for_it() -> None:
    """The words under the bored size ask for no piston that is in hand."""
    plan = with_piston("2.4750 in")
    assert plan.answer("finish.bored").of == "then hone"
    assert "finish.bored" in [one.id for one in says(plan, "piston").lead]
    assert not [one for one in plan.answers() if one.id == "finish.too_large"]


def test_a_bore_with_cuts_to_come_has_no_fit_yet() -> None:
    """Four thou below its size the page judges no fit; at its size it does."""
    for read, is_there in (("-4", False), ("-0.02", True)):
        job = simple_job("four-stroke", until="parent")
        size = planned(job).answer("bore.target").value
        assert isinstance(size, float)
        job.begin("ps", "parent-pass", "parent", nominal=f"{size / 25.4e-3:.5f} in", unit="thou",
                  stations=["1"], directions=["0 deg"])  # fmt: skip
        job.value("set/ps/0/0", read)
        plan = planned(job)
        assert any(one.id == "fit.cold" for one in plan.answers())
        assert ("fit.cold" in [one.id for one in says(plan, "parent").rows]) is is_there


def test_a_bore_over_its_target_is_not_honed_to_a_mark() -> None:
    """Over the target no reading to stop at stands large."""
    for over, is_there in ((-2.0, True), (2.3, False)):
        job = simple_job("four-stroke", until="honefit")
        size = planned(job).answer("bore.target").value
        assert isinstance(size, float)
        job.value("honefit.now", f"{size / 25.4e-3 + over * 1e-3:.5f} in")
        job.value("honefit.temperature", "75 F")
        plan = planned(job)
        assert plan.answer("honefit.stop_at").value is not None
        leads = [one.id for one in says(plan, "honefit").lead]
        assert ("honefit.stop_at" in leads) is is_there
