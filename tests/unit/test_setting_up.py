"""The set-up as it is answered from records: move, lean, shims, quick looks, what is left."""

from __future__ import annotations

import math

import pytest

from sleevewright.core.metrology.secondsweep import SecondSweep
from sleevewright.core.metrology.shims import Shims
from sleevewright.planning.answers import Plan
from sleevewright.web.stage.setup_view import setup_view
from swept_jobs import (
    EIGHT,
    QUARTERS,
    THOU,
    Setup,
    both,
    one,
    thou,
    verdict,
    with_setup,
    worked_plan,
)


@pytest.fixture(scope="module")
def made() -> Plan:
    """The plan of the worked job, on few samples."""
    return worked_plan()


@pytest.mark.parametrize(
    ("axes", "seen", "dial_y"),
    [
        (("", ""), (1.5, -0.5), -0.5),
        (("right", "toward you"), (1.5, -0.5), 0.5),
        (("left", "toward you"), (-1.5, 0.5), -0.5),
        (("away", "left"), (0.5, 1.5), -0.5),
        (("toward you", "left"), (-0.5, -1.5), 0.5),
    ],
)
def test_the_move_is_told_by_hands_and_by_dials(
    made: Plan, axes: tuple[str, str], seen: tuple[float, float], dial_y: float
) -> None:
    """The same sweep on mills whose dials count up in other ways; X is always its own way."""
    job = both((1.5, -0.5), (1.5, -0.5))
    if axes[0]:
        job.value("setup.plus_x", axes[0])
        job.value("setup.plus_y", axes[1])
    stage = job.answered(made)
    assert (thou(stage, "right"), thou(stage, "away")) == pytest.approx(seen, abs=1e-3)
    assert thou(stage, "travel_x") == pytest.approx(1.5, abs=1e-3)
    assert thou(stage, "travel_y") == pytest.approx(dial_y, abs=1e-3)
    assert one(stage, "axes").kind.value == ("chosen" if axes[0] else "assumed")


def test_one_sweep_gives_a_move_and_no_verdict(made: Plan) -> None:
    """The lean wants a second depth; the table can be moved all the same."""
    job = Setup()
    job.swept("a1", "top", (1.5, -0.5))
    stage = job.answered(made)
    assert thou(stage, "travel_x") == pytest.approx(1.5, abs=1e-3)
    assert one(stage, "tilt").value is None
    assert verdict(stage, "offset") == ""


def test_midway_is_usual_and_the_bottom_can_be_chosen(made: Plan) -> None:
    """Between 1 at the top and 3 at the bottom the table goes 2, or 3 by the bottom."""
    job = both((1.0, 0.0), (3.0, 0.0))
    assert thou(job.answered(made), "travel_x") == pytest.approx(2.0, abs=1e-3)
    job.value("setup.centred_on", "bottom")
    assert thou(job.answered(made), "travel_x") == pytest.approx(3.0, abs=1e-3)


def test_a_lever_at_sixty_degrees_halves_the_move_and_widens_its_doubt(made: Plan) -> None:
    """4 thou read are 2 moved; the angle taken by eye is in the doubt."""
    plain, lever = both((2.0, 0.0), (2.0, 0.0)), both((4.0, 0.0), (4.0, 0.0))
    lever.value("setup.lever", "60 deg")
    straight, steep = plain.answered(made), lever.answered(made)
    assert thou(steep, "travel_x") == pytest.approx(2.0, abs=1e-3)
    doubts = [one(stage, "travel_x").doubt for stage in (straight, steep)]
    assert doubts[0] is not None
    assert doubts[1] is not None
    assert doubts[1].standard > 2.0 * THOU * math.tan(math.radians(60.0)) * 0.05
    assert doubts[1].standard > 3.0 * doubts[0].standard


