"""Deliveries as no page sends them: each is answered, none breaks anything, none is half kept."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from malformed import JOB, Delivery, Maker
from sleevewright.jobs.told import read_cell
from sleevewright.services.bench import Bench, opened
from sleevewright.services.jobs import folded_job, open_job
from sleevewright.web.app import create_app

ADDRESS = "/api/records"


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """An open bench with one job of two cylinders."""
    with opened(tmp_path / "data") as made:
        open_job(made, JOB, {"title": "invented", "cylinders": 2, "invented": True})
        yield made


@pytest.fixture
def client(bench: Bench) -> Iterator[TestClient]:
    """A client that is told of a failure as a browser would be."""
    app = create_app(bench)
    with TestClient(app, base_url="http://localhost", raise_server_exceptions=False) as made:
        yield made


def sent(client: TestClient, count: int, seed: int) -> tuple[list[str], dict[str, int], int]:
    """Send that many; what went wrong, what was kept, and how many were answered with 200."""
    maker, kept, wrong, taken = Maker(seed), {}, [], 0
    for _ in range(count):
        one = maker.delivery()
        answer = client.post(ADDRESS, content=one.content, headers=one.headers)
        if answer.status_code >= 500 or "Traceback" in answer.text:
            wrong.append(f"{answer.status_code} for {one.content[:600]!r}")
        elif answer.status_code == 200:
            taken += 1
            kept.update(kept_of(answer.json()))
        elif not answer.json()["text"]:
            wrong.append(f"{answer.status_code} without a word for {one.content[:600]!r}")
    return wrong, kept, taken


def kept_of(answer: dict[str, list[dict[str, object]]]) -> dict[str, int]:
    """Ids and numbers of what was kept."""
    assert all(one["state"] in ("kept", "held") for one in answer["answers"])
    assert all(one.get("text") for one in answer["answers"] if one["state"] == "held")
    return {
        str(one["id"]): int(str(one["number"]))
        for one in answer["answers"]
        if one["state"] == "kept"
    }


def half_kept(bench: Bench, kept: dict[str, int]) -> list[str]:
    """What stands in the store that was not acknowledged whole, or cannot be read again."""
    found = []
    records = bench.store.records(JOB)[1:]
    if {record.id: record.number for record in records} != kept:
        found.append(f"{len(records)} records for {len(kept)} acknowledged")
    folded = folded_job(bench, JOB)
    for record in records:
        body = record.body
        text = str(body.get("text", ""))
        if record.kind != "value" or not text.strip():
            continue
        if not ({"cylinder", "cell", "text", "kind", "source", "replaces"} <= body.keys()):
            found.append(f"{record.number} lacks a part: {dict(body)}")
        if not str(body["cell"]).startswith("set/"):
            again = read_cell(body["cell"], text, folded=folded, cylinder=record.cylinder).kept
            if {key: body.get(key) for key in again if key != "kind"} != {
                key: value for key, value in again.items() if key != "kind"
            }:
                found.append(f"{record.number} reads otherwise: {dict(body)}")
    verdict = bench.store.verify_all()
    return found if verdict.is_good else [*found, verdict.problem]


def test_malformed_deliveries_are_answered(client: TestClient, bench: Bench) -> None:
    """Fifteen hundred: no failure of the server, no trace of one, nothing half kept."""
    wrong, kept, taken = sent(client, 1500, 1)
    assert wrong == []
    assert half_kept(bench, kept) == []
    assert kept
    assert taken > 300
    pages = [client.get(address).status_code for address in ("/", f"/jobs/{JOB}", "/search?q=a")]
    assert pages == [200, 200, 200]


@pytest.mark.slow
@pytest.mark.parametrize("seed", [2, 3])
def test_thousands_of_malformed_deliveries_are_answered(
    client: TestClient, bench: Bench, seed: int
) -> None:
    """Another few thousand."""
    wrong, kept, _ = sent(client, 4500, seed)
    assert wrong == []
    assert half_kept(bench, kept) == []


def test_same_delivery_a_second_time_changes_nothing(client: TestClient, bench: Bench) -> None:
    """Whatever was answered to a delivery is answered again, and nothing is kept twice."""
    maker = Maker(5)
    for _ in range(60):
        one = maker.delivery()
        first = client.post(ADDRESS, content=one.content, headers=one.headers)
        last = bench.store.last(JOB)
        second = client.post(ADDRESS, content=one.content, headers=one.headers)
        assert bench.store.last(JOB) == last
        if first.status_code == 200:
            assert kept_of(second.json()) == kept_of(first.json())


def test_delivery_without_end_is_refused(client: TestClient) -> None:
    """More bytes than a person could have meant are refused as such."""
    one = Delivery(json.dumps({"device": "t", "entries": [{"text": "x" * 3_000_000}]}).encode())
    answer = client.post(ADDRESS, content=one.content, headers=one.headers)
    assert answer.status_code == 413
    assert "2.0 MB" in answer.json()["text"]
