"""The page of a port map without a browser: what stands on it, what a move answers, bad input."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator, Mapping
from hashlib import sha256

import pytest
from starlette.testclient import TestClient

from benches import app_in
from sleevewright.services.bench import Bench
from sleevewright.services.entry import take
from sleevewright.services.jobs import open_job

NUMBER, FLAWED, PLAIN = "M-7", "M-8", "M-9"
TOLD = {
    "ports.found.on": "66.40 mm",
    "port/exhaust/found.roof": "37.50 mm",
    "port/exhaust/found.floor": "72.00 mm",
    "port/exhaust/found.width": "42.00 mm",
    "port/exhaust/found.angle": "0 deg",
    "port/main left/found.roof": "56.00 mm",
    "port/main left/found.floor": "71.60 mm",
    "port/main left/found.width": "24.00 mm",
    "port/main left/found.angle": "-70 deg",
    "port/main right/found.roof": "56.60 mm",
    "port/main right/found.floor": "71.60 mm",
    "port/main right/found.width": "24.00 mm",
    "port/main right/found.angle": "70 deg",
}

WRONG = {
    "port/main right/found.angle": "48 deg",
    "port/boost/found.roof": "56 mm",
    "port/boost/found.floor": "71.6 mm",
    "port/boost/found.width": "20 mm",
}
"""Main right reaches over the exhaust; the boost port lies nowhere yet."""

PAGE = f"/jobs/{NUMBER}/1/found/map"
MOVED = f"/api/jobs/{NUMBER}/1/found/map/moved"


def tell_all(bench: Bench, number: str, values: Mapping[str, str]) -> None:
    """Open a job and tell values of it, as a device hands them in."""
    open_job(bench, number, {"units": "metric", "engine_kind": "two-stroke"})
    entries = [
        {"id": sha256(f"{number}{n}".encode()).hexdigest()[:32], "job": number, "n": n,
         "kind": "value", "version": 1,
         "body": {"cylinder": 1, "cell": cell, "text": text, "source": "drag"}}
        for n, (cell, text) in enumerate(values.items(), 1)
    ]  # fmt: skip
    told = take(bench, f"tablet-{number}", entries)
    assert all(one.state == "kept" for one in told.answers)


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A client of a bench with one job whose map was told; left and right differ by 0.6 mm."""
    app = app_in(tmp_path_factory.mktemp("map") / "data")
    for number, values in ((NUMBER, TOLD), (FLAWED, TOLD | WRONG)):
        tell_all(app.state.bench, number, values)
    open_job(app.state.bench, PLAIN, {"units": "inch", "engine_kind": "compressor"})
    with TestClient(app, base_url="http://127.0.0.1:8000") as found:
        yield found
    app.state.bench.close()


def names_from_left(text: str) -> list[str]:
    """Names of the ports in the order in which they stand on the wide drawing."""
    said = re.search(
        r'aria-label="Ports unrolled, seen from \w+, from left to right: ([^"]*)"', text
    )
    assert said is not None
    return said[1].split(", ")


def test_the_map_is_drawn_from_inside_and_mirrored_with_its_words(client: TestClient) -> None:
    """Main left, told at -70 degrees, lies left of the exhaust from inside, right from outside."""
    inside = client.get(PAGE, params={"port": "main left"})
    assert inside.status_code == 200
    assert names_from_left(inside.text) == ["main left", "exhaust", "main right"]
    assert "clockwise seen from the deck runs to the right" in inside.text
    outside = client.get(PAGE, params={"port": "main left", "view": "outside"}).text
    assert names_from_left(outside) == ["main right", "exhaust", "main left"]
    assert "clockwise seen from the deck runs to the left" in outside
    part = client.get(PAGE, params={"part": "answers", "port": "exhaust"}).text
    assert part.lstrip().startswith("<div data-part")
    assert "beyond twice its doubt" in part


def test_every_width_says_by_chord_or_by_arc(client: TestClient) -> None:
    """The entry says how it is told, the figures give the other two beside it."""
    text = client.get(PAGE, params={"port": "exhaust"}).text
    assert "Width at the roof, chord, by caliper" in text
    for label in ("Width by chord", "Width by arc", "Width by angle"):
        assert label in text


