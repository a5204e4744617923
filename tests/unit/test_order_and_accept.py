"""What to order, what arrived: sums by hand and facts of the trade (common practice)."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sleevewright.core.fits.acceptance import TOO_TIGHT, Arrived, arrival_word
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry, Grid, Job
from sleevewright.jobs.pastjobs import pairing_of
from sleevewright.planning.accepting import Arrival, accepting, with_sleeve_judged
from sleevewright.planning.answers import Plan, StageAnswers, Verdict
from sleevewright.planning.habit import HABIT
from sleevewright.planning.ordering import (
    NEVER_BY_THE_BOOK,
    OF_BLANKS,
    OF_READY_PORTS,
    Ordering,
    order_lines,
    ordering,
)
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Posterior, Settings, Shop

INCH = 0.0254
THOU = 1e-3 * INCH
EXAMPLES = Path(__file__).parents[2] / "examples"
FEW = Shop(settings=Settings(budget_samples=4_000, drop_samples=100))
SOUND = Arrived("sound", "good", "good", "good", "good", "not read")


def entry(inches: float, kind: str = "chosen") -> Entry:
    """A size in inches."""
    return Entry(inches * INCH, f"{inches} in", kind)


@pytest.fixture(scope="module")
def air() -> Job:
    """The air-cooled worked job, its parent bore gauged."""
    text = (EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8")
    return read_job(text, name="demo")


@pytest.fixture(scope="module")
def cut(air: Job) -> Plan:
    """Its plan, with sleeve and bore in hand."""
    return with_sleeve_judged(plan(air, FEW))


@pytest.fixture(scope="module")
def before(air: Job) -> Plan:
    """Its plan before a sleeve is in hand or a bore is cut; no fit was told."""
    kept = tuple(grid for grid in air.grids if grid.feature == "as-found-bore")
    bare = replace(air, grids=kept, choice=replace(air.choice, wanted=None, least=None))
    return plan(bare, FEW)


def said(stage: StageAnswers, identity: str) -> Any:
    """The answer of a stage with this id."""
    return next(answer for answer in stage.answers if answer.id == identity)


def number(stage: StageAnswers, identity: str) -> float:
    """The value of an answer that has to be a number."""
    value = said(stage, identity).value
    assert isinstance(value, float), identity
    return value


def shifted(job: Job, feature: str, by: float) -> Job:
    """The job with every reading of a feature shifted."""

    def moved(one: Entry | None) -> Entry | None:
        return None if one is None else replace(one, value=one.value + by)

    def grid(one: Grid) -> Grid:
        rows = tuple(tuple(moved(cell) for cell in row) for row in one.readings)
        return replace(one, readings=rows) if one.feature == feature else one

    return replace(job, grids=tuple(grid(one) for one in job.grids))


def test_the_outside_is_the_planned_bore_and_the_fit_by_the_inch(before: Plan) -> None:
    """Bore 2.700 in and 1.3 thou by the inch: 2.70351 in; a blank has 20 thou more."""
    told = Ordering(bore=entry(2.7))
    assert number(ordering(before, told), "order.od") == pytest.approx(2.70351 * INCH, abs=1e-9)
    blank = ordering(before, replace(told, form="blank"))
    assert number(blank, "order.od") == pytest.approx(2.72351 * INCH, abs=1e-9)
    assert number(blank, "order.od_finished") == pytest.approx(2.70351 * INCH, abs=1e-9)
    assert OF_BLANKS in blank.advice


def test_a_bore_that_is_cut_goes_before_one_that_was_planned(cut: Plan) -> None:
    """The order follows the gauge, with its doubt; the fit is the one that was told."""
    stage = ordering(cut, Ordering(bore=entry(2.7)))
    bore, wanted = cut.answer("bore.size"), cut.answer("fit.wanted").value
    assert number(stage, "order.bore") == bore.value
    assert number(stage, "order.od") == pytest.approx(bore.value + wanted, abs=1e-9)
    assert bore.doubt is not None
    assert said(stage, "order.od").doubt.standard == pytest.approx(bore.doubt.standard, rel=0.05)


def test_without_a_planned_bore_a_usual_wall_stands_in_and_says_so(before: Plan) -> None:
    """Finished bore and twice 0.110 in of wall; the answer says what would change it."""
    stage = ordering(before, Ordering())
    finished = before.answer("finish.bore").value
    assert number(stage, "order.bore") == pytest.approx(finished + 0.220 * INCH, abs=1e-9)
    assert "planned" in said(stage, "order.bore").would_change
    assert said(stage, "order.usual_wall").kind.value == "assumed"


def test_the_inside_leaves_the_larger_of_rule_and_need(before: Plan) -> None:
    """Twice 1 thou of centring and 3 thou of hone are 5 thou: the 20 thou of the rule binds."""
    stage = ordering(before, Ordering(bore=entry(2.7)))
    finished = before.answer("finish.bore").value
    assert number(stage, "order.stock_needed") == pytest.approx(5.0 * THOU, abs=1e-12)
    assert number(stage, "order.id") == pytest.approx(finished - 20.0 * THOU, abs=1e-9)
    wall = 0.5 * (number(stage, "order.od_finished") - finished)
    assert number(stage, "order.wall") == pytest.approx(wall, abs=1e-12)


def test_too_thin_a_wall_is_out_before_anything_is_ordered(before: Plan) -> None:
    """A planned bore that leaves 0.040 in of iron does not pass the shop's 0.060 in."""
    finished = before.answer("finish.bore").value / INCH
    stage = ordering(before, Ordering(bore=entry(finished + 0.078)))
    judgement = said(stage, "order.wall").judgement
    assert judgement.verdict is Verdict.OUT
    assert "larger parent bore" in judgement.remedy


