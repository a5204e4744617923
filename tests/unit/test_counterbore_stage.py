"""What stage Counterbore answers beside the plan: depth, feed, stop, ledge, corner, register.

Figures are compared with the functions that they rest on and with sums by hand; the functions
are checked by second roads elsewhere.
"""

from __future__ import annotations

import math
from functools import cache

import pytest

from simple_job import DEPTH, ROUND, Counting, simple_job
from sleevewright.core.fits.coupled import body_pressure, flange_pressure, ledge_hoop
from sleevewright.core.fits.flange_limits import flange_fit_at_ledge
from sleevewright.core.fits.flanged import FlangedEnd
from sleevewright.core.fits.targets import counterbore_depth
from sleevewright.errors import InputError
from sleevewright.jobs.holds import hold_of
from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import (
    Answer,
    Kind,
    Plan,
    Quantity,
    StageAnswers,
    Verdict,
)
from sleevewright.planning.beside import with_stage
from sleevewright.planning.shop import Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.cutting import with_cuts
from sleevewright.services.jobs import verdicts_of
from sleevewright.services.ledge_told import counterbore_told
from sleevewright.services.plans import plan_job
from sleevewright.web.plan.ledge_drawing import ledge_picture
from sleevewright.web.plan.viewer import Viewer

THOU = 25.4e-6
FLANGE, OUT = 0.1570, 0.002  # in: as gauged, and wanted over the deck


def counterbored(*depths: str, angles: list[str] | None = None, **cells: str) -> Counting:
    """A simple job up to the hone, with these depths and cells, the burr knocked off."""
    job = simple_job("two-stroke", until="counterbore")
    job.grid("cb", "counterbore", "counterbore", [["2.8445 in"] * 4],
             directions=["0 deg", "45 deg", "90 deg", "135 deg"])  # fmt: skip
    if depths:
        job.grid("cbd", "counterbore-depth", "counterbore", [list(depths)],
                 directions=angles or ROUND, instrument="depth mic",
                 instruments=[DEPTH])  # fmt: skip
    told = {"counterbore.burr": "yes"} | {
        name.replace("__", "."): text for name, text in cells.items()
    }
    for cell, text in told.items():
        if text:
            job.value(cell, text)
    return job


@cache
def plan_of() -> Plan:
    """The plan of the simple job; it does not rest on what these tests tell."""
    job = counterbored("0.1530 in", "0.1530 in", "0.1530 in", "0.1530 in")
    return plan_job(living_job(job.folded, cylinder=1).job)


def stage_of(job: Counting, plan: Plan | None = None) -> StageAnswers:
    """The answers beside the plan."""
    told = CutTold(living_job(job.folded, cylinder=1).job, job.folded, 1, Shop())
    return counterbore_told(plan or plan_of(), told)


def said(stage: StageAnswers, name: str) -> Answer:
    """One answer of the stage by the end of its name."""
    return next(one for one in stage.answers if one.id == f"counterbore.{name}")


def names(stage: StageAnswers) -> set[str]:
    """Ends of the names of what was answered."""
    return {one.id.removeprefix("counterbore.") for one in stage.answers}


LEVEL = ("0.1530 in",) * 4


def test_two_thou_to_go_leaves_a_last_light_cut() -> None:
    """Depth wanted 0.1550, read 0.1530: 2.0 thou to go, 1.0 now and 1.0 for the last cut."""
    stage = stage_of(counterbored(*LEVEL))
    assert said(stage, "depth_now").value == pytest.approx((FLANGE - OUT) * 0.0254, abs=1e-6)
    assert said(stage, "to_go").value == pytest.approx(2.0 * THOU, abs=1e-6)
    assert said(stage, "next_feed").value == pytest.approx(1.0 * THOU, abs=1e-6)
    assert said(stage, "too_deep").value < 0.01
    assert said(stage, "to_go_3").label == "To go at 180°"


