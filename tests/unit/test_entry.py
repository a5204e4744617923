"""Handing in what was told: kept once, held back with the reason, never half."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from benches import app_in, bench_in
from sleevewright.services.bench import Bench
from sleevewright.services.entry import take
from sleevewright.services.jobs import folded_job, open_job
from sleevewright.store.errors import StoreFull, StoreStopped

HERE = "http://127.0.0.1:8000"
JOB = "J-1"


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with one open job."""
    made = bench_in(tmp_path / "data")
    open_job(made, JOB, {"cylinders": 2})
    yield made
    made.close()


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """The same over HTTP."""
    app = app_in(tmp_path / "data")
    open_job(app.state.bench, JOB, {})
    with TestClient(app, base_url=HERE) as made:
        yield made
    app.state.bench.close()


def entry(n: int, kind: str = "value", job: str = JOB, **body: Any) -> dict[str, Any]:
    """An entry as a device hands it in; its id follows from its number."""
    full = {"cylinder": 1, **body}
    return {"id": f"{n:032x}", "job": job, "n": n, "kind": kind, "version": 1, "body": full}


def value(n: int, cell: str, text: str, **more: Any) -> dict[str, Any]:
    """A value told for a cell."""
    return entry(n, cell=cell, text=text, **more)


def a_set(n: int, name: str = "k3f9") -> dict[str, Any]:
    """A set of readings of the parent bore, four to be read."""
    return entry(
        n,
        "set",
        set=name,
        stage="parent",
        feature="parent-bore",
        instrument="bore gauge",
        instruments=[{"name": "bore gauge", "resolution": "0.0001 in", "turn": "0.010 in"}],
        nominal="2.6360 in",
        unit="thou",
        stations=["0.40 in", "3.10 in"],
        directions=["0 deg", "90 deg"],
        blank=[],
        part_temperature="73 F",
        gauge_temperature="71 F",
        entry="deviation",
    )


def test_a_value_is_kept_with_its_text_and_whole_nanometres(bench: Bench) -> None:
    """The keyed text is the truth; beside it stand exact nanometres and the usual kind."""
    done = take(bench, "tablet", [value(1, "engine.stroke", "2.3600 in", cylinder=0)])
    assert [one.state for one in done.answers] == ["kept"]
    record = bench.store.records(JOB)[-1]
    assert record.body["text"] == "2.3600 in"
    assert record.body["nm"] == 23600 * 2540
    assert done.last == {JOB: record.number}


def test_what_comes_twice_is_kept_once(bench: Bench) -> None:
    """A delivery sent again is acknowledged with the first numbers and adds nothing."""
    lot = [value(1, "intake.damage", "one fin chipped"), value(2, "intake.marks", "tag 31")]
    first = take(bench, "tablet", lot)
    again = take(bench, "tablet", lot)
    assert [one.number for one in again.answers] == [one.number for one in first.answers]
    assert bench.store.last(JOB) == 3


def test_a_burst_out_of_order_is_kept_in_the_order_of_the_device(bench: Bench) -> None:
    """Readings packed in any order stand in the device's own order, in their cells."""
    told = [value(n, f"set/k3f9/{n % 2}/{n // 2 % 2}", f"+{n}.0") for n in range(2, 6)]
    take(bench, "tablet", [told[2], told[0], told[3], a_set(1), told[1]])
    texts = [one.body.get("text") for one in bench.store.records(JOB)[2:]]
    assert texts == ["+2.0", "+3.0", "+4.0", "+5.0"]
    folded = folded_job(bench, JOB)
    assert folded.text("set/k3f9/0/1") == "+2.0"


def test_a_reading_is_judged_by_its_set(bench: Bench) -> None:
    """One whole turn of the dial off is held back with that reason; its neighbours are kept."""
    lot = [
        a_set(1),
        value(2, "set/k3f9/0/0", "+0.9"),
        value(3, "set/k3f9/0/1", "+1.1"),
        value(4, "set/k3f9/1/0", "+10.9"),
        value(5, "set/k3f9/1/1", "+0.8"),
    ]
    answers = take(bench, "tablet", lot).answers
    assert [one.state for one in answers] == ["kept", "kept", "kept", "held", "kept"]
    assert "turn" in answers[3].text
    body = bench.store.records(JOB)[2].body
    assert body["nm"] == 66_954_400 + 22_860


