"""What would settle offset and lean: more places, another indicator, depths farther apart."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from scipy.stats import rice

from sleevewright.jobs.living import living_job
from sleevewright.jobs.model import Entry, Grid, Instrument
from sleevewright.planning.answers import Judgement, Plan, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.proofing import Frame, Gauged
from sleevewright.planning.setting_up import set_up
from sleevewright.planning.settling_setup import Reach, with_setup_ways
from sleevewright.planning.setup_told import SetUpSets, SetUpTold
from sleevewright.planning.shop import Shop
from sleevewright.services.plans import plan_job
from sleevewright.services.proving import proved
from swept_jobs import THOU, both, worked_plan

INCH = 0.0254
COARSE = Instrument(
    "lever 1", "indicator", resolution=Entry(0.5 * THOU, "0.5 thou"), setting=Entry(0.0, "0")
)
FINE = Instrument(
    "fine lever", "indicator", resolution=Entry(0.05 * THOU, "0.05 thou"), setting=Entry(0.0, "0")
)

BLUNT = {"name": "lever 1", "kind": "indicator", "resolution": "0.0005 in",
         "setting": "0.001 thou"}  # fmt: skip


@pytest.fixture(scope="module")
def made() -> Plan:
    """The plan of the worked job, on few samples."""
    return worked_plan()


def swept(
    made: Plan,
    moves: tuple[float, float],
    *,
    places: int = 4,
    apart: float = 2.5,
    gauge: str = "lever 1",
    lever: float = 0.0,
    fuzz: float = 0.0,
) -> Plan:
    """The plan with a set-up that is off by so many thou at the top and near the bottom.

    ``fuzz`` are thou that every second reading is off, one up, one down.
    """
    turns = [2.0 * math.pi * k / places for k in range(places)]
    share = 1.0 / math.cos(lever)

    def grid(which: str, move: float, depth: float) -> Gauged:
        read = tuple(
            Entry(share * (move * math.cos(t) + fuzz * (-1) ** k) * THOU, "read")
            for k, t in enumerate(turns)
        )
        told = Grid(
            f"sweep-{which}",
            gauge,
            stations=(Entry(depth * INCH, "depth"),),
            directions=tuple(Entry(t, "angle") for t in turns),
            readings=(read,),
        )
        return Gauged(told, (COARSE, FINE))

    sets = SetUpSets(grid("top", moves[0], 0.5), grid("bottom", moves[1], 0.5 + apart))
    words = {"lever": Entry(lever, "lever")} if lever else {}
    return with_stage(made, set_up(Frame(made), sets, SetUpTold({}, words)))


def settled(plan: Plan, name: str, reach: Reach) -> Judgement:
    """The verdict on an answer with what would settle it."""
    found = with_setup_ways(plan, reach).answer(f"setup.{name}").judgement
    assert found is not None
    return found


def verdict(plan: Plan, name: str) -> Verdict:
    """The verdict on an answer as it stands."""
    found = plan.answer(f"setup.{name}").judgement
    assert found is not None
    return found.verdict


@pytest.mark.parametrize(("off", "turns_to"), [(0.9, Verdict.GOOD), (1.12, Verdict.OUT)])
def test_the_places_that_are_named_settle_the_offset_and_fewer_do_not(
    made: Plan, off: float, turns_to: Verdict
) -> None:
    """Limit 1 thou, 0.14 thou a reading: swept anew with so many places the verdict turns."""
    told = settled(swept(made, (off, off)), "offset", Reach((COARSE,)))
    way = told.ways[0]
    places = way.readings // 2
    assert told.verdict is Verdict.TOO_CLOSE
    assert told.remedy == f"both depths swept again, {places} places each would settle it"
    assert verdict(swept(made, (off, off), places=places), "offset") is turns_to
    fewer = max(n for n in (4, 5, 6, 8, 9, 10, 12, 15, 18, 20, 24) if n < places)
    assert verdict(swept(made, (off, off), places=fewer), "offset") is Verdict.TOO_CLOSE
    # The doubt of a move is u (2 / n)^(1/2), u a step over 12^(1/2).
    reading = 0.5 * THOU / math.sqrt(12.0)
    assert way.standard == pytest.approx(reading * math.sqrt(2.0 / places), rel=1e-6)


def test_the_chance_that_the_next_sweep_settles_it_is_rices(made: Plan) -> None:
    """Second road: a next length as scipy's Rice law moves it, past the bound by the verdict."""
    plan = swept(made, (1.12, 1.12))
    way = settled(plan, "offset", Reach((COARSE,))).ways[0]
    now = plan.answer("setup.offset").doubt
    assert now is not None
    moved = math.hypot(now.standard, way.standard)
    anew = [0.001 * k for k in range(2500)]
    ends = {}
    for off in anew:
        ends[verdict_at(off, way.standard)] = off
    good, out = ends[Verdict.GOOD] * THOU, ends[Verdict.TOO_CLOSE] * THOU
    law = rice(1.12 * THOU / moved, scale=moved)
    assert way.chance == pytest.approx(law.cdf(good) + law.sf(out), abs=3e-3)


def verdict_at(off: float, standard: float) -> Verdict:
    """The verdict on an offset in thou by the two-sided rule, reckoned with scipy alone."""
    length, limit = off * THOU, 1.0 * THOU
    if rice.sf(limit / standard, length / standard) <= 0.05 and rice.cdf(
        length / standard, limit / standard
    ) <= 0.05:  # fmt: skip
        return Verdict.GOOD
    return (
        Verdict.OUT if rice.cdf(length / standard, limit / standard) > 0.95 else Verdict.TOO_CLOSE
    )


