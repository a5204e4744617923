"""How much of its fit the bore closes by, and what the casting's stiffness does to the proof.

Plain rings, or a solid model where there is one; less what friction along the fit takes off.
A casting with fins enters by a band of outside diameters, and the proof is told at its ends.
"""

from __future__ import annotations

import math
from dataclasses import replace

from sleevewright.core.fits.closeratio import close_up_ratio, opened_ratio, opening_default
from sleevewright.core.fits.posterior import FitPosterior, mean_proved_fit, proved_fit
from sleevewright.core.fits.rings import RingPair
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.errors import NotConverged
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity
from sleevewright.planning.beside import SAMPLES, from_plan
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity
COVERAGE = 0.95

RINGS = (
    ("interface_diameter", "sleeve.od", "the sleeve's outside"),
    ("inside_diameter", "cool.before", ""),
    ("outside_diameter", "casting.outside_diameter", "what the casting gives way as"),
    ("sleeve_modulus", "sleeve.modulus", "stiffness of the sleeve"),
    ("sleeve_poisson", "sleeve.poisson", "Poisson's ratio of the sleeve"),
    ("casting_modulus", "casting.modulus", "stiffness of the casting"),
    ("casting_poisson", "casting.poisson", "Poisson's ratio of the casting"),
)
NARROWER = "measure the casting's outside at this height, or the solid model of it"
OUTSIDE = "casting.outside_diameter"
ENDS = (
    ("core", "Proved, if the casting is as soft as its core"),
    ("fins", "Proved, if fins stiffen the casting"),
)
"""Least and greatest outside diameter of the ring that stands for the casting."""

OPENING = Line("cool.opening", "what friction along the fit takes off", Q.RATIO, is_detail=True)
PAIR = Line("cool.rings", "sleeve and casting as rings", Q.RECORD, is_detail=True)
RATIO = Line(
    "cool.ratio", "Close-up, of the fit", Q.RATIO, of="by plain rings, friction taken off",
    would_change=NARROWER, is_detail=True,
)  # fmt: skip
RELATIVE = Line("cool.ratio_doubt", "relative doubt of that ratio", Q.RATIO, is_detail=True)


def enter_ratio(ledger: Ledger, plan: Plan) -> None:
    """Enter how much of the fit the bore closes by: plain rings, or the solid model."""
    _enter_opening(ledger, plan)
    for _, identity, need in RINGS:
        if need:
            as_stated(ledger, plan, identity, need=need)
    if ledger.has("cool.solid_ratio"):
        line = replace(RATIO, of="by the solid model, friction taken off", would_change="")
        ledger.compute(line, opened_ratio, ratio="cool.solid_ratio", opening="cool.opening")
    else:
        ledger.compute(PAIR, RingPair, **{parameter: one for parameter, one, _ in RINGS})
        ledger.compute(RATIO, close_up_ratio, pair="cool.rings", opening="cool.opening")
    ledger.fact(RELATIVE, Given(_relative(ledger), Kind.COMPUTED, "derived", need=NARROWER))


def as_stated(ledger: Ledger, plan: Plan, identity: str, *, need: str) -> None:
    """Enter an answer of the plan with the shape that its doubt was stated with."""
    known = next((one for one in plan.answers() if one.id == identity), None)
    doubt = None if known is None else known.doubt
    if known is None or doubt is None or doubt.method != "stated" or doubt.shape == "normal":
        from_plan(ledger, plan, identity, need=need)
        return
    ledger.fact(
        Line(known.id, known.label, known.quantity, known.sense, known.of, is_detail=True),
        Given(known.value, known.kind, known.source or "the plan", known.typed,
              doubt.standard, shape=Shape(doubt.shape)),
    )  # fmt: skip


def _enter_opening(ledger: Ledger, plan: Plan) -> None:
    """Enter what friction along the fit takes off the close-up: little where both grow alike."""
    grows = {
        one.id: one.value
        for one in plan.answers()
        if one.id.endswith(".expansion") and isinstance(one.value, float)
    }
    casting, sleeve = grows.get("casting.expansion"), grows.get("sleeve.expansion")
    usual = ledger.default(opening_default(casting=casting, sleeve=sleeve))
    ledger.fact(
        OPENING,
        Given(usual.value, Kind.ASSUMED, usual.source, usual.note, usual.doubt or 0.0,
              shape=Shape(usual.spread)),
    )  # fmt: skip


def _relative(ledger: Ledger) -> float | None:
    """Relative standard uncertainty of the ratio."""
    if not ledger.has("cool.ratio"):
        return None
    doubt = ledger.entry("cool.ratio").answer.doubt
    return 0.0 if doubt is None else doubt.standard / float(ledger.value("cool.ratio"))


def enter_band(ledger: Ledger) -> None:
    """Enter the proof at both ends of what the casting may give way as."""
    if not ledger.has("cool.posterior") or ledger.has("cool.solid_ratio"):
        return
    doubt = ledger.entry(OUTSIDE).answer.doubt
    if doubt is None:
        return
    reach = math.sqrt(3.0) if doubt.shape == Shape.RECTANGULAR.value else 2.0
    middle = float(ledger.value(OUTSIDE))
    for (key, label), outside in zip(
        ENDS, (middle - reach * doubt.standard, middle + reach * doubt.standard), strict=True
    ):
        _enter_end(ledger, key, label, outside)


def _enter_end(ledger: Ledger, key: str, label: str, outside: float) -> None:
    """Enter the proof with a casting of one outside diameter that is taken for known."""
    end = f"cool.outside_{key}"
    ledger.fact(
        Line(end, "casting, taken as", Q.SIZE, "diametral", is_detail=True),
        Given(outside, Kind.ASSUMED, source="the band of the casting"),
    )
    named = {parameter: one for parameter, one, _ in RINGS} | {"outside_diameter": end}
    rings, ratio, fit = f"cool.rings_{key}", f"cool.ratio_{key}", f"cool.posterior_{key}"
    ledger.compute(Line(rings, "rings", Q.RECORD, is_detail=True), RingPair, **named)
    ledger.compute(
        Line(ratio, "close-up, of the fit", Q.RATIO, is_detail=True), close_up_ratio,
        pair=rings, opening="cool.opening",
    )  # fmt: skip
    line = Line(fit, "the fit as proved", Q.RECORD, is_detail=True)
    try:
        ledger.compute(
            line, proved_fit, CENTRALLY, samples=ratio, prior="cool.prior",
            stations="cool.stations",
        )  # fmt: skip
    except NotConverged:
        return
    of = "the casting taken at this end of its band"
    ledger.compute(
        Line(f"cool.proved_{key}", label, Q.DEVIATION, "diametral", of, NARROWER),
        mean_proved_fit, CENTRALLY, posterior=fit,
    )  # fmt: skip
    doubt_of_fit(ledger, f"cool.proved_{key}", fit)


def doubt_of_fit(ledger: Ledger, name: str, posterior: str) -> None:
    """Give a fit the width of the mixture that it is the mean of."""
    if not ledger.has(name):
        return
    fit: FitPosterior = ledger.value(posterior)
    low, high = (fit.quantile(share) for share in (0.025, 0.975))
    doubt = Doubt(fit.standard, low, high, COVERAGE, "sampled", samples=SAMPLES)
    ledger.amend(name, doubt=doubt)
