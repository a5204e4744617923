"""The pages of search and price: what stands on them, what they write, what they refuse."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

import pypdf
import pytest
from fastapi.testclient import TestClient

from benches import bench_in, worked_jobs
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import open_job, server_draft
from sleevewright.services.quotes import quotes_of
from sleevewright.web.app import create_app
from sleevewright.web.price.routes import router as price_router
from sleevewright.web.search.routes import router as search_router
from sleevewright.web.search.views import done_before

FIELDS = {
    "offer.hone": "yes",
    "offer.sleeve": "yes",
    "minutes.sleeve.ports": "100",
    "part.sleeve.0.title": "Sleeve",
    "part.sleeve.0.amount": "140,50",
    "part.sleeve.1.title": "",
    "until": "",
    "note": "without welding",
}


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """A bench with the worked jobs and a second job of one of them's engine."""
    made = bench_in(tmp_path_factory.mktemp("priced"), worked_jobs())
    title = made.store.folded("D-175").opened["title"]
    open_job(made, "J-7", {"title": title, "units": "inch"})
    body = {"cylinder": 1, "cell": "engine.description", "source": "keyed",
            "text": made.store.folded("D-175").text("engine.description")}  # fmt: skip
    made.store.append([server_draft("J-7", "value", body)])
    yield made
    made.close()


@pytest.fixture(scope="module")
def client(bench: Bench) -> Iterator[TestClient]:
    """A client of the bench's pages."""
    app = create_app(bench)
    known = {getattr(route, "path", "") for route in app.routes}
    for path, router in (("/search", search_router), ("/jobs/{number}/price", price_router)):
        if path not in known:
            app.include_router(router)
    with TestClient(app, base_url="http://localhost") as made:
        yield made


def post(client: TestClient, path: str, fields: dict[str, str]) -> Any:
    """Send a form as its page does."""
    return client.post(path, json=fields, headers={"Origin": "http://localhost"})


def test_search_shows_what_was_found_and_why(client: TestClient) -> None:
    """A job is found by its number; why, and how it came out, stand on its row."""
    page = client.get("/search", params={"q": "D-175"}).text
    assert "D-175" in page
    assert "called so" in page
    assert "on the bench" in page
    assert 'value="D-175"' in page


def test_search_says_how_a_size_was_read(client: TestClient) -> None:
    """A size is told back with its unit, so that a misread one shows."""
    page = client.get("/search", params={"q": "61 mm"}).text
    assert "within 1 mm of" in page


@pytest.mark.parametrize("query", ["", "zzzz qqqq", "<b>x</b>", "%", "\x00", "x" * 3000])
def test_search_takes_any_question(client: TestClient, query: str) -> None:
    """An odd question gets a page that says what to do, with nothing of it run."""
    answer = client.get("/search", params={"q": query})
    assert answer.status_code == 200
    assert "<b>x</b>" not in answer.text
    assert "The shelf" in answer.text or "Shelf" in answer.text


def test_jobs_like_a_job_are_listed(client: TestClient, bench: Bench) -> None:
    """Beside a job those of its engine stand first, and it does not stand itself."""
    page = client.get("/search", params={"like": "J-7"}).text
    assert "same engine" in page
    lines = done_before(bench, bench.store.folded("J-7"), 1)
    assert lines[0].number == "D-175"
    assert "same engine" in lines[0].why
    assert all(line.number != "J-7" for line in lines)
    assert {one.name for one in lines[0].figures} >= {"Bore"}


def test_price_page_stands_before_anything_is_offered(client: TestClient) -> None:
    """Three options side by side, each with words, sums and minutes to type on."""
    page = client.get("/jobs/D-175/price").text
    for words in ("Hone, same piston", "Next oversize", "Sleeve", "own estimate", "Make the offer"):
        assert words in page
    assert page.count("<fieldset") == 3
    assert 'name="minutes.sleeve.ports"' in page
    assert client.get("/jobs/none/price").status_code == 404


