"""The page of the chooser: places of its hand, strips, ruler, table and second wave."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from benches import EXAMPLES
from sleevewright.errors import InputError
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Quantity
from sleevewright.planning.chooser import Chooser, Curve
from sleevewright.planning.chooser_hand import MOST_PLACES, places_of_hand
from sleevewright.planning.chooser_marks import Mark, marks_of
from sleevewright.planning.chooser_seconds import SecondsWave
from sleevewright.planning.shown import BLANK, shown_answer
from sleevewright.services.fitting import choose_fit, fits_by_hand
from sleevewright.services.plans import load_job, plan_job
from sleevewright.web.choose.page import Where, choose_page, wave_view
from sleevewright.web.choose.views import curve_view, fits_of, groups_of, ruler_of
from sleevewright.web.pictures.fit_strip import Strip, fit_strip

THOU = 25.4e-6
HAND = re.compile(r'class="hand" d="M([\d.]+) ')


@pytest.fixture(scope="module")
def picture() -> Chooser:
    """The picture of a worked job at every place of its hand."""
    return fits_by_hand(load_job(EXAMPLES / "demo-air-175.toml"))


@pytest.mark.parametrize(
    ("reach", "system", "step"),
    [(8.3 * THOU, "inch", 0.1), (12.0 * THOU, "inch", 0.2), (90e-6, "metric", 1.0)],
)
def test_every_place_of_the_hand_is_told_exactly(reach: float, system: str, step: float) -> None:
    """A fit that the hand stands at is the figure that is shown, never a rounded one."""
    places = places_of_hand(reach, system=system)
    unit = THOU if system == "inch" else 1e-6
    counted = [place / unit / step for place in places]
    assert counted == pytest.approx(range(len(places)), abs=1e-9)
    assert len(places) <= MOST_PLACES + 1
    assert places[-1] <= reach < places[-1] + step * unit


@pytest.mark.parametrize(("size", "wanted"), [(2.64, 5.0), (2.64, 9.0), (1.4, 4.0), (3.1, 12.0)])
@pytest.mark.parametrize("system", ["inch", "metric"])
def test_no_fit_that_nobody_asked_for_is_refused(size: float, wanted: float, system: str) -> None:
    """The scale ends at half a per cent of the diameter at the latest, whatever is wanted."""
    told = load_job(EXAMPLES / "demo-air-175.toml")
    sleeve = replace(
        told.sleeve,
        outside_diameter=Entry(size * 25.4e-3, f"{size} in", "typed"),
        inside_diameter=Entry(0.86 * size * 25.4e-3, "invented", "typed"),
    )
    choice = replace(told.choice, wanted=Entry(wanted * THOU, f"{wanted} thou", "chosen"))
    job = replace(told, grids=(), units=system, sleeve=sleeve, choice=choice)
    for shown in (choose_fit(job), fits_by_hand(job)):
        assert len(shown.interferences) > 20
        assert shown.interferences[-1] <= 0.005 * size * 25.4e-3
        assert shown.interferences[-1] >= min(wanted * THOU, 0.0049 * size * 25.4e-3)


def test_figures_at_a_place_are_those_of_the_curve(picture: Chooser) -> None:
    """What the table says at a fit is the curve's own value there, in the unit of the job."""
    fits = fits_of(picture, "inch")
    curve = picture.curve("fit.close_up")
    assert curve is not None
    view = curve_view(picture, curve, fits, "inch")
    for at in (0, fits.at, len(fits.figures) - 1):
        assert float(view.places[at].figure) == pytest.approx(curve.central[at] / THOU, abs=0.051)
        assert float(fits.figures[at]) == pytest.approx(picture.interferences[at] / THOU, abs=1e-9)
    words = {place.word for place in view.places}
    assert words == {""}  # the close-up has no limit


def test_the_figure_where_the_fit_stands_is_the_plans_own() -> None:
    """Picture and plan say one figure of what holds, though its doubt is skew."""
    job = load_job(EXAMPLES / "demo-water.toml")
    seen, plan = fits_by_hand(job), plan_job(job)
    curve = seen.curve("fit.hold")
    assert curve is not None
    shown_at = curve_view(seen, curve, fits_of(seen, "metric"), "metric").now.figure
    assert shown_at == shown_answer(plan.answer("fit.hold"), system="metric").figure


def test_a_limit_brings_its_verdicts_and_its_words(picture: Chooser) -> None:
    """A curve with a limit says at every fit where it stands, and what the limit is."""
    curve = picture.curve("fit.running")
    assert curve is not None
    view = curve_view(picture, curve, fits_of(picture, "inch"), "inch")
    assert view.limit.startswith("at least 1.0 thou")
    assert [place.word for place in view.places] == [one.value for one in curve.verdicts]
    assert {"good", "out"} <= {place.word for place in view.places}


def test_every_curve_stands_once_among_the_groups(picture: Chooser) -> None:
    """No answer of the picture is left out of the page, and none stands twice."""
    shown = [one.id for group in groups_of(picture, "inch") for one in group.curves]
    assert sorted(shown) == sorted(one.id for one in picture.curves)


