"""Where a cylinder stands, the one thing to do next, and since when it waits."""

from __future__ import annotations

import pytest

from simple_job import cool, heat, simple_job
from sleevewright.jobs.life import life_of
from sleevewright.jobs.stageholds import VERDICTS
from sleevewright.jobs.walk import (
    LIFE,
    NextAction,
    is_open,
    may_go_on,
    next_action,
    steps,
    words_since,
)
from told_jobs import Teller

GOOD = {answer: "good" for answers in VERDICTS.values() for answer in answers}


def test_a_new_job_begins_at_intake() -> None:
    """What the casting is made of is best told first; the hold asks for the agreement."""
    job = Teller()
    assert next_action(job.folded) == NextAction("intake", "Say what the casting is made of")
    job.value("casting.material", "aluminium-356", cylinder=0)
    assert next_action(job.folded).words == "Agree the condition with the customer"
    assert [step.state for step in steps(job.folded)] == ["now"] + ["ahead"] * (len(LIFE) - 1)


@pytest.mark.parametrize(
    ("until", "words"),
    [
        ("found", "Look for cracks, with dye"),
        ("choice", "Offer the options and note which is agreed"),
        ("sleeve", "Measure the sleeve"),
        ("fit", "Choose the fit"),
        ("setup", "Sweep the casting at two depths"),
        ("old", "Bore the old sleeve out, clean all round"),
        ("parent", "Gauge the parent bore in full"),
        ("counterbore", "Cut the counterbore and gauge it across"),
        ("honefit", "Hone to size and gauge the parent bore in full"),
        ("ready", "Measure the sleeve again beside every port edge"),
        ("heat", "Heat, and gauge the slip at the body"),
        ("drop", "Drop the sleeve"),
        ("face", "Face the deck, or note that it stays as it is"),
        ("ports", "Chamfer exhaust"),
        ("hone", "Hone to size and gauge the finished bore"),
        ("rings", "Measure the gap of the rings"),
        ("release", "Wash the cylinder, until a white cloth stays white"),
    ],
)
def test_the_next_action_is_one_sentence_of_the_bench(until: str, words: str) -> None:
    """Told up to a stage, its first lack is the next thing to do."""
    job = simple_job("two-stroke", until=until)
    action = next_action(job.folded, verdicts=GOOD)
    assert (action.stage, action.words, action.turn) == (until, words, "yours")


def test_the_old_bore_is_gauged_while_it_is_there() -> None:
    """After the cracks and before the ports are done with; its hold does not ask for it."""
    job = simple_job("two-stroke", until="found")
    job.value("found.cracks", "none found")
    assert next_action(job.folded).words == "Gauge the bore as found"
    job.grid("found", "as-found-bore", "found", [["2.4080 in"]])
    assert next_action(job.folded).words == "Map the ports before anything is bored"


def test_while_passes_are_to_come_the_next_move_is_the_next_pass() -> None:
    """Passes told and one more planned: bore on; without one planned the full grid is next."""
    on = {**GOOD, "bore.next_ask": "to come"}
    job = simple_job("two-stroke", until="parent")
    assert next_action(job.folded, verdicts=on).words == "Gauge the parent bore in full"
    job.value("parent.pass/1/asked", "10 thou")
    job.value("parent.pass/1/got", "9 thou")
    action = next_action(job.folded, verdicts=on)
    assert (action.stage, action.words) == ("parent", "Bore on: next pass")
    assert next_action(job.folded, verdicts=GOOD).words == "Gauge the parent bore in full"
    job.grid("full", "parent-bore", "parent", [["2.6310 in"] * 4] * 4,
             stations=["10 mm", "30 mm", "50 mm", "70 mm"],
             directions=["0 deg", "45 deg", "90 deg", "135 deg"])  # fmt: skip
    assert next_action(job.folded, verdicts=on).stage == "counterbore"
    job.begin("ps", "parent-pass", "parent", nominal="2.6360 in", unit="thou", stations=["1"],
              directions=["0 deg"])  # fmt: skip
    job.value("set/ps/0/0", "-3.2")
    assert next_action(job.folded, verdicts=on).words == "Bore on: next pass"
    again = "Bored since: gauge the parent bore in full again"
    assert next_action(job.folded, verdicts=GOOD).words == again


