"""Strokes to go: what a stroke takes, from the passes told, and how many before gauging again.

The rate of the next pass follows Student's t.  Strokes that are still allowed are those
after which the bore is over its upper limit no oftener than the shop accepts.  Diametral.
"""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.allowances import smaller
from sleevewright.core.cutting.hone_stock import grit_of
from sleevewright.core.cutting.hone_strokes import (
    cutting_rate,
    left_after,
    strokes_for,
    whole_strokes,
)
from sleevewright.core.cutting.honing import (
    LEAST_FOR_A_FALL,
    Passes,
    falling_rate,
    learned_rate,
    next_scatter,
    usual_rate,
)
from sleevewright.core.uncertainty.levels import level_of_share
from sleevewright.core.uncertainty.sampled import chance_below
from sleevewright.errors import InputError
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.hone_told import HonePass, HoneTold
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity
LEVELS = (("p05", 0.05, "one time in twenty"), ("p50", 0.5, "one time in two"),
          ("p95", 0.95, "19 times in twenty"))  # fmt: skip
DRESS_CHANCE, DRESS_LEFT = 0.95, 0.8
"""Chance and what is left of the rate, beyond which stones are said to cut less and less."""


def same_stones(passes: tuple[HonePass, ...]) -> tuple[HonePass, ...]:
    """The whole passes that were made with the grit of the newest one, in order.

    A pass without a grit was made with that of the pass before it.
    """
    grit, found = None, []
    for one in passes:
        grit = one.grit if one.grit is not None else grit
        if one.is_whole:
            found.append((grit, one))
    newest = found[-1][0] if found else None
    first = next((index for index in range(len(found), 0, -1) if found[index - 1][0] != newest), 0)
    return tuple(one for _, one in found[first:])


def grit_in_use(told: HoneTold) -> float | None:
    """The grit of the newest pass that names one, else the one that the stones were told with."""
    named = (one.grit for one in reversed(told.passes) if one.grit is not None)
    return next(named, told.stones_grit)


def sound_grit(told: HoneTold) -> float | None:
    """The same where it is one that cylinders are honed with; a wrong one is refused once."""
    number = grit_in_use(told)
    try:
        return None if number is None else float(grit_of(number, metal=told.metal).grit)
    except InputError:
        return None


def enter_strokes(ledger: Ledger, told: HoneTold, planned_grit: int) -> None:
    """Enter the rate, the strokes to go, and those before the bore is gauged again."""
    rate = told.named("rate")
    try:
        _enter_rate(ledger, told, planned_grit)
    except InputError as refused:
        line = Line(rate, "A full stroke takes", Q.DEVIATION, "diametral")
        ledger.fact(line, Given(None, Kind.COMPUTED, need=str(refused)))
        ledger.advise(str(refused))
        for name, label in (("strokes", "Strokes to go"), ("sure", "Strokes, then gauge again")):
            ledger.compute(Line(told.named(name), label, Q.COUNT), strokes_for,
                           stock=told.named("stock"), rate=rate)  # fmt: skip
        return
    ledger.compute(
        Line(told.named("cutting"), "rate that strokes are reckoned with", Q.DEVIATION,
             "diametral", is_detail=True),
        cutting_rate, drawn=rate, usual=told.named("rate_mean"),
    )  # fmt: skip
    ledger.compute(
        Line(told.named("strokes"), "Strokes to go", Q.COUNT,
             of="up and down is one; to the target, at full length",
             would_change="gauge after the next pass: each one teaches the rate"),
        strokes_for, stock=told.named("stock"), rate=told.named("cutting"),
    )  # fmt: skip
    ledger.compute(
        Line(told.named("strokes_most"), "strokes to the upper limit", Q.COUNT, is_detail=True),
        strokes_for, stock=told.named("room"), rate=told.named("cutting"),
    )  # fmt: skip
    _enter_levels(ledger, told)
    _enter_sure(ledger, told)


