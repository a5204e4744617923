"""Pictures: a value stands where its scale puts it, and every picture says its answer."""

from __future__ import annotations

import dataclasses
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

import pytest

from browser.sample_plan import sample_plan
from sleevewright.web.pictures.bore_map import MapPicture, MapRow, bore_map
from sleevewright.web.pictures.fit_bar import BROAD, FitPicture, FitRow, fit_bar
from sleevewright.web.pictures.ink import Drawing, Scale, figure_width, nice_step, plain
from sleevewright.web.pictures.oven import BROAD as OVEN
from sleevewright.web.pictures.oven import OvenPicture, TemperatureTick, oven_curve
from sleevewright.web.pictures.running_map import BROAD as RUNNING
from sleevewright.web.pictures.running_map import RunningPicture, StatePoint, running_map
from sleevewright.web.plan.fit_drawings import fit_picture
from sleevewright.web.plan.viewer import Viewer


def drawn(markup: str) -> list[ET.Element]:
    """The pictures in a markup, wide one first."""
    return list(ET.fromstring(f"<all>{markup}</all>"))  # noqa: S314 - our own markup


def of_class(picture: ET.Element, name: str) -> Iterator[ET.Element]:
    """Strokes of a picture whose class has this word."""
    return (one for one in picture.iter() if name in one.get("class", "").split())


def the_sample() -> FitPicture:
    """The fit of the sample plan."""
    picture = fit_picture(Viewer(sample_plan(), "inch"))
    assert picture is not None
    return picture


@pytest.mark.parametrize(
    ("span", "count", "step"), [(7.5, 8, 1.0), (10.0, 5, 2.0), (0.3, 4, 0.1), (130.0, 6, 50.0)]
)
def test_steps_of_a_scale_are_one_two_or_five(span: float, count: int, step: float) -> None:
    """A scale is cut at steps that a person counts in."""
    assert nice_step(span, count) == pytest.approx(step, rel=1e-12)


def test_a_scale_places_its_ends_and_its_middle() -> None:
    """Both ends and the middle of the values stand at both ends and the middle of the line."""
    scale = Scale(-2.0, 6.0, 100.0, 500.0)
    assert [scale.at(v) for v in (-2.0, 2.0, 6.0)] == [100.0, 300.0, 500.0]
    assert scale.kept(99.0) == 500.0
    assert scale.ticks(2.0) == (-2.0, 0.0, 2.0, 4.0, 6.0)


def test_ticks_have_a_true_minus_and_no_needless_digits() -> None:
    """The figures of a scale are as short as their step."""
    assert [plain(v) for v in (-1.0, 0.0, 0.5, 20.0)] == ["−1", "0", "0.5", "20"]
    assert plain(2.0, signed=True) == "+2"


def test_a_block_is_as_wide_as_its_doubt() -> None:
    """The running fit's block runs from 1.2 to 2.4 thou on the drawn scale."""
    picture = drawn(fit_bar(the_sample()))[0]
    block = list(of_class(picture, "gauge"))[1]
    ticks = {
        one.text: float(one.get("x", "0"))
        for one in picture.iter()
        if one.get("class", "") == "f t18 mid"
    }
    thou = ticks["1"] - ticks["0"]
    left, width = float(block.get("x", "0")), float(block.get("width", "0"))
    assert left == pytest.approx(ticks["0"] + 1.2 * thou, abs=0.2)
    assert width == pytest.approx(1.2 * thou, abs=0.2)


def test_too_close_to_call_is_an_open_block_across_the_limit() -> None:
    """The hard pull, whose doubt reaches over the least, is drawn open."""
    picture = drawn(fit_bar(the_sample()))[0]
    (block,) = of_class(picture, "open")
    stairs = list(of_class(picture, "dash"))[-1]
    x = float(re.findall(r"([\d.]+) [\d.]+", stairs.get("d", ""))[-1])
    left = float(block.get("x", "0"))
    assert left < x < left + float(block.get("width", "0"))


def test_the_fit_picture_says_its_answer_in_words() -> None:
    """The text alternative gives figures and verdicts, not shapes."""
    says = the_sample().says
    for words in (
        "Running 1.8 thou good",
        "Hard pull 1.1 thou too close to call",
        "7.1 thou of slip",
    ):
        assert words in says
    for picture in drawn(fit_bar(the_sample())):
        assert picture.get("aria-label") == says
        assert picture.get("role") == "img"


def test_a_straining_limit_far_away_does_not_squash_the_scale() -> None:
    """A limit many times the fit is left off, so that the fit can still be read."""
    near = drawn(fit_bar(the_sample()))[0]
    far = drawn(fit_bar(dataclasses.replace(the_sample(), limit=40.0)))[0]
    assert len(list(of_class(near, "dash"))) == 2
    assert len(list(of_class(far, "dash"))) == 1
    assert float(next(of_class(far, "gauge")).get("width", "0")) > 30.0


