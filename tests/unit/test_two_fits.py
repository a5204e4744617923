"""Two diameters in a plan: what is left of the flange's fit, what rules it, what it costs."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sleevewright.core.fits.flanged import FlangedPair, flanged_end, outside_range
from sleevewright.core.fits.ledge import flange_load, root_bending, root_shear, seat_pressure
from sleevewright.core.fits.rings import RingPair
from sleevewright.errors import InputError
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.answers import Kind, Plan, StageAnswers, Verdict
from sleevewright.planning.fit import fit_stage
from sleevewright.planning.flange_seat import flange_seat, last_place
from sleevewright.planning.ledger import StageResult
from sleevewright.planning.parent import parent_stage
from sleevewright.planning.plan import plan
from sleevewright.planning.proofing import Frame
from sleevewright.planning.records import records_of
from sleevewright.planning.shop import Settings, Shop
from sleevewright.planning.sleeve import sleeve_stage
from sleevewright.planning.two_fits import ALL_USED, SolidEnd, SolidFigure
from sleevewright.services.plans import load_job, plan_job
from sleevewright.services.quick import TOPICS, quick, quick_document

EXAMPLES = Path(__file__).parents[2] / "examples"
THOU, MPA = 25.4e-6, 1e6
SHOP = Shop(Settings(budget_samples=4000, drop_samples=100))
PAIR = FlangedPair(
    body=RingPair(
        interface_diameter=63e-3,
        inside_diameter=56e-3,
        outside_diameter=92e-3,
        sleeve_modulus=110e9,
        sleeve_poisson=0.26,
        casting_modulus=71e9,
        casting_poisson=0.33,
    ),
    flange_diameter=70e-3,
    flange_thickness=4e-3,
    body_length=81e-3,
)


def job_of(wish: str = "2.0 thou") -> Job:
    """The air-cooled example with another flange fit."""
    text = (EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8")
    return read_job(text.replace('wanted = "2.0 thou"', f'wanted = "{wish}"'), name="test")


def number(result: Plan, identity: str) -> float:
    """The value of an answer that has to be a number."""
    value = result.answer(identity).value
    assert isinstance(value, float), identity
    return value


def beside(job: Job, made: Plan | None = None) -> StageAnswers:
    """What stands beside the plan of a job about its flange."""
    return flange_seat(Frame(plan(job, SHOP) if made is None else made), job)


def told(stage: StageAnswers, identity: str) -> float:
    """A number beside the plan."""
    value = next(one.value for one in stage.answers if one.id == identity)
    assert isinstance(value, float), identity
    return value


@pytest.fixture(scope="module")
def air() -> Plan:
    """The plan of the air-cooled example: 3.4 thou at the body, 2.0 at the flange."""
    return plan(job_of(), SHOP)


def test_flange_whose_fit_is_used_up_is_said_to_be_loose(air: Plan) -> None:
    """The body opens the counterbore by more than the flange's fit: nothing presses there."""
    opens, left = number(air, "fit.counterbore_opens"), number(air, "fit.flange_left")
    assert left == pytest.approx(number(air, "fit.flange_as_cut") - opens, abs=1e-12)
    assert left < 0.0
    assert number(air, "fit.flange_pressure") == 0.0
    assert number(air, "fit.flange_loose") > 0.95
    assert ALL_USED in next(one for one in air.stages if one.key == "fit").advice
    assert air.answer("fit.flange_left").doubt is not None


def test_needed_fit_is_what_works_when_it_is_cut(air: Plan) -> None:
    """The flange fit that is told for it leaves the rest that was wanted, and presses."""
    needed = number(air, "fit.flange_needed")
    tight = plan(job_of(f"{needed / THOU:.5f} thou"), SHOP)
    assert number(tight, "fit.flange_left") == pytest.approx(0.5 * THOU, abs=1e-9)
    assert number(tight, "fit.flange_pressure") > 1 * MPA
    assert number(tight, "fit.body_pressure") < number(air, "fit.body_pressure")
    assert number(tight, "fit.ledge_hoop") > number(air, "fit.ledge_hoop")
    assert 0.01 < number(tight, "fit.flange_loose") < 0.2


