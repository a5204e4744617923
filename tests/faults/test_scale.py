"""A shop with many jobs: what its pages read is found by indexes, not by looking through all."""

import re
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import event, text

from sleevewright.services.bench import Bench, opened
from sleevewright.web.app import create_app

JOBS = 100
BIG = {"record", "shelf", "search_fact", "search_word", "search_near", "search_post", "verdict"}
"""Tables that grow with the jobs."""


@pytest.fixture(scope="module")
def scale() -> ModuleType:
    """The benchmark of many jobs."""
    place = str(Path(__file__).resolve().parents[2] / "benchmarks")
    sys.path.insert(0, place)
    try:
        import scale as found
    finally:
        sys.path.remove(place)
    return found


@pytest.fixture(scope="module")
def bench(scale: ModuleType, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """A bench with some jobs of fifty readings each."""
    folder = tmp_path_factory.mktemp("scale") / "data"
    scale.fill_folder(folder, JOBS)
    with opened(folder) as made:
        yield made


def read_by(bench: Bench, addresses: list[str]) -> list[tuple[str, Any]]:
    """Every question that pages put to the database, with what was put in it."""
    asked: list[tuple[str, Any]] = []

    def note(_connection: Any, _cursor: Any, statement: str, parameters: Any, *_rest: Any) -> None:
        asked.append((statement, parameters))

    engine = bench.store.engine
    with TestClient(create_app(bench), base_url="http://localhost") as client:
        event.listen(engine, "before_cursor_execute", note)
        try:
            for address in addresses:
                assert client.get(address).status_code == 200
        finally:
            event.remove(engine, "before_cursor_execute", note)
    return [one for one in asked if one[0].startswith("SELECT") or one[0].startswith("WITH")]


def scans(bench: Bench, asked: list[tuple[str, Any]]) -> list[str]:
    """Questions of which SQLite says that it looks through a big table from end to end."""
    found = []
    with bench.store.engine.connect() as connection:
        for statement, parameters in asked:
            plan = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", parameters)
            for row in plan:
                table = re.match(r"SCAN (\w+)", row[-1])
                if table and table[1] in BIG:
                    found.append(f"{row[-1]}: {statement}")
    return found


ADDRESSES = [
    "/", f"/jobs/J-{JOBS}", "/jobs/J-3", "/search?q=seized+kart", "/search?q=exhuast",
    "/search?q=61.3+mm", "/search?q=J-17", "/api/jobs/J-7/records?after=20",
]  # fmt: skip


def test_pages_look_nothing_through(bench: Bench) -> None:
    """Shelf, job page, search and records: each row is found by an index."""
    asked = read_by(bench, ADDRESSES)
    assert len(asked) > 20
    assert scans(bench, asked) == []


def test_scan_would_be_seen(bench: Bench) -> None:
    """The test of the test: a question that looks everything through is told."""
    assert scans(bench, [("SELECT * FROM record WHERE body = ?", ("x",))])


def test_numbers_of_jobs_are_found_from_job_to_job(bench: Bench) -> None:
    """Listing the jobs reads an entry of the index a job, not a record each."""
    assert len(bench.store.job_numbers()) == JOBS
    asked: list[tuple[str, Any]] = []
    engine = bench.store.engine
    event.listen(
        engine, "before_cursor_execute", lambda *told: asked.append((told[2], told[3])), once=True
    )
    bench.store.job_numbers()
    assert scans(bench, asked) == []


def test_made_jobs_are_as_devices_hand_them_in(scale: ModuleType, bench: Bench) -> None:
    """What the benchmark makes is kept as it would be from a device, and chained."""
    assert [scale.is_as_handed_in(bench, number) for number in (1, JOBS // 2, JOBS)] == [""] * 3
    assert bench.store.verify_all().is_good
    rows = bench.store.read(
        lambda connection: connection.execute(text("SELECT count(*) FROM shelf")).scalar()
    )
    assert rows == JOBS


@pytest.mark.slow
def test_ten_times_the_jobs_cost_no_more(scale: ModuleType, tmp_path: Path) -> None:
    """Database time of each page at 10,000 jobs and 500,000 readings against 1,000 jobs."""
    with (
        scale.shop_of(tmp_path / "few", 1_000) as few,
        scale.shop_of(tmp_path / "many", 10_000) as many,
    ):
        found = scale.measured((few, many), 30)
    ratios = {name: other.database_ms / one.database_ms for name, (one, other) in found.items()}
    sys.stdout.write(f"{ratios}\n")
    assert max(ratios.values()) < scale.RATIO
    assert scale.opening_seconds(tmp_path / "many") < scale.START_S
