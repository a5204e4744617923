"""The concentricity chain beside a plan: what is told of it, and what stands for the rest."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from benches import EXAMPLES
from sleevewright.core.cutting.concentric import RAYLEIGH_95
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import (
    Answer,
    Kind,
    Plan,
    Quantity,
    StageAnswers,
    Verdict,
)
from sleevewright.planning.beside import with_stage
from sleevewright.planning.concentric import ChainTold, concentric
from sleevewright.planning.plan import plan
from sleevewright.planning.proofing import Frame
from sleevewright.planning.proofs import parent_form
from sleevewright.planning.shop import Settings, Shop, ShopDefault
from sleevewright.services.centring import centring_of
from told_jobs import Teller

THOU = 25.4e-6


@pytest.fixture(scope="module")
def made() -> Plan:
    """The plan of the worked air-cooled job, on few samples."""
    text = (EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8")
    return plan(read_job(text, name="demo"), Shop(Settings(budget_samples=4000, drop_samples=100)))


def thou(value: float, kind: str = "measured") -> Entry:
    """A length as it is keyed."""
    return Entry(value * THOU, f"{value} thou", kind)


def swept(made: Plan, offset: float) -> Plan:
    """The plan with the set-up swept, so many thou off and nothing in doubt."""
    answer = Answer(
        "setup.offset", "Centre off the spindle", offset * THOU, Quantity.DEVIATION, Kind.COMPUTED
    )
    return with_stage(made, StageAnswers("setup", "Set-up", (answer,)))


def said(stage: StageAnswers, identity: str) -> Any:
    """The answer of a stage with this id."""
    return next(answer for answer in stage.answers if answer.id == identity)


EXACT = Entry(0.0, "0 thou", "measured", doubt=0.0)


def test_nothing_missed_leaves_the_plain_wall(made: Plan) -> None:
    """Conservation: an even wall, no move: half of outside less bore, and nothing off."""
    stage = concentric(Frame(made), ChainTold(EXACT, moves=Entry(0.0, "0"), left=EXACT))
    outside, bore = (made.answer(one).value for one in ("sleeve.od", "finish.bore"))
    assert said(stage, "chain.off_sleeve").value == 0.0
    assert said(stage, "chain.wall").value == pytest.approx(0.5 * (outside - bore), rel=1e-12)
    assert said(stage, "chain.thin").judgement.verdict is Verdict.GOOD


def test_where_nothing_was_told_the_assumptions_say_so(made: Plan) -> None:
    """Wall, moves and what a centring leaves are assumed, each with its source and its kind."""
    stage = concentric(Frame(made), ChainTold())
    for name in ("chain.variation", "chain.moves", "chain.recentring"):
        assert said(stage, name).kind is Kind.ASSUMED
        assert said(stage, name).source == "practice"
    off = said(stage, "chain.off_sleeve").value
    # Rayleigh's 1 thou of one centring and a run-out of 1 thou: more than either, less than both.
    assert 1.0 * THOU < off < 2.5 * THOU
    even = said(stage, "chain.even_wall").value
    assert said(stage, "chain.wall").value == pytest.approx(even - off, rel=1e-9)


def test_one_centring_without_run_out_is_what_the_setting_says(made: Plan) -> None:
    """1 thou 19 times in 20, and twice as much after four moves (Rayleigh's law)."""
    for moves, at_most in ((1.0, 1.0), (4.0, 2.0)):
        told = ChainTold(EXACT, moves=Entry(moves, f"{moves}"))
        off = said(concentric(Frame(made), told), "chain.off_sleeve").value
        assert off == pytest.approx(at_most * THOU, rel=1e-6)


def test_a_sweep_that_was_told_stands_in_the_place_of_a_guess(made: Plan) -> None:
    """0.2 thou left as read: what the indicator may be off is all that is not known."""
    told = ChainTold(EXACT, left=replace(thou(0.2), doubt=0.1 * THOU))
    stage = concentric(Frame(made), told)
    assert said(stage, "chain.spread").value == 0.0
    assert 0.2 * THOU < said(stage, "chain.off_sleeve").value < 0.35 * THOU


def test_the_sleeves_bore_carries_its_run_out_and_the_datum_does_not(made: Plan) -> None:
    """Swept on the datum, what was left at the set-up of the parent bore counts instead."""
    frame = Frame(swept(made, 0.5))
    sleeve = ChainTold(replace(thou(8.0), doubt=0.0), moves=Entry(0.0, "0"))
    by_sleeve = concentric(frame, sleeve)
    by_datum = concentric(frame, replace(sleeve, centred_by_datum=True))
    assert said(by_sleeve, "chain.off_sleeve").value == pytest.approx(4.0 * THOU, rel=1e-9)
    assert said(by_datum, "chain.off_sleeve").value == pytest.approx(0.5 * THOU, rel=1e-9)
    assert said(by_datum, "chain.off_datum").value == 0.0
    # Off the datum the run-out and the set-up's offset add, at any angle to each other.
    assert 4.0 * THOU < said(by_sleeve, "chain.off_datum").value < 4.5 * THOU


def test_by_the_datum_the_set_up_has_to_be_swept(made: Plan) -> None:
    """Without it the answer is blank and says what to give."""
    stage = concentric(Frame(made), ChainTold(centred_by_datum=True))
    assert said(stage, "chain.wall").value is None
    assert said(stage, "chain.wall").needs == ("the set-up, swept",)


def test_a_wall_that_is_too_thin_somewhere_is_told_by_its_chance(made: Plan) -> None:
    """A least of what is left all but 1 thou: a bore off by up to 2.2 thou is not good."""
    even = said(concentric(Frame(made), ChainTold()), "chain.even_wall").value
    for over, verdict in ((-3.0, Verdict.GOOD), (-1.0, Verdict.TOO_CLOSE), (3.0, Verdict.OUT)):
        chosen = (ShopDefault("least_sleeve_wall", even + over * THOU, "told"),)
        thin = said(concentric(Frame(made, chosen), ChainTold()), "chain.thin")
        assert thin.judgement.verdict is verdict
        assert (verdict is Verdict.GOOD) is (thin.judgement.remedy == "")


def test_a_counterbore_set_up_again_takes_room_from_a_loose_flange(made: Plan) -> None:
    """4 thou of clearance are 2 all round; one centring takes up to 1 of them."""
    fit = replace(made.answer("fit.flange"), value=-4.0 * THOU, doubt=None)
    stages = tuple(
        replace(one, answers=tuple(fit if a.id == fit.id else a for a in one.answers))
        for one in made.stages
    )
    loose = replace(made, stages=stages, _index={})
    stage = concentric(Frame(loose), ChainTold(counterbore_again=True))
    assert said(stage, "chain.off_counterbore").value == pytest.approx(1.0 * THOU, rel=1e-6)
    assert said(stage, "chain.room_left").value == pytest.approx(1.0 * THOU, rel=1e-6)
    plain = concentric(Frame(loose), ChainTold())
    assert not any(one.id == "chain.room_left" for one in plain.answers)


def test_a_tight_flange_in_a_counterbore_off_centre_is_cautioned(made: Plan) -> None:
    """The worked flange is tight: it is told what a second setting does to it."""
    stage = concentric(Frame(made), ChainTold(counterbore_again=True))
    assert [one.code for one in stage.cautions] == ["off-centre:counterbore.chain"]


def test_what_is_told_in_cells_reaches_the_chain() -> None:
    """Cells of sleeve, counterbore and piston, as they are keyed."""
    job = Teller()
    job.value("sleeve.wall_variation", "3 thou")
    job.value("piston.centred_by", "the datum")
    job.value("piston.moves", "2")
    job.value("piston.off", "0.3 thou")
    job.value("counterbore.setting", "set up again")
    told = centring_of(job.folded)
    assert told.variation is not None
    assert told.variation.value == pytest.approx(3.0 * THOU)
    assert told.moves is not None
    assert told.moves.value == 2.0
    assert told.left is not None
    assert told.left.value == pytest.approx(0.3 * THOU, abs=1e-9)
    assert (told.centred_by_datum, told.counterbore_again) == (True, True)


def test_the_risks_over_all_bores_are_those_of_the_rule_in_use(made: Plan) -> None:
    """Too large and passed: never more than bores that are too large, whatever the gauge."""
    stage = parent_form(Frame(made))
    consumer, producer = (said(stage, f"bore.{one}_risk") for one in ("consumer", "producer"))
    spread = said(stage, "bore.process_spread")
    assert spread.kind is Kind.ASSUMED
    assert spread.value == pytest.approx(0.5 * 0.3 * THOU)
    # Half of the band is two spreads: 2.275 % of such bores are too large (normal table).
    assert 0.0 < consumer.value < 0.02275
    assert 0.0 < producer.value < 1.0
    shared = parent_form(Frame(made, (ShopDefault("guard_factor", 0.0, "0"),)))
    assert said(shared, "bore.consumer_risk").value > consumer.value
    assert said(shared, "bore.producer_risk").value < producer.value


def test_the_radius_of_a_centring_is_rayleighs() -> None:
    """2.4477 spreads hold 95 % (Rayleigh's law, from its formula)."""
    assert math.exp(-0.5 * RAYLEIGH_95**2) == pytest.approx(0.05, rel=1e-12)
