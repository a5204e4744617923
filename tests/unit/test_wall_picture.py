"""The map of the wall as a picture: hatched where it is too thin, in black ink, said in words."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from benches import bench_in
from sleevewright.web.pictures.islands import Island
from sleevewright.web.pictures.wall_map import (
    BELOW,
    BROAD,
    ENOUGH,
    PERHAPS,
    WallPicture,
    pieces_of,
    wall_map,
)
from sleevewright.web.stage.cut_pictures import cut_pictures
from wall_jobs import look_at, wall_job

ANGLES = tuple(45.0 * step for step in range(8))
MADE = WallPicture(
    angles=ANGLES,
    depths=(10.0, 30.0, 50.0),
    walls=((6.0, 5.5, 5.0, 4.0, 3.0, 4.0, 5.0, 5.5),) * 3,
    states=((ENOUGH, ENOUGH, ENOUGH, PERHAPS, BELOW, PERHAPS, ENOUGH, ENOUGH),) * 3,
    thinnest=(180.0, 10.0),
    islands=(Island("1", 350.0, 10.0, 12.0, 20.0),),
    limit="3.20 mm",
    bore="bore 72.00 mm",
    unit="mm",
    digits=2,
    says="A made wall.",
)


def wide(picture: WallPicture) -> ET.Element:
    """The picture for a wide sheet."""
    return ET.fromstring(f"<all>{wall_map(picture)}</all>")[0]  # noqa: S314 - our own markup


def spans(drawn: ET.Element, pattern: str) -> list[tuple[float, float]]:
    """Where the hatched areas of a pattern begin and end along, the legend left out."""
    found = []
    for one in drawn.iter():
        shape, fill = one.get("d", ""), one.get("fill", "")
        if pattern in fill and "h34" not in shape:
            start, stop = re.findall(r"[MH]([\d.]+)", shape)[:2]
            found.append((float(start), float(stop)))
    return found


def at(angle: float) -> float:
    """Where an angle lies along the wide sheet."""
    return BROAD.left + (angle - BROAD.seam) / 360.0 * (BROAD.right - BROAD.left)


def test_hatching_lies_where_the_wall_is_too_thin() -> None:
    """Close hatching from 157.5 to 202.5 degrees, wide hatching 45 degrees on either side."""
    drawn = wide(MADE)
    assert spans(drawn, "solid") == [pytest.approx((at(157.5), at(202.5)), abs=0.1)] * 3
    assert spans(drawn, "loose")[:2] == [
        pytest.approx((at(112.5), at(157.5)), abs=0.1),
        pytest.approx((at(202.5), at(247.5)), abs=0.1),
    ]


def test_the_limit_is_a_stroke_between_too_thin_and_enough() -> None:
    """Upright strokes at 157.5 and 202.5 degrees, none anywhere else, and none across."""
    strokes = [one.get("d", "") for one in wide(MADE).iter() if one.get("class") == "line"][:-1]
    places = {round(float(re.findall(r"M([\d.]+)", one)[0]), 1) for one in strokes}
    assert places == {round(at(157.5), 1), round(at(202.5), 1)}
    assert all("V" in one for one in strokes)


def test_every_figure_stands_at_its_place_and_touches_no_other() -> None:
    """Eight figures a row at the places that were read; midways have none."""
    figures = [
        (float(one.get("x", "0")), one.text)
        for one in wide(MADE).iter()
        if one.get("class", "").endswith("halo") and "." in (one.text or "")
    ]
    assert len(figures) == 16
    row = sorted(figures[:8])
    assert [text for _, text in row] == [f"{one:.2f}" for one in MADE.walls[0]]
    assert min(b - a for (a, _), (b, _) in pairwise(row)) > 45.0


def test_an_island_across_the_seam_is_drawn_whole() -> None:
    """The sheet begins at -22.5 degrees, so an island from 350 to 10 stands in one piece."""
    outlines = [one.get("d", "") for one in wide(MADE).iter() if one.get("class") == "dash"]
    assert len(outlines) == 1
    start, stop = (float(one) for one in re.findall(r"[MH]([\d.]+)", outlines[0])[:2])
    assert (start, stop) == pytest.approx((at(-10.0), at(10.0)), abs=0.1)
    assert pieces_of(330.0, 350.0, -22.5) == ((330.0, 337.5), (-22.5, -10.0))


def test_the_words_say_least_place_limit_and_verdict(tmp_path: Path) -> None:
    """Who cannot see the picture is told what it answers; it stands at both stages."""
    bench = bench_in(tmp_path / "bench")
    look = look_at(bench, wall_job(thinner=0.130))
    for stage in ("old", "parent"):
        drawn = str(cut_pictures(stage, look.plan)[0].picture)
        words = re.findall(r'aria-label="([^"]*)"', drawn)[0]
        assert re.search(r"likely least 0\.09\d+ in at 180\.?0? °", words), words
        assert "19 times in 20 at least 0.0" in words
        assert "at least 0.1200 in is wanted. Out. Islands of old iron: 1." in words
        assert "style=" not in drawn
    assert cut_pictures("hone", look.plan) == ()
    bench.close()


def test_a_verdict_that_is_not_good_shows_where(tmp_path: Path) -> None:
    """Even walls of which each alone is enough, and the least of all is not: hatched, and said."""
    bench = bench_in(tmp_path / "bench")
    job = wall_job(walls=(0.145,) * 8)
    look = look_at(bench, job)
    assert look.verdicts["old.thin"] == "too close to call"
    drawn = str(cut_pictures("old", look.plan)[0].picture)
    assert spans(ET.fromstring(f"<all>{drawn}</all>")[0], "loose")  # noqa: S314 - our own markup
    words = re.findall(r'aria-label="([^"]*)"', drawn)[0]
    assert "Too close to call." in words
    assert re.search(r"Of \d+ places 0 are likely below the limit, \d+ may be\.", words)
    bench.close()


def test_no_wall_that_was_read_is_no_picture(tmp_path: Path) -> None:
    """With the outside alone there is a wall in figures and nothing to unroll."""
    bench = bench_in(tmp_path / "bench")
    job = wall_job()
    job.value("set/wall/void", "not read here")
    look = look_at(bench, job)
    assert cut_pictures("old", look.plan) == ()
    bench.close()


def test_no_outline_runs_through_a_figure_or_a_name() -> None:
    """An island about a place that was read: the outline leaves off there, its name lies below."""
    small = Island("1", 170.0, 178.0, 5.0, 12.0)
    drawn = wide(replace(MADE, islands=(small,)))
    patches = [one for one in drawn.iter() if one.get("class") == "fillsheet"]
    assert len(patches) == 1
    left, wide_by = (float(patches[0].get(name, "")) for name in ("x", "width"))
    assert left < at(178.0) < left + wide_by
    name = next(one for one in drawn.iter() if one.text == "iron 1")
    outline = next(one for one in drawn.iter() if one.get("class") == "dash")
    bottom = float(re.findall(r"V([\d.]+)", outline.get("d", ""))[0])
    assert float(name.get("y", "")) > bottom + 10.0
    bare = wide(replace(MADE, islands=()))
    assert not [one for one in bare.iter() if one.get("class") == "fillsheet"]
