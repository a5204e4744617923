"""Pairing on a network: the code, the cookie, who comes in and who is told to pair first."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI, Request
from starlette.testclient import TestClient

from sleevewright.errors import InputError
from sleevewright.services.asker import asking_device
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.certificates import tls_files
from sleevewright.services.devices import LIFETIME, PairingDesk
from sleevewright.store.errors import StoreFull
from sleevewright.web.errors import answer_errors
from sleevewright.web.pair.cookies import COOKIE, DeviceCookies
from sleevewright.web.pair.guard import PairingGuard
from sleevewright.web.pair.routes import local, qr_drawing
from sleevewright.web.pair.routes import router as pair_router
from sleevewright.web.security import Door

LAN = "192.168.7.20"
HERE = f"http://{LAN}:8175"
TABLET, SCREEN = ("192.168.7.31", 50000), ("127.0.0.1", 50000)
PAGE = {"accept": "text/html"}


class Clock:
    """Seconds that a test sets forward."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        """The second that it is."""
        return self.now


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench of its own."""
    opened = open_bench(tmp_path / "data")
    yield opened
    opened.close()


@pytest.fixture
def clock() -> Clock:
    """The clock of the desk."""
    return Clock()


@pytest.fixture
def announced() -> list[str]:
    """Codes that the bench's window showed."""
    return []


@pytest.fixture
def desk(bench: Bench, clock: Clock, announced: list[str]) -> PairingDesk:
    """The desk of a bench on a network."""
    places = (f"{HERE}/pair",)
    return PairingDesk(bench, clock=clock, announce=announced.append, places=places)


@pytest.fixture
def app(bench: Bench, desk: PairingDesk) -> FastAPI:
    """The pairing pages, one page of the bench and one address for readings, guarded."""
    made = FastAPI()
    made.state.bench, made.state.folder, made.state.desk = bench, bench.folder, desk
    made.add_middleware(PairingGuard, desk=desk)
    made.add_middleware(Door, hosts=(LAN,))
    answer_errors(made)
    made.include_router(pair_router)

    @made.get("/")
    def shelf(request: Request) -> dict[str, Any]:
        return {"device": request.state.device, "asked by": asking_device()}

    @made.post("/api/records")
    def records(request: Request) -> dict[str, str]:
        return {"device": request.state.device, "asked by": asking_device()}

    return made


def client_of(app: FastAPI, place: tuple[str, int], base: str = HERE) -> TestClient:
    """A browser at a place of the network."""
    return TestClient(app, base_url=base, client=place, follow_redirects=False)


def test_a_device_is_paired_once_and_known_from_then_on(app: FastAPI, desk: PairingDesk) -> None:
    """The code of the screen, keyed on the tablet: page and readings are answered."""
    tablet = client_of(app, TABLET)
    answer = tablet.post("/pair", json={"code": desk.code(), "device": "d-abc", "back": "/jobs/1"})
    assert answer.json() == {"device": "d-abc", "name": "tablet 1", "href": "/jobs/1"}
    assert tablet.get("/").json() == {"device": "d-abc", "asked by": "d-abc"}
    assert tablet.post("/api/records", json={}).json()["device"] == "d-abc"
    assert tablet.get("/pair/state").json() == {"paired": True}
    assert "This device is tablet 1" in tablet.get("/pair").text


def test_the_cookie_is_kept_long_and_from_scripts_and_other_sites(
    app: FastAPI, desk: PairingDesk
) -> None:
    """HttpOnly, SameSite=Strict, 400 days, for the whole bench; Secure where there is TLS."""
    plain = client_of(app, TABLET).post("/pair", json={"code": desk.code()}).headers["set-cookie"]
    assert plain.startswith(f"{COOKIE}=")
    flags = {part.strip().lower() for part in plain.split(";")[1:]}
    assert {"httponly", "samesite=strict", "path=/", f"max-age={400 * 86400}"} <= flags
    assert "secure" not in flags
    over_tls = client_of(app, TABLET, base=HERE.replace("http:", "https:"))
    again = over_tls.post("/pair", json={"code": desk.code()}).headers["set-cookie"]
    assert "secure" in {part.strip().lower() for part in again.split(";")}


