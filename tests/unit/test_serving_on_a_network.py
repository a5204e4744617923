"""Serving beyond this machine: whoever reaches the bench is paired, however that was asked for."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from ipaddress import IPv4Address, IPv6Address
from pathlib import Path

import pytest
from starlette.responses import Response
from starlette.testclient import TestClient

from benches import bench_in
from sleevewright.cli.serve import Asked, address_of, listen, serving_of
from sleevewright.services.bench import Bench
from sleevewright.services.calling import HEADER, write_token
from sleevewright.services.devices import PairingDesk
from sleevewright.services.jobs import open_job
from sleevewright.web.app import Serving, create_app
from sleevewright.web.pair.cookies import DeviceCookies

LAN = "192.168.7.20"
EVERY4, EVERY6 = str(IPv4Address(0)), str(IPv6Address(0))
TABLET, MACHINE = ("192.168.7.31", 50000), (LAN, 50000)


class Bound:
    """A socket that listens at an address that this machine need not have."""

    def __init__(self, host: str) -> None:
        self.host = host

    def getsockname(self) -> tuple[str, int]:
        """Where it listens."""
        return (self.host, 8175)


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench of its own."""
    opened = bench_in(tmp_path / "data")
    yield opened
    opened.close()


def asked(host: str | None, *, is_lan: bool = False) -> Asked:
    """What ``serve --host HOST`` was told."""
    return Asked(None, is_lan, False, host, 0, None, False)


def client_at(bench: Bench, host: str, place: tuple[str, int]) -> TestClient:
    """A browser at a place of the network, with the bench served at an address."""
    serving = serving_of(bench, asked(host), Bound(host))  # type: ignore[arg-type] # a socket's part
    app = create_app(bench, serving)
    return TestClient(app, base_url=f"http://{host}:8175", client=place, follow_redirects=False)


def test_an_address_of_the_network_pairs_devices_without_lan(
    bench: Bench, capsys: pytest.CaptureFixture[str]
) -> None:
    """With --host alone a tablet enters nobody, reads nobody's name and lifts no hold."""
    tablet = client_at(bench, LAN, TABLET)
    said = capsys.readouterr().out
    assert f"http://{LAN}:8175/pair" in said
    assert "key the code" in said
    assert tablet.get("/people").status_code == 403
    assert tablet.post("/people", json={"name": "Eve"}).status_code == 403
    lift = {"cylinder": 1, "stage": "intake", "reason": "because I say so today"}
    assert tablet.post("/api/jobs/J-1/lift", json=lift).status_code == 403
    assert tablet.get("/", headers={"accept": "text/html"}).headers["location"] == "/pair?back=/"


@pytest.mark.parametrize("host", [EVERY4, EVERY6])
def test_every_address_pairs_devices_without_lan(bench: Bench, host: str) -> None:
    """Whoever names localhost from elsewhere is no own screen; the open address is no name."""
    serving = serving_of(bench, asked(host), Bound(host))  # type: ignore[arg-type] # a socket's part
    assert serving.desk is not None
    assert host not in serving.hosts
    app = create_app(bench, serving)
    stranger = TestClient(app, base_url="http://localhost:8175", client=TABLET)
    assert stranger.post("/people", json={"name": "Eve"}).status_code == 403


@pytest.mark.parametrize("host", [None, "127.0.0.1", "localhost"])
def test_this_machine_alone_pairs_nobody(bench: Bench, host: str | None) -> None:
    """On a loopback address nobody else can come in, and no code is shown."""
    told = asked(host)
    with listen(told.listens_on, 0) as listening:
        assert serving_of(bench, told, listening).desk is None


def test_the_machine_itself_is_the_own_screen_at_its_own_address(bench: Bench) -> None:
    """What comes from the address that it was sent to comes from this machine."""
    own = client_at(bench, LAN, MACHINE)
    assert own.post("/people", json={"name": "Ann"}).status_code == 201


def test_a_command_reaches_a_bench_at_an_address_of_the_network(bench: Bench) -> None:
    """With the folder's token from this machine it is done; from a tablet it is refused."""
    token = {HEADER: write_token(bench.folder)}
    told = {"number": "J-9", "title": "by command"}
    there = client_at(bench, LAN, TABLET).post("/api/commands/job-new", json=told, headers=token)
    assert there.status_code == 403
    here = client_at(bench, LAN, MACHINE).post("/api/commands/job-new", json=told, headers=token)
    assert here.json() == {"job": "J-9"}


@pytest.mark.parametrize(
    ("host", "expected"),
    [
        (EVERY4, "http://127.0.0.1:8175/"),
        (EVERY6, "http://[::1]:8175/"),
        (LAN, f"http://{LAN}:8175/"),
    ],
)
def test_the_address_announced_is_one_that_this_machine_opens(host: str, expected: str) -> None:
    """Where all addresses are answered, the loopback one is named for pages and commands."""
    listening: socket.socket = Bound(host)  # type: ignore[assignment] # a socket's part
    assert address_of(listening, is_tls=False) == expected


def test_a_paired_device_speaks_for_no_other(bench: Bench) -> None:
    """Not right after a start, not when the other was long not seen, not once it is unpaired."""
    open_job(bench, "J-1", {})
    before = PairingDesk(bench)
    pairs = [before.pair(before.code(), device=key) for key in ("d-tab1", "d-tab2")]
    seconds = [0.0]
    desk = PairingDesk(bench, clock=lambda: seconds[0])  # as after a restart: nobody was seen
    app = create_app(bench, Serving(None, (LAN,), desk))
    first = TestClient(app, base_url=f"http://{LAN}:8175", client=TABLET)
    shown = Response()
    DeviceCookies(bench.folder).put(shown, "d-tab1", pairs[0].secret, is_tls=False)
    first.headers["cookie"] = shown.headers["set-cookie"].partition(";")[0]

    def tell(device: str, n: int) -> int:
        body = {"cylinder": 1, "cell": "intake.marks", "text": "tag"}
        entry = {"id": f"{n:032x}", "job": "J-1", "n": n, "kind": "value", "body": body}
        answer = first.post("/api/records", json={"device": device, "entries": [entry]})
        return answer.status_code

    assert tell("d-tab1", 1) == 200
    assert tell("d-tab2", 4000) == 403
    seconds[0] += 3600.0
    assert tell("d-tab2", 4000) == 403
    desk.unpair("d-tab2")
    assert tell("d-tab2", 4000) == 403
    assert bench.store.folded("J-1").missing() == {}
