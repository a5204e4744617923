"""The shop's own drops count from five on, once a person accepts them, and never above 5 s."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from fastapi.testclient import TestClient

from benches import EXAMPLES, bench_in
from past_jobs import Past, told_past
from sleevewright.cli.main import main
from sleevewright.errors import InputError
from sleevewright.jobs.pastdrops import OwnDrop, own_drop, signed_flange, signed_form
from sleevewright.jobs.records import EVENT, RELEASE, Draft
from sleevewright.planning.answers import Kind, Plan
from sleevewright.planning.document import plan_document
from sleevewright.planning.drop_habit import DROP_FORM_LEARNED, DROP_LEAN_LEARNED
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Posterior, Settings, Shop
from sleevewright.services import own_drops as own_drops_module
from sleevewright.services.bench import Bench
from sleevewright.services.own_drops import (
    LEAST_DROPS,
    accept_drops,
    drop_acceptances,
    from_drops,
    own_drops,
    revoke_drops,
    standing_drops,
)
from sleevewright.services.people import add_person
from sleevewright.services.plans import load_job
from sleevewright.services.settings import shop_of_bench
from sleevewright.store.dropmemory import past_drops
from sleevewright.web.app import create_app
from told_jobs import Teller

FEW = Settings(budget_samples=4_000, drop_samples=400)
DEMO = EXAMPLES / "demo-air-175.toml"


@cache
def planned(*posteriors: Posterior) -> Plan:
    """The demonstration's plan, its form left to judgement, with what was accepted."""
    job = load_job(DEMO)
    judged = replace(job, heat=replace(job.heat, form=None))
    return plan(judged, Shop(settings=FEW, posteriors=posteriors))


@cache
def signed() -> dict[str, Any]:
    """The demonstration's plan as a release signs it."""
    return plan_document(planned())


def dropped_job(number: str, *happened: tuple[str, float], invented: bool = False,
                slip: str = "0.137 mm") -> Teller:  # fmt: skip
    """A released job of which the drop was told by pedal."""
    job = told_past(Past(number, invented=invented))
    release = {"cylinder": 1, "person": "p1", "plan": signed(), "answers": {}}
    if slip:
        job.value("heat.slip_body", slip)
    for what, seconds in (("in", 0.0), *happened):
        job.tell(EVENT, {
            "cylinder": 1, "stage": "drop", "what": what, "result": f"pedal {seconds:.1f}",
            "at": f"2026-11-03T10:00:{int(seconds):02d}+00:00", "said": "",
        })  # fmt: skip
    job.tell(RELEASE, release)
    return job


def keep(bench: Bench, jobs: list[Teller]) -> None:
    """Put told jobs into a bench."""
    for job in jobs:
        bench.store.append([
            Draft(job.number, sha256(f"{job.number}/{one.number}".encode()).hexdigest()[:32],
                  "tablet", one.number, one.kind, one.body)
            for one in job.records
        ])  # fmt: skip


