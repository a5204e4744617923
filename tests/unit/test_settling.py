"""What would settle a verdict with the gauges of a shop, and how a verdict is told."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from benches import EXAMPLES
from sleevewright.core.uncertainty.decision import decide
from sleevewright.core.uncertainty.settle import Standing, Way, standard_after, ways_to_settle
from sleevewright.errors import InputError
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry, Grid, Instrument, Job
from sleevewright.planning.answers import Doubt, Judgement, Plan, Verdict
from sleevewright.planning.athand import Gauging
from sleevewright.planning.beside import ledger_of, with_stage
from sleevewright.planning.document import plan_document
from sleevewright.planning.judging import SHARED, against_limit, judged_with
from sleevewright.planning.plan import plan
from sleevewright.planning.proofing import Frame, Gauged
from sleevewright.planning.proofs_bores import PistonRead, finish
from sleevewright.planning.settling import with_ways
from sleevewright.planning.shop import Settings, Shop, ShopDefault
from sleevewright.planning.shown import chance_words, coverage_words

THOU = 25.4e-6
FEW = Settings(budget_samples=20_000, drop_samples=100)
RING = Instrument("ring 65", "setting-ring", setting=Entry(1e-6, "1 um"))
FINE = Instrument(
    "fine gauge",
    "dial-bore-gauge",
    resolution=Entry(1e-6, "1 um"),
    setting=Entry(2e-6, "2 um"),
    set_from="mic 2-3",
)


@pytest.fixture(scope="module")
def demo() -> Job:
    """The worked air-cooled job: its fit is 3.5 thou, u about 0.16 thou."""
    return read_job((EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8"), name="demo")


def planned(job: Job, least: float, *gauges: Instrument, guard: float | None = None) -> Plan:
    """The plan with another least, more gauges on the list, and the shop's guard band."""
    told = replace(job, choice=replace(job.choice, least=Entry(least * THOU, f"{least} thou")))
    own = () if guard is None else (ShopDefault("guard_factor", guard, f"{guard}"),)
    return plan(told, Shop(FEW, chosen=own, instruments=gauges))


def judged(made: Plan, identity: str = "fit.cold") -> Judgement:
    """The verdict on an answer."""
    found = made.answer(identity).judgement
    assert found is not None
    return found


def test_without_another_gauge_it_says_how_good_one_would_have_to_be(demo: Job) -> None:
    """The shop's one bore gauge cannot settle it, so the answer is to decide, or a better one."""
    told = judged(planned(demo, 3.35))
    assert told.verdict is Verdict.TOO_CLOSE
    assert told.ways == ()
    assert told.remedy.startswith("no gauge on the list would settle it: decide, or read it")
    assert "thou" in told.remedy


def test_a_gauge_of_the_list_that_settles_it_is_named_with_its_readings(demo: Job) -> None:
    """The fine gauge set from the sleeve's own micrometer: that error cancels in the fit."""
    told = judged(planned(demo, 3.35, FINE, RING))
    names = [one.words for one in told.ways]
    assert names[0].startswith("the bore read anew with fine gauge set from mic 2-3")
    assert told.remedy == f"{names[0]} would settle it"
    assert told.ways[0].readings >= 14
    fit = planned(demo, 3.35).answer("fit.cold")
    assert fit.doubt is not None
    gap = fit.value - 3.35 * THOU
    assert 1.645 * told.ways[0].standard <= gap < 1.645 * fit.doubt.standard
    assert 0.3 < told.ways[0].chance < 1.0


def test_the_forecast_comes_true_when_the_gauge_is_used(demo: Job) -> None:
    """Second road: planned anew with the readings as if by the fine gauge, it has that doubt."""
    told = judged(planned(demo, 3.35, FINE, RING)).ways[0]
    grids = tuple(
        replace(grid, instrument="fine gauge") if grid.feature == "parent-bore" else grid
        for grid in demo.grids
    )
    anew = planned(replace(demo, grids=grids), 3.35, FINE, RING).answer("fit.cold")
    assert anew.doubt is not None
    # Scatter is pooled with what is stated for a reading, so the two agree within a few per cent.
    assert anew.doubt.standard == pytest.approx(told.standard, rel=0.12)


def test_a_chance_that_is_too_close_is_settled_by_the_same_readings(demo: Job) -> None:
    """The chance of less than the least and the fit are one verdict told in two ways."""
    made = planned(demo, 3.35, FINE, RING)
    ways = (judged(made), judged(made, "fit.below_least"))
    assert [one.ways[0].words for one in ways] == [ways[0].ways[0].words] * 2


