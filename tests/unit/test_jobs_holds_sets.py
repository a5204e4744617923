"""Holds that rest on sets of readings: full grids, dashes, zeroes, and bores cut since."""

from __future__ import annotations

import pytest

from simple_job import FOUR, ROUND, STATIONS, TWO, simple_job, sizes
from sleevewright.jobs.holds import MET, NOT_MET, hold_of
from sleevewright.jobs.sets import newest, why_void
from sleevewright.jobs.stageholds import VERDICTS
from told_jobs import Teller

CROSS = ["0 deg", "90 deg"]
GOOD = {answer: "good" for answers in VERDICTS.values() for answer in answers}


def whys(job: Teller, stage: str, **more: object) -> list[str]:
    """Why a hold is not met."""
    return [lack.why for lack in hold_of(stage, job.folded, **more).lacks]  # type: ignore[arg-type]  # keywords of the call


def test_no_parent_bore_without_the_measured_sleeve() -> None:
    """A begun set is not a measured sleeve, nor is a typed size, nor one with a dash."""
    job = Teller("four-stroke")
    job.value("sleeve.flange", "plain")
    job.value("sleeve.outside_diameter", "2.6402 in")
    assert whys(job, "sleeve") == ["Sleeve, outside is not gauged"]
    job.begin("od", "sleeve-od", "sleeve", stations=TWO, directions=CROSS)
    for place in ("0/0", "0/1", "1/0"):
        job.value(f"set/od/{place}", "2.6402 in")
    assert whys(job, "sleeve") == ["Sleeve, outside: 1 of 4 not read"]
    dash = job.value("set/od/1/1", "-")
    assert whys(job, "sleeve") == ["Sleeve, outside: 1 of 4 not read"], "no port lies out there"
    job.value("set/od/1/1", "2.6403 in", replaces=[dash.id])
    assert hold_of("sleeve", job.folded).state == MET


def test_a_grid_of_one_place_is_no_full_grid() -> None:
    """Bores and outsides are gauged at two depths with two directions at least."""
    job = simple_job("four-stroke", until="honefit")
    job.grid("one", "parent-bore", "honefit", [["2.6366 in"]], stations=TWO[:1],
             directions=CROSS[:1])  # fmt: skip
    few = "Parent bore at size: read at fewer than 2 depths with 2 directions at each"
    assert whys(job, "honefit", verdicts=GOOD)[0] == few
    job.grid("deep", "parent-bore", "honefit", sizes(2.6366, 2, 1), stations=TWO,
             directions=CROSS[:1])  # fmt: skip
    assert whys(job, "honefit", verdicts=GOOD)[0] == few
    job.grid("full", "parent-bore", "honefit", sizes(2.6366, 2, 2), stations=TWO,
             directions=CROSS)  # fmt: skip
    assert hold_of("honefit", job.folded, verdicts=GOOD).state == MET


def test_a_dash_answers_for_ports_up_to_half_of_the_places() -> None:
    """One reading and eleven dashes are no gauged bore; what lies in ports is no reading."""
    job = simple_job("four-stroke", until="honefit")
    job.begin("p", "parent-bore", "honefit", stations=STATIONS[:3], directions=FOUR)
    places = [f"{row}/{column}" for row in range(3) for column in range(4)]
    told = [job.value(f"set/p/{place}", "-") for place in places]
    job.value("set/p/0/0", "2.6366 in", replaces=[told[0].id])
    lacks = hold_of("honefit", job.folded, verdicts=GOOD).lacks
    assert lacks[0].why == "Parent bore at size: 1 reading at 12 places"
    for place, dash in zip(places[1:], told[1:], strict=True):
        if place[2] in "02":
            job.value(f"set/p/{place}", "2.6366 in", replaces=[dash.id])
    assert hold_of("honefit", job.folded, verdicts=GOOD).state == MET


@pytest.mark.parametrize(
    ("feature", "stage", "least"),
    [("counterbore-depth", "counterbore", 4), ("stand-out", "cool", 4), ("sweep-top", "setup", 3)],
)
def test_a_level_is_gauged_round_the_ring(feature: str, stage: str, least: int) -> None:
    """A ledge, a stand-out and a sweep need places that tell a tilt apart."""
    job = simple_job("four-stroke", until="face", without=[stage])
    job.value("cool.feeler", "does not enter")
    text = "0.1550 in" if feature == "counterbore-depth" else "2"
    for count in range(least - 1, least + 1):
        job.grid(f"s{count}", feature, stage, [[text] * count], unit="thou",
                 directions=ROUND[:count])  # fmt: skip
        said = [why for why in whys(job, stage, verdicts=GOOD) if f"fewer than {least}" in why]
        assert bool(said) == (count < least)


