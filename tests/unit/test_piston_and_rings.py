"""Bore to piston, warming up and Rings: answers beside the plan, what is lacking, bad input."""

from __future__ import annotations

import math
from typing import Any

import pytest

from simple_job import Counting, intake, simple_job
from sleevewright.core.engine.warmup import bodies_by_times
from sleevewright.core.expansion import thermal_strain
from sleevewright.core.fits.targets import finished_bore
from sleevewright.errors import InputError
from sleevewright.jobs.living import living_job
from sleevewright.jobs.pistonreading import piston_kind
from sleevewright.planning.answers import Answer, Plan, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Settings, Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.piston_told import piston_part, rings_part, warming_part
from sleevewright.services.proving import proved

SHOP = Shop(settings=Settings(budget_samples=2000, drop_samples=50))
THOU = 25.4e-6
PARTS = (piston_part, warming_part, rings_part)


def planned(*told: tuple[str, str], until: str = "release", without: tuple[str, ...] = ()) -> Plan:
    """The plan of a simple two-stroke job, told a few cells more."""
    job = simple_job("two-stroke", until=until, without=without)
    for cell, text in told:
        job.value(cell, text)
    return answered(job)


def answered(job: Counting) -> Plan:
    """The plan of a job with the answers of this part."""
    living = living_job(job.folded)
    made = proved(plan(living.job, SHOP), living.job, job.folded, SHOP)
    told = CutTold(living.job, job.folded, 1, SHOP)
    for part in PARTS:
        made = with_stage(made, part(made, told))
    return made


@pytest.fixture(scope="module")
def whole() -> Plan:
    """A job with everything told that this part reads."""
    return planned(
        ("piston.kind", "forged, marked B"),
        ("piston.temperature", "86 F"),
        ("piston.height", "0.40 in"),
        ("port/exhaust/found.width", "1.300 in"),
        ("port/exhaust/found.angle", "0 deg"),
        ("port/main left/found.width", "0.9 in"),
        ("port/main left/found.angle", "110 deg"),
        ("rings.second_gap", "7 thou"),
        ("rings.top_known_gap", "5 thou"),
        ("rings.top_known_bore", "2.4001 in"),
        ("rings.skirt", "2 thou"),
        ("rings.peg/1/angle", "100 deg"),
        ("rings.peg/2/angle", "180 deg"),
    )


def verdict(answer: Answer) -> Verdict:
    """The verdict of an answer that must have one."""
    assert answer.judgement is not None
    return answer.judgement.verdict


def told_codes(made: Plan) -> set[str]:
    """What the plan cautions of."""
    return {one.code.partition(":")[0] for one in made.cautions}


def test_a_warm_piston_is_taken_to_twenty_degrees(whole: Plan) -> None:
    """86 F is 10 K warm: forged aluminium on a steel micrometer is 11e-6 a kelvin smaller."""
    read = 2.3992 * 25.4e-3
    expected = read * (1.0 - 10.0 * (22.5e-6 - 11.5e-6))
    assert whole.answer("piston.at_20").value == pytest.approx(expected, abs=2e-9)
    assert whole.answer("piston.diameter").value == pytest.approx(expected, abs=2e-9)
    bore = finished_bore(piston_diameter=expected, clearance=2.8 * THOU)
    for name in ("piston.finish", "finish.bore"):
        assert whole.answer(name).value == pytest.approx(bore, abs=2e-9)


def test_a_piston_without_a_temperature_stays_as_keyed() -> None:
    """The size that is planned with is the one that was keyed, with more doubt beside it."""
    made = planned()
    assert made.answer("piston.diameter").value == pytest.approx(2.3992 * 25.4e-3, abs=1e-9)
    beside = made.answer("piston.at_20")
    assert beside.value == pytest.approx(2.3992 * 25.4e-3, abs=1e-9)
    assert beside.doubt is not None
    assert any("maker's height" in text for one in made.stages for text in one.advice)
    assert made.answer("piston.height_cost").value == pytest.approx(THOU)


def test_limits_stand_on_the_right_sides(whole: Plan) -> None:
    """Finished: never below, half a thou above; bored: half a thou either way, before the hone."""
    value = {
        name: whole.answer(f"piston.{name}").value
        for name in ("finish", "finish_most", "bore_to", "bored_least", "bored_most")
    }
    assert value["finish_most"] - value["finish"] == pytest.approx(0.5 * THOU)
    assert value["bored_most"] - value["bore_to"] == pytest.approx(0.5 * THOU)
    assert value["bore_to"] - value["bored_least"] == pytest.approx(0.5 * THOU)
    assert value["finish"] - value["bore_to"] == pytest.approx(3.0 * THOU)


