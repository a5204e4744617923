"""The door: who is answered, what may be sent, how much, and how often it may be tried."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI, Request, UploadFile
from starlette.testclient import TestClient

from sleevewright.services.tries import Rate, TooManyTries, Tries, wait_in_words
from sleevewright.web.limits import is_loopback, wait_answer
from sleevewright.web.manual.routes import manual_router
from sleevewright.web.render import static_files
from sleevewright.web.security import BodyLimits, Door

LAN, EVIL = "192.168.7.20", "evil.test"
HOST = f"{LAN}:8175"
HERE = f"http://{HOST}"
UPLOAD = "/api/jobs/J-31/attachments"
FEW = BodyLimits(data=1000, upload=4000)


class Clock:
    """Seconds that a test sets forward."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        """The second that it is."""
        return self.now


def small_app(folder: Path) -> FastAPI:
    """An application with a page, a write, an upload and a folder of files."""
    app = FastAPI()
    app.add_middleware(Door, hosts=("192.168.7.20", "shop.test"), limits=FEW)

    @app.get("/")
    def read() -> dict[str, str]:
        return {"read": "yes"}

    @app.post("/write")
    async def write(request: Request) -> dict[str, int]:
        return {"kept": len(await request.body())}

    @app.post(UPLOAD)
    async def upload(file: UploadFile) -> dict[str, int]:
        return {"kept": len(await file.read())}

    app.include_router(manual_router(folder / "manual"))
    return app


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """A browser in the shop."""
    (tmp_path / "manual").mkdir()
    (tmp_path / "manual" / "index.html").write_text("<h1>Manual</h1>", encoding="utf-8")
    (tmp_path / "secret.txt").write_text("secret of the shop", encoding="utf-8")
    with TestClient(small_app(tmp_path), base_url=HERE) as opened:
        yield opened


@pytest.mark.parametrize("host", [HOST, "shop.test", "SHOP.test:80", "localhost:8175", "[::1]:9"])
def test_a_name_of_the_bench_is_answered(client: TestClient, host: str) -> None:
    """The loopback names and those of the shop's network are the bench's own."""
    assert client.get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        "evil.test",
        "shop.test.evil.test",
        "192.168.7.21",
        "",
        "shop.test@evil.test",
        "::1",
        "[evil]",
    ],
)
def test_any_other_name_is_refused_with_what_to_do(client: TestClient, host: str) -> None:
    """A name that only resolves to this machine gets nothing, on reads and on writes."""
    for answer in (
        client.get("/", headers={"host": host}),
        client.post("/write", json={}, headers={"host": host}),
    ):
        assert answer.status_code == 400
        assert "Open it as localhost" in answer.text


@pytest.mark.parametrize(
    "origin",
    [
        f"http://{EVIL}",
        "null",
        "",
        f"http://{LAN}",  # the same machine, another port
        f"http://{LAN}:8176",
        f"https://{LAN}:8175",  # another scheme is another origin
        f"http://{LAN}:8175.{EVIL}",
        "file://192.168.7.20:8175",
    ],
)
def test_a_write_from_another_origin_is_refused(client: TestClient, origin: str) -> None:
    """What another page sends never reaches the application; the text says what would."""
    answer = client.post("/write", json={"x": 1}, headers={"origin": origin})
    assert answer.status_code == 403
    assert "Origin" in answer.json()["text"]
    assert "allowed is the address" in answer.json()["text"]


@pytest.mark.parametrize("method", ["post", "put", "patch", "delete"])
@pytest.mark.parametrize("site", ["cross-site", "same-site", "made-up"])
def test_what_the_browser_marks_as_foreign_is_refused(
    client: TestClient, method: str, site: str
) -> None:
    """Another port of this machine is the same site, and is as foreign as another site."""
    answer = client.request(method, "/write", json={}, headers={"sec-fetch-site": site})
    assert answer.status_code == 403


@pytest.mark.parametrize("headers", [{}, {"origin": HERE, "sec-fetch-site": "same-origin"}])
def test_a_page_of_the_bench_and_a_command_may_write(
    client: TestClient, headers: dict[str, str]
) -> None:
    """The bench's own page says where it is from; a command says nothing."""
    answer = client.post("/write", json={"x": 1}, headers=headers)
    assert answer.status_code == 200
    assert answer.json() == {"kept": 7}


