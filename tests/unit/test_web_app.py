"""The bench as a server: what it answers, to whom, and what it says when it cannot."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from benches import EXAMPLES, app_in, worked_jobs
from sleevewright.services.plans import plan_document, plan_file
from sleevewright.store.queries import last_seal
from sleevewright.web.render import environment, static_files
from sleevewright.web.security import host_name

HERE = "http://127.0.0.1:8000"
DEMO = "demo-air-175.toml"
NUMBER = "D-175"


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A client of a bench with the worked jobs, as a browser on the same machine is one."""
    folder = tmp_path_factory.mktemp("bench")
    manual = folder / "manual"
    manual.mkdir()
    (manual / "index.html").write_text("<h1>Manual</h1>", encoding="utf-8")
    with client_of(folder, worked_jobs(), manual=manual) as client:
        client.headers["host"] = "127.0.0.1:8000"
        yield client


@contextmanager
def client_of(folder: Path, files: Iterable[Path] = (), **options: Any) -> Iterator[TestClient]:
    """A client of a bench in a folder of its own, closed behind it."""
    base = options.pop("base", HERE)
    raising = options.pop("raising", True)
    app = app_in(folder / "data", files, **options)
    try:
        with TestClient(app, base_url=base, raise_server_exceptions=raising) as client:
            yield client
    finally:
        app.state.bench.close()


def test_the_shelf_shows_every_job_with_its_next_move(bench: TestClient) -> None:
    """Each worked job is a row that leads to its route."""
    text = bench.get("/").text
    assert len(re.findall(r'class="job" href="/jobs/', text)) == len(worked_jobs())
    assert f'href="/jobs/{NUMBER}"' in text


def test_an_empty_bench_says_how_to_begin(tmp_path: Path) -> None:
    """A shelf without a job leads to the page that opens one."""
    with client_of(tmp_path) as client:
        answer = client.get("/")
    assert answer.status_code == 200
    assert 'href="/new"' in answer.text


def test_page_document_and_plan_agree_to_the_digit(bench: TestClient) -> None:
    """The seven figures of the page are those of the document and of the plan itself."""
    document = bench.get(f"/jobs/{NUMBER}/plan.json").json()
    plain = json.loads(json.dumps(plan_document(plan_file(EXAMPLES / DEMO))))
    beside = [stage["key"] for stage in document["stages"][len(plain["stages"]) :]]
    assert beside == ["advice", "fit-range"]  # as on the page
    stages = document["stages"][: len(plain["stages"])]
    assert document | {"stages": stages} == plain
    shown = {
        leaf["id"]: leaf["shown"]["figure"]
        for stage in document["stages"]
        for leaf in stage["answers"]
    }
    page = bench.get(f"/jobs/{NUMBER}/plan").text
    rows = re.findall(r'<li class="[^"]*" id="([^"]+)">\s*<a class="row".*?</a>', page, re.DOTALL)
    assert rows == document["seven"]
    for identity in rows:
        row = page.partition(f'id="row-{identity}"')[2].partition("</a>")[0]
        assert f"</span>{shown[identity]}</span>" in row or shown[identity] in row


def test_every_answer_opens_as_a_part_of_the_page(bench: TestClient) -> None:
    """Each number's basis can be fetched alone, and names its source or where it is from."""
    document = bench.get(f"/jobs/{NUMBER}/plan.json").json()
    leaves = [leaf for stage in document["stages"] for leaf in stage["answers"]]
    assert len(leaves) > 60
    for leaf in leaves:
        answer = bench.get(f"/jobs/{NUMBER}/plan", params={"more": leaf["id"], "part": "basis"})
        assert answer.status_code == 200, leaf["id"]
        if leaf["basis"]:
            assert f"/evidence#{leaf['basis']['function']}" in answer.text
            assert answer.text.count('class="input"') == len(set(leaf["basis"]["inputs"].values()))


def test_the_other_units_are_shown_without_changing_the_job(bench: TestClient) -> None:
    """In metric the page shows micrometres and its links keep the units."""
    text = bench.get(f"/jobs/{NUMBER}/plan", params={"units": "metric"}).text
    assert "µm, diametral" in text
    assert "units=metric&amp;open=" in text
    assert "thou, diametral" not in text


def test_the_ticket_is_a_pdf(bench: TestClient) -> None:
    """The ticket of a job is served as a document for paper."""
    answer = bench.get(f"/jobs/{NUMBER}/ticket.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    said = text_of_pdf(answer.content)
    sealed = bench.app.state.bench.store.read(last_seal)  # type: ignore[attr-defined] # set by the app
    assert f"sealed {sealed.hash[:16]}" in said


def text_of_pdf(content: bytes) -> str:
    """All words of a PDF."""
    said = " ".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)
    return " ".join(said.split())


def test_an_unknown_job_is_a_page_with_those_that_are_known(bench: TestClient) -> None:
    """A wrong number is answered with the right ones, and never with a traceback."""
    answer = bench.get("/jobs/J-99/plan")
    assert answer.status_code == 404
    assert NUMBER in answer.text
    assert "J-99" in answer.text
    assert bench.get("/jobs/J-99/plan.json").json()["error"]


@pytest.mark.parametrize(
    ("address", "status"),
    [
        ("/nowhere", 404),
        (f"/jobs/{NUMBER}/plan?units=furlong", 422),
        (f"/jobs/{NUMBER}/plan?more=no.such&part=basis", 404),
        ("/static/0/plan/plan.css", 404),
        ("/manual/../render.py", 404),
        ("/manual/%2e%2e/%2e%2e/bench.db", 404),
    ],
)
def test_a_wrong_address_is_a_page_in_words(bench: TestClient, address: str, status: int) -> None:
    """Every wrong address is answered by a page of the bench with the right status."""
    answer = bench.get(address)
    assert answer.status_code == status
    assert "Traceback" not in answer.text
    assert "<h1" in answer.text


