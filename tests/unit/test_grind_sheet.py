"""The grind sheet on paper: true size on both axes, every edge on its list."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from fastapi.testclient import TestClient
from pypdf import PdfReader
from pypdf.generic import ContentStream
from shapely.geometry import Polygon

from grind_jobs import NUMBER, cell, grind_bench, map_in, plan_in
from ported_jobs import ported_bench
from sleevewright.core.ports.outline import outline_area
from sleevewright.errors import StateError
from sleevewright.planning.answers import Plan
from sleevewright.services.demo import tell
from sleevewright.services.jobs import open_job
from sleevewright.sheets.grind import grind_sheet
from sleevewright.web.app import Serving, create_app

POINT = 25.4 / 72.0
"""Millimetres of a point of PDF (ISO 32000-1, 8.3.2.3: one seventy-second of an inch)."""


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Plan]:
    """The plan of the invented ported job."""
    bench = grind_bench(tmp_path_factory.mktemp("sheet") / "bench")
    yield plan_in(bench)
    bench.close()


def strokes(page: object, reader: PdfReader) -> list[tuple[float, float]]:
    """Straight strokes of a page: how far across and how far down, in millimetres of paper."""
    content = ContentStream(page.get_contents(), reader)  # type: ignore[attr-defined]  # a page
    now, stack, found = (1.0, 0.0, 0.0, 1.0), [], []
    start = last = (0.0, 0.0)
    for operands, operator in content.operations:
        numbers = [float(one) for one in operands if isinstance(one, int | float)]
        if operator == b"q":
            stack.append(now)
        elif operator == b"Q":
            now = stack.pop()
        elif operator == b"cm":
            a, b, c, d = numbers[:4]
            now = (
                a * now[0] + b * now[2], a * now[1] + b * now[3],
                c * now[0] + d * now[2], c * now[1] + d * now[3],
            )  # fmt: skip
        elif operator == b"m":
            start = last = (numbers[0], numbers[1])
        elif operator == b"l":
            last = (numbers[0], numbers[1])
        elif operator == b"S":
            x, y = last[0] - start[0], last[1] - start[1]
            found.append(
                (abs(x * now[0] + y * now[2]) * POINT, abs(x * now[1] + y * now[3]) * POINT)
            )
    return found


def white_areas(page: object, reader: PdfReader) -> list[float]:
    """Areas of the white polygons of a page, in square millimetres of paper."""
    content = ContentStream(page.get_contents(), reader)  # type: ignore[attr-defined]  # a page
    places: list[tuple[float, float]] = []
    found, is_white = [], False
    for operands, operator in content.operations:
        if operator in (b"rg", b"g", b"scn"):
            is_white = all(float(one) == 1.0 for one in operands if isinstance(one, int | float))
            is_white = is_white and len(operands) > 0 and not isinstance(operands[-1], str)
        elif operator == b"m":
            places = [(float(operands[0]), float(operands[1]))]
        elif operator == b"l":
            places.append((float(operands[0]), float(operands[1])))
        elif operator in (b"f", b"f*") and is_white:
            found.append(abs(outline_area(np.array(places))) * POINT**2)
    return found


def test_what_is_gone_at_a_corner_is_drawn_as_gone(tmp_path: Path) -> None:
    """A sleeve whose corners are squarer than wanted: white covers what both have, not a box.

    Both outlines have the same sides, so that a box would hide every corner that is gone.  The
    area that both share is that of shapely (GEOS).
    """
    names = ("radius", "width", "arch", "floor", "roof")
    sizes = ("1 mm", "41 mm", "0 mm", "71.5 mm", "38 mm")
    cells = [cell(f"port/exhaust/supplied.{a}", b) for a, b in zip(names, sizes, strict=True)]
    bench = ported_bench(tmp_path / "bench", without=tuple(f"exhaust/supplied.{a}" for a in names))
    tell(bench, NUMBER, cells)
    made = plan_in(bench)
    bench.close()
    told = map_in(made)
    half = told.target.diameter * 500.0
    one, other = (
        Polygon(places.port("exhaust").points * [half, 1e3])  # type: ignore[union-attr]  # it is there
        for places in (told.target, told.now)
    )
    both, gone = one.intersection(other), other.difference(one).area
    assert gone > 20.0  # corners of 9 mm and of 1 mm
    reader = PdfReader(io.BytesIO(grind_sheet(made)))
    assert min(abs(one - both.area) for one in white_areas(reader.pages[0], reader)) < 0.05
    assert told.areas["exhaust"].gone * 1e6 == pytest.approx(gone, abs=0.05)


def test_bars_are_fifty_millimetres_on_both_axes(plan: Plan) -> None:
    """Within 0.02 mm, as the strokes of the paper have it; and the wall is pi times its bore."""
    reader = PdfReader(io.BytesIO(grind_sheet(plan)))
    drawn = strokes(reader.pages[0], reader)
    across = [x for x, y in drawn if y < 1e-6]
    down = [y for x, y in drawn if x < 1e-6]
    assert any(abs(x - 50.0) < 0.02 for x in across)
    assert any(abs(y - 50.0) < 0.02 for y in down)
    assert any(abs(x - 3.14159265 * 66.45) < 0.02 for x in across)


def test_the_paper_is_a4_across_and_lists_every_edge(plan: Plan) -> None:
    """Each edge by name, the words of trust, from where it is seen, and the cautions."""
    reader = PdfReader(io.BytesIO(grind_sheet(plan)))
    box = reader.pages[0].mediabox
    assert (float(box.width) * POINT, float(box.height) * POINT) == pytest.approx(
        (297, 210), abs=0.1
    )
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for name in ("Rear left roof", "Exhaust left side", "Boost floor", "seen from inside"):
        assert name in text
    assert "measure it before you trust this sheet" in text
    assert "thermite" in text


def test_without_maps_there_is_no_sheet(plan: Plan) -> None:
    """A plan that has no list has no paper either, and says what it needs."""
    from dataclasses import replace

    bare = replace(plan, stages=(), _index={})
    with pytest.raises(StateError, match="without a grind list; this needs the ports as found"):
        grind_sheet(bare)


def test_the_paper_has_an_address_of_its_own(tmp_path: Path) -> None:
    """A PDF for a job with maps; for one without, a refusal that says what it needs."""
    bench = grind_bench(tmp_path / "bench")
    opening = {"title": "bare, invented", "units": "inch", "engine_kind": "two-stroke"}
    open_job(bench, "J-1", {**opening, "cylinders": 1})
    client = TestClient(create_app(bench, Serving()), base_url="http://localhost")
    made = client.get(f"/jobs/{NUMBER}/1/ports/grind.pdf")
    assert made.status_code == 200
    assert made.content.startswith(b"%PDF")
    assert "ports/grind.pdf" in client.get(f"/jobs/{NUMBER}/1/ports").text
    refused = client.get("/jobs/J-1/1/ports/grind.pdf")
    assert refused.status_code == 409
    assert "each port with its angle" in refused.text
    bench.close()


def test_the_same_plan_gives_the_same_paper(plan: Plan) -> None:
    """Not a byte differs, so that a sheet can be compared with its job."""
    assert grind_sheet(plan) == grind_sheet(plan)


def test_a_large_wall_is_cut_into_two_strips(tmp_path: Path) -> None:
    """A bore of 100 mm does not fit across A4: two pages of ports, no port cut."""
    from sleevewright.core.ports.mapped import PortMap
    from sleevewright.planning.grind_map import Crank, Rules, grind_map
    from sleevewright.planning.grind_told import GrindMap, GrindTold
    from sleevewright.sheets.grind import _ends, strips_of

    bench = grind_bench(tmp_path / "bench")
    known = plan_in(bench).answer("grind.map").value
    bench.close()
    assert isinstance(known, GrindMap)
    wide = PortMap(known.target.ports, 0.1)
    made = grind_map(
        GrindTold(wide, PortMap(known.now.ports, 0.1)), Rules(5e-5, 5e-5, 5e-4, 1.6),
        Crank(0.072, 0.125, 0.0),
    )  # fmt: skip
    assert made is not None
    (_, cut), (again, _) = strips_of(made)
    assert cut == again
    for port in (*made.target.ports, *made.now.ports):
        left, right = _ends(port, made.seam)
        assert not left < cut < right
