"""What the two parts bear: the fits at which casting and sleeve come to their limits."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.allowances import rest_of, smaller, sum_of
from sleevewright.core.fits.limits import (
    brittle_limit_pressure,
    casting_yield_pressure,
    sleeve_yield_pressure,
)
from sleevewright.core.fits.rings import interference_at_limit
from sleevewright.planning.answers import Judgement, Kind, Quantity, Verdict
from sleevewright.planning.habit import clearing
from sleevewright.planning.judging import LimitJudge, against_limit
from sleevewright.planning.ledger import Given, Ledger, Line

Q = Quantity

WEIGHT = {Verdict.GOOD: 0, Verdict.TOO_CLOSE: 1, Verdict.OUT: 2}

SHARE = Line("fit.brittle_share", "share of tensile strength allowed", Q.RATIO, is_detail=True)
CASTING_PRESSURE = Line(
    "fit.limit_pressure", "pressure at the casting's limit", Q.PRESSURE, is_detail=True
)
SLEEVE_PRESSURE = Line(
    "fit.sleeve_limit_pressure", "pressure at the sleeve's yield", Q.PRESSURE, is_detail=True
)
SLEEVE_FIT = Line(
    "fit.sleeve_yield_fit",
    "Fit at the sleeve's yield",
    Q.DEVIATION,
    "diametral",
    of="0.1 % proof stress at its bore; iron bears more in compression",
)
LIMIT_FIT = Line(
    "fit.limit_fit", "the lesser of both limits", Q.DEVIATION, "diametral", is_detail=True
)
LIMIT_SMOOTH = Line(
    "fit.limit_smooth", "fit that works, at its limit", Q.DEVIATION, "diametral", is_detail=True
)
FLATTENS = Line("fit.flattens", "what flattens of the roughness", Q.DEVIATION, is_detail=True)
MARGIN = Line("fit.limit_margin", "left to the limit", Q.DEVIATION, "diametral", is_detail=True)


def enter_limits(ledger: Ledger) -> None:
    """Enter the fit at which each part comes to its limit, and judge the cold fit by them."""
    _enter_casting(ledger)
    ledger.compute(
        SLEEVE_PRESSURE,
        sleeve_yield_pressure,
        pair="fit.rings",
        yield_strength="sleeve.strength",
    )
    ledger.compute(
        SLEEVE_FIT,
        interference_at_limit,
        pair="fit.rings",
        limit_pressure="fit.sleeve_limit_pressure",
    )
    _enter_lesser(ledger)
    margin = ledger.compute(MARGIN, rest_of, whole="fit.limit_fit", part=clearing(ledger))
    if margin.is_missing:
        return
    # The doubt that counts is that of what is left between the fit and the limit.
    doubt = margin.answer.doubt
    # The limits that a bore is planned to rest on the same band, so the band alone decides here.
    judge = LimitJudge(
        float(ledger.value("fit.limit_fit")),
        "most",
        "a lighter fit; a limit is near",
        is_by_chance=False,
    )
    # Seen from the limit, what is left is the fit: its samples tell the chance of passing it.
    spread = float(ledger.value("fit.limit_fit")) - np.asarray(ledger.samples("fit.limit_margin"))
    standard = 0.0 if doubt is None else doubt.standard
    strain = _judge(ledger, judge, spread, standard, fit=clearing(ledger))
    ledger.amend("fit.cold", judgement=_worse(_loose(ledger), strain))


def _enter_lesser(ledger: Ledger) -> None:
    """Enter the fit at the nearer limit, as it is cut: what flattens comes on top of it."""
    both = {"one": "fit.yield_fit", "other": "fit.sleeve_yield_fit"}
    if not any(ledger.value(f"fit.{one}_roughness") for one in ("sleeve", "casting")):
        ledger.compute(LIMIT_FIT, smaller, **both)
        return
    ledger.compute(LIMIT_SMOOTH, smaller, **both)
    ledger.compute(FLATTENS, rest_of, whole="fit.as_cut", part="fit.effective")
    ledger.compute(LIMIT_FIT, sum_of, wanted=LIMIT_SMOOTH.id, allowance=FLATTENS.id)


def _loose(ledger: Ledger) -> Judgement | None:
    """The cold fit against the least that is wanted; nothing where no least is known."""
    least = ledger.value("fit.least")
    if least is None:
        return None
    doubt = ledger.entry("fit.as_cut").answer.doubt
    judge = against_limit(float(least), "least", remedy="the next sleeve, or a tighter cut")
    spread = np.asarray(ledger.samples("fit.as_cut"))
    return _judge(ledger, judge, spread, 0.0 if doubt is None else doubt.standard)


def _judge(
    ledger: Ledger,
    judge: LimitJudge,
    spread: NDArray[np.float64],
    standard: float,
    *,
    fit: str = "fit.as_cut",
) -> Judgement:
    """The verdict on the cold fit by the shop's guard band."""
    guarded = judge.by(ledger.default("guard_factor").value)
    samples = spread if spread.ndim == 1 and standard > 0.0 else None
    return guarded(float(ledger.value(fit)), samples, standard)


def _worse(one: Judgement | None, other: Judgement) -> Judgement:
    """The verdict that weighs more; of two alike, the one that is first."""
    return other if one is None or WEIGHT[other.verdict] > WEIGHT[one.verdict] else one


def _enter_casting(ledger: Ledger) -> None:
    """Enter the casting's limit: first yield, or its share of the tensile strength."""
    if ledger.value("casting.is_brittle") == "cracks":
        share = ledger.default("brittle_share")
        ledger.fact(SHARE, Given(share.value, Kind.ASSUMED, source=share.source, typed=share.note))
        ledger.compute(
            CASTING_PRESSURE,
            brittle_limit_pressure,
            pair="fit.rings",
            tensile_strength="casting.strength",
            share="fit.brittle_share",
        )
        words, of = "Fit at the casting's limit", "hoop tension at its share of tensile strength"
    else:
        ledger.compute(
            CASTING_PRESSURE,
            casting_yield_pressure,
            pair="fit.rings",
            yield_strength="casting.strength",
        )
        words, of = "Fit at first yield", "plain ring; ports and thin webs yield sooner"
    ledger.compute(
        Line("fit.yield_fit", words, Q.DEVIATION, "diametral", of=of),
        interference_at_limit,
        pair="fit.rings",
        limit_pressure="fit.limit_pressure",
    )
