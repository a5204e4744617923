"""What waits on a device, brought as a file: kept with its ids and numbers, once."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from starlette.testclient import TestClient

from benches import bench_in
from sleevewright.cli.exchange import import_one
from sleevewright.errors import InputError
from sleevewright.services.bench import Bench
from sleevewright.services.devices import PairingDesk
from sleevewright.services.entry import take
from sleevewright.services.jobs import open_job
from sleevewright.services.unsent import (
    FORMAT,
    import_unsent,
    import_unsent_file,
    is_unsent_file,
)
from sleevewright.web.app import Serving, create_app

DEVICE = "d-k3f9"
JOB = "J-1"


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with one job, of which the device told its first entry."""
    made = bench_in(tmp_path / "data")
    open_job(made, JOB, {})
    take(made, DEVICE, [entry(1, "fins")])
    yield made
    made.close()


def entry(n: int, text: str, job: str = JOB, **more: Any) -> dict[str, Any]:
    """An entry as a device saves it."""
    body = {"cylinder": 1, "cell": "intake.damage", "text": text}
    wire = {"id": f"{n:032x}", "job": job, "n": n, "kind": "value", "version": 1, "body": body}
    return {**wire, "state": "waiting", "text": "", **more}


def saved(bench: Bench, *entries: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A file as a page of the bench saves it."""
    store = bench.store.identity
    return {"format": FORMAT, "device": DEVICE, "store": store, "entries": list(entries), **more}


def test_entries_keep_their_device_id_and_number(bench: Bench) -> None:
    """Whatever their order in the file; what came before is acknowledged and kept once."""
    lot = [entry(3, "rim"), entry(1, "fins"), entry(2, "skirt", state="held")]
    done = import_unsent(bench, saved(bench, *lot))
    assert (done.kept, done.new, done.apart, done.held) == (3, 2, 0, ())
    records = bench.store.records(JOB, after=1)
    told = [(one.device, one.device_number, one.id, one.body["text"]) for one in records]
    assert told == [
        (DEVICE, n, f"{n:032x}", text) for n, text in enumerate(("fins", "skirt", "rim"), 1)
    ]
    again = import_unsent(bench, saved(bench, *lot))
    assert (again.kept, again.new) == (3, 0)
    assert take(bench, DEVICE, [entry(3, "rim")]).answers[0].number == 4  # the device sends late


def test_what_cannot_be_kept_is_told_and_stops_nothing(bench: Bench) -> None:
    """The job and the cell are named with the reason; entries beside it are kept."""
    bad = entry(2, "x")
    bad["body"] = {"cylinder": 0, "cell": "engine.stroke", "text": "2360 in"}
    done = import_unsent(bench, saved(bench, bad, entry(3, "rim"), entry(9, "y", job="J-9")))
    assert (done.kept, done.new) == (1, 1)
    assert [(one.job, one.what) for one in done.held] == [
        (JOB, "engine.stroke: 2360 in"),
        ("J-9", "intake.damage: y"),
    ]
    assert "Stroke" in done.held[0].text
    assert bench.store.folded(JOB).missing() == {DEVICE: 1}


def test_another_bench_s_entries_are_not_mixed_in(bench: Bench) -> None:
    """A job of the same number is another job there: passed over, or the file is refused."""
    done = import_unsent(bench, saved(bench, entry(2, "skirt", state="apart")))
    assert (done.kept, done.apart) == (0, 1)
    with pytest.raises(InputError, match="that knew this bench"):
        import_unsent(bench, saved(bench, entry(2, "skirt"), store="zzzz-2"))
    assert bench.store.last(JOB) == 2
    restored = f"{bench.store.identity.rpartition('-')[0]}-7"
    assert import_unsent(bench, saved(bench, entry(2, "skirt"), store=restored)).new == 1


def test_more_than_one_delivery_is_kept_in_order(bench: Bench) -> None:
    """A device that was away for long fills more than a thousand entries."""
    lot = [entry(n, f"{n}") for n in range(2, 2302)]
    done = import_unsent(bench, saved(bench, *reversed(lot)))
    assert (done.kept, done.new, done.held) == (2300, 2300, ())
    assert [one.device_number for one in bench.store.records(JOB, after=1)] == [*range(1, 2302)]


@pytest.mark.parametrize(
    "text",
    ["{", "{}", '{"format": "other"}', "{" * 5000, '{"format": "sleevewright-unsent"}',
     '{"format": "sleevewright-unsent", "device": "d", "entries": [1]}',
     '{"format": "sleevewright-unsent", "device": 7, "entries": []}'],
)  # fmt: skip
def test_another_file_is_refused_in_words(bench: Bench, tmp_path: Path, text: str) -> None:
    """What begins as JSON and is no such file is told what is taken."""
    path = tmp_path / "waiting.json"
    path.write_text(text, encoding="utf-8")
    assert is_unsent_file(path)
    with pytest.raises(InputError, match="allowed is"):
        import_unsent_file(bench, path)


def test_the_command_takes_it_in(bench: Bench, tmp_path: Path) -> None:
    """`sleevewright import` says how many were kept and which were not, and why."""
    path = tmp_path / "waiting.json"
    document = saved(bench, entry(2, "skirt"), entry(3, "x", job="J-9"))
    path.write_text(json.dumps(document), encoding="utf-8")
    folder = bench.folder
    bench.close()
    done = CliRunner().invoke(import_one, [str(path), "--data", str(folder)])
    assert done.exit_code == 0, done.output
    first, second, third = done.output.splitlines()
    assert first == f"1 entry of the device {DEVICE} kept, 1 of them new."
    assert second == "1 held back:"
    assert third.startswith("  J-9, intake.damage: x: ")


def test_the_own_screen_takes_it_in_and_a_tablet_may_not(bench: Bench) -> None:
    """The page of the job has the form; a paired device speaks for no other by a file either."""
    desk = PairingDesk(bench)
    app = create_app(bench, Serving(None, ("shop.test",), desk))
    tablet = TestClient(app, base_url="http://shop.test:8175", client=("192.168.7.31", 1))
    tablet.post("/pair", json={"code": desk.code()})
    document = saved(bench, entry(2, "skirt"))
    refused = tablet.post("/api/unsent", json=document)
    assert refused.status_code == 422
    assert "the bench's own screen" in refused.json()["text"]
    screen = TestClient(app, base_url="http://127.0.0.1:8175", client=("127.0.0.1", 1))
    assert 'data-bring="/api/unsent"' in screen.get(f"/jobs/{JOB}").text
    told = screen.post("/api/unsent", json=document).json()
    assert told == {"device": DEVICE, "kept": 1, "new": 1, "apart": 0, "held": []}
    wrong = screen.post("/api/unsent", json={**document, "format": "other"})
    assert wrong.status_code == 422
