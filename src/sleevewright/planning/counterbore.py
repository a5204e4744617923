"""Stage Counterbore: how wide and how deep, from the flange that was measured."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import size_limit
from sleevewright.core.fits.targets import counterbore_depth, counterbore_target
from sleevewright.jobs.model import Choice
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import enter_default
from sleevewright.planning.ledger import Given, Ledger, Line, StageResult
from sleevewright.planning.shop import Chosen

Q = Quantity


COUNTERBORE_STAND_OUT = Line(
    "counterbore.stand_out",
    "Flange stands out",
    Q.DEVIATION,
    "axial",
    of="above the deck; negative is below it",
)
COUNTERBORE_DIAMETER = Line(
    "counterbore.diameter", "Counterbore, wide", Q.SIZE, "diametral", of="casting at 20 °C"
)
COUNTERBORE_DEPTH = Line(
    "counterbore.depth",
    "Counterbore, deep",
    Q.SIZE,
    "axial",
    of="from the deck, burr knocked off first",
)


@dataclass(frozen=True)
class CounterboreRecord:
    """What is chosen for the flange's seat."""

    choice: Choice
    count: int
    seed: int
    chosen: Chosen = ()


def counterbore_stage(
    record: CounterboreRecord, sleeve: StageResult, parent: StageResult, fit: StageResult
) -> StageResult:
    """Diameter and depth of the counterbore, each with its two limits."""
    ledger = Ledger(sleeve, parent, fit, count=record.count, seed=record.seed, chosen=record.chosen)
    enter_default(
        ledger,
        COUNTERBORE_STAND_OUT,
        record.choice.stand_out,
        "stand_out",
    )
    tolerance = ledger.default("depth_tolerance")
    for name, sign in (("above", 1.0), ("below", -1.0)):
        ledger.fact(
            Line(
                f"counterbore.{name}",
                f"depth may miss, {name}",
                Q.DEVIATION,
                "axial",
                is_detail=True,
            ),
            Given(
                sign * tolerance.value, Kind.ASSUMED, source=tolerance.source, typed=tolerance.note
            ),
        )
    ledger.compute(
        COUNTERBORE_DIAMETER,
        counterbore_target,
        flange_diameter="flange.od",
        interference="fit.flange_wanted",
    )
    ledger.compute(
        COUNTERBORE_DEPTH,
        counterbore_depth,
        flange_thickness="flange.thickness",
        stand_out="counterbore.stand_out",
    )
    _enter_limits(ledger)
    return ledger.result()


def _enter_limits(ledger: Ledger) -> None:
    """Enter the two limits of width and depth."""
    for what, sense, low, high in (
        ("diameter", "diametral", "cut.lower", "cut.tolerance"),
        ("depth", "axial", "counterbore.below", "counterbore.above"),
    ):
        for which, allowance in (("low", low), ("high", high)):
            ledger.compute(
                Line(
                    f"counterbore.{what}_{which}",
                    f"Counterbore {what}, {which} limit",
                    Q.SIZE,
                    sense,
                ),
                size_limit,
                size=f"counterbore.{what}",
                allowance=allowance,
            )
