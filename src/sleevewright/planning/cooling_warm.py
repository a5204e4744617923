"""A cooled bore that is gauged warm: what warmth is worth, and the limit; the proof corrects it."""

from __future__ import annotations

from sleevewright.core.cutting.hone_heat import fit_easing
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.fits.cooled import joined_growth
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan
from sleevewright.planning.cooling_told import CoolingTold
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.provable import WARMEST

Q = Quantity
PER_WARM = Line(
    "cool.warm_bore", "The joined bore grows by", Q.DEVIATION, "diametral",
    of="for 10 °F (5.6 K), the fit's easing with it; free iron grows less",
)  # fmt: skip
TOO_WARM = (
    "The bore was gauged with the casting above 35 °C (95 °F): no correction is worth a proof "
    "there. Let it cool and gauge it again."
)


def enter_warm(ledger: Ledger, plan: Plan, told: CoolingTold) -> None:
    """Enter what warmth is worth here, and the size that was gauged warm without it."""
    for name in ("fit.effective", "fit.close_up"):
        from_plan(ledger, plan, name, need="the sizes of the fit")
    fit, closed = (ledger.value(one) for one in ("fit.effective", "fit.close_up"))
    if not fit or not closed or not 0.0 < closed <= fit:
        return
    ratio = Line("cool.easing_ratio", "close-up, of the fit", Q.RATIO, is_detail=True)
    ledger.fact(ratio, Given(closed / fit, Kind.COMPUTED, "the plan"))
    warm = ledger.default("warm_part")
    at = Line("cool.warm_at", "20 °C and so much more", Q.TEMPERATURE, is_detail=True)
    ledger.fact(at, Given(REFERENCE_TEMPERATURE + warm.value, Kind.CHOSEN, warm.source, warm.note))
    worth = Line("cool.warm_eased", "of it, what the fit gives back", Q.DEVIATION, is_detail=True)
    _enter_easing(ledger, worth, at.id)
    ledger.compute(PER_WARM, joined_growth, inside_diameter="sleeve.id", easing=worth.id,
                   sleeve_law="sleeve.law", temperature=at.id)  # fmt: skip
    _warn_warm(ledger, told)


def _enter_easing(ledger: Ledger, line: Line, at: str) -> None:
    """Enter what the fit gives back at a temperature."""
    ledger.compute(line, fit_easing, diameter="sleeve.od", interference="fit.effective",
                   ratio="cool.easing_ratio", casting_law="casting.law",
                   sleeve_law="sleeve.law", temperature=at)  # fmt: skip


def _warn_warm(ledger: Ledger, told: CoolingTold) -> None:
    """Say where a bore was gauged too warm; the proof takes the easing off below that."""
    if told.bore_at is not None and told.bore_at > WARMEST:
        ledger.caution("cooled-bore-warm", TOO_WARM, "practice")
