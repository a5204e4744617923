"""Windows out of drawings: there and back in DXF and SVG, foreign ones as told, what is refused."""

from __future__ import annotations

import io
import math
from dataclasses import replace

import ezdxf
import numpy as np
import pytest

from sleevewright.errors import InputError
from sleevewright.jobs.outlinetext import MOST_CORNERS, outline_of_text
from sleevewright.services.outlines_in import Asked, OutlinesIn, outlines_of, outlines_told
from sleevewright.services.thinned import thinned
from sleevewright.sheets.wrap_dxf import wrap_dxf
from sleevewright.sheets.wrap_svg import wrap_svg
from wrapped_ports import BORE, TITLE, apart, ported, wrapped

FOREIGN = Asked(view="inside", diameter=BORE)


def dxf(unit: int = 4, *, bulge: float = 0.0, size: float = 1.0) -> bytes:
    """Another's drawing: one window of 20 x 16, its floor bulged, and a circle."""
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = unit
    space = document.modelspace()
    window = [(-10, -30, 0), (-10, -46, bulge), (10, -46, 0), (10, -30, 0)]
    corners = [(x * size, y * size, bend) for x, y, bend in window]
    space.add_lwpolyline(corners, format="xyb", close=True)
    space.add_circle((40 * size, -40 * size), 5 * size)
    space.add_line((0, 0), (5, 0))
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode()


def svg(body: str, head: str = 'width="200mm" height="100mm" viewBox="0 0 200 100"') -> bytes:
    """An SVG drawing of a body."""
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{body}</svg>'.encode()


def area(read: OutlinesIn, name: str, diameter: float = BORE) -> float:
    """Area of a window on its wall in mm2, by the surveyor's formula."""
    points = next(one.points for one in read.outlines if one.name == name)
    along, depth = points[:, 0] * diameter * 500.0, points[:, 1] * 1e3
    return abs(float(along @ np.roll(depth, -1) - np.roll(along, -1) @ depth)) / 2.0


@pytest.mark.parametrize("is_outside", [False, True])
@pytest.mark.parametrize("kind", ["dxf", "svg"])
def test_written_and_read_again_every_port_is_home(kind: str, is_outside: bool) -> None:
    """Inside and outside, printer put right or not: less than 1 um, names and sides kept."""
    told = wrapped(is_outside=is_outside, across=1.003, downward=0.998)
    text = wrap_dxf(told) if kind == "dxf" else wrap_svg(told, TITLE)
    read = outlines_of(f"ports.{kind}", text.encode(), Asked())
    assert read.is_mirrored is is_outside
    assert {one.name for one in read.outlines} == {port.name for port in ported().ports}
    for one in read.outlines:
        port = ported().port(one.name)
        assert port is not None
        assert one.was_named
        assert apart(one.points, port.points) < 1e-6
        kept = np.array(outline_of_text(one.text))
        assert apart(kept, port.points) < 1.2e-6  # a record holds whole micrometres


def test_a_view_that_the_mark_denies_is_refused() -> None:
    """A mirrored drawing that is told to be from inside would scrap a sleeve."""
    mirrored = wrap_dxf(wrapped(is_outside=True)).encode()
    with pytest.raises(InputError, match="asymmetric mark"):
        outlines_of("a.dxf", mirrored, Asked(view="inside"))
    assert outlines_of("a.dxf", mirrored, Asked(view="outside")).is_mirrored


def test_a_copy_that_was_mirrored_on_its_way_is_turned_back() -> None:
    """The same drawing with x turned round: the flag flies the other way, left is left again."""
    document = ezdxf.read(io.StringIO(wrap_dxf(wrapped())))
    for entity in document.modelspace():
        entity.transform(ezdxf.math.Matrix44.scale(-1, 1, 1))
    out = io.StringIO()
    document.write(out)
    read = outlines_of("a.dxf", out.getvalue().encode(), Asked())
    assert read.is_mirrored
    for one in read.outlines:
        port = ported().port(one.name)
        assert port is not None
        assert apart(one.points, port.points) < 1e-6


def test_a_drawing_upside_down_is_refused() -> None:
    """Half a turn puts the ports above the line of the deck."""
    document = ezdxf.read(io.StringIO(wrap_dxf(wrapped())))
    for entity in document.modelspace():
        entity.transform(ezdxf.math.Matrix44.z_rotate(math.pi))
    out = io.StringIO()
    document.write(out)
    with pytest.raises(InputError, match="upside down"):
        outlines_of("a.dxf", out.getvalue().encode(), Asked())