@pytest.mark.parametrize(
    ("told", "names"),
    [
        (value(9, "engine.stroke", "2.36", cylinder=0), "Stroke"),
        (value(9, "engine.stroke", "2360 in", cylinder=0), "Stroke"),
        (value(9, "no.such", "1 in"), "no.such"),
        (value(9, "engine.stroke", "2.36 in", cylinder=7), "cylinder"),
        (value(9, "engine.stroke", "2.36 in", cylinder=True), "cylinder"),
        (value(9, "intake.damage", "x" * 5000), "text"),
        (value(9, "intake.damage", "a\x00b"), "text"),
        (value(9, "intake.damage", "fine", replaces=["zz"]), "replaces"),
        (value(9, "intake.damage", "fine", kind="guessed"), "kind"),
        (entry(9, "lift", stage="found", person="p1", reason="because I say so"), "kind"),
        (entry(9, job="J-99", cell="intake.damage", text="x"), "J-99"),
        ({**value(9, "intake.damage", "x"), "id": "short"}, "id"),
        ({**value(9, "intake.damage", "x"), "n": 0}, "n"),
        ({**value(9, "intake.damage", "x"), "n": 2**53 - 1}, "n"),
        ({**value(9, "intake.damage", "x"), "version": 7}, "version"),
        ({**value(9, "intake.damage", "x"), "body": []}, "body"),
        (["not", "an", "object"], "object"),
    ],
)
def test_what_cannot_be_taken_is_held_back_with_its_field(
    bench: Bench, told: object, names: str
) -> None:
    """The answer names the field and what is accepted; what stands beside it is kept."""
    done = take(bench, "tablet", [value(1, "intake.marks", "tag 31"), told])
    held = [one for one in done.answers if one.state == "held"]
    assert len(held) == 1
    assert names in held[0].text
    assert bench.store.last(JOB) == 2


def test_a_delivery_in_parts_is_judged_as_in_one(bench: Bench) -> None:
    """What is held back does not depend on how many entries came together."""
    texts = ["+0.9", "+1.1", "+10.9", "+0.8"]
    cells = ["0/0", "0/1", "1/0", "1/1"]

    def lot(start: int, name: str) -> list[dict[str, Any]]:
        told = [
            value(start + 1 + k, f"set/{name}/{cell}", text)
            for k, (cell, text) in enumerate(zip(cells, texts, strict=True))
        ]
        return [{**a_set(start, name)}, *told]

    together = [one.state for one in take(bench, "tablet", lot(1, "k3f9")).answers]
    singly = [take(bench, "tablet", [one]).answers[0].state for one in lot(11, "k3fa")]
    assert together == singly
    assert together.count("held") == 1


def test_readings_of_a_set_that_is_held_back_are_held_back(bench: Bench) -> None:
    """A set that cannot be taken is not judged by; its readings wait with it."""
    bad = a_set(1)
    bad["body"]["feature"] = "no such feature"
    answers = take(bench, "tablet", [bad, value(2, "set/k3f9/0/0", "+0.9")]).answers
    assert [one.state for one in answers] == ["held", "held"]
    assert bench.store.last(JOB) == 1


def test_a_count_far_ahead_is_held_back(bench: Bench) -> None:
    """One slip of a counter does not make all holds wait for thousands that never come."""
    first = take(bench, "tablet", [value(5000, "intake.marks", "tag")])
    assert first.answers[0].state == "kept"
    lot = [value(10_001, "intake.damage", "none"), value(10_000, "intake.damage", "none")]
    done = take(bench, "tablet", lot)
    assert [one.state for one in done.answers] == ["kept", "kept"]  # the second goes before it
    far = take(bench, "tablet", [value(15_002, "intake.damage", "one")]).answers[0]
    assert far.state == "held"
    assert "n: 15002 is more than 5000 beyond the last entry of this device" in far.text
    assert "at most 15001 is taken" in far.text
    assert take(bench, "other", [value(5001, "intake.marks", "x")]).answers[0].state == "held"


