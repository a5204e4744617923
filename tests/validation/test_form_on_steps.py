"""Out-of-round of readings that fall on few steps of a coarse dial: what a step hides is counted.

Simulated parts whose true form is known, read to whole steps; fixed seeds.  A reading to a
step is anywhere within half of it (JCGM 100:2008, F.2.2.1).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from comparator_examples import THOU, text_of
from sleevewright.core.metrology.form import Range, form_doubt
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.jobs.jobfile import read_job
from sleevewright.planning.answers import Verdict
from sleevewright.planning.form import ONE_SIDED, bounds_of, judged_form
from sleevewright.planning.parent import parent_stage
from sleevewright.planning.records import records_of
from sleevewright.planning.shop import Settings, Shop
from sleevewright.planning.sleeve import sleeve_stage

FEW = Shop(Settings(budget_samples=2000, drop_samples=100))
STUDY = '\nrepeatability = "0.288 thou"\nrepeatability_freedom = "18"'
"""Repeats that were all equal: what a step hides is taken for the repeat."""


def held(lobe: float, scatter: float, *, knows_step: bool = True) -> float:
    """Share of 4,000 parts, read to steps of one, whose out-of-round lies within its bounds."""
    share = math.exp(-2.0 * math.pi**2 * scatter**2)
    reading = Repeatability(
        math.hypot(scatter, math.sqrt((1.0 - share**2) / 12.0)),
        math.inf,
        share / 12.0**0.5 if knows_step else 0.0,
    )
    stream = np.random.default_rng(17)
    angles = np.radians([0.0, 45.0, 90.0, 135.0])
    level = stream.uniform(-0.5, 0.5, (4_000, 1, 1))
    true = level + 0.5 * lobe * np.cos(2.0 * angles)
    read = np.round(true + scatter * stream.standard_normal((4_000, 3, 4)))
    spreads = np.ptp(read, axis=2).max(axis=1)
    inside = 0
    for spread in np.unique(spreads):
        bounds = form_doubt(
            float(spread),
            kind=Range.OUT_OF_ROUND,
            stations=3,
            directions=4,
            reading=reading,
        )
        inside += int((spreads == spread).sum()) * (bounds.low <= lobe <= bounds.high)
    return inside / spreads.size


@pytest.mark.parametrize("scatter", [0.02, 0.05, 0.15, 0.3, 0.5])
@pytest.mark.parametrize("lobe", [0.0, 0.2, 0.5, 0.8, 1.0, 1.5, 2.3])
def test_bounds_hold_whatever_part_of_a_step_the_oval_is(lobe: float, scatter: float) -> None:
    """At least 95 of 100 true amounts lie within the bounds, from round to two steps and more."""
    assert held(lobe, scatter) >= 0.95


def test_scatter_alone_does_not_say_what_a_step_hides() -> None:
    """Without the step an oval of half of it is missed by every interval."""
    assert held(0.5, 0.02, knows_step=False) < 0.05


@pytest.mark.parametrize("study", ["", STUDY])
def test_equal_readings_of_a_coarse_dial_do_not_make_a_bore_good(study: str) -> None:
    """A dial of 1 thou that shows the same everywhere cannot tell 0.5 thou out of round."""
    equal = ((-3.0,) * 4,) * 3
    gauge = f'set_from = "mic 2-3"\nresolution = "1 thou"{study}'
    text = text_of(inside=equal).replace('set_from = "mic 2-3"', gauge)
    told = records_of(read_job(text, name="t.toml"), FEW)
    parent = parent_stage(told.parent, sleeve_stage(told.sleeve))
    entries = {one.answer.id: one for one in parent.entries}
    found = entries["bore.out_of_round"].answer
    assert found.value == pytest.approx(0.0, abs=1e-15)
    assert found.doubt is not None
    assert found.doubt.high > 0.8 * THOU
    scatter = entries["bore.scatter"].point
    assert scatter.standard > 0.0
    used = entries["bore.size.used"].point
    bounds = bounds_of(0.0, Range.OUT_OF_ROUND, used, scatter, coverage=ONE_SIDED)
    assert judged_form(bounds, 0.5 * THOU, "").verdict is Verdict.TOO_CLOSE
