"""The sheet of the ports before and after: every port, no claim too many, blanks left blank."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
from shapely.geometry import Polygon

from ported_jobs import PORTED, also, as_left, ported_bench, told_of
from sleevewright.errors import InputError
from sleevewright.planning.before_after import BeforeAfter, Crank, before_after
from sleevewright.services.before_after import before_after_paper, ports_before_after
from sleevewright.services.bench import Bench
from sleevewright.services.port_maps import map_of
from sleevewright.sheets.before_after import Sheet, facts_of

NAMES = ("Exhaust", "Main left", "Main right", "Rear left", "Rear right", "Boost")
CLAIMS = ("stock", "restored", "standard", "as new")


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """The barrel as found, its sleeve as supplied; nothing was cut."""
    bench = ported_bench(tmp_path_factory.mktemp("found"))
    yield bench
    bench.close()


@pytest.fixture(scope="module")
def left(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """The barrel as found and as left, in inches, without the map of the sleeve."""
    bench = ported_bench(tmp_path_factory.mktemp("left"), units="inch", without=("supplied",))
    also(bench, as_left())
    yield bench
    bench.close()


def printed(bench: Bench) -> str:
    """The words of the sheet, and that it is one page."""
    paper = pypdf.PdfReader(io.BytesIO(before_after_paper(bench, PORTED)))
    assert len(paper.pages) == 1
    return " ".join(paper.pages[0].extract_text().split())


def compared(bench: Bench) -> BeforeAfter:
    """What the sheet is made of."""
    plan, told = told_of(bench)
    return ports_before_after(plan, told).found


def test_before_work_the_sheet_has_every_port_and_claims_nothing(found: Bench) -> None:
    """Six ports, as found and as supplied; what is to come is blank; nothing is called stock."""
    text = printed(found)
    for name in NAMES:
        assert name in text
    assert re.search(r"When done: ports matched to .*as found\.", text)
    assert "as left: not told yet" in text
    assert "invented example" in text
    assert not [word for word in CLAIMS if word in text.lower()]
    assert "31.9" in text  # blowdown of the invented engine as found
    assert "121.7" in text  # the low roof of the sleeve opens late, before it is clocked


def test_after_work_the_sheet_has_left_and_changes(left: Bench) -> None:
    """As found and as left in inches, with changes; still nothing is called stock."""
    text = printed(left)
    assert re.search(r"Ports matched to .*as found\.", text)
    assert "When done" not in text
    assert not [word for word in CLAIMS if word in text.lower()]
    assert "1.476" in text  # 37.50 mm
    assert "sleeve as supplied: not told yet" in text
    assert "Rear: left after right" in text
    rear = next(one for one in compared(left).ports if one.name == "rear right")
    assert rear.figures["left"].opens > rear.figures["found"].opens  # type: ignore[operator] # timed
    assert rear.angle_area_change == pytest.approx(-0.013, abs=0.008)
    assert "Corner radii were not all told" not in text


def test_the_same_records_give_the_same_sheet(found: Bench) -> None:
    """Byte for byte, once the seal of the paper is left out."""
    first, second = (before_after_paper(found, PORTED, is_sealed=False) for _ in range(2))
    assert first == second


def test_figures_are_those_of_other_roads(found: Bench) -> None:
    """Areas by shapely; opening by the places of the pins; angle-area by a fine sum of slices."""
    plan, told = told_of(found)
    made = compared(found)
    port_map = map_of(plan, told, "found").read.map
    assert port_map is not None
    stroke, rod = 0.072, 0.125
    for one in made.ports:
        port, figures = port_map.port(one.name), one.figures["found"]
        assert port is not None
        assert figures.opens is not None
        shape = Polygon(port.along(port_map.diameter))
        assert figures.area == pytest.approx(shape.area, rel=1e-12)
        across = stroke / 2.0 * math.sin(figures.opens)
        drop = stroke / 2.0 + rod - stroke / 2.0 * math.cos(figures.opens)
        drop -= math.sqrt(rod**2 - across**2)
        assert drop == pytest.approx(port.roof, abs=1e-6 + 0.1e-3)
    exhaust, main = made.ports[0].figures["found"], made.ports[1].figures["found"]
    assert math.degrees(exhaust.lasts or 0.0) == pytest.approx(191.9, abs=0.1)
    assert math.degrees(main.lasts or 0.0) == pytest.approx(128.2, abs=0.1)


def test_without_a_crank_heights_and_areas_are_still_told(found: Bench) -> None:
    """No stroke, no timing: the figures stay empty and the sheet says why."""
    plan, told = told_of(found)
    port_map = map_of(plan, told, "found").read.map
    assert port_map is not None
    made = before_after({"found": port_map}, {}, None)
    assert all(one.figures["found"].opens is None for one in made.ports)
    assert all(one.figures["found"].area > 0.0 for one in made.ports)
    facts = facts_of(made, Sheet("J-1", "barrel", "1 of 1", "", "metric", matched="x"))
    assert "No timing: stroke and rod were not told." in facts["notes"]  # type: ignore[operator] # a list
    assert facts["blowdown"][0]["cells"][0]["figure"] == ""  # type: ignore[index] # a list


def test_a_roof_that_the_piston_never_passes_has_no_timing(found: Bench) -> None:
    """A stroke that is too short: the timing of that port stays empty, nothing fails."""
    plan, told = told_of(found)
    port_map = map_of(plan, told, "found").read.map
    assert port_map is not None
    kinds = {"exhaust": "exhaust"}
    made = before_after({"found": port_map}, kinds, Crank(0.050, 0.1))
    assert made.ports[0].figures["found"].opens is not None
    assert made.ports[1].figures["found"].opens is None
    assert made.blowdown == {}


def test_what_is_drawn_keeps_its_proportions_and_its_hand(found: Bench) -> None:
    """One scale for all ports, and each on its own side of the one as found.

    Clocked, the sleeve's exhaust lies 0.9 degrees clockwise of where it belongs, which is to the
    right seen from the axis, and its rear left 0.8 degrees to the left.
    """
    made = compared(found)
    facts = facts_of(made, Sheet("J-1", "barrel", "1 of 1", "2026-11-30", "metric", matched="x"))
    ports = facts["ports"]
    assert isinstance(ports, list)
    scales = []
    for port, one in zip(ports, made.ports, strict=True):
        lines = {line["ink"]: line["points"] for line in port["outlines"]}
        drawn = Polygon(lines["dotted"]).area
        scales.append(drawn / (one.figures["found"].area * 1e6))
        middles = {ink: sum(p[0] for p in line) / len(line) for ink, line in lines.items()}
        if one.name in ("exhaust", "rear left"):
            is_right = middles["dashed"] > middles["dotted"]
            assert is_right == (one.name == "exhaust"), one.name
        assert all(
            0.0 <= x <= 48.0 and 0.0 <= y <= 27.0 for line in lines.values() for x, y in line
        )
    assert max(scales) == pytest.approx(min(scales), rel=2e-3)


def test_a_job_without_a_map_is_refused_with_what_to_do(tmp_path: Path) -> None:
    """No map, no sheet: the refusal names what to tell first."""
    bench = ported_bench(tmp_path, without=("port/", "ports."))
    with pytest.raises(InputError, match="Tell roof, floor and width"):
        before_after_paper(bench, PORTED)
    bench.close()


def test_words_of_other_sources_are_printed_as_they_were_told(found: Bench) -> None:
    """Where ports were made to several sources, the line is theirs; it claims no work undone."""
    made = compared(found)
    told = "Exhaust: to the manual's degrees; boost: matched to as found."
    facts = facts_of(made, Sheet("J-1", "barrel", "1 of 1", "", "metric", matched=told))
    assert facts["matched"] == f"When done: e{told[1:]}"
    facts = facts_of(made, Sheet("J-1", "barrel", "1 of 1", "", "metric", lost="rear left roof"))
    assert facts["matched"] == "When done: ports matched to as found."
    assert facts["lost"] == "rear left roof"
