"""The plans of the demonstration jobs against the truths that their readings came from.

Source: the truths beside the examples, from which a seeded script drew every reading; none
of it is a measurement of a real part.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from sleevewright.planning.answers import Answer, Plan
from sleevewright.services.plans import plan_file

EXAMPLES = Path(__file__).parents[2] / "examples"
SIZES = [
    ("demo-air-175", "sleeve.od", "sleeve-od"),
    ("demo-air-175", "flange.od", "flange-od"),
    ("demo-air-175", "flange.thickness", "flange-thickness"),
    ("demo-air-175", "bore.size", "parent-bore"),
    ("demo-water", "sleeve.od", "sleeve-od"),
    ("demo-water", "flange.od", "flange-od"),
    ("demo-water", "flange.thickness", "flange-thickness"),
    ("demo-thin-iron", "sleeve.od", "sleeve-od"),
    ("demo-thin-iron", "flange.od", "flange-od"),
    ("demo-thin-iron", "flange.thickness", "flange-thickness"),
    ("demo-thin-iron", "bore.size", "parent-bore"),
]
FORMS = [
    ("demo-air-175", "sleeve.od", "sleeve-od"),
    ("demo-air-175", "bore", "parent-bore"),
    ("demo-water", "sleeve.od", "sleeve-od"),
    ("demo-thin-iron", "sleeve.od", "sleeve-od"),
    ("demo-thin-iron", "bore", "parent-bore"),
]


@cache
def planned(name: str) -> Plan:
    """The plan of one demonstration."""
    return plan_file(EXAMPLES / f"{name}.toml")


@cache
def truth(name: str) -> dict[str, Any]:
    """What really is."""
    text = (EXAMPLES / f"{name}.truth.json").read_text(encoding="utf-8")
    facts: dict[str, Any] = json.loads(text)
    return facts


def interval(answer: Answer) -> tuple[float, float]:
    """The 95 % interval of an answer, SI."""
    assert answer.doubt is not None
    assert answer.doubt.coverage == pytest.approx(0.95)
    return answer.doubt.low, answer.doubt.high


@pytest.mark.parametrize(("job", "answer", "feature"), SIZES)
def test_the_interval_of_a_size_holds_the_true_size(job: str, answer: str, feature: str) -> None:
    """The true mean diameter lies within, and the interval says something: under 1 in 2000."""
    low, high = interval(planned(job).answer(answer))
    mean = truth(job)["surfaces"][feature]["mean_mm"] * 1e-3
    assert low <= mean <= high
    assert high - low < max(mean / 2000.0, 12e-6)


@pytest.mark.parametrize("job", ["demo-air-175", "demo-thin-iron"])
def test_the_interval_of_the_fit_holds_the_true_fit(job: str) -> None:
    """True interference lies within; the shared setting of the gauges does not widen it."""
    plan = planned(job)
    low, high = interval(plan.answer("fit.cold"))
    assert low <= truth(job)["interference_um"] * 1e-6 <= high
    sleeve, bore = (interval(plan.answer(name)) for name in ("sleeve.od", "bore.size"))
    apart = ((sleeve[1] - sleeve[0]) ** 2 + (bore[1] - bore[0]) ** 2) ** 0.5
    assert high - low < apart


@pytest.mark.parametrize(("job", "answer", "feature"), FORMS)
def test_the_intervals_of_form_hold_the_true_form(job: str, answer: str, feature: str) -> None:
    """True taper and out-of-round, as a two-point gauge sees it, lie within."""
    facts = truth(job)["surfaces"][feature]
    for name, key in (("taper", "taper_um"), ("out_of_round", "out_of_round_um")):
        low, high = interval(planned(job).answer(f"{answer}.{name}"))
        assert low <= abs(facts[key]) * 1e-6 <= high, name


def test_the_fit_before_boring_is_the_chosen_one() -> None:
    """Not bored yet: what was chosen stands, and the target follows from the true sleeve."""
    plan = planned("demo-water")
    assert plan.answer("fit.cold").kind.value == "chosen"
    low, high = interval(plan.answer("bore.target"))
    sleeve = truth("demo-water")["surfaces"]["sleeve-od"]["mean_mm"] * 1e-3
    assert low <= sleeve - 90e-6 <= high


def test_both_mistakes_are_caught_where_they_are() -> None:
    """The whole turn and the warm reading are held, each for its own reason, and no other is."""
    plan = planned("demo-air-175")
    slips = truth("demo-air-175")["mistakes"]
    held = plan.answer("bore.size.held").value
    places = {(float(slip["station"]), float(slip["direction"])) for slip in slips}
    assert set(held) == places  # type: ignore[call-overload] # rows of two indices
    told = {caution.code: caution.text for caution in plan.cautions}
    assert {code for code in told if code.startswith("held-")} == {
        "held-whole-turn:bore.size",
        "held-warm-part:bore.size",
    }
    assert "1 whole turn" in told["held-whole-turn:bore.size"]


def test_the_warm_part_is_named_with_about_its_temperature() -> None:
    """A casting 31 degF warmer than stated: the caution says so within 5 degF.

    True: 40.0 degC against the stated 22.8 degC, 17.2 K; one thousandth of the reading
    stands on a doubt of a tenth of a thou, 2 K.
    """
    plan = planned("demo-air-175")
    text = next(one.text for one in plan.cautions if one.code == "held-warm-part:bore.size")
    rise = float(text.partition("A part ")[2].split()[0])
    assert rise == pytest.approx(17.2 * 1.8, abs=5.0)


@pytest.mark.parametrize("job", ["demo-water", "demo-thin-iron"])
def test_honest_readings_are_not_held(job: str) -> None:
    """Where no mistake was made, none is claimed."""
    assert not [one for one in planned(job).cautions if one.code.startswith("held-")]


def test_a_slip_beyond_the_limit_is_out() -> None:
    """Thin iron: the wanted slip needs more than the limit, and the plan says no."""
    plan = planned("demo-thin-iron")
    assert plan.answer("heat.feasible").value == "no"
    judged = plan.answer("heat.casting").judgement
    assert judged is not None
    assert judged.verdict.value == "out"
    most = plan.answer("heat.slip_at_limit").value
    wanted = plan.answer("heat.slip").value
    assert isinstance(most, float)
    assert isinstance(wanted, float)
    assert 0.0 < most < wanted
