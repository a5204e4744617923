"""The section of flange and ledge: what it says, what it draws, when it is left out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sleevewright.jobs.jobfile import read_job
from sleevewright.planning.answers import Plan
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Settings, Shop
from sleevewright.web.plan.end_drawing import end_drawing
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.stage.ends import end_of

EXAMPLE = Path(__file__).parents[2] / "examples" / "demo-air-175.toml"
SHOP = Shop(Settings(budget_samples=2000, drop_samples=100))


def made(wish: str = "2.0 thou", system: str = "inch") -> Plan:
    """The plan of the worked job with another flange fit."""
    text = EXAMPLE.read_text(encoding="utf-8")
    text = text.replace('flange_wanted = "2.0 thou"', f'flange_wanted = "{wish}"')
    job = read_job(text, name="test")
    return plan(replace(job, units=system), SHOP)


@pytest.mark.parametrize(
    ("wish", "state"), [("2.0 thou", "loose after cooling"), ("4.5 thou", "works")]
)
def test_section_says_whether_the_flange_works(wish: str, state: str) -> None:
    """The text alternative tells all figures and the state; a loose flange is drawn with a gap."""
    shown = made(wish)
    picture = str(end_drawing(Viewer(shown, "inch")))
    assert f"The flange {state}." in picture
    assert "left to work" in picture
    assert picture.count("<svg") == 2
    # the face that presses is drawn heavy at body and flange, else at the body alone
    heavy = picture.count('class="bracket"') / 2 - 2
    assert heavy == (1 if state.startswith("loose") else 2)


def test_section_is_drawn_in_the_units_of_the_job() -> None:
    """A metric job has its figures in micrometres."""
    picture = str(end_drawing(Viewer(made(system="metric"), "metric")))
    assert "µm, diametral" in picture


def test_section_stands_at_fit_and_counterbore_alone() -> None:
    """Other stages have none, and without a plan there is none."""
    shown = made()
    assert [len(end_of(one, shown)) for one in ("fit", "counterbore", "heat")] == [1, 1, 0]
    assert end_of("fit", None) == ()


def test_without_the_flange_nothing_is_drawn() -> None:
    """A sleeve whose flange was not told has no section."""
    job = read_job(EXAMPLE.read_text(encoding="utf-8"), name="test")
    grids = tuple(one for one in job.grids if not one.feature.startswith("flange"))
    plain = replace(job.sleeve, flange_diameter=None, flange_thickness=None)
    bare = plan(replace(job, grids=grids, sleeve=plain), SHOP)
    assert end_drawing(Viewer(bare, "inch")) is None
