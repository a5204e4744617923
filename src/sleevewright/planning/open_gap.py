"""What becomes of a fit that opens in the engine: the gap at which it settles is no fit."""

from __future__ import annotations

import numpy as np

from sleevewright.core.expansion import scaled_law
from sleevewright.core.fits.opening import (
    gap_that_stays,
    gap_without_heat,
    settled_gap,
    settled_sleeve_temperature,
)
from sleevewright.core.fits.opening_line import line_band, opening_line
from sleevewright.core.uncertainty.levels import level_of_share
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import enter_default
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.running import MAP_FROM, MAP_TO
from sleevewright.units import shown

Q = Quantity
LINE_STEPS = 14
ONE_IN_TWENTY = 0.95
FLUX = Line(
    "running.flux",
    "Heat through the sleeve, W/m²",
    Q.RATIO,
    of="its upper part, long hard pull",
    is_detail=True,
)
OPEN_FIT = Line("running.open_fit", "the fit, once its heat has settled", Q.RECORD, is_detail=True)
GAP = Line("fit.hard_gap", "Gap at which it settles, hard pull", Q.DEVIATION, "diametral",
           of="a gap is no fit: it holds nothing; nought is tight")  # fmt: skip
PLAIN = Line("fit.hard_gap_plain", "Gap by the told temperatures alone", Q.DEVIATION, "diametral",
             of="before the hotter sleeve has closed a part of it", is_detail=True)  # fmt: skip
SLEEVE = Line("fit.hard_gap_sleeve", "Sleeve behind that gap", Q.TEMPERATURE,
              of="once its heat has settled", is_detail=True)  # fmt: skip
WORST = Line("fit.hard_gap_p95", "Gap, one such fit in twenty more", Q.DEVIATION, "diametral",
             of="at a hard pull, settled")  # fmt: skip
SAYS = Line("fit.open_says", "If it opens", Q.TEXT)
LINES = Line("running.line", "sleeve temperatures at which it opens", Q.RECORD, is_detail=True)
BAND = Line("fit.map_band", "Where it opens: one in twenty, half, nineteen in twenty", Q.RECORD,
            of="rows shares, columns casting", is_detail=True)  # fmt: skip


def enter_open_gap(ledger: Ledger, cooling: str, units: str) -> None:
    """Enter the gap that stays at a hard pull, and where the line of the map lies."""
    for part in ("casting", "sleeve"):
        ledger.compute(
            Line(f"running.{part}_law", f"law of growth, {part}", Q.RECORD, is_detail=True),
            scaled_law,
            reference=f"{part}.expansion",
            slope=f"{part}.expansion_slope",
            scale=f"{part}.growth_scale",
            low=f"{part}.law_low",
            high=f"{part}.law_high",
        )
    enter_default(ledger, FLUX, None, f"through_flux_{cooling}")
    ledger.compute(
        OPEN_FIT,
        settled_gap,
        **_PAIR,
        casting_temperature="running.hard_casting",
        sleeve_temperature="running.hard_sleeve",
        flux="running.flux",
    )
    ledger.compute(GAP, gap_that_stays, open_fit="running.open_fit")
    ledger.compute(PLAIN, gap_without_heat, CENTRALLY, open_fit="running.open_fit")
    ledger.compute(SLEEVE, settled_sleeve_temperature, open_fit="running.open_fit")
    _enter_worst(ledger, units)
    _enter_band(ledger)


_PAIR = {
    "diameter": "sleeve.od",
    "interference": "fit.effective",
    "casting_law": "running.casting_law",
    "sleeve_law": "running.sleeve_law",
}


def _enter_worst(ledger: Ledger, units: str) -> None:
    """Enter the gap that one fit in twenty is beyond, and say what it means."""
    samples = ledger.samples("fit.hard_gap") if ledger.has("fit.hard_gap") else None
    if not isinstance(samples, np.ndarray):
        return
    ledger.fact(
        Line("running.gap_share", "share, nineteen in twenty", Q.RATIO, is_detail=True),
        Given(ONE_IN_TWENTY, Kind.CHOSEN, source="practice"),
    )
    ledger.compute(WORST, level_of_share, samples="fit.hard_gap", share="running.gap_share")
    ledger.fact(SAYS, Given(_said(ledger, units), Kind.COMPUTED, source="derived"))


def _said(ledger: Ledger, units: str) -> str:
    """What happens when it opens, in a sentence with its figures."""
    worst = ledger.value("fit.hard_gap_p95")
    figures = shown(worst, quantity=Q.DEVIATION.value, system=units)
    effect = (
        "a gap holds up the heat, the sleeve gets hotter and larger and closes most of it again"
    )
    if not worst > 0.0:
        return f"it stays tight at a hard pull, nineteen times in twenty; if it opened, {effect}"
    gap = f"{figures.figure} {figures.unit} or more"
    if not float(figures.figure):
        gap = "less than can be gauged"
    return (
        f"{effect}; at a hard pull one such fit in twenty settles at a gap of {gap}, "
        "and a gap is no fit: it holds nothing and lets oil in"
    )


def _enter_band(ledger: Ledger) -> None:
    """Enter the band of the line of the running map."""
    step = (MAP_TO - MAP_FROM) / (LINE_STEPS - 1)
    axis = tuple(MAP_FROM + step * k for k in range(LINE_STEPS))
    ledger.fact(
        Line("running.line_axis", "casting temperatures of the line", Q.RECORD, is_detail=True),
        Given(axis, Kind.CHOSEN, source="practice"),
    )
    ledger.compute(LINES, opening_line, How(), **_PAIR, casting_temperatures="running.line_axis")
    if ledger.has("running.line"):
        ledger.compute(BAND, line_band, samples="running.line")