def test_length_and_flange_come_as_told_and_what_is_missing_says_so(before: Plan) -> None:
    """4.000 in needs 20 thou to face; a plain sleeve has no flange; no length, no figure."""
    told = Ordering(bore=entry(2.7), length=entry(4.0), flange_diameter=entry(2.9))
    stage = ordering(before, told)
    assert number(stage, "order.length") == pytest.approx(4.020 * INCH, abs=1e-9)
    assert number(stage, "order.flange_od") == pytest.approx(2.9 * INCH)
    assert number(stage, "order.flange_thickness") == pytest.approx(0.2 * INCH)
    plain = ordering(before, replace(told, is_flanged=False, length=None))
    assert not any(one.id.startswith("order.flange") for one in plain.answers)
    assert said(plain, "order.length").value is None
    assert "length" in said(plain, "order.length").needs[0]


def test_the_order_can_be_read_out_line_by_line(before: Plan) -> None:
    """Each line has its unit and sense; what is assumed and what is missing is marked."""
    told = Ordering(bore=entry(2.7), ports="ready", is_ported=True)
    lines = order_lines(before, ordering(before, told))
    assert "(invented)" in lines[0]
    assert "outside: 2.7035 in, diametral" in lines
    assert "outside, spread at most: 1.0 thou, diametral, assumed" in lines
    assert "length over all: not known; give length over all that is needed" in lines
    assert lines[-2:] == (NEVER_BY_THE_BOOK, OF_READY_PORTS)


def test_a_good_sleeve_is_accepted_once_it_was_tapped(cut: Plan) -> None:
    """The demo's sleeve is good in every item; without a tap nobody knows of a crack."""
    untried = accepting(cut, Arrival())
    assert said(untried, "sleeve.accept.word").value == "tap it first: a crack sounds dull"
    sound = accepting(cut, Arrival(rings=True))
    assert said(sound, "sleeve.accept.word").value == "accept"
    for identity in ("sleeve.accept.spread", "sleeve.accept.flange_spread"):
        assert said(sound, identity).judgement.verdict is Verdict.GOOD, identity
    assert cut.answer("sleeve.od.taper").judgement is not None
    cracked = accepting(cut, Arrival(rings=True, crack_seen=True))
    assert said(cracked, "sleeve.accept.word").value == "send back: cracked"


def test_nothing_is_said_of_a_sleeve_that_is_not_here(before: Plan) -> None:
    """Before the readings there is no word."""
    assert accepting(before, Arrival(rings=True)).answers == ()


@pytest.mark.parametrize(
    ("by", "word"),
    [
        (-2.0, "send back: too small for the bore that is cut; see which outside serves"),
        (20.0, "turn: larger than the bore that is cut wants"),
    ],
)
def test_a_wrong_outside_for_the_cut_bore_goes_back_or_to_the_lathe(
    air: Job, by: float, word: str
) -> None:
    """2 thou too small has less than the least; 20 thou too large is stock, as a blank has."""
    found = with_sleeve_judged(plan(shifted(air, "sleeve-od", by * THOU), FEW))
    stage = accepting(found, Arrival(rings=True))
    assert said(stage, "sleeve.accept.word").value == word
    bore, wanted = found.answer("bore.size").value, found.answer("fit.wanted").value
    assert number(stage, "sleeve.accept.turn_to") == pytest.approx(bore + wanted, abs=1e-9)
    off = found.answer("sleeve.od").value - bore - wanted
    assert number(stage, "sleeve.accept.turn_off") == pytest.approx(off, abs=1e-9)


@pytest.mark.parametrize(
    ("by", "verdict", "word"),
    [
        (105e-6, Verdict.OUT, TOO_TIGHT),
        (76e-6, Verdict.TOO_CLOSE, "read again, too close to call: fit"),
    ],
)
def test_a_fit_that_the_parts_do_not_bear_is_not_accepted_because_it_was_wanted(
    air: Job, by: float, verdict: Verdict, word: str
) -> None:
    """The casting yields at a fit of 166 um: one of 195 um is out, one of 165 um too close."""
    fit = 89.3e-6 + by
    choice = replace(air.choice, wanted=Entry(fit, "as measured", "chosen"))
    found = with_sleeve_judged(plan(replace(shifted(air, "sleeve-od", by), choice=choice), FEW))
    stage = accepting(found, Arrival(rings=True))
    assert number(stage, "sleeve.accept.turn_off") == pytest.approx(0.0, abs=0.5e-6)
    assert number(stage, "sleeve.accept.fit") == pytest.approx(fit, abs=0.5e-6)
    judged = said(stage, "sleeve.accept.fit").judgement
    assert (judged.verdict, judged.side) == (verdict, "most")
    assert "lighter fit" in judged.remedy
    assert said(stage, "sleeve.accept.word").value == word