def test_the_stage_leads_to_its_map(client: TestClient) -> None:
    """A press on the page of As found; other maps are empty and say what to do."""
    assert f'href="{PAGE}"' in client.get(f"/jobs/{NUMBER}/1/found").text
    for stage in ("choice", "sleeve", "ready", "ports"):
        empty = client.get(f"/jobs/{NUMBER}/1/{stage}/map")
        assert empty.status_code == 200
        assert "Nothing is drawn yet" in empty.text
    assert client.get(f"/jobs/{NUMBER}/1/rings/map").status_code in (404, 422)
    assert client.get("/jobs/none/1/found/map").status_code == 404


def test_a_move_answers_and_writes_nothing(client: TestClient) -> None:
    """Texts for cells, the reading that stands in the way, the outline; the record stays."""
    before = client.get(f"/api/jobs/{NUMBER}/records").json()["last"]
    asked = {"port": "exhaust", "handle": "roof", "down": -0.0005}
    told = client.post(MOVED, json=asked).json()
    assert told["cells"] == [["port/exhaust/found.roof", "37.00 mm"]]
    assert told["read"] == ["Roof was read as 37.50 mm"]
    assert told["path"].startswith("M")
    assert "Crown reaches" not in told["figures"]  # no stroke was told
    assert client.get(f"/api/jobs/{NUMBER}/records").json()["last"] == before


def test_a_move_that_cannot_be_says_why(client: TestClient) -> None:
    """A roof through the floor, a port that is not there, a field too many letters long."""
    through = client.post(MOVED, json={"port": "exhaust", "handle": "roof", "down": 0.05}).json()
    assert "Were roof and floor swapped?" in through["refused"]
    nowhere = client.post(MOVED, json={"port": "boost", "handle": "roof"}).json()
    assert "a port with roof, floor and width told" in nowhere["refused"]
    long = client.post(MOVED, json={"port": "x" * 80, "handle": "roof"})
    assert long.status_code == 422
    empty = f"/api/jobs/{NUMBER}/1/sleeve/map/moved"
    lacking = client.post(empty, json={"port": "exhaust", "handle": "roof"}).json()
    assert "It still needs" in lacking["refused"] or "a map that can be drawn" in lacking["refused"]


def test_a_flawed_map_is_never_shown_in_silence(client: TestClient) -> None:
    """The stage and its map say which two overlap; a port without an angle is left off it."""
    said = "exhaust and main right overlap by"
    for address in (f"/jobs/{FLAWED}/1/found", f"/jobs/{FLAWED}/1/found/map"):
        assert said in client.get(address).text
    page = client.get(f"/jobs/{FLAWED}/1/found/map", params={"port": "boost"}).text
    assert names_from_left(page) == ["main left", "exhaust", "main right"]
    assert "boost: its middle round the bore; until then it is not on the map" in page
    assert 'id="handle-roof"' in page


def test_a_roof_may_snap_to_those_of_other_ports(client: TestClient) -> None:
    """Main left's roof, told at 56.00 mm, lies 0.6 mm above main right's."""
    page = client.get(PAGE, params={"port": "main right"}).text
    found = re.search(r'id="handle-roof"[^>]*data-snaps="([^"]*)"', page)
    assert found is not None
    snaps = {words: depth for depth, words in json.loads(html.unescape(found[1]))}
    assert snaps == pytest.approx({"exhaust": -0.0191, "main left": -0.0006}, abs=1e-9)


def test_a_cylinder_without_ports_has_no_map(client: TestClient) -> None:
    """No press leads to one, and its address says what it is for."""
    assert "Map of the ports" not in client.get(f"/jobs/{PLAIN}/1/found").text
    nowhere = client.get(f"/jobs/{PLAIN}/1/found/map")
    assert nowhere.status_code == 404
    assert "a job whose cylinder has ports" in nowhere.text


def test_an_uneven_pair_is_told_at_its_stage(client: TestClient) -> None:
    """Main right's roof was told 0.60 mm lower than main left's: far beyond some 0.13 mm."""
    text = client.get(f"/jobs/{NUMBER}/1/found").text
    assert "The roof of main right lies 0.600 mm lower than that of main left" in text
    assert "lies 0.600 mm lower than that of main right" not in text
