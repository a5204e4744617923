"""What stands beside the plan on yield, webs, rings, hot strength and ageing.

The figures are compared with the functions that they rest on, fed from the plan itself; those
functions are checked against print and second roads elsewhere.
"""

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sleevewright.core.fits.contact import contact_fraction
from sleevewright.core.fits.webs import web_hoop_stress
from sleevewright.core.heat.overage import held_dose
from sleevewright.errors import NotFound
from sleevewright.jobs.model import Entry, Job, Part
from sleevewright.planning.answers import Kind, Plan, StageAnswers, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.dose import OvenLog, dose_stage
from sleevewright.planning.stress import stress_stage
from sleevewright.services.alongside import oven_log
from sleevewright.services.jobfiles import load_job
from sleevewright.services.plans import plan_file, plan_job
from told_jobs import Teller

ALUMINIUM = Part("aluminium-356")
IRON = Part("grey-iron")


@pytest.fixture(scope="module")
def water(root: Path) -> Plan:
    """The plan of the worked water-cooled job."""
    return plan_job(load_job(root / "examples" / "demo-water.toml"))


@pytest.fixture(scope="module")
def iron(root: Path) -> Plan:
    """The plan of the worked thin iron job."""
    return plan_job(load_job(root / "examples" / "demo-thin-iron.toml"))


def said(stage: StageAnswers, identity: str) -> Any:
    """The answer of a stage with this id, nothing where it has none."""
    return next((answer for answer in stage.answers if answer.id == identity), None)


def tighter(plan: Plan, factor: float) -> Plan:
    """The plan with the fit that works, and its pressure, times a factor."""
    stages = tuple(
        replace(
            stage,
            answers=tuple(
                replace(one, value=one.value * factor)
                if one.id in ("fit.effective", "fit.pressure")
                else one
                for one in stage.answers
            ),
        )
        for stage in plan.stages
    )
    return replace(plan, stages=stages, _index={})


def codes(stage: StageAnswers) -> list[str]:
    """Cautions of a stage, without what they belong to."""
    return [one.code.partition(":")[0] for one in stage.cautions]


def test_nothing_told_and_nothing_yielded_stays_in_the_background(water: Plan) -> None:
    """Without web and ring the only answer in the foreground is that on the hot casting."""
    stage = stress_stage(water, ALUMINIUM)
    shown = [one.id for one in stage.answers if not one.is_detail]
    assert shown == ["fit.hard_bite"]
    assert said(stage, "fit.yielded") is None
    assert not stage.cautions


def test_fit_past_first_yield_is_told_with_its_depth_and_what_it_carries(water: Plan) -> None:
    """Between first and full yield the depth is within the wall and less is carried than cut."""
    first = float(water.answer("fit.yield_fit").value) / float(water.answer("fit.effective").value)
    stage = stress_stage(tighter(water, 1.15 * first), ALUMINIUM)
    depth, carried = said(stage, "fit.yielded"), said(stage, "fit.carried")
    assert not depth.is_detail
    assert 0.0 < depth.value < 0.010
    assert carried.value < 1.15 * float(water.answer("fit.yield_fit").value)
    assert any("yields at its bore" in one for one in stage.advice)


def test_fit_that_stretches_the_whole_wall_gets_a_caution_and_no_figure(water: Plan) -> None:
    """Far beyond there is no pressure to tell; the caution says to take a lighter fit."""
    stage = stress_stage(tighter(water, 12.0), ALUMINIUM)
    assert said(stage, "fit.yielded") is None
    assert "yielded-through" in codes(stage)


def test_iron_is_not_said_to_yield(iron: Plan) -> None:
    """Cast iron cracks: no yielded zone, no hot yield, and no ageing are told of it."""
    stage = stress_stage(iron, IRON)
    assert said(stage, "fit.yielded") is None
    assert said(stage, "fit.hard_bite") is None
    assert not dose_stage(iron, IRON, OvenLog()).answers