@pytest.mark.parametrize("value", [0.4, 2.0, 5.5, 8.8])
@pytest.mark.parametrize("verdict", ["good", "too close to call", "out", ""])
def test_words_of_the_fit_stay_inside_the_picture(value: float, verdict: str) -> None:
    """Wherever the block stands, figure and word stand inside the box and off the labels."""
    row = FitRow("Cold", "", value, value - 0.3, value + 0.3, f"{value:.1f}", verdict, 1.0)
    wide = FitRow("Running", "", 4.0, 0.0, 9.0, "4.0", "good")
    picture = drawn(fit_bar(FitPicture((row, wide), "thou", "says", limit=6.0)))[0]
    figure = next(one for one in of_class(picture, "t24") if one.text == row.figure)
    width = figure_width(row.figure, 24.0)
    x = float(figure.get("x", "0"))
    left = x - width if "end" in figure.get("class", "").split() else x
    assert left >= BROAD.left - 1.0
    assert left + width <= BROAD.width


def oven() -> OvenPicture:
    """A casting that reaches its slip of 5 at about 20 minutes."""
    minutes = (0.0, 10.0, 20.0, 30.0)
    return OvenPicture(
        unit="thou",
        temperature_unit="°F",
        minutes=minutes,
        likely=(-3.0, 2.0, 5.0, 6.0),
        low=(-3.0, 1.0, 4.0, 5.2),
        high=(-3.0, 3.0, 6.0, 7.0),
        says="Go at 5.0 thou, reached in about 20 minutes.",
        go=5.0,
        go_figure="+5.0",
        go_temperature="340",
        limit=7.5,
        limit_temperature="446",
        temperatures=(TemperatureTick(0.0, "180"), TemperatureTick(3.0, "270")),
    )


def test_the_oven_brackets_earliest_likely_and_latest() -> None:
    """The bracket on the go line stands at the minutes where the three lines pass it."""
    picture = drawn(oven_curve(oven()))[0]
    (bracket,) = of_class(picture, "bracket")
    at = [float(x) for x in re.findall(r"M([\d.]+) [\d.]+V", bracket.get("d", ""))]
    minute = (OVEN.right - OVEN.left) / 30.0
    wanted = [10.0 + 10.0 * 2.0 / 3.0, 20.0, 20.0 + 10.0 / 1.2]
    assert at == pytest.approx([OVEN.left + minute * m for m in wanted], abs=0.2)
    assert any(one.text == "20" for one in of_class(picture, "blue"))


def test_an_oven_that_never_gets_there_has_no_bracket() -> None:
    """Where no line passes the go line nothing claims that it is reached."""
    picture = drawn(oven_curve(dataclasses.replace(oven(), go=7.4)))[0]
    assert not list(of_class(picture, "bracket"))


def running(least: float | None = 1.0) -> RunningPicture:
    """A fit of 3 that loses 1 for each step of the casting and gains 1 for each of the sleeve."""
    steps = (0.0, 1.0, 2.0, 3.0, 4.0)
    fits = tuple(tuple(2.0 - casting + sleeve for sleeve in steps) for casting in steps)
    states = (StatePoint("Running", 2.0, 3.0),)
    return RunningPicture("°C", steps, steps, fits, least, states, "Running leaves 3.")


def test_the_running_map_parts_the_sheet_where_nothing_is_left() -> None:
    """The heavy stroke runs from edge to edge through the temperatures whose fit is zero."""
    picture = drawn(running_map(running()))[0]
    (wall,) = of_class(picture, "wall")
    points = [(float(x), float(y)) for x, y in re.findall(r"([\d.]+) ([\d.]+)", wall.get("d", ""))]
    along, up = (RUNNING.right - RUNNING.left) / 4.0, (RUNNING.bottom - RUNNING.top) / 4.0
    assert points[0] == pytest.approx((RUNNING.left + 2.0 * along, RUNNING.bottom), abs=0.1)
    assert points[-1] == pytest.approx((RUNNING.right, RUNNING.bottom - 2.0 * up), abs=0.1)
    assert len(list(of_class(picture, "dash"))) == 1
    (point,) = of_class(picture, "point")
    assert float(point.get("cx", "0")) == pytest.approx(RUNNING.left + 2.0 * along, abs=0.1)


def test_the_running_map_without_a_least_has_one_stroke() -> None:
    """Where nobody named a least none is drawn."""
    picture = drawn(running_map(running(least=None)))[0]
    assert not list(of_class(picture, "dash"))


def test_no_line_runs_where_nothing_was_read() -> None:
    """A gap in the readings is a gap in the trace, and each reading is a point twice round."""
    rows = (MapRow("0.40", (0.1, None, 0.3, 0.2)),)
    picture = MapPicture("bore", (0.0, 45.0, 90.0, 135.0), rows, "thou", "in", "says")
    wide = drawn(bore_map(picture))[0]
    assert len(list(of_class(wide, "point"))) == 7
    assert len(list(of_class(wide, "line"))) == 2


def test_hatchings_have_a_name_of_their_own_in_each_picture() -> None:
    """A hidden picture's hatching cannot be used, so no two pictures share one."""
    markup = fit_bar(the_sample()) + oven_curve(oven())
    names = re.findall(r'<pattern id="([^"]+)"', markup)
    assert len(names) == len(set(names))
    for name in re.findall(r"url\(#([^)]+)\)", markup):
        assert name in names


def test_words_put_into_a_picture_are_escaped() -> None:
    """A job's words cannot become marks of the picture."""
    drawing = Drawing("test", 10.0, 10.0, '<b>"says"</b>')
    drawing.text((0.0, 0.0), "<script>")
    (picture,) = drawn(drawing.svg())
    assert picture.get("aria-label") == '<b>"says"</b>'
    assert picture.findtext("text") == "<script>"
