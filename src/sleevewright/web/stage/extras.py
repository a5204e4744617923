"""What a few stages show beside the usual: islands, options, what a release signs."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from sleevewright.jobs.catalog import OPTIONS
from sleevewright.jobs.holds import NONE
from sleevewright.planning.answers import Plan, Quantity, Verdict
from sleevewright.planning.ordering import order_lines, order_of
from sleevewright.planning.shown import shown_answer
from sleevewright.services.jobs import Look
from sleevewright.services.signing import matched_of
from sleevewright.units import Dimension, display_unit, to_unit
from sleevewright.web.pictures.islands import Island, IslandPicture, island_map
from sleevewright.web.stage.asks import Teller
from sleevewright.web.stage.fit_reason import reasoned_fit
from sleevewright.web.stage.grind_view import grind_view
from sleevewright.web.stage.setup_view import setup_view
from sleevewright.web.stage.shop import ShopView
from sleevewright.web.stage.views import PictureView

NANO = 1e-9
SHALLOWEST = 0.03
"""Depth of an unrolled bore of which nothing was told. [m]"""

RISKS = {
    "hone": "Cheapest, where wear and scores are small; the clearance grows by what is honed.",
    "next oversize": "Needs a piston of that size, and wall enough in the old sleeve.",
    "re-plate": "For plated bores; the ports stay as they are; it goes out of house.",
    "sleeve": "A new iron bore; the ports are matched again; the fit must bear the heat.",
    "leave it": "Nothing is done; the part goes back as it came.",
}
SIGNED = (
    "fit.cold",
    "fit.running",
    "fit.below_least",
    "fit.close_up",
    "cool.proved",
    "cool.proved_below_least",
    "finish.bore",
    "finish.size",
    "finish.taper",
    "finish.out_of_round",
    "finish.wall",
)


@dataclass(frozen=True)
class OptionView:
    """One thing that can be done with the cylinder."""

    name: str
    words: str
    price: str
    is_chosen: bool
    is_offered: bool


@dataclass(frozen=True)
class ChoiceView:
    """The options side by side and what was agreed."""

    options: tuple[OptionView, ...]
    agreed: str
    clean_up: str
    order: tuple[str, ...] = ()  # what to order, line by line


@dataclass(frozen=True)
class HoldLine:
    """A hold as the release lists it."""

    title: str
    words: str
    state: str
    by: str
    reason: str
    cure: str
    stage: str
    note: str = ""  # what was chosen against what is advised, and why


@dataclass(frozen=True)
class SignedLine:
    """A figure that a release signs."""

    label: str
    figure: str
    verdict: str


@dataclass(frozen=True)
class ReleaseView:
    """What is signed: every hold, and the figures."""

    holds: tuple[HoldLine, ...]
    open_holds: int
    signed: tuple[SignedLine, ...]
    is_released: bool
    released_by: str
    head: str
    told_since: int = 0  # values that were told after the signature
    ports: str = ""  # what the ports were made to, as it was signed or stands now


@dataclass(frozen=True)
class AfterView:
    """What a come-back starts from: the figures that were signed."""

    signed: tuple[SignedLine, ...]
    lifted: int
    is_released: bool


def special_of(stage: str, look: Look, teller: Teller, shop: ShopView) -> object | None:
    """What only this stage shows; nothing for most."""
    plan = look.plan
    if stage == "choice":
        return _choice(look, plan)
    if stage == "release":
        return _release(look, shop)
    if stage == "setup":
        return setup_view(plan)
    if stage == "ports":
        return grind_view(plan)
    if stage == "after":
        lifts = [one for one in teller.folded.lifts if one.cylinder in (0, look.cylinder)]
        return AfterView(_signed(plan), len(lifts), bool(_releases(look)))
    return None


def _choice(look: Look, plan: Plan | None) -> ChoiceView:
    decision = look.folded.decisions[-1].body if look.folded.decisions else {}
    offered = decision.get("offered", ())
    offered = offered if isinstance(offered, list | tuple) else ()
    chosen = str(decision.get("option", ""))
    price = f"{decision.get('price', '')} {decision.get('currency', '')}".strip()
    agreed = ""
    if chosen:
        by, how = decision.get("agreed_by", ""), decision.get("how", "")
        agreed = ", ".join(str(part) for part in (chosen, price, by, how) if part)
    clean_up = ""
    if plan is not None:
        found = next((one for one in plan.answers() if one.id == "found.clean_up"), None)
        if found is not None and isinstance(found.value, float):
            shown = shown_answer(found, system=plan.units)
            clean_up = f"{shown.figure} {shown.unit}"
    options = tuple(
        OptionView(
            name,
            RISKS[name],
            price if name == chosen else "",
            name == chosen,
            not offered or name in offered,
        )
        for name in OPTIONS
    )
    return ChoiceView(options, agreed, clean_up, _order(plan))


def _order(plan: Plan | None) -> tuple[str, ...]:
    """The order as text; nothing where none can be made."""
    stage = None if plan is None else order_of(plan)
    return () if plan is None or stage is None else order_lines(plan, stage)


def _release(look: Look, shop: ShopView) -> ReleaseView:
    holds = tuple(
        HoldLine(
            step.title,
            step.hold.words,
            step.hold.state,
            shop.name_of(step.hold.by),
            step.hold.reason,
            shop.named(step.hold.lacks[0])[1] if step.hold.lacks else "",
            step.stage,
            reasoned_fit(look, shop) if step.stage == "fit" else "",
        )
        for step in look.steps
        if step.hold.state != NONE and step.stage != "release"
    )
    released = _releases(look)
    return ReleaseView(
        holds,
        sum(1 for one in holds if one.state == "not met"),
        _signed(look.plan),
        bool(released),
        shop.name_of(str(released[-1].get("person", ""))) if released else "",
        str(released[-1].get("head", "")) if released else "",
        _told_since(look),
        str(released[-1].get("ports", "")) if released else matched_of(look),
    )


def _told_since(look: Look) -> int:
    """How many values of this cylinder were told after it was signed."""
    own = [one for one in look.folded.releases if one.cylinder in (0, look.cylinder)]
    if not own:
        return 0
    told = (
        one
        for cell in look.folded.cells(cylinder=look.cylinder)
        if not cell.startswith("after.")
        for one in look.folded.history(cell, cylinder=look.cylinder)
    )
    return sum(1 for one in told if one.number > own[-1].number)


def _releases(look: Look) -> list[Mapping[str, object]]:
    """Releases of this cylinder."""
    return [one.body for one in look.folded.releases if one.cylinder in (0, look.cylinder)]


def _signed(plan: Plan | None) -> tuple[SignedLine, ...]:
    """The figures that go on the release."""
    if plan is None:
        return ()
    known = {answer.id: answer for answer in plan.answers()}
    lines = []
    for identity in SIGNED:
        answer = known.get(identity)
        if answer is None or not isinstance(answer.value, float):
            continue
        shown = shown_answer(answer, system=plan.units)
        doubt = f" ±{shown.doubt}" if shown.doubt else ""
        figure = f"{shown.figure}{doubt} {shown.unit}, {shown.sense}".rstrip(", ")
        judged = answer.judgement
        verdict = judged.verdict.value if judged and judged.verdict is not Verdict.GOOD else ""
        lines.append(SignedLine(answer.label, figure, verdict))
    return tuple(lines)


def pictures_of(stage: str, teller: Teller, plan: Plan | None) -> tuple[PictureView, ...]:
    """Pictures of a stage beside those of its readings; the map of the wall shows islands too."""
    has_map = plan is not None and any(
        one.id == "old.map" and one.value is not None for one in plan.answers()
    )
    if stage != "old" or has_map:
        return ()
    return (PictureView("Old iron left, unrolled", island_map(_islands(teller))),)


def _islands(teller: Teller) -> IslandPicture:
    """The islands that were told, in degrees and in the unit of the job."""
    unit = display_unit(Quantity.SIZE.value, system=teller.units)
    found = []
    deepest = SHALLOWEST
    prefix = "old.island/"
    numbers = {
        cell.removeprefix(prefix).partition("/")[0]
        for cell in teller.folded.cells(prefix, cylinder=teller.cylinder)
    }
    for number in sorted(numbers, key=int):
        start, stop = _angle(teller, number, "angle_from"), _angle(teller, number, "angle_to")
        top, bottom = _depth(teller, number, "depth_from"), _depth(teller, number, "depth_to")
        if start is None or stop is None:
            continue
        high = 0.0 if top is None else top
        low = high + 0.005 if bottom is None else bottom
        deepest = max(deepest, low * 1.15)
        sizes = (to_unit(one, unit, dimension=Dimension.LENGTH) for one in (high, low))
        found.append(Island(number, start, stop, *sizes))
    count = len(found)
    says = f"{count} {'island' if count == 1 else 'islands'} of old iron left in the bore."
    depth = to_unit(deepest, unit, dimension=Dimension.LENGTH)
    return IslandPicture(tuple(found), depth, unit, says if count else "No island was told.")


def _angle(teller: Teller, number: str, key: str) -> float | None:
    told = teller.folded.value(f"old.island/{number}/{key}", cylinder=teller.cylinder)
    si = None if told is None else told.body.get("si")
    return math.degrees(si) if isinstance(si, float | int) else None


def _depth(teller: Teller, number: str, key: str) -> float | None:
    told = teller.folded.value(f"old.island/{number}/{key}", cylinder=teller.cylinder)
    nm = None if told is None else told.body.get("nm")
    return nm * NANO if isinstance(nm, int) else None
