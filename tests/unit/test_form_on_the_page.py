"""Form in the plan and on the pages: words, verdicts, best centre, polar plots."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from benches import EXAMPLES
from sleevewright.core.metrology.form import Range
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Engine, Entry, Grid, Instrument, Job, Port
from sleevewright.planning.answers import Answer, Plan, StageAnswers, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.form import bounds_of, judged_form
from sleevewright.planning.found import Swept, as_found
from sleevewright.planning.plan import plan
from sleevewright.planning.proofing import Frame, Gauged
from sleevewright.planning.proofs import parent_form
from sleevewright.planning.shop import Settings, Shop
from sleevewright.web.pictures.polar import (
    RADIUS,
    REACH,
    PolarPicture,
    PolarStation,
    largest_of,
    place,
    polar_plot,
)
from sleevewright.web.stage.rounds import ROUND_TITLE, WEAR_TITLE, rounds_of

UM = 1e-6
NOMINAL = 0.058
DEPTHS = (0.012, 0.022, 0.052, 0.070)
FOUR = tuple(math.radians(a) for a in (0, 45, 90, 135))
EIGHT = tuple(math.radians(45 * k) for k in range(8))
Shape = Callable[[int, float], float | None]


@pytest.fixture(scope="module")
def made() -> Plan:
    """The plan of the worked job, on few samples."""
    text = Path(EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8")
    return plan(read_job(text, name="demo"), Shop(Settings(budget_samples=2000, drop_samples=100)))


def grid(
    feature: str, angles: tuple[float, ...], shape: Shape, *, over: float = 0.0, by: str = "gauge"
) -> Grid:
    """Readings in microns over a size, with a little scatter of a fixed seed."""
    stream = np.random.default_rng(12)

    def cell(row: int, angle: float) -> Entry | None:
        value = shape(row, angle)
        noise = float(stream.normal())
        return None if value is None else Entry(over + UM * (value + noise), "read", "measured")

    return Grid(
        feature,
        instrument=by,
        stations=tuple(Entry(one, "depth") for one in DEPTHS),
        directions=tuple(Entry(one, "angle") for one in angles),
        readings=tuple(tuple(cell(row, a) for a in angles) for row in range(len(DEPTHS))),
    )


def worn(row: int, angle: float) -> float:
    """Widest in the middle, oval towards 80 degrees."""
    return (5.0, 31.0, 43.0, 5.0)[row] + 15.0 * math.cos(2.0 * (angle - math.radians(80.0)))


def wall(row: int, angle: float) -> float:
    """Pushed in less where the wall is worn, most of all towards 90 degrees."""
    return 0.0 if row == 0 else -(20.0 + 30.0 * max(0.0, math.cos(angle - 0.5 * math.pi)))


def the_job(shape: Shape = worn, *, kind: str = "", ports: tuple[Port, ...] = ()) -> Job:
    """A job with a worn bore of 58 mm."""
    return Job(
        units="metric",
        engine=Engine(bore=Entry(NOMINAL, "58 mm")),
        ports=ports,
        instruments=(Instrument("gauge", kind),) if kind else (),
        grids=(grid("as-found-bore", FOUR, shape, over=NOMINAL),),
    )


def swept(shape: Shape = wall) -> Swept:
    """The wall as swept, the first depth not worn."""
    return Swept(Gauged(grid("found-wear", EIGHT, shape, by="indicator")), Entry(NOMINAL, "58 mm"))


def said(stage: StageAnswers) -> dict[str, Answer]:
    """The answers of a stage by name."""
    return {one.id: one for one in stage.answers}


def number(stage: dict[str, Answer], name: str) -> float:
    """The figure of an answer."""
    value = stage[name].value
    assert isinstance(value, float)
    return value


def test_a_worn_bore_is_told_by_shape_and_oval(made: Plan) -> None:
    """Barrel by about 45 um at mid-height, oval by about 30 um, widest near 80 degrees."""
    found = said(as_found(made, the_job(), score=None))
    assert str(found["found.shape"].value).startswith("barrel, widest at mid-height")
    assert found["found.shape_1"].label == "As found, barrel, widest at mid-height"
    doubt = found["found.shape_1"].doubt
    assert doubt is not None
    assert doubt.low < number(found, "found.shape_1") < doubt.high
    assert str(found["found.round"].value).startswith("oval, widest at ")
    assert number(found, "found.oval") == pytest.approx(30.0 * UM, abs=3.0 * UM)
    assert "% could be scatter" in found["found.taper"].of


def test_a_step_beside_a_port_is_named_by_the_port(made: Plan) -> None:
    """Thirty microns wider below the exhaust: the port map gives the step its name."""
    ports = (Port("exhaust", Entry(0.030, "30 mm"), Entry(0.045, "45 mm")), Port("boost"))
    job = the_job(lambda row, _: 0.0 if row < 2 else 30.0, ports=ports)
    found = said(as_found(made, job, score=None))
    assert str(found["found.shape"].value).startswith("step at the exhaust port, wider below it")


def test_lands_that_share_no_direction_are_cautioned(made: Plan) -> None:
    """No shape is told, and the page says which reading would help."""

    def lands(row: int, angle: float) -> float | None:
        return 0.0 if (angle < 1.0) == (row % 2 == 0) else None

    stage = as_found(made, the_job(lands), score=None)
    assert "found.shape" not in said(stage)
    assert any("Read one direction at several depths" in one.text for one in stage.cautions)


def test_depths_with_too_few_lands_are_counted(made: Plan) -> None:
    """Two of four depths have two lands: the oval is of the others, and it says so."""

    def lands(row: int, angle: float) -> float | None:
        return worn(row, angle) if row in (0, 3) or angle > 1.0 else None

    found = said(as_found(made, the_job(lands), score=None))
    assert found["found.round"].of == "2 of the depths read in too few directions for it"


def test_a_gauge_of_three_points_is_not_asked_for_an_oval(made: Plan) -> None:
    """Its readings are taken for three lobes, and the words say that an oval is not seen."""
    found = said(as_found(made, the_job(kind="three-point-gauge"), score=None))
    assert str(found["found.round"].value).endswith("an oval is not seen")
    assert found["found.oval"].label == "As found, three lobes"


def test_both_centres_are_shown_with_the_move_between(made: Plan) -> None:
    """Worn 20 all round and 50 at 90 degrees: the best centre is there, the table goes to 270."""
    found = said(as_found(made, the_job(), score=Entry(60 * UM, "60 um"), swept=swept()))
    best, centred = number(found, "found.best_clean_up"), number(found, "found.centred_clean_up")
    allowance = number(found, "found.allowance")
    assert centred - 120 * UM - allowance - NOMINAL == pytest.approx(100.0 * UM, abs=8.0 * UM)
    assert centred - best == pytest.approx(30.0 * UM, abs=8.0 * UM)
    assert number(found, "found.move_y") < -8.0 * UM
    assert abs(number(found, "found.move_x")) < 5.0 * UM
    assert found["found.best_clean_up"].doubt is not None
    assert found["found.move_y"].sense == "of travel"
    assert found["found.move_y"].label.endswith("towards 90°")
    assert found["found.move_y"].of.endswith("minus is towards 270°")
    assert found["found.move_x"].label.endswith("towards 0°")


def test_diameters_alone_bound_the_clean_up(made: Plan) -> None:
    """The side of the wear is not known: from the largest to its wear once more, and the cure."""
    found = said(as_found(made, the_job(), score=None))
    low, high = number(found, "found.clean_up"), number(found, "found.one_side")
    assert high - low == pytest.approx(number(found, "found.wear"), abs=1e-9)
    assert "sweep the wall" in found["found.one_side"].would_change
    assert "found.best_clean_up" not in found


def test_a_sweep_that_leaves_half_of_the_wall_out_gives_no_centre(made: Plan) -> None:
    """A caution with the reason; the bore as gauged is answered all the same."""
    half = swept(lambda row, angle: wall(row, angle) if angle < 3.0 else None)
    stage = as_found(made, the_job(), score=None, swept=half)
    assert "found.best_clean_up" not in said(stage)
    assert any("gap of a sweep" in one.text for one in stage.cautions)
    assert said(stage)["found.clean_up"].value is not None


def test_swept_alone_is_enough_for_a_centre(made: Plan) -> None:
    """Without a bore gauged the sweep still answers; without any size it waits."""
    bare = Job(engine=Engine(bore=Entry(NOMINAL, "58 mm")))
    assert "found.best_clean_up" in said(as_found(made, bare, score=None, swept=swept()))
    unknown = Swept(swept().gauged)
    assert "found.best_clean_up" not in said(as_found(made, Job(), score=None, swept=unknown))


@pytest.mark.parametrize(
    ("spread", "verdict"), [(6.0, Verdict.GOOD), (12.0, Verdict.TOO_CLOSE), (26.0, Verdict.OUT)]
)
def test_form_is_judged_by_its_own_bounds(spread: float, verdict: Verdict) -> None:
    """Limit 12.7 um, scatter 2 um, 4 by 4: what scatter alone shows is taken off before *out*."""
    used = GridReadings(np.array(DEPTHS), np.array(FOUR), np.zeros((4, 4)) + NOMINAL)
    scatter = Repeatability(2.0 * UM, 17.0)
    bounds = bounds_of(spread * UM, Range.OUT_OF_ROUND, used, scatter, coverage=0.90)
    told = judged_form(bounds, 12.7 * UM, "hone it round")
    assert told.verdict is verdict
    assert (told.remedy == "") == (verdict is Verdict.GOOD)


def test_a_round_bore_is_seldom_out_whatever_its_scatter() -> None:
    """Scatter as large as the limit: a plain guard band calls one in three out, this one 5 %."""
    stream = np.random.default_rng(2)
    used = GridReadings(np.array(DEPTHS), np.array(FOUR), np.zeros((4, 4)) + NOMINAL)
    limit = 12.7 * UM
    scatter = Repeatability(limit, 1e6)
    spreads = np.ptp(limit * stream.standard_normal((2000, 4, 4)), axis=2).max(axis=1)
    bounds = bounds_of(0.0, Range.OUT_OF_ROUND, used, scatter, coverage=0.90)
    noise = bounds_of(1.0, Range.OUT_OF_ROUND, used, scatter, coverage=0.90)
    out = float(np.mean(spreads - (1.0 - noise.low) > limit))
    before = float(np.mean(spreads - 1.645 * bounds.standard > limit))
    assert out <= 0.05
    assert before > 0.30


def test_two_gauges_beside_each_other_show_odd_lobes(made: Plan) -> None:
    """Three points 40 um below two: at least 40 um on radius, and what to do; 1 um: nothing."""
    size = made.answer("bore.size").value
    assert isinstance(size, float)
    for below, advised in ((40.0, True), (1.0, False)):
        stage = parent_form(Frame(made), Entry(size - below * UM, "keyed", "measured"))
        lobes = said(stage)["bore.odd_lobes"]
        assert lobes.value == pytest.approx(below * UM, abs=1e-9)
        assert lobes.sense == "radial"
        assert any("odd lobes" in text for text in stage.advice) == advised
    assert "bore.odd_lobes" not in said(parent_form(Frame(made)))


def test_pages_draw_each_depth_and_the_best_bore(made: Plan) -> None:
    """As found shows both pictures, each saying its answer; the sleeve shows its outside."""
    whole = with_stage(made, as_found(made, the_job(), score=None, swept=swept()))
    titles = [one.title for one in rounds_of("found", whole)]
    assert titles == [ROUND_TITLE, WEAR_TITLE]
    assert all(one.is_last for one in rounds_of("found", whole))
    assert 'aria-label="As found, round: oval, widest at' in str(
        rounds_of("found", whole)[0].picture
    )
    assert rounds_of("sleeve", whole)
    assert rounds_of("fit", whole) == ()
    assert rounds_of("found", made) == ()
    assert rounds_of("found", None) == ()


def drawn(picture: PolarPicture) -> list[ET.Element]:
    """The pictures of a markup, wide one first."""
    return list(ET.fromstring(f"<all>{polar_plot(picture)}</all>"))  # noqa: S314 - our own markup


def test_a_reading_between_two_points_stands_twice() -> None:
    """Half a turn apart; between three points thrice; for a wall once. Slim and broad alike."""
    for contacts in (1, 2, 3):
        stations = (PolarStation("12", ((0.0, 5.0), (45.0, -5.0)), (0.0, 3.0, 0.0), has_axis=True),)
        for one in drawn(PolarPicture("p", stations, "um", "mm", "says", contacts)):
            points = [each for each in one.iter() if each.get("class") == "point"]
            assert len(points) == 2 * contacts
            assert one.get("aria-label") == "says"


def test_the_largest_reading_stands_at_full_reach() -> None:
    """A value of the size of the largest lies RADIUS + REACH out, upwards at 90 degrees."""
    station = PolarStation("12", ((90.0, 8.0),), None)
    picture = PolarPicture("p", (station,), "um", "mm", "says")
    assert largest_of(picture) == 8.0
    assert place((100.0, 100.0), 90.0, 1.0) == pytest.approx((100.0, 100.0 - RADIUS - REACH))
    empty = PolarPicture("p", (PolarStation("12", ()),), "um", "mm", "says")
    assert "not read yet" in polar_plot(empty)


def test_a_sweep_that_begins_in_the_wear_gives_no_centre(made: Plan) -> None:
    """No bore smaller than the largest diameter that was gauged cleans up: said, not shown."""
    begun = swept(lambda row, _: 0.0 if row == 0 else -5.0)
    stage = as_found(made, the_job(), score=None, swept=begun)
    assert "found.best_clean_up" not in said(stage)
    assert any("the first depth of the sweep is worn" in one.text for one in stage.cautions)
