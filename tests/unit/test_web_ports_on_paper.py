"""The page of the ports on paper and its commands: what they give, keep and refuse."""

from __future__ import annotations

import io
import json
import math
from collections.abc import Iterator
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from click.testing import CliRunner
from pypdf import PdfReader
from starlette.testclient import TestClient

from sleevewright.cli.main import main
from sleevewright.jobs.outlinetext import outline_of_text
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import look
from sleevewright.services.wrap_files import told_of, wanted_of
from sleevewright.services.wraps import wrap_of
from sleevewright.sheets.wrap_dxf import wrap_dxf
from sleevewright.web.app import create_app
from wrapped_ports import apart, demo_bench, ported, wrapped

PAGE = "/jobs/D-131/1/found/paper"
FILES = "/jobs/D-131/1/paper"
API = "/api/jobs/D-131/1/outlines"


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """A bench with the invented ported cylinder."""
    made = demo_bench(tmp_path_factory.mktemp("paper") / "data")
    yield made
    made.close()


@pytest.fixture(scope="module")
def client(bench: Bench) -> TestClient:
    """A client of it."""
    return TestClient(create_app(bench), base_url="http://127.0.0.1:8000")


def test_the_page_shows_strip_figures_and_files(client: TestClient) -> None:
    """Handedness in words, the length with its doubt and formula, three files and the rim."""
    text = client.get(PAGE).text
    assert "VIEW FROM INSIDE: printed side to the axis" in text
    assert "208.445" in text  # pi (66.45 - 0.10), by hand 208.4447
    assert "pi (D - t)" in text
    for kind in ("pdf", "svg", "dxf"):
        assert f"{FILES}/ports.{kind}" in text
    assert "rim.pdf" in text
    assert "Measure both bars before you trust this sheet." in text
    outside = client.get(f"{PAGE}?view=outside").text
    assert "OUTSIDE, MIRRORED" in outside


@pytest.mark.parametrize("stage", ["found", "ready", "ports"])
def test_each_stage_of_the_ports_leads_there(client: TestClient, stage: str) -> None:
    """A press on the page of the stage."""
    assert f"/jobs/D-131/1/{stage}/paper" in client.get(f"/jobs/D-131/1/{stage}").text


@pytest.mark.parametrize(
    ("query", "match"),
    [
        ("thickness=1", "0.02 to 0.5 mm"),
        ("thickness=0.1&eight=0.8", "one sheet or eight layers"),
        ("seam=-112", "seam through a port, rear left"),
        ("bar_across=99.8", "measured bar down"),
        ("bar_across=95&bar_down=100", "97 to 103 mm"),
        ("bar_across=101.5&bar_down=99.5", "differ by at most"),
        ("map=left", "nothing told"),
        ("map=nonsense", "map"),
        ("paper=a0", "a4 or letter"),
        ("thickness=thick", "thickness of the paper"),
    ],
)
def test_what_cannot_be_is_refused_and_kept(client: TestClient, query: str, match: str) -> None:
    """The page comes back with its words, what was typed still in it."""
    answer = client.get(f"{PAGE}?{query}")
    assert answer.status_code == 422
    assert match in answer.text
    name, _, text = query.split("&", maxsplit=1)[0].partition("=")
    if name in ("thickness", "seam", "bar_across"):
        assert f'name="{name}" value="{text}"' in answer.text


def test_files_are_what_they_are_called(client: TestClient) -> None:
    """A PDF of one sheet, an SVG in mm, a DXF of six ports; the rim's scale on two sheets."""
    pdf = client.get(f"{FILES}/ports.pdf?map=supplied&view=outside&paper=letter")
    assert pdf.headers["content-type"] == "application/pdf"
    words = PdfReader(io.BytesIO(pdf.content)).pages[0].extract_text()
    assert "OUTSIDE, MIRRORED" in words
    assert "top of the flange" in words
    assert 'height="' in client.get(f"{FILES}/ports.svg").text
    grind = client.get(f"{FILES}/ports.pdf?map=grind")
    assert "eyes, lungs and ears" in PdfReader(io.BytesIO(grind.content)).pages[0].extract_text()
    document = ezdxf.read(io.StringIO(client.get(f"{FILES}/ports.dxf").text))
    assert len(document.modelspace().query('LWPOLYLINE[layer=="PORTS"]')) == 6
    rim = PdfReader(io.BytesIO(client.get(f"{FILES}/rim.pdf").content))
    assert len(rim.pages) == 2
    assert "SEEN FROM THE DECK" in rim.pages[0].extract_text()


