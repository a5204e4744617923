"""Was the fit obtained: what is compared, what is refused and why, where it is soft."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import pytest

from simple_job import TWO, Counting, simple_job, sizes
from sleevewright.core.fits.closeups import StationCloseUps
from sleevewright.core.fits.posterior import Prior
from sleevewright.jobs.holds import MET, hold_of
from sleevewright.jobs.living import living_job
from sleevewright.jobs.pastjobs import pairing_of
from sleevewright.jobs.records import VALUE, Record
from sleevewright.jobs.sleevecuts import cut_between
from sleevewright.jobs.told import read_cell
from sleevewright.planning.answers import Answer
from sleevewright.planning.habit import HABIT
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Posterior, Settings, Shop
from sleevewright.planning.stationfactors import solid_key
from sleevewright.services.jobs import verdicts_of
from sleevewright.services.proving import proved
from told_jobs import GAUGE, MIC

FEW = Settings(budget_samples=4000, drop_samples=100)
CROSS = ["0 deg", "90 deg"]
THREE = ["0.5 in", "1.8 in", "3.0 in"]
OTHER: dict[str, Any] = {**GAUGE, "name": "other gauge"}
RING = {"name": "ring 4", "kind": "setting-ring", "setting": "0.1 thou"}


def gauged(
    job: Counting,
    feature: str,
    rows: list[list[str]],
    *,
    depths: list[str] = TWO,
    **more: Any,
) -> None:
    """One more set of the sleeve's bore."""
    stage = "sleeve" if feature == "sleeve-id" else "cool"
    body = {"stations": depths, "directions": CROSS, **more}
    job.grid(f"x{len(job.records)}", feature, stage, rows, **body)


def told(before: list[list[str]], after: list[list[str]], **more: Any) -> Counting:
    """A whole job up to the cooled bore, with these two sets."""
    job = simple_job("four-stroke", until="cool")
    gauged(job, "sleeve-id", before, **more)
    gauged(job, "cooled-bore", after, **more)
    return job


def answers_of(job: Counting, solid: Mapping[str, str] | None = None) -> dict[str, Answer]:
    """The answers of the cylinder, proved."""
    living = living_job(job.folded)
    results = () if solid is None else tuple((solid_key(living.job), one) for one in solid.values())
    shop = Shop(FEW, solid_results=results)
    seen = proved(plan(living.job, shop), living.job, job.folded, shop)
    return {one.id: one for one in seen.answers()}


def rows(*means: float) -> list[list[str]]:
    """One size all round at each depth."""
    return [[f"{mean:.5f} in"] * 2 for mean in means]


def number(answers: Mapping[str, Answer], name: str) -> float:
    """An answer that is a number."""
    value = answers[name].value
    assert isinstance(value, float), answers[name].needs
    return value


def verdict(answers: Mapping[str, Answer], name: str) -> str:
    """A verdict; empty where there is none."""
    judged = answers[name].judgement
    return "" if judged is None else judged.verdict.value


def test_a_bore_that_closed_as_it_should_proves_more_than_was_measured() -> None:
    """Measurement and close-up together are narrower than the measurement alone, and near it."""
    seen = answers_of(told(rows(2.34, 2.34), rows(2.3379, 2.3379)))
    assert verdict(seen, "cool.proof") == verdict(seen, "cool.proved_below_least") == "good"
    measured, both = seen["fit.as_cut"].doubt, seen["cool.proved"].doubt
    assert measured is not None
    assert both is not None
    assert both.standard < measured.standard
    assert abs(number(seen, "cool.proved") - number(seen, "fit.as_cut")) < measured.standard
    assert number(seen, "cool.proved_core") > number(seen, "cool.proved_fins")
    assert str(seen["cool.soft"].value).startswith("Nowhere")


def test_an_accepted_habit_does_not_hide_what_is_to_be_proved() -> None:
    """The proof rests on the fit as it was measured: a habit moves neither it nor its surprise."""
    job = told(rows(2.34, 2.34), rows(2.3379, 2.3379))
    living = living_job(job.folded)
    told_of = living.job
    pairing = pairing_of(told_of.casting.material, told_of.sleeve.material, told_of.engine.cooling)
    habit = Posterior(HABIT, pairing.key, -8e-6, 4e-6, "B-1")
    usual, moved = (
        {one.id: one for one in proved(plan(told_of, shop), told_of, job.folded, shop).answers()}
        for shop in (Shop(FEW), Shop(FEW, posteriors=(habit,)))
    )
    assert number(moved, "fit.as_cut") == pytest.approx(number(usual, "fit.as_cut") - 8e-6)
    for name in ("cool.proved", "cool.proof", "cool.expected"):
        assert number(moved, name) == pytest.approx(number(usual, name), rel=1e-9), name