def test_more_readings_are_advised_where_scatter_is_what_is_in_doubt() -> None:
    """Scatter of 8 over 4 readings, 0.5 from all else: the gap of 3.29 asks for u of 2."""
    standing = Standing(3.29, math.hypot(0.5, 4.0), 0.5, (0.0,), 1.645)
    more = Way("more", 0.0, 8.0, kept=4, each=30.0)
    found = ways_to_settle(standing, [more])
    # n = 64 / (4 - 0.25) = 17.07: 18 readings, of which 4 are there already.
    assert found[0].readings == 14
    assert found[0].effort == pytest.approx(420.0)
    for readings, word in ((13, "too close to call"), (14, "good")):
        left = standard_after(untouched=0.5, way=more, readings=readings)
        assert decide(3.29, standard=left, limit=0.0, side="least").value == word


def test_the_cheapest_way_comes_first() -> None:
    """Ten minutes of readings against five for setting a ring and two readings."""
    standing = Standing(3.29, 6.0, 0.5, (0.0,), 1.645)
    slow = Way("more readings", 0.0, 8.0, each=60.0)
    quick = Way("on a ring", 1.0, 1.0, once=300.0, each=60.0)
    never = Way("a caliper", 9.0, 1.0, each=1.0)
    names = [one.name for one in ways_to_settle(standing, [slow, never, quick])]
    assert names == ["on a ring", "more readings"]


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: standard_after(untouched=0.0, way=Way("none", 0.0, 1.0), readings=0), "readings"),
        (lambda: ways_to_settle(Standing(0.0, 1.0, 0.0, (), 1.645), []), "limit"),
    ],
)
def test_nothing_to_read_and_nothing_to_hold_it_against_are_refused(
    call: Callable[[], object], field: str
) -> None:
    """The error names the field."""
    with pytest.raises(InputError) as refused:
        call()
    assert refused.value.field == field


def test_the_shops_guard_band_is_used_and_named(demo: Job) -> None:
    """Risk shared: the limit itself decides and the rule says so; at k 2 the promise is 97.7 %."""
    close = judged(planned(demo, 3.35))
    shared = judged(planned(demo, 3.35, guard=0.0))
    wide = judged(planned(demo, 3.2, guard=2.0))
    assert close.rule == "guard band 1.645 u, one-sided 95 % (ISO 14253-1)"
    assert (shared.verdict, shared.rule) == (Verdict.GOOD, SHARED)
    assert wide.verdict is Verdict.TOO_CLOSE
    assert wide.rule == "guard band 2 u, one-sided 97.7 % (ISO 14253-1, set by the shop)"
    assert shared.chance_out == close.chance_out


def test_answers_beside_the_plan_keep_the_shops_guard_band(demo: Job) -> None:
    """A ledger beside the plan finds what the shop has set."""
    made = planned(demo, 2.6, guard=0.0)
    assert ledger_of(made).default("guard_factor").value == 0.0


def test_few_degrees_of_freedom_widen_the_band_and_are_named() -> None:
    """Five degrees of freedom: 2.015 u (JCGM 100:2008, table G.2), not 1.645."""
    judge = against_limit(0.0, "least", remedy="read it again")
    doubt = Doubt(1.0, -2.0, 2.0, 0.95, "linear", degrees_of_freedom=5.2)
    told = judged_with(judge, 1.9, doubt)
    assert told.verdict is Verdict.TOO_CLOSE
    assert told.rule == "guard band 2.02 u, one-sided 95 % at 5 degrees of freedom (ISO 14253-1)"
    assert judged_with(judge, 1.9, replace(doubt, degrees_of_freedom=None)).verdict is Verdict.GOOD
    assert judged_with(judge, 1.9, None).chance_out is None


@pytest.mark.parametrize(
    ("verdict", "chance", "words"),
    [
        (Verdict.GOOD, 0.031, "3 % chance that it is out"),
        (Verdict.GOOD, 0.0042, "0.4 % chance that it is out"),
        (Verdict.GOOD, 1e-7, "less than 0.1 % chance that it is out"),
        (Verdict.TOO_CLOSE, 0.412, "41 % chance that it is out"),
        (Verdict.OUT, 0.97, "3 % chance that it is within after all"),
        (Verdict.OUT, 1.0, "less than 0.1 % chance that it is within after all"),
        (Verdict.GOOD, None, ""),
    ],
)
def test_the_chance_of_being_wrong_in_words(
    verdict: Verdict, chance: float | None, words: str
) -> None:
    """Never nought and never certain; nothing where nothing was in doubt."""
    assert chance_words(Judgement(verdict, 0.0, "least", "test", "", chance)) == words


def test_a_doubt_tells_its_u_its_k_and_what_it_holds(demo: Job) -> None:
    """The cold fit's interval is its k times its u; few degrees of freedom are told with it."""
    fit = planned(demo, 2.6).answer("fit.cold")
    doubt = fit.doubt
    assert doubt is not None
    factor = (doubt.high - doubt.low) / 2.0 / doubt.standard
    words = coverage_words(fit, system="inch")
    assert words == f"u 0.2 thou, k {factor:.2f}, holds 95 %, 20000 draws"
    # Student's t at 6 degrees of freedom, two-sided 95 %: 2.45 (JCGM 100:2008, table G.2).
    half = 2.4469 * THOU
    few = Doubt(THOU, -half, half, 0.95, "linear", degrees_of_freedom=6.4)
    told = coverage_words(replace(fit, doubt=few), system="inch")
    assert told == "u 1.0 thou, k 2.45 at 6 degrees of freedom, holds 95 %"
    assert coverage_words(replace(fit, doubt=None), system="inch") == ""


