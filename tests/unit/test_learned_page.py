"""The page and the command of what the shop has learned: all of it told, nothing done by itself."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner
from fastapi.testclient import TestClient
from test_learned import AIR, nine

from benches import bench_in
from past_jobs import WELL, Past, back, keep, told_past
from sleevewright.cli.main import main
from sleevewright.jobs.pastjobs import PastJob, past_job
from sleevewright.planning.habit import HABIT
from sleevewright.planning.learning import lasting, lasting_by_fit, that_count
from sleevewright.services.bench import Bench
from sleevewright.services.learned import ACCEPTED, standing
from sleevewright.services.people import add_person
from sleevewright.store.learnedkeeping import add_learned
from sleevewright.web.app import create_app
from sleevewright.web.learned.pictures import MOST_POINTS, fits_picture, left_out
from sleevewright.web.pictures.past_fits import PastFitsPicture, PastPoint, past_fits


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with nine proved jobs and a water-cooled one that came back."""
    made = bench_in(tmp_path / "data")
    add_person(made, "Ann")
    keep(made, [*nine(), Past("W-1", cooling="water", told=back("sleeve sank"))])
    yield made
    made.close()


@pytest.fixture
def client(bench: Bench) -> TestClient:
    """A browser on the bench's own screen."""
    return TestClient(create_app(bench), base_url="http://127.0.0.1", client=("127.0.0.1", 1))


def test_the_page_tells_counts_and_every_come_back(client: TestClient) -> None:
    """Chosen pairing or not, all three come-backs are listed, with what was told of them."""
    for address in ("/learned", f"/learned?pairing={AIR}"):
        said = client.get(address).text
        assert "10 released" in said or "9 like this one: 4 run well, 2 came back" in said
        for job in ("P-2", "P-5", "W-1"):
            assert f'href="/jobs/{job}/1/after"' in said
        assert "sleeve sank" in said


def test_it_is_reached_from_shelf_settings_and_stage_pages(client: TestClient) -> None:
    """Shelf and settings lead there; Fit and After show the counts of jobs like theirs."""
    for address in ("/", "/settings"):
        assert 'href="/learned"' in client.get(address).text
    for stage in ("fit", "after"):
        said = client.get(f"/jobs/P-1/1/{stage}").text
        assert "9 like this one: 4 run well, 2 came back, 3 not heard of" in said
        assert "/learned?job=P-1&amp;cylinder=1" in said
    assert "like this one" not in client.get("/jobs/P-1/1/heat").text
    assert client.get("/learned?job=P-1").status_code == 200


def test_a_person_accepts_and_takes_back_on_the_page(client: TestClient, bench: Bench) -> None:
    """Accepted it stands with its number; taken back it is kept with the reason."""
    assert "Accept for this pairing" in client.get(f"/learned?pairing={AIR}").text
    assert "Accept for this pairing" not in client.get("/learned").text
    unseen = client.post("/learned/accept", json={"pairing": AIR, "person": "p1"})
    assert unseen.status_code == 422
    assert "the hash of what was looked at" in unseen.text
    seen = re.findall(r'name="digest" value="(\w+)"', client.get(f"/learned?pairing={AIR}").text)
    body = {"pairing": AIR, "person": "p1", "digest": seen[0]}
    told = client.post("/learned/accept", json=body)
    assert (told.status_code, told.json()["number"]) == (200, "B-1")
    assert len(standing(bench)) == 1
    assert "Take B-1 back" in client.get("/learned").text
    refused = client.post("/learned/B-1/revoke", json={"reason": "", "person": "p1"})
    assert refused.status_code == 422
    client.post("/learned/B-1/revoke", json={"reason": "another bore gauge", "person": "p1"})
    assert standing(bench) == ()
    assert "another bore gauge" in client.get("/learned").text


def test_a_pairing_that_cannot_be_is_refused(client: TestClient) -> None:
    """The address says what a pairing looks like."""
    told = client.get("/learned?pairing=aluminium")
    assert told.status_code == 422
    assert "aluminium|iron|air" in told.text


def test_a_record_of_no_pairing_is_shown_and_can_be_taken_back(
    client: TestClient, bench: Bench
) -> None:
    """An older bench took any text for a pairing: the record stays, and stops no page."""
    body = {"name": HABIT, "pairing": "aluminum-iron-air", "value": -6e-6, "standard": 2e-6,
            "person": "p1", "from_jobs": ["P-1/1"], "digest": "0" * 64}  # fmt: skip
    now = bench.now()
    bench.store.write(lambda connection: add_learned(connection, ACCEPTED, body, made=now))
    assert "aluminum-iron-air, which is no pairing" in client.get("/learned").text
    client.post("/learned/B-1/revoke", json={"reason": "was no pairing", "person": "p1"})
    assert "was no pairing" in client.get("/learned").text