def test_a_fault_of_the_tool_is_said_without_its_insides(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A mistake of the tool's own is a page that says so and gives no number."""

    def fail(*_: object, **__: object) -> None:
        raise ZeroDivisionError("secret")

    monkeypatch.setattr("sleevewright.web.shelf.routes.shelf", fail)
    with client_of(tmp_path, raising=False) as client:
        answer = client.get("/")
    assert answer.status_code == 500
    assert "secret" not in answer.text
    assert "No number is given" in answer.text
    assert "default-src" in answer.headers["content-security-policy"]


def test_every_answer_carries_the_guards(bench: TestClient) -> None:
    """Pages, parts, files and errors all carry the policy that keeps other hosts out."""
    style = static_files().address("plan/plan.css")
    for address in (
        "/",
        f"/jobs/{NUMBER}",
        f"/jobs/{NUMBER}/plan",
        "/trial",
        "/nowhere",
        style,
        "/manual/",
    ):
        headers = bench.get(address).headers
        policy = headers["content-security-policy"]
        assert "default-src 'self'" in policy
        assert "unsafe" not in policy
        assert "frame-ancestors 'none'" in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "same-origin"


@pytest.mark.parametrize("host", ["evil.test", "127.0.0.1.evil.test", "", "[::1].evil.test:80x"])
def test_a_host_that_is_not_ours_is_refused(bench: TestClient, host: str) -> None:
    """A name that merely resolves to this machine gets nothing of a job."""
    answer = bench.get("/", headers={"host": host})
    if host.startswith("[::1]"):
        assert host_name(host) == "::1"
        return
    assert answer.status_code == 400
    assert NUMBER not in answer.text


def test_a_named_host_is_answered(tmp_path: Path) -> None:
    """A name that the shop has set is one of ours."""
    with client_of(tmp_path, hosts=("Shop.Test",), base="http://shop.test:8000") as client:
        assert client.get("/").status_code == 200


def test_a_page_of_another_site_cannot_send(bench: TestClient) -> None:
    """What a browser marks as coming from another site is refused."""
    answer = bench.post(
        "/trial/plan", json={"sequence": 1}, headers={"sec-fetch-site": "cross-site"}
    )
    assert answer.status_code == 403
    plain = bench.post(
        "/trial/plan", content='{"sequence": 1}', headers={"content-type": "text/plain"}
    )
    assert plain.status_code == 415


def test_files_are_kept_for_ever_under_an_address_of_their_content(bench: TestClient) -> None:
    """Styles, modules and fonts may be kept, since a change of any changes their address."""
    for name in ("static/tokens.css", "plan/page.js", "static/fonts/figures-700.woff2"):
        answer = bench.get(static_files().address(name))
        assert answer.status_code == 200
        assert "immutable" in answer.headers["cache-control"]
    assert bench.get("/").headers["cache-control"] == "no-cache"


def test_large_answers_travel_small(bench: TestClient) -> None:
    """The plan page is sent compressed to a browser that takes it so."""
    answer = bench.get(f"/jobs/{NUMBER}/plan", headers={"accept-encoding": "gzip"})
    assert answer.headers["content-encoding"] == "gzip"


def test_no_file_names_another_host() -> None:
    """No style, module or template has an address of another host in it."""
    loader = environment().loader
    assert loader is not None
    names = environment().list_templates(extensions=["html", "css", "js"])
    assert len(names) > 20
    for name in names:
        source = loader.get_source(environment(), name)[0]
        assert not re.search(r"(https?:)?//[\w-]+\.\w", source), name
        if name.endswith(".html"):
            assert " style=" not in source, name
            assert not re.search(r"\son\w+=", source), name
            assert not re.search(r"<script(?! type=\"module\" src=)", source), name


def test_every_page_has_language_title_and_one_heading(bench: TestClient) -> None:
    """Each page says its language, has a title and exactly one first heading."""
    for address in (
        "/",
        f"/jobs/{NUMBER}",
        f"/jobs/{NUMBER}/plan",
        "/trial",
        "/evidence",
        "/nowhere",
    ):
        text = bench.get(address).text
        assert '<html lang="en">' in text
        assert re.search(r"<title>[^<]+</title>", text)
        assert len(re.findall(r"<h1[ >]", text)) == 1, address


def test_the_manual_is_served_from_its_folder(bench: TestClient) -> None:
    """The built manual stands under the bench's own address."""
    assert bench.get("/manual").url.path == "/manual/"
    assert "<h1>Manual</h1>" in bench.get("/manual/").text


def test_a_manual_that_was_not_built_says_how(tmp_path: Path) -> None:
    """Until it is built the address says by which command it is."""
    with client_of(tmp_path) as client:
        answer = client.get("/manual/")
    assert answer.status_code == 404
    assert "python3 run.py" in answer.text


def test_the_evidence_page_shows_every_formula(bench: TestClient) -> None:
    """Each formula of the core has its paragraph, and the summary counts those unchecked."""
    text = bench.get("/evidence").text
    from sleevewright.core.formulas import all_formulas

    for formula in all_formulas():
        assert f'id="{formula.function}"' in text
    assert "no check from outside" in text or "Every formula has a check" in text