def test_clockwise_angles_and_a_turning_table_mirror_the_move(made: Plan) -> None:
    """Either turns Y; both together do not."""
    for cells, sign in (
        ({"setup.counted": "clockwise"}, -1.0),
        ({"setup.turns": "table"}, -1.0),
        ({"setup.counted": "clockwise", "setup.turns": "table"}, 1.0),
    ):
        job = both((1.0, 0.7), (1.0, 0.7))
        for cell, text in cells.items():
            job.value(cell, text)
        assert thou(job.answered(made), "away") == pytest.approx(0.7 * sign, abs=1e-3)


def test_two_indicators_are_refused_by_name(made: Plan) -> None:
    """Offset and lean stay blank, and what they want names both."""
    job = Setup()
    job.swept("a1", "top", (1.0, 0.0))
    job.swept("b1", "bottom", (1.0, 0.0), instrument="plunger 2")
    wants = one(job.answered(made), "offset").needs[0]
    assert "lever 1 at the top, plunger 2 at the bottom" in wants


def test_dials_are_turned_past_their_number_against_their_last_turn(made: Plan) -> None:
    """With 5 thou of backlash and 10 of overshoot; up straight, down past and back up."""
    job = both((1.5, -0.5), (1.5, -0.5))
    job.value("setup.backlash", "5 thou")
    job.value("setup.dial_x", "120 thou")
    said = " ".join(job.answered(made).advice)
    assert "X: from +120.0 thou straight to +121.5 thou, counting up." in said
    assert (
        "Y: from 0.0 thou turn back to −15.5 thou, past its number, then counting up to −0.5"
        in said
    )
    job.value("setup.came", "counting down")
    said = " ".join(job.answered(made).advice)
    assert "X: from +120.0 thou turn back to +136.5 thou" in said
    assert "Y: from 0.0 thou straight to −0.5 thou, counting down." in said


def test_scales_on_the_table_go_straight(made: Plan) -> None:
    """Without lost motion nothing is overshot."""
    job = both((1.5, -0.5), (1.5, -0.5))
    job.value("setup.backlash", "0 thou")
    assert "turn back" not in " ".join(job.answered(made).advice)


def test_a_good_set_up_is_left_as_it_stands(made: Plan) -> None:
    """Within both limits no dial is to be turned."""
    stage = both((0.2, 0.1), (0.2, 0.1)).answered(made)
    assert (verdict(stage, "offset"), verdict(stage, "tilt")) == ("good", "good")
    assert not any("counting" in text for text in stage.advice)


def test_studs_say_which_is_lifted_by_how_much(made: Plan) -> None:
    """Leaning 1 thou by the inch towards +X, studs 2 in out: 4 thou across, and upright then."""
    job = both((0.0, 0.0), (2.6, 0.0))
    for number, angle in enumerate((45, 135, 225, 315), 1):
        job.value(f"setup.stud/{number}/angle", f"{angle} deg")
        job.value(f"setup.stud/{number}/radius", "2.8284 in")
    stage = job.answered(made)
    shims = one(stage, "shims").value
    assert isinstance(shims, Shims)
    assert [round(under / THOU, 6) for under in shims.stepped] == [4.0, 0.0, 0.0, 4.0]
    assert verdict(stage, "tilt") == "out"
    assert verdict(stage, "shim_left") == "good"
    assert any(text.startswith("Shim first") for text in stage.advice)


def test_a_span_is_enough_for_a_shim_and_its_lack_is_said(made: Plan) -> None:
    """1 thou by the inch over 5 in is 5 thou; without supports it says what to give."""
    job = both((0.0, 0.0), (2.6, 0.0))
    assert "span between the supports" in one(job.answered(made), "shim").needs[0]
    job.value("setup.span", "5.0 in")
    assert thou(job.answered(made), "shim") == pytest.approx(5.0)


