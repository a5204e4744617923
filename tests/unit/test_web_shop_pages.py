"""The pages of people, settings and gauges: what they show, what they take, what they refuse."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from sleevewright.core.gauges import gauge_kinds
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.devices import PairingDesk
from sleevewright.services.people import FORGOTTEN, add_person, name_of, people
from sleevewright.services.setting_specs import specs
from sleevewright.services.settings import change_setting, setting
from sleevewright.web.errors import answer_errors
from sleevewright.web.instruments.routes import router as instruments_router
from sleevewright.web.pair.guard import PairingGuard
from sleevewright.web.pair.routes import router as pair_router
from sleevewright.web.people.routes import router as people_router
from sleevewright.web.settings.routes import router as settings_router

PAGES = ("/people", "/settings", "/instruments", "/pair")
ROUTERS = (people_router, settings_router, instruments_router, pair_router)
MIC = {"kind": "micrometer", "name": "mic 2-3", "range": "2 to 3 in"}


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench of its own."""
    opened = open_bench(tmp_path / "data")
    yield opened
    opened.close()


def app_of(bench: Bench) -> FastAPI:
    """The four pages on a bench."""
    app = FastAPI()
    app.state.bench, app.state.folder = bench, bench.folder
    answer_errors(app)
    for router in ROUTERS:
        app.include_router(router)
    return app


@pytest.fixture
def client(bench: Bench) -> TestClient:
    """The bench's own screen."""
    return TestClient(app_of(bench), base_url="http://127.0.0.1:8175")


def fill(bench: Bench, client: TestClient) -> None:
    """Two people, a setting of the shop's own, two gauges of which one is overdue."""
    add_person(bench, "Ann <Example>", "4711")
    add_person(bench, "Bo")
    change_setting(bench, "least_hot", "0.8 thou", person="p1")
    dates = {"last_check": "2020-01-01", "next_due": "2021-01-01"}
    for told in (
        {**MIC, **dates},
        {"kind": "dial-bore-gauge", "name": "bore", "set_from": "mic 2-3"},
    ):
        assert client.post("/instruments", json=told).status_code == 200


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("is_filled", [False, True])
def test_a_page_has_what_every_page_has(
    bench: Bench, client: TestClient, path: str, is_filled: bool
) -> None:
    """One h1, a title block at the foot, labels for all fields, no style or script inside."""
    if is_filled:
        fill(bench, client)
    answer = client.get(path)
    text = answer.text
    assert answer.status_code == 200
    assert text.count("<h1") == 1
    assert '<html lang="en">' in text
    assert text.count("<main") == text.count("</main>") == text.count("<footer") == 1
    ids = re.findall(r'<(?:input|select)[^>]*\bid="([^"]+)"', text)
    assert sorted(re.findall(r'<label for="([^"]+)"', text)) == sorted(ids)
    everything = re.findall(r'\bid="([^"]+)"', text)
    assert len(everything) == len(set(everything))
    assert " style=" not in text
    assert not re.search(r"<script(?![^>]*\bsrc=)", text)
    assert not re.search(r"\bon[a-z]+=", text)
    fields = re.findall(r"<(?:input|select)[^>]*>", text)
    assert all('id="' in one or 'type="hidden"' in one for one in fields)


@pytest.mark.parametrize("path", PAGES[:3])
def test_a_browser_without_scripts_is_told(client: TestClient, path: str) -> None:
    """Presses that need the script are off until it runs, and the page says why."""
    text = client.get(path).text
    assert "<noscript>" in text
    assert "which this browser does not run" in text
    presses = re.findall(r"<button[^>]*>", text)
    assert presses
    assert all("disabled" in one for one in presses)


