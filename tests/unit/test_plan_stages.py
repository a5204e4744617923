"""What a plan makes of a job: the flange counts, limits are kept, nothing told is ignored."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.answers import Kind, Plan, Verdict
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Shop
from sleevewright.planning.shown import shown_answer

EXAMPLES = Path(__file__).parents[2] / "examples"
COUNTERBORE = """
[[grid]]
feature = "counterbore"
instrument = "bore gauge"
nominal = "2.8385 in"
part_temperature = "71 F"
gauge_temperature = "71 F"
directions = ["0 deg", "45 deg", "90 deg", "135 deg"]
readings = [["{size} in", "{size} in", "{size} in", "{size} in"]]
"""
THOU = 25.4e-6


def text_of(name: str) -> str:
    """The text of an example."""
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


def planned(text: str) -> Plan:
    """The plan of a job file's text."""
    return plan(read_job(text, name="test"), Shop())


def number(result: Plan, identity: str) -> float:
    """The value of an answer that has to be a number."""
    value = result.answer(identity).value
    assert isinstance(value, float), identity
    return value


@pytest.fixture(scope="module")
def air() -> Plan:
    """The plan of the air-cooled example."""
    return planned(text_of("demo-air-175"))


@pytest.fixture(scope="module")
def iron() -> Plan:
    """The plan of the thin iron example, whose slip is out of reach."""
    return planned(text_of("demo-thin-iron"))


def test_measured_counterbore_is_the_flange_fit() -> None:
    """A counterbore that was read gives the flange's fit, with the gauge's doubt."""
    result = planned(text_of("demo-air-175") + COUNTERBORE.format(size="2.8385"))
    flange = result.answer("fit.flange")
    assert flange.kind is Kind.COMPUTED
    assert flange.doubt is not None
    assert number(result, "fit.flange") == pytest.approx(2.0 * THOU, abs=0.3 * THOU)


def test_counterbore_to_cut_follows_the_wish_not_the_cut() -> None:
    """The order on the ticket does not move with what was cut wrongly."""
    right = planned(text_of("demo-air-175"))
    wrong = planned(text_of("demo-air-175") + COUNTERBORE.format(size="2.8305"))
    order = "counterbore.diameter"
    assert number(wrong, order) == pytest.approx(number(right, order), abs=1e-12)


def test_flange_that_is_too_tight_is_out_and_takes_the_seconds() -> None:
    """A counterbore cut 8 thou small is caught first, needs more heat and leaves less time."""
    right = planned(text_of("demo-air-175"))
    wrong = planned(text_of("demo-air-175") + COUNTERBORE.format(size="2.8305"))
    judged = wrong.answer("fit.flange_first").judgement
    assert judged is not None
    assert judged.verdict is Verdict.OUT
    assert wrong.answer("fit.tighter_hot").value == "flange"
    assert number(wrong, "heat.casting") > number(right, "heat.casting") + 20.0
    assert number(wrong, "drop.free_p05") < number(right, "drop.free_p05")


def test_seconds_fall_when_the_flange_rules(air: Plan) -> None:
    """At the same wanted slip a tighter flange never leaves more time than none would."""
    text = text_of("demo-air-175")
    tight = planned(text.replace('flange_wanted = "2.0 thou"', 'flange_wanted = "7.0 thou"'))
    assert tight.answer("fit.tighter_hot").value == "flange"
    assert number(tight, "heat.flange_slip") == pytest.approx(5.4 * THOU, abs=0.02 * THOU)
    body_alone = number(air, "drop.expected") * 2.0
    assert number(tight, "drop.expected") < body_alone


def test_needle_never_asks_for_more_than_the_limit_gives(iron: Plan) -> None:
    """Where the slip is out of reach the needle stands where the limit ends."""
    assert number(iron, "heat.needle") <= number(iron, "heat.slip_at_limit") + 1e-9
    assert number(iron, "heat.oven") == number(iron, "heat.limit")
    assert iron.answer("heat.feasible").value == "no"
    judged = iron.answer("heat.casting").judgement
    assert judged is not None
    assert judged.verdict is Verdict.OUT


def test_plan_says_what_to_do_where_the_slip_is_out_of_reach(iron: Plan) -> None:
    """The heat stage gives its advice in order: freezer, less slip, lighter fit."""
    heat = next(stage for stage in iron.stages if stage.key == "heat")
    words = " ".join(heat.advice)
    assert words.index("freezer") < words.index("slip that the limit gives")
    assert words.index("slip that the limit gives") < words.index("lighter fit")


