"""Colder sleeves: what they need, also of metals that shrink more than the casting grows."""

from dataclasses import replace
from pathlib import Path

import pytest

from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Settings, Shop
from sleevewright.services.jobfiles import load_job

EXAMPLES = Path(__file__).parents[2] / "examples"
QUICK = Shop(Settings(budget_samples=1_000, drop_samples=50))


@pytest.mark.parametrize("metal", ["nickel-iron", "aluminium-356"])
def test_a_sleeve_that_shrinks_by_more_than_any_casting_is_planned(metal: str) -> None:
    """A nickel-iron sleeve in an iron casting has a plan; the coldest chill is told in words."""
    told = load_job(EXAMPLES / "demo-water.toml")
    cold = replace(told.sleeve, material=metal)
    iron = replace(told.casting, material="grey-iron")
    whole = plan(replace(told, sleeve=cold, casting=iron), QUICK)
    assert isinstance(whole.answer("heat.casting").value, float)
    assert isinstance(whole.answer("heat.freezer_casting").value, float)
    heat = next(stage for stage in whole.stages if stage.key == "heat")
    words = "Sleeve from liquid nitrogen: so cold it is loose in the casting without any heat."
    assert words in heat.advice
    assert all(answer.id != "heat.nitrogen_casting" for answer in heat.answers)


def test_an_iron_sleeve_has_a_number_for_every_chill() -> None:
    """Nothing of that is said where each chill has its number."""
    whole = plan(load_job(EXAMPLES / "demo-thin-iron.toml"), QUICK)
    for key in ("freezer", "dry_ice", "nitrogen"):
        assert isinstance(whole.answer(f"heat.{key}_casting").value, float)
    heat = next(stage for stage in whole.stages if stage.key == "heat")
    assert not any("loose in the casting" in text for text in heat.advice)
