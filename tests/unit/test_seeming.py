"""Quiet remarks on the sets of a stage: what earns one, what does not, and where it stands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
import pytest
from starlette.testclient import TestClient

from benches import EXAMPLES, app_in
from sleevewright.jobs.gauged import grid_of
from sleevewright.jobs.livingdoc import document_of
from sleevewright.jobs.model import Job, Part
from sleevewright.services.demo import tell
from sleevewright.services.seeming import remarks_of
from told_jobs import GAUGE, MIC, Teller

SHAPE = {
    "stations": ["0.4 in", "0.8 in", "1.2 in", "1.6 in", "2.0 in", "2.4 in"],
    "directions": ["0 deg", "45 deg", "90 deg", "135 deg"],
    "nominal": "2.6360 in",
    "unit": "thou",
    "entry": "deviation",
}
JOB = Job(casting=Part(material="unknown-aluminium"))


def rows_of(texts: Sequence[str]) -> list[list[str]]:
    """24 texts as six depths by four directions."""
    return [list(texts[at : at + 4]) for at in range(0, 24, 4)]


def scattered(step: float, *, seed: int = 21, about: float = 1.0, spread: float = 1.3) -> list[str]:
    """24 readings over the nominal, rounded to a step in thou."""
    rng = np.random.default_rng(seed)
    read = np.rint(rng.normal(about, spread, 24) / step) * step
    return [f"{one:+.1f}" for one in read]


def told(*sets: Sequence[str], **body: object) -> Teller:
    """A job whose parent bore was gauged once or more."""
    job = Teller()
    for at, texts in enumerate(sets):
        stage = "parent" if at == 0 else "honefit"
        job.grid(f"s{at}", "parent-bore", stage, rows_of(texts), **{**SHAPE, **body})
    return job


def remarks(job: Teller, stage: str = "parent") -> tuple[str, ...]:
    """What is remarked at a stage."""
    return remarks_of(job.folded, JOB, stage)


def test_honest_readings_get_no_remark() -> None:
    """Read to a tenth, spread by wear: nothing is said."""
    assert remarks(told(scattered(0.1))) == ()
    assert remarks_of(Teller().folded, JOB, "parent") == ()


def test_readings_to_half_a_thou_look_rounded() -> None:
    """A gauge that shows tenths, read to halves of a thou: said with step and count."""
    (text,) = remarks(told(scattered(0.5)))
    assert text.startswith("Parent bore: looks rounded to 0.5 thou: all 24 readings lie on it")
    assert "bore gauge shows steps of 0.1 thou" in text


def test_the_hone_hold_shows_what_is_remarked_of_its_bore() -> None:
    """At the hone for the fit the same sentence stands, and once."""
    job = told(scattered(0.5), scattered(0.5, seed=22))
    found = remarks(job, "honefit")
    assert [one for one in found if "looks rounded to 0.5 thou" in one] == list(found)
    assert len(found) == 1


def test_a_set_with_a_study_is_judged_by_its_own_scatter() -> None:
    """A narrow bore read to half a thou is found where the shop's study knows the scatter."""
    narrow = scattered(0.5, spread=0.3)
    assert remarks(told(narrow)) == ()
    studied = {**GAUGE, "repeatability": "0.2 thou", "repeatability_freedom": "18",
               "repeatability_from": "study G-1"}  # fmt: skip
    (text,) = remarks(told(narrow, instruments=[studied, MIC]))
    assert "looks rounded to 0.5 thou" in text


def test_readings_that_never_vary_are_remarked() -> None:
    """24 times +1.0, though the gauge shows tenths and repeats to one: does the needle move."""
    (text,) = remarks(told(["+1.0"] * 24))
    assert text.startswith("Parent bore: all 24 readings are equal")
    assert "steps of 0.1 thou" in text
    coarse = {**GAUGE, "resolution": "1 thou"}
    assert remarks(told(["+1.0"] * 24, instruments=[coarse, MIC])) == ()


def test_a_bore_that_is_smaller_after_the_hone_is_remarked() -> None:
    """Two thou smaller after a cut; the other way round, and the same size, say nothing."""
    larger, smaller = scattered(0.1, about=3.0, spread=0.1), scattered(0.1, about=1.0, spread=0.1)
    (text,) = remarks(told(larger, smaller), "honefit")
    assert "smaller, on diameter, than in the set before it" in text
    assert remarks(told(smaller, larger), "honefit") == ()
    again = scattered(0.1, about=3.0, spread=0.1, seed=23)
    assert remarks(told(larger, again), "honefit") == ()