@pytest.mark.parametrize("unit", [0, 8, 21])
def test_dxf_in_unknown_units_is_refused_and_says_what_to_tell(unit: int) -> None:
    """Unitless, microinches and US feet: the unit is told or the drawing is not taken."""
    with pytest.raises(InputError, match="--unit mm or --unit in"):
        outlines_of("a.dxf", dxf(unit), FOREIGN)
    read = outlines_of("a.dxf", dxf(unit), replace(FOREIGN, unit="mm"))
    assert area(read, "port 1") == pytest.approx(20.0 * 16.0, rel=1e-9)


def test_a_unit_told_against_the_drawing_is_refused() -> None:
    """It says millimetres itself."""
    with pytest.raises(InputError, match="its own, 1 mm"):
        outlines_of("a.dxf", dxf(), replace(FOREIGN, unit="in"))


def test_inches_of_the_header_count() -> None:
    """A tenth of the figures in inches is 2.54 times as long as in millimetres."""
    read = outlines_of("a.dxf", dxf(1, size=0.1), FOREIGN)
    assert area(read, "port 1") == pytest.approx(320.0 * 2.54**2, rel=1e-9)


def test_bulges_and_circles_are_flattened_to_5_um() -> None:
    """A bulge is the tangent of a quarter of its angle (DXF reference): area by the segment."""
    bulge = math.tan(math.radians(60.0) / 4.0)
    read = outlines_of("a.dxf", dxf(bulge=bulge), FOREIGN)
    radius = 10.0 / math.sin(math.radians(30.0))
    segment = radius**2 / 2.0 * (math.radians(60.0) - math.sin(math.radians(60.0)))
    assert area(read, "port 1") == pytest.approx(320.0 + segment, abs=20.9 * 0.005)
    assert area(read, "port 2") == pytest.approx(math.pi * 25.0, abs=31.4 * 0.005)
    assert any("loose" in one for one in read.words)


def test_a_foreign_drawing_needs_its_view_and_its_wall() -> None:
    """Neither is guessed; from outside left and right are turned round."""
    with pytest.raises(InputError, match="--view"):
        outlines_of("a.dxf", dxf(), Asked(diameter=BORE))
    with pytest.raises(InputError, match="--diameter"):
        outlines_of("a.dxf", dxf(), Asked(view="inside"))
    inside = outlines_of("a.dxf", dxf(), FOREIGN)
    outside = outlines_of("a.dxf", dxf(), replace(FOREIGN, view="outside"))
    circles = [max(float(p.points[:, 0].mean()) for p in inside.outlines),
               min(float(p.points[:, 0].mean()) for p in outside.outlines)]  # fmt: skip
    assert circles[0] == pytest.approx(80.0 / 66.4, rel=1e-3)
    assert circles[1] == pytest.approx(-80.0 / 66.4, rel=1e-3)


@pytest.mark.parametrize(
    "head",
    [
        'width="200" height="100" viewBox="0 0 200 100"',
        'width="200px" height="100px"',
        'viewBox="0 0 200 100"',
        'width="100%" height="100%" viewBox="0 0 200 100"',
        'width="200mm" height="100mm"',
    ],
)
def test_svg_in_pixels_is_refused(head: str) -> None:
    """Programs differ on a pixel, so it is told what one unit is."""
    body = '<rect x="0" y="30" width="20" height="16"/>'
    with pytest.raises(InputError, match="unit of the drawing"):
        outlines_of("a.svg", svg(body, head), FOREIGN)
    read = outlines_of("a.svg", svg(body, head), replace(FOREIGN, unit="mm"))
    assert area(read, "port 1") == pytest.approx(320.0, rel=1e-9)


def test_svg_scaled_unevenly_is_refused() -> None:
    """Width and height that do not fit the viewBox would make ovals of circles."""
    with pytest.raises(InputError, match="one scale both ways"):
        outlines_of("a.svg", svg("", 'width="200mm" height="90mm" viewBox="0 0 200 100"'), FOREIGN)


