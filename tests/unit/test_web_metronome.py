"""The metronome: its table of rates, its page with and without a job, what it refuses."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from benches import EXAMPLES, app_in
from sleevewright.errors import InputError
from sleevewright.services.metronome import STEP, metronome, words_of

TEXTS = {"bore": "2.7555", "rpm": "150", "stroke": "3.0", "angle": "45"}
WHOLE = "/trial/crosshatch?bore=2.7555&rpm=150&stroke=3.0&angle=45"


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A client of a bench with one worked job."""
    app = app_in(tmp_path_factory.mktemp("hatch"), [EXAMPLES / "demo-air-175.toml"])
    with TestClient(app, base_url="http://127.0.0.1:8000") as found:
        yield found
    app.state.bench.close()


def test_the_table_begins_at_the_wanted_angle_and_rises_by_even_steps() -> None:
    """Ten steps are five per cent; each rate has the angle in the middle of a crank's stroke."""
    found = metronome(TEXTS, "inch")
    assert found.rates[found.at].included == "45.0"
    assert found.rates[found.at + 10].cycles / found.rates[found.at].cycles == pytest.approx(1.05)
    for before, after in itertools.pairwise(found.rates):
        assert after.cycles / before.cycles == pytest.approx(STEP, rel=1e-5)
    for rate in found.rates[:: len(found.rates) // 20]:
        by_hand = 2 * math.degrees(math.atan(6.0 * rate.cycles / (math.pi * 2.7555 * 150.0)))
        read = 2 * math.degrees(math.atan(0.5 * math.pi * math.tan(math.radians(by_hand / 2))))
        assert float(rate.mean) == pytest.approx(by_hand, abs=0.051)
        assert float(rate.included) == pytest.approx(read, abs=0.051)
        assert float(rate.included) + float(rate.axis) == pytest.approx(180.0, abs=0.11)
        assert float(rate.line) == pytest.approx(read / 2.0, abs=0.051)
    even = metronome({**TEXTS, "bore": "2.75", "drive": "even"}, "inch")
    assert even.rates[even.at].figure == "89"


def test_a_bare_number_has_the_unit_of_the_page() -> None:
    """Millimetres on a metric page; a unit that is typed stays."""
    texts = {"bore": "70", "stroke": "3 in", "rpm": "150", "angle": ""}
    assert words_of(texts, "metric") == ("bore=70 mm", "stroke=3 in", "rpm=150")


def test_a_hone_that_hardly_turns_is_refused() -> None:
    """A stroke of a metre at 5 turns a minute would run along the bore."""
    with pytest.raises(InputError, match="angle"):
        metronome({"bore": "10 mm", "rpm": "5", "stroke": "1 m", "cycles": "600"}, "inch")


def test_the_page_without_a_job(client: TestClient) -> None:
    """Figures, both conventions, the spindle's caution, the table that the device looks up."""
    page = client.get(WHOLE)
    assert page.status_code == 200
    for words in ("data-cycles>57<", "45.0", "135.0", "about the axis", "No gloves", 'id="rates"'):
        assert words in page.text, words


def test_the_empty_page_asks(client: TestClient) -> None:
    """Nothing beats before bore, spindle and stroke are told."""
    page = client.get("/trial/crosshatch?bore=2.75")
    assert page.status_code == 200
    assert "data-start" not in page.text
    assert 'value="2.75"' in page.text


@pytest.mark.parametrize(
    ("field", "text"), [("bore", "2.75 furlongs"), ("rpm", "0"), ("angle", "200"), ("cycles", "x")]
)
def test_a_refusal_stands_beside_its_field(client: TestClient, field: str, text: str) -> None:
    """The entry stays, the message says what is taken, and nothing beats."""
    page = client.get("/trial/crosshatch", params={**TEXTS, field: text})
    assert page.status_code == 422
    assert f'id="hone-{field}-message"' in page.text
    assert f'value="{text}"' in page.text
    assert "data-start" not in page.text


def test_the_page_of_a_job_knows_its_bore(client: TestClient) -> None:
    """The finished bore of the worked job stands there; what is asked in the address goes first."""
    page = client.get("/jobs/D-175/1/hone/crosshatch?rpm=150&stroke=3.0in")
    assert page.status_code == 200
    assert "2.4020 in" in page.text
    assert "data-start" in page.text
    assert client.get("/jobs/D-175/1/honefit/crosshatch").status_code == 200
    assert client.get("/jobs/D-175/1/drop/crosshatch").status_code in (404, 422)


def test_the_stage_leads_to_its_metronome(client: TestClient) -> None:
    """One press at both stages that hone, and at no other."""
    for stage in ("hone", "honefit"):
        assert f"/jobs/D-175/1/{stage}/crosshatch" in client.get(f"/jobs/D-175/1/{stage}").text
    assert "/crosshatch" not in client.get("/jobs/D-175/1/parent").text