def loose(count: int, *, invented: bool = False) -> list[Teller]:
    """As many drops that were still loose at 40 s."""
    return [
        dropped_job(f"Q-{one}", ("seated", 2.0), ("still-loose", 40.0), invented=invented)
        for one in range(count)
    ]


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with five drops that were all still loose, where one person works."""
    made = bench_in(tmp_path / "data")
    add_person(made, "Ann")
    keep(made, loose(5))
    yield made
    made.close()


def only(job: Teller) -> OwnDrop:
    """The drop of a job that was told."""
    found = own_drop(job.folded, 1)
    assert found is not None
    return found


def test_a_drop_is_remembered_as_its_release_signed_it() -> None:
    """Sizes, laws and what was ticked are the signed ones; the slip is the one gauged."""
    found = only(dropped_job("Q-1", ("seated", 2.0), ("gripped", 9.5)))
    assert found.seen is not None, found.why_not
    known = {one.id: one.value for one in planned().answers()}
    assert found.seen.case.slip == pytest.approx(137e-6)
    assert found.seen.case.interference == known["fit.as_cut"]
    assert found.seen.case.casting_law == known["casting.law"]
    assert found.seen.case.dry is known["drop.dry"]
    assert (found.seen.after, found.seen.before, found.seen.watch) == (9.5, 9.5, 0.3)


@pytest.mark.parametrize(
    ("happened", "span"),
    [
        ((("seated", 2.0),), (2.0, math.inf)),
        ((("seated", 2.0), ("still-loose", 40.0)), (40.0, math.inf)),
        ((("stuck", 3.0),), (0.0, 3.0)),
        ((("clocked", 2.0), ("stuck", 3.0)), (2.0, 3.0)),
        ((("stuck", 3.0), ("pulled-out", 4.0)), (4.0, math.inf)),
    ],
)
def test_what_was_seen_sets_the_ends(
    happened: tuple[tuple[str, float], ...], span: tuple[float, float]
) -> None:
    """Seated, still loose and pulled out are free so long; stuck is gripped by then."""
    found = only(dropped_job("Q-1", *happened)).seen
    assert found is not None
    assert (found.after, found.before) == span


def test_a_drop_that_says_nothing_says_why() -> None:
    """Without a gauged slip, without a second, or freed after a jam it is shown and not used."""
    jammed = dropped_job("Q-3", ("stuck", 3.0))
    jammed.value("drop.went", "stuck and freed")
    told = [dropped_job("Q-1", ("gripped", 9.0), slip=""), dropped_job("Q-2"), jammed]
    assert [only(one).why_not for one in told] == [
        "the slip was not gauged", "no second is known", "it jammed and was freed: a jam is no grip"
    ]  # fmt: skip
    assert all(only(one).seen is None for one in told)


def test_below_five_nothing_is_estimated_and_invented_never_count_beside_real() -> None:
    """Four wait for one more; one real drop puts five invented ones aside."""
    few = [only(one) for one in loose(LEAST_DROPS - 1)]
    assert from_drops(few).found is None
    assert from_drops(few).usable == 4
    invented = [only(one) for one in loose(5, invented=True)]
    assert from_drops(invented).is_invented
    mixed = from_drops([*invented, few[0]])
    assert (mixed.usable, mixed.is_invented, mixed.found) == (1, False, None)


def test_nothing_moves_until_it_is_accepted_and_taken_back_nothing_is_left(bench: Bench) -> None:
    """A digest that was looked at lets it count; revoked, the shop is what it was."""
    seen = own_drops(bench)
    assert seen.found is not None
    assert shop_of_bench(bench).posteriors == ()
    with pytest.raises(InputError, match="digest"):
        accept_drops(bench, person="p1", digest="")
    made = accept_drops(bench, person="p1", digest=seen.digest)
    assert [one.name for one in standing_drops(bench)] == [DROP_FORM_LEARNED, DROP_LEAN_LEARNED]
    assert shop_of_bench(bench).posteriors == standing_drops(bench)
    revoke_drops(bench, made.number, "only tried", person="p1")
    assert standing_drops(bench) == ()
    assert [one.reason for one in drop_acceptances(bench)] == ["only tried"]


def test_a_drop_more_asks_anew(bench: Bench) -> None:
    """What was looked at before the sixth drop cannot be accepted after it."""
    before = own_drops(bench).digest
    keep(bench, [dropped_job("Q-9", ("gripped", 8.0))])
    with pytest.raises(InputError, match="an older one"):
        accept_drops(bench, person="p1", digest=before)


def test_invented_drops_cannot_be_accepted(tmp_path: Path) -> None:
    """They are shown, and refused."""
    made = bench_in(tmp_path / "data")
    add_person(made, "Ann")
    keep(made, loose(5, invented=True))
    with pytest.raises(InputError, match="invented"):
        accept_drops(made, person="p1", digest=own_drops(made).digest)
    made.close()


def posteriors(form: float, spread: float, lean: float) -> tuple[Posterior, ...]:
    """What was accepted of drops."""
    return (
        Posterior(DROP_FORM_LEARNED, "", form, spread, "D-1"),
        Posterior(DROP_LEAN_LEARNED, "", lean, 0.1, "D-1"),
    )


def test_accepted_it_counts_beside_what_is_judged() -> None:
    """The plan shows both; a smaller form and less leaning give more seconds."""
    found = planned(*posteriors(8e-6, 0.45, 0.3))
    form, judged = found.answer("drop.form"), found.answer("drop.form_judged")
    assert (form.value, form.kind, form.source) == (8e-6, Kind.CHOSEN, "D-1")
    assert judged.value == pytest.approx(25.4e-6)
    assert found.answer("drop.lean").value == 0.3
    assert found.answer("drop.lean_judged").value == pytest.approx(0.7)
    before = planned().answer("drop.expected").value
    after = found.answer("drop.expected").value
    assert isinstance(before, float)
    assert isinstance(after, float)
    assert after > before


@pytest.mark.parametrize("form", [1e-9, 1e-6, 25.4e-6])
def test_no_posterior_raises_the_line_up_time_above_five_seconds(form: float) -> None:
    """However little shape uses up, and though none leans, what is shown stays at 5 s or below."""
    found = planned(*posteriors(form, 0.01, 0.0))
    free, shown = found.answer("drop.free_p05").value, found.answer("drop.line_up").value
    assert isinstance(free, float)
    assert isinstance(shown, float)
    assert shown == min(free, 5.0)
    assert form > 1e-6 or free > 5.0  # else the cap was not reached


def test_without_acceptance_the_plan_has_no_such_answers() -> None:
    """The judged form stands alone, under the name that it always had."""
    known = {one.id for one in planned().answers()}
    assert "drop.form" in known
    assert not known & {"drop.form_judged", "drop.lean", "drop.lean_judged"}


def test_contradictions_and_a_stale_slip_are_shown_and_not_used() -> None:
    """Gripped and loose after it; a second try with the slip of the first, hotter one."""
    both = dropped_job("Q-1", ("gripped", 5.0), ("still-loose", 20.0))
    assert only(both).why_not == "told as gripped, and as free after that"
    again = dropped_job("Q-2", ("in", 40.0), ("seated", 42.0))
    assert only(again).why_not == "the slip was not gauged again after an earlier try"
    gauged = again.folded.value("heat.slip_body", cylinder=1)
    assert gauged is not None
    again.value("heat.slip_body", "0.120 mm", replaces=[gauged.id])
    assert only(again).seen is not None


def test_freed_and_seated_it_was_free_so_long() -> None:
    """A jam that was freed is no grip: free until the seat, and what gripped after it counts."""
    freed = dropped_job("Q-1", ("stuck", 3.0), ("gripped", 3.0), ("seated", 6.0))
    freed.value("drop.went", "stuck and freed")
    seen = only(freed).seen
    assert seen is not None
    assert (seen.after, seen.before, seen.jam) == (6.0, math.inf, 0.0)
    stuck = only(dropped_job("Q-2", ("stuck", 3.0))).seen
    assert stuck is not None
    assert stuck.jam > 0.0


def test_flange_and_a_measured_form_are_the_signed_ones() -> None:
    """What the flange used is the rest of what was used up; a judged form is nobody's finding."""
    leaves: dict[str, dict[str, Any]] = {
        "drop.form": {"kind": "measured", "value_m": 20e-6},
        "drop.used": {"kind": "computed", "value_m": 33e-6},
    }
    assert signed_flange(leaves) == pytest.approx(13e-6)
    assert signed_form(leaves) == 20e-6
    leaves["drop.form"]["kind"] = "chosen"
    assert signed_form(leaves) is None