def test_iron_in_iron_has_no_grip_temperature_and_says_so(iron: Plan) -> None:
    """What does not exist is called none, not left blank and not a number."""
    grip = iron.answer("fit.grip")
    assert grip.value is None
    assert shown_answer(grip, system="inch").figure == "none"
    assert number(iron, "cool.lift") > 1.0 * THOU


def test_line_up_time_is_never_above_five_seconds(air: Plan) -> None:
    """However long the drops stay free, five seconds are the most that is shown."""
    assert number(air, "drop.free_p05") > 5.0
    assert number(air, "drop.line_up") == 5.0
    assert air.answer("drop.line_up").doubt is None


def test_caliper_is_not_a_gauge_for_a_fit() -> None:
    """A bore read with a caliper carries the caliper's doubt, and a caution."""
    text = text_of("demo-air-175")
    text = text.replace('kind = "dial-bore-gauge"', 'kind = "caliper"')
    text = text.replace(
        'setting = "0.3 thou"   # of the transfer; the micrometer\'s own doubt comes on top\n', ""
    )
    result = planned(text)
    doubt = result.answer("fit.cold").doubt
    assert doubt is not None
    assert doubt.standard > 0.8 * THOU
    assert any("caliper" in one.text for one in result.cautions)


def test_typed_alloy_keeps_the_doubt_of_its_metal() -> None:
    """Copying a handbook's coefficient does not make this casting better known."""
    job = read_job(text_of("demo-air-175"), name="test")
    told = replace(job.casting, expansion=Entry(22.5e-6, "22.5e-6/K"))
    doubt = plan(replace(job, casting=told), Shop()).answer("casting.growth_scale").doubt
    assert doubt is not None
    assert doubt.standard > 0.02


def test_room_and_sleeve_share_their_temperature() -> None:
    """A sleeve that lay in the room is as warm as the room, error and all."""
    job = read_job(text_of("demo-air-175"), name="test")
    bare = replace(
        job,
        sleeve=replace(job.sleeve, temperature=None),
        heat=replace(job.heat, ambient=None),
    )
    result = plan(bare, Shop())
    assert number(result, "heat.sleeve") == number(result, "heat.room")
    contributors = result.answer("heat.needle").doubt
    assert contributors is not None
    assert all(one.input != "heat.sleeve" for one in contributors.contributors)


def test_empty_job_plans_to_blanks_that_say_what_to_give() -> None:
    """A job of which nothing was told gives no number that rests on nothing."""
    result = plan(Job(), Shop())
    cold = result.answer("fit.cold")
    assert cold.value is None
    assert cold.needs
    for identity in result.seven:
        assert result.answer(identity).value is None, identity


def test_more_interference_needs_more_heat_and_closes_more() -> None:
    """A tighter fit asks a hotter casting and closes the bore further."""
    text = text_of("demo-water")
    results = [
        planned(text.replace('wanted = "90 um"', f'wanted = "{wanted} um"'))
        for wanted in (70, 90, 110)
    ]
    for identity in ("heat.casting", "fit.close_up", "fit.pressure", "fit.grip"):
        values = [number(result, identity) for result in results]
        assert values == sorted(values), identity
        assert all(math.isfinite(value) for value in values)


def test_typed_parent_bore_is_the_fit() -> None:
    """A bore that was typed is used, with a gauge's honest doubt, and too loose is out."""
    text = text_of("demo-water").replace("[casting]", '[casting]\ninside_diameter = "71.990 mm"')
    result = planned(text)
    cold = result.answer("fit.cold")
    assert cold.kind is Kind.COMPUTED
    assert cold.doubt is not None
    assert number(result, "fit.cold") < number(result, "fit.least")
    assert cold.judgement is not None
    assert cold.judgement.verdict is Verdict.OUT
    assert any(one.code == "bore-too-big" for one in result.cautions)


def test_finished_bore_that_eats_the_sleeve_is_out() -> None:
    """A piston too large for the sleeve leaves no wall, and the wall says so."""
    text = text_of("demo-air-175").replace('diameter = "2.3992 in"', 'diameter = "2.600 in"')
    judged = planned(text).answer("finish.wall").judgement
    assert judged is not None
    assert judged.verdict is Verdict.OUT


def test_casting_that_may_have_no_wall_at_the_flange_is_planned_all_the_same() -> None:
    """A thin casting in doubt loses only the flange's pressure, and a caution says why."""
    job = read_job(text_of("demo-thin-iron"), name="test")
    casting = replace(job.casting, outside_low=None, outside_high=None)
    result = plan(replace(job, casting=casting), Shop())
    assert any(one.code == "no-wall-at-flange" for one in result.cautions)
    assert number(result, "fit.pressure") > 0.0
