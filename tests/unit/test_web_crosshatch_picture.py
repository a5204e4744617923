"""The crosshatch on the unrolled wall: the angle that is drawn is the angle that is computed."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest

from sleevewright.core.cutting.crosshatch import included_angle
from sleevewright.core.cutting.strokes import angle_along
from sleevewright.jobs.catalog_hatch import EVEN
from sleevewright.jobs.model import Entry
from sleevewright.planning.beside import with_stage
from sleevewright.planning.crosshatch import Hatch, HonedWall, PortWindow, crosshatch_stage
from sleevewright.services.plans import plan_file
from sleevewright.web.pictures.crosshatch import HALF, HatchPicture, Window, crosshatch, paths
from sleevewright.web.plan.crosshatch_drawing import hatch_drawing
from sleevewright.web.plan.viewer import Viewer

BORE, STROKE, TURNS, CYCLES = 0.066, 0.070, 2.5, 1.45
MEAN = float(included_angle(bore=BORE, turns=TURNS, stroke=STROKE, cycles=CYCLES))


def picture(*, is_even: bool, **more: object) -> HatchPicture:
    """A bore of 66 mm in millimetres."""
    marked = MEAN if is_even else float(angle_along(MEAN, 0.0))
    told = HatchPicture(
        math.pi * BORE * 1e3, 95.0, STROKE * 1e3, TURNS / CYCLES, marked, is_even, 4, "mm", "says"
    )
    return replace(told, **more)


def strokes(svg: ET.Element, word: str) -> list[list[tuple[float, float]]]:
    """Points of every stroke whose class has a word."""
    return [
        [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", one.get("d", ""))]
        for one in svg.iter()
        if word in one.get("class", "").split()
    ]


def drawn(told: HatchPicture) -> list[ET.Element]:
    """Both pictures, the wide one first."""
    return list(ET.fromstring(f"<all>{crosshatch(told)}</all>"))  # noqa: S314 - our own markup


def lean(first: tuple[float, float], last: tuple[float, float]) -> float:
    """Angle of a stroke from across the bore, in degrees."""
    return math.degrees(math.atan2(abs(last[1] - first[1]), abs(last[0] - first[0])))


@pytest.mark.parametrize("is_even", [True, False])
def test_marked_lines_cross_at_the_computed_angle(is_even: bool) -> None:
    """To 0.1 degree, on the wide sheet and on the phone; each line leans half of it."""
    told = picture(is_even=is_even)
    for svg in drawn(told):
        marks = strokes(svg, "crossing")
        assert len(marks) == 2
        included = sum(lean(*one) for one in marks)
        assert included == pytest.approx(math.degrees(told.marked), abs=0.1)


def test_an_even_feed_is_drawn_as_straight_lines_of_the_computed_angle() -> None:
    """From reversal to reversal every piece of the path leans half the included angle."""
    for svg in drawn(picture(is_even=True)):
        for way in strokes(svg, "grit"):
            xs = [lean(a, b) for a, b in itertools.pairwise(way) if abs(b[0] - a[0]) > 3.0]
            assert xs
            assert sum(xs) / len(xs) == pytest.approx(math.degrees(MEAN) / 2.0, abs=0.1)


def test_a_crank_stroke_is_steep_in_the_middle_and_flat_at_its_ends() -> None:
    """Each piece leans as the formula says for its place along the stroke."""
    told = picture(is_even=False, cycles=1, ratio=0.9, round_bore=300.0)
    mean = 2.0 * math.atan(2.0 * told.stroke / (told.round_bore * told.ratio))
    (way,) = paths(told)
    for step, (first, last) in enumerate(itertools.pairwise(way)):
        place = math.cos(math.pi * (step + 0.5) / HALF)
        made = math.degrees(float(angle_along(mean, place))) / 2.0
        assert lean(first, last) == pytest.approx(made, abs=0.1)


def test_paths_are_cut_at_the_seam_and_go_on_at_its_other_side() -> None:
    """What leaves at the right comes in at the left, at the same depth."""
    ways = paths(picture(is_even=False))
    assert len(ways) == math.ceil(4 * TURNS / CYCLES)
    for before, after in itertools.pairwise(ways):
        assert before[-1][0] == pytest.approx(math.pi * BORE * 1e3)
        assert after[0] == (0.0, before[-1][1])


def test_both_conventions_and_the_ports_stand_on_the_drawing() -> None:
    """Included and about the axis in figures; a window has its name."""
    window = Window("exhaust", 40.0, 60.0, 38.0, 0.5)
    markup = str(crosshatch(picture(is_even=True, windows=(window,))))
    assert f"{math.degrees(MEAN):.1f}° included, toward the circumference" in markup
    assert f"{180.0 - math.degrees(MEAN):.1f}° about the axis" in markup
    assert markup.count(">exhaust</text>") == 2


def test_a_stroke_longer_than_the_wall_is_drawn_beyond_its_ends() -> None:
    """The dashed reversals lie outside of the wall's frame and inside of the drawing."""
    for svg in drawn(picture(is_even=True, stroke=110.0)):
        height = float(svg.get("viewBox", "").split()[3])
        ends = [float(one.get("d", "").split()[1].partition("H")[0]) for one in svg.iter()
                if one.get("class") == "dash"]  # fmt: skip
        frame = next(one for one in svg.iter() if one.get("class") == "fillsunk")
        top, tall = float(frame.get("y", "")), float(frame.get("height", ""))
        assert 0.0 < min(ends) < top
        assert top + tall < max(ends) < height


def test_the_answers_of_a_stage_make_the_picture(root: Path) -> None:
    """Drawn where bore, stroke, spindle and cycles are known; not where one is missing."""
    plan = plan_file(root / "examples" / "demo-water.toml")
    windows = (PortWindow("exhaust", 0.03, 0.05, 0.04),)
    told = Hatch(
        "hone", "Hone", "hatch", ("finish.bore",), TURNS, CYCLES, Entry(STROKE, "70 mm"), EVEN,
        wall=HonedWall(0.095, is_even=True, windows=windows),
    )  # fmt: skip
    whole = with_stage(plan, crosshatch_stage(plan, told))
    markup = str(hatch_drawing(Viewer(whole, "metric"), whole.answer("hatch.included")))
    angle = math.degrees(whole.answer("hatch.included").value)
    assert f"Lines cross at {angle:.1f} degrees included at an even feed" in markup
    assert "exhaust" in markup
    part = with_stage(plan, crosshatch_stage(plan, replace(told, stroke=None)))
    assert hatch_drawing(Viewer(part, "metric"), part.answer("hatch.included")) is None


def test_the_marked_crossing_lies_on_a_line() -> None:
    """One heavy line lies on a line that is drawn: its middle is where a grit passes."""
    told = picture(is_even=True)
    for svg in drawn(told):
        first, last = strokes(svg, "crossing")[0]
        middle = ((first[0] + last[0]) / 2.0, (first[1] + last[1]) / 2.0)
        off = min(
            abs((b[0] - a[0]) * (a[1] - middle[1]) - (a[0] - middle[0]) * (b[1] - a[1]))
            / math.dist(a, b)
            for way in strokes(svg, "grit")
            for a, b in itertools.pairwise(way)
            if math.dist(a, b) > 0.5 and min(a[0], b[0]) - 1 <= middle[0] <= max(a[0], b[0]) + 1
        )
        assert off < 0.1
