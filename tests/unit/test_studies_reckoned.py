"""What a gauge study said, in the budgets of sizes: from the rings to a bore, and in job files."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from sleevewright.jobs.gauged import grid_of
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.studies import StudyFeature, StudyPlan
from sleevewright.planning.answers import Answer
from sleevewright.planning.gauges import repeat_doubt
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.demo import tell
from sleevewright.services.instruments import save_instrument, snapshot
from sleevewright.services.jobs import import_text, look, open_job
from sleevewright.services.people import add_person
from sleevewright.services.studies import accept_study, begin_study, result_of, study, tell_study

RINGS = (StudyFeature("small", "2.1 in"), StudyFeature("middle", "2.5 in"),
         StudyFeature("large", "2.9 in"))  # fmt: skip
PLAN = StudyPlan("bore gauge", RINGS, ("p1", "p2"), 3, "inch")


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with a gauge and two people."""
    opened = open_bench(tmp_path / "data")
    save_instrument(opened, {"name": "bore gauge", "kind": "dial-bore-gauge"})
    for name in ("Ann Example", "Bo Example"):
        add_person(opened, name)
    yield opened
    opened.close()


def begin_bore(bench: Bench, job: str, name: str) -> None:
    """A set of the parent bore with the gauge as it is now: 3 depths, 4 directions, 2.6 in."""
    body = {
        "record": "set", "stage": "parent", "feature": "parent-bore", "set": name, "cylinder": 1,
        "instrument": "bore gauge", "instruments": snapshot(bench, "bore gauge"),
        "nominal": "2.6000 in", "unit": "thou", "entry": "deviation",
        "stations": ["0.4 in", "1.3 in", "2.2 in"],
        "directions": ["0 deg", "45 deg", "90 deg", "135 deg"],
    }  # fmt: skip
    tell(bench, job, [body])
    rng = np.random.default_rng(9)
    cells = [f"set/{name}/{row}/{column}" for row in range(3) for column in range(4)]
    texts = [f"{0.5 + rng.normal(0.0, 0.05):+.2f}" for _ in cells]
    values = [
        {"cylinder": 1, "cell": cell, "text": text, "source": "keyed"}
        for cell, text in zip(cells, texts, strict=True)
    ]
    tell(bench, job, values)


def repeat_of(bench: Bench, job: str) -> Answer:
    """The repeatability in the budget of the parent bore."""
    plan = look(bench, job).plan
    assert plan is not None
    return plan.answer("bore.size.repeat")


def test_an_accepted_study_moves_the_doubt_of_a_size_and_no_older_one(bench: Bench) -> None:
    """From reading the rings to the budget of a bore: GUM's pooled figure, with its freedom.

    The set that was begun before keeps the preset of 0.1 thou worth 8 degrees of freedom;
    the one begun after has the study's. Both pool with the 7 degrees of freedom of the grid
    itself (JCGM 100, H.1.3.2): s^2 = (v1 s1^2 + v2 s2^2) / (v1 + v2), over 12 readings.
    """
    open_job(bench, "J-1", {"title": "invented barrel", "units": "inch", "invented": True})
    begin_bore(bench, "J-1", "before")
    before = repeat_of(bench, "J-1")
    begun = begin_study(bench, PLAN, lots=random.Random(11))  # noqa: S311 - an order
    rng = np.random.default_rng(3)
    for _ in begun.order:
        tell_study(bench, begun.id, f"{rng.normal(0.0, 0.4):+.1f}")
    accept_study(bench, begun.id, person="p1")
    assert repeat_of(bench, "J-1") == before, "what was read before stays as it was"
    begin_bore(bench, "J-1", "after")
    after = repeat_of(bench, "J-1")
    found = result_of(study(bench, begun.id)).repeatability
    # The preset is that of the gauge alone, a study is read to steps: its figure holds them.
    preset = (2.54e-6**2 + STEP**2 / 12.0) ** 0.5
    for answer, standard, freedom in ((before, preset, 8.0), (after, found.standard, 12.0)):
        assert answer.doubt is not None
        own = grid_scatter()
        pooled = (7.0 * own**2 + freedom * standard**2) / (7.0 + freedom)
        assert answer.doubt.standard == pytest.approx((pooled / 12.0) ** 0.5, rel=2e-3)
        assert answer.doubt.degrees_of_freedom == pytest.approx(7.0 + freedom)
    assert before.source == "the readings"
    assert after.source == f"the readings, and study G-1, {bench.now()[:10]}"


def grid_scatter() -> float:
    """What the readings of the bore scatter around three levels and one oval, by least squares."""
    rng = np.random.default_rng(9)
    read = np.array([float(f"{0.5 + rng.normal(0.0, 0.05):.2f}") for _ in range(12)])
    angle = np.tile(np.radians([0.0, 45.0, 90.0, 135.0]), 3)
    levels = np.kron(np.eye(3), np.ones((4, 1)))
    design = np.column_stack([levels, np.cos(2.0 * angle), np.sin(2.0 * angle)])
    left = np.linalg.lstsq(design, read, rcond=None)[1][0]
    return float((left / 7.0) ** 0.5 * 25.4e-6)


def test_two_readings_of_one_place_may_differ_by_what_the_study_says() -> None:
    """The page asks again beyond the shop's own figure: (2 (s^2 + step^2 / 12))^(1/2)."""
    wide = repeat_doubt(2.54e-6, 10e-6)
    assert wide == pytest.approx((2.0 * (10e-6**2 + 2.54e-6**2 / 12.0)) ** 0.5)
    assert wide > repeat_doubt(2.54e-6)


STEP = 2.54e-6
"""Step of the dial of the bore gauge."""

FILE = """
[job]
number = "J-9"
units = "inch"
invented = true

[[instrument]]
name = "bore gauge"
kind = "dial-bore-gauge"

[[grid]]
feature = "parent-bore"
instrument = "bore gauge"
nominal = "2.6000 in"
stations = ["0.4 in", "1.3 in"]
directions = ["0 deg", "90 deg"]
readings = [["+0.5", "+0.4"], ["+0.6", "+0.5"]]
repeatability = "1.8 µm"
repeatability_freedom = 18
repeatability_from = "study G-3, 2026-11-30"
"""


def test_a_job_file_carries_what_a_study_said(tmp_path: Path) -> None:
    """Told in a file, taken in as records, and reckoned with: the same three figures."""
    told = read_job(FILE, name="invented.toml").grids[0]
    bench = open_bench(tmp_path / "data")
    number = import_text(bench, FILE, name="invented.toml")
    seen = look(bench, number)
    grid = seen.living.job.grids[0]
    assert (grid.repeatability, grid.repeatability_from) == (
        told.repeatability,
        told.repeatability_from,
    )
    assert grid.repeatability_freedom is not None
    assert grid.repeatability_freedom.value == 18.0
    gauged = grid_of(seen.folded, "parent-bore")
    assert gauged is not None
    assert gauged.repeatability is not None
    assert gauged.repeatability.value == pytest.approx(1.8e-6)
    assert seen.plan is not None
    doubt = seen.plan.answer("bore.size.repeat").doubt
    assert doubt is not None
    # The grid of four readings has one degree of freedom of its own, and no scatter in it.
    assert doubt.degrees_of_freedom == 19.0
    assert doubt.standard == pytest.approx(1.8e-6 * (18.0 / 19.0) ** 0.5 / 2.0, rel=1e-6)
    bench.close()