def test_a_void_set_is_no_evidence() -> None:
    """What was measured with a gauge that drifted, or was voided, does not count."""
    job = simple_job("four-stroke", until="fit")
    assert hold_of("sleeve", job.folded).state == MET
    job.value("set/od/zero-start", "0")
    job.value("set/od/zero-end", "+0.5")
    assert whys(job, "sleeve") == ["Sleeve, outside is not gauged"]


def test_a_bore_that_was_cut_again_is_gauged_again() -> None:
    """The verdict of one pass meets no hold that asks for the full grid before it."""
    job = simple_job("four-stroke", until="counterbore")
    job.begin("ps", "parent-pass", "parent", stations=["1", "2"], directions=["0 deg"])
    slip = job.value("set/ps/0/0", "2.6350 in")
    assert whys(job, "parent", verdicts=GOOD) == ["Parent bore: bored since"]
    job.grid("full", "parent-bore", "honefit", sizes(2.6366, 4, 4), stations=STATIONS,
             directions=FOUR)  # fmt: skip
    assert hold_of("honefit", job.folded, verdicts=GOOD).state == MET
    assert hold_of("parent", job.folded, verdicts=GOOD).state == MET
    job.value("set/ps/0/0", "2.6351 in", replaces=[slip.id])
    assert hold_of("honefit", job.folded, verdicts=GOOD).state == MET, "put right, not cut again"
    job.value("set/ps/1/0", "2.6360 in")
    for stage in ("honefit", "parent"):
        assert hold_of(stage, job.folded, verdicts=GOOD).state == NOT_MET
    lack = hold_of("honefit", job.folded, verdicts=GOOD).lacks[0]
    assert lack.cure == "Bored since: gauge the parent bore in full again"
    job.value("set/ps/void", "told at the wrong job")
    assert hold_of("honefit", job.folded, verdicts=GOOD).state == MET


def test_a_full_grid_at_another_stage_takes_the_verdict_with_it() -> None:
    """Gauged once more before the hone after it was honed: the hone is not proved by that."""
    job = simple_job("four-stroke", until="ready")
    assert hold_of("honefit", job.folded, verdicts=GOOD).state == MET
    job.grid("late", "parent-bore", "parent", sizes(2.6353, 4, 4), stations=STATIONS,
             directions=FOUR)  # fmt: skip
    assert whys(job, "honefit", verdicts=GOOD) == ["Parent bore at size: bored since"]


def test_a_zero_that_was_told_at_the_start_is_told_at_the_end() -> None:
    """A check that was begun is finished; one that was never begun is told to be missing."""
    job = simple_job("four-stroke", until="ready")
    state = newest(job.folded, "parent-bore", stage="honefit")
    assert state is not None
    assert not state.is_zero_checked
    assert hold_of("honefit", job.folded, verdicts=GOOD).state == MET
    job.value("set/honed/zero-start", "0")
    assert whys(job, "honefit", verdicts=GOOD) == [
        "Parent bore at size: the zero at the end is not checked"
    ]
    job.value("set/honed/zero-end", "+0.1")
    assert hold_of("honefit", job.folded, verdicts=GOOD).state == MET
    state = newest(job.folded, "parent-bore", stage="honefit")
    assert state is not None
    assert state.is_zero_checked


@pytest.mark.parametrize(
    ("entry", "counts"), [("deviation", False), ("last-digits", False), ("size", True)]
)
def test_an_end_without_a_start_drifted_from_nought(entry: str, counts: bool) -> None:
    """Over a master readings begin at nought; a whole size has no such beginning."""
    job = Teller()
    job.begin("k", "parent-bore", "honefit", nominal="2.6360 in", unit="thou", entry=entry,
              stations=TWO, directions=CROSS)  # fmt: skip
    job.value("set/k/0/0", {"deviation": "+0.6", "last-digits": "366"}.get(entry, "2.6366 in"))
    job.value("set/k/zero-end", "+2")
    assert (newest(job.folded, "parent-bore") is not None) == counts
    if not counts:
        said = why_void(job.folded, job.folded.sets["k"])
        assert said == "the zero is off by 50.8 µm (2 thou) at the end"


def test_the_same_place_read_differently_holds_the_set() -> None:
    """Two devices at one place of a grid: the grid is not whole until one is taken back."""
    job = simple_job("four-stroke", until="fit")
    job.value("set/od/0/0", "2.6405 in", device="phone")
    assert whys(job, "sleeve") == ["Sleeve, outside: two different values at 1 place"]