def test_a_pairing_of_no_job_is_not_offered(client: TestClient) -> None:
    """What would be refused has no press."""
    assert "Accept for this pairing" not in client.get("/learned?pairing=iron|iron|air").text


def test_an_empty_shop_says_so(tmp_path: Path) -> None:
    """Without a released cylinder nothing is drawn and nothing is claimed."""
    bench = bench_in(tmp_path / "empty")
    try:
        said = TestClient(create_app(bench), base_url="http://127.0.0.1").get("/learned").text
        assert "No cylinder was released yet" in said
        assert '<svg class="drawing' not in said
    finally:
        bench.close()


def test_no_come_back_is_told_as_a_bound_and_not_as_certainty(tmp_path: Path) -> None:
    """Three that run well: no curve, and a come-back may still be likelier than not."""
    bench = bench_in(tmp_path / "well")
    try:
        keep(bench, [Past(f"P-{k}", told=WELL) for k in range(3)])
        said = TestClient(create_app(bench), base_url="http://127.0.0.1").get("/learned").text
        assert "Chance of a come-back, at most" in said
        assert ">63<" in said  # 1 - 0.05 to the third part
    finally:
        bench.close()


def remembered(made: Past) -> PastJob:
    """What is remembered of a past job."""
    found = past_job(told_past(made).folded, 1)
    assert found is not None
    return found


def test_curves_are_split_only_where_each_side_has_enough() -> None:
    """Nine jobs are not split by their fit, twelve are; those never heard of do not help."""
    told = [remembered(Past(f"A-{k}", 70e-6 + k * 1e-6, told=WELL)) for k in range(12)]
    assert lasting_by_fit(told[:9]) == ()
    less, more = lasting_by_fit(told)
    assert (less.counts.all, more.counts.all) == (6, 6)
    assert lasting(told).curve is None
    assert lasting_by_fit([remembered(Past(f"A-{k}")) for k in range(12)]) == ()


def test_every_come_back_is_drawn_however_many_jobs_there_are() -> None:
    """Of very many the oldest that did not come back go; the come-back is the oldest of all."""
    bad, well = remembered(Past("B-1", told=back())), remembered(Past("B-2", told=WELL))
    jobs = [bad, *([well] * (MOST_POINTS + 40))]
    assert left_out(jobs) == 40
    drawn = str(fits_picture(jobs, "inch", None))
    assert drawn.count('class="gauge"') == 2 * (1 + 1)  # in two widths, with its key
    assert drawn.count('class="point"') == 2 * (MOST_POINTS + 1)
    assert "641 like this one: 640 run well, 1 came back, 0 not heard of" in drawn


def test_a_come_back_is_drawn_heavier_and_last() -> None:
    """Ring, dashed ring and filled square; the square stands after all others in the picture."""
    day = date(2026, 3, 1)
    points = tuple(PastPoint(day, 1.2, kind) for kind in ("back", "well", "unheard"))
    drawn = str(past_fits(PastFitsPicture(points, "thou per inch", "three", own=1.1, own_half=0.1)))
    plot = drawn[: drawn.index("runs well")]
    assert plot.index('class="gauge"') > plot.index('class="point"')
    assert plot.index('class="gauge"') > plot.index('class="unheard"')
    assert "this job" in drawn


def test_invented_jobs_count_only_where_there_is_no_other() -> None:
    """A real job puts the invented ones aside."""
    real = [remembered(Past(f"R-{k}")) for k in range(2)]
    made_up = [remembered(Past(f"I-{k}", invented=True)) for k in range(3)]
    assert len(that_count([*real, *made_up])) == 2
    assert len(that_count(made_up)) == 3


def test_the_command_lists_accepts_and_revokes(tmp_path: Path) -> None:
    """On a folder without a running bench; each answer is also a document."""
    folder = tmp_path / "data"
    bench = bench_in(folder)
    add_person(bench, "Ann")
    keep(bench, nine())
    bench.close()

    def told(*words: str) -> str:
        done = CliRunner().invoke(main, ["learned", *words, "--data", str(folder)])
        assert done.exit_code == 0, done.output
        return done.output

    assert "9 like this one: 4 run well, 2 came back" in told("list")
    first = CliRunner().invoke(main, ["learned", "accept", AIR, "--data", str(folder)])
    assert first.exit_code == 2
    assert "comes out \N{MINUS SIGN}" in first.output
    (begins,) = re.findall(r"--digest (\w{12})\.", first.output)
    assert f"Hash of what it rests on: {begins}" in first.output
    assert json.loads(told("list", "--json"))["accepted"] == []
    assert "B-1 counts" in told("accept", AIR, "--person", "Ann", "--digest", begins)
    document = json.loads(told("list", "--json"))
    assert document["accepted"][0]["is_standing"] is True
    assert document["pairings"][0]["habit"]["value_m"] < 0.0
    ended = told("revoke", "B-1", "--reason", "another bore gauge")
    assert f"no longer counts; no habit counts for {AIR}" in ended
    assert "ended" in told("list")
