"""A reading on its short way: answered as on the long one, and never before it is kept."""

import json
import threading
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import Connection

from malformed import JOB, Maker
from sleevewright.services.bench import Bench, opened
from sleevewright.services.jobs import open_job
from sleevewright.store.store import Store
from sleevewright.web.api import routes, shortcut
from sleevewright.web.app import create_app

ADDRESS = "/api/records"
SET = {
    "cylinder": 1, "set": "k3", "stage": "parent", "feature": "parent-bore", "nominal": "2.6360 in",
    "unit": "in", "stations": ["0.3 in", "1 in"], "directions": ["0 deg", "90 deg"],
}  # fmt: skip


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with a job that was looked at, so that it is known by heart."""
    with opened(tmp_path / "short") as made:
        open_job(made, JOB, {"title": "invented", "cylinders": 2, "invented": True})
        yield made


@pytest.fixture
def client(bench: Bench) -> Iterator[TestClient]:
    """What devices hand in to."""
    with TestClient(create_app(bench), base_url="http://localhost") as made:
        yield made


def entry(n: int, kind: str, body: dict[str, Any], **more: Any) -> dict[str, Any]:
    """An entry with an id of its own."""
    made = {"id": uuid.uuid4().hex, "job": JOB, "n": n, "kind": kind, "version": 1, "body": body}
    return made | more


def reading(n: int, place: str = "0/0", text: str = "2.6361 in", **more: Any) -> dict[str, Any]:
    """A reading of the set."""
    body = {"cylinder": 1, "cell": f"set/k3/{place}", "text": text, "source": "gauge"}
    return entry(n, "value", body, **more)


def told(*entries: dict[str, Any], device: str = "tablet") -> dict[str, Any]:
    """A delivery."""
    return {"device": device, "store": "", "entries": list(entries)}


def refuse_the_long_way(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever comes there fails."""

    def refuse(*_told: object) -> None:
        raise AssertionError("it went the long way")

    monkeypatch.setattr(routes, "take", refuse)