@pytest.mark.parametrize("corner", ["0 0", "0 -20", "-100 0", "12.5 7"])
def test_zero_is_the_drawings_own_whatever_part_is_looked_at(corner: str) -> None:
    """A viewBox chooses what is seen (SVG 1.1, 7.7); roof, floor and angle stay as drawn."""
    head = f'width="200mm" height="120mm" viewBox="{corner} 200 120"'
    body = '<rect id="boost" x="0" y="30" width="20" height="20"/>'
    points = outlines_of("a.svg", svg(body, head), FOREIGN).outlines[0].points
    assert (points[:, 1].min(), points[:, 1].max()) == pytest.approx((30e-3, 50e-3), abs=1e-9)
    middle = math.degrees(points[:, 0].min() + points[:, 0].max()) / 2.0
    assert middle == pytest.approx(math.degrees(20.0 / 66.4), abs=1e-9)


def test_hidden_shapes_are_passed_over_and_counted() -> None:
    """By attribute, by style, by a hidden group; in a DXF by a layer that is off."""
    one = '<path d="M{} 30h10v8h-10z" {}/>'
    body = (
        one.format(0, "") + one.format(20, 'display="none"')
        + one.format(40, 'style="fill:none; display : none"')
        + f'<g style="visibility:hidden">{one.format(60, "")}</g>'
    )  # fmt: skip
    read = outlines_of("a.svg", svg(body), FOREIGN)
    assert (len(read.outlines), read.passed_over) == (1, 3)
    assert any("3 hidden" in words for words in read.words)
    document = ezdxf.read(io.StringIO(dxf().decode()))
    document.layers.add("OLD").off()
    document.modelspace().query("CIRCLE")[0].dxf.layer = "OLD"
    out = io.StringIO()
    document.write(out)
    read = outlines_of("a.dxf", out.getvalue().encode(), FOREIGN)
    assert len(read.outlines) == 1
    assert any("1 hidden" in words for words in read.words)


def test_blocks_within_blocks_and_rows_of_blocks_are_read() -> None:
    """A window two blocks deep, inserted twice in a row: both are there, each in its place."""
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = 4
    inner, outer = document.blocks.new("INNER"), document.blocks.new("OUTER")
    inner.add_lwpolyline([(0, -30), (8, -30), (8, -40), (0, -40)], close=True)
    outer.add_blockref("INNER", (5, 0))
    rows = {"column_count": 2, "column_spacing": 30}
    document.modelspace().add_blockref("OUTER", (10, 0), dxfattribs=rows)
    out = io.StringIO()
    document.write(out)
    read = outlines_of("a.dxf", out.getvalue().encode(), FOREIGN)
    found = [one.points[:, 0].min() * BORE * 500.0 for one in read.outlines]
    assert found == pytest.approx([15.0, 45.0])


PATHS = {
    "circle": ('<circle cx="20" cy="40" r="6"/>', 36.0 * math.pi),
    "ellipse turned": ('<ellipse cx="20" cy="40" rx="6" ry="4" transform="rotate(30 20 40)"/>',
                       24.0 * math.pi),
    "arcs": ('<path d="M14 40a6 6 0 1 0 12 0a6 6 0 1 0-12 0z"/>', 36.0 * math.pi),
    "rounded": ('<rect x="10" y="30" width="20" height="16" rx="3"/>',
                320.0 - (4.0 - math.pi) * 9.0),
    "cubic": ('<path d="M10 30 C10 50 30 50 30 30 Z"/>', 0.6 * 20.0 * 20.0),
    "quadratic": ('<path d="M10,30 q10,20 20,0 z"/>', 2.0 / 3.0 * 20.0 * 10.0),
    "smooth": ('<path d="M10 40 Q15 30 20 40 T30 40 L30 60 10 60Z"/>', 400.0),
    "scaled": ('<g transform="translate(5 5) scale(2)"><path d="M5 15h10v8h-10z"/></g>', 320.0),
}  # fmt: skip
"""Shapes whose areas are known in closed form, in mm2."""


@pytest.mark.parametrize("name", sorted(PATHS))
def test_areas_of_svg_shapes_are_those_of_geometry(name: str) -> None:
    """Curves and arcs as the standard draws them: closed forms, 5 um along the outline."""
    body, wanted = PATHS[name]
    read = outlines_of("a.svg", svg(body), FOREIGN)
    assert len(read.outlines) == 1
    assert area(read, "port 1") == pytest.approx(wanted, abs=80.0 * 0.005)