def test_offer_is_made_agreed_and_invoiced_from_the_page(client: TestClient, bench: Bench) -> None:
    """What is typed is kept; the agreement and the invoice carry it on; paper has the same sums."""
    made = post(client, "/api/jobs/D-175/offers", FIELDS)
    assert made.status_code == 201, made.text
    identity = made.json()["id"]
    quote = quotes_of(bench, "D-175")[0]
    assert [one.key for one in quote.offered] == ["hone", "sleeve"]
    assert quote.offered[1].parts[0].cents == 14_050
    agreed = post(
        client,
        f"/api/jobs/D-175/offers/{identity}/agree",
        {"option": "sleeve", "how": "in person"},
    )
    assert agreed.status_code == 201, agreed.text
    page = client.get("/jobs/D-175/price").text
    assert "Price, agreed" in page
    bill = {"change.0.title": "Welding", "change.0.amount": "60", "change.0.reason": "crack"}
    issued = post(client, "/api/jobs/D-175/invoices", bill)
    assert issued.status_code == 201, issued.text
    for path in (
        f"/jobs/D-175/offers/{identity}/offer.pdf",
        f"/jobs/D-175/invoices/{issued.json()['id']}/invoice.pdf",
    ):
        answer = client.get(path)
        assert answer.headers["content-type"] == "application/pdf"
        words = pypdf.PdfReader(io.BytesIO(answer.content)).pages[0].extract_text()
        assert "invented example" in words
        assert "140.50" in words
    assert "crack" in client.get("/jobs/D-175/price").text
    assert post(client, "/api/jobs/D-175/offers", {"offer.hone": "yes"}).status_code == 201
    page = client.get("/jobs/D-175/price").text
    assert f"of the earlier offer {identity}" in page


@pytest.mark.parametrize(
    ("path", "fields", "word"),
    [
        ("offers", {}, "one option"),
        ("offers", {"offer.hone": "yes", "minutes.hone.hone": "1.5"}, "whole minutes"),
        ("offers", {"offer.hone": "yes", "part.hone.0.title": "Rings"}, "two decimals"),
        ("offers", {"offer.hone": "yes", "until": "tomorrow"}, "a day as"),
        ("offers", {"offer.hone": "yes", "note": "x" * 5000}, "at most"),
        ("offers/J-7-Q9/agree", {"option": "hone", "how": "in person"}, "no offer"),
        ("invoices", {}, "agreed"),
    ],
)
def test_what_cannot_be_taken_is_said(
    client: TestClient, path: str, fields: dict[str, str], word: str
) -> None:
    """A refusal is a sentence in JSON; nothing is kept and nothing breaks."""
    answer = post(client, f"/api/jobs/J-7/{path}", fields)
    assert 400 <= answer.status_code < 500
    assert word in answer.text


def test_contact_stands_on_the_paper_and_not_in_the_chain(client: TestClient, bench: Bench) -> None:
    """A customer's name is printed from its own table; no record holds it."""
    from sqlalchemy import insert

    from sleevewright.store.tables import contact

    row = {"job": "J-7", "name": "Nemo Nobody", "address": "1 Nowhere Lane\nElsewhere"}
    bench.store.write(lambda connection: connection.execute(insert(contact).values(row)))
    made = post(client, "/api/jobs/J-7/offers", {"offer.hone": "yes"})
    answer = client.get(f"/jobs/J-7/offers/{made.json()['id']}/offer.pdf")
    words = pypdf.PdfReader(io.BytesIO(answer.content)).pages[0].extract_text()
    assert "Nemo Nobody" in words
    assert "Elsewhere" in words
    assert all("Nemo" not in str(record.body) for record in bench.store.records("J-7"))


@pytest.mark.parametrize(
    "body",
    [
        b'{"option": "hone", "how": "\\ud800"}', b'{"offer.hone": "y", "paid": "\\ud800"}',
        b"[]", b"3", b"null", b"{", b'{"offer.hone": 1}', b'{"offer.hone": "\\ud800"}',
        b'{"offer.hone": "y", "note": "\\u0000"}', b'{"\\ud800": "y"}', b'{"offer.what": "y"}',
        b'{"offer.hone": "y", "minutes.hone.hone": "\\u0660"}',
        b'{"offer.hone": "y", "part.hone.0.title": "\\u001b", "part.hone.0.amount": "5"}',
    ],
)  # fmt: skip
@pytest.mark.parametrize("path", ["offers", "offers/J-7-Q1/agree", "invoices"])
def test_malformed_bodies_are_refused_and_break_nothing(
    client: TestClient, path: str, body: bytes
) -> None:
    """Whatever is sent, the answer is a refusal with a sentence, never a failure of the page."""
    headers = {"Origin": "http://localhost", "Content-Type": "application/json"}
    answer = client.post(f"/api/jobs/J-7/{path}", content=body, headers=headers)
    assert 400 <= answer.status_code < 500, answer.text
    assert answer.json()