def test_people_are_entered_shown_and_forgotten(bench: Bench, client: TestClient) -> None:
    """By JSON: entered, renamed, PIN set, name removed; each answer leads back to the page."""
    made = client.post("/people", json={"name": "Ann"})
    assert (made.status_code, made.json()) == (
        201,
        {"person": "p1", "name": "Ann", "href": "/people"},
    )
    assert "No PIN is asked while one person works here alone" in client.get("/people").text
    client.post("/people", json={"name": "Bo", "pin": "4711"})
    text = client.get("/people").text
    assert "Each signature asks for the PIN" in text
    assert "no PIN: cannot sign yet" in text
    assert client.post("/people/p1", json={"name": "Anna"}).json()["name"] == "Anna"
    assert client.post("/people/p1/pin", json={"pin": "5822"}).status_code == 200
    wrong = client.post("/people/p1/pin", json={"pin": "1234", "old": "0000"})
    assert wrong.status_code == 422
    assert "the PIN of Anna" in wrong.json()["text"]
    assert client.post("/people/p1/forget", json={}).json()["name"] == FORGOTTEN
    assert "Anna" not in client.get("/people").text
    assert name_of(bench, "p1") == FORGOTTEN
    assert client.post("/people/p1/forget", json={}).status_code == 404


def test_a_name_is_shown_as_words(bench: Bench, client: TestClient) -> None:
    """What looks like a tag is no tag, on each page that shows it."""
    fill(bench, client)
    for path in ("/people", "/settings"):
        text = client.get(path).text
        assert "Ann <Example>" not in text
        assert "Ann &lt;Example&gt;" in text


def test_a_forgotten_pin_is_taken_away_on_the_benchs_own_screen_only(bench: Bench) -> None:
    """A tablet of the shop neither shows the press nor may use it."""
    add_person(bench, "Ann", "4711")
    desk = PairingDesk(bench)
    app = app_of(bench)
    app.state.desk = desk
    app.add_middleware(PairingGuard, desk=desk)
    screen = TestClient(app, base_url="http://127.0.0.1:8175", client=("127.0.0.1", 1))
    tablet = TestClient(app, base_url="http://shop.test:8175", client=("192.168.7.31", 1))
    tablet.post("/pair", json={"code": desk.code()})
    assert "/people/p1/pin/clear" not in tablet.get("/people").text
    refused = tablet.post("/people/p1/pin/clear", json={})
    assert refused.status_code == 422
    assert "allowed is the bench's own screen" in refused.json()["text"]
    assert "/people/p1/pin/clear" in screen.get("/people").text
    assert screen.post("/people/p1/pin/clear", json={}).status_code == 200


def test_every_setting_stands_on_the_page_with_its_words(client: TestClient) -> None:
    """Title, sentence, value, range and source line of each; nothing is left out."""
    text = html.unescape(client.get("/settings").text)
    for one in specs():
        assert f'id="{one.key}"' in text
        for words in (one.title, one.sentence, one.source, one.allowed_words("inch")):
            assert words in text, one.key
    assert len(re.findall(r'action="/settings/', text)) == len(specs())


def test_a_setting_is_set_and_goes_back(bench: Bench, client: TestClient) -> None:
    """By JSON, with who says so; the page then shows who and the way back."""
    add_person(bench, "Ann")
    answer = client.post("/settings/least_hot", json={"text": "0.8 thou"})
    assert answer.json() == {
        "key": "least_hot", "text": "0.8 thou", "is_own": True, "href": "/settings#least_hot",
    }  # fmt: skip
    assert setting(bench, "least_hot").person == "p1"
    text = client.get("/settings").text
    assert "set here by Ann" in text
    assert "Back to 1 thou" in text
    assert client.get("/api/settings/least_hot").json()["text"] == "0.8 thou"
    assert client.post("/settings/least_hot/reset", json={}).json()["is_own"] is False
    assert client.post("/settings/nothing", json={"text": "1"}).status_code == 404


def test_who_sets_it_is_one_of_those_who_work_here(bench: Bench, client: TestClient) -> None:
    """Among several the one who was chosen; an unknown key is nobody."""
    add_person(bench, "Ann")
    add_person(bench, "Bo")
    for told, kept in (("p2", "p2"), ("p9", ""), ("", "")):
        client.post("/settings/least_hot", json={"text": "0.8 thou", "person": told})
        assert setting(bench, "least_hot").person == kept


def test_a_refused_setting_says_what_is_allowed(client: TestClient) -> None:
    """The text stands beside the field; nothing was kept."""
    answer = client.post("/settings/part_limit", json={"text": "600 F"})
    assert answer.status_code == 422
    assert (
        "Hottest casting: 600 F cannot be used; allowed is 392 to 500 °F" in answer.json()["text"]
    )
    assert client.get("/api/settings/part_limit").json()["is_own"] is False