def test_web_is_judged_by_what_the_casting_bears(water: Plan) -> None:
    """Told as a web or by the axes, the pull is the same; a thin one is out."""
    web = stress_stage(water, replace(ALUMINIUM, web=Entry(0.009, "9 mm")))
    outside = float(water.answer("sleeve.od").value)
    axes = stress_stage(water, replace(ALUMINIUM, centres=Entry(0.009 + outside, "81 mm")))
    pull = said(web, "fit.web_hoop")
    expected = web_hoop_stress(
        pressure=float(water.answer("fit.pressure").value), diameter=outside, web=0.009
    )
    assert pull.value == pytest.approx(expected, rel=1e-12)
    assert said(axes, "fit.web_hoop").value == pytest.approx(expected, rel=1e-9)
    assert pull.judgement.verdict is Verdict.GOOD
    two = stress_stage(water, replace(ALUMINIUM, web=Entry(0.009, "9 mm")), bores=2)
    assert said(two, "fit.web_hoop").value < pull.value  # two bores pull less than a row
    thin = stress_stage(water, replace(ALUMINIUM, web=Entry(0.002, "2 mm")))
    assert said(thin, "fit.web_hoop").judgement.verdict is Verdict.OUT
    assert any("Toward the next bore" in one for one in thin.advice)


def test_iron_web_is_judged_by_its_share_of_tensile_strength(iron: Plan) -> None:
    """Half of 250 MPa is the limit of a grey iron web."""
    stage = stress_stage(iron, replace(IRON, web=Entry(0.009, "9 mm")))
    assert said(stage, "fit.web_hoop").judgement.limit == pytest.approx(125e6)
    assert said(stage, "fit.neighbour") is None  # iron in iron is not let go by heat


def test_neighbour_that_lets_go_in_the_oven_is_called_out(water: Plan) -> None:
    """The drop is hotter than the grip: what is already in may fall, and the caution says so."""
    stage = stress_stage(water, replace(ALUMINIUM, web=Entry(0.009, "9 mm")))
    spare = float(water.answer("fit.grip").value) - float(water.answer("heat.drop_at").value)
    neighbour = said(stage, "fit.neighbour")
    assert neighbour.value == pytest.approx(spare, abs=1e-9)
    assert spare < 0.0
    assert neighbour.judgement is None
    assert "neighbour-lets-go" in codes(stage)


def test_grip_and_drop_share_their_errors_in_the_heat_to_spare(water: Plan, root: Path) -> None:
    """The band is that of the difference by the plan's own samples: half as wide or less.

    A fit that is tighter lets go later and needs more heat: GUM 5.2, the covariance counts.
    """
    job = load_job(root / "examples" / "demo-water.toml")
    casting = replace(job.casting, web=Entry(0.009, "9 mm"))
    webbed = plan_job(replace(job, casting=casting))
    told = said(stress_stage(webbed, casting), "fit.neighbour")
    apart = said(stress_stage(water, casting), "fit.neighbour")
    assert told.value == pytest.approx(apart.value, abs=1e-9)
    grip, drop = (webbed.answer(one).doubt.standard for one in ("fit.grip", "heat.drop_at"))
    assert apart.doubt.standard == pytest.approx(math.hypot(grip, drop), rel=0.05)
    assert abs(grip - drop) <= told.doubt.standard < 0.6 * apart.doubt.standard
    assert told.doubt.low <= told.value <= told.doubt.high
    assert "too wide" in apart.of
    assert "too wide" not in told.of


