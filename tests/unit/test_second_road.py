"""The doubt of a plan's sizes and fit by other roads, from the finished plan alone."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from sleevewright.planning.answers import Answer, Plan
from sleevewright.planning.second_road import read_by_reading
from sleevewright.services.plans import plan_file
from sleevewright.web.plan.viewer import Viewer

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def planned(name: str = "demo-air-175") -> Plan:
    """The plan of a demonstration."""
    return plan_file(EXAMPLES / f"{name}.toml")


def half(answer: Answer) -> float:
    """Half of the interval of an answer."""
    assert answer.doubt is not None
    return 0.5 * (answer.doubt.high - answer.doubt.low)


@pytest.mark.parametrize("name", ["demo-air-175", "demo-thin-iron"])
@pytest.mark.parametrize("identity", ["sleeve.od", "bore.size", "fit.cold"])
def test_every_reading_drawn_says_what_the_plan_says(name: str, identity: str) -> None:
    """Sampled reading by reading, doubt and interval are those of the sampled mean."""
    answer = planned(name).answer(identity)
    road = read_by_reading(planned(name), identity)
    assert road is not None
    assert answer.doubt is not None
    assert road.standard == pytest.approx(answer.doubt.standard, rel=0.03)
    assert 0.5 * (road.high - road.low) == pytest.approx(half(answer), rel=0.05)
    assert road.says == "agrees"


def test_the_fit_has_a_linear_budget_beside_it() -> None:
    """Adding squares gives the doubt of the fit within two per cent, and that is said."""
    doubt = planned().answer("fit.cold").doubt
    assert doubt is not None
    assert doubt.second is not None
    assert doubt.second.standard == pytest.approx(doubt.standard, rel=0.02)
    assert (doubt.second.says, doubt.second.source) == ("agrees", "jcgm-100")


@pytest.mark.parametrize(
    "identity", ["fit.pressure", "fit.wanted", "sleeve.od.taper", "sleeve.mass"]
)
def test_what_does_not_rest_on_readings_has_no_road_by_reading(identity: str) -> None:
    """Nothing is claimed of a number that is not a size or the cold fit."""
    assert read_by_reading(planned(), identity) is None


def test_a_doubt_that_is_wrong_is_found_out() -> None:
    """A plan that says half of its doubt differs from its own readings."""
    answer = planned().answer("sleeve.od")
    doubt = answer.doubt
    assert doubt is not None
    assert isinstance(answer.value, float)
    low = answer.value - 0.5 * half(answer)
    high = answer.value + 0.5 * half(answer)
    told = replace(doubt, standard=0.5 * doubt.standard, low=low, high=high)
    wrong = replace(answer, doubt=told)
    stages = tuple(
        replace(
            stage, answers=tuple(wrong if one.id == answer.id else one for one in stage.answers)
        )
        for stage in planned().stages
    )
    road = read_by_reading(replace(planned(), stages=tuple(stages), _index={}), answer.id)
    assert road is not None
    assert road.says == "differs"


def test_the_page_shows_both_roads_with_their_sources() -> None:
    """The opened fit names each road, its half-width in figures, and that it agrees."""
    basis = Viewer(planned(), "inch").basis(("fit.cold",), "/".join)
    assert [one.name for one in basis.roads] == ["adding squares", "reading by reading"]
    assert {one.figure for one in basis.roads} == {"0.3"}
    assert {one.says for one in basis.roads} == {"agrees to one digit"}
    assert [one.source.words for one in basis.roads] == ["jcgm-100", "jcgm-101"]