def test_clearance_is_a_negative_fit(air: Plan) -> None:
    """A flange with clearance is answered too, and the body is as with a loose flange."""
    clear = plan(job_of("-4 thou"), SHOP)
    assert number(clear, "fit.flange_left") < -6 * THOU
    assert number(clear, "fit.body_pressure") == pytest.approx(number(air, "fit.body_pressure"))
    assert ALL_USED not in next(one for one in clear.stages if one.key == "fit").advice


def test_flange_that_may_lift_is_opened_less() -> None:
    """Not held down, the flange leans back from the ledge and keeps more of its fit."""
    job = job_of()
    free = plan(replace(job, choice=replace(job.choice, hold_down="free")), SHOP)
    held = plan(job, SHOP)
    assert free.answer("fit.hold_down").kind is Kind.CHOSEN
    assert held.answer("fit.hold_down").kind is Kind.ASSUMED
    assert number(free, "fit.counterbore_opens") < number(held, "fit.counterbore_opens")


def test_iron_ledge_is_judged_by_its_share_of_what_breaks_it() -> None:
    """In an iron casting the ledge's pull is compared with half of the tensile strength."""
    text = (EXAMPLES / "demo-thin-iron.toml").read_text(encoding="utf-8")
    made = plan(read_job(text, name="test"), SHOP)
    judged = made.answer("fit.ledge_hoop").judgement
    assert judged is not None
    strength = number(made, "casting.strength")
    assert judged.limit == pytest.approx(0.5 * strength)
    assert made.answer("casting.is_brittle").value == "cracks"


def test_solid_model_stands_in_place_of_the_coupled_rings() -> None:
    """Made-up figures of a solid model are taken as they are, with their source."""
    records = records_of(job_of("5 thou"), SHOP)
    sleeve = sleeve_stage(records.sleeve)
    parent = parent_stage(records.parent, sleeve)
    solid = SolidEnd(
        model="a made-up solid model",
        opening=SolidFigure(70e-6, 1e-6),
        flange_pressure=SolidFigure(12e6, 1e6),
        body_pressure=SolidFigure(9e6),
        ledge_hoop=SolidFigure(25e6, 2e6),
    )
    result: StageResult = fit_stage(replace(records.fit, solid_end=solid), sleeve, parent)
    pressure = result.find("fit.flange_pressure")
    left = result.find("fit.flange_left")
    ledge = result.find("fit.ledge_hoop")
    assert pressure is not None
    assert left is not None
    assert ledge is not None
    assert (pressure.point, pressure.answer.source) == (12e6, "a made-up solid model")
    assert left.point == pytest.approx(5 * THOU - 70e-6)
    assert ledge.answer.judgement is not None


def test_shear_bending_and_seat_by_hand() -> None:
    """40 kN on a flange of 70 x 4 mm over a body of 63 mm: direct shear, strips, bearing.

    Source: ``budynas-2011``, direct shear, bending and bearing; the figures by hand.
    """
    load, body, rim, thick = 40e3, 63e-3, 70e-3, 4e-3
    shear = root_shear(load=load, diameter=body, flange_thickness=thick)
    assert shear / MPA == pytest.approx(50.525, abs=0.001)  # 40000/(pi 63 4)
    bent = root_bending(load=load, diameter=body, flange_diameter=rim, flange_thickness=thick)
    assert bent / MPA == pytest.approx(132.63, abs=0.01)  # 6 x 353.7 N/16
    seat = seat_pressure(load=load, diameter=body, flange_diameter=rim)
    assert seat / MPA == pytest.approx(54.70, abs=0.01)  # 40000/731.2
    chamfered = seat_pressure(load=load, diameter=body, flange_diameter=rim, corner=0.5e-3)
    assert chamfered > seat
    gas = flange_load(clamp_load=load, gas_pressure=6e6, flange_diameter=rim, inside_diameter=56e-3)
    assert gas == pytest.approx(40e3 + 6.0 * 1385.4, rel=1e-4)