def test_studs_in_a_line_are_refused_in_words(made: Plan) -> None:
    """The shim stays blank and says why."""
    job = both((0.0, 0.0), (2.6, 0.0))
    for number in (1, 2, 3):
        job.value(f"setup.stud/{number}/angle", "30 deg")
        job.value(f"setup.stud/{number}/radius", f"{number}.0 in")
    assert "carry a plane" in one(job.answered(made), "shim").needs[0]


def test_a_bore_is_judged_against_its_base(made: Plan) -> None:
    """Base and bore askew alike is square; a level base under a leaning bore is out."""
    job = both((0.0, 0.0), (2.6, 0.0))
    job.swept("c1", "base", (-2.0, 0.0))
    job.value("setup.base_radius", "2.0 in")
    assert verdict(job.answered(made), "square") == "good"
    job.swept("c2", "base", (0.0, 0.0))
    assert verdict(job.answered(made), "square") == "out"


@pytest.mark.parametrize(
    ("swing", "told"), [("1.0", "good"), ("2.0", "too close to call"), ("3.2", "out")]
)
def test_the_total_swing_alone_gives_a_verdict(made: Plan, swing: str, told: str) -> None:
    """Swing 3.2: centre off 1.6, limit 1.0, out."""
    job = Setup()
    job.value("setup.swing", f"{swing} thou")
    stage = job.answered(made)
    assert thou(stage, "by_swing") == pytest.approx(0.5 * float(swing))
    assert verdict(stage, "by_swing") == told


@pytest.mark.parametrize(("half", "told"), [("0.1", "too close to call"), ("1.6", "out")])
def test_a_pair_may_say_out_and_never_good(made: Plan, half: str, told: str) -> None:
    """It sees one line alone; what it asks for then is the pair square to it."""
    job = Setup()
    job.value("setup.pair_here", f"+{half} thou")
    job.value("setup.pair_opposite", f"-{half} thou")
    job.value("setup.pair_at", "45 deg")
    stage = job.answered(made)
    assert one(stage, "by_pair").of == "first at 45 deg, along that line only"
    assert verdict(stage, "by_pair") == told
    judged = one(stage, "by_pair").judgement
    assert judged is not None
    assert ("square to it" in judged.remedy) is (told != "out")


def test_axes_that_cannot_be_are_said_and_the_verdicts_stand(made: Plan) -> None:
    """+Y along +X: the move wants it put right, offset and lean do not."""
    job = both((1.5, -0.5), (1.5, -0.5))
    job.value("setup.plus_x", "right")
    job.value("setup.plus_y", "left")
    stage = job.answered(made)
    assert "square to +X" in one(stage, "travel_x").needs[0]
    assert verdict(stage, "offset") == "out"


def test_a_fixture_is_judged_by_how_it_repeats(made: Plan) -> None:
    """Within 2 thou it is good to start from."""
    job = Setup()
    job.value("setup.repeats", "1 thou")
    assert verdict(job.answered(made), "repeats") == "good"
    worse = Setup()
    worse.value("setup.repeats", "4 thou")
    assert verdict(worse.answered(made), "repeats") == "out"


def again(job: Setup, move: tuple[float, float]) -> None:
    """Sweep both depths once more."""
    job.swept("a2", "top", move)
    job.swept("b2", "bottom", move)


@pytest.mark.parametrize(
    ("after", "slip"),
    [
        ((0.1, -0.1), "as told"),
        ((3.0, 0.0), "X turned"),
        ((0.0, 2.4), "Y turned"),
        ((1.5, 1.2), "not moved"),
        ((-1.5, -1.2), "whole swing"),
        ((-4.0, 3.0), "unknown"),
    ],
)
def test_the_second_sweep_tells_what_became_of_the_move(
    made: Plan, after: tuple[float, float], slip: str
) -> None:
    """Asked for 1.5 and 1.2: what is left names the slip, or that there is none."""
    job = both((1.5, 1.2), (1.5, 1.2))
    again(job, after)
    stage = job.answered(made)
    found = one(stage, "second").value
    assert isinstance(found, SecondSweep)
    assert found.slip == slip
    assert thou(stage, "left") == pytest.approx(math.hypot(*after), abs=1e-3)