def test_the_next_feed_keeps_the_chance_that_the_shop_takes() -> None:
    """Near the depth the feed is the one whose chance of too deep is the shop's 5 per cent."""
    stage = stage_of(counterbored(*("0.1549 in",) * 4))
    held = said(stage, "feed_held")
    assert said(stage, "next_feed").value <= held.value
    assert said(stage, "too_deep").value <= 0.05 + 1e-9
    far = stage_of(counterbored(*("0.1450 in",) * 4))
    assert said(far, "next_feed").value == pytest.approx(4.0 * THOU, abs=1e-9)


def test_never_past() -> None:
    """A ledge that is deeper than planned asks for no feed, and says what can be done."""
    stage = stage_of(counterbored(*("0.1562 in",) * 4))
    assert said(stage, "next_feed").value == 0.0
    assert said(stage, "to_go").value < 0.0
    assert any("cut no more" in text for text in stage.advice)
    beyond = stage_of(counterbored(*("0.1580 in",) * 4))
    assert any("deeper than the flange is thick" in one.text for one in beyond.cautions)


def test_depths_on_a_burr_are_no_facts() -> None:
    """Without the tick nothing is answered from the depths, and the need says why."""
    stage = stage_of(counterbored(*LEVEL, counterbore__burr=""))
    for name in ("to_go", "rise"):
        assert said(stage, name).value is None
    assert any("burr" in need for need in said(stage, "to_go").needs)
    assert any("Knock the burr off" in text for text in stage.advice)
    assert said(stage, "depth_now").value is not None


def test_one_tick_serves_one_set_of_depths() -> None:
    """A second set after a further cut asks for the burr again."""
    job = counterbored(*LEVEL)
    again = {"directions": ROUND, "instrument": "depth mic", "instruments": [DEPTH]}
    job.grid("cbe", "counterbore-depth", "counterbore", [["0.1540 in"] * 4], **again)
    assert said(stage_of(job), "to_go").value == pytest.approx(1.0 * THOU, abs=1e-6)
    job.grid("cbf", "counterbore-depth", "counterbore", [["0.1545 in"] * 4], **again)
    assert said(stage_of(job), "to_go").value is None
    job.value("counterbore.burr", "yes")
    assert said(stage_of(job), "to_go").value == pytest.approx(0.5 * THOU, abs=1e-6)


def test_a_deck_that_is_out_of_flat_is_in_the_doubt() -> None:
    """Two thou under the straightedge widen what is known of the depth; facing moves it."""
    plain = said(stage_of(counterbored(*LEVEL)), "to_go").doubt
    bowed = said(stage_of(counterbored(*LEVEL, found__deck_flat="2 thou")), "to_go").doubt
    assert plain is not None
    assert bowed is not None
    assert bowed.standard > 1.5 * plain.standard
    faced = stage_of(counterbored(*LEVEL, counterbore__faced="5 thou"))
    assert said(faced, "to_go").value == pytest.approx(7.0 * THOU, abs=1e-6)


def test_the_stop_counts_from_what_was_touched_off() -> None:
    """From the old seat the travel is less, from the base plate it is the height above it."""
    old = stage_of(
        counterbored(counterbore__datum="old flange seat", counterbore__datum_off="0.1500 in")
    )
    assert said(old, "stop").value == pytest.approx(0.0050 * 0.0254, abs=1e-6)
    plate = stage_of(
        counterbored(counterbore__datum="base plate", counterbore__datum_off="4.0000 in")
    )
    assert said(plate, "stop").value == pytest.approx(3.8450 * 0.0254, abs=1e-6)
    missing = stage_of(counterbored(counterbore__datum="base plate"))
    assert said(missing, "stop").value is None
    assert "base plate" in said(missing, "stop").needs[0]


def test_the_stack_is_of_the_set_that_was_told() -> None:
    """0.155 in from the inch set is two blocks; own pins that do not make it say what they make."""
    blocks = said(stage_of(counterbored(counterbore__stop_set="inch-81")), "stack")
    assert blocks.value == "0.105 + 0.050 = 0.155 in"
    own = said(stage_of(counterbored(counterbore__stop_own="1.00, 2.00, 3.00 mm")), "stack")
    assert own.value is None
    assert "makes 3.00 or 4.00 mm" in own.needs[0]
    wrong = said(stage_of(counterbored(counterbore__stop_own="one, two")), "stack")
    assert wrong.value is None


