"""What is remembered of released cylinders: from what was signed, and what was told since."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from benches import bench_in
from past_jobs import FREE, GAIN, WELL, Past, back, drafts_of, keep, leaf, signed, told_past
from simple_job import STAGES, Counting
from sleevewright.jobs.likeness import CAME_BACK, facts_of
from sleevewright.jobs.pastjobs import (
    BACK,
    NOT_TOLD,
    UNHEARD,
    PastJob,
    obtained_fit,
    pairing_of,
    past_job,
)
from sleevewright.jobs.pastjobs import WELL as WELL_WORDS
from sleevewright.jobs.records import RELEASE, Draft, Record
from sleevewright.planning.document import plan_document
from sleevewright.planning.learning import Counts
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import look
from sleevewright.services.learned import all_past_jobs, like_this
from sleevewright.services.people import add_person
from sleevewright.services.signing import Signature, release
from told_jobs import Teller


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """An empty bench."""
    made = bench_in(tmp_path / "data")
    yield made
    made.close()


def test_the_figures_are_those_that_were_signed() -> None:
    """Fit, doubt, diameter and the fit by the close-up come out of the release, not of a plan."""
    found = past_job(told_past(Past("P-1", fit=80e-6, proved=74e-6)).folded, 1)
    assert found is not None
    assert (found.fit, found.fit_standard, found.diameter) == (80e-6, 4e-6, 0.065)
    assert found.per_diameter == pytest.approx(80e-6 / 0.065)
    assert found.proved == pytest.approx(74e-6, abs=1e-12)
    assert found.obtained is not None
    assert found.obtained.difference == pytest.approx(-6e-6, abs=1e-12)
    assert found.obtained.standard == pytest.approx(math.hypot(2e-6 / GAIN, 4e-6), rel=1e-9)
    assert found.obtained.shared == pytest.approx(0.02 * 74e-6, rel=1e-9)
    assert found.pairing == pairing_of("aluminium-356", "", "air")


def test_what_friction_takes_off_is_no_habit_of_an_older_release_either() -> None:
    """Without the ratio of the proof, the usual 3.5 % are taken off, with their doubt."""
    found = past_job(told_past(Past("P-1", fit=80e-6, proved=80e-6, older=True)).folded, 1)
    assert found is not None
    assert found.obtained is not None
    assert found.obtained.difference == pytest.approx(0.0, abs=1e-12)
    friction = (0.015 / math.sqrt(3.0)) / 0.965  # 2 % to 5 %, whatever lies between
    assert found.obtained.shared == pytest.approx(80e-6 * math.hypot(0.02, friction), rel=1e-3)


def test_iron_in_iron_loses_less_to_friction() -> None:
    """Parts that grow alike close by 99 % of the rings' close-up, as their proof expects."""
    past = Past("P-1", fit=80e-6, proved=80e-6, casting="grey-iron", older=True)
    leaves = {one["id"]: one for one in signed(past)["stages"][0]["answers"]}
    for part in ("casting", "sleeve"):
        leaves[f"{part}.expansion"] = leaf(f"{part}.expansion", 11e-6, unit="per_k")
    leaves["cool.closed"] = leaf("cool.closed", 0.99 * FREE * 80e-6, 2e-6)
    found = obtained_fit(leaves)
    assert found is not None
    assert found.difference == pytest.approx(0.0, abs=1e-12)


def test_a_fit_that_the_plan_held_proved_is_shown_as_it_stands() -> None:
    """An answer ``cool.proved`` is taken as signed; the difference stays the close-up's alone."""
    past = Past("P-1", fit=80e-6, proved=74e-6)
    plan = signed(past)
    leaf = {"id": "cool.proved", "value_m": 77e-6, "doubt": {"standard_m": 3e-6}}
    plan["stages"][0]["answers"].append(leaf)
    job = Teller(number="P-1")
    job.tell(RELEASE, {"cylinder": 1, "person": "p1", "plan": plan})
    found = past_job(job.folded, 1)
    assert found is not None
    assert found.obtained is not None
    assert (found.proved, found.proved_standard) == (77e-6, 3e-6)
    assert found.obtained.difference == pytest.approx(-6e-6, abs=1e-12)


def test_what_was_never_released_is_not_remembered() -> None:
    """A job on the bench is no past job; one released without a plan is, with no figures."""
    job = Teller()
    assert past_job(job.folded, 1) is None
    job.release()
    found = past_job(job.folded, 1)
    assert found is not None
    assert (found.fit, found.obtained, found.outcome) == (None, None, UNHEARD)
    assert found.pairing.casting == NOT_TOLD