@pytest.mark.parametrize(
    ("stage", "cells", "answer", "words"),
    [
        ("piston", "piston.pass/1/asked", "finish.next_ask", "Bore on: next pass"),
        ("honefit", "honefit.pass/1/strokes", "honefit.sure", "Hone on: next strokes"),
        ("hone", "hone.pass/1/strokes", "hone.sure", "Hone on: next strokes"),
    ],
)
def test_other_bores_are_bored_and_honed_on(
    stage: str, cells: str, answer: str, words: str
) -> None:
    """The finish bore and both hones, while their passes are told and their size is not there."""
    job = simple_job("two-stroke", until=stage)
    if stage == "piston":
        job.value("piston.diameter", "2.4750 in")
    job.value(cells, "10 thou" if stage == "piston" else "10")
    assert next_action(job.folded, verdicts=GOOD | {answer: "to come"}).words == words
    assert next_action(job.folded, verdicts=GOOD).words != words


def test_readings_to_go_are_counted() -> None:
    """A begun grid says how much of it is left."""
    job = simple_job("four-stroke", until="sleeve")
    job.value("sleeve.flange", "plain")
    job.begin("od", "sleeve-od", "sleeve", stations=["0.4 in", "1.3 in"], directions=["0 deg"])
    job.value("set/od/0/0", "2.6402 in")
    assert next_action(job.folded).words == "Measure the sleeve: 1 reading to go"


def test_a_verdict_that_is_not_there_is_waited_for_and_one_that_is_out_is_acted_on() -> None:
    """Without a plan nothing passes; with one that is out the cure is named."""
    job = simple_job("two-stroke", until="counterbore")
    missing = {key: said for key, said in GOOD.items() if key != "bore.taper"}
    assert (
        next_action(job.folded, verdicts=missing).words == "Wait until it is worked out: straight"
    )
    out = {**GOOD, "bore.taper": "out"}
    assert next_action(job.folded, verdicts=out).words == "Take another cut, or hone it straight"


def test_what_somebody_says_is_waited_for_goes_first() -> None:
    """A job waits for what it is told to wait for, until that is taken back."""
    job = simple_job("two-stroke", until="fit")
    told = job.value("waits.for", "the weld", cylinder=0, received="2026-11-24T09:30:00.000Z")
    action = next_action(job.folded)
    assert (action.words, action.waits_for, action.turn) == (
        "Waiting for the weld", "the weld", "people")  # fmt: skip
    assert action.since == "2026-11-24T09:30:00.000Z"
    job.value("waits.for", "", cylinder=0, replaces=[told.id])
    assert next_action(job.folded).words == "Choose the fit"


@pytest.mark.parametrize(
    ("until", "cell", "text", "words"),
    [
        ("choice", "choice.offered", "2026-11-23", "Waiting for the customer's word"),
        ("sleeve", "choice.sleeve", "ordered", "Waiting for the sleeve"),
    ],
)
def test_what_is_on_its_way_is_waited_for(until: str, cell: str, text: str, words: str) -> None:
    """An offer that was sent, a sleeve that was ordered."""
    job = simple_job("two-stroke", until=until)
    told = job.value(cell, text)
    action = next_action(job.folded)
    assert (action.stage, action.words, action.since) == (until, words, told.received)
    assert action.turn == "people"


def test_a_piston_to_come_is_waited_for_when_its_turn_comes() -> None:
    """Not before the finish bore, and not after it was measured."""
    job = simple_job("two-stroke", until="piston", without=("intake",))
    job.value("intake.agreed", "in person", cylinder=0)
    job.value("intake.piston", "to come")
    assert next_action(job.folded, verdicts=GOOD).words == "Waiting for the piston"
    job.value("piston.diameter", "2.3992 in")
    assert next_action(job.folded, verdicts=GOOD).words == "Bore to the piston"


def test_the_oven_has_its_turn_while_the_casting_is_in_it() -> None:
    """From the door closed until it is out; then it is the machinist's again."""
    job = simple_job("two-stroke", until="heat")
    job.event("heat", "oven-in", at="2026-11-24T10:00:00Z")
    action = next_action(job.folded, verdicts=GOOD)
    assert (action.turn, action.waits_for, action.since) == (
        "heat", "the oven", "2026-11-24T10:00:00Z")  # fmt: skip
    job.event("heat", "out")
    assert next_action(job.folded, verdicts=GOOD).turn == "yours"
    heat(job)
    assert next_action(job.folded, verdicts=GOOD).words == "Drop the sleeve"


def test_cooling_has_its_turn_until_it_is_measured() -> None:
    """Kept down first, then left to cool; evidence of cooling goes on."""
    job = simple_job("two-stroke", until="cool")
    assert "Keep it down" in next_action(job.folded, verdicts=GOOD).words
    job.event("cool", "unclamped")
    action = next_action(job.folded, verdicts=GOOD)
    assert (action.stage, action.turn) == ("cool", "heat")
    job.event("cool", "measured")
    assert next_action(job.folded, verdicts=GOOD).turn == "yours"
    cool(job)
    assert next_action(job.folded, verdicts=GOOD).stage == "face"