@pytest.mark.parametrize(
    ("datum", "off", "low", "high"),
    [("deck", 0.0, False, True), ("old flange seat", 1.0, False, True),
     ("base plate", 60.0, True, False)],
)  # fmt: skip
def test_the_deep_side_of_a_stack_is_let_pass_half_as_far(
    datum: str, off: float, *, low: bool, high: bool
) -> None:
    """4 um off: from above too long is too deep, from the plate below too short is."""
    told = {"counterbore__datum": datum, "counterbore__datum_off": f"{off} mm" if off else ""}
    stop = float(str(said(stage_of(counterbored(**told)), "stop").value)) * 1e3
    for by, is_deep in ((-0.004, low), (0.004, high)):
        found = stage_of(counterbored(counterbore__stop_own=f"{stop + by:.4f} mm", **told))
        assert (said(found, "stack").value is None) is is_deep
        if not is_deep:
            assert "deeper" in said(found, "stack_off").of


def test_a_ledge_that_slopes_says_where() -> None:
    """Deeper by 4 thou at 180 than at 0: that rise, that direction, and uneven stand-out."""
    stage = stage_of(counterbored("0.1510 in", "0.1530 in", "0.1550 in", "0.1530 in"))
    assert said(stage, "rise").value == pytest.approx(4.0 * THOU, abs=1e-8)
    assert said(stage, "lies").value == "deepest toward 180°"
    assert said(stage, "uneven").value == pytest.approx(4.0 * THOU, abs=1e-8)
    judged = said(stage, "uneven").judgement
    assert judged is not None
    assert judged.verdict is Verdict.OUT
    high, low = said(stage, "out_high").value, said(stage, "out_low").value
    assert high == pytest.approx((FLANGE - 0.1510) * 0.0254, abs=1e-6)
    assert low == pytest.approx((FLANGE - 0.1550) * 0.0254, abs=1e-6)


def test_a_flange_is_uneven_as_it_lies_at_its_worst_all_round() -> None:
    """One that rocks by 2.4 thou is no even one; 0.75 at the places is 1.061 between them."""
    rocks = said(stage_of(counterbored("0.1540 in", "0.1552 in", "0.1540 in", "0.1552 in")),
                 "uneven")  # fmt: skip
    assert rocks.value == pytest.approx(2.4 * THOU, abs=1e-8)
    assert rocks.judgement is not None
    assert rocks.judgement.verdict is Verdict.OUT
    aslant = said(stage_of(counterbored("0.15437 in", "0.15437 in", "0.15362 in", "0.15362 in")),
                  "uneven")  # fmt: skip
    assert aslant.value == pytest.approx(0.75 * math.sqrt(2.0) * THOU, abs=2e-9)
    assert aslant.judgement is not None
    assert aslant.judgement.verdict is not Verdict.GOOD


def test_an_uneven_flange_adds_to_an_uneven_ledge() -> None:
    """A ledge that falls 1 thou under a flange that varies by 0.8: 1.8 at most, with what to do."""
    spread = Answer("sleeve.accept.flange_spread", "Flange, uneven by", 0.8 * THOU,
                    Quantity.DEVIATION, Kind.MEASURED)  # fmt: skip
    plan = with_stage(plan_of(), StageAnswers("sleeve", "Sleeve", (spread,)))
    stage = stage_of(counterbored("0.1525 in", "0.1530 in", "0.1535 in", "0.1530 in"), plan)
    assert said(stage, "uneven_most").value == pytest.approx(1.8 * THOU, abs=1e-8)
    assert any("turn its thick side" in text for text in stage.advice)


