"""Body and flange pressed at once: what is left of the flange's fit, pressures, ledge.

Where a solid model of this very end is at hand its figures stand instead of the coupled
walls and rings; nothing else changes.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import rest_of, sum_of
from sleevewright.core.fits.coupled import (
    body_pressure,
    counterbore_opening,
    flange_pressure,
    ledge_hoop,
)
from sleevewright.core.fits.flanged import FlangedPair, flanged_end, outside_range
from sleevewright.core.fits.interference import effective_interference
from sleevewright.core.fits.ledge import allowed_tension
from sleevewright.core.fits.ledge_laws import FREE, HELD
from sleevewright.core.uncertainty.sampled import chance_below
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity

STATE = Line(
    "fit.hold_down",
    "Flange while it cools",
    Q.TEXT,
    of="held on its ledge by a clamp or the head, or free to lift",
)
FLANGED = Line("fit.flanged", "sleeve with its flange, and casting", Q.RECORD, is_detail=True)
END = Line("fit.flanged_end", "how that end gives", Q.RECORD, is_detail=True)
OPENS = Line(
    "fit.counterbore_opens",
    "Body opens the counterbore by",
    Q.DEVIATION,
    "diametral",
    of="casting out and flange in, against the flange",
    is_detail=True,
)
LEFT = Line(
    "fit.flange_left",
    "Left of the flange's fit",
    Q.DEVIATION,
    "diametral",
    of="after the body has opened the counterbore; negative is loose after cooling",
    would_change="read flange, counterbore, sleeve and parent bore again: all four count",
)
LOOSE = Line(
    "fit.flange_loose",
    "Chance that the flange is loose after cooling",
    Q.PROBABILITY,
    of="cold; a loose flange is no fault where its clearance was chosen",
)
WORKING = Line("fit.flange_working", "flange fit that is to work", Q.DEVIATION, is_detail=True)
NEEDED = Line(
    "fit.flange_needed",
    "Flange fit for it to work",
    Q.DEVIATION,
    "diametral",
    of="so that the wanted rest is left after the body has opened the counterbore",
    is_detail=True,
)
PRESSURE = Line(
    "fit.flange_pressure",
    "Pressure at the flange",
    Q.PRESSURE,
    of="mean, with the body fitted too",
    would_change="all four diameters: a few tenths of either fit double it",
)
BODY = Line(
    "fit.body_pressure",
    "Pressure at the body, with the flange",
    Q.PRESSURE,
    of="mean below the ledge, with what the flange takes off",
    is_detail=True,
)
LEDGE = Line(
    "fit.ledge_hoop",
    "Pull around the ledge",
    Q.PRESSURE,
    of="mean hoop tension in its face; a sharp corner sees more: give the corner its radius",
    would_change="less fit at the flange",
)
OPENING_MISFIT = Line(
    "fit.flange_opening_misfit", "law of the opening", Q.RATIO, of="around 1", is_detail=True
)
MISFITS = {HELD: "flange_opening_misfit_held", FREE: "flange_opening_misfit_free"}
"""What the law of the opening may be wrong by, for each state of the flange."""
STIFFNESS = Line(
    "fit.flange_stiffness", "stiffness at the flange", Q.RATIO, of="around 1", is_detail=True
)
LEDGE_MISFIT = Line(
    "fit.ledge_misfit", "mean pull on the ledge", Q.RATIO, of="around 1", is_detail=True
)
ALLOWED_SHARE = Line("fit.ledge_share", "share of the strength allowed", Q.RATIO, is_detail=True)
WORKS = Line(
    "fit.flange_effective",
    "Flange's fit that works",
    Q.DEVIATION,
    "diametral",
    of="after the roughness has flattened; flange and ledge as rough as body and bore",
    is_detail=True,
)
LOSS = Line("fit.flange_loss", "what flattens at the flange", Q.DEVIATION, is_detail=True)
NEEDED_SMOOTH = Line(
    "fit.flange_needed_smooth", "fit of a smooth flange to work", Q.DEVIATION, is_detail=True
)
ALLOWED = Line("fit.ledge_allowed", "pull that the ledge may see", Q.PRESSURE, is_detail=True)
ALL_USED = (
    "The body's fit opens the counterbore by more than the flange's fit: the flange is loose "
    "after cooling and the body alone holds. That is no fault if it is meant; if the flange is to "
    "work, give it the fit that is told for it, and see what the ledge then bears."
)


@dataclass(frozen=True)
class SolidFigure:
    """One figure of a solid model, with its standard doubt; SI."""

    value: float
    standard: float = 0.0


@dataclass(frozen=True)
class SolidEnd:
    """What a solid model of this end answers in place of the coupled walls and rings."""

    model: str  # what it was, as the page names it
    opening: SolidFigure  # of the counterbore against the flange, diametral [m]
    flange_pressure: SolidFigure  # [Pa]
    body_pressure: SolidFigure  # [Pa]
    ledge_hoop: SolidFigure  # [Pa]


def enter_two_fits(ledger: Ledger, hold_down: str, solid: SolidEnd | None) -> None:
    """Enter what body and flange do to each other."""
    _enter_state(ledger, hold_down)
    _enter_pair(ledger)
    _enter_roughness(ledger)
    if solid is None:
        _enter_coupled(ledger)
    else:
        _enter_solid(ledger, solid)
    _enter_left(ledger)
    if ledger.has("fit.ledge_hoop"):
        _judge_ledge(ledger)


def _enter_left(ledger: Ledger) -> None:
    """Enter what is left of the flange's fit, and what it would have to be."""
    ledger.compute(LEFT, rest_of, whole=_works(ledger), part="fit.counterbore_opens")
    nothing = Line("fit.flange_nothing", "no fit left", Q.DEVIATION, is_detail=True)
    ledger.fact(nothing, Given(0.0, Kind.CHOSEN, source="derived"))
    ledger.compute(LOOSE, chance_below, samples="fit.flange_left", limit="fit.flange_nothing")
    working = ledger.default("flange_working")
    ledger.fact(WORKING, Given(working.value, Kind.ASSUMED, working.source, working.note))
    opens = {"wanted": "fit.flange_working", "allowance": "fit.counterbore_opens"}
    if ledger.has(WORKS.id):
        ledger.compute(LOSS, rest_of, whole="fit.flange_as_cut", part=WORKS.id)
        ledger.compute(NEEDED_SMOOTH, sum_of, **opens)
        opens = {"wanted": NEEDED_SMOOTH.id, "allowance": LOSS.id}
    ledger.compute(NEEDED, sum_of, **opens)
    left, cut = ledger.value("fit.flange_left"), ledger.value("fit.flange_as_cut")
    if left is not None and left <= 0.0 < cut:
        ledger.advise(ALL_USED)