def test_another_indicator_of_the_list_settles_it_with_as_few_places(made: Plan) -> None:
    """A tenth of the step at four places: planned anew with it the offset is good."""
    told = settled(swept(made, (0.95, 0.95)), "offset", Reach((COARSE, FINE)))
    way = next(one for one in told.ways if "fine lever" in one.words)
    assert way.words == "both depths swept again with fine lever, 4 places each"
    assert verdict(swept(made, (0.95, 0.95), gauge="fine lever"), "offset") is Verdict.GOOD
    alone = settled(swept(made, (0.95, 0.95)), "offset", Reach((COARSE,)))
    assert not any("fine lever" in one.words for one in alone.ways)


def test_depths_farther_apart_settle_the_lean(made: Plan) -> None:
    """The same lean over the distance that is named is no longer too close to call."""
    plan = swept(made, (0.0, 0.3), apart=1.0)
    assert verdict(plan, "tilt") is Verdict.TOO_CLOSE
    told = settled(plan, "tilt", Reach((COARSE,), 4.0 * INCH))
    way = next(one for one in told.ways if " in apart" in one.words)
    far = float(way.words.partition("again, ")[2].partition(" in apart")[0])
    assert 1.0 < far <= 4.0
    assert "4 places each" in way.words
    anew = swept(made, (0.0, 0.3 * far), apart=far)
    assert anew.answer("setup.tilt").value == pytest.approx(plan.answer("setup.tilt").value)
    assert verdict(anew, "tilt") is not Verdict.TOO_CLOSE
    short = settled(plan, "tilt", Reach((COARSE,), 1.05 * INCH))
    assert not any(" apart" in one.words for one in short.ways)
    untold = settled(plan, "tilt", Reach((COARSE,)))
    assert all("if the bore is so long" in w.words for w in untold.ways if " apart" in w.words)


def test_more_places_settle_the_lean_too(made: Plan) -> None:
    """Planned anew with the places that are named, the same lean is told."""
    plan = swept(made, (0.0, 0.3), apart=1.0)
    way = next(
        one
        for one in settled(plan, "tilt", Reach((COARSE,), 1.0 * INCH)).ways
        if one.words.startswith("both depths swept again, ")
    )
    anew = swept(made, (0.0, 0.3), apart=1.0, places=way.readings // 2)
    assert verdict(anew, "tilt") is not Verdict.TOO_CLOSE


def test_a_steep_lever_is_laid_flat(made: Plan) -> None:
    """At 60 degrees the angle is most of the doubt: no number of places settles it, flat does."""
    steep = swept(made, (0.9, 0.9), lever=math.radians(60.0), gauge="fine lever")
    told = settled(steep, "offset", Reach((FINE,)))
    assert told.verdict is Verdict.TOO_CLOSE
    assert [one.words.partition(",")[0] for one in told.ways] == [
        "both depths swept again with the lever flat to the wall"
    ]
    assert verdict(swept(made, (0.9, 0.9), gauge="fine lever"), "offset") is Verdict.GOOD


def test_where_nothing_helps_it_says_decide(made: Plan) -> None:
    """At the limit itself no number of places tells."""
    told = settled(swept(made, (1.0, 1.0)), "offset", Reach((COARSE, FINE)))
    assert told.ways == ()
    assert told.remedy == (
        "nothing at hand would settle it: decide, or move the table and sweep again"
    )


def test_readings_that_stray_are_not_blamed_on_the_indicator(made: Plan) -> None:
    """Twelve readings that stray by 0.6 thou: another indicator is not named."""
    plan = swept(made, (0.85, 0.85), places=12, gauge="fine lever", fuzz=0.3)
    assert verdict(plan, "offset") is Verdict.TOO_CLOSE
    told = settled(plan, "offset", Reach((COARSE, FINE, replace(FINE, name="finest lever"))))
    assert not any("finest lever" in one.words for one in told.ways)
    assert told.ways
    for way in told.ways:
        anew = swept(made, (0.85, 0.85), places=way.readings // 2, gauge="fine lever", fuzz=0.3)
        assert verdict(anew, "offset") is not Verdict.TOO_CLOSE


def test_a_verdict_that_stands_is_left_alone(made: Plan) -> None:
    """Good and out ask for nothing, and a plan without a set-up stays as it is."""
    good = swept(made, (0.1, 0.1))
    assert with_setup_ways(good, Reach()) is good
    assert with_setup_ways(made, Reach()) is made


def test_from_the_records_to_the_holds_plan() -> None:
    """Told at the bench and proved: the indicator of the shop's list is named."""
    job = both((0.93, 0.0), (0.93, 0.0), instruments=[BLUNT])
    living = living_job(job.folded, 1)
    plan = plan_job(living.job)
    told = proved(plan, living.job, job.folded, Shop(instruments=(FINE,)))
    judged = told.answer("setup.offset").judgement
    assert judged is not None
    assert judged.verdict is Verdict.TOO_CLOSE
    assert any("with fine lever" in one.words for one in judged.ways)
    again = both((0.93, 0.0), (0.93, 0.0), around=tuple(range(0, 360, 90)),
                 instruments=[{**BLUNT, "resolution": "0.00005 in"}])  # fmt: skip
    turned = proved(plan, living.job, again.folded, Shop()).answer("setup.offset").judgement
    assert turned is not None
    assert turned.verdict is Verdict.GOOD