def test_the_flange_must_not_ride_on_its_radius() -> None:
    """Radius 30, edge 15: it stands up by 15 thou and the hold asks for the chamfer."""
    job = counterbored(*LEVEL, sleeve__under_radius="0.030 in", counterbore__corner="0.015 in")
    stage = stage_of(job)
    assert said(stage, "rides").value == pytest.approx(15.0 * THOU, abs=1e-8)
    hot = said(stage, "rides_hot").value
    gap = plan_of().answer("heat.slip").value / 2.0
    assert hot == pytest.approx(
        15.0 * THOU - ((15.0 * THOU) ** 2 - (15.0 * THOU - gap) ** 2) ** 0.5
    )
    assert said(stage, "edge_wanted").value == pytest.approx(35.0 * THOU, abs=1e-8)
    judged = said(stage, "corner_spare").judgement
    assert judged is not None
    assert judged.verdict is Verdict.OUT
    assert said(stage, "out_low").value == pytest.approx(
        (FLANGE - 0.1530 + 0.015) * 0.0254, abs=1e-6
    )
    doubt = said(stage, "out_low").doubt
    assert doubt is not None
    assert doubt.standard > 2**0.5 * 25e-6, "both radius gauges are in it"
    clear = stage_of(counterbored(sleeve__under_radius="0.020 in", counterbore__corner="0.030 in"))
    assert said(clear, "rides").value == 0.0
    assert "rides" not in names(stage_of(counterbored(*LEVEL)))


def test_a_depth_that_is_off_is_named_with_what_still_uses_it() -> None:
    """At its angle, without a depth of its own; the ledge's answers use every depth."""
    job = counterbored("0.1580 in", "0.1583 in", "0.1579 in", "0.1564 in")
    plan = plan_job(living_job(job.folded, cylinder=1).job)
    (text,) = [one.text for one in plan.cautions if one.code.endswith("counterbore.cut_depth")]
    assert "the reading 0.1564 in at 270° differs from the rest by " in text
    assert "1.9 thou. It may as well be 0.1583 in at 90° that is off" in text
    assert "use every depth" in text
    assert "not used" not in text
    assert "depth 0.0000" not in text


def held_for(job: Counting) -> tuple[str, ...]:
    """What the hold of the counterbore lacks, with the answers of the stage judged."""
    living = living_job(job.folded, cylinder=1)
    plan = with_cuts(plan_job(living.job), CutTold(living.job, job.folded, 1, Shop()))
    verdicts = {**verdicts_of(plan), "counterbore.ledge": "good"}
    hold = hold_of("counterbore", job.folded, cylinder=1, verdicts=verdicts)
    return tuple(one.why for one in hold.lacks)


def test_the_hold_asks_for_corner_and_register_where_they_were_told() -> None:
    """A clash and a bottom that touches first hold the job; where nothing was told they do not."""
    assert held_for(counterbored(*LEVEL)) == ()
    clash = counterbored(*LEVEL, sleeve__under_radius="0.030 in", counterbore__corner="0.015 in")
    assert any("edge clear of the flange: out" in why for why in held_for(clash))
    both = counterbored(
        *LEVEL, counterbore__register="3.4995 in", counterbore__body_below="3.5000 in"
    )
    assert any("one face clear: out" in why for why in held_for(both))


def test_the_bottom_that_touches_first() -> None:
    """Register 5 thou below the foot: clear, and more so hot; 1 thou above: the bottom is first."""
    stage = stage_of(
        counterbored(counterbore__register="3.5050 in", counterbore__body_below="3.5000 in")
    )
    assert said(stage, "register_gap").value == pytest.approx(5.0 * THOU, abs=1e-8)
    assert said(stage, "bottom_first").value < 0.001
    assert said(stage, "register_running").value > said(stage, "register_gap").value
    assert said(stage, "touches_first").value == "the flange, cold and hot"
    low = stage_of(
        counterbored(counterbore__register="3.4990 in", counterbore__body_below="3.5000 in")
    )
    assert said(low, "bottom_first").value > 0.99
    assert str(said(low, "touches_first").value).startswith("the bottom when cold")
    on_it = stage_of(
        counterbored(counterbore__register="3.4950 in", counterbore__body_below="3.5000 in",
                     counterbore__sits_on="register")
    )  # fmt: skip
    assert said(on_it, "register_clear").value == pytest.approx(5.0 * THOU, abs=1e-8)