def test_a_gauge_that_both_share_cancels_and_its_setting_anew_does_not() -> None:
    """The micrometer behind the gauge cancels; two settings of the gauge are root two of one."""
    anew = answers_of(told(rows(2.34, 2.34), rows(2.3379, 2.3379)))
    one_setting: dict[str, Any] = {"set_at": "2026-11-28 09:00", "set_by": "p1"}
    same = answers_of(told(rows(2.34, 2.34), rows(2.3379, 2.3379), **one_setting))
    own = 0.3 * 25.4e-6 / 1.96
    twice, once = number(anew, "cool.shared"), number(same, "cool.shared")
    assert (twice**2 - once**2) ** 0.5 == pytest.approx(2.0**0.5 * own, rel=1e-6)
    assert once < 0.3e-6  # only what warmth may be off is left


def test_a_setting_of_the_parent_bore_is_carried_into_the_proof() -> None:
    """Parent bore and sleeve from one setting: its error is in both, so they are not apart."""
    setting: dict[str, Any] = {"set_at": "2026-11-28 09:00", "set_by": "p1"}
    job = told(rows(2.34, 2.34), rows(2.3379, 2.3379))
    job.grid("again", "parent-bore", "honefit", sizes(2.6368, 4, 4),
             stations=["0.4 in", "1.3 in", "2.2 in", "3.1 in"],
             directions=["0 deg", "45 deg", "90 deg", "135 deg"], **setting)  # fmt: skip
    gauged(job, "cooled-bore", rows(2.3379, 2.3379), **setting)
    prior = answers_of(job)["cool.prior"].value
    assert isinstance(prior, Prior)
    assert prior.covariance == pytest.approx((0.3 * 25.4e-6 / 1.96) ** 2, rel=1e-6)


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ({}, {"instrument": "other gauge", "instruments": [OTHER, MIC]},
         ("gauged before with bore gauge, after with other gauge",
          "the cooled bore gauged again with bore gauge")),
        ({}, {"set_on": "setting-ring", "master": "ring 4", "nominal": "2.34 in",
              "instruments": [GAUGE, RING, MIC]},
         ("the gauge was set on mic 2-3 before and on ring 4 after", "the gauge set on mic 2-3")),
        ({}, {"stations": ["1.0 in", "2.0 in"]},
         ("the cooled bore gauged at 0.5 in, 3.0 in, at 0 deg, 90 deg",)),
        ({}, {"directions": ["45 deg", "135 deg"]},
         ("no depth was gauged before and after in the same two directions",)),
    ],
)  # fmt: skip
def test_what_differs_between_before_and_after_is_told(
    before: dict[str, Any], after: dict[str, Any], words: tuple[str, ...]
) -> None:
    """No number is given; the answer and the hold say what differs and what to gauge."""
    job = simple_job("four-stroke", until="cool")
    gauged(job, "sleeve-id", rows(2.34, 2.34), **before)
    job.value("cool.feeler", "does not enter")
    is_dialled = "set_on" in after
    cooled = [["-2.1 thou"] * 2] * 2 if is_dialled else rows(2.3379, 2.3379)
    gauged(job, "cooled-bore", cooled, **after)
    seen = answers_of(job)
    for name in ("cool.proof", "cool.proved", "cool.proved_below_least", "cool.soft"):
        assert seen[name].value is None
    assert all(part in " ".join(seen["cool.proof"].needs) for part in words)
    assert "cannot be proved" not in " ".join(seen["cool.soft"].needs)
    living = living_job(job.folded)
    shop = Shop(FEW)
    verdicts = verdicts_of(proved(plan(living.job, shop), living.job, job.folded, shop))
    lacks = hold_of("cool", job.folded, verdicts=verdicts).lacks
    (proof,) = (one for one in lacks if all(part in one.why for part in words))
    assert proof.cure == "Gauge the cooled bore as it was gauged before"


@pytest.mark.parametrize(
    ("cell", "text", "words"),
    [
        ("ready.sleeve_cut", "turned outside", "the sleeve was turned outside"),
        ("piston.bored", "yes", "the sleeve was bored to the piston"),
        ("piston.pass/1/got", "9.6 thou", "the sleeve was bored"),
        ("hone.pass/1/taken", "0.8 thou", "the sleeve was honed"),
    ],
)
def test_a_cut_on_the_sleeve_between_both_refuses_the_proof(
    cell: str, text: str, words: str
) -> None:
    """Before means after every cut; gauged again after the cut, it is before again."""
    job = simple_job("four-stroke", until="cool")
    gauged(job, "sleeve-id", rows(2.34, 2.34))
    assert cut_between(job.folded) == ""
    job.value(cell, text)
    gauged(job, "cooled-bore", rows(2.3379, 2.3379))
    assert cut_between(job.folded) == words
    assert words in " ".join(answers_of(job)["cool.proof"].needs)
    gauged(job, "sleeve-id", rows(2.34, 2.34))
    gauged(job, "cooled-bore", rows(2.3379, 2.3379))
    assert cut_between(job.folded) == ""
    assert answers_of(job)["cool.proof"].value is not None