def test_the_document_carries_chance_and_ways(demo: Job) -> None:
    """What a page shows of a verdict stands in the document too, as plain JSON."""
    made = planned(demo, 3.35, FINE, RING)
    document = json.loads(json.dumps(plan_document(made)))
    leaf = next(
        one for stage in document["stages"] for one in stage["answers"] if one["id"] == "fit.cold"
    )
    told = leaf["judgement"]
    assert told["chance_out_1"] == judged(made).chance_out
    assert told["chance"] == chance_words(judged(made))
    assert told["ways"][0]["readings_1"] == judged(made).ways[0].readings


def test_every_gauged_answer_says_where_its_doubt_comes_from(demo: Job) -> None:
    """Sizes, forms and fit of the worked job each have at least one named contributor."""
    made = planned(demo, 2.6)
    for name in (
        "sleeve.od", "sleeve.od.taper", "sleeve.od.out_of_round", "bore.size", "bore.taper",
        "bore.out_of_round", "flange.od", "flange.thickness", "fit.cold", "fit.flange",
    ):  # fmt: skip
        doubt = made.answer(name).doubt
        if name == "fit.flange" and doubt is None:
            continue  # chosen, until the counterbore is cut
        assert doubt is not None, name
        assert doubt.contributors, name
        assert all(one.label and one.standard > 0.0 for one in doubt.contributors), name


def test_a_deviation_is_what_a_remedy_is_told_in(demo: Job) -> None:
    """In millimetres the same advice speaks of microns."""
    told = judged(planned(replace(demo, units="metric"), 3.35))
    assert "µm" in told.remedy


def test_a_clearance_that_is_too_close_is_settled_by_its_own_gauge(demo: Job) -> None:
    """Four readings of the finished bore scatter by 0.1 thou; a fine gauge would settle it."""
    made = planned(demo, 2.6)
    inch = 0.0254
    read = ((2.40185, 2.40195), (2.40195, 2.40185))
    grid = Grid(
        "finish-bore",
        instrument="bore gauge",
        stations=tuple(Entry(depth * inch, f"{depth} in") for depth in (0.5, 2.9)),
        directions=tuple(Entry(angle, f"{angle}") for angle in (0.0, math.pi / 2.0)),
        readings=tuple(tuple(Entry(one * inch, f"{one}") for one in row) for row in read),
    )
    piston = PistonRead(Entry(2.3992 * inch, "2.3992 in"), Entry(2.45 * THOU, "2.45 thou"))
    finished = finish(Frame(made), Gauged(grid, demo.instruments), piston)
    sets = {"finish-bore": Gauging(grid, (*demo.instruments, FINE, RING))}
    told = judged(with_ways(with_stage(made, finished), sets), "finish.clearance")
    assert told.verdict is Verdict.TOO_CLOSE
    assert "the finished bore read anew with fine gauge set from ring 65" in told.remedy
    # Asked once more, what was found stands.
    again = with_ways(with_ways(with_stage(made, finished), sets), sets)
    assert judged(again, "finish.clearance") == told


def test_a_feature_that_was_not_read_keeps_its_advice(demo: Job) -> None:
    """Nothing is invented of a set that the caller does not hand in."""
    made = planned(demo, 3.35, FINE)
    assert with_ways(made, {}) is made


def test_zeroing_on_the_sleeve_itself_is_thought_of(demo: Job) -> None:
    """Second road: planned anew as if zeroed on the sleeve, the fit has the doubt foretold."""
    steady = Instrument(
        "bore gauge",
        "dial-bore-gauge",
        resolution=Entry(2.54e-6, "0.0001 in"),
        setting=Entry(2e-6, "2 um"),
        set_from="mic 2-3",
    )
    gauges = (steady, *(one for one in demo.instruments if one.name != "bore gauge"))
    job = replace(demo, instruments=gauges)
    bore = next(one for one in job.grids if one.feature == "parent-bore")
    coarse = replace(bore, instrument="mic 0-1")
    far = replace(job, grids=tuple(coarse if one is bore else one for one in job.grids))
    ways = judged(planned(far, 3.325)).ways
    told = next(one for one in ways if "bore gauge zeroed on this sleeve" in one.words)
    size = planned(job, 2.6).answer("sleeve.od").value
    zeroed = replace(bore, set_on="sleeve", nominal=Entry(size, "the sleeve"))
    near = replace(job, grids=tuple(zeroed if one is bore else one for one in job.grids))
    anew = planned(near, 3.325).answer("fit.cold")
    assert anew.doubt is not None
    # The sleeve's own temperatures leave the fit too, which the forecast does not count on.
    assert anew.doubt.standard == pytest.approx(told.standard, rel=0.12)
