"""From a rubbing to a template and back: no port changes sides, inside or outside.

The sheet that was rubbed is drawn here, so where each window lies on the wall is known: a rubbing
lies in the bore with its face to the axis, where the right is clockwise seen from the deck. The
template is read as anybody reads paper: from the strokes of its PDF (ISO 32000-1, 8.5: path
construction), its line of the deck and the flag that flies clockwise; nothing of the way there is
used on the way back.
"""

from __future__ import annotations

import io
import math
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray
from pypdf import PdfReader
from pypdf.generic import ContentStream

from made_rubbings import Spoilt, made_rubbing, small_shapes, small_sheet
from sleevewright.core.ports.mapped import MappedPort, PortMap
from sleevewright.core.ports.seams import widest_seam
from sleevewright.core.ports.wrap import Wrap
from sleevewright.core.rubbing.records import RubbingTold
from sleevewright.core.rubbing.rubbing import read_rubbing
from sleevewright.jobs.model import Entry
from sleevewright.jobs.portmaps import ToldMap, ToldPort
from sleevewright.planning.portmaps import Wall, read_map
from sleevewright.services.outlines_in import Asked, outlines_of
from sleevewright.services.rubbing_kept import kept_text
from sleevewright.sheets.wrap_dxf import wrap_dxf
from sleevewright.sheets.wrap_pdf import pdf_of
from sleevewright.sheets.wrap_sheets import Titled, sheets_of
from sleevewright.sheets.wrap_strip import Wrapped
from sleevewright.sheets.wrap_svg import wrap_svg

pytestmark = pytest.mark.slow

Lines = list[tuple[NDArray[np.float64], bool]]

BORE, PAPER = 44.0e-3, 0.1e-3
TITLE = Titled("Ports, job R-1", "Wall 44.00 mm.", is_invented=True)
POINT = 72.0 / 25.4  # points to the mm: the PDF's unit is 1/72 inch (ISO 32000-1, 8.3.2.3)
FLAT = math.pi * 43.9  # mm of a sheet 0.1 mm thick once round a bore of 44 mm
NAMES = ("exhaust", "transfer right", "transfer left")  # by their roofs, the highest first


@pytest.fixture(scope="module")
def rubbed() -> PortMap:
    """The map of the cylinder as it stands in a job: read from the scan, kept as text."""
    told = RubbingTold(NAMES, BORE, down=0.05)
    read = read_rubbing(made_rubbing(small_sheet(), Spoilt(dpi=100.0)), told)
    assert read.refused == read.asks == ()
    ports = tuple(ToldPort(one.name, outline=kept_text(one)) for one in read.ports)
    made = read_map(ToldMap("found", ports, on=Entry(BORE, "44 mm", "measured")), Wall(BORE)).map
    assert made is not None
    return made


def drawn(ports: PortMap, *, is_outside: bool) -> Wrapped:
    """Its template."""
    return Wrapped(ports, Wrap(BORE, PAPER, widest_seam(ports), is_outside))


def lines_of(pdf: bytes) -> Lines:
    """Every stroke of the only page: places in mm, right and down, and whether it is closed."""
    reader = PdfReader(io.BytesIO(pdf))
    (page,) = reader.pages
    top, now, stack, found = float(page.mediabox.height), np.eye(3), [], []
    places: list[tuple[float, float]] = []
    closed = False
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        if operator == b"q":
            stack.append(now)
        elif operator == b"Q":
            now = stack.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = (float(one) for one in operands)
            now = np.array([(a, b, 0.0), (c, d, 0.0), (e, f, 1.0)]) @ now
        elif operator in {b"m", b"l"}:
            places = [*(places if operator == b"l" else ()), tuple(float(one) for one in operands)]
            closed = False
        elif operator == b"h":
            closed = True
        elif operator == b"S":
            on_page = np.column_stack([places, np.ones(len(places))]) @ now
            found.append((np.column_stack([on_page[:, 0], top - on_page[:, 1]]) / POINT, closed))
    return found


