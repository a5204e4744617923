"""Whose job it is, outside of the chain; and what a lost device had counted, given up."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from benches import app_in
from sleevewright.errors import InputError, StateError
from sleevewright.services.bench import Bench
from sleevewright.services.contacts import Contact, contact_of, forget_contact, keep_contact
from sleevewright.services.entry import take
from sleevewright.services.jobs import folded_job, look, open_job
from sleevewright.services.lost import give_up_missing
from sleevewright.services.people import add_person
from sleevewright.services.signing import Signature

JOB = "J-1"
WHY = "The phone fell into the parts washer."


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """A bench with one job over HTTP."""
    app = app_in(tmp_path / "data")
    open_job(app.state.bench, JOB, {})
    add_person(app.state.bench, "M. Turner")
    with TestClient(app, base_url="http://127.0.0.1:8000") as made:
        yield made
    app.state.bench.close()


@pytest.fixture
def bench(client: TestClient) -> Bench:
    """The bench behind it."""
    made: Bench = client.app.state.bench  # type: ignore[attr-defined] # set by the app
    return made


def told(n: int, text: str) -> dict[str, object]:
    """An entry with a number of its device."""
    body = {"cylinder": 1, "cell": "intake.damage", "text": text}
    return {"id": f"{n:032x}", "job": JOB, "n": n, "kind": "value", "version": 1, "body": body}


def test_a_contact_is_kept_shown_and_forgotten(client: TestClient, bench: Bench) -> None:
    """The name is on the page and in no record; forgotten, it is nowhere."""
    sent = {"name": "A. Customer", "telephone": "5550100", "stage": "", "cylinder": 0}
    assert client.post(f"/api/jobs/{JOB}/contact", json=sent).status_code == 201
    assert contact_of(bench, JOB) == Contact("A. Customer", telephone="5550100")
    assert "A. Customer" in client.get(f"/jobs/{JOB}").text
    assert all("Customer" not in str(record.body) for record in bench.store.records(JOB))
    forget_contact(bench, JOB)
    assert contact_of(bench, JOB) == Contact()
    assert "A. Customer" not in client.get(f"/jobs/{JOB}").text


def test_a_contact_that_cannot_be_printed_is_refused(bench: Bench) -> None:
    """The field is named and nothing is changed."""
    with pytest.raises(InputError, match="name"):
        keep_contact(bench, JOB, {"name": "a\x00b"})
    with pytest.raises(InputError, match="note"):
        keep_contact(bench, JOB, {"note": "x" * 500})
    assert contact_of(bench, JOB) == Contact()


def test_a_lost_device_holds_the_job_until_it_is_given_up(client: TestClient, bench: Bench) -> None:
    """Its missing numbers are named on the page; given up, they are filled with the reason."""
    take(bench, "d-phone", [told(1, "fin"), told(4, "stud")])
    assert folded_job(bench, JOB).missing_numbers("d-phone") == (2, 3)
    assert "2 entries of a browser (phone)" in client.get(f"/jobs/{JOB}").text
    assert any("not here yet" in lack.why for lack in look(bench, JOB).hold("intake").lacks)
    sent = {"device": "d-phone", "reason": WHY}
    assert client.post(f"/api/jobs/{JOB}/give-up", json=sent).json() == {"number": 2}
    assert folded_job(bench, JOB).missing() == {}
    assert bench.store.records(JOB)[-1].body["reason"] == WHY


def test_nothing_is_given_up_without_a_reason_or_a_gap(bench: Bench) -> None:
    """A reason of one word is refused, and so is a device of which nothing is missing."""
    take(bench, "d-phone", [told(1, "fin"), told(3, "stud")])
    with pytest.raises(InputError, match="reason"):
        give_up_missing(bench, JOB, "d-phone", "lost", by=Signature(""))
    with pytest.raises(StateError):
        give_up_missing(bench, JOB, "d-tablet", WHY, by=Signature(""))
    assert folded_job(bench, JOB).missing() == {"d-phone": 1}


def test_a_device_that_comes_back_is_told_and_overwrites_nothing(bench: Bench) -> None:
    """Its late entries are held back at the numbers that were given up."""
    take(bench, "d-phone", [told(1, "fin"), told(3, "stud")])
    give_up_missing(bench, JOB, "d-phone", WHY, by=Signature(""))
    late = take(bench, "d-phone", [told(2, "thread")]).answers[0]
    assert late.state == "held"
    assert "number" in late.text.lower()
    assert folded_job(bench, JOB).missing() == {}