def test_ring_presses_the_casting_together(water: Plan) -> None:
    """A tight steel ring adds pressure to the fit and takes the pull off the casting."""
    outside = float(water.answer("casting.outside_diameter").value)
    ringed = replace(
        ALUMINIUM, ring_diameter=Entry(outside + 0.012, "x"), ring_fit=Entry(60e-6, "60 um")
    )
    stage = stress_stage(water, ringed)
    assert said(stage, "fit.ringed_pressure").value > water.answer("fit.pressure").value
    assert said(stage, "fit.ringed_casting").value < water.answer("fit.casting_hoop").value
    assert said(stage, "fit.ring_hoop").judgement.verdict is Verdict.GOOD
    lacking = stress_stage(water, replace(ringed, ring_fit=None))
    assert said(lacking, "fit.ring_hoop").value is None
    assert "interference of the ring on the casting" in said(lacking, "fit.ring_hoop").needs


def test_lengths_that_cannot_be_are_said_and_the_rest_is_answered(water: Plan) -> None:
    """A ring inside the casting and axes nearer than a bore get a caution, and no figure."""
    outside = float(water.answer("casting.outside_diameter").value)
    small = replace(
        ALUMINIUM, ring_diameter=Entry(outside + 0.001, "93 mm"), ring_fit=Entry(60e-6, "60 um")
    )
    stage = stress_stage(water, small)
    assert codes(stage) == ["ring-inside-casting"]
    assert said(stage, "fit.ring_hoop") is None
    near = stress_stage(water, replace(ALUMINIUM, centres=Entry(0.060, "60 mm")))
    assert codes(near) == ["no-web"]
    assert said(near, "fit.web_hoop") is None
    assert said(near, "fit.hard_bite") is not None


@pytest.mark.parametrize("told", [Job(), Job(casting=Part("aluminium-356")), Job(casting=IRON)])
def test_nearly_empty_job_says_what_it_needs(told: Job) -> None:
    """With next to nothing told there is no figure and no failure, with a web and a ring or not."""
    plan = plan_job(told)
    whole = replace(
        told.casting, web=Entry(0.009, "9 mm"), ring_diameter=Entry(0.1, "x"),
        ring_fit=Entry(60e-6, "x"),
    )  # fmt: skip
    for casting in (told.casting, whole):
        for stage in (stress_stage(plan, casting), dose_stage(plan, casting, OvenLog())):
            judged = [one for one in stage.answers if one.judgement is not None]
            assert all(one.value is not None for one in judged)
    assert said(stress_stage(plan, whole), "fit.web_hoop").needs


def test_heat_as_planned_is_far_below_the_limit(water: Plan) -> None:
    """One heat to 167 degC is less than the same time held at the oven's dial, and good."""
    stage = dose_stage(water, ALUMINIUM, OvenLog())
    dose = said(stage, "heat.dose")
    soak = said(stage, "heat.dose_soak").value
    held = held_dose(
        duration=soak, temperature=float(water.answer("heat.oven").value), activation=16000.0
    )
    assert 0.0 < dose.value < held
    assert said(stage, "heat.dose_thin").value == pytest.approx(held, rel=1e-9)
    assert dose.judgement.verdict is Verdict.GOOD
    assert said(stage, "heat.dose_again") is None


def test_logged_heats_add_up_and_too_many_are_out(water: Plan) -> None:
    """Two logged heats of an hour at 232 degC are out, with a caution; one more adds the plan's."""
    log = OvenLog((0.0, 3600.0, 0.0, 3600.0), (505.4, 505.4, 505.4, 505.4))
    stage = dose_stage(water, ALUMINIUM, log)
    twice = held_dose(duration=7200.0, temperature=505.4, activation=16000.0)
    assert said(stage, "heat.dose").value == pytest.approx(twice, rel=1e-9)
    assert said(stage, "heat.dose").judgement.verdict is Verdict.OUT
    again = said(stage, "heat.dose_again").value
    assert again == pytest.approx(twice + said(stage, "heat.dose_planned").value, rel=1e-9)
    assert codes(stage) == ["overaged"]


