"""What would settle round and straight: places read more than once, or a finer gauge."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from benches import EXAMPLES
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry, Grid, Instrument, Job
from sleevewright.planning.answers import Judgement, Plan, SettlingWay, Verdict
from sleevewright.planning.athand import Gauging
from sleevewright.planning.beside import with_stage
from sleevewright.planning.document import plan_document
from sleevewright.planning.plan import plan
from sleevewright.planning.proofing import Frame, Gauged
from sleevewright.planning.proofs import with_form_judged
from sleevewright.planning.proofs_bores import PistonRead, finish
from sleevewright.planning.settling_form import with_form_ways
from sleevewright.planning.shop import Settings, Shop
from sleevewright.web.plan.viewer import Viewer

THOU = 25.4e-6
INCH = 0.0254
SHOP = Shop(Settings(budget_samples=2000, drop_samples=100))
STEP = Entry(0.1e-6, "0.1 um")


def gauge(name: str, scatter: float, kind: str = "dial-bore-gauge") -> Instrument:
    """A gauge that repeats to so many thou, known from very many readings."""
    return Instrument(
        name, kind, resolution=STEP, setting=Entry(1e-6, "1 um"),
        repeatability=Entry(scatter * THOU, "scatter"), repeatability_freedom=Entry(500.0, "500"),
    )  # fmt: skip


PLAIN, FINE = gauge("plain gauge", 0.1), gauge("fine gauge", 0.02)
THREE = gauge("three points", 0.02, "three-point-gauge")


@pytest.fixture(scope="module")
def demo() -> Job:
    """The worked air-cooled job."""
    return read_job((EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8"), name="demo")


def bore(feature: str, name: str, *, taper: float = 0.0, oval: float = 0.0) -> Grid:
    """A bore of three depths and four directions: so much taper and out-of-round, in thou.

    Sizes of the worked job's bores, and no scatter beyond form: what is known of the gauge
    is all that is.
    """
    middle = 2.5465 if feature == "parent-bore" else 2.4016
    turns = [math.pi * k / 4.0 for k in range(4)]
    rows = tuple(
        tuple(
            Entry(middle * INCH + (down * taper + 0.5 * oval * math.cos(2.0 * t)) * THOU, "read")
            for t in turns
        )
        for down in (-0.5, 0.1, 0.5)
    )
    return Grid(
        feature,
        name,
        stations=tuple(Entry(depth * INCH, f"{depth} in") for depth in (0.5, 1.7, 2.9)),
        directions=tuple(Entry(t, "angle") for t in turns),
        readings=rows,
    )


def told(job: Job, grid: Grid, *gauges: Instrument) -> Plan:
    """The plan with a bore read so and its form judged, as yet without ways."""
    if grid.feature == "parent-bore":
        grids = tuple(grid if one.feature == "parent-bore" else one for one in job.grids)
        job = replace(job, grids=grids, instruments=(*job.instruments, *gauges))
        return with_form_judged(Frame(plan(job, SHOP)))
    made = plan(job, SHOP)
    piston = PistonRead(Entry(2.3992 * INCH, "2.3992 in"), Entry(2.4 * THOU, "2.4 thou"))
    return with_stage(made, finish(Frame(made), Gauged(grid, gauges), piston))


def judged(made: Plan, name: str) -> Judgement:
    """The verdict on an answer."""
    found = made.answer(name).judgement
    assert found is not None
    return found


def settled(job: Job, grid: Grid, name: str, *gauges: Instrument) -> Judgement:
    """The verdict with its ways."""
    made = told(job, grid, *gauges)
    return judged(with_form_ways(made, {grid.feature: Gauging(grid, gauges)}), name)


CASES = [
    (feature, f"{stage}.{form}", {key: amount})
    for feature, stage in (("parent-bore", "bore"), ("finish-bore", "finish"))
    for form, key, amount in (("taper", "taper", 0.42), ("out_of_round", "oval", 0.38))
]


@pytest.mark.parametrize(("feature", "name", "shape"), CASES)
def test_so_many_readings_of_each_place_settle_it_and_one_less_does_not(
    demo: Job, feature: str, name: str, shape: dict[str, float]
) -> None:
    """Planned anew with what a mean of so many repeats to and the same form, it is good."""
    grid = bore(feature, "plain gauge", **shape)
    told_so = settled(demo, grid, name, PLAIN)
    assert told_so.verdict is Verdict.TOO_CLOSE
    way = told_so.ways[0]
    assert way.chance is None
    assert told_so.remedy == f"{way.words} would settle it if the figure stays as it is"
    times = way.readings // 12
    assert f"read {times} times and the mean told" in way.words
    for count, verdict in ((times, Verdict.GOOD), (times - 1, Verdict.TOO_CLOSE)):
        mean = gauge("plain gauge", 0.1 / math.sqrt(count))
        assert judged(told(demo, grid, mean), name).verdict is verdict, count


@pytest.mark.parametrize(("feature", "name", "shape"), CASES)
def test_a_gauge_that_scatters_less_settles_it(
    demo: Job, feature: str, name: str, shape: dict[str, float]
) -> None:
    """Planned anew with the gauge that is named and the same form, it is good."""
    grid = bore(feature, "plain gauge", **shape)
    ways = settled(demo, grid, name, PLAIN, FINE).ways
    way = next(one for one in ways if "fine gauge" in one.words)
    assert way.words.endswith("read anew with fine gauge, 12 readings")
    anew = told(demo, bore(feature, "fine gauge", **shape), PLAIN, FINE)
    assert anew.answer(name).value == pytest.approx(
        told(demo, grid, PLAIN).answer(name).value, abs=1e-12
    )
    assert judged(anew, name).verdict is Verdict.GOOD


def test_three_points_are_no_gauge_for_an_oval(demo: Job) -> None:
    """Named for the taper, never for the out-of-round that two points found."""
    for form, shape, is_named in (("taper", {"taper": 0.42}, True),
                                  ("out_of_round", {"oval": 0.38}, False)):  # fmt: skip
        grid = bore("parent-bore", "plain gauge", **shape)
        ways = settled(demo, grid, f"bore.{form}", PLAIN, THREE).ways
        assert any("three points" in one.words for one in ways) is is_named


def test_a_form_at_its_limit_is_for_somebody_to_decide(demo: Job) -> None:
    """Half a thou of half a thou: no gauge of the list and no number of readings tells."""
    grid = bore("parent-bore", "plain gauge", taper=0.5)
    found = settled(demo, grid, "bore.taper", PLAIN, FINE)
    assert found.ways == ()
    assert found.remedy == (
        "nothing at hand would settle it: decide, or take another cut, or hone it straight"
    )


def test_a_form_that_is_good_is_left_alone(demo: Job) -> None:
    """A verdict that stands asks for nothing; nor does a set that is not handed in."""
    grid = bore("parent-bore", "plain gauge", taper=0.1)
    made = told(demo, grid, PLAIN)
    assert with_form_ways(made, {"parent-bore": Gauging(grid, (PLAIN,))}) is made
    close = told(demo, bore("parent-bore", "plain gauge", taper=0.42), PLAIN)
    assert with_form_ways(close, {}) is close


def test_page_and_document_carry_a_way_without_a_chance(demo: Job) -> None:
    """No chance is made up where none was reckoned."""
    grid = bore("parent-bore", "plain gauge", taper=0.42)
    made = told(demo, grid, PLAIN)
    found = with_form_ways(made, {"parent-bore": Gauging(grid, (PLAIN,))})
    document = plan_document(found)
    leaves = [one for stage in document["stages"] for one in stage["answers"]]
    leaf = next(one for one in leaves if one["id"] == "bore.taper")
    assert leaf["judgement"]["ways"][0]["chance_1"] is None
    shown = Viewer(found, "inch").answer("bore.taper").verdict
    assert shown is not None
    assert shown.ways[0].chance == ""
    assert isinstance(judged(found, "bore.taper").ways[0], SettlingWay)