def test_device_at_work_never_goes_the_long_way(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A set with its first reading, readings after it, and each of them once more."""
    refuse_the_long_way(monkeypatch)
    lot = [told(entry(1, "set", SET), reading(2)), told(reading(3, "0/1")), told(reading(4, "1/0"))]
    for delivery in [*lot, lot[1]]:
        answer = client.post(ADDRESS, json=delivery).json()
        assert [one["state"] for one in answer["answers"]] == ["kept"] * len(delivery["entries"])
    assert answer["answers"][0]["number"] == 4
    assert answer["last"] == {JOB: 5}


@pytest.mark.parametrize(
    "second",
    [
        reading(3, text="29.63 in"),
        reading(3, "7/7"),
        reading(2, "0/1"),
        reading(9_000),
        entry(3, "event", {"cylinder": 1, "stage": "parent", "what": "wash"}),
    ],
    ids=["not believed", "no such place", "number used", "far ahead", "another kind"],
)
def test_what_is_refused_is_answered_on_the_long_way(
    client: TestClient, second: dict[str, Any]
) -> None:
    """With the words that are said there; what was kept before in the delivery stays kept."""
    begun = entry(1, "set", SET)
    first = client.post(ADDRESS, json=told(begun, reading(2))).json()
    assert [one["number"] for one in first["answers"]] == [2, 3]
    answer = client.post(ADDRESS, json=told(second)).json()["answers"][0]
    assert answer["state"] == ("kept" if second["kind"] == "event" else "held")
    again = client.post(ADDRESS, json=told(begun, second)).json()["answers"]
    assert (again[0]["state"], again[0]["number"]) == ("kept", 2)
    assert again[1] == answer


def test_id_that_is_used_for_something_else_is_told_as_before(client: TestClient) -> None:
    """What came under the id first is kept, and its number is the answer."""
    first = entry(1, "value", {"cylinder": 1, "cell": "intake.marks", "text": "tag 31"})
    other = first | {"n": 2, "body": {**first["body"], "text": "tag 32"}}
    answers = [client.post(ADDRESS, json=told(one)).json()["answers"] for one in (first, other)]
    assert answers[0] == answers[1]


def test_nothing_is_acknowledged_before_it_is_kept(client: TestClient, bench: Bench) -> None:
    """While the writer is held up no answer comes; when it goes on, the answer does."""
    go, held = threading.Event(), threading.Event()

    def hold_up(_connection: Connection) -> None:
        held.set()
        go.wait(20)

    answers: list[Any] = []
    mark = entry(1, "value", {"cylinder": 1, "cell": "intake.marks", "text": "tag 31"})
    writer = threading.Thread(target=bench.store.write, args=(hold_up,))
    device = threading.Thread(
        target=lambda: answers.append(client.post(ADDRESS, json=told(mark)).json())
    )
    writer.start()
    assert held.wait(10)
    device.start()
    device.join(0.3)
    assert answers == []
    go.set()
    device.join(10)
    writer.join(10)
    assert answers[0]["answers"][0]["state"] == "kept"
    assert [one.id for one in bench.store.records(JOB, after=1)] == [mark["id"]]


def run_of(folder: Path, monkeypatch: pytest.MonkeyPatch, *, is_short: bool) -> list[Any]:
    """What the same deliveries are answered, and the hashes of what was kept."""
    monkeypatch.setattr(Store, "_now", lambda _store: "2031-05-04T12:00:00.000Z")
    monkeypatch.setattr("sleevewright.services.jobs.secrets.token_hex", lambda _count: "a" * 32)
    if not is_short:
        monkeypatch.setattr(shortcut, "plain_delivery", lambda _message: None)
    found: list[Any] = []
    maker = Maker(11)
    with opened(folder) as bench:
        open_job(bench, JOB, {"title": "invented", "cylinders": 2, "invented": True})
        with TestClient(create_app(bench), base_url="http://localhost") as client:
            for _ in range(250):
                one = maker.delivery()
                answer = client.post(ADDRESS, content=one.content, headers=one.headers)
                said = json.loads(answer.text)
                said.pop("store", None)
                found.append((answer.status_code, said))
        found.append([link.hash for link in bench.store.links(JOB)])
    return found


def test_both_ways_answer_and_keep_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Deliveries of every odd form: the same answers, the same chain, to the last byte."""
    with monkeypatch.context() as patched:
        short = run_of(tmp_path / "short", patched, is_short=True)
    with monkeypatch.context() as patched:
        long = run_of(tmp_path / "long", patched, is_short=False)
    assert short == long
    assert len(short[-1]) > 20


@pytest.mark.parametrize(
    "body",
    [
        b"", b"{", b"[]", b"7", b'{"device": "t"}', b'{"device": "t", "entries": []}',
        b'{"device": "t", "entries": [7]}', b'{"device": 7, "entries": [{"kind": "value"}]}',
        b'{"device": "t", "entries": [{"kind": "value", "more": 1}]}',
        b'{"device": "t", "entries": [{"kind": "set"}]}',
        b'{"device": "t", "entries": [{"kind": "value", "n": 1}, {"kind": "value", "n": 2}]}',
        b'{"device": "t", "entries": [{"kind": "set", "n": 2}, {"kind": "value", "n": 1}]}',
        b'{"device": "t", "entries": [{"kind": ["value"]}]}', b"[" * 3000,
    ],
)  # fmt: skip
def test_odd_delivery_is_left_to_the_long_way(body: bytes) -> None:
    """Nothing but a value, or a set and a value behind it, is looked at."""
    assert shortcut.plain_delivery({"type": "http.request", "body": body}) is None


def test_delivery_that_comes_in_parts_is_left_to_the_long_way(client: TestClient) -> None:
    """A body of which more is to come is no delivery of a reading; it is answered all the same."""
    mark = entry(1, "value", {"cylinder": 1, "cell": "intake.marks", "text": "tag 31"})
    body = json.dumps(told(mark)).encode()
    part = {"type": "http.request", "body": body[:40], "more_body": True}
    assert shortcut.plain_delivery(part) is None
    assert shortcut.plain_delivery({"type": "http.request", "body": body}) is not None
    answer = client.post(
        ADDRESS, content=iter([body[:40], body[40:]]), headers={"content-type": "application/json"}
    )
    assert answer.json()["answers"][0]["state"] == "kept"


def test_refusal_of_the_job_itself_is_said(client: TestClient) -> None:
    """A job that is not known is refused in the words of the store."""
    answer = client.post(ADDRESS, json=told(reading(1, job="J-404"))).json()["answers"][0]
    assert answer["state"] == "held"
    assert "J-404" in answer["text"]