def test_seat_is_judged_by_what_the_hot_casting_bears(air: Plan) -> None:
    """A ledge that a heavy clamp presses past the casting's hot strength is not good."""
    stage = beside(job_of(), air)
    seat = next(one for one in stage.answers if one.id == "fit.seat_pressure")
    assert seat.judgement is not None
    assert seat.doubt is not None
    assert seat.judgement.limit == pytest.approx(0.45 * number(air, "casting.strength"))
    heavy = flange_seat(Frame(air), job_of(), Entry(2.0e-3, "2 mm"))
    worse = next(one for one in heavy.answers if one.id == "fit.seat_pressure")
    assert worse.judgement is not None
    assert worse.judgement.verdict is Verdict.OUT


def test_roughness_leaves_the_flange_less_not_more() -> None:
    """What flattens comes off both fits; the limit, as it is cut, lies as far higher."""
    smooth = job_of()
    wish = {"wanted": Entry(80e-6, "80 um"), "flange_wanted": Entry(75e-6, "75 um")}
    smooth = replace(smooth, grids=(), choice=replace(smooth.choice, **wish))
    sizes = {"outside_diameter": 67.056e-3, "inside_diameter": 59.436e-3}
    sizes |= {"flange_diameter": 72.136e-3, "flange_thickness": 4e-3}
    told_of = {name: Entry(size, "invented") for name, size in sizes.items()}
    smooth = replace(smooth, sleeve=replace(smooth.sleeve, **told_of))
    rough = replace(
        smooth,
        sleeve=replace(smooth.sleeve, roughness=Entry(10e-6, "10 um")),
        casting=replace(smooth.casting, roughness=Entry(10e-6, "10 um")),
    )
    one, other = plan_job(smooth), plan_job(rough)
    assert number(other, "fit.flange_left") < number(one, "fit.flange_left")
    assert number(other, "fit.flange_pressure") < number(one, "fit.flange_pressure")
    needed = number(other, "fit.flange_needed") - number(one, "fit.flange_needed")
    opens = number(one, "fit.counterbore_opens") - number(other, "fit.counterbore_opens")
    assert needed == pytest.approx(16e-6 - opens, abs=1e-9)
    higher = number(other, "fit.limit_fit") - number(one, "fit.limit_fit")
    assert higher == pytest.approx(16e-6, abs=1e-9)


def test_an_iron_ledge_keeps_its_strength_hot() -> None:
    """The share that aluminium keeps is not put on an iron casting."""
    job = load_job(EXAMPLES / "demo-thin-iron.toml")
    seen = plan_job(job)
    stage = flange_seat(Frame(seen), job)
    seat = next(one for one in stage.answers if one.id == "fit.seat_pressure")
    assert seat.judgement is not None
    assert seat.judgement.limit == pytest.approx(number(seen, "casting.strength"))


def test_cut_from_the_nominal_the_fit_is_another(air: Plan) -> None:
    """A sleeve 0.26 thou over its nominal, cut for from the nominal, fits so much tighter."""
    stage = beside(job_of(), air)
    over = number(air, "sleeve.od") - 2.640 * 0.0254
    assert told(stage, "fit.if_nominal") == pytest.approx(3.4 * THOU + over, abs=1e-9)
    over = number(air, "flange.od") - 2.840 * 0.0254
    assert told(stage, "fit.flange_if_nominal") == pytest.approx(2.0 * THOU + over, abs=1e-9)


def test_size_typed_to_the_thou_hides_half_of_one() -> None:
    """A sleeve typed as 2.640 in may be half a thou off; typed to the tenth nothing is said."""
    job = job_of()
    grids = tuple(one for one in job.grids if one.feature != "sleeve-od")
    for text, hidden in (("2.640 in", 0.5 * THOU), ("2.6403 in", None)):
        entry = Entry(float(text.split()[0]) * 0.0254, text)
        typed = replace(job, grids=grids, sleeve=replace(job.sleeve, outside_diameter=entry))
        typed = replace(typed, grids=tuple(one for one in grids if one.feature != "flange-od"))
        flange = Entry(2.8404 * 0.0254, "2.8404 in")
        typed = replace(typed, sleeve=replace(typed.sleeve, flange_diameter=flange))
        stage = beside(typed)
        if hidden is None:
            assert all(one.id != "fit.coarse_step" for one in stage.answers)
        else:
            assert told(stage, "fit.coarse_step") == pytest.approx(hidden, rel=1e-9)
            assert any("coarser step" in one for one in stage.advice)


