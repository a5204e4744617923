"""When the casting is ready, from the records of a job and as a quick question."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from benches import EXAMPLES
from ported_jobs import PORTED, also, told_of
from sleevewright.errors import InputError, NotConverged
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.demo import tell
from sleevewright.services.jobs import open_job
from sleevewright.services.quick import quick, quick_document
from sleevewright.services.ready_told import heating_log, ready_part

PAIR = ("sleeve_od=2.480in", "parent_bore=2.4768in", "go=5.6thou", "casting=aluminium-356",
        "sleeve=grey-iron")  # fmt: skip


def _bench(folder: Path) -> Bench:
    """A bench with the whole ported barrel, up to the oven."""
    bench = open_bench(folder)
    shelf = json.loads((EXAMPLES / "shelf.json").read_text(encoding="utf-8"))
    told = next(one for one in shelf["jobs"] if one["number"] == PORTED)
    open_job(bench, PORTED, {**told["opening"], "invented": True})
    tell(bench, PORTED, told["records"])
    return bench


def test_job_is_answered_once_something_was_read(tmp_path: Path) -> None:
    """Nothing before a look; then a time, this casting's growth, and wait by the needle."""
    bench = _bench(tmp_path)
    assert ready_part(*told_of(bench)) is None
    also(
        bench,
        {
            "heat.oven_set": "225 C",
            "heat.log/1/minutes": "9 min",
            "heat.log/1/body": "20 um",
            "heat.log/1/casting": "80 C",
        },
    )
    plan, told = told_of(bench)
    log = heating_log(told)
    assert (log.now, log.oven, len(log.readings)) == (540.0, pytest.approx(498.15), 1)
    assert [one.time for one in log.doors] == [540.0]
    said = ready_part(plan, told)
    assert said is not None
    found = {one.id: one for one in said.answers}
    assert found["ready_when.say"].value == "wait"
    low, middle, high = (
        float(str(found[f"ready_when.{key}"].value)) for key in ("earliest", "in", "latest")
    )
    assert 0.0 < low < middle < high < 7200.0
    assert found["ready_when.expansion"].doubt is not None
    own, book = found["ready_when.grip_calibrated"], plan.answer("fit.grip")
    scale = float(str(found["ready_when.expansion"].value))
    # More growth lets go sooner.
    assert (float(str(own.value)) - float(str(book.value))) * (scale - 1.0) < 0.0


def test_fit_that_does_not_settle_leaves_the_needle_its_word(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No time and a caution, the needle still says wait or go, and nothing breaks."""
    bench = _bench(tmp_path)
    also(bench, {"heat.log/1/minutes": "9 min", "heat.log/1/body": "21 um"})

    def unsettled(*_: object) -> None:
        raise NotConverged("course of the heat", 40, 1.0, 1e-3)

    monkeypatch.setattr("sleevewright.core.heat.ready.checked_fit", unsettled)
    said = ready_part(*told_of(bench))
    assert said is not None
    found = {one.id: one for one in said.answers}
    assert found["ready_when.say"].value == "wait"
    assert found["ready_when.in"].value is None
    assert any("No forecast" in one.text for one in said.cautions)


def test_gauge_that_warmed_is_taken_off_the_newest_reading(tmp_path: Path) -> None:
    """What the needle shows back on the sleeve goes off the last reading of that fit alone."""
    bench = _bench(tmp_path)
    also(
        bench,
        {
            "heat.log/1/minutes": "5 min",
            "heat.log/1/body": "-20 um",
            "heat.log/2/minutes": "9 min",
            "heat.log/2/body": "20 um",
            "heat.zero_body": "-5 um",
        },
    )
    log = heating_log(told_of(bench)[1])
    assert [one.growth for one in log.readings] == pytest.approx([-20e-6, 25e-6])
    assert log.zeros == (("body", pytest.approx(-5e-6)),)
    assert log.air is None
    # Its plus is slip that is not there, from then on; a logger in the air tells of the oven.
    before = told_of(bench)[1].folded.value("heat.zero_body", cylinder=1)
    assert before is not None
    cell = {"record": "value", "cylinder": 1, "cell": "heat.zero_body", "text": "4 um"}
    tell(bench, PORTED, [{**cell, "replaces": [before.id]}])
    series = "casting 0 293.2, 1200 420; oven 0 400, 600 470, 1200 480, 1260 420, 1300 480"
    for number, body in ((3, "40 um"), (4, "60 um")):
        also(
            bench,
            {
                f"heat.log/{number}/minutes": f"{number * 4} min",
                f"heat.log/{number}/body": body,
                "heat.series": series,
            },
        )
    plan, told = told_of(bench)
    log = heating_log(told)
    said = ready_part(plan, told)
    assert said is not None
    assert any("zeroed warm" in one for one in said.advice)
    assert any("not the dial's" in one for one in said.advice)
    grown = [one.growth for one in log.readings if one.growth is not None]
    assert grown == pytest.approx([-20e-6, 20e-6, 36e-6, 56e-6])
    assert log.air == pytest.approx(475.0, abs=5.0)


def test_quick_answer_gives_times_and_never() -> None:
    """A good oven gives a time; one that is too cool says never and what would."""
    readings = "readings=5:-0.6thou:150F,9:1.0thou:200F"
    good = quick_document(quick("ready", (*PAIR, "oven=415F", readings)))
    assert good["earliest_s"] < good["ready_s"] < good["latest_s"]
    assert good["go"] is False
    cool = quick("ready", (*PAIR, "oven=300F", readings))
    assert cool.is_out
    assert quick_document(cool)["never_1"] > 0.9
    with pytest.raises(InputError, match="readings"):
        quick("ready", (*PAIR, "oven=415F", "readings=5"))
