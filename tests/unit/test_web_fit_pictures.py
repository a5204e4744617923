"""Pictures of the hot fit and of a thin wall: bands stand where they should, words say it."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from sleevewright.jobs.jobfile import read_job
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import with_stage
from sleevewright.planning.fit_hot import fit_hot
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Settings, Shop
from sleevewright.web.pictures.running_map import (
    BROAD,
    RunningPicture,
    StatePoint,
    running_map,
)
from sleevewright.web.pictures.thin_wall import ThinPicture, thin_wall
from sleevewright.web.stage.fit_pictures import fit_pictures

EXAMPLES = Path(__file__).parents[2] / "examples"
MAP = RunningPicture(
    unit="°C",
    casting=(0.0, 100.0),
    sleeve=(0.0, 100.0),
    fits=((0.0, 100.0), (-100.0, 0.0)),
    least=None,
    states=(StatePoint("Running", 50.0, 60.0, (10.0, 5.0)), StatePoint("Cold", 20.0, 20.0)),
    says="A made map.",
    band=(((0.0, -10.0), (100.0, 90.0)), ((0.0, 10.0), (100.0, 110.0))),
)


def paths(markup: str, name: str) -> list[list[tuple[float, float]]]:
    """Corners of each stroke of a look in the wide picture."""
    wide = ET.fromstring(f"<all>{markup}</all>")[0]  # noqa: S314 - our own markup
    return [
        [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", one.get("d", ""))]
        for one in wide.iter()
        if one.get("class") == name
    ]


def test_the_ring_is_as_wide_as_nineteen_in_twenty() -> None:
    """Half-axes are 2.448 standard deviations; a state without doubt has no ring."""
    rings = paths(running_map(MAP), "middle")
    assert len(rings) == 1
    across = [x for x, _ in rings[0]]
    high = [y for _, y in rings[0]]
    per_x, per_y = (BROAD.right - BROAD.left) / 100.0, (BROAD.bottom - BROAD.top) / 100.0
    assert max(across) - min(across) == pytest.approx(2 * 2.4477 * 10.0 * per_x, rel=2e-3)
    assert max(high) - min(high) == pytest.approx(2 * 2.4477 * 5.0 * per_y, rel=2e-3)


def test_the_band_is_cut_at_the_edges_of_the_sheet() -> None:
    """Both lines run to the edge where they leave the sheet, 10 degrees off the middle one."""
    lower, upper = paths(running_map(MAP), "thin")
    per_x = (BROAD.right - BROAD.left) / 100.0
    assert lower[0] == pytest.approx((BROAD.left + 10.0 * per_x, BROAD.bottom), abs=0.1)
    assert upper[-1] == pytest.approx((BROAD.right - 10.0 * per_x, BROAD.top), abs=0.1)


def test_this_casting_stands_in_its_band_between_two_strokes() -> None:
    """Its line is at its wall, hold rises to the right, pull falls, and words name both."""
    markup = thin_wall(
        ThinPicture("mm", "MPa", (3.0, 6.0, 18.0), (8.0, 10.0, 12.0), (60.0, 40.0, 20.0), 6.0,
                    (5.0, 7.0), "Made: what a wall does.")
    )  # fmt: skip
    holds, pulls = paths(markup, "wall")[0], paths(markup, "ahead")[0]
    assert [y for _, y in holds] == sorted((y for _, y in holds), reverse=True)
    assert [y for _, y in pulls] == sorted(y for _, y in pulls)
    (here,) = re.findall(r'class="middle" d="M([\d.]+)', markup.partition("</svg>")[0])
    assert float(here) == pytest.approx(holds[1][0], abs=0.1)
    assert "pulls the casting" in markup
    assert "this casting" in markup
    assert 'aria-label="Made: what a wall does."' in markup


@pytest.fixture(scope="module")
def water() -> Plan:
    """The water-cooled example with its hot fit."""
    text = (EXAMPLES / "demo-water.toml").read_text(encoding="utf-8")
    job = read_job(text, name="water")
    planned = plan(job, Shop(settings=Settings(budget_samples=5_000)))
    return with_stage(planned, fit_hot(planned, job))


def test_the_stage_fit_draws_both_and_no_other_does(water: Plan) -> None:
    """The map has its band lines and rings, the wall its sentence; other stages draw neither."""
    drawn = fit_pictures("fit", water)
    assert [one.title for one in drawn] == [
        "How tight over both temperatures",
        "What the casting's wall does",
    ]
    assert len(paths(str(drawn[0].picture), "thin")) == 2
    assert len(paths(str(drawn[0].picture), "middle")) == 2
    assert "right for holding and wrong for stress" in drawn[1].picture
    assert fit_pictures("heat", water) == ()
    assert fit_pictures("fit", None) == ()
