"""Stages Parent bore and Bore to piston: what the next pass is asked, and whether there is one.

The record of passes (asked and taken) teaches what this bar takes; the newest size says where
the bore stands; the target is the plan's.  All are diametral at 20 degC unless said radial.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import cast

from sleevewright.core.cutting.closing_in import (
    NextCut,
    ShopCut,
    asked_next,
    bore_after,
    chance_beyond,
    chance_inside,
    next_cut,
)
from sleevewright.core.cutting.dialled import dialled_cut
from sleevewright.core.cutting.head_dial import HeadDial
from sleevewright.core.cutting.ladder import Depths
from sleevewright.core.cutting.next_cut import DRAWS, BoreLimits, BoreRead
from sleevewright.core.cutting.pass_doubts import LESS, MORE, TWICE, Pass, doubts_of, overtaken
from sleevewright.core.cutting.passes import CutState, pass_variance, state_after
from sleevewright.errors import InputError
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, ledger_of
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.next_cut_said import Found, Said, say_next, say_nothing, say_stop

Q = Quantity
MIDDLE_NINETY = 0.90


@dataclass(frozen=True)
class PassesTold:
    """What was told of the passes of one stage."""

    stage: str  # key of the stage, as parent
    title: str
    of: str  # what its answers begin with: bore or finish
    target: str  # answer that is bored to
    size: float | None  # the bore as it stands, at 20 degC
    standard: float  # its standard uncertainty
    size_from: str  # in words
    passes: tuple[Pass, ...]  # asked and taken, in order
    is_iron: bool
    ungauged: tuple[str, ...] = ()  # passes asked since the size, of which nobody knows the take
    stop: str = ""  # why no order is given, whatever the passes say
    gauged_after: frozenset[str] = frozenset()  # passes after which the bore was gauged again
    high: str = ""  # answer that the bore must not pass; else the target with the tolerance


@dataclass(frozen=True)
class Rungs:
    """What the ladder of passes is drawn from."""

    passes: tuple[Pass, ...]
    stands: float
    doubt: tuple[float, float]  # nine times in ten the bore lies between
    limits: BoreLimits
    found: NextCut


def settings_of(ledger: Ledger, *, is_iron: bool, seed: int) -> tuple[ShopCut, CutState, HeadDial]:
    """How this shop cuts, what it believes of its bar, and how its head is marked."""
    if is_iron:
        rough = ledger.default("cut_rough_iron").value
    else:
        rough = ledger.default("cut_rough_aluminium").value
    depths = Depths(
        2.0 * rough,
        2.0 * ledger.default("cut_semi").value,
        2.0 * ledger.default("cut_finish").value,
        2.0 * ledger.default("cut_least").value,
    )
    shop = ShopCut(
        depths,
        ledger.default("cut_repeat").value,
        ledger.default("cut_risk").value,
        seed,
        ledger.default("cut_gain").value,
    )
    share, offset = ledger.default("cut_share"), ledger.default("cut_offset")
    prior = CutState(share.value, offset.value, share.doubt**2, 0.0, offset.doubt**2)
    head = HeadDial(
        ledger.default("head_reads").value == 0.0,
        ledger.default("head_graduation").value,
        ledger.default("head_counts").value == 0.0,
        ledger.default("head_backlash").value,
    )
    return shop, prior, head


def next_cut_stage(plan: Plan, told: PassesTold) -> StageAnswers:
    """The next pass of one stage, its chances, the passes after it, and what to dial."""
    ledger = ledger_of(plan)
    said = Said(plan.units, told.of)
    shop, prior, head = settings_of(ledger, is_iron=told.is_iron, seed=plan.seed)
    lacks = _lacking(ledger, plan, told)
    if lacks:
        say_nothing(ledger, told.of, lacks)
        if told.stop:
            say_stop(ledger, said, told.stop)
        return beside(plan, told.stage, told.title, ledger.result())
    cut, good = _learn(ledger, told, shop, prior, said)
    read = _read(ledger, told)
    if stop := told.stop or _in_doubt(told, shop, prior, ledger):
        say_stop(ledger, said, stop)
        return beside(plan, told.stage, told.title, ledger.result())
    tolerance = float(ledger.value("cut.tolerance"))
    target = float(ledger.value(told.target))
    high = target + tolerance
    if told.high:
        high = max(target, float(ledger.value(told.high)))
    limits = BoreLimits(target - tolerance, target, high)
    # A pass that is doubted says neither what the bar takes nor where the head stands.
    last = told.passes[-1] if good and good[-1] == told.passes[-1] else None
    _enter(ledger, told.of, "limits", limits)
    _enter(ledger, told.of, "shop_cut", shop)
    _enter(ledger, told.of, "last_asked", 0.0 if last is None else last.asked, Q.DEVIATION)
    ideal = _planned(ledger, told.of)
    seen = Found(ideal, ideal, cut, head, shop, limits, read, last)
    found = _dialled(ledger, told.of, seen)
    _enter_answers(ledger, told.of, found)
    _enter_picture(ledger, told, limits, found)
    say_next(ledger, said, replace(seen, cut=found))
    return beside(plan, told.stage, told.title, ledger.result())


def _planned(ledger: Ledger, of: str) -> NextCut:
    """The next pass by a dial without steps, from what was entered."""
    names = ("cut_state", "bore_read", "limits", "shop_cut", "last_asked")
    ids = {one: f"{of}.pass_{one}" for one in names}
    line = Line(f"{of}.planned_pass", "next pass, planned", Q.RECORD, is_detail=True)
    found = ledger.compute(line, next_cut, CENTRALLY, **ids).point
    return cast("NextCut", found)


def _dialled(ledger: Ledger, of: str, seen: Found) -> NextCut:
    """The next pass as the head can be set to it."""
    _enter(ledger, of, "head", seen.head)
    _enter(ledger, of, "head_left", seen.left, Q.DEVIATION)
    names = ("cut_state", "bore_read", "limits", "shop_cut", "head_left")
    ids = {one: f"{of}.pass_{one}" for one in names}
    line = Line(f"{of}.next_pass", "next pass", Q.RECORD, is_detail=True)
    found = ledger.compute(
        line, dialled_cut, CENTRALLY, next_pass=f"{of}.planned_pass",
        boring_head=f"{of}.pass_head", **ids,
    ).point  # fmt: skip
    return cast("NextCut", found)


def _lacking(ledger: Ledger, plan: Plan, told: PassesTold) -> tuple[str, ...]:
    """What must be told before there is a next pass; the plan's own are entered."""
    needs = (
        (told.target, "what is bored to: the sleeve and the fit, or the finished bore"),
        ("cut.tolerance", "what the cut is to keep within"),
        *(((told.high, "the upper limit of the bore"),) if told.high else ()),
    )
    lacks = []
    for identity, need in needs:
        from_plan(ledger, plan, identity, need=need)
        if not ledger.has(identity):
            lacks.append(need)
    if told.size is None:
        lacks.append("a reading of the bore as it stands")
    if told.ungauged:
        names = " and ".join(told.ungauged)
        lacks.append(
            f"a reading of the bore after pass {names}, or what it took: it was asked, and nobody "
            "knows what it took. Where it was not cut, take its ask back"
        )
    return tuple(lacks)