def test_an_unpaired_device_is_led_to_the_page_and_its_readings_are_told(
    app: FastAPI, announced: list[str], desk: PairingDesk
) -> None:
    """A page leads to /pair and back; readings get 403 with words that a device can show."""
    tablet = client_of(app, TABLET)
    led = tablet.get("/?q=1", headers=PAGE)
    assert (led.status_code, led.headers["location"]) == (303, "/pair?back=/%3Fq%3D1")
    refused = tablet.post("/api/records", json={})
    assert refused.status_code == 403
    assert "key the code" in refused.json()["text"]
    assert "kept on this device" in refused.json()["text"]
    assert tablet.get("/").status_code == 403
    page = tablet.get(led.headers["location"], headers=PAGE)
    assert page.status_code == 200
    assert 'name="back" value="/?q=1"' in page.text
    assert announced == [desk.code()], "the window shows the code when a device asks for it"
    assert desk.code() not in page.text
    tablet.get("/pair", headers=PAGE)
    assert len(announced) == 1


@pytest.mark.parametrize("path", ["/pair/devices/d-abc", "/pair/devices/d-abc/unpair"])
def test_an_unpaired_device_changes_no_devices(app: FastAPI, path: str) -> None:
    """Renaming and unpairing are for the shop's own devices."""
    answer = client_of(app, TABLET).post(path, json={"name": "x"})
    assert answer.status_code == 403


def test_this_machine_is_asked_for_nothing_and_shows_the_code(
    app: FastAPI, desk: PairingDesk
) -> None:
    """On loopback every page is open; /pair shows address, code and a QR code of both."""
    screen = client_of(app, SCREEN, base="http://127.0.0.1:8175")
    assert screen.get("/").json() == {"device": "", "asked by": "this machine"}
    text = screen.get("/pair").text
    code = desk.code()
    assert f"{code[:3]} {code[3:]}" in text
    assert f"{HERE}/pair" in text
    drawn = qr_drawing(f"{HERE}/pair#code={code}")
    assert str(drawn["path"]) in text
    assert "style=" not in text


def test_the_screens_mark_changes_with_the_code_and_the_devices(
    app: FastAPI, desk: PairingDesk, clock: Clock
) -> None:
    """So that the page shows the new code without a press; a tablet gets no mark."""
    screen = client_of(app, SCREEN, base="http://127.0.0.1:8175")
    first = screen.get("/pair/state").json()["mark"]
    assert first == screen.get("/pair/state").json()["mark"]
    clock.now += LIFETIME
    second = screen.get("/pair/state").json()["mark"]
    assert second != first
    desk.pair(desk.code())
    assert screen.get("/pair/state").json()["mark"] != second
    assert client_of(app, TABLET).get("/pair/state").json() == {"paired": False}


def test_wrong_codes_wait_and_say_how_long(app: FastAPI, desk: PairingDesk, clock: Clock) -> None:
    """Five wrong ones from a device and even the right one waits; another device does not."""
    tablet, other = client_of(app, TABLET), client_of(app, ("192.168.7.32", 1))
    wrong = f"{(int(desk.code()) + 1) % 10**6:06d}"
    for _ in range(5):
        assert tablet.post("/pair", json={"code": wrong}).status_code == 422
    clock.now += 100.0
    early = tablet.post("/pair", json={"code": desk.code()})
    assert early.status_code == 429
    assert early.headers["retry-after"] == "200"
    assert (
        "code: tried wrongly too often. The next try is taken in 4 minutes" in early.json()["text"]
    )
    assert COOKIE not in early.headers.get("set-cookie", "")
    assert other.post("/pair", json={"code": desk.code()}).status_code == 200
    clock.now += 200.0
    assert tablet.post("/pair", json={"code": desk.code()}).status_code == 200


