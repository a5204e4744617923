"""Every address, asked as its own description allows: none of them answers with a failure."""

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, Phase, given, settings

from sleevewright.services.bench import opened
from sleevewright.services.jobs import open_job
from sleevewright.web.app import create_app

JOB = "J-1"
ENDLESS = "/api/jobs/{number}/stream"
TOLD = ("method", "url", "headers", "params", "json", "data", "files")
KNOWN = {"number": JOB, "cylinder": 1, "stage": "sleeve"}
"""What is put into every second address, so that it leads somewhere."""


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A bench with one job."""
    with opened(tmp_path_factory.mktemp("open") / "data") as bench:
        open_job(bench, JOB, {"title": "invented", "cylinders": 2, "invented": True})
        app = create_app(bench)
        with TestClient(app, base_url="http://localhost", raise_server_exceptions=False) as made:
            yield made


def failures(client: TestClient, examples: int) -> list[str]:
    """What each operation was asked and failed at."""
    app: Any = client.app
    schema = schemathesis.openapi.from_dict(app.openapi())
    operations = [one.ok() for one in schema.get_all_operations()]
    asked = [one for one in operations if one.path != ENDLESS]
    assert len(asked) > 20
    found: list[str] = []
    for one in asked:
        found += failures_of(client, one, examples)
    return found


def failures_of(client: TestClient, operation: Any, examples: int) -> list[str]:
    """What one operation fails at."""
    found: list[str] = []
    turns = iter(range(10**9))

    @settings(
        max_examples=examples,
        phases=[Phase.generate],
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(case=operation.as_strategy())
    def ask(case: Any) -> None:
        if next(turns) % 2:
            known = {key: KNOWN[key] for key in case.path_parameters or {} if key in KNOWN}
            case.path_parameters = {**(case.path_parameters or {}), **known}
        if case.query and "wait" in case.query:
            case.query["wait"] = 0
        told = case.as_transport_kwargs(base_url="http://localhost")
        told = {key: told[key] for key in TOLD if told.get(key) is not None}
        if isinstance(told.get("data"), bytes | str):
            told["content"] = told.pop("data")
        answer = client.request(**told, follow_redirects=False)
        if answer.status_code >= 500:
            found.append(f"{answer.status_code}: {told}")

    ask()
    return found[:3]


def test_no_address_fails(client: TestClient) -> None:
    """A few examples of each."""
    assert failures(client, 3) == []


@pytest.mark.slow
def test_no_address_fails_however_often_it_is_asked(client: TestClient) -> None:
    """Many examples of each."""
    assert failures(client, 40) == []
