"""What the hold of the counterbore asks for: the burr off, and a plain sleeve at its height."""

from __future__ import annotations

import pytest
from test_counterbore_stage import (
    LEVEL,
    THOU,
    counterbored,
    held_for,
    plan_of,
    said,
    stage_of,
)

from sleevewright.jobs.living import living_job
from sleevewright.planning.shop import Shop
from sleevewright.services.proving import proved
from sleevewright.web.stage.content import content_of


def test_depths_over_a_burr_do_not_meet_the_hold() -> None:
    """Without the tick the hold stands, and the ledge has no verdict of its own either."""
    job = counterbored(*LEVEL, counterbore__burr="")
    assert held_for(job) == ("the burr was not knocked off before these depths",)
    for burr, is_judged in (("", False), ("yes", True)):
        told = counterbored(*LEVEL, counterbore__burr=burr)
        seen = proved(plan_of(), living_job(told.folded, cylinder=1).job, told.folded, Shop())
        assert (seen.answer("counterbore.ledge").judgement is not None) is is_judged


@pytest.mark.parametrize(
    ("step", "off", "verdict"), [("3.498", 0.0, "good"), ("3.600", -102.0, "out")]
)
def test_a_plain_sleeve_is_held_to_its_stand_out(step: str, off: float, verdict: str) -> None:
    """Foot on a step 0.1 in too low: out, and the hold says so; at the depth wanted it is met."""
    job = counterbored(sleeve__overall="3.500 in", counterbore__step_depth=f"{step} in")
    heads = [one.id for one in job.folded.heads("sleeve.flange")]
    job.value("sleeve.flange", "plain", replaces=heads)
    told = said(stage_of(job), "off_step")
    assert told.value == pytest.approx(off * THOU, abs=1e-8)
    assert told.judgement is not None
    assert told.judgement.verdict.value == verdict
    assert held_for(job) == (() if verdict == "good" else (f"stand-out on its step: {verdict}",))
    shown = content_of("counterbore", "plain")
    assert not [one for one in (*shown.lead, *shown.rows) if "flange" in one or "depth" in one]