def test_every_kind_of_gauge_can_be_entered(client: TestClient) -> None:
    """Each row of the table is a choice, with its doubt, its step and its trap."""
    text = html.unescape(client.get("/instruments").text)
    for one in gauge_kinds():
        assert f'value="{one.kind}" data-setting="{one.stated}"' in text
        assert one.note[1:] in text
        answer = client.post("/instruments", json={"kind": one.kind, "name": f"my {one.kind}"})
        assert answer.status_code == 200, answer.text
    listed = client.get("/api/instruments").json()["instruments"]
    assert [one["setting"] for one in listed] == [one.stated for one in gauge_kinds()]


def test_a_gauge_is_changed_taken_out_of_use_and_put_back(bench: Bench, client: TestClient) -> None:
    """By JSON; the list shows which check is due and what each was set from."""
    fill(bench, client)
    text = html.unescape(client.get("/instruments").text)
    assert "check was due 2021-01-01" in text
    assert "set from mic 2-3" in text
    assert "assumed: common practice, no source" in text
    changed = client.post("/instruments", json={"was": "mic 2-3", "setting": "0.3 thou"})
    assert changed.json()["name"] == "mic 2-3"
    listed = client.get("/api/instruments").json()["instruments"]
    assert [one["setting"] for one in listed[1]["snapshot"]] == ["0.4 thou", "0.3 thou"]
    assert client.post("/instruments/retire", json={"was": "bore"}).json()["is_active"] is False
    assert "Put bore back" in client.get("/instruments").text
    assert client.post("/instruments/revive", json={"was": "bore"}).json()["is_active"] is True
    refused = client.post("/instruments", json={"was": "bore", "setting": "1 in"})
    assert refused.status_code == 422
    assert refused.json()["text"].startswith("setting: 1 in cannot be used")


@pytest.mark.parametrize(
    ("path", "body"),
    [
        ("/people", {"name": 3}),
        ("/people", []),
        ("/people", {"name": "x" * 10_000}),
        ("/people/p1/pin", {"pin": None}),
        ("/settings/least_hot", {"text": {"a": 1}}),
        ("/instruments", {"name": ["a"]}),
        ("/instruments", {"kind": "micrometer", "name": "a\x00b"}),
        ("/instruments/retire", {}),
        ("/pair", {"code": 123456}),
    ],
)
def test_what_makes_no_sense_is_refused_and_never_breaks(
    client: TestClient, path: str, body: object
) -> None:
    """Wrong types and too much are told as such."""
    answer = client.post(path, json=body)
    assert answer.status_code in (404, 422)
    assert answer.json()["text"]


def test_a_day_is_the_benchs_day(bench: Bench, client: TestClient) -> None:
    """Whether a check is due follows the clock of the bench."""
    fill(bench, client)
    bench.clock = lambda: datetime(2020, 6, 1, tzinfo=UTC)
    assert "check was due" not in client.get("/instruments").text


def test_a_first_pin_is_set_on_the_benchs_own_screen_only(bench: Bench) -> None:
    """A tablet could else sign by the name of somebody who has no PIN yet; later it may change."""
    add_person(bench, "Ann")
    add_person(bench, "Bo")
    desk = PairingDesk(bench)
    app = app_of(bench)
    app.state.desk = desk
    app.add_middleware(PairingGuard, desk=desk)
    screen = TestClient(app, base_url="http://127.0.0.1:8175", client=("127.0.0.1", 1))
    tablet = TestClient(app, base_url="http://shop.test:8175", client=("192.168.7.31", 1))
    tablet.post("/pair", json={"code": desk.code()})
    assert "/people/p1/pin" not in tablet.get("/people").text
    refused = tablet.post("/people/p1/pin", json={"pin": "1234"})
    assert refused.status_code == 422
    assert "allowed is a first PIN of Ann on the bench's own screen" in refused.json()["text"]
    assert not people(bench)[0].has_pin
    assert "/people/p1/pin" in screen.get("/people").text
    assert screen.post("/people/p1/pin", json={"pin": "5822"}).status_code == 200
    changed = tablet.post("/people/p1/pin", json={"pin": "4711", "old": "5822"})
    assert changed.status_code == 200