def test_what_was_moved_can_be_told(made: Plan) -> None:
    """Moved 1.0 of 1.5 by its own dial: 0.5 should be left, and is."""
    job = both((1.5, 0.0), (1.5, 0.0))
    job.value("setup.plus_x", "left")
    job.value("setup.plus_y", "away")
    job.value("setup.moved_x", "+1.0 thou")
    again(job, (0.5, 0.0))
    stage = job.answered(made)
    assert thou(stage, "expected") == pytest.approx(0.5, abs=1e-3)
    found = one(stage, "second").value
    assert isinstance(found, SecondSweep)
    assert found.slip == "as told"


def test_the_page_says_a_turned_sign_first(made: Plan) -> None:
    """What the second sweep says stands with the move, in words."""
    job = both((1.5, 1.2), (1.5, 1.2))
    again(job, (3.0, 0.0))
    view = setup_view(with_setup(made, job))
    assert "X got worse by exactly the move" in view.slip
    assert [order.way for order in view.orders] == ["right", "away"]


def test_the_page_tells_orders_in_figures_and_pictures(made: Plan) -> None:
    """Right 1.5, toward you 0.5, each with its dial; table and sweep are drawn."""
    view = setup_view(with_setup(made, both((1.5, -0.5), (1.5, -0.5), around=EIGHT)))
    assert [(one.way, one.figure, one.unit) for one in view.orders] == [
        ("right", "1.5", "thou"),
        ("toward you", "0.5", "thou"),
    ]
    assert [one.dial for one in view.orders] == [
        "X +1.5 thou by its dial",
        "Y −0.5 thou by its dial",
    ]
    assert view.table is not None
    assert "move it right 1.5 thou and toward you 0.5 thou" in view.table
    assert view.polar is not None
    assert view.swing == "Total swing 3.2 thou, twice the offset of 1.6 thou."
    assert view.assumed.startswith("Taken for granted: +X is right")


def test_the_page_leaves_a_good_set_up_alone_and_wants_a_sweep_where_there_is_none(
    made: Plan,
) -> None:
    """No arrow where all is good; without a sweep it says what to give."""
    good = setup_view(with_setup(made, both((0.2, 0.1), (0.2, 0.1))))
    assert good.stays.startswith("It stays as it stands")
    assert good.table is None
    blank = setup_view(with_setup(made, Setup()))
    assert "a sweep of the casting" in blank.wants
    assert setup_view(None).orders == ()


@pytest.mark.parametrize(
    ("around", "lobes", "words"),
    [
        (QUARTERS, 0.0, "three lobes would look like an offset"),
        (EIGHT, 0.5, "three lobes stand out"),
        ((0, 90, 180, 270, 360), 0.0, "count as repeats"),
        ((0, 30, 60, 90, 120), 0.0, "reach over 120° only"),
    ],
)
def test_what_a_sweep_cannot_tell_is_said(
    made: Plan, around: tuple[int, ...], lobes: float, words: str
) -> None:
    """Few places, lobes, repeats, an arc: each in a sentence that names the depth."""
    stage = both((1.5, -0.5), (1.5, -0.5), around=around, lobes=lobes).answered(made)
    assert any(text.startswith("Swept at the top") and words in text for text in stage.advice)


def test_what_scatter_adds_to_a_small_offset_is_said(made: Plan) -> None:
    """A tenth of a thou off, known within as much: the offset without it is told beside it."""
    small = both((0.03, 0.0), (0.03, 0.0)).answered(made)
    assert any("Less what it adds it is 0.0 thou" in text for text in small.advice)
    large = both((3.0, 0.0), (3.0, 0.0)).answered(made)
    assert not any("Less what it adds" in text for text in large.advice)