def _enter_rate(ledger: Ledger, told: HoneTold, planned_grit: int) -> None:
    """Enter the usual rate of the grit, the passes, and the rate that they teach."""
    number = grit_in_use(told)
    row = grit_of(float(planned_grit) if number is None else number, metal=told.metal)
    scatter = ledger.default("hone_rate_scatter")
    whose = f"{row.grit} grit in {row.metal}"
    if all(one.grit is None for one in told.passes) and told.stones_grit is not None:
        whose += ", as the stones are told"
    for name, value, source, note in (
        ("usual", row.rate, row.source, whose),
        ("usual_low", row.rate_low, row.source, whose),
        ("usual_high", row.rate_high, row.source, whose),
        ("usual_scatter", scatter.value, scatter.source, scatter.note),
    ):
        quantity = Q.RATIO if name == "usual_scatter" else Q.FINE
        label = f"{name.replace('_', ' ')}, a full stroke of {whose}"
        ledger.fact(Line(told.named(name), label, quantity, is_detail=True),
                    Given(value, Kind.ASSUMED, source, note))  # fmt: skip
    ledger.compute(
        Line(told.named("rate_before"), "rate before the passes", Q.RECORD, is_detail=True),
        usual_rate, rate=told.named("usual"), low=told.named("usual_low"),
        high=told.named("usual_high"), scatter=told.named("usual_scatter"),
    )  # fmt: skip
    counted = same_stones(told.passes)
    passes = Passes(
        np.array([one.strokes.value for one in counted if one.strokes is not None], dtype=float),
        np.array([one.taken.value for one in counted if one.taken is not None], dtype=float),
    )
    reading = ledger.default("reading_repeatability")
    ledger.fact(Line(told.named("passes"), f"passes that count: {len(counted)}", Q.RECORD,
                     is_detail=True), Given(passes, Kind.MEASURED, "the job"))  # fmt: skip
    ledger.fact(Line(told.named("reading"), "doubt of what a pass took", Q.FINE, is_detail=True),
                Given(math.sqrt(2.0) * reading.value, Kind.ASSUMED, reading.source,
                      reading.note))  # fmt: skip
    ledger.compute(
        Line(told.named("rate_learned"), "rate after the passes", Q.RECORD, is_detail=True),
        learned_rate, before=told.named("rate_before"), passes=told.named("passes"),
        reading=told.named("reading"),
    )  # fmt: skip
    _enter_drawn(ledger, told, len(counted), whose)
    if len(counted) >= LEAST_FOR_A_FALL:
        _enter_fall(ledger, told)


def _enter_drawn(ledger: Ledger, told: HoneTold, count: int, whose: str) -> None:
    """Enter the rate of the next pass with its doubt: Student's t about what was learned."""
    learned = ledger.value(told.named("rate_learned"))
    ledger.compute(
        Line(told.named("rate_scatter"), "scatter of the next rate", Q.FINE, is_detail=True),
        next_scatter, rate=told.named("rate_learned"),
    )  # fmt: skip
    mean = Line(told.named("rate_mean"), "mean of what is known of the rate", Q.FINE,
                is_detail=True)  # fmt: skip
    ledger.fact(mean, Given(learned.mean, Kind.COMPUTED, "derived"))
    said = f"learned from {count} pass{'es' if count != 1 else ''}" if count else "the usual range"
    basis = ledger.entry(told.named("rate_learned")).answer.basis
    ledger.fact(
        Line(told.named("rate"), "A full stroke takes", Q.FINE, "diametral",
             of=f"{whose}; {said}", would_change="tell strokes and what they took after each pass"),
        Given(learned.mean, Kind.COMPUTED, "", standard=ledger.value(told.named("rate_scatter")),
              degrees_of_freedom=learned.freedom),
    )  # fmt: skip
    ledger.amend(told.named("rate"), basis=basis)