def test_a_plain_sleeve_stands_on_its_step() -> None:
    """Length less the depth of the step; nothing of a flange is asked."""
    job = counterbored(sleeve__overall="4.100 in", counterbore__step_depth="4.098 in")
    job.value(
        "sleeve.flange", "plain", replaces=[one.id for one in job.folded.heads("sleeve.flange")]
    )
    stage = stage_of(job)
    assert said(stage, "out_on_step").value == pytest.approx(2.0 * THOU, abs=1e-8)
    assert "to_go" not in names(stage)


def test_how_wide_it_may_be_gauged() -> None:
    """The interval holds the wish; its ends are the least above and the first grip below."""
    stage = stage_of(counterbored(*LEVEL))
    low, high = said(stage, "allowed_low").value, said(stage, "allowed_high").value
    assert low < plan_of().answer("counterbore.diameter").value < high
    assert said(stage, "allowed_by").value == (
        "above: the least at the flange; below: the flange would be caught first"
    )
    assert said(stage, "below_high").value == pytest.approx(high - 2.8445 * 0.0254, abs=1e-6)
    assert "off centre" in str(said(stage, "if_clearance").value)
    assert "heat crosses the rim too" in str(said(stage, "if_interference").value)


def test_at_the_ledge_s_own_fit_the_ledge_bears_just_what_it_may() -> None:
    """Put back into the coupled rings the fit gives the tension allowed; a tenth less, less."""
    plan = plan_of()
    end = plan.answer("fit.flanged_end").value
    assert isinstance(end, FlangedEnd)
    opening, pressure = (
        float(str(plan.answer(one).value)) for one in ("fit.counterbore_opens", "fit.pressure")
    )

    def pull(fit: float) -> float:
        flange = flange_pressure(end, flange_interference=fit, opening=opening)
        body = body_pressure(end, pressure=pressure, opening=opening, flange_pressure=flange)
        return float(ledge_hoop(end, body_pressure=body, flange_pressure=flange))

    told = {"opening": opening, "pressure": pressure}
    fit = flange_fit_at_ledge(end, ledge_allowed=120e6, **told)
    assert pull(fit) == pytest.approx(120e6, rel=1e-4)
    assert pull(0.9 * fit) < 119e6
    assert flange_fit_at_ledge(end, ledge_allowed=1e3, **told) == opening
    assert math.isinf(flange_fit_at_ledge(end, ledge_allowed=1e12, **told))


def test_the_ledge_is_drawn_with_words_for_those_who_do_not_see_it() -> None:
    """The picture names each place with what is to go, and where the ledge is deepest."""
    job = counterbored("0.1510 in", "0.1530 in", "0.1550 in", "0.1530 in")
    living = living_job(job.folded, cylinder=1)
    plan = with_cuts(plan_job(living.job), CutTold(living.job, job.folded, 1, Shop()))
    drawn = str(ledge_picture(Viewer(plan, "inch"), plan.answer("counterbore.plane")))
    assert "It lies deepest toward 180°; falls 4.0 thou." in drawn
    assert "0°: 4.0; 90°: 2.0; 180°: " in drawn
    assert drawn.count("<svg") == 2
    for words in ("the flange touches here", "read, not touched", "toward the deepest"):
        assert drawn.count(words) == 2, words


def test_a_place_to_touch_off_below_the_depth_is_refused() -> None:
    """An old seat deeper than the new depth leaves no travel, and a set nobody knows no stack."""
    deeper = stage_of(
        counterbored(
            counterbore__datum="old flange seat",
            counterbore__datum_off="0.200 in",
            counterbore__stop_set="inch-81",
        )
    )
    assert "lies below it" in said(deeper, "stack").needs[0]


def test_a_stand_out_larger_than_the_flange_is_refused() -> None:
    """The plan names the stand-out, and how thick the flange is."""
    with pytest.raises(InputError, match=r"stand-out: .* less than the flange thickness"):
        counterbore_depth(flange_thickness=3.9e-3, stand_out=4.0e-3)


def test_nothing_told_is_asked_for_and_answers_nothing_wrong() -> None:
    """An empty stage names its needs; no figure stands where nothing was read."""
    stage = stage_of(counterbored())
    for name in ("to_go", "next_feed", "rise", "stack"):
        assert said(stage, name).value is None
        assert said(stage, name).needs