def keyed(job: Teller, gaps: Callable[[int], float], source: str = "keyed") -> None:
    """24 honest readings of one device, keyed so many seconds after one another."""
    job.begin("s0", "parent-bore", "parent", **SHAPE)
    moment = 0.0
    for at, text in enumerate(scattered(0.1)):
        moment += gaps(at)
        said = f"2026-11-24T10:{int(moment // 60):02d}:{moment % 60:06.3f}Z"
        cell = f"set/s0/{at // 4}/{at % 4}"
        record = job.value(cell, text)
        body = {**record.body, "said": said, "source": source, "replaces": [record.id]}
        job.tell("value", body)


@pytest.mark.parametrize(
    ("seconds", "source", "is_remarked"),
    [(0.4, "keyed", True), (6.0, "keyed", False), (0.4, "gauge", False)],
)
def test_readings_that_come_too_quickly_are_remarked(
    seconds: float, source: str, is_remarked: bool
) -> None:
    """Half a second by hand is quicker than a gauge is moved; a gauge that types may be."""
    job = Teller()
    keyed(job, lambda _: seconds, source)
    found = remarks(job)
    assert bool(found) is is_remarked
    if found:
        assert "23 readings were keyed within a second of the one before" in found[0]


def test_two_quick_readings_are_no_remark() -> None:
    """A double press and a correction happen to everybody."""
    job = Teller()
    keyed(job, lambda at: 0.5 if at in (5, 9) else 7.0)
    assert remarks(job) == ()


def test_readings_before_the_zero_are_remarked() -> None:
    """Two readings, then the zero at the start: the gauge was on its master too late."""
    job = Teller()
    job.begin("s0", "parent-bore", "parent", **SHAPE)
    job.value("set/s0/0/0", "+1.0")
    job.value("set/s0/0/1", "+1.2")
    job.value("set/s0/zero-start", "0.0")
    job.value("set/s0/0/2", "+1.1")
    (text,) = remarks(job)
    assert text.startswith("Parent bore: 2 readings were told before the zero at the start")


def test_the_page_of_a_stage_shows_a_remark_and_goes_on(tmp_path: Path) -> None:
    """It stands with the answers, says that it blocks nothing, and no other page has it."""
    app = app_in(tmp_path / "data", [EXAMPLES / "demo-air-175.toml"])
    client = TestClient(app, base_url="http://127.0.0.1:8175")
    bench = app.state.bench
    assert "Worth a look" not in client.get("/jobs/D-175/1/parent").text
    body = {"record": "readings", "cylinder": 1, "stage": "parent", "feature": "parent-bore",
            "instrument": GAUGE["name"], "instruments": [GAUGE, MIC],
            **SHAPE, "rows": rows_of(scattered(0.5))}  # fmt: skip
    tell(bench, "D-175", [body])
    for stage in ("parent", "honefit"):
        text = client.get(f"/jobs/D-175/1/{stage}").text
        assert "Worth a look" in text
        assert "looks rounded to 0.5 thou" in text
        assert "A remark blocks nothing" in text
    assert "Worth a look" not in client.get("/jobs/D-175/1/heat").text
    bench.close()


def test_a_grid_and_a_document_know_what_a_study_said() -> None:
    """What a set carries of a study stands with its readings, not with the gauge's setting."""
    studied = {**GAUGE, "repeatability": "1.8 µm", "repeatability_freedom": "18",
               "repeatability_from": "study G-1"}  # fmt: skip
    job = told(scattered(0.1), scattered(0.1, seed=5))
    job.grid("s2", "parent-bore", "honefit", rows_of(scattered(0.1, seed=6)),
             **{**SHAPE, "instruments": [studied, MIC]})  # fmt: skip
    grid = grid_of(job.folded, "parent-bore")
    assert grid is not None
    assert grid.repeatability is not None
    document = document_of(job.folded, 1)
    assert [row["name"] for row in document.tables["instrument"]] == ["bore gauge", "mic 2-3"]
    (row,) = document.tables["grid"]
    assert (row["repeatability"], row["repeatability_freedom"]) == ("1.8 µm", "18")