def test_a_wash_is_ended_by_a_clean_wipe() -> None:
    """After a wash the wipe, after a dirty wipe the wash."""
    job = simple_job("two-stroke", until="ready")
    job.event("ready", "wash")
    assert next_action(job.folded, verdicts=GOOD).words == "Wipe with a white cloth"
    job.event("ready", "wipe", result="dirty")
    assert next_action(job.folded, verdicts=GOOD).words == "Wash again, the wipe was not clean"
    job.event("ready", "wipe", result="clean")
    assert next_action(job.folded, verdicts=GOOD).words.startswith("Measure the sleeve again")


def test_records_that_are_not_here_are_the_next_thing() -> None:
    """The stage in hand stays where the evidence puts it; nothing goes on."""
    job = simple_job("two-stroke", until="setup")
    job.tell("event", {"cylinder": 1, "stage": "setup", "what": "note"}, device="phone", skip=1)
    action = next_action(job.folded, verdicts=GOOD)
    assert action.stage == "setup"
    assert action.words.startswith("Bring phone within reach")
    assert not is_open("old", job.folded, verdicts=GOOD)


def test_stages_without_a_hold_are_behind_once_a_later_one_was_worked_at() -> None:
    """Facing and rings are not asked for when the bore was gauged after them."""
    job = simple_job("two-stroke", without=("face", "rings", "release"))
    assert next_action(job.folded, verdicts=GOOD).stage == "rings"
    job.value("release.washed", "yes")
    assert next_action(job.folded, verdicts=GOOD).words == "Sign the release"


def test_a_released_job_waits_to_be_heard_of() -> None:
    """Afterwards is told by people."""
    job = simple_job("four-stroke")
    assert next_action(job.folded, verdicts=GOOD).turn == "people"
    job.value("after.outcome", "runs well")
    assert next_action(job.folded, verdicts=GOOD).words.startswith("Nothing more to do")
    assert steps(job.folded, verdicts=GOOD)[-1].state == "now"


def test_a_lifted_hold_lets_the_job_go_on() -> None:
    """Past a lifted hold the next stage is open."""
    job = simple_job("two-stroke", until="old")
    assert not may_go_on("old", job.folded, verdicts=GOOD)
    job.lift("old")
    assert may_go_on("old", job.folded, verdicts=GOOD)
    assert next_action(job.folded, verdicts=GOOD).stage == "parent"
    assert not is_open("painting", job.folded, verdicts=GOOD)


@pytest.mark.parametrize(
    ("since", "now", "words"),
    [
        ("2026-11-24T09:05:00Z", "2026-11-24T17:00:00Z", "since 09:05"),
        ("2026-11-24T09:00:00Z", "2026-11-25T08:00:00Z", "since yesterday"),
        ("2026-11-24T09:00:00Z", "2026-11-27T08:00:00Z", "since Tuesday"),
        ("2026-11-24T09:00:00.000Z", "2026-12-24T08:00:00Z", "since 24 November"),
        ("2026-11-24T09:00:00Z", "2027-01-02T08:00:00Z", "since 24 November 2026"),
        ("2026-11-24T23:30:00Z", "2026-11-26T09:00:00+02:00", "since yesterday"),
        ("2026-11-24T09:00:00", "2026-11-24T10:00:00", "since 09:00"),
        ("", "2026-11-24T10:00:00Z", ""),
    ],
)
def test_since_when_is_said_by_the_day(since: str, now: str, words: str) -> None:
    """The day is the one of the place whose clock is asked."""
    assert words_since(since, now) == words


@pytest.mark.parametrize(
    ("option", "left"),
    [
        ("hone", ["intake", "found", "choice", "piston", "hone", "rings", "release", "after"]),
        ("re-plate", ["intake", "found", "choice", "piston", "hone", "rings", "release", "after"]),
        ("leave it", ["intake", "found", "choice", "release", "after"]),
    ],
)
def test_an_option_without_a_sleeve_shortens_the_route(option: str, left: list[str]) -> None:
    """What was agreed decides which stages there are; agreed anew, the whole route is back."""
    teller = Teller()
    teller.agree(option)
    assert [one.key for one in life_of(teller.folded)] == left
    teller.agree("sleeve")
    assert len(life_of(teller.folded)) > 15
