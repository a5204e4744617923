"""The addresses of a job on a real store: its page, its stages, what follows alone, its file."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from benches import EXAMPLES, app_in

JOB = "/jobs/D-175"


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A bench with one worked job."""
    folder = tmp_path_factory.mktemp("bench") / "data"
    app = app_in(folder, [EXAMPLES / "demo-air-175.toml"])
    with TestClient(app, base_url="http://localhost") as client:
        yield client
    app.state.bench.close()


def test_a_job_opens_at_its_stage_in_hand(client: TestClient) -> None:
    """The page names the job, its next action, and where the stage is worked at."""
    text = client.get(JOB).text
    assert "in hand at job D-175" in text
    assert f'href="{JOB}/1/' in text
    assert client.get(f"{JOB}/1").text.count("<h1") == 1


def test_the_part_of_answers_is_not_a_page(client: TestClient) -> None:
    """What is fetched after each reading holds no head, no scripts and no second main."""
    for path in (JOB, f"{JOB}/1/sleeve"):
        text = client.get(path, params={"part": "answers"}).text
        assert text.lstrip().startswith('<div data-part="answers">')
        assert "<main" not in text


@pytest.mark.parametrize("path", [f"{JOB}/1/nowhere", f"{JOB}/2/sleeve", "/jobs/J-9/1/sleeve"])
def test_what_is_not_there_is_said(client: TestClient, path: str) -> None:
    """An unknown stage, cylinder or job is no fault of the server."""
    assert client.get(path).status_code == 404


def test_a_port_can_be_asked_for_in_the_address(client: TestClient) -> None:
    """Its row stands there; markup in its name stays words."""
    answer = client.get(f"{JOB}/1/found", params={"port": ["boost", "<b>"]})
    assert "port/boost/found.roof" in answer.text
    assert "<b>/found" not in answer.text


def test_a_job_is_handed_out_as_one_file(client: TestClient) -> None:
    """The file opens, and its records end at the number that the page knows."""
    answer = client.get(f"{JOB}/export.zip")
    assert answer.headers["content-disposition"] == 'attachment; filename="D-175.zip"'
    with zipfile.ZipFile(io.BytesIO(answer.content)) as package:
        assert package.testzip() is None
        manifest = json.loads(package.read("manifest.json"))
        records = package.read("records.jsonl").decode().splitlines()
    assert manifest["job"] == "D-175"
    assert len(records) == manifest["last"]
    assert f'data-last="{manifest["last"]}"' in client.get(JOB).text
    assert client.get("/jobs/J-9/export.zip").status_code == 404


def test_the_shelf_and_a_new_job_are_served(client: TestClient) -> None:
    """The first page lists the job; the next free number stands in the form."""
    assert "D-175" in client.get("/").text
    assert 'value="J-1"' in client.get("/new").text


def test_the_history_is_read_as_far_as_it_is_asked_for(client: TestClient) -> None:
    """Twelve records at first and how many there were before; all of them by one press."""
    text = client.get(JOB).text
    last = int(text.partition('data-last="')[2].partition('"')[0])
    assert f"Before that: {last - 12} more" in text
    whole = client.get(f"{JOB}/1", params={"history": "all"}).text
    assert "Before that" not in whole
    assert "Job opened" in whole
    assert "Job opened" not in text