@pytest.mark.parametrize(
    ("told", "outcome"),
    [
        ((), "not heard of"),
        (WELL, "runs well"),
        (back(), "came back"),
        ((("after.outcome", "not heard of"),), "not heard of"),
        ((("after.symptom", "taps"),), "came back"),
        ((*back(), ("after.outcome", "runs well")), "came back"),
    ],
)
def test_a_come_back_outweighs_all_else(told: tuple[tuple[str, str], ...], outcome: str) -> None:
    """A symptom makes a come-back, whatever the outcome says afterwards."""
    found = past_job(told_past(Past("P-1", told=told)).folded, 1)
    assert found is not None
    assert found.outcome == outcome


def told_of(*tellings: tuple[str, str, Sequence[int]]) -> PastJob:
    """A released job of which this was told: cell, text, and places of what each replaces."""
    job = Teller(number="P-1")
    job.release()
    records: list[Record] = []
    for place, (cell, text, replaces) in enumerate(tellings):
        ids = [records[one].id for one in replaces]
        device = "tablet" if place % 2 else "phone"
        records.append(job.value(cell, text, replaces=ids, device=device))
    found = past_job(job.folded, 1)
    assert found is not None
    facts = facts_of(job.folded, 1)
    assert (facts.outcome == CAME_BACK) is (found.outcome == BACK)  # the search says the same
    return found


OUT = "after.outcome"


@pytest.mark.parametrize(
    ("tellings", "outcome"),
    [
        (((OUT, BACK, ()), (OUT, WELL_WORDS, (0,))), BACK),
        (((OUT, BACK, ()), (OUT, UNHEARD, (0,)), (OUT, WELL_WORDS, (1,))), BACK),
        (((OUT, BACK, ()), (OUT, WELL_WORDS, ())), BACK),  # two devices: both stand
        (((OUT, WELL_WORDS, ()), (OUT, BACK, ())), BACK),
        (((OUT, WELL_WORDS, ()), (OUT, UNHEARD, ())), WELL_WORDS),
        (((OUT, BACK, ()), (OUT, "", (0,))), UNHEARD),
        (((OUT, BACK, ()), (OUT, "", (0,)), (OUT, WELL_WORDS, (1,))), WELL_WORDS),
        (((OUT, BACK, ()), (OUT, WELL_WORDS, (0,)), (OUT, "", (1,))), UNHEARD),
        (((OUT, BACK, ()), (OUT, "", (0,)), (OUT, BACK, ())), BACK),
        ((("after.finding", "-", ()),), UNHEARD),
        ((("after.symptom", "taps", ()), ("after.symptom", "", (0,))), UNHEARD),
        ((("after.symptom", "taps", ()), ("after.symptom", "seized", ())), BACK),
    ],
)
def test_nothing_hides_a_come_back(
    tellings: tuple[tuple[str, str, Sequence[int]], ...], outcome: str
) -> None:
    """Told otherwise later or by another device it still came back; emptied it is taken back."""
    assert told_of(*tellings).outcome == outcome


def test_two_symptoms_of_two_devices_are_both_shown() -> None:
    """What contradicts itself is told as it stands, and not left out."""
    found = told_of(("after.symptom", "taps", ()), ("after.symptom", "seized", ()))
    assert found.symptom == "taps or seized"


def test_time_runs_from_the_release_to_the_last_word() -> None:
    """A come-back by its day, one that runs well by when that was told; unheard of is nought."""
    when = {RELEASE: "2026-03-01T10:00:00Z", "after.outcome": "2026-06-01T10:00:00Z"}
    past = Past("P-1", told=back(on="2026-04-10", ran="12 h"))
    found = past_job(told_past(past, when).folded, 1)
    assert found is not None
    assert (found.heard_after, found.hours) == (40.0, 12.0)
    well = past_job(told_past(replace(past, told=WELL), when).folded, 1)
    assert well is not None
    assert well.heard_after == 92.0
    never = past_job(told_past(replace(past, told=()), when).folded, 1)
    assert never is not None
    assert never.heard_after == 0.0


