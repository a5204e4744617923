"""What stage Cool says while a casting cools: state, times, lift, hold-down, the warm bore."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from bored_jobs import FEW, looked
from simple_job import Counting, simple_job
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.errors import InputError
from sleevewright.jobs.holds import hold_of
from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Answer, Plan, StageAnswers
from sleevewright.planning.beside import with_stage
from sleevewright.planning.shop import Shop
from sleevewright.services.cooling_told import cooling_part, cooling_told
from sleevewright.services.cut_told import CutTold
from sleevewright.services.quick import quick
from sleevewright.web.plan.cooling_drawing import cooling_drawing
from sleevewright.web.plan.viewer import Viewer

SHOP = Shop(FEW)


def dropped() -> Counting:
    """A job whose sleeve is in and cooling."""
    job = simple_job("four-stroke", until="piston")
    job.event("drop", "seated", at="2026-12-01T09:00:00Z")
    return job


def told(job: Counting) -> CutTold:
    """What its parts may read."""
    return CutTold(living_job(job.folded).job, job.folded, 1, SHOP)


def cooled(job: Counting, seen: Plan | None = None) -> StageAnswers:
    """The answers of the cooling."""
    stage = cooling_part(looked(job, SHOP) if seen is None else seen, told(job))
    assert stage is not None
    return stage


def answer(stage: StageAnswers, name: str) -> Answer:
    """One answer."""
    return next(one for one in stage.answers if one.id == name)


@pytest.fixture(scope="module")
def plain() -> tuple[Counting, Plan]:
    """A dropped job and its plan, looked at once."""
    job = dropped()
    return job, looked(job, SHOP)


@pytest.mark.parametrize(
    ("casting", "said"),
    [("150 C", "hot"), ("110 C", "caught"), ("58 C", "unclamp"), ("40 C", "cool"),
     ("21 C", "gauge it")],
)  # fmt: skip
def test_the_state_is_that_of_the_last_reading(
    plain: tuple[Counting, Plan], casting: str, said: str
) -> None:
    """A measured temperature decides; without one it is only said to be unread."""
    _, seen = plain
    job = dropped()
    assert answer(cooled(job, seen), "cool.state").value == "unread"
    assert "not read yet" in str(answer(cooled(job, seen), "cool.do").value)
    job.value("cool.log/1/minutes", "20 min")
    job.value("cool.log/1/casting", casting)
    assert answer(cooled(job, seen), "cool.state").value == said


def test_times_rise_and_a_reading_narrows_them(plain: tuple[Counting, Plan]) -> None:
    """Caught, unclamped, touched, gauged in this order; the band of unclamping shrinks."""
    _, seen = plain
    job = dropped()
    names = ("cool.caught_in", "cool.unclamp_in", "cool.touch_in", "cool.measure_in")
    before = cooled(job, seen)
    times = [float(answer(before, one).value) for one in names]  # type: ignore[arg-type]  # floats
    assert times == sorted(times)
    job.value("cool.log/1/minutes", "20 min")
    job.value("cool.log/1/casting", "85 C")
    after = cooled(job, seen)
    bands = [answer(one, "cool.unclamp_in").doubt for one in (before, after)]
    assert bands[0] is not None
    assert bands[1] is not None
    assert bands[1].high - bands[1].low < 0.7 * (bands[0].high - bands[0].low)
    assert "about" in str(answer(after, "cool.next").value)


def test_what_is_still_to_part_is_the_identity_of_both_laws(plain: tuple[Counting, Plan]) -> None:
    """The fit given back is the difference of growth, less what the smaller bore grows."""
    job, seen = plain
    stage = cooled(job, seen)
    known = (seen.answer(f"{part}.law").value for part in ("casting", "sleeve"))
    laws = [law for law in known if isinstance(law, ExpansionLaw)]
    length, diameter, fit = (
        float(seen.answer(one).value)  # type: ignore[arg-type]  # floats
        for one in ("sleeve.length", "sleeve.od", "fit.as_cut")
    )
    grown = [40.0 * (law.reference + law.slope * 40.0) for law in laws]
    by_laws = length * (grown[0] - grown[1] - fit / diameter * grown[0])
    assert answer(stage, "cool.to_come").value == pytest.approx(by_laws, rel=1e-6)


def test_a_cold_plate_lifts_the_flange_and_wood_with_a_press_does_not(
    plain: tuple[Counting, Plan],
) -> None:
    """The lift follows from the end that grips first as it stands."""
    _, seen = plain
    job = dropped()
    job.value("cool.flange_pressed", "yes")
    wood = cooled(job, seen)
    job.value("cool.stands_on", "cold plate")
    plate = cooled(job, seen)
    assert "bottom" in str(answer(plate, "cool.first_end").value)
    lifts = [float(answer(one, "cool.lift_by_end").value) for one in (wood, plate)]  # type: ignore[arg-type]  # floats
    assert lifts[0] < lifts[1]
    assert lifts[1] == answer(plate, "cool.lift_bottom").value
    after, parting = (
        float(answer(plate, f"cool.{one}").value) for one in ("lift_after", "to_come")
    )  # type: ignore[arg-type]  # floats
    assert 0.0 < after < parting < lifts[1]


def test_studs_go_slack_and_springs_keep_more(plain: tuple[Counting, Plan]) -> None:
    """Full-height steel studs lose most of their pull; disc springs keep more than half of it."""
    _, seen = plain
    job = dropped()
    for cell, text in (("hold_with", "plate and studs"), ("stud", "M8"), ("studs", "4"),
                       ("stud_free", "110 mm"), ("stud_torque", "11.2 N m")):  # fmt: skip
        job.value(f"cool.{cell}", text)
    slack = cooled(job, seen)
    pull, left = (float(answer(slack, f"cool.{one}").value) for one in ("stud_pull", "stud_left"))  # type: ignore[arg-type]  # floats
    assert pull == pytest.approx(7000.0, rel=1e-6)
    assert left < 0.2 * pull
    assert any("Nip up again at 2" in one for one in slack.advice)
    head = job.folded.value("cool.hold_with", cylinder=1)
    assert head is not None
    job.value("cool.hold_with", "disc springs", replaces=[head.id])
    kept = float(answer(cooled(job, seen), "cool.stud_left").value)  # type: ignore[arg-type]  # a float
    assert kept > 0.5 * pull


def test_unclamped_warm_is_told_loudly(plain: tuple[Counting, Plan]) -> None:
    """Above the unclamping line the lift check is asked; below it nothing is said."""
    _, seen = plain
    for text, is_told in (("80 C", True), ("50 C", False)):
        job = dropped()
        job.value("cool.unclamped_at", text)
        codes = [one.code for one in cooled(job, seen).cautions]
        assert ("unclamped-warm" in codes) is is_told


def test_unclamped_warm_asks_the_flange_again_before_it_goes_on() -> None:
    """The hold lacks it until it is ticked; below the line nothing is asked."""
    for text, is_asked in (("80 C", True), ("50 C", False)):
        job = dropped()
        job.value("sleeve.flange", "flanged")
        job.value("cool.unclamped_at", text)
        why = hold_of("cool", job.folded, cylinder=1).lacks
        assert any("tried since" in one.why for one in why) is is_asked
        job.value("cool.tried_again", "yes")
        why = hold_of("cool", job.folded, cylinder=1).lacks
        assert not any("tried since" in one.why for one in why)


def test_the_picture_says_every_state(plain: tuple[Counting, Plan]) -> None:
    """Curve, lines and readings are drawn for a sheet and for a phone, and said in words."""
    _, seen = plain
    job = dropped()
    job.value("cool.log/1/minutes", "20 min")
    job.value("cool.log/1/casting", "85 C")
    whole = with_stage(seen, cooled(job, seen))
    viewer = Viewer(whole, "inch")
    drawn = cooling_drawing(viewer, whole.answer("cool.forecast"))
    assert drawn is not None
    assert drawn.count("<svg") == 2
    for word in ("caught", "unclamp", "touch", "gauge"):
        assert f"{word} after" in drawn


def test_a_quick_question_needs_no_job() -> None:
    """Heavier takes no less time, a fan far less; a start below the room is refused."""
    words = ("casting_mass=1.5kg", "sleeve_mass=0.45kg", "temperature=155C")
    still = {one.key: one.value for one in quick("cool", words).lines}
    blown = {one.key: one.value for one in quick("cool", (*words, "air=fan")).lines}
    assert 20 * 60 < float(still["unclamp_s"] or 0) < 45 * 60
    assert float(blown["unclamp_s"] or 0) < 0.4 * float(still["unclamp_s"] or 0)
    with pytest.raises(InputError, match="temperature"):
        quick("cool", ("casting_mass=1.5kg", "sleeve_mass=0.45kg", "temperature=15C"))


def test_only_told_things_are_read() -> None:
    """A job of which nothing happened after the drop has no readings and no clock."""
    job = simple_job("four-stroke", until="heat")
    known = cooling_told(told(job))
    assert known.readings == ()
    assert known.begun is None
    assert not known.is_down


def test_caught_is_below_the_grip_temperature_by_its_doubt_and_both_as_warm(
    plain: tuple[Counting, Plan],
) -> None:
    """A margin of its doubt, one side of 19 in 20; a colder sleeve in a cool casting is loose.

    By hand: a sleeve 100 K colder than its casting has some 4 thou more room than one as warm.
    """
    _, seen = plain
    job = dropped()
    job.value("cool.log/1/minutes", "1 min")
    job.value("cool.log/1/casting", "110 C")
    stage = cooled(job, seen)
    grip = seen.answer("fit.grip")
    assert isinstance(grip.value, float)
    assert grip.doubt is not None
    most = grip.value - 1.6 * grip.doubt.standard
    assert float(answer(stage, "cool.caught_at").value) < most  # type: ignore[arg-type]  # a float
    assert answer(stage, "cool.state").value == "hot"  # a minute after, sleeve not read
    job.value("cool.log/1/sleeve", "20 C")
    assert answer(cooled(job, seen), "cool.state").value == "hot"
    warm = dropped()
    for cell, text in (("minutes", "1 min"), ("casting", "110 C"), ("sleeve", "108 C")):
        warm.value(f"cool.log/1/{cell}", text)
    assert answer(cooled(warm, seen), "cool.state").value == "caught"


def test_the_clock_is_that_of_the_newest_try() -> None:
    """A sleeve that was pulled out and went in again is timed from its second entry."""
    job = simple_job("four-stroke", until="piston")
    job.event("drop", "in", at="2026-12-01T09:00:00Z")
    job.event("drop", "seated", at="2026-12-01T09:00:03Z")
    job.event("drop", "pulled-out", at="2026-12-01T09:00:30Z")
    known = cooling_told(told(job))
    assert known.begun is None
    assert not known.is_down
    job.event("drop", "in", at="2026-12-01T10:00:00Z")
    begun = cooling_told(told(job)).begun
    assert begun is not None
    assert begun.timestamp() == datetime(2026, 12, 1, 10, tzinfo=UTC).timestamp()


def test_readings_of_no_one_cooling_are_told(plain: tuple[Counting, Plan]) -> None:
    """A casting that is said to have grown hotter again is doubted; one that cools on is not."""
    _, seen = plain
    for last, is_doubted in (("120 C", True), ("60 C", False)):
        job = dropped()
        for row, (minutes, read) in enumerate((("5", "130 C"), ("20", "85 C"), ("35", last))):
            job.value(f"cool.log/{row + 1}/minutes", f"{minutes} min")
            job.value(f"cool.log/{row + 1}/casting", read)
        advice = cooled(job, seen).advice
        assert any("do not follow one cooling" in one for one in advice) is is_doubted


def test_iron_in_iron_is_caught_once_both_are_level() -> None:
    """No grip temperature and no length to part; a minute after seating nothing is sure yet."""
    job = simple_job("four-stroke", until="piston")
    head = job.folded.value("casting.material", cylinder=0)
    assert head is not None
    job.value("casting.material", "grey-iron", cylinder=0, replaces=[head.id])
    job.event("drop", "seated", at="2026-12-01T09:00:00Z")
    job.value("cool.log/1/casting", "85 C")
    first = job.value("cool.log/1/minutes", "1 min")
    seen = looked(job, SHOP)
    assert answer(cooled(job, seen), "cool.state").value == "hot"
    job.value("cool.log/1/minutes", "20 min", replaces=[first.id])
    stage = cooled(job, seen)
    assert answer(stage, "cool.state").value == "caught"
    assert "both shrink alike" in str(answer(stage, "cool.do").value)
    assert answer(stage, "cool.caught_at").value is None
    assert abs(float(answer(stage, "cool.to_come").value)) < 1e-6  # type: ignore[arg-type]  # a float
    assert answer(stage, "cool.lift_after").value == 0.0


def test_a_plain_sleeve_has_no_flange_that_lifts_and_cools_for_hours() -> None:
    """Nothing of a flange is answered; a reading three hours on is taken."""
    job = simple_job("four-stroke", until="piston")
    head = job.folded.value("sleeve.flange", cylinder=1)
    assert head is not None
    job.value("sleeve.flange", "plain", replaces=[head.id])
    job.value("cool.log/1/minutes", "200 min")
    job.value("cool.log/1/casting", "22 C")
    stage = cooled(job)
    names = {one.id for one in stage.answers}
    assert not names & {"cool.lift_by_end", "cool.lift_after", "cool.lift_mid", "cool.hold_says"}
    assert {"cool.first_end", "cool.to_come", "cool.state"} <= names
