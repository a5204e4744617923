"""A job without a name over HTTP: planned as far as it is typed, refused at its field."""

from __future__ import annotations

from collections.abc import Iterator
from html import unescape

import pytest
from starlette.testclient import TestClient

from benches import app_in
from sleevewright.jobs.jobfile import read_job

ENOUGH = {
    "sleeve-outside_diameter": "2.640",
    "sleeve-inside_diameter": "2.340",
    "casting-material": "aluminium-356",
    "sleeve-material": "grey-iron",
    "casting-outside_diameter": "3.70",
    "sleeve-length": "3.5",
    "fit-wanted": "3.4",
    "heat-slip": "5.4",
}


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A client of a bench with nothing on its shelf."""
    app = app_in(tmp_path_factory.mktemp("empty"))
    with TestClient(app, base_url="http://127.0.0.1:8000") as client:
        yield client
    app.state.bench.close()


def typed(entries: dict[str, str], sequence: int = 1, units: str = "inch") -> dict[str, object]:
    """What the page sends."""
    return {"sequence": sequence, "units": units, "entries": entries}


def test_an_empty_page_has_seven_blanks_and_asks_for_the_sleeve(bench: TestClient) -> None:
    """Nothing typed: dashes, never a zero, and one press that asks for the first number."""
    text = bench.get("/trial").text
    assert text.count('class="fig k blank') >= 5
    assert "Give: sleeve, outside" in text


def test_an_address_with_entries_is_the_whole_page(bench: TestClient) -> None:
    """Without a script the same page is planned from its address."""
    answer = bench.get("/trial", params=ENOUGH)
    assert answer.status_code == 200
    row = answer.text.partition('id="row-fit.cold"')[2].partition("</a>")[0]
    assert "</span>3.4</span>" in row
    assert 'value="2.640"' in answer.text


def test_typing_and_address_give_the_same_parts(bench: TestClient) -> None:
    """What is sent while typing is planned as the address is."""
    told = bench.post("/trial/plan", json=typed(ENOUGH)).json()
    page = bench.get("/trial", params=ENOUGH).text
    assert told["errors"] == {}
    assert told["parts"]["sheet"].strip().splitlines()[0] in page
    assert told["address"].startswith("/trial?sleeve-outside_diameter=2.640+in")


def test_an_answer_carries_the_number_of_its_question(bench: TestClient) -> None:
    """The page can tell an old answer from a newer one."""
    assert bench.post("/trial/plan", json=typed(ENOUGH, 7)).json()["sequence"] == 7
    bad = typed({"fit-wanted": "three"}, 8)
    assert bench.post("/trial/plan", json=bad).json()["sequence"] == 8


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("sleeve-outside_diameter", "wide"),
        ("sleeve-outside_diameter", "264"),
        ("fit-wanted", "5 %"),
        ("running-casting", "-500"),
        ("casting-material", "cheese"),
        ("casting-outside_diameter", "2.0"),
    ],
)
def test_a_bad_entry_is_told_at_its_field_and_kept(
    bench: TestClient, field: str, text: str
) -> None:
    """Status 422, a message at the field, the entry still in it, no number from it."""
    entries = {**ENOUGH, field: text}
    answer = bench.post("/trial/plan", json=typed(entries))
    assert answer.status_code == 422
    told = answer.json()
    assert field in told["errors"]
    assert "parts" not in told
    page = bench.get("/trial", params=entries)
    assert page.status_code == 422
    assert told["errors"][field][:20] in unescape(page.text)
    if field != "casting-material":
        assert f'value="{text}"' in page.text
    assert "</span>3.4</span>" not in page.text


def test_what_is_not_ours_in_an_address_is_let_be(bench: TestClient) -> None:
    """Unknown words of an address and entries of any length do not break the page."""
    answer = bench.get("/trial", params={"utm": "x", "fit-wanted": "9" * 500})
    assert answer.status_code == 422
    assert bench.get("/trial", params={"nothing": "1"}).status_code == 200


def test_the_kept_file_is_a_job(bench: TestClient) -> None:
    """The file that is offered is read by the reader of job files."""
    answer = bench.get("/trial/job.toml", params=ENOUGH)
    job = read_job(answer.text, name="job.toml")
    assert job.casting.material == "aluminium-356"
    assert "attachment" in answer.headers["content-disposition"]


def test_ticket_and_document_of_what_was_typed(bench: TestClient) -> None:
    """A job without a name has its paper and its data like any other."""
    assert bench.get("/trial/ticket.pdf", params=ENOUGH).content.startswith(b"%PDF")
    assert bench.get("/trial/plan.json", params=ENOUGH).json()["schema"]


def test_a_number_opens_on_a_trial_too(bench: TestClient) -> None:
    """The basis alone is served for entries in the address, and its links keep them."""
    params = {**ENOUGH, "open": "fit.running", "part": "basis"}
    text = bench.get("/trial", params=params).text
    assert 'data-basis="open"' in text
    assert "sleeve-outside_diameter=2.640+in" in text