@pytest.mark.parametrize(
    ("text", "value", "place"),
    [("3.503 in", 3.503 * 0.0254, 1e-3 * 0.0254), ("63.5 mm", 63.5e-3, 1e-4), ("", 0.06, 0.0)],
)
def test_last_place_is_read_off_the_text(text: str, value: float, place: float) -> None:
    """The worth of the last digit follows from the text and the size that it stands for."""
    assert last_place(Entry(value, text)) == pytest.approx(place, rel=1e-9)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"flange_diameter": 62e-3}, "flange diameter"),
        ({"flange_diameter": 93e-3}, "casting outside diameter"),
        ({"flange_thickness": 0.0}, "flange thickness"),
        ({"body_length": -1.0}, "body length"),
        ({"hold_down": "glued"}, "hold-down"),
    ],
)
def test_end_that_cannot_be_is_refused(change: dict[str, float | str], field: str) -> None:
    """A flange without a ledge, a casting without a wall, no thickness: each names its field."""
    with pytest.raises(InputError) as refused:
        replace(PAIR, **change)
    assert refused.value.field == field


def test_flange_that_may_be_no_wider_is_planned_all_the_same() -> None:
    """A flange within its doubt of the body loses its answers, and a caution says why."""
    job = job_of()
    grids = tuple(one for one in job.grids if one.feature != "flange-od")
    hardly = Entry(2.64035 * 0.0254, "2.64035 in")
    made = plan(replace(job, grids=grids, sleeve=replace(job.sleeve, flange_diameter=hardly)), SHOP)
    assert any(one.code == "no-ledge-at-flange" for one in made.cautions)
    assert number(made, "fit.pressure") > 0.0
    assert all(one.id != "fit.flange_left" for one in made.answers())


def test_end_outside_of_the_range_carries_a_caution() -> None:
    """A flange far thicker than any that the laws were fitted over says so."""
    assert outside_range(PAIR) == ()
    thick = outside_range(replace(PAIR, flange_thickness=12e-3))
    assert [one.code for one in thick] == ["flange-outside-range"]
    assert flanged_end(PAIR).give > 0.0
    with pytest.raises(InputError):
        seat_pressure(load=1.0, diameter=63e-3, flange_diameter=63e-3)


def test_quick_flange_gives_the_trial_and_says_that_it_is_loose() -> None:
    """Source: ``derived``: 56/63 mm, flange 70 x 4, 0.080 and 0.060 mm: nothing is left.

    Of a flange fit of 0.075 mm 0.009 mm is left, and it presses with some 9 MPa.
    """
    words = (
        "sleeve_od=63.08mm",
        "sleeve_id=56mm",
        "parent_bore=63mm",
        "casting_od=92mm",
        "length=81mm",
        "flange_od=70mm",
        "flange_thickness=4mm",
        "casting=aluminium-356",
        "sleeve=grey-iron",
        "casting_modulus=71GPa",
        "sleeve_modulus=110GPa",
    )
    loose = quick("flange", (*words, "counterbore=69.94mm"))
    assert [one.code for one in loose.cautions][:1] == ["flange-loose"]
    numbers = quick_document(quick("flange", (*words, "counterbore=69.925mm")))
    assert numbers["flange_left_um"] == pytest.approx(9.0, abs=1.5)
    assert numbers["flange_pressure_mpa"] == pytest.approx(8.9, rel=0.2)
    assert numbers["body_pressure_mpa"] == pytest.approx(10.26, rel=0.07)


@pytest.mark.parametrize(
    ("word", "field"),
    [
        ("flange_od=2.6in", "flange_od"),
        ("flange_od=3.8in", "flange_od"),
        ("counterbore=2.7in", "counterbore"),
        ("hold_down=glued", "hold_down"),
    ],
)
def test_quick_flange_refuses_what_cannot_be(word: str, field: str) -> None:
    """A flange inside of the body or outside of the casting, an absurd fit, an unknown state."""
    name = word.partition("=")[0]
    example = [
        one for one in TOPICS["flange"].example.split()[3:] if not one.startswith(f"{name}=")
    ]
    with pytest.raises(InputError) as refused:
        quick("flange", (*example, word))
    assert refused.value.field == field