def test_the_sleeve_is_drawn_from_the_top_of_its_flange(bench: Bench) -> None:
    """Its depths are those that were told of it, whatever stands above the deck."""
    seen = look(bench, "D-131", 1)
    plan, told = told_of(bench, seen)
    made = wrap_of(plan, told, wanted_of(seen), {"map": "supplied"})
    port = made.wrapped.ports.port("rear left")
    assert port is not None
    assert port.roof == pytest.approx(58.80e-3, abs=1e-9)


def test_outlines_of_a_drawing_become_a_map(client: TestClient, bench: Bench) -> None:
    """From a mirrored DXF of ours into the map of the casting: every window on its own side."""
    drawing = {"name": "ports.dxf", "text": wrap_dxf(wrapped(is_outside=True)), "map": "cast"}
    answer = client.post(API, json=drawing)
    assert answer.status_code == 201, answer.text
    folded = look(bench, "D-131", 1).folded
    for port in ported().ports:
        text = folded.text(f"port/{port.name}/cast.outline", cylinder=1)
        assert apart(np.array(outline_of_text(text)), port.points) < 1.2e-6
    shown = client.get(f"{PAGE}?map=cast")
    assert shown.status_code == 200
    assert "rear left" in shown.text


def test_windows_without_names_are_offered_in_their_order(client: TestClient) -> None:
    """The refusal lists where each lies; with names told they are kept."""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" '
        'viewBox="0 0 200 100"><path id="path1" d="M10 30h10v8h-10z"/></svg>'
    )
    told = {"name": "a.svg", "text": svg, "view": "inside", "diameter": "66.4 mm", "map": "left"}
    refused = client.post(API, json=told)
    assert refused.status_code == 422
    assert f"at +{math.degrees(30.0 / 66.4):.1f} deg" in refused.text
    assert client.post(API, json={**told, "names": "bleed"}).status_code == 201
    wrong = client.post(API, json={**told, "names": "bleed", "map": "stock"})
    assert wrong.status_code == 422


def test_a_drawing_that_is_kept_again_replaces_what_it_told(
    client: TestClient, bench: Bench
) -> None:
    """The same window a millimetre further: one outline stands, and what was not read is said."""
    for x in (10, 11):
        svg = (
            '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" '
            f'viewBox="0 0 200 100"><path id="drain" d="M{x} 30h10v8h-10z"/>'
            '<path display="none" d="M70 30h10v8h-10z"/></svg>'
        )
        told = {"name": "a.svg", "text": svg, "view": "inside", "diameter": "66.4 mm",
                "map": "left"}  # fmt: skip
        answer = client.post(API, json=told)
        assert answer.status_code == 201, answer.text
    folded = look(bench, "D-131", 1).folded
    heads = folded.heads("port/drain/left.outline", cylinder=1)
    assert len(heads) == 1
    corners = np.array(outline_of_text(heads[0].text))
    assert corners[:, 0].min() == pytest.approx(11.0 / 33.2, abs=2e-5)  # whole micrometres
    assert "passed over: 1" in client.get(answer.json()["href"]).text


@pytest.mark.slow
def test_both_commands(tmp_path: Path) -> None:
    """A map into a file, a file listed and kept, the refusals in one line."""
    folder = tmp_path / "data"
    demo_bench(folder).close()
    out = tmp_path / "ports.dxf"

    def run(*words: str) -> tuple[int, str]:
        done = CliRunner().invoke(main, [*words, "--data", str(folder)])
        return done.exit_code, done.output

    code, said = run("wrap", "D-131", "--map", "grind", "--out", str(out))
    assert code == 0, said
    assert "ports.dxf" in said
    code, said = run("outlines", str(out), "--json")
    assert code == 0
    assert {one["name"] for one in json.loads(said)["ports"]} == {
        port.name for port in ported().ports
    }
    code, said = run("outlines", str(out), "--job", "D-131", "--map", "left")
    assert (code, "6 outlines more" in said) == (0, True), said
    for words, match in (
        (("wrap", "D-131", "--out", str(tmp_path / "ports.txt")), ".pdf, .svg, .dxf"),
        (("wrap", "D-131", "--rim", "--out", str(out)), "paper alone"),
        (("outlines", str(tmp_path / "none.dxf")), "none.dxf"),
    ):
        code, said = run(*words)
        assert code == 2
        assert match in said
        assert "Traceback" not in said