def test_sources_stand_side_by_side_and_none_is_followed(whole: Plan) -> None:
    """2.8 thou for a forged one: within one range, above 2.5 and below 3.5."""
    place = whole.answer("piston.place").value
    assert place == "2.8 thou; of 3 that fit: below 1, within 1, above 1"
    assert "riders" in str(whole.answer("piston.says.forged-run").value)
    assert whole.answer("piston.clearance").value == pytest.approx(2.8 * THOU)


def test_bored_past_the_finished_size_is_said() -> None:
    """Nothing left for the hone stops with words, and the bored size is out."""
    job = simple_job("two-stroke", until="ports")
    rows = [["2.4025"] * 2] * 2
    job.grid("asb", "finish-bore", "piston", rows, stations=["0.5 in", "1.2 in"],
             directions=["0 deg", "90 deg"])  # fmt: skip
    made = answered(job)
    assert verdict(made.answer("piston.bored_off")) is Verdict.OUT
    assert "bored-past-finish" in told_codes(made)


def test_a_piston_larger_than_the_bore_is_said() -> None:
    """Honed to 2.4020, a piston of 2.4030: it does not go in."""
    made = planned(("piston.diameter", "2.4030 in"), without=("piston",))
    assert "piston-larger-than-bore" in told_codes(made)


def test_forged_leaves_less_than_cast_in_the_same_clearance() -> None:
    """Relative only: the sentence says so, and the kinds stand in their order."""
    cast, forged = (planned(("piston.kind", one)) for one in ("cast", "forged"))
    for name in ("warm.least", "warm.left"):
        assert forged.answer(name).value < cast.answer(name).value
        assert "no promise" in cast.answer(name).of
    assert "warming-is-relative" in told_codes(cast)
    for way in ("forged in the same clearance", "pulled hard", "water-cooled"):
        assert way in str(cast.answer("warm.says").value)
    assert cast.answer("warm.minutes").value > 60.0


def test_the_two_bodies_are_made_of_what_each_is_called(whole: Plan) -> None:
    """The lumps are those of the figures on the page, each in its own place."""
    told = {
        name: float(str(whole.answer(f"warm.{name}").value))
        for name in ("piston_time", "cylinder_time", "share", "to_wall", "piston_rise")
    }
    assert told["share"] != told["to_wall"]
    rise = float(str(whole.answer("warm.sleeve_rise").value))
    assert whole.answer("warm.bodies").value == bodies_by_times(**told, cylinder_rise=rise)


@pytest.mark.parametrize(("units", "other"), [("inch", " K"), ("metric", "°F")])
def test_a_warmer_piston_is_told_in_the_units_of_the_job(units: str, other: str) -> None:
    """No kelvin on the page of an inch job, no Fahrenheit on a metric one."""
    job = Counting("two-stroke", units=units)
    intake(job)
    job.value("piston.diameter", "2.3992 in")
    said = answered(job).answer("piston.apart_worth")
    assert other not in f"{said.label} {said.of}"
    assert {"inch": "10 °F", "metric": "5.6 K"}[units] in said.label


def test_a_gap_is_held_against_the_least_the_alarm_and_the_heat(whole: Plan) -> None:
    """11 thou in 2.402 in is good; 7 thou is below the least of 8.4 and is to be filed."""
    bore = whole.answer("rings.bore").value
    assert verdict(whole.answer("rings.top_over_least")) is Verdict.GOOD
    assert verdict(whole.answer("rings.top_share")) is Verdict.GOOD
    second = whole.answer("rings.second_over_least")
    assert second.value == pytest.approx(7.0 * THOU - 0.0035 * bore, abs=1e-9)
    assert verdict(second) is Verdict.OUT
    wanted = whole.answer("rings.second_wanted").value
    assert wanted == pytest.approx(0.005 * bore, rel=1e-9)
    filed = whole.answer("rings.second_file").value
    assert filed == pytest.approx(wanted - 7.0 * THOU, abs=1e-9)
    assert whole.answer("rings.second_hot").value < whole.answer("rings.top_hot").value


def test_the_bore_that_the_gap_tells_agrees_with_the_gauge(whole: Plan) -> None:
    """5 thou in 2.4001 in, 11 here: 6/pi thou more, the 2.4020 in that were gauged."""
    told = whole.answer("rings.top_bore").value
    assert told == pytest.approx((2.4001 + 6e-3 / math.pi) * 25.4e-3, abs=1e-9)
    off = whole.answer("rings.top_bore_off")
    assert off.value == pytest.approx(told - whole.answer("rings.bore").value, abs=1e-12)
    assert off.doubt is not None
    assert 4e-6 < off.doubt.standard < 15e-6
    assert verdict(off) is Verdict.GOOD
    assert "gap-against-gauge-top" not in told_codes(whole)