def test_devices_are_named_listed_and_renamed(app: FastAPI, desk: PairingDesk) -> None:
    """A name of one's own or the next number; a name stands once; the list has them all."""
    assert desk.pair(desk.code(), name="mill").device.name == "mill"
    assert desk.pair(desk.code()).device.name == "tablet 1"
    third = desk.pair(desk.code()).device
    assert third.name == "tablet 2"
    code = desk.code()
    with pytest.raises(InputError, match="a name that no other device has"):
        desk.pair(code, name="MILL")
    assert desk.pair(code, name="hone").device.name == "hone", "the code was not used up"
    screen = client_of(app, SCREEN, base="http://127.0.0.1:8175")
    renamed = screen.post(f"/pair/devices/{third.id}", json={"name": "oven"})
    assert renamed.json()["name"] == "oven"
    assert [one.name for one in desk.devices()] == ["hone", "mill", "oven", "tablet 1"]
    assert screen.post("/pair/devices/nobody", json={"name": "x"}).status_code == 404
    refused = screen.post(f"/pair/devices/{third.id}", json={"name": " "})
    assert refused.status_code == 422
    assert "1 to 40 letters" in refused.json()["text"]


def test_an_unpaired_device_keeps_its_name_and_its_readings_wait(
    app: FastAPI, desk: PairingDesk
) -> None:
    """Its cookie is no longer good, at once; paired again it is the same device."""
    tablet = client_of(app, TABLET)
    tablet.post("/pair", json={"code": desk.code(), "name": "mill", "device": "d-mill"})
    assert tablet.get("/").status_code == 200
    screen = client_of(app, SCREEN, base="http://127.0.0.1:8175")
    assert screen.post("/pair/devices/d-mill/unpair", json={}).json()["name"] == "mill"
    refused = tablet.post("/api/records", json={"entries": []})
    assert refused.status_code == 403
    assert "kept on this device" in refused.json()["text"]
    assert [(one.name, one.is_paired) for one in desk.devices()] == [("mill", False)]
    assert "not paired any more" in screen.get("/pair").text
    tablet.post("/pair", json={"code": desk.code(), "device": "d-mill"})
    assert tablet.get("/").json()["device"] == "d-mill"
    assert [(one.name, one.is_paired) for one in desk.devices()] == [("mill", True)]


def test_pairing_again_ends_the_older_cookie(app: FastAPI, desk: PairingDesk) -> None:
    """A device that lost its cookie gets a new secret; a copy of the old one is worth nothing."""
    first, second = client_of(app, TABLET), client_of(app, TABLET)
    first.post("/pair", json={"code": desk.code(), "device": "d-1"})
    second.post("/pair", json={"code": desk.code(), "device": "d-1"})
    assert second.get("/").status_code == 200
    assert first.get("/").status_code == 403


def test_the_pairing_outlasts_a_restart_and_years(bench: Bench, desk: PairingDesk) -> None:
    """A new desk on the same folder knows the device; a cookie of whatever age is good."""
    paired = desk.pair(desk.code(), device="d-1")
    assert PairingDesk(bench).known("d-1", paired.secret) == "tablet 1"
    cookies = DeviceCookies(bench.folder)
    shown = cookies.read(cookies.text("d-1", paired.secret))
    assert shown is not None
    assert (shown.device, shown.secret, shown.is_old) == ("d-1", paired.secret, False)