def test_a_value_that_would_replace_itself_is_held_back(bench: Bench) -> None:
    """It is not acknowledged and then shown nowhere."""
    told = value(1, "intake.marks", "tag", replaces=[f"{1:032x}"])
    answer = take(bench, "tablet", [told]).answers[0]
    assert (answer.state, "own one" in answer.text) == ("held", True)


def test_a_number_that_was_given_up_leaves_no_gap(bench: Bench) -> None:
    """A held entry counts as missing until its number is filled with the reason."""
    take(bench, "tablet", [value(1, "intake.marks", "tag"), value(3, "intake.damage", "none")])
    assert folded_job(bench, JOB).missing() == {"tablet": 1}
    take(bench, "tablet", [entry(2, "given-up", reason="typed into the wrong job")])
    assert folded_job(bench, JOB).missing() == {}


def test_no_device_speaks_for_the_server(bench: Bench) -> None:
    """The key under which the server writes is taken from nobody."""
    done = take(bench, "bench", [value(1, "intake.marks", "tag")])
    assert done.answers[0].state == "held"
    assert bench.store.last(JOB) == 1


@pytest.mark.parametrize("fault", [StoreFull("no room"), StoreStopped("the disk failed")])
def test_a_store_that_cannot_keep_refuses_the_delivery(
    client: TestClient, monkeypatch: pytest.MonkeyPatch, fault: Exception
) -> None:
    """The answer is 503 with the reason, so the device keeps everything."""

    def refuse(*_: object) -> None:
        raise fault

    monkeypatch.setattr(client.app.state.bench.store, "submit", refuse)  # type: ignore[attr-defined] # set by the app
    answer = client.post("/api/records", json={"device": "t", "entries": [value(1, "place", "x")]})
    assert answer.status_code == 503
    assert answer.json()["text"] == str(fault)


def test_the_wire_answers_each_entry(client: TestClient) -> None:
    """Kept ones have their number, held ones their reason; the store's identity stands by."""
    lot = [value(1, "intake.marks", "tag 31"), value(2, "engine.stroke", "2360 in")]
    told = client.post("/api/records", json={"device": "tablet", "entries": lot}).json()
    assert [one["state"] for one in told["answers"]] == ["kept", "held"]
    assert told["store"]
    assert told["last"] == {JOB: 2}
    heard = client.get(f"/api/jobs/{JOB}/records", params={"after": 1}).json()
    assert [one["n"] for one in heard["records"]] == [1]
    assert heard["records"][0]["body"]["text"] == "tag 31"


def test_a_long_poll_is_over_after_its_time(client: TestClient) -> None:
    """Where nothing is told the answer is empty and the number stays."""
    told = client.get(f"/api/jobs/{JOB}/records", params={"after": 1, "wait": 0.05}).json()
    assert told["records"] == []
    assert told["last"] == 1


def test_a_page_that_polls_a_restored_store_is_told_at_once(client: TestClient) -> None:
    """Asked for what comes after a number that there is not, the last that there is is answered."""
    began = time.monotonic()
    for wait in (0, 20):
        asked = {"after": 17, "wait": wait}
        told = client.get(f"/api/jobs/{JOB}/records", params=asked).json()
        assert (told["last"], told["records"]) == (1, [])
    assert time.monotonic() - began < 10.0


@pytest.mark.parametrize(
    "sent", ["[]", "{}", '{"device": 7, "entries": []}', '{"device": "t", "entries": {}}', "{"]
)
def test_a_delivery_of_another_form_is_refused(client: TestClient, sent: str) -> None:
    """It is answered in words, with no half of it kept."""
    answer = client.post("/api/records", content=sent, headers={"content-type": "application/json"})
    assert answer.status_code == 422
    assert json.loads(answer.text)["error"]
    assert client.get(f"/api/jobs/{JOB}/records").json()["last"] <= 1