def test_gap_and_gauge_that_disagree_are_said() -> None:
    """A gap that tells 3.3 thou less than the gauge: out, with what may be wrong."""
    made = planned(("rings.top_known_gap", "15 thou"), ("rings.top_known_bore", "2.4001 in"))
    off = made.answer("rings.top_bore_off")
    assert verdict(off) is Verdict.OUT
    assert "gap-against-gauge-top" in told_codes(made)


def test_a_peg_over_a_port_is_out_and_one_on_the_wall_is_good(whole: Plan) -> None:
    """100 degrees lies over the port at 110, 180 on the wall, but a port has no place."""
    assert verdict(whole.answer("rings.peg.1.room")) is Verdict.OUT
    assert verdict(whole.answer("rings.peg.2.room")) is Verdict.TOO_CLOSE
    assert whole.answer("rings.not_placed").value == "main right"
    assert "main right" in whole.answer("rings.clear").of
    assert verdict(whole.answer("rings.window.exhaust.share")) is Verdict.GOOD
    assert str(whole.answer("rings.clear").value).count("°") == 2


def test_pegs_are_good_once_every_port_has_its_place() -> None:
    """With all ports told, a peg 3 mm and more from each of them is good."""
    told = []
    for port, angle in (("exhaust", 0), ("main left", 110), ("main right", 250)):
        told += [
            (f"port/{port}/found.width", "0.9 in"),
            (f"port/{port}/found.angle", f"{angle} deg"),
        ]
    made = planned(*told, ("rings.peg/1/angle", "180 deg"), ("rings.peg/2/angle", "140 deg"))
    assert verdict(made.answer("rings.peg.1.room")) is Verdict.GOOD
    assert verdict(made.answer("rings.peg.2.room")) is Verdict.GOOD
    assert all(one.id != "rings.not_placed" for one in made.answers())


def test_a_peg_is_known_no_better_than_its_angle() -> None:
    """38.7 deg: 3.02 mm of wall, and a degree of peg or port is 0.53 mm: not good by 0.02 mm."""
    made = planned(
        ("port/exhaust/found.width", "1.300 in"),
        ("port/exhaust/found.angle", "0 deg"),
        ("rings.peg/1/angle", "38.7 deg"),
    )
    room, bore = made.answer("rings.peg.1.room"), made.answer("rings.bore").value
    assert room.doubt is not None
    degree = math.radians(0.5) * bore / 2.0  # both angles, each half of 1 deg as a standard
    assert room.doubt.standard == pytest.approx(math.sqrt(2.0) * degree, rel=0.06)
    assert verdict(room) is Verdict.TOO_CLOSE
    share = made.answer("rings.window.exhaust.share")
    assert share.doubt is not None
    assert share.doubt.standard * bore == pytest.approx(25.4e-6, rel=0.06)


def test_a_gap_against_a_planned_bore_is_no_disagreement() -> None:
    """Before the bore is gauged the gap is only set beside the plan, and nothing is judged."""
    made = planned(
        ("piston.diameter", "2.3992 in"),
        ("rings.top_gap", "11 thou"),
        ("rings.top_known_gap", "15 thou"),
        ("rings.top_known_bore", "2.4001 in"),
        until="ports",
    )
    off = made.answer("rings.top_bore_off")
    assert off.judgement is None
    assert "planned" in off.label
    assert "gap-against-gauge-top" not in told_codes(made)


def test_a_warm_bore_has_grown_by_the_laws_of_its_metals(whole: Plan) -> None:
    """Second road: strains of both laws to their warmth; 1.80 thou by the inch, not 1.71."""
    free, casting = (
        thermal_strain(
            whole.answer(f"{one}.law").value,
            temperature=293.15 + whole.answer(f"warm.{one}_rise").value,
        )
        for one in ("sleeve", "casting")
    )
    given_back = min(
        whole.answer("warm.close_share").value * (casting - free), whole.answer("warm.closed").value
    )
    assert whole.answer("warm.strain").value == pytest.approx(free + given_back, rel=1e-9)
    assert free + given_back == pytest.approx(1.796e-3, abs=1e-6)


@pytest.mark.parametrize("gap", ["10.6 thou", "12.5 thou"])
def test_good_leaves_no_more_out_than_it_promises(gap: str) -> None:
    """What is left hot is skewed: a good one has at most one in twenty of its draws out."""
    hot = planned(("rings.top_gap", gap), until="rings").answer("rings.top_hot").judgement
    assert hot is not None
    assert hot.chance_out is not None
    assert (hot.verdict is Verdict.GOOD) is (hot.chance_out <= 0.05)