def _enter_roughness(ledger: Ledger) -> None:
    """Enter what flattens at the flange as it does at the body, where a roughness was told."""
    told = [ledger.value(f"fit.{one}_roughness") for one in ("sleeve", "casting")]
    if any(told):
        ledger.compute(
            WORKS,
            effective_interference,
            interference="fit.flange_as_cut",
            sleeve_roughness="fit.sleeve_roughness",
            casting_roughness="fit.casting_roughness",
            flattening="fit.flattening",
        )


def _works(ledger: Ledger) -> str:
    """The flange's fit that works: less what flattens, where that is known."""
    return WORKS.id if ledger.has(WORKS.id) else "fit.flange_as_cut"


def _enter_state(ledger: Ledger, hold_down: str) -> None:
    """Enter whether the flange is held down; a clamp until it is cool is the usual way."""
    told = Given(HELD, Kind.ASSUMED, "practice", "a clamp from seating until it is cool")
    ledger.fact(STATE, Given(hold_down, Kind.CHOSEN, "the job") if hold_down else told)


def _enter_pair(ledger: Ledger) -> None:
    """Enter both parts with the flange at their end."""
    ledger.compute(
        FLANGED,
        FlangedPair,
        body="fit.rings",
        flange_diameter="flange.od",
        flange_thickness="flange.thickness",
        body_length="sleeve.length",
        hold_down="fit.hold_down",
    )
    if ledger.has("fit.flanged"):
        for one in outside_range(ledger.value("fit.flanged")):
            ledger.caution(one.code, one.text, one.source)


