"""Sheets of a wrap: true to the hundredth on the page, tiled, lettered, audited."""

from __future__ import annotations

import io
import math
import re
from dataclasses import replace
from pathlib import Path

import ezdxf
import numpy as np
import pytest
import typst
from PIL import Image
from pypdf import PdfReader

from sleevewright.core.ports.seams import widest_seam
from sleevewright.core.ports.wrap import Wrap
from sleevewright.errors import InputError
from sleevewright.sheets.drawn import SCALE, SCRIBE, Drawn
from sleevewright.sheets.rim_scale import Rim, rim_sheets
from sleevewright.sheets.wrap_dxf import wrap_dxf
from sleevewright.sheets.wrap_hatch import hatched
from sleevewright.sheets.wrap_pdf import pdf_of
from sleevewright.sheets.wrap_sheets import OUTSIDE_WORDS, sheets_of
from sleevewright.sheets.wrap_strip import Wrapped, strip_of
from sleevewright.sheets.wrap_svg import wrap_svg
from wrapped_ports import TITLE, ported, wrapped

POINT = 72.0 / 25.4  # points to the mm: the PDF's unit is 1/72 inch (ISO 32000-1, 8.3.2.3)
DPI = 1270  # 50 pixels to the mm


@pytest.fixture(scope="module")
def sheets() -> tuple[Drawn, ...]:
    """The sheets of the map on A4."""
    return sheets_of(wrapped(), TITLE, paper="a4")


@pytest.fixture(scope="module")
def pdf(sheets: tuple[Drawn, ...]) -> bytes:
    """The same printed."""
    return pdf_of(sheets, title="ports")


def bars(drawn: Drawn) -> dict[str, tuple[tuple[float, float], tuple[float, float]]]:
    """Both ends of both bars, in mm."""
    return {
        one.name: (one.places[0], one.places[1])
        for one in drawn.strokes
        if one.layer == SCALE and one.name.startswith("bar")
    }


def dark(place: Path, corner: tuple[float, float], size: tuple[float, float]) -> np.ndarray:
    """A piece of the printed page at 1,270 dpi: where it is darker than half."""
    page = (
        f"#set page(width: {size[0]}mm, height: {size[1]}mm, margin: 0mm)\n"
        f"#place(top + left, dx: {-corner[0]}mm, dy: {-corner[1]}mm, "
        'image("ports.pdf", width: 297mm, height: 210mm))'
    )
    main = place / "piece.typ"
    main.write_text(page, encoding="utf-8")
    png = typst.compile(str(main), format="png", ppi=DPI)
    return np.asarray(Image.open(io.BytesIO(png)).convert("L")) < 128


