"""Holds: met, not met with why and what would meet it, lifted for ever."""

from __future__ import annotations

import pytest

from simple_job import ROUND, TWO, simple_job, sizes
from sleevewright.errors import InputError, NotFound
from sleevewright.jobs.catalog import grid_of_feature
from sleevewright.jobs.evidence import HELD_BACK
from sleevewright.jobs.holds import (
    LIFTED,
    MET,
    NONE,
    NOT_MET,
    hold_of,
    is_reason,
    refuse_reason,
    verdicts_together,
)
from sleevewright.jobs.life import LIFE
from sleevewright.jobs.restson import RESTS_ON
from sleevewright.jobs.stageholds import VERDICTS
from sleevewright.jobs.walk import is_open, may_go_on
from told_jobs import Teller

CROSS = ["0 deg", "90 deg"]
GOOD = {answer: "good" for answers in VERDICTS.values() for answer in answers}


def whys(job: Teller, stage: str, **more: object) -> list[str]:
    """Why a hold is not met."""
    return [lack.why for lack in hold_of(stage, job.folded, **more).lacks]  # type: ignore[arg-type]  # keywords of the call


def test_a_job_that_was_told_nothing_meets_no_hold() -> None:
    """Every stage with a hold says why it is not met and what would meet it."""
    job = Teller()
    for stage in LIFE:
        hold = hold_of(stage.key, job.folded)
        if not stage.hold:
            assert (hold.state, hold.words) == (NONE, "")
            continue
        assert hold.state == NOT_MET, stage.key
        assert hold.words == stage.hold
        assert all(lack.why and lack.cure for lack in hold.lacks)
    with pytest.raises(NotFound):
        hold_of("painting", job.folded)


@pytest.mark.parametrize("kind", ["four-stroke", "compressor"])
def test_a_cylinder_without_ports_has_no_port_holds(kind: str) -> None:
    """No map is asked of it, no chamfer, and no sleeve beside an edge."""
    job = Teller(kind)
    job.value("found.cracks", "none found")
    assert hold_of("found", job.folded).state == MET
    assert hold_of("ports", job.folded).state == NONE
    assert "Sleeve, outside, again is not gauged" not in whys(job, "ready")


def test_nothing_is_bored_without_a_port_map() -> None:
    """A ported cylinder stays before the choice until each named port has its roof."""
    job = Teller()
    job.value("found.cracks", "none found")
    assert whys(job, "found") == ["the ports are not mapped"]
    job.value("port/exhaust/name", "exhaust")
    assert whys(job, "found") == ["the roof of exhaust is not mapped"]
    assert not is_open("choice", job.folded)
    job.value("port/exhaust/found.roof", "1.345 in")
    assert hold_of("found", job.folded).state == MET


def test_a_crack_is_told_with_its_place() -> None:
    """That cracks were found does not do without where they are."""
    job = Teller("four-stroke")
    job.value("found.cracks", "found")
    assert whys(job, "found") == ["a crack, and not where"]
    job.value("found.cracks_where", "exhaust bridge, 8 mm")
    assert hold_of("found", job.folded).state == MET


def test_a_reading_held_back_is_taken_again_before_the_part_is_cut() -> None:
    """What would meet the hold is the reading, not another cut."""
    job = Teller("four-stroke")
    hold = hold_of("parent", job.folded, verdicts={"bore.taper": HELD_BACK})
    found = [one.cure for one in hold.lacks if one.why == f"straight: {HELD_BACK}"]
    assert found == ["Take again the reading that was held back"]


@pytest.mark.parametrize(
    ("cell", "answer", "stage"),
    [("intake.agreed", "not yet", "intake"), ("found.cracks", "not yet", "found")],
)
def test_an_answer_of_not_yet_meets_nothing(cell: str, answer: str, stage: str) -> None:
    """The question stays open while it is answered so."""
    job = Teller("four-stroke")
    job.value(cell, answer)
    assert hold_of(stage, job.folded).state == NOT_MET