@pytest.mark.parametrize(("habit", "verdict"), [(-17e-6, Verdict.TOO_CLOSE), (-35e-6, Verdict.OUT)])
def test_the_least_is_held_against_the_fit_to_expect(
    air: Job, habit: float, verdict: Verdict
) -> None:
    """A fit of 89 um is good for a least of 66 um, but not where 17 um or 35 um less comes out."""
    key = pairing_of(air.casting.material, air.sleeve.material, air.engine.cooling).key
    learned = (Posterior(HABIT, key, habit, 2e-6, "B-1"),)
    found = with_sleeve_judged(plan(air, replace(FEW, posteriors=learned)))
    stage = accepting(found, Arrival(rings=True))
    assert number(stage, "sleeve.accept.fit") == found.answer("fit.cold").value
    assert said(stage, "sleeve.accept.fit").judgement.verdict is verdict
    assert found.answer("fit.cold").judgement.verdict is verdict
    assert said(stage, "sleeve.accept.word").value != "accept"


def test_an_oval_sleeve_conforms_and_a_tapered_one_does_not(air: Job) -> None:
    """Half a thou of oval is accepted and said to be; 2 thou of taper is not true enough."""

    def bent(along: float, around: float) -> Plan:
        def row(one: tuple[Entry | None, ...], depth: int) -> tuple[Entry | None, ...]:
            return tuple(
                cell and replace(cell, value=cell.value + along * depth * THOU
                                 + around * (0.5, 0.0, -0.5, 0.0)[turn] * THOU)
                for turn, cell in enumerate(one)
            )  # fmt: skip

        def grid(one: Grid) -> Grid:
            if one.feature != "sleeve-od":
                return one
            return replace(one, readings=tuple(row(r, d) for d, r in enumerate(one.readings)))

        job = replace(air, grids=tuple(grid(one) for one in air.grids))
        return with_sleeve_judged(plan(job, FEW))

    oval = accepting(bent(0.0, 0.45), Arrival(rings=True))
    assert said(oval, "sleeve.accept.spread").judgement.verdict is Verdict.GOOD
    assert any("conforms" in text for text in oval.advice)
    tapered = accepting(bent(0.8, 0.0), Arrival(rings=True))
    assert said(tapered, "sleeve.accept.word").value == "send back: outside not true enough"


def test_how_far_the_outside_lies_off_the_order_is_said(air: Job) -> None:
    """Before the bore is cut: gauged less ordered, and no verdict, as the bore follows it."""
    uncut = replace(air, grids=tuple(g for g in air.grids if g.feature != "parent-bore"))
    found = with_sleeve_judged(plan(uncut, FEW))
    order = ordering(found, Ordering(bore=entry(2.634)))
    stage = accepting(found, Arrival(rings=True), order)
    off = found.answer("sleeve.od").value - number(order, "order.od")
    assert number(stage, "sleeve.accept.off_order") == pytest.approx(off, abs=1e-9)
    assert said(stage, "sleeve.accept.off_order").judgement is None
    assert said(stage, "sleeve.accept.word").value == "accept"
    unplanned = accepting(found, Arrival(rings=True), ordering(found, Ordering()))
    assert not any(one.id == "sleeve.accept.off_order" for one in unplanned.answers)


def test_a_short_sleeve_is_out(cut: Plan) -> None:
    """10 thou short of what is needed cannot be mended."""
    stage = accepting(cut, Arrival(overall=entry(3.99), length_needed=entry(4.0)))
    assert said(stage, "sleeve.accept.length").judgement.verdict is Verdict.OUT


@pytest.mark.parametrize(
    ("changes", "word"),
    [
        ({}, "accept"),
        ({"wall": "out"}, "send back: too thin a wall when it is finished"),
        ({"bore": "out"}, "send back: its bore is too large to clean up"),
        ({"outside": "out", "has_stock": True}, "turn: outside not true enough"),
        ({"outside": "out", "is_blank": True}, "turn: outside not true enough"),
        ({"flange": "out", "is_blank": True}, "send back: flange not true enough"),
        ({"flange": "out"}, "send back: flange not true enough"),
        ({"outside": "not read"}, "read first: outside"),
        ({"wall": "too close to call"}, "read again, too close to call: wall"),
        ({"fit": "too close to call"}, "read again, too close to call: fit"),
        ({"fit": "out"}, "send back: too small for the bore that is cut; see which outside serves"),
        ({"fit": "out", "is_too_tight": True}, TOO_TIGHT),
        ({"crack": "cracked", "wall": "out"}, "send back: cracked"),
    ],
)
def test_the_worst_item_decides(changes: dict[str, Any], word: str) -> None:
    """One word on the whole, and the reason for it."""
    assert arrival_word(arrived=replace(SOUND, **changes)) == word