def test_an_old_cookie_is_written_anew(
    app: FastAPI, desk: PairingDesk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A month after it was written the browser gets it again, for another 400 days."""
    tablet = client_of(app, TABLET)
    tablet.post("/pair", json={"code": desk.code(), "device": "d-1"})
    assert "set-cookie" not in tablet.get("/").headers
    monkeypatch.setattr("itsdangerous.timed.time.time", lambda: 0.0)
    text = DeviceCookies(desk.bench.folder).text("d-1", desk.pair(desk.code(), device="d-1").secret)
    monkeypatch.undo()
    old = client_of(app, TABLET)
    old.cookies.set(COOKIE, text)
    answer = old.get("/")
    assert answer.status_code == 200
    assert "HttpOnly" in answer.headers["set-cookie"]
    assert f"Max-Age={400 * 86400}" in answer.headers["set-cookie"]


@pytest.mark.parametrize("change", ["", "x", "tail", "head", "other folder"])
def test_a_changed_cookie_is_no_cookie(
    app: FastAPI, desk: PairingDesk, tmp_path: Path, change: str
) -> None:
    """A letter changed, or another bench's signature: not paired."""
    good = DeviceCookies(desk.bench.folder).text("d-1", desk.pair(desk.code(), device="d-1").secret)
    text = {
        "tail": good[:-1] + ("A" if good[-1] != "A" else "B"),
        "head": "A" + good,
        "other folder": DeviceCookies(tmp_path / "other").text("d-1", "secret"),
    }.get(change, change)
    tablet = client_of(app, TABLET)
    tablet.cookies.set(COOKIE, text)
    assert tablet.post("/api/records", json={}).status_code == 403
    tablet.cookies.set(COOKIE, good)


def test_a_full_disk_keeps_no_paired_device_out(
    app: FastAPI, desk: PairingDesk, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When it was last here is noted where it can be, never at the cost of the page."""
    tablet = client_of(app, TABLET)
    tablet.post("/pair", json={"code": desk.code(), "device": "d-1"})

    def full(*_: object) -> None:
        raise StoreFull

    monkeypatch.setattr(type(desk.bench.store), "write", full)
    clock.now += 3600.0
    assert tablet.get("/").status_code == 200


def test_last_seen_is_noted_but_not_at_every_request(
    app: FastAPI, desk: PairingDesk, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One write in ten minutes, whatever the device does."""
    tablet = client_of(app, TABLET)
    tablet.post("/pair", json={"code": desk.code(), "device": "d-1"})
    written: list[str] = []
    monkeypatch.setattr(desk, "_write", lambda device, **_: written.append(device))
    for _ in range(3):
        tablet.get("/")
    clock.now += 599.0
    tablet.get("/")
    assert len(written) == 1
    clock.now += 1.0
    tablet.get("/")
    assert len(written) == 2


def test_the_shops_certificate_can_be_had_before_pairing(app: FastAPI, bench: Bench) -> None:
    """Where TLS was asked for, its root is offered; the keys are not to be had at all."""
    tablet = client_of(app, TABLET)
    assert tablet.get("/pair/root.crt").status_code == 404
    tls_files(bench.folder, (LAN,))
    answer = tablet.get("/pair/root.crt")
    assert answer.headers["content-type"] == "application/x-x509-ca-cert"
    assert b"PRIVATE" not in answer.content
    for path in ("/pair/root.key", "/keys/root.key", "/pair/..%2fkeys/root.key"):
        assert tablet.get(path).status_code in (403, 404)


def test_without_a_network_the_page_says_how_to_get_on_one(bench: Bench) -> None:
    """A bench for this machine alone has no code and refuses to pair."""
    alone = FastAPI()
    alone.state.bench, alone.state.folder = bench, bench.folder
    answer_errors(alone)
    alone.include_router(pair_router)
    with TestClient(alone, base_url="http://127.0.0.1:8175") as screen:
        assert "--lan" in screen.get("/pair").text
        assert screen.post("/pair", json={"code": "123456"}).status_code == 404


@pytest.mark.parametrize(
    "back",
    ["//evil.test/", "https:" + "//evil.test", "/\\evil.test", "/a\n/b", "pair", "", "/pair?x"],
)
def test_the_way_back_never_leads_elsewhere(back: str) -> None:
    """Only an address of the bench itself is gone back to."""
    assert local(back) == "/"