def test_an_option_is_agreed_by_somebody() -> None:
    """An option without a name, or a name without an option, is no agreement."""
    job = Teller()
    assert whys(job, "choice") == ["no option is agreed"]
    job.agree(by="")
    assert whys(job, "choice") == ["nobody agreed to the option"]
    job.agree()
    assert hold_of("choice", job.folded).state == MET


def test_a_flange_is_measured_where_there_is_one() -> None:
    """Whether there is one is asked; a flanged sleeve has its flange across and thick."""
    job = simple_job("four-stroke", until="sleeve")
    job.grid("od", "sleeve-od", "sleeve", sizes(2.6402, 2, 2), stations=TWO, directions=CROSS)
    assert whys(job, "sleeve") == ["a flange or none is not told"]
    job.value("sleeve.flange", "flanged")
    assert whys(job, "sleeve") == ["Flange, outside is not gauged", "Flange, thick is not gauged"]
    assert "a flange or none is not told" in whys(simple_job("four-stroke", until="sleeve"), "heat")


def test_islands_are_cleaned_or_accepted_in_writing_by_somebody() -> None:
    """Words without a name do not accept anything."""
    job = Teller()
    job.value("old.clean", "islands left")
    job.value("old.accepted", "two islands of key at 90 deg")
    assert whys(job, "old") == ["islands of old iron are left"]
    job.value("old.accepted_by", "p1")
    assert hold_of("old", job.folded).state == MET


@pytest.mark.parametrize("stage", list(VERDICTS))
def test_a_verdict_that_is_not_good_or_not_there_meets_nothing(stage: str) -> None:
    """Too close to call and out hold; so does what is not worked out yet."""
    job = simple_job("two-stroke", until="release")
    if stage == "parent":
        job = simple_job("two-stroke", until="honefit")
    assert hold_of(stage, job.folded, verdicts=GOOD).state == MET
    for answer in VERDICTS[stage]:
        left = {key: said for key, said in GOOD.items() if key != answer}
        why = hold_of(stage, job.folded, verdicts=left).lacks
        assert [lack.why.endswith("not worked out yet") for lack in why] == [True]
        for said in ("too close to call", "out"):
            hold = hold_of(stage, job.folded, verdicts={**GOOD, answer: said})
            assert hold.state == NOT_MET
            assert said in hold.lacks[0].why


def test_the_least_fit_at_the_flange_is_asked_where_it_is_judged() -> None:
    """A flange with a fit of its own counts beside the body."""
    job = simple_job("two-stroke", until="ready")
    out = {**GOOD, "fit.flange_below_least": "out"}
    assert hold_of("honefit", job.folded, verdicts=out).state == NOT_MET
    good = {**GOOD, "fit.flange_below_least": "good"}
    assert hold_of("honefit", job.folded, verdicts=good).state == MET


def test_no_oven_without_dry_and_drained_and_the_sleeve_as_it_was() -> None:
    """Each of the three holds alone; a tick set to no is none."""
    job = simple_job("two-stroke", until="heat")
    told = job.folded.value("ready.dry")
    assert told is not None
    job.value("ready.dry", "no", replaces=[told.id])
    assert whys(job, "ready", verdicts=GOOD) == ["not dry"]
    assert whys(job, "ready", verdicts={**GOOD, "ready.od": "out"})[0] == "sleeve as it was: out"


def test_a_planned_slip_is_no_measured_one() -> None:
    """The oven's door opens on what the gauge shows at body and flange."""
    job = simple_job("two-stroke", until="heat")
    job.value("heat.slip", "6 thou")
    assert len(whys(job, "heat")) == 2
    job.value("heat.slip_body", "6.0 thou")
    assert whys(job, "heat", verdicts=GOOD) == ["the slip at the flange is not gauged"]