def test_what_is_lacking_is_said_not_guessed() -> None:
    """Without the piston there is no size, but the gap that is wanted for the gauged bore is."""
    made = planned(without=("piston",))
    assert "piston measured" in made.answer("piston.at_20").needs[0]
    assert made.answer("piston.finish").value is None
    assert made.answer("rings.top_wanted").value == pytest.approx(0.305e-3, rel=0.01)
    empty = answered(Counting("two-stroke"))
    assert empty.answer("rings.top_wanted").value is None
    assert empty.answer("rings.top_wanted").needs


def test_a_gap_that_cannot_be_one_is_not_counted() -> None:
    """Nought here, or beyond a twentieth of the known bore, is told and left out."""
    made = planned(
        ("rings.top_gap", "0 thou"),
        ("rings.second_gap", "12 thou"),
        ("rings.second_known_gap", "100 thou"),
        ("rings.second_known_bore", "1.9 in"),
        until="rings",
    )
    codes = told_codes(made)
    assert {"not-counted-top-end-gap", "not-counted-second-gap-in-the-known-bore"} <= codes
    known = {one.id for one in made.answers()}
    assert "rings.top_share" not in known
    assert "rings.second_bore" not in known
    assert "rings.second_share" in known


def test_nothing_is_filed_to_a_gap_beyond_the_alarm() -> None:
    """A wanted 36 thou is said and not counted; near the alarm no filing is advised."""
    made = planned(("rings.second_gap", "18.5 thou"), ("rings.second_wanted", "36 thou"))
    assert "wanted-beyond-alarm-second" in told_codes(made)
    assert made.answer("rings.second_wanted").value < 20 * 25.4e-6
    near = planned(("rings.second_gap", "18.9 thou"), ("rings.second_wanted", "19.1 thou"))
    said = next(one for one in near.stages if one.key == "rings").advice
    assert near.answer("rings.second_file").value > 0.0
    assert any("file nothing off" in one for one in said)


def test_the_source_of_a_statement_stands_once(whole: Plan) -> None:
    """Its label names who says it; the figures stand alone."""
    says = next(one for one in whole.answers() if one.id.startswith("rings.top_says."))
    assert str(says.value).startswith("at least")
    assert ": " in says.label
    assert says.label.split(": ")[1] not in str(says.value)


def test_a_sleeve_that_runs_cold_ends_no_look() -> None:
    """A casting that is told to run as cold as the start is said; the rest is answered."""
    made = planned(("running.casting", "20 C"))
    assert "not-warm" in told_codes(made)
    known = {one.id for one in made.answers()}
    assert "warm.left" not in known
    assert made.answer("rings.top_share").value > 0.0


def test_a_gap_as_small_as_its_doubt_is_still_answered() -> None:
    """One thou by feeler may be none: out for the least, and no look ends by it."""
    made = planned(
        ("rings.top_gap", "1 thou"),
        ("rings.top_known_gap", "1 thou"),
        ("rings.top_known_bore", "2.402 in"),
        ("port/exhaust/found.width", "2.4 in"),
        until="rings",
    )
    assert verdict(made.answer("rings.top_over_least")) is Verdict.OUT
    assert made.answer("rings.top_share").doubt is not None
    assert made.answer("rings.top_file").value > 0.0
    assert all(one.id != "rings.window.exhaust.share" for one in made.answers())
    assert "exhaust" in str(made.answer("rings.not_placed").value)


def test_no_clearance_is_no_ground_for_a_share() -> None:
    """Nought wanted is said, and nothing is reckoned with it."""
    made = planned(("piston.diameter", "2.3992 in"), ("piston.clearance", "0 thou"),
                   without=("piston",))  # fmt: skip
    assert "no-clearance" in told_codes(made)
    assert all(one.id != "warm.left" for one in made.answers())


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        ("rings.peg/1/angle", "361 deg"),
        ("rings.peg/1/angle", "-5 deg"),
        ("piston.clearance", "-1 thou"),
        ("rings.top_gap", "-2 thou"),
    ],
)
def test_input_that_cannot_be_is_refused_with_its_field(cell: str, text: str) -> None:
    """Pegs go from 0 to 360 degrees; clearance and gap are never negative."""
    with pytest.raises(InputError) as refused:
        simple_job("two-stroke", until="intake").value(cell, text)
    said: Any = str(refused.value)
    assert text.split(maxsplit=1)[0].lstrip("-") in said
    assert "allowed" in said


def test_kind_is_read_only_where_one_is_named() -> None:
    """Words that name both, or neither, tell no kind."""
    assert [piston_kind(one) for one in ("cast", "FORGED 2", "cast or forged", "")] == [
        "cast", "forged", "", "",
    ]  # fmt: skip