def _enter(ledger: Ledger, of: str, name: str, value: object, sort: Quantity = Q.RECORD) -> None:
    """Enter what the next pass rests on, as a detail."""
    words = {
        "cut_state": "what this bar takes", "bore_read": "the bore as read", "limits": "its limits",
        "shop_cut": "how this shop cuts", "last_asked": "last pass, asked",
        "prior": "what a bar usually takes",
        "head": "how the head is marked", "head_left": "what the last pass left on the head",
        "asked": "asks of the passes told", "taken": "what they took", "scatter": "their scatter",
    }  # fmt: skip
    line = Line(f"{of}.pass_{name}", words[name], sort, is_detail=True)
    ledger.fact(line, Given(value, Kind.ASSUMED, source="practice"))


def _learn(
    ledger: Ledger, told: PassesTold, shop: ShopCut, prior: CutState, said: Said
) -> tuple[CutState, tuple[Pass, ...]]:
    """Enter what the passes that were told teach of the cut; doubtful ones teach nothing."""
    variance = _scatter(ledger, shop, prior)
    doubts = doubts_of(told.passes, prior, variance)
    good = tuple(one for one, why in zip(told.passes, doubts, strict=True) if not why)
    for one, why in zip(told.passes, doubts, strict=True):
        if why:
            ledger.caution(f"pass-{why}:{told.of}.pass", said.doubtful(one, why), "practice")
    for one in overtaken(good, variance):
        ledger.caution(f"pass-overtaken:{told.of}.pass", said.overtaken(one), "practice")
    _enter(ledger, told.of, "prior", prior)
    _enter(ledger, told.of, "asked", tuple(one.asked for one in good))
    _enter(ledger, told.of, "taken", tuple(one.taken for one in good))
    _enter(ledger, told.of, "scatter", math.sqrt(variance), Q.DEVIATION)
    line = Line(f"{told.of}.pass_cut_state", "what this bar takes", Q.RECORD, is_detail=True)
    found = ledger.compute(
        line, state_after, CENTRALLY, cut_state=f"{told.of}.pass_prior",
        cut_asked=f"{told.of}.pass_asked", cut_taken=f"{told.of}.pass_taken",
        taken_standard=f"{told.of}.pass_scatter",
    ).point  # fmt: skip
    if not isinstance(found, CutState):
        raise InputError("passes", len(good), "", "passes that teach a state")
    line = Line(
        f"{told.of}.share", "This bar takes", Q.RATIO,
        of="of what a pass is asked; the rest it springs back by",
        would_change="one more pass told, of about the depth that is still to be asked",
    )  # fmt: skip
    spread = math.sqrt(float(found.share_variance))
    source = f"{len(good)} passes told" if good else "practice, until a pass is told"
    ledger.fact(line, Given(float(found.share), Kind.COMPUTED, source, standard=spread))
    return found, good