def test_a_slip_that_is_too_small_opens_no_oven() -> None:
    """Gauged is not enough: body and flange each clear the sleeve by what the drop needs."""
    job = simple_job("two-stroke", until="drop")
    assert hold_of("heat", job.folded, verdicts=GOOD).state == MET
    hold = hold_of("heat", job.folded, verdicts={**GOOD, "heat.flange_go": "out"})
    assert hold.state == NOT_MET
    assert hold.lacks[0].why == "slip at the flange: out"
    assert hold.lacks[0].cure == "Heat on until the needle is at go"


def test_a_lifted_hold_says_when_what_its_verdict_rests_on_changed() -> None:
    """A fit that was lifted hears of the sleeve that was measured again, or voided."""
    job = simple_job("four-stroke", until="ready")
    job.lift("honefit")
    job.value("ready.dry", "yes")
    assert not hold_of("honefit", job.folded, verdicts=GOOD).was_told_since
    job.value("set/od/void", "the micrometer was dropped")
    assert hold_of("honefit", job.folded, verdicts=GOOD).was_told_since
    job.lift("release")
    assert not hold_of("release", job.folded, verdicts=GOOD).was_told_since
    job.value("fit.least", "2.4 thou")
    assert hold_of("release", job.folded, verdicts=GOOD).was_told_since


def test_a_feeler_that_enters_holds() -> None:
    """The flange is seated where no blade goes under it."""
    job = simple_job("two-stroke", until="face")
    assert hold_of("cool", job.folded, verdicts=GOOD).state == MET
    told = job.folded.value("cool.feeler")
    assert told is not None
    job.value("cool.feeler", "enters", replaces=[told.id])
    assert whys(job, "cool", verdicts=GOOD) == ["a feeler enters under the flange"]


def test_no_finish_bore_without_the_piston() -> None:
    """A piston that is promised is not one that was measured."""
    job = simple_job("two-stroke", until="piston")
    job.value("engine.bore", "2.402 in", cylinder=0)
    assert whys(job, "piston") == ["the piston is not measured"]
    assert not is_open("ports", job.folded, verdicts=GOOD)


def test_every_port_is_chamfered() -> None:
    """One untold chamfer holds, and is named."""
    job = simple_job("two-stroke", until="ports")
    job.value("port/exhaust/left.chamfer", "yes")
    assert whys(job, "ports") == ["main left is not chamfered", "main right is not chamfered"]


def test_records_that_are_not_here_hold_everything() -> None:
    """Three readings that a tablet counted and did not deliver are missed by name."""
    job = simple_job("two-stroke", until="ready")
    assert hold_of("honefit", job.folded, verdicts=GOOD).state == MET
    job.tell("event", {"cylinder": 1, "stage": "ready", "what": "note"}, device="phone", skip=3)
    hold = hold_of("honefit", job.folded, verdicts=GOOD)
    assert hold.state == NOT_MET
    assert hold.lacks[0].why == "3 readings of phone not here yet"
    assert hold.lacks[0].device == "phone"
    assert not may_go_on("honefit", job.folded, verdicts=GOOD)
    for count in (1, 2, 3):
        job.counts["phone"] = count - 1
        job.give_up(device="phone")
    assert hold_of("honefit", job.folded, verdicts=GOOD).state == MET


def test_two_different_values_hold_and_are_named() -> None:
    """A conflict in a cell that a hold rests on is not met, whichever came later."""
    job = simple_job("two-stroke", until="setup")
    assert hold_of("fit", job.folded).state == MET
    second = job.value("fit.wanted", "3.8 thou", device="phone")
    lacks = hold_of("fit", job.folded).lacks
    assert [lack.why for lack in lacks] == [
        "two different values for interference wanted, body: 3.4 thou or 3.8 thou"
    ]
    first = next(one for one in job.folded.heads("fit.wanted") if one.id != second.id)
    job.value("fit.wanted", "3.4 thou", replaces=[first.id, second.id])
    assert hold_of("fit", job.folded).state == MET