def _enter_coupled(ledger: Ledger) -> None:
    """Enter the answers of the coupled walls and rings, with what they may be wrong by."""
    state = ledger.value("fit.hold_down")
    for line, name, value in (
        (OPENING_MISFIT, MISFITS[state], 1.0),
        (STIFFNESS, "flange_stiffness_misfit", 1.0),
        (LEDGE_MISFIT, "ledge_hoop_misfit", 1.0),
    ):
        may = ledger.default(name)
        ledger.fact(line, Given(value, Kind.ASSUMED, may.source, may.note, may.value))
    ledger.compute(END, flanged_end, pair="fit.flanged")
    ledger.compute(
        OPENS,
        counterbore_opening,
        flanged="fit.flanged_end",
        body_interference="fit.effective",
        misfit="fit.flange_opening_misfit",
    )
    ledger.compute(
        PRESSURE,
        flange_pressure,
        flanged="fit.flanged_end",
        flange_interference=_works(ledger),
        opening="fit.counterbore_opens",
        stiffness="fit.flange_stiffness",
    )
    ledger.compute(
        BODY,
        body_pressure,
        flanged="fit.flanged_end",
        pressure="fit.pressure",
        opening="fit.counterbore_opens",
        flange_pressure="fit.flange_pressure",
    )
    ledger.compute(
        LEDGE,
        ledge_hoop,
        flanged="fit.flanged_end",
        body_pressure="fit.body_pressure",
        flange_pressure="fit.flange_pressure",
        misfit="fit.ledge_misfit",
    )


def _enter_solid(ledger: Ledger, solid: SolidEnd) -> None:
    """Enter the figures of a solid model where the coupled ones would stand."""
    for line, figure in (
        (OPENS, solid.opening),
        (PRESSURE, solid.flange_pressure),
        (BODY, solid.body_pressure),
        (LEDGE, solid.ledge_hoop),
    ):
        told = Given(figure.value, Kind.COMPUTED, solid.model, "", figure.standard)
        ledger.fact(line, told)


def _judge_ledge(ledger: Ledger) -> None:
    """Judge the pull around the ledge: yield, or in iron its share of what breaks it."""
    cracks = ledger.value("casting.is_brittle") == "cracks"
    share = ledger.default("brittle_share")
    told = Given(share.value, Kind.ASSUMED, share.source, share.note)
    whole = Given(1.0, Kind.ASSUMED, "practice", "all of the yield strength")
    ledger.fact(ALLOWED_SHARE, told if cracks else whole)
    ledger.compute(
        ALLOWED,
        allowed_tension,
        CENTRALLY,
        strength="casting.strength",
        share="fit.ledge_share",
    )
    allowed, pull = ledger.value("fit.ledge_allowed"), ledger.entry("fit.ledge_hoop")
    if allowed is None or pull.is_missing:
        return
    judge = against_limit(allowed, "most", remedy="less fit at the flange, or a rounder corner")
    by = judge.by(ledger.default("guard_factor").value)
    doubt = pull.answer.doubt
    standard = 0.0 if doubt is None else doubt.standard
    samples = ledger.samples("fit.ledge_hoop") if standard > 0.0 else None
    ledger.amend("fit.ledge_hoop", judgement=by(float(pull.point), samples, standard))