def test_names_come_from_titles_labels_and_words_inside() -> None:
    """What a program made up is no name; words that stand in a window are."""
    body = (
        '<path id="path12" d="M0 30h10v8h-10z"><title>boost</title></path>'
        '<path id="rear-left" d="M20 30h10v8h-10z"/><path id="path7" d="M40 30h10v8h-10z"/>'
        '<text x="42" y="35">main right</text><path id="rect-9" d="M60 30h10v8h-10z"/>'
    )
    read = outlines_of("a.svg", svg(body), FOREIGN)
    assert [one.name for one in read.outlines] == ["boost", "rear-left", "main right", "port 4"]
    assert [one.was_named for one in read.outlines] == [True, True, True, False]
    told = outlines_of("a.svg", svg(body), replace(FOREIGN, names=("", "", "", "exhaust")))
    assert told.outlines[3].name == "exhaust"
    assert told.outlines[3].was_named


@pytest.mark.parametrize(
    ("name", "content", "match"),
    [
        ("a.pdf", b"%PDF", ".dxf or .svg"),
        ("a.dxf", b"no drawing at all", "DXF"),
        ("a.dxf", b"", "DXF"),
        ("a.svg", b"<svg", "SVG"),
        ("a.svg", b"<html/>", "SVG"),
        ("a.svg", b'<!DOCTYPE s [<!ENTITY a "b">]><svg/>', "entities"),
        ("a.svg", svg('<path d="M0 30 L5"/>'), "cut off"),
        ("a.svg", svg('<line x1="0" y1="0" x2="5" y2="5"/>'), "no closed outline"),
        ("a.svg", svg('<path d="M0 30L10 40L10 30L0 40z"/>'), "crossing itself"),
        ("a.svg", svg('<path d="M0 30h150v10h-150z"/>'), "180 deg"),
        ("a.svg", svg('<path d="M0 -30h15v10h-15z"/>'), "upside down"),
        ("a.svg", svg('<path d="M0 30h9v8h-9z"/><use href="#a" x="9"/>'), "1 copies"),
        ("a.svg", svg('<svg x="9"><path d="M0 30h9v8h-9z"/></svg>'), "drawings within"),
        ("a.svg", svg('<path d="M10 30 L1e999 35 L10 50z"/>'), "numbers up to"),
        ("a.svg", svg('<rect x="1e400" y="30" width="9" height="9"/>'), "numbers up to"),
        ("a.svg", svg('<rect x="10%" y="30" width="9" height="9"/>'), "own unit"),
        ("a.svg", svg('<rect x="0" y="30" width="1in" height="9"/>'), "own unit"),
        ("a.svg", svg('<path d="M0 -10h15v40h-15z"/>'), "zero elsewhere"),
        ("a.svg", svg('<path d="M0 30h15v9h-15z"/><path d="M9 33h15v9h-15z"/>'), "over each"),
        ("a.svg", svg('<path d="M240 30h20v9h-20z"/>'), "once round the wall, 208.60 mm"),
        ("a.svg", svg('<path d="M-90 30h9v9h-9z"/><path d="M130 30h9v9h-9z"/>'), "length of"),
        ("a.svg", svg('<path transform="skewX(9)" d="M0 30h15v10h-15z"/>'), "transform"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_in_words(name: str, content: bytes, match: str) -> None:
    """Each refusal says what it is about."""
    with pytest.raises(InputError, match=match):
        outlines_of(name, content, FOREIGN)


def test_many_corners_are_thinned_and_none_is_moved() -> None:
    """2,000 corners of an ellipse become at most 240; what is left lies on it and close to it."""
    angles = np.linspace(0.0, 2.0 * math.pi, 2000, endpoint=False)
    points = np.column_stack([0.3 * np.cos(angles), 0.05 + 0.01 * np.sin(angles)])
    made = thinned(points, most=MOST_CORNERS)
    assert len(made) <= MOST_CORNERS
    assert {tuple(one) for one in made} <= {tuple(one) for one in points}
    along, depth = made[:, 0], made[:, 1]
    found = abs(float(along @ np.roll(depth, -1) - np.roll(along, -1) @ depth)) / 2.0
    assert found == pytest.approx(math.pi * 0.3 * 0.01, rel=1e-3)


def test_texts_of_a_page_say_the_same() -> None:
    """What a form sends is read as what a program asks."""
    told = {"name": "a.dxf", "text": dxf(0).decode(), "unit": "mm", "view": "inside",
            "diameter": "66.4", "names": "exhaust, boost"}  # fmt: skip
    assert [one.name for one in outlines_told(told).outlines] == ["exhaust", "boost"]