def test_a_lifted_hold_stays_lifted_with_its_name_and_reason() -> None:
    """It is shown for ever, also when its evidence comes, changes and goes."""
    job = Teller("four-stroke")
    lift = job.lift("found", reason="cracks looked for at the weld shop")
    hold = hold_of("found", job.folded)
    assert (hold.state, hold.by, hold.reason) == (
        LIFTED, "p1", "cracks looked for at the weld shop")  # fmt: skip
    assert hold.lifted_at == lift.received
    assert hold.lacks, "what lacks is still said"
    assert not hold.was_told_since
    told = job.value("found.cracks", "none found")
    after = hold_of("found", job.folded)
    assert (after.state, after.by, after.lacks) == (LIFTED, "p1", ())
    assert after.was_told_since
    job.value("found.cracks", "not yet", replaces=[told.id])
    job.lift("found", person="p2", reason="another reason of mine")
    last = hold_of("found", job.folded)
    assert (last.state, last.by) == (LIFTED, "p1")


@pytest.mark.parametrize(
    ("person", "reason"), [("", "seen and accepted"), ("p1", ""), ("p1", "ok"), ("p1", "accepted"),
                           ("  ", "seen and accepted")]
)  # fmt: skip
def test_a_lift_without_a_name_or_a_reason_lifts_nothing(person: str, reason: str) -> None:
    """A hold is not lifted by a press alone."""
    job = Teller()
    job.lift("intake", person=person, reason=reason)
    assert hold_of("intake", job.folded).state == NOT_MET


def test_a_reason_has_words() -> None:
    """Two words and eight letters at least."""
    assert is_reason("accepted by customer")
    refuse_reason("accepted by customer")
    with pytest.raises(InputError, match="at least 2 words"):
        refuse_reason("okay then"[:4])


def test_each_cylinder_walks_its_own_and_the_release_asks_each() -> None:
    """A lift of one cylinder lifts nothing of the other; a release wants both."""
    job = Teller("four-stroke", cylinders=2)
    job.value("intake.agreed", "in person", cylinder=0)
    for stage in LIFE:
        if stage.hold and stage.key not in ("ports", "release"):
            job.lift(stage.key, cylinder=1)
    assert hold_of("found", job.folded, cylinder=1).state == LIFTED
    assert hold_of("found", job.folded, cylinder=2).state == NOT_MET
    assert hold_of("intake", job.folded, cylinder=2).state == MET
    hold = hold_of("release", job.folded, cylinder=1)
    assert hold.state == NOT_MET
    assert hold.lacks[0].why == "Cylinder 2, As found: cracks are not looked for"
    for stage in LIFE:
        if stage.hold and stage.key not in ("ports", "release", "setup"):
            job.lift(stage.key, cylinder=2)
    for name, depth in (("top", "0.4 in"), ("bottom", "3.0 in")):
        job.grid(f"s2{name}", f"sweep-{name}", "setup", [["0"] * 3], stations=[depth],
                 directions=ROUND[:3], cylinder=2)  # fmt: skip
    assert hold_of("release", job.folded, cylinder=1, verdicts=GOOD).state == NOT_MET
    both = verdicts_together({1: {**GOOD, "2/bore.taper": "out"}, 2: GOOD})
    assert hold_of("release", job.folded, cylinder=1, verdicts=both).state == MET
    assert hold_of("release", job.folded, cylinder=2, verdicts=both).state == MET


def test_every_verdict_that_a_hold_asks_for_names_what_it_rests_on() -> None:
    """A verdict without a basis would leave a lifted hold silent about what changed."""
    asked = {answer for answers in VERDICTS.values() for answer in answers}
    assert asked <= set(RESTS_ON)
    features = {feature for basis in RESTS_ON.values() for feature in basis.features}
    assert all(grid_of_feature(feature) is not None for feature in features)