EARLY, COOLED, LATER = (f"2026-11-24T{hour}:00:00.000Z" for hour in ("08", "12", "15"))


def keyed(job: Counting, cell: str, text: str, said: str, replaces: Sequence[str] = ()) -> Record:
    """A value as a tablet hands it in later, with when it was keyed."""
    body = {"cylinder": 1, "cell": cell, "text": text, "said": said, "replaces": list(replaces)}
    body |= read_cell(cell, text, folded=job.folded, cylinder=1).kept
    return job.tell(VALUE, body, device="other tablet")


def test_what_is_cut_after_the_cooled_bore_changes_nothing() -> None:
    """Bored and honed to the piston later: the proof stands."""
    job = told(rows(2.34, 2.34), rows(2.3379, 2.3379))
    job.value("piston.bored", "yes")
    job.value("ready.sleeve_cut", "none")
    keyed(job, "hone.pass/1/taken", "0.8 thou", LATER)
    job.grid("fin", "finish-bore", "hone", rows(2.402, 2.402), stations=TWO, directions=CROSS)
    assert cut_between(job.folded) == ""


@pytest.mark.parametrize("said", [EARLY, LATER])
def test_a_cut_on_the_sleeve_that_is_told_late_refuses_the_proof(said: str) -> None:
    """From a tablet that was offline, whatever its clock says: of the sleeve before the drop."""
    job = told(rows(2.34, 2.34), rows(2.3379, 2.3379))
    assert answers_of(job)["cool.proof"].value is not None
    keyed(job, "ready.sleeve_cut", "turned outside", said)
    needs = " ".join(answers_of(job)["cool.proof"].needs)
    assert "cannot be proved: the sleeve was turned outside (told after the cooled bore" in needs
    gauged(job, "sleeve-id", rows(2.34, 2.34))
    gauged(job, "cooled-bore", rows(2.3379, 2.3379))
    assert cut_between(job.folded) == ""


def test_boring_that_was_keyed_before_the_cooled_bore_refuses_it_however_late_it_came() -> None:
    """By when each was keyed: before the first cooled reading it counts, after it it is usual.

    The cooled bore came from a tablet that was offline: when it was received says nothing.
    """
    job = simple_job("four-stroke", until="cool")
    gauged(job, "sleeve-id", rows(2.34, 2.34))
    job.begin("closed", "cooled-bore", "cool", stations=TWO, directions=CROSS)
    for down in range(2):
        for across in range(2):
            keyed(job, f"set/closed/{down}/{across}", "2.33790 in", COOLED)
    keyed(job, "piston.pass/1/got", "9.6 thou", LATER)
    assert cut_between(job.folded) == ""
    keyed(job, "piston.bored", "yes", EARLY)
    assert cut_between(job.folded).startswith("the sleeve was bored to the piston (told after")


def test_a_pass_that_is_put_right_later_stays_the_pass_it_was() -> None:
    """Keyed between both gaugings and corrected afterwards it counts; taken back it does not."""
    job = simple_job("four-stroke", until="cool")
    gauged(job, "sleeve-id", rows(2.34, 2.34))
    first = job.value("piston.pass/1/got", "9.6 thou")
    gauged(job, "cooled-bore", rows(2.3379, 2.3379))
    right = job.value("piston.pass/1/got", "9.4 thou", replaces=[first.id])
    assert cut_between(job.folded) == "the sleeve was bored"
    gone = job.value("piston.pass/1/got", "", replaces=[right.id])
    assert cut_between(job.folded) == ""
    job.value("piston.pass/1/got", "9.4 thou", replaces=[gone.id])
    assert cut_between(job.folded) == ""


def test_depths_that_were_gauged_only_once_are_left_out() -> None:
    """Three depths before and two of them after: two are used, and the third is named."""
    job = simple_job("four-stroke", until="cool")
    gauged(job, "sleeve-id", rows(2.34, 2.34, 2.34), depths=THREE)
    gauged(job, "cooled-bore", rows(2.3379, 2.3379))
    seen = answers_of(job)
    stations = seen["cool.stations"].value
    assert isinstance(stations, StationCloseUps)
    assert list(stations.depths) == pytest.approx([0.0127, 0.0762])
    assert stations.left_out == pytest.approx((0.04572,))
    assert "1.800" in str(seen["cool.left_out"].value)