def test_all_hands_stand_in_line(picture: Chooser) -> None:
    """Ruler and strips share one scale: their hands have the same place in both drawings."""
    strips = [one.strip for group in groups_of(picture, "inch") for one in group.curves]
    hands = {tuple(HAND.findall(strip)) for strip in (*strips, ruler_of(picture, "inch", ()))}
    assert len(hands) == 1
    assert len(next(iter(hands))) == 2  # for a wide sheet and for a phone


def test_a_blank_is_no_figure_and_no_line_crosses_it(picture: Chooser) -> None:
    """Where an answer has no value the figure is a dash, and its line stops and begins anew."""
    curve = picture.curve("fit.close_up")
    assert curve is not None
    gap = tuple(math.nan if 10 <= at < 20 else one for at, one in enumerate(curve.middle))
    blank = replace(curve, middle=gap, central=gap)
    view = curve_view(picture, blank, fits_of(picture, "inch"), "inch")
    assert view.places[15].figure == BLANK
    assert view.places[9].figure != BLANK
    assert view.strip.count('class="line"') == 2 * 2


def test_a_strip_without_any_value_is_drawn_empty() -> None:
    """An answer that is known nowhere leaves its strip blank instead of ending the page."""
    none = (math.nan, math.nan)
    drawn = fit_strip(Strip("none", (0.0, 1.0), none, none, none, "nothing is known"), 0.0)
    assert 'class="line"' not in drawn
    assert "nothing is known" in drawn


def test_a_range_that_nobody_ends_goes_on_to_the_end_of_the_scale(picture: Chooser) -> None:
    """An advice of *at least* is drawn to the end; its words stand in the text alternative."""
    last = picture.interferences[-1] / THOU
    drawn = ruler_of(picture, "inch", (Mark("a least, invented", 3.0 * THOU, None),))
    assert f"a least, invented, 3.0 to {last:.1f} thou" in drawn


def test_the_range_in_which_all_is_good_comes_first(picture: Chooser) -> None:
    """The first mark is what this picture says itself; the sources come after it."""
    job = load_job(EXAMPLES / "demo-air-175.toml")
    told = marks_of(plan_job(job), job, picture)
    assert [one.is_ours for one in told.marks[:2]] == [True, False]
    assert told.says[0].startswith("All is good from")
    assert all("safe" not in text for text in told.says)


def test_a_taken_fit_replaces_the_one_in_the_address() -> None:
    """An address that carries a fit already carries the new one, once."""
    where = Where("invented", "/trial?fit-wanted=3+thou&units=inch", "fit-wanted", "/seconds")
    assert where.taking("3.6 thou") == "/trial?units=inch&fit-wanted=3.6+thou"


def test_a_page_without_a_sleeve_names_what_it_wants() -> None:
    """Too little was told for a picture: no fit, no strip, but what is missing."""
    job = load_job(EXAMPLES / "demo-air-175.toml")
    bare = replace(
        job, sleeve=replace(job.sleeve, outside_diameter=None), grids=(), choice=type(job.choice)()
    )
    shown = choose_page(Where("invented", "/", "take", "/"), bare, None, fits_by_hand(bare))
    assert shown.fits is None
    assert shown.needs


def test_seconds_tell_their_counting_error_and_their_caution(picture: Chooser) -> None:
    """The second wave says how many drops it counted and that no measured drop stands behind."""
    count = len(picture.interferences)
    wave = SecondsWave(
        interferences=picture.interferences,
        low=(4.0,) * count,
        middle=(12.0,) * count,
        high=(math.nan,) * count,
        low_error=(0.3,) * count,
        reckoned=picture.interferences[:9],
        drops=200,
        heat="as invented",
        horizon=120.0,
        cautions=(),
    )
    view = wave_view(picture, wave, "inch")
    assert view.notes[0].startswith("200 drops at 9 fits")
    assert "by counting" in view.notes[0]
    assert view.curves[0].now.band == f"4 to {BLANK}"


def test_an_interference_beyond_belief_is_refused_with_both_readings() -> None:
    """Half a per cent of the diameter: thou of an inch or hundredths of a millimetre is asked."""
    job = load_job(EXAMPLES / "demo-air-175.toml")
    wild = replace(job, choice=replace(job.choice, wanted=Entry(1e-3, "1 mm", "chosen")))
    with pytest.raises(InputError, match="hundredths"):
        fits_by_hand(wild)


def test_curves_of_an_iron_casting_have_no_grip() -> None:
    """Iron in iron never lets go by a common heat: there is no such strip, and it is said."""
    picture = fits_by_hand(load_job(EXAMPLES / "demo-thin-iron.toml"))
    assert picture.curve("fit.grip") is None
    assert any("no temperature" in one.text for one in picture.cautions)
    assert Quantity.TEMPERATURE in {one.quantity for one in picture.curves}


def test_a_curve_without_doubt_has_no_band(picture: Chooser) -> None:
    """Where P5 and P95 are one value no band is told."""
    curve = picture.curve("fit.close_up")
    assert isinstance(curve, Curve)
    flat = replace(curve, low=curve.middle, high=curve.middle)
    view = curve_view(picture, flat, fits_of(picture, "inch"), "inch")
    assert view.now.band == ""
