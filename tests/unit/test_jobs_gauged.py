"""Sets as grids in SI, with the gauges that they were read with."""

from __future__ import annotations

import pytest

from sleevewright.jobs.gauged import grid_of, instruments_of
from told_jobs import Teller

FINE = {"name": "g", "kind": "dial-bore-gauge", "setting": "0.2 thou"}
POOR = {"name": "g", "kind": "dial-bore-gauge", "setting": "2 thou"}


def test_readings_of_a_stage_are_judged_by_the_gauges_of_that_stage() -> None:
    """A bore gauged at the piston with a better gauge lends nothing to the hone."""
    job = Teller()
    job.grid("honed", "finish-bore", "hone", [["2.4020 in"]], instrument="g", instruments=[POOR])
    job.grid("bored", "finish-bore", "piston", [["2.4010 in"]], instrument="g", instruments=[FINE])
    grid = grid_of(job.folded, "finish-bore", stage="hone")
    assert grid is not None
    assert grid.readings[0][0] is not None
    assert grid.readings[0][0].value == pytest.approx(2.4020 * 0.0254)
    (gauge,) = instruments_of(job.folded, "finish-bore", stage="hone")
    assert gauge.setting is not None
    assert gauge.setting.text == "2 thou"