@pytest.mark.parametrize(
    ("after", "words"),
    [
        ((2.3394, 2.3379, 2.3379), "Soft at the top"),
        ((2.3379, 2.3379, 2.3394), "Soft at the bottom"),
        ((2.3379, 2.3394, 2.3379), "Soft in between"),
        ((2.33995, 2.33995, 2.33995), "Soft all over"),
        ((2.3355, 2.3355, 2.3355), "Tighter than thought"),
    ],
)
def test_where_it_is_soft_is_told_and_not_averaged_away(
    after: tuple[float, ...], words: str
) -> None:
    """Each pattern has its words, and none of them passes for good."""
    seen = answers_of(told(rows(2.34, 2.34, 2.34), rows(*after), depths=THREE))
    assert words in str(seen["cool.soft"].value)
    assert verdict(seen, "cool.proved_below_least") != "good"


def test_a_bore_that_closed_less_one_way_is_told() -> None:
    """Half as much across 90 degrees at both depths: ports, windows or a thin side."""
    after = [["2.33790 in", "2.33900 in"]] * 2
    seen = answers_of(told(rows(2.34, 2.34), after))
    assert "Closed less in one direction, across 90 degrees" in str(seen["cool.soft"].value)


def test_a_fit_that_is_surely_below_the_least_does_not_pass() -> None:
    """A bore cut to 1.8 thou of fit that closed as 1.8 does: proved, and below the least."""
    job = told(rows(2.34, 2.34), rows(2.3389, 2.3389))
    job.grid("large", "parent-bore", "honefit", sizes(2.6384, 4, 4),
             stations=["0.4 in", "1.3 in", "2.2 in", "3.1 in"],
             directions=["0 deg", "45 deg", "90 deg", "135 deg"])  # fmt: skip
    job.value("cool.feeler", "does not enter")
    job.grid("so", "stand-out", "cool", [["+2.0", "+2.1", "+2.0", "+1.9"]],
             directions=["0 deg", "90 deg", "180 deg", "270 deg"], unit="thou")  # fmt: skip
    seen = answers_of(job)
    assert verdict(seen, "cool.proof") == "good"
    assert verdict(seen, "cool.proved_below_least") == "out"
    verdicts = {"cool.seated": "good", "cool.proof": "good", "cool.proved_below_least": "out"}
    lacks = hold_of("cool", job.folded, verdicts=verdicts).lacks
    assert [one.why for one in lacks] == ["chance of less than the least fit, proved: out"]
    verdicts["cool.proved_below_least"] = "good"
    assert hold_of("cool", job.folded, verdicts=verdicts).state == MET


def test_a_flange_station_counts_only_with_a_solid_model() -> None:
    """Beside the flange plain rings do not hold; with made-up factors of a solid it agrees."""
    depths = ["0.08 in", "1.8 in", "3.0 in"]
    after = rows(2.34 - 0.74 * 0.0021, 2.3379, 2.3379)
    job = told(rows(2.34, 2.34, 2.34), after, depths=depths)
    plain = answers_of(job)
    stations = plain["cool.stations"].value
    assert isinstance(stations, StationCloseUps)
    assert stations.depths.size == 2
    assert "0.080" in str(plain["cool.left_out"].value)
    made_up = '{"depths_m": [0.002, 0.006, 0.09], "ratios": [0.45, 0.608, 0.608], "standard": 0.02}'
    solid = answers_of(job, {"made up": made_up})
    stations = solid["cool.stations"].value
    assert isinstance(stations, StationCloseUps)
    assert stations.depths.size == 3
    assert str(solid["cool.soft"].value).startswith("Nowhere")
    assert "solid" in solid["cool.ratio"].of
    assert number(solid, "cool.ratio_doubt") < number(plain, "cool.ratio_doubt")


def test_a_reading_that_was_held_back_before_leaves_no_good_proof() -> None:
    """A wild reading of the first gauging: the proof is not called good without it."""
    before = rows(2.34, 2.34, 2.34)
    before[1][1] = "2.3430 in"
    seen = answers_of(told(before, rows(2.3379, 2.3379, 2.3379), depths=THREE))
    assert seen["cool.before.held"].value
    assert verdict(seen, "cool.proof") == "too close to call"


def test_nothing_gauged_cooled_is_no_refusal() -> None:
    """Before the drop the answer says what to gauge, in plain words."""
    seen = answers_of(simple_job("four-stroke", until="cool"))
    assert seen["cool.proof"].value is None
    assert not any("cannot be proved" in one for one in seen["cool.proof"].needs)