def _scatter(ledger: Ledger, shop: ShopCut, prior: CutState) -> float:
    """Variance of what a pass takes, from the bar and from the gauge."""
    gauge = float(ledger.default("pass_reading").value)
    repeat, share = shop.cut_repeat, float(prior.share)
    return pass_variance(cut_repeat=repeat, gauge_repeat=gauge, share=share)


def _in_doubt(told: PassesTold, shop: ShopCut, prior: CutState, ledger: Ledger) -> str:
    """Why nothing is asked while a pass is doubted: the bore may stand elsewhere."""
    doubts = doubts_of(told.passes, prior, _scatter(ledger, shop, prior))
    for one, why in zip(told.passes, doubts, strict=True):
        if why in (TWICE, MORE, LESS) and one.number not in told.gauged_after:
            return (
                f"pass {one.number} is doubted, and with it where the bore stands. Gauge the bore "
                "again, or put the pass right; then the next cut is said"
            )
    return ""


def _read(ledger: Ledger, told: PassesTold) -> BoreRead:
    """Enter where the bore stands, with what the gauge may be set wrong by."""
    gauge = float(ledger.default("pass_reading").value)
    setting = math.sqrt(max(told.standard**2 - gauge**2, 0.0))
    read = BoreRead(float(told.size or 0.0), setting, min(gauge, told.standard))
    line = Line(f"{told.of}.stands", "Bore stands at", Q.SIZE, "diametral", of=told.size_from)
    ledger.fact(line, Given(told.size, Kind.MEASURED, told.size_from, standard=told.standard))
    _enter(ledger, told.of, "bore_read", read)
    return read


def _enter_picture(ledger: Ledger, told: PassesTold, limits: BoreLimits, found: NextCut) -> None:
    """Enter what the ladder of passes is drawn from."""
    doubt = (found.now_chances.low, found.now_chances.high)
    drawn = Rungs(told.passes, float(told.size or 0.0), doubt, limits, found)
    line = Line(f"{told.of}.ladder", "ladder of passes", Q.RECORD, is_detail=True)
    ledger.fact(line, Given(drawn, Kind.COMPUTED, source="derived"))


def _enter_answers(ledger: Ledger, of: str, found: NextCut) -> None:
    """Enter the answers in figures; where boring is to stop there is no ask."""
    if found.ask <= 0.0:
        return
    source = {"next_pass": f"{of}.next_pass"}
    rows = (
        (f"{of}.next_ask", "Next cut, asked", Q.DEVIATION, "diametral", asked_next),
        (f"{of}.next_pass_chance", "Chance that it passes the upper limit", Q.PROBABILITY, "",
         chance_beyond),
        (f"{of}.next_inside", "Chance that it ends inside the limits", Q.PROBABILITY, "",
         chance_inside),
        (f"{of}.next_size", "Bore after it", Q.SIZE, "diametral", bore_after),
    )  # fmt: skip
    for identity, label, quantity, sense, function in rows:
        ledger.compute(Line(identity, label, quantity, sense), function, CENTRALLY, **source)
    ends = found.chances_then
    spread = (ends.high - ends.low) / (2.0 * 1.6448536269514722)
    doubt = Doubt(spread, ends.low, ends.high, MIDDLE_NINETY, "sampled", samples=DRAWS)
    ledger.amend(f"{of}.next_size", doubt=doubt, of="5 % of the draws lie below, 5 % above")
