"""A quick question at the boring head: what to ask of the next pass, and what to dial."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from sleevewright.core.materials import default
from sleevewright.errors import Caution, InputError
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, optional, read_words
from sleevewright.units import Dimension, parse, shown

if TYPE_CHECKING:
    from sleevewright.core.cutting.closing_in import NextCut
    from sleevewright.core.cutting.next_cut import BoreLimits, BoreRead
    from sleevewright.core.cutting.pass_doubts import Pass
    from sleevewright.planning.next_cut_said import Found, Said

CUT_INPUTS = (
    QuickInput("now", said=("The bore as it was read, diametral.", "2.9964in")),
    QuickInput("target", said=("The bore that is wanted, diametral.", "3.0000in")),
    QuickInput("within", default("cut_tolerance").stated,
               said=("Half of the width of its limits, diametral.", "0.5thou")),
    QuickInput("asked", is_needed=False,
               said=("What the passes so far were asked, diametral, by comma.", "4thou")),
    QuickInput("got", is_needed=False,
               said=("What they took, in the same order, diametral.", "3.4thou")),
    QuickInput("head", "radius",
               said=("What the dial of the head counts: radius or diameter.", "radius")),
    QuickInput("graduation", default("head_graduation").stated,
               said=("One graduation of the head, on what its dial counts.", "0.5thou")),
    QuickInput("casting", "unknown-aluminium", said=("The metal that is bored.", "aluminium-356")),
    *(replace(one, said=("Half-width of about 95 % of what the gauge is set wrong by.", "0.2thou"))
      for one in optional("setting")),
)  # fmt: skip

_NEXT = re.compile(r"(?<=[a-zµ])\s*[,;]\s*")
_UNIT = re.compile(r"\d\s*([a-zµ]+)")
_BARE = re.compile(r"\d+(?:[.,]\d+)?")
_MARKED = ("radius", "diameter")


def quick_cut(words: Iterable[str]) -> QuickAnswer:
    """What to ask of the next pass so that the bore ends inside its limits."""
    from sleevewright.planning.next_cut_said import Said

    words, unit = _with_units(words)
    typed = read_words("cut", CUT_INPUTS, words)
    if unit:
        typed.assume("unit of what carries none", f"{unit}, as the others are")
    passes = _passes(typed)
    found, doubts, over = _found(typed, passes)
    for name in ("cut_share", "cut_repeat", "cut_risk"):
        typed.assume(default(name).note.partition(";")[0].partition(":")[0], default(name).stated)
    said = Said(typed.system)
    told = tuple(
        Caution(f"pass-{why}", said.doubtful(one, why), "practice")
        for one, why in zip(passes, doubts, strict=True)
        if why
    )
    told += tuple(Caution("pass-overtaken", said.overtaken(one), "practice") for one in over)
    return QuickAnswer(
        "cut", typed, _lines(found), told, extra=_extra(found), said=_said(found, said)
    )


def _found(
    typed: Typed, passes: tuple[Pass, ...]
) -> tuple[Found, tuple[str, ...], tuple[Pass, ...]]:
    """The next pass with what it was found from, why passes are doubted, which overtook."""
    from sleevewright.core.cutting.closing_in import next_cut
    from sleevewright.core.cutting.dialled import dialled_cut
    from sleevewright.core.cutting.pass_doubts import doubts_of, overtaken
    from sleevewright.core.cutting.passes import pass_variance, state_after
    from sleevewright.planning.ledger import Ledger
    from sleevewright.planning.next_cut import settings_of
    from sleevewright.planning.next_cut_said import Found
    from sleevewright.planning.shop import DEFAULT_SEED

    limits, read = _limits(typed), _read(typed)
    is_iron = typed.metal("casting").family == "iron"
    shop, prior, head = settings_of(Ledger(count=1, seed=0), is_iron=is_iron, seed=DEFAULT_SEED)
    graduation = _length(typed, "graduation")
    head = replace(head, is_on_radius=_marked(typed) == "radius", graduation=graduation)
    variance = pass_variance(
        cut_repeat=shop.cut_repeat, gauge_repeat=read.read_repeat, share=float(prior.share)
    )
    doubts = doubts_of(passes, prior, variance)
    good = [one for one, why in zip(passes, doubts, strict=True) if not why]
    cut = state_after(
        cut_state=prior,
        cut_asked=[one.asked for one in good],
        cut_taken=[one.taken for one in good],
        taken_standard=math.sqrt(variance),
    )
    last = passes[-1] if good and good[-1] is passes[-1] else None
    found = next_cut(
        cut_state=cut, bore_read=read, limits=limits, shop_cut=shop,
        last_asked=0.0 if last is None else last.asked
    )  # fmt: skip
    seen = Found(found, found, cut, head, shop, limits, read, last)
    dialled = dialled_cut(
        next_pass=found, boring_head=head, head_left=seen.left, cut_state=cut, bore_read=read,
        limits=limits, shop_cut=shop
    )  # fmt: skip
    return replace(seen, cut=dialled), doubts, overtaken(good, variance)


def _with_units(words: Iterable[str]) -> tuple[tuple[str, ...], str]:
    """Sizes without a unit get that of the other lengths; where none has one they stay refused."""
    told = tuple(words)
    values = [word.partition("=")[2].strip() for word in told]
    units = {one for value in values for one in _UNIT.findall(value)}
    metric, inch = bool(units & {"mm", "µm", "um"}), bool(units & {"in", "thou", "tenths"})
    if metric == inch:
        return told, ""
    unit, bare = ("mm" if metric else "in"), False
    found = []
    for word in told:
        name, _, value = word.partition("=")
        is_bare = name.strip() in ("now", "target") and _BARE.fullmatch(value.strip()) is not None
        bare = bare or is_bare
        found.append(f"{name}={value.strip()} {unit}" if is_bare else word)
    return tuple(found), unit if bare else ""


def _lines(found: Found) -> tuple[Line, ...]:
    """The numbers of the answer."""
    from sleevewright.core.cutting.closing_in import asked_next
    from sleevewright.core.cutting.head_dial import dial_order, head_turn
    from sleevewright.core.cutting.passes import state_after

    cut = found.cut
    goes = cut.ask > 0.0
    order = found.order if goes else None
    turn = (
        None if order is None else head_turn(boring_head=found.head, head_move=cut.ask - found.left)
    )
    marked = "on radius" if found.head.is_on_radius else "on diameter"
    why = "" if goes else cut.next_move.value
    return (
        Line("next_ask_um", "Next cut, asked", cut.ask if goes else None, "deviation",
             asked_next, "diametral", why),
        Line("head_turn_um", "Turn the head", turn, "deviation", head_turn, marked),
        Line("head_diameter_um", "which on diameter is", None if order is None else order.diameter,
             "deviation", dial_order, "diametral"),
        *_bore_lines(cut),
        Line("share", "This bar takes", float(found.state.share), "ratio", state_after,
             note="of what it is asked"),
    )  # fmt: skip


def _bore_lines(cut: NextCut) -> tuple[Line, ...]:
    """The bore after the next pass with its chances; where there is none, as it stands."""
    from sleevewright.core.cutting.closing_in import bore_after, chance_beyond, chance_inside
    from sleevewright.core.cutting.next_cut import chances_now

    after = bore_after(next_pass=cut)
    beyond, inside = chance_beyond(next_pass=cut), chance_inside(next_pass=cut)
    if cut.ask > 0.0:
        return (
            Line("bore_after_mm", "Bore after it", after, "size", bore_after, "diametral",
                 "its mean"),
            Line("chance_beyond", "Chance that it passes the upper limit", beyond, "probability",
                 chance_beyond),
            Line("chance_inside", "Chance that it ends inside", inside, "probability",
                 chance_inside),
        )  # fmt: skip
    return (
        Line("bore_after_mm", "Bore as it stands", after, "size", chances_now, "diametral",
             "its mean"),
        Line("chance_beyond", "Chance that it is too large already", beyond, "probability",
             chances_now),
        Line("chance_inside", "Chance that it lies inside", inside, "probability", chances_now),
    )  # fmt: skip


def _extra(found: Found) -> tuple[tuple[str, object], ...]:
    """What counts, and the passes to come, for a program."""
    passes = [
        {"kind": one.pass_kind, "asked_um": round(1e6 * one.ask, 3),
         "after_mm": round(1e3 * one.bore_after, 6)}
        for one in found.cut.ladder
    ]  # fmt: skip
    turned = found.order.graduations if found.cut.ask > 0.0 else None
    return (
        ("move", found.cut.next_move.value), ("graduations", turned),
        ("passes_left", len(passes)), ("passes", passes),
    )  # fmt: skip


def _said(found: Found, said: Said) -> tuple[str, ...]:
    """The order to the head, the passes to come, a spring pass; or why to stop."""
    from sleevewright.planning.next_cut_said import (
        TELLING,
        held_words,
        left_on,
        left_words,
        rounding_words,
        schedule_words,
        spring_words,
        stop_words,
    )

    if found.cut.ask <= 0.0:
        return (f"stop: {stop_words(found, said)}",)
    start = "from touching the bore: "
    if found.last is not None:
        start = f"{left_on(found, said)} pass {found.last.number}; from there: "
    lines = [start + said.order(found.order, found.head, with_back=True)]
    if abs(found.ideal.ask - found.cut.ask) > TELLING:
        lines.append(f"in whole graduations: {rounding_words(found, said)}")
    if found.cut.is_held_back:
        lines.append(held_words(found, said))
    lines += [
        f"passes: {schedule_words(found.cut, said)}",
        f"passes planned: {left_words(found.cut)}",
    ]
    spring = spring_words(found, said)
    return (*lines, f"spring pass: {spring}") if spring else tuple(lines)


def _length(typed: Typed, name: str) -> float:
    """A length that this topic reads itself."""
    told = parse(typed.text(name), field=name, dimension=Dimension.LENGTH)
    if told.value <= 0.0:
        raise InputError(name, typed.text(name), "", "more than nought")
    return told.value


def _limits(typed: Typed) -> BoreLimits:
    """The limits of the bore; one that is beyond them already is refused."""
    from sleevewright.core.cutting.closing_in import SAME_SIZE
    from sleevewright.core.cutting.next_cut import BoreLimits

    now, target, half = typed.value("now"), typed.value("target"), _length(typed, "within")
    if half >= 0.05 * target:
        hint = "It is half of the width of the limits, as 0.5thou."
        raise InputError("within", typed.text("within"), "", "a small length", hint)
    if now > target + half + SAME_SIZE:
        over = shown(now - target - half, quantity="deviation", system=typed.system)
        hint = (
            f"The bore is {over.figure} {over.unit} above its upper limit already. Metal cannot be "
            "put back: a larger sleeve turned to this bore and the fit, or the fit that it gives "
            "accepted in writing."
        )
        allowed = f"more than the bore as it is, {typed.text('now')}"
        raise InputError("target", typed.text("target"), "", allowed, hint)
    return BoreLimits(target - half, target, target + half)


def _read(typed: Typed) -> BoreRead:
    """The bore as it was read, with what its gauge may be set wrong by."""
    from sleevewright.core.cutting.next_cut import BoreRead
    from sleevewright.planning.facts import STATED_COVERAGE_FACTOR

    half = typed.given("setting")
    if half is None:
        half = default("gauge_setting").value
        typed.assume("setting", default("gauge_setting").stated)
    return BoreRead(
        typed.value("now"), half / STATED_COVERAGE_FACTOR, default("pass_reading").value
    )


def _marked(typed: Typed) -> str:
    """Radius or diameter."""
    said = typed.text("head").lower()
    if said not in _MARKED:
        hint = "What do the graduations count that are engraved on it?"
        raise InputError("head", said, "", "radius or diameter", hint)
    return said


def _passes(typed: Typed) -> tuple[Pass, ...]:
    """Pairs of asked and got, in order."""
    from sleevewright.core.cutting.pass_doubts import Pass

    columns = []
    for name in ("asked", "got"):
        told = typed.words.get(name, "")
        parts = [one for one in _NEXT.split(told) if one.strip()]
        columns.append([parse(one, field=name, dimension=Dimension.LENGTH) for one in parts])
    asked, got = columns
    if len(asked) != len(got):
        hint = "As asked=4thou,4thou got=3.4thou,3.4thou."
        allowed = f"as many as asked, {len(asked)}"
        raise InputError("got", f"{len(got)} passes", "", allowed, hint)
    for one, took in zip(asked, got, strict=True):
        if one.value <= 0.0 or not math.isfinite(one.value):
            raise InputError("asked", typed.text("asked"), "", "more than nought, diametral")
        if took.value < 0.0:
            hint = "A cut makes a bore larger: were two readings swapped, or was it read warm?"
            raise InputError("got", typed.text("got"), "", "nought or more, diametral", hint)
    return tuple(
        Pass(str(number), one.value, took.value)
        for number, (one, took) in enumerate(zip(asked, got, strict=True), start=1)
    )
