"""The seconds of a drop: counted from many drops, shown so that rounding promises nothing.

They are chances within a model and its judged priors, never a promise.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from sleevewright.core.allowances import smaller
from sleevewright.core.formulas import formula
from sleevewright.core.heat.chances import (
    DropCase,
    DropChances,
    before_seated,
    drop_chances,
    expected_grip,
    free_p01,
    free_p05,
    may_stay_loose,
)
from sleevewright.core.materials import default
from sleevewright.core.uncertainty.sampled import Quantile, Share
from sleevewright.errors import NotConverged
from sleevewright.planning.answers import Doubt, Kind, Quantity
from sleevewright.planning.judging import against_chance
from sleevewright.planning.ledger import CENTRALLY, COVERAGE, Given, How, Ledger, Line
from sleevewright.units import shown

Q = Quantity
NORMAL_95 = 1.96
REMEDY = (
    "more slip, a measured hot form, dry parts; or a chilled sleeve, if the casting keeps its heat"
)
BEYOND = "still loose when the forecast ends at {0:.0f} s: keep it down and wait"
DROP_CHANCES = Line("drop.chances", "the drops together", Q.RECORD, is_detail=True)
DROP_LINE_UP_MOST = Line("drop.line_up_most", "longest line-up time shown", Q.TIME, is_detail=True)


@dataclass(frozen=True)
class Counted:
    """One number that is counted from the drops."""

    key: str
    label: str
    function: Callable[..., float]
    quantity: Quantity
    of: str


SECONDS = (
    Counted(
        "free_p05", "19 in 20 stay free at least", free_p05, Q.TIME_AT_LEAST, "from first entry"
    ),
    Counted(
        "free_p01", "99 in 100 stay free at least", free_p01, Q.TIME_AT_LEAST, "from first entry"
    ),
    Counted(
        "expected", "Grips, expected", expected_grip, Q.TIME_AT_LEAST, "as many sooner as later"
    ),
    Counted(
        "until",
        "May stay loose until",
        may_stay_loose,
        Q.TIME_AT_MOST,
        "19 in 20 have gripped by then",
    ),
    Counted("before_seated", "Grips before it is seated", before_seated, Q.PROBABILITY, "chance"),
)


@formula(
    name="chances of this drop",
    expression="quantiles of grip times over drops that share the samples of the plan",
    sources=("jcgm-101", "practice", "derived"),
    validity="within the model and its judged priors, fitted to no measured drop; tilt left out",
    unit="record",
)
def chances_of_drop(*, samples: DropCase, drops: float, seed: float) -> DropChances:
    """Chances of a drop whose case holds the samples of the plan."""
    return drop_chances(samples, count=int(drops), seed=int(seed))


def enter_seconds(ledger: Ledger, *, drops: int, seed: int) -> None:
    """Enter the seconds, their chance, and the line-up time that is never above five."""
    for name, label, value in (
        ("drops", "drops that are drawn", float(drops)),
        ("seed", "seed of the draws", float(seed)),
    ):
        line = Line(f"drop.{name}", label, Q.RATIO, is_detail=True)
        ledger.fact(line, Given(value, Kind.CHOSEN, source="practice"))
    try:
        ledger.compute(
            DROP_CHANCES,
            chances_of_drop,
            CENTRALLY,
            samples="drop.case",
            drops="drop.drops",
            seed="drop.seed",
        )
    except NotConverged as failed:
        # No number is better than a wrong one, and the rest of the plan stands.
        ledger.fact(DROP_CHANCES, Given(None, Kind.ASSUMED, need=str(failed)))
        ledger.caution("drop-not-converged", str(failed))
    chances: DropChances | None = ledger.value("drop.chances")
    for answer in SECONDS:
        _enter_answer(ledger, answer, chances)
    _enter_line_up(ledger, chances)


def _enter_answer(ledger: Ledger, answer: Counted, chances: DropChances | None) -> None:
    """Enter one number that is counted from the drops, with its sampling error."""
    good = ledger.default("drop_good_below").value
    out = ledger.default("drop_out_above").value
    judge = against_chance(good, out, remedy=REMEDY)
    entry = ledger.compute(
        Line(
            f"drop.{answer.key}", answer.label, answer.quantity, of=answer.of, would_change=REMEDY
        ),
        answer.function,
        How(judge=judge) if answer.key == "before_seated" else CENTRALLY,
        chances="drop.chances",
    )
    if chances is None:
        return
    if entry.answer.value is None:
        horizon = chances.horizon
        ledger.amend(entry.answer.id, of=BEYOND.format(horizon), absent=f"> {horizon:.0f} s")
    else:
        counted = getattr(chances, answer.key)
        ledger.amend(entry.answer.id, doubt=_counted(counted, chances.count))


def _enter_line_up(ledger: Ledger, chances: DropChances | None) -> None:
    """Enter the seconds that are shown for lining up: what 19 in 20 leave, five at most."""
    most = default("line_up_most")
    ledger.fact(
        DROP_LINE_UP_MOST,
        Given(most.value, Kind.CHOSEN, source=most.source, typed=most.note),
    )
    ledger.compute(
        Line(
            "drop.line_up",
            "Before it grabs",
            Q.TIME_AT_LEAST,
            of="19 times in 20; never above five",
            would_change=REMEDY,
        ),
        smaller,
        CENTRALLY,
        one="drop.free_p05",
        other="drop.line_up_most",
    )
    capped = chances is not None and chances.free_p05.value > most.value
    if chances is not None and ledger.entry("drop.line_up").answer.value is not None:
        ledger.amend(
            "drop.line_up",
            of=f"19 times in 20; {_likely(chances)}, {_latest(chances)}",
            doubt=None if capped else _counted(chances.free_p05, chances.count),
        )


def _seconds(counted: Quantile, quantity: Quantity) -> str:
    """Figure of a time, in the steps that times of a model are shown in."""
    if not math.isfinite(counted.value):
        return "minutes"
    figures = shown(counted.value, quantity=quantity.value, system="metric")
    return figures.figure if figures.unit == "s" else f"{figures.figure} {figures.unit}"


def _likely(chances: DropChances) -> str:
    """What to expect, rounded down."""
    return f"likely {_seconds(chances.expected, Q.TIME_AT_LEAST)}"


def _latest(chances: DropChances) -> str:
    """Until when it may stay loose, or that nobody can say."""
    if chances.until is None:
        return f"some beyond {chances.horizon:.0f}"
    return f"up to {_seconds(chances.until, Q.TIME_AT_MOST)}"


def _counted(counted: Quantile | Share | None, count: int) -> Doubt | None:
    """The sampling error of a count, which is not the doubt of the model."""
    if counted is None or not math.isfinite(counted.sampling_error):
        return None
    half = NORMAL_95 * counted.sampling_error
    return Doubt(
        counted.sampling_error,
        counted.value - half,
        counted.value + half,
        COVERAGE,
        "counted",
        samples=count,
    )