def test_the_table_follows_the_records_and_can_be_made_anew(bench: Bench) -> None:
    """Each commit writes the row; dropped and rebuilt it is the same."""
    past = [
        Past("P-1", told=WELL), Past("P-2", told=back("taps", ran="3 h")),
        Past("P-3", proved=None), Past("P-4", cooling="water", invented=True),
    ]  # fmt: skip
    keep(bench, past)
    found = all_past_jobs(bench)
    assert [one.job for one in found] == ["P-1", "P-2", "P-3", "P-4"]
    assert [one.outcome for one in found] == ["runs well", BACK, UNHEARD, UNHEARD]
    assert found == tuple(
        replace(one, released=kept.released, heard_after=kept.heard_after)
        for one, kept in zip(
            [past_job(told_past(one).folded, 1) for one in past], found, strict=True
        )
        if one is not None
    )
    bench.store.rebuild("memory")
    assert all_past_jobs(bench) == found


def test_an_outcome_told_later_changes_the_row(bench: Bench) -> None:
    """What was not heard of comes back, and stands so at once."""
    drafts = drafts_of(Past("P-1", told=back("sleeve sank")))
    bench.store.append(drafts[:4])
    assert [one.outcome for one in all_past_jobs(bench)] == [UNHEARD]
    bench.store.append(drafts[4:])
    assert [(one.outcome, one.symptom) for one in all_past_jobs(bench)] == [(BACK, "sleeve sank")]


def test_counts_are_of_the_pairing_and_leave_no_come_back_out(bench: Bench) -> None:
    """Real jobs count for a real one; for an invented job all of them do."""
    keep(bench, [
        Past("P-1", told=WELL), Past("P-2", told=back()), Past("P-3"),
        Past("P-4", cooling="water", told=back()), Past("P-5", invented=True, told=back()),
    ])  # fmt: skip
    air = pairing_of("aluminium-319", "grey-iron", "air").key
    assert like_this(bench, air) == Counts(well=1, back=1, unheard=1)
    assert like_this(bench, air, invented=True) == Counts(well=1, back=2, unheard=1)
    assert like_this(bench, air).words == (
        "3 like this one: 1 runs well, 1 came back, 1 not heard of"
    )


def test_a_release_as_it_is_really_signed_is_remembered(bench: Bench) -> None:
    """A whole simple job, signed by the bench itself: its figures are those of its own plan."""
    add_person(bench, "Ann")
    job = Counting("two-stroke")
    for stage in STAGES[:-1]:
        stage(job)
    for tick in ("washed", "tag", "photos"):
        job.value(f"release.{tick}", "yes")
    bench.store.append([
        Draft(one.job, one.id, one.device, one.device_number, one.kind, one.body)
        for one in job.records
    ])  # fmt: skip
    plan = look(bench, "J-1").plan
    assert plan is not None
    release(bench, "J-1", cylinder=1, by=Signature("p1"))
    (found,) = all_past_jobs(bench)
    told = {
        name: float(plan.answer(name).value)
        for name in ("fit.cold", "sleeve.od", "cool.loss", "cool.expected", "cool.closed")
    }
    assert (found.fit, found.diameter) == (told["fit.cold"], told["sleeve.od"])
    assert found.obtained is not None
    lost = 1.0 - told["cool.closed"] / told["cool.expected"]
    worked = told["fit.cold"] - told["cool.loss"]
    assert found.obtained.difference == pytest.approx(-lost * worked, rel=1e-9)
    assert found.is_invented
    _no_habit_where_it_closed_as_expected(plan_document(plan), told["cool.expected"])


def _no_habit_where_it_closed_as_expected(document: dict[str, Any], expected: float) -> None:
    """A bore that closed as its proof expects says that the fit is the one measured."""
    leaves = {leaf["id"]: leaf for stage in document["stages"] for leaf in stage["answers"]}
    leaves["cool.closed"] = {**leaves["cool.closed"], "value_m": expected}
    older = {name: one for name, one in leaves.items() if name != "cool.ratio"}
    for told in (leaves, older):
        found = obtained_fit(told)
        assert found is not None
        assert found.difference == pytest.approx(0.0, abs=0.2e-6)  # frictionless: -2.7 um
        assert found.shared > 0.0


@pytest.mark.parametrize("plan", [None, 3, {"stages": 3}, {"stages": [3, {"answers": [4]}]}])
def test_a_release_of_another_form_stops_no_commit(plan: object) -> None:
    """What cannot be read of a signed plan is not known; the job is remembered all the same."""
    job = Teller(number="P-1")
    job.tell(RELEASE, {"cylinder": 1, "person": "p1", "plan": plan})
    found = past_job(job.folded, 1)
    assert found is not None
    assert (found.fit, found.obtained) == (None, None)