def test_made_anew_the_table_is_the_same_and_one_drop_more_is_followed_alone(bench: Bench) -> None:
    """Dropped and rebuilt it tells the same drops; the five that are known are not run again."""
    before = bench.store.read(past_drops)
    assert len(before) == 5
    bench.store.rebuild("dropmemory")
    assert bench.store.read(past_drops) == before
    own_drops(bench)
    keep(bench, [dropped_job("Q-77", ("gripped", 8.0))])
    known = own_drops_module._followed.cache_info().misses
    own_drops(bench)
    assert own_drops_module._followed.cache_info().misses == known + 1


def test_page_and_command_tell_it_and_the_page_lets_it_count(bench: Bench) -> None:
    """Shown with its doubt and hash, accepted and taken back by its own two addresses."""
    client = TestClient(create_app(bench), base_url="http://127.0.0.1", client=("127.0.0.1", 1))
    said = client.get("/learned").text
    assert "5 of 5 drops tell of their seconds" in said
    digest = own_drops(bench).digest
    unseen = client.post("/learned/drops/accept", json={"person": "p1"})
    assert unseen.status_code == 422
    made = client.post("/learned/drops/accept", json={"person": "p1", "digest": digest})
    assert (made.status_code, made.json()["number"]) == (200, "D-1")
    assert "Take D-1 back" in client.get("/learned").text
    told = CliRunner().invoke(main, ["learned", "list", "--json", "--data", str(bench.folder)])
    document = json.loads(told.output)
    assert (document["drops"]["usable"], document["drops"]["digest"]) == (5, digest)
    assert [one["number"] for one in document["accepted_drops"]] == ["D-1"]
    why = {"person": "p1", "reason": "only tried"}
    assert client.post("/learned/drops/D-1/revoke", json=why).json()["stands"] is False
    assert client.post("/learned/drops/D-7/revoke", json=why).status_code == 404
    assert standing_drops(bench) == ()


def test_below_five_the_page_says_how_many_are_wanted(tmp_path: Path) -> None:
    """Three usable drops: three of five, no figure, no press."""
    made = bench_in(tmp_path / "data")
    keep(made, loose(3))
    said = TestClient(create_app(made), base_url="http://127.0.0.1").get("/learned").text
    made.close()
    assert "3 of 5 drops that are wanted" in said
    assert "/learned/drops/accept" not in said