@pytest.mark.parametrize(
    "form",
    ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "", "*"],
)
def test_a_write_that_is_not_json_is_refused(client: TestClient, form: str) -> None:
    """What a plain form of another page could send is not taken, whatever is in it."""
    answer = client.post("/write", content=b'{"x":1}', headers={"content-type": form})
    assert answer.status_code == 415
    assert "allowed is application/json" in answer.json()["text"]


def test_json_with_its_letters_named_is_json(client: TestClient) -> None:
    """A charset behind the type changes nothing."""
    form = {"content-type": "Application/JSON; charset=utf-8"}
    assert client.post("/write", content=b"{}", headers=form).status_code == 200


def test_a_file_is_taken_where_files_are_taken(client: TestClient) -> None:
    """The address of attachments takes multipart and JSON, no other form."""
    assert client.post(UPLOAD, files={"file": b"x" * 3000}).json() == {"kept": 3000}
    plain = client.post(UPLOAD, content=b"x", headers={"content-type": "text/plain"})
    assert plain.status_code == 415
    assert "multipart/form-data" in plain.json()["text"]


@pytest.mark.parametrize("is_told", [True, False])
def test_too_much_is_refused_with_the_limit(client: TestClient, is_told: bool) -> None:
    """A body over the limit is refused, whether its length is told or comes out on the way."""
    whole = b'{"x":"' + b"y" * 5_000 + b'"}'
    parts: Any = whole if is_told else iter([whole[:600], whole[600:]])
    answer = client.post("/write", content=parts, headers={"content-type": "application/json"})
    assert answer.status_code == 413
    assert "at most 0.1 MB" in answer.json()["text"]
    assert "kept on this device" in answer.json()["text"]


def test_a_body_at_the_limit_is_taken_without_its_length(client: TestClient) -> None:
    """The limit itself is still allowed, and one byte more is not."""
    for size, status in ((1000, 200), (1001, 413)):
        content = iter([b" " * 500, b" " * (size - 500)])
        answer = client.post(
            "/write", content=content, headers={"content-type": "application/json"}
        )
        assert answer.status_code == status


def test_a_photo_may_be_larger_than_data_but_not_without_end(client: TestClient) -> None:
    """An upload has its own limit; a part of the form's own wrapping counts with it."""
    assert client.post(UPLOAD, files={"file": b"x" * 3000}).status_code == 200
    assert client.post(UPLOAD, files={"file": b"x" * 4000}).status_code == 413


TRAVERSALS = (
    "/manual/../secret.txt",
    "/manual/%2e%2e/secret.txt",
    "/manual/..%2fsecret.txt",
    "/manual/%2e%2e%2fsecret.txt",
    "/manual/..%5csecret.txt",
    "/manual/....//secret.txt",
    "/manual/%2e/index.html",
    "/manual/index.html%00.txt",
    "/manual//etc/passwd",
    "/manual/C:%5csecret.txt",
    "/static/../../secret.txt",
)


@pytest.mark.parametrize("path", TRAVERSALS)
def test_no_address_leads_out_of_its_folder(client: TestClient, path: str) -> None:
    """Steps upwards, in any spelling, are answered with nothing of another folder."""
    request = client.build_request("GET", "/")
    request.url = request.url.copy_with(raw_path=path.encode())
    answer = client.send(request)
    assert answer.status_code == 404
    assert "secret of the shop" not in answer.text
    assert "root:" not in answer.text


@pytest.mark.parametrize("name", ["../app.py", "app.py", "/etc/passwd", "static/../app.py", ""])
def test_static_files_are_those_found_at_start(name: str) -> None:
    """A file is looked up in a list, never opened by a name that came from outside."""
    assert static_files().find(name) is None


def test_refusals_carry_the_guards_too(client: TestClient) -> None:
    """Whatever is answered at the door has the same headers as a page; nothing is eval'ed."""
    for answer in (
        client.get("/", headers={"host": "evil.test"}),
        client.post("/write", content=b"x", headers={"content-type": "text/plain"}),
        client.post(
            "/write", content=iter([b"y" * 2000]), headers={"content-type": "application/json"}
        ),
        client.get("/nowhere"),
    ):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'self'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["cross-origin-resource-policy"] == "same-origin"


def tries_of(clock: Clock) -> Tries:
    """Three wrong tries a minute from one device, five in two minutes from all."""
    return Tries("PIN", each=Rate(3, 60.0), all_together=Rate(5, 120.0), clock=clock)


