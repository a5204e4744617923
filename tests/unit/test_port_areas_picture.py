"""The picture of open areas: what is drawn is what was worked out, two maps told apart by line."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from sleevewright.services.timing_told import found_timing, ports_timing
from sleevewright.web.pictures.port_areas import AreaPanel, AreasPicture, port_areas
from sleevewright.web.plan.timing_drawing import found_areas, ports_areas
from sleevewright.web.plan.viewer import Viewer
from timed_jobs import ported, put_with


def drawn(markup: object) -> list[ET.Element]:
    """Both pictures, the wide one first."""
    return list(ET.fromstring(f"<all>{markup}</all>"))  # noqa: S314 - our own markup


def curves(svg: ET.Element, look: str) -> list[list[tuple[float, float]]]:
    """Points of every long stroke of a look."""
    found = []
    for one in svg.iter():
        if one.get("class") == look:
            pairs = re.findall(r"(-?[\d.]+) (-?[\d.]+)", one.get("d", ""))
            if len(pairs) > 2:
                found.append([(float(x), float(y)) for x, y in pairs])
    return found


def words(svg: ET.Element) -> list[str]:
    """Every text of a picture."""
    return [one.text or "" for one in svg.iter() if one.tag.endswith("text")]


def test_every_port_has_a_panel_with_both_maps() -> None:
    """Six ports: six solid curves and six dashed, each named with its degrees."""
    plan, told = ported()
    plan = put_with(plan, found_timing(plan, told), ports_timing(plan, told))
    made = ports_areas(Viewer(plan, "metric"), plan.answer("timing.now.curves"))
    for svg in drawn(made):
        assert (len(curves(svg, "line")), len(curves(svg, "dash"))) == (6, 6)
        texts = words(svg)
        assert "rear left" in texts
        assert "128.2° to be, 116.5° now" in texts
        assert {"to be", "sleeve as supplied"} <= set(texts)
        assert "rear left: 128.2° to be, 116.5° now" in (svg.get("aria-label") or "")


def test_as_found_stands_alone() -> None:
    """Only solid curves, and no second map in the words."""
    plan, told = ported()
    plan = put_with(plan, found_timing(plan, told))
    made = found_areas(Viewer(plan, "inch"), plan.answer("timing.found.curves"))
    for svg in drawn(made):
        assert (len(curves(svg, "line")), len(curves(svg, "dash"))) == (6, 0)
        assert any(text.startswith("in²") for text in words(svg))


def test_curve_stands_at_its_own_height() -> None:
    """A curve that comes to its most at half a turn peaks in the middle of the panel."""
    told = AreasPicture(
        (0.0, 90.0, 180.0, 270.0, 360.0),
        (AreaPanel("exhaust", "180° open", (0.0, 0.0, 100.0, 0.0, 0.0),
                   (0.0, 0.0, 50.0, 0.0, 0.0)),),
        "mm²", "to be", "as left", "says",
    )  # fmt: skip
    svg = drawn(port_areas(told))[0]
    solid, dashed = curves(svg, "line")[0], curves(svg, "dash")[0]
    foot = solid[0][1]
    peak = min(solid, key=lambda one: one[1])
    assert peak[0] == pytest.approx((solid[0][0] + solid[-1][0]) / 2.0)
    assert foot - peak[1] == pytest.approx(2.0 * (foot - min(y for _, y in dashed)), abs=0.2)


def test_a_map_without_outlines_draws_nothing() -> None:
    """Roofs alone make no areas, so there is no picture to be wrong."""
    plan, told = ported(without=tuple(
        f"port/{name}/found.floor"
        for name in ("exhaust", "main left", "main right", "rear left", "rear right", "boost")
    ))  # fmt: skip
    plan = put_with(plan, found_timing(plan, told))
    assert not Viewer(plan, "metric").knows("timing.found.curves")