def paper_read(pdf: bytes) -> dict[str, NDArray[np.float64]]:
    """Windows of a template by its paper alone: radians clockwise from the flag, mm down."""
    lines = lines_of(pdf)
    level = [one for one, _ in lines if len(one) == 2 and abs(one[0, 1] - one[1, 1]) < 1e-3]
    deck = max(level, key=lambda one: float(np.ptp(one[:, 0])))
    flag = next(one for one, closed in lines if closed and len(one) == 3)
    staff = max(set(np.round(flag[:, 0], 3)), key=list(np.round(flag[:, 0], 3)).count)
    tip = max(flag[:, 0], key=lambda x: abs(x - staff))
    by_mm = math.copysign(2.0 * math.pi / float(np.ptp(deck[:, 0])), tip - staff)
    windows = sorted((one for one, closed in lines if closed and len(one) > 4),
                     key=lambda one: float(one[:, 1].min()))  # fmt: skip
    origin = np.array([staff, deck[0, 1]])
    return {name: (one - origin) * (by_mm, 1.0) for name, one in zip(NAMES, windows, strict=True)}


def clockwise(one: float, other: float) -> float:
    """How far another angle lies clockwise of one, in degrees, within half a turn."""
    return math.degrees((other - one + math.pi) % (2.0 * math.pi) - math.pi)


def middle(points: NDArray[np.float64]) -> float:
    """Angle of the middle of a window."""
    return float(points[:, 0].min() + points[:, 0].max()) / 2.0


def test_a_rubbing_keeps_right_to_the_right(rubbed: PortMap) -> None:
    """Where the sheet was rubbed to the right of the exhaust, the map lies clockwise of it."""
    shapes = small_shapes()
    for one, other in pairwise((*NAMES, NAMES[0])):
        along = (shapes[other].centre - shapes[one].centre) * 1e3
        true = (along / FLAT * 360.0 + 180.0) % 360.0 - 180.0
        first, second = rubbed.port(one), rubbed.port(other)
        assert first is not None
        assert second is not None
        assert clockwise(first.middle, second.middle) == pytest.approx(true, abs=0.5)


@pytest.mark.parametrize("is_outside", [False, True])
def test_a_template_printed_and_read_back_has_every_port_on_its_side(
    rubbed: PortMap, *, is_outside: bool
) -> None:
    """Inside the right runs clockwise, outside the left; outlines come back within 0.1 mm."""
    told = drawn(rubbed, is_outside=is_outside)
    pdf = pdf_of(sheets_of(told, TITLE, paper="a4"), title="ports")
    back = paper_read(pdf)
    on_paper = [one for one, closed in lines_of(pdf) if closed and len(one) > 4]
    exhaust, right = sorted(on_paper, key=lambda one: float(one[:, 1].min()))[:2]
    away = (middle(right) - middle(exhaust)) * (-1.0 if is_outside else 1.0)
    length = math.pi * (44.1 if is_outside else 43.9)
    assert away % length == pytest.approx(104.4 / 360.0 * length, abs=0.3)
    for name in NAMES:
        port = rubbed.port(name)
        assert port is not None
        assert apart(back[name], port) < 0.1


@pytest.mark.parametrize("is_outside", [False, True])
def test_drawings_of_both_views_come_back_to_one_map(rubbed: PortMap, *, is_outside: bool) -> None:
    """DXF and SVG, named or not by anybody: the same port on the same side, within 0.1 mm."""
    told = drawn(rubbed, is_outside=is_outside)
    for name, text in (("a.dxf", wrap_dxf(told)), ("a.svg", wrap_svg(told, TITLE))):
        read = outlines_of(name, text.encode(), Asked())
        assert read.is_mirrored is is_outside
        for one in read.outlines:
            port = rubbed.port(one.name)
            assert port is not None
            assert apart(one.points * (1.0, 1e3), port) < 0.1


def apart(points: NDArray[np.float64], port: MappedPort) -> float:
    """Farthest that an outline, radians and mm, lies off a port's, in mm along the wall."""
    turns = round((middle(points) - port.middle) / (2.0 * math.pi))
    scale = np.array([BORE * 500.0, 1.0])
    found = (points - (turns * 2.0 * math.pi, 0.0)) * scale
    wanted = port.points * (BORE * 500.0, 1e3)
    gaps = np.hypot(*(found[:, None, :] - wanted[None, :, :]).transpose(2, 0, 1))
    return float(max(gaps.min(axis=0).max(), gaps.min(axis=1).max()))