def test_log_is_read_from_the_records_in_its_order() -> None:
    """Rows with minutes and casting, by their number; a row that lacks one is left out."""
    job = Teller()
    for number, minutes, casting in (("10", "40 min", "330 F"), ("2", "10 min", "200 F")):
        job.value(f"heat.log/{number}/minutes", minutes)
        job.value(f"heat.log/{number}/casting", casting)
    job.value("heat.log/3/minutes", "20 min")
    log = oven_log(job.folded, 1)
    assert log.times == (600.0, 2400.0)
    assert log.castings == pytest.approx((366.483, 438.706), abs=1e-3)


def test_a_wide_band_of_the_casting_leaves_the_web_its_answer(root: Path) -> None:
    """A pressure in wide doubt is reckoned anew, and none of its draws falls below nothing."""
    job = load_job(root / "examples" / "demo-water.toml")
    sleeve = float(plan_job(job).answer("sleeve.od").value)
    casting = replace(
        job.casting,
        web=Entry(9e-3, "9 mm"),
        outside_low=None,
        outside_high=None,
        outside_diameter=Entry(sleeve + 18e-3, "invented"),
    )
    thin = replace(job, casting=casting)
    stage = stress_stage(plan_job(thin), casting)
    assert said(stage, "fit.web_hoop").value > 0.0


def test_ports_told_in_full_take_their_windows_off_the_contact(water: Plan, root: Path) -> None:
    """The share in contact is counted from the ports; without their widths it is the default."""
    few = load_job(root / "examples" / "demo-water.toml")
    more = tuple(replace(few.ports[0], name=name) for name in ("second exhaust", "boost"))
    job = replace(few, ports=(*few.ports, *more))
    windows = tuple((one.width.value, one.floor.value - one.roof.value) for one in job.ports)
    told = plan_job(job).answer("fit.contact")
    assert told.kind is Kind.COMPUTED
    assert told.value < 0.8
    assert told.value == pytest.approx(
        contact_fraction(
            windows=windows,
            width_diameter=float(water.answer("sleeve.id").value),
            diameter=float(water.answer("sleeve.od").value),
            length=float(water.answer("sleeve.length").value),
        )
    )
    for changed in ({"width": None}, {"width": Entry(0.9, "0.9 m")}, {"floor": job.ports[0].roof}):
        other = replace(job, ports=(replace(job.ports[0], **changed), *job.ports[1:]))
        usual = plan_job(other).answer("fit.contact")
        assert usual.value == 0.72
        assert usual.kind is Kind.ASSUMED
    bare = replace(job, grids=(), sleeve=replace(job.sleeve, inside_diameter=None))
    assert plan_job(bare).answer("fit.contact").value == 0.72


def test_ports_that_leave_too_much_seem_to_lack_some(water: Plan) -> None:
    """Three ports that leave nine tenths: the usual share stands, and it is asked for the rest."""
    assert water.answer("fit.contact").value == 0.72
    said_at_fit = [text for stage in water.stages if stage.key == "fit" for text in stage.advice]
    assert any("88 % of the surface" in text for text in said_at_fit)


def test_job_file_that_tells_of_a_web_is_answered_at_the_terminal(
    root: Path, tmp_path: Path
) -> None:
    """The plan of a file has the web's pull where the file tells of a web, else not."""
    example = root / "examples" / "demo-water.toml"
    job = tmp_path / "webbed.toml"
    text = example.read_text(encoding="utf-8")
    job.write_text(text.replace("[casting]\n", '[casting]\nweb = "9 mm"\n'), encoding="utf-8")
    assert plan_file(job).answer("fit.web_hoop").judgement.verdict is Verdict.GOOD
    with pytest.raises(NotFound):
        plan_file(example).answer("fit.web_hoop")


def test_answers_go_beside_the_plan_without_touching_its_own(water: Plan) -> None:
    """The plan keeps every figure it had; the new ones are found by their names."""
    both = with_stage(water, stress_stage(water, ALUMINIUM))
    assert all(both.answer(one.id) == one for one in water.answers())
    assert both.answer("fit.hard_bite").value < 1.0