def test_a_device_waits_after_its_wrong_tries_and_no_longer() -> None:
    """The fourth try is refused with the wait; after it the device may try again."""
    clock = Clock()
    tries = tries_of(clock)
    for _ in range(3):
        tries.begin("tablet")
        clock.now += 10.0
    with pytest.raises(TooManyTries, match=r"PIN: .* next try is taken in 30 seconds") as caught:
        tries.begin("tablet")
    assert caught.value.seconds == pytest.approx(30.0)
    assert tries.wait("phone") == 0.0
    clock.now += 30.0
    assert tries.wait("tablet") == 0.0


def test_many_devices_together_wait_as_well() -> None:
    """Guessing from many addresses ends at the limit over all."""
    clock = Clock()
    tries = tries_of(clock)
    for number in range(5):
        tries.begin(f"device {number}")
    assert tries.wait("device 99") == pytest.approx(120.0)
    clock.now += 120.0
    assert tries.wait("device 99") == 0.0


def test_a_right_try_clears_its_own_count_only() -> None:
    """Who got it right starts anew; the count over all stays, so guesses cannot hide."""
    tries = tries_of(Clock())
    for _ in range(2):
        tries.begin("tablet")
        tries.begin("phone")
    tries.passed("tablet", tries.begin("tablet"))
    assert tries.wait("tablet") == 0.0  # a right one is not counted itself
    tries.begin("tablet")
    assert tries.wait("tablet") == pytest.approx(120.0)  # five over all, though one of its own


def test_tries_at_once_are_no_more_than_tries_in_a_row() -> None:
    """Forty threads that begin together are three tries of one device; the others wait."""
    tries = tries_of(Clock())
    together = threading.Barrier(40)

    def one() -> bool:
        together.wait()
        try:
            tries.begin("tablet")
        except TooManyTries:
            return False
        return True

    with ThreadPoolExecutor(40) as pool:
        begun = [done.result() for done in [pool.submit(one) for _ in range(40)]]
    assert begun.count(True) == 3


def test_a_try_that_was_neither_right_nor_wrong_is_not_counted() -> None:
    """It is taken back, from the count of the device and from that over all."""
    tries = tries_of(Clock())
    for _ in range(9):
        tries.undone("tablet", tries.begin("tablet"))
    assert tries.wait("tablet") == 0.0


def test_the_memory_of_wrong_tries_is_bounded() -> None:
    """Made-up devices do not fill the memory."""
    tries = Tries("code", each=Rate(2, 60.0), all_together=Rate(5000, 60.0), clock=Clock())
    for number in range(1500):
        tries.begin(f"device {number}")
    assert len(tries._wrong) == 1000
    tries.begin("device 1499")
    assert tries.wait("device 1499") > 0.0


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0.0, "in 1 second"),
        (1.2, "in 2 seconds"),
        (90.0, "in 2 minutes"),
        (3600.0, "in 60 minutes"),
    ],
)
def test_a_wait_is_said_and_never_too_short(seconds: float, words: str) -> None:
    """The words name at least the time that is left."""
    assert wait_in_words(seconds) == words


def test_the_answer_to_an_early_try_tells_the_wait() -> None:
    """Status, header and text agree on when the next try is taken."""
    answer = wait_answer(TooManyTries("code", 29.3))
    assert answer.status_code == 429
    assert answer.headers["retry-after"] == "30"
    assert b"in 30 seconds" in answer.body


@pytest.mark.parametrize(
    ("host", "expected"),
    [
        ("127.0.0.1", True),
        ("127.8.9.1", True),
        ("::1", True),
        ("10.0.0.2", False),
        ("testclient", False),
    ],
)
def test_only_this_machine_is_loopback(host: str, expected: bool) -> None:
    """A name or an address of the network is not this machine."""
    assert is_loopback(host) is expected


@pytest.mark.parametrize(
    ("base", "is_there"),
    [(HERE, False), ("http://localhost:8175", True), (HERE.replace("http:", "https:"), True)],
)
def test_the_opener_policy_goes_where_browsers_take_it(
    client: TestClient, base: str, is_there: bool
) -> None:
    """Plain http in the shop is no trusted address; a browser would only complain there."""
    answer = client.get(f"{base}/")
    assert ("cross-origin-opener-policy" in answer.headers) is is_there