@pytest.mark.parametrize("name", ["bar across", "bar down"])
def test_bars_of_the_print_are_100_mm_to_two_hundredths(
    name: str, pdf: bytes, sheets: tuple[Drawn, ...], tmp_path: Path
) -> None:
    """Rasterised at 1,270 dpi: from the middle of one tick to the middle of the other, 0.02 mm."""
    (tmp_path / "ports.pdf").write_bytes(pdf)
    (x, y), (right, low) = bars(sheets[0])[name]
    beside = 1.2  # where only the ticks are, not the bar itself
    if name == "bar across":
        strip = dark(tmp_path, (x - 2.0, y + beside - 0.2), (right - x + 4.0, 0.4)).any(axis=0)
    else:
        strip = dark(tmp_path, (x + beside - 0.2, y - 2.0), (0.4, low - y + 4.0)).any(axis=1)
    at = np.flatnonzero(strip)
    first, last = at[at < len(strip) // 2], at[at >= len(strip) // 2]
    found = (last.mean() - first.mean()) * 25.4 / DPI
    assert found == pytest.approx(100.0, abs=0.02)
    assert 0.1 < len(first) * 25.4 / DPI < 0.2  # a line of 0.15 mm


def test_the_page_is_true_and_asks_not_to_be_scaled(pdf: bytes) -> None:
    """A4 across, no print scaling (ISO 32000-1, 12.2), and vectors of 100 mm in it."""
    reader = PdfReader(io.BytesIO(pdf))
    assert reader.root_object["/ViewerPreferences"]["/PrintScaling"] == "/None"
    page = reader.pages[0]
    assert float(page.mediabox.width) / POINT == pytest.approx(297.0, abs=1e-3)
    assert float(page.mediabox.height) / POINT == pytest.approx(210.0, abs=1e-3)
    drawn = page.get_contents().get_data().decode("latin-1")
    moves = re.findall(r"([\d.-]+) ([\d.-]+) m\s+([\d.-]+) ([\d.-]+) l\s", drawn)
    lengths = {round(math.hypot(float(c) - float(a), float(d) - float(b)) / POINT, 3)
               for a, b, c, d in moves}  # fmt: skip
    assert 100.0 in lengths
    words = page.extract_text()
    assert "VIEW FROM INSIDE" in words
    assert "INVENTED EXAMPLE" in words
    assert "sheet 1 of 1" in words


def test_a_printer_put_right_stretches_strip_and_bars_alike() -> None:
    """Bars that came out 99.7 and 100.2 long: both are drawn longer and shorter by that share."""
    plain = sheets_of(wrapped(), TITLE, paper="a4")[0]
    right = sheets_of(wrapped(across=100 / 99.7, downward=100 / 100.2), TITLE, paper="a4")[0]
    before, after = bars(plain), bars(right)
    long = after["bar across"][1][0] - after["bar across"][0][0]
    tall = after["bar down"][1][1] - after["bar down"][0][1]
    assert long * 0.997 == pytest.approx(100.0, abs=1e-9)
    assert tall * 1.002 == pytest.approx(100.0, abs=1e-9)
    assert before["bar across"][1][0] - before["bar across"][0][0] == pytest.approx(100.0)
    lines = [next(s for s in one.strokes if s.name == "datum line") for one in (plain, right)]
    widths = [one.places[1][0] - one.places[0][0] for one in lines]
    assert widths[1] / widths[0] == pytest.approx(100 / 99.7, rel=1e-12)


@pytest.mark.parametrize(("paper", "one_sheet"), [("a4", 84.0), ("letter", 79.0)])
def test_a_wide_bore_takes_two_sheets(paper: str, one_sheet: float) -> None:
    """One sheet up to 84 mm on A4 and 79 on Letter; above that both say where they join."""
    for bore, count in ((one_sheet, 1), (one_sheet + 3.0, 2)):
        ports = ported(bore * 1e-3)
        told = Wrapped(ports, Wrap(bore * 1e-3, 0.1e-3, widest_seam(ports)))
        made = sheets_of(told, TITLE, paper=paper)
        assert len(made) == count
        for index, sheet in enumerate(made):
            words = " ".join(one.text for one in sheet.words)
            assert f"sheet {index + 1} of {count}" in words
            assert set(bars(sheet)) == {"bar across", "bar down"}
            crosses = [one for one in sheet.strokes if one.name == "cross"]
            assert len(crosses) == (4 if count == 2 else 0)
            reach = [x for one in sheet.strokes for x, _ in one.places]
            assert min(reach) >= 10.0 - 1e-9
            assert max(reach) <= sheet.width - 4.0 + 1e-9
        if count == 2:
            assert any("joins sheet 2 here" in one.text for one in made[0].words)
            assert any("joins sheet 1 here" in one.text for one in made[1].words)


def test_crosses_of_neighbours_lie_on_each_other() -> None:
    """Where the crosses of two sheets are laid on each other, an outline goes on unbroken."""
    ports = ported(95e-3)
    told = Wrapped(ports, Wrap(95e-3, 0.1e-3, widest_seam(ports)))
    first, second = sheets_of(told, TITLE, paper="a4")
    strip = strip_of(told)
    tops = []
    for sheet in (first, second):
        cross = next(one for one in sheet.strokes if one.name == "cross")
        middle = sum(x for x, _ in cross.places) / 2.0
        line = next(one for one in sheet.strokes if one.name == "datum line")
        tops.append((middle, line.places[0][0], line.places[1][0]))
    covered = tops[0][0] - tops[0][1] + tops[1][2] - tops[1][0]
    assert covered == pytest.approx(told.wrap.length * 1e3, abs=1e-9)
    assert strip.width > covered


def test_a_floor_too_deep_for_the_paper_is_refused() -> None:
    """A floor at 170 mm does not go on A4 across."""
    deep = ported().turned(0.0, down=0.1)
    with pytest.raises(InputError, match="height of the strip"):
        sheets_of(Wrapped(deep, wrapped().wrap), TITLE, paper="a4")
    with pytest.raises(InputError, match="a4 or letter"):
        sheets_of(wrapped(), TITLE, paper="a0")


def test_the_flag_is_mirrored_outside_and_the_words_say_so() -> None:
    """Its staff stands at the datum; outside it flies to the left."""
    for is_outside, way in ((False, 1.0), (True, -1.0)):
        told = wrapped(is_outside=is_outside)
        flag = next(one for one in strip_of(told).strokes if one.name == "datum flag")
        (staff, _), (again, _), (tip, _) = flag.places
        assert staff == again
        assert (tip - staff) * way > 0.0
    words = [
        one.text for one in sheets_of(wrapped(is_outside=True), TITLE, paper="letter")[0].words
    ]
    assert OUTSIDE_WORDS in words


def test_dxf_stands_the_audit_and_has_its_layers() -> None:
    """Millimetres, metric, closed outlines on PORTS, y upwards; ezdxf finds no fault."""
    document = ezdxf.read(io.StringIO(wrap_dxf(wrapped())))
    assert not document.audit().errors
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1
    assert document.dxfversion == "AC1024"
    assert {"PORTS", "CHAMFER", "FLANGE", "SCRIBE"} <= {one.dxf.name for one in document.layers}
    ports = document.modelspace().query('LWPOLYLINE[layer=="PORTS"]')
    assert len(ports) == 6
    assert all(one.closed for one in ports)
    assert all(y < 0.0 for one in ports for _, y in one.get_points("xy"))
    assert len(document.modelspace().query(f'LWPOLYLINE[layer=="{SCRIBE}"]')) == 2


def test_svg_is_in_millimetres_both_outside_and_inside() -> None:
    """Width over viewBox is 1 both ways."""
    text = wrap_svg(wrapped(), TITLE)
    wide, high = (float(one) for one in re.findall(r'(?:width|height)="([\d.]+)mm"', text)[:2])
    box = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', text)
    assert box is not None
    assert (float(box[1]), float(box[2])) == (wide, high)


def test_hatching_covers_what_is_to_go_and_nothing_else() -> None:
    """A window of 10 x 10 in one of 20 x 10: lines times their distance make 100 mm2."""
    wanted = ((0.0, 0.0), (20.0, 0.0), (20.0, 10.0), (0.0, 10.0))
    present = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    lines = hatched(wanted, present)
    total = sum(math.dist(*one.places) for one in lines)
    assert total * 1.2 == pytest.approx(100.0, rel=0.05)
    assert all(x >= 10.0 - 1e-9 for one in lines for x, _ in one.places)
    assert hatched(present, wanted) == []


@pytest.mark.parametrize("system", ["inch", "metric"])
def test_the_rose_of_the_rim_by_hand(system: str) -> None:
    """-3.23 degrees on 84 mm: the mark stands left of the top, 93 thou along the rim."""
    rim = Rim(84e-3, 0.1e-3, math.radians(-3.23), system)
    rose, strip = rim_sheets(rim, TITLE, paper="a4")
    mark = next(one for one in rose.strokes if one.name == "scribe mark")
    circle = next(one for one in rose.strokes if one.name == "rim")
    centre = np.mean(circle.places, axis=0)
    tip = np.array(mark.places[0]) - centre
    assert math.degrees(math.atan2(tip[0], -tip[1])) == pytest.approx(-3.23, abs=1e-9)
    words = " ".join(one.text for one in rose.words)
    assert ("93 thou" if system == "inch" else "2.37 mm") in words
    assert "counter-clockwise seen from the deck" in words
    band = next(one for one in strip.strokes if one.closed)
    long = max(x for x, _ in band.places) - min(x for x, _ in band.places)
    assert long == pytest.approx(math.pi * 84.1, abs=1e-9)
    mark = next(one for one in strip.strokes if one.name == "scribe mark")
    middle = min(x for x, _ in band.places) + long / 2.0
    assert mark.places[0][0] - middle == pytest.approx(math.radians(3.23) * 42.05, abs=1e-9)


def test_a_flange_larger_than_the_paper_is_refused() -> None:
    """160 mm do not go on A4 across."""
    with pytest.raises(InputError, match="diameter of the flange"):
        rim_sheets(Rim(0.160, 0.1e-3), TITLE, paper="a4")


def test_the_same_sheet_gives_the_same_bytes(sheets: tuple[Drawn, ...], pdf: bytes) -> None:
    """No clock and no chance in it."""
    assert pdf_of(sheets, title="ports") == pdf


def test_grinding_is_hatched_over_the_sleeve() -> None:
    """The sleeve lies dashed beneath what is wanted; a sleeve that fits leaves nothing to hatch."""
    smaller = ported().turned(math.radians(0.5), down=0.4e-3)
    told = replace(wrapped(), beneath=smaller)
    names = [one.name for one in strip_of(told).strokes]
    assert names.count("to grind") > 20
    same = [one.name for one in strip_of(replace(told, beneath=ported())).strokes]
    assert same.count("to grind") == 0


def test_what_a_sheet_lacks_stands_on_it() -> None:
    """Words of a port that is missing are printed, above one another and above the foot."""
    noted = replace(TITLE, notes=("Not on the sheet, boost: roof is missing.", "Another."))
    sheet = sheets_of(wrapped(), noted, paper="a4")[0]
    heights = [one.at[1] for one in sheet.words if one.text in noted.notes]
    assert len(heights) == 2
    assert max(heights) < sheet.height - 10.0
    assert abs(heights[0] - heights[1]) == pytest.approx(4.0)
    assert all(one in wrap_svg(wrapped(), noted) for one in noted.notes)