def _enter_fall(ledger: Ledger, told: HoneTold) -> None:
    """Enter whether the stones cut less and less, and say what to do where they do."""
    fall = falling_rate(
        ledger.value(told.named("rate_before")),
        passes=ledger.value(told.named("passes")),
        reading=ledger.value(told.named("reading")),
    )
    line = Line(told.named("dulls"), "Chance that it cuts less and less", Q.PROBABILITY,
                of=f"over {fall.passes} passes; the last took {100.0 * fall.left:.0f} % of the "
                "first, by the line through them")  # fmt: skip
    ledger.fact(line, Given(fall.chance, Kind.COMPUTED, "draper-smith-1998"))
    if fall.chance > DRESS_CHANCE and fall.left < DRESS_LEFT:
        ledger.advise(
            "It cuts less and less: the stones glaze or load. Dress them, more honing fluid; "
            "what was learned before counts for less after that."
        )


def _enter_levels(ledger: Ledger, told: HoneTold) -> None:
    """Enter the strokes of which one in twenty, one in two and nineteen in twenty are enough."""
    if not isinstance(ledger.samples(told.named("strokes")), np.ndarray):
        return
    for key, share, words in LEVELS:
        fact = Line(told.named(f"share_{key}"), f"share, {words}", Q.RATIO, is_detail=True)
        ledger.fact(fact, Given(share, Kind.CHOSEN, "practice"))
        ledger.compute(
            Line(told.named(f"strokes_{key}"), f"Strokes that are enough {words}", Q.COUNT,
                 of="by then it is there"),
            level_of_share, samples=told.named("strokes"), share=fact.id,
        )  # fmt: skip
    low, high = (ledger.value(told.named(f"strokes_{one}")) for one in ("p05", "p95"))
    said = f"nine times in ten {low:.0f} to {high:.0f}; up and down is one, at full length"
    ledger.amend(told.named("strokes"), of=said, doubt=None)  # as uneven as no half-width shows


def _enter_sure(ledger: Ledger, told: HoneTold) -> None:
    """Enter how many strokes are allowed before the bore is gauged again, with their risk."""
    most = ledger.default("hone_overshoot_most")
    share = Line(told.named("overshoot_most"), "chance of passing the upper limit at most",
                 Q.PROBABILITY, is_detail=True)  # fmt: skip
    ledger.fact(share, Given(most.value, Kind.ASSUMED, most.source, most.note))
    samples = told.named("strokes_most")
    if not isinstance(ledger.samples(samples), np.ndarray):
        sure_from = samples
    else:
        sure_from = told.named("strokes_at_risk")
        ledger.compute(
            Line(sure_from, "strokes at the risk accepted", Q.COUNT, is_detail=True),
            level_of_share, samples=samples, share=share.id,
        )  # fmt: skip
    sure, least = told.named("sure"), told.named("strokes_least")
    ledger.compute(
        Line(least, "the fewer of these and those to the target", Q.COUNT, is_detail=True),
        smaller, CENTRALLY, one=sure_from, other=told.named("strokes"),
    )  # fmt: skip
    ledger.compute(
        Line(sure, "Strokes, then gauge again", Q.COUNT,
             of="not past the target, and the upper limit no oftener than the shop bears"),
        whole_strokes, CENTRALLY, strokes=least,
    )  # fmt: skip
    if not isinstance(ledger.samples(samples), np.ndarray):
        return
    left, none = told.named("left_after"), told.named("at_limit")
    ledger.compute(
        Line(left, "left to the upper limit after them", Q.DEVIATION, "diametral", is_detail=True),
        left_after, stock=told.named("room"), rate=told.named("cutting"), strokes=sure,
    )  # fmt: skip
    ledger.fact(Line(none, "the upper limit itself", Q.DEVIATION, is_detail=True),
                Given(0.0, Kind.CHOSEN, "derived"))  # fmt: skip
    ledger.compute(
        Line(told.named("overshoots"), "Chance of passing the upper limit with them",
             Q.PROBABILITY, of="so many strokes in one pass; with none left, of being past it now"),
        chance_below, samples=left, limit=none,
    )  # fmt: skip
