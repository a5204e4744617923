"""A cooled bore that was gauged warm: what warmth is worth, the corrected size, the limit."""

from __future__ import annotations

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.hone_heat import fit_easing
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.fits.cooled import joined_growth
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, known_in
from sleevewright.planning.cooling_told import CoolingTold
from sleevewright.planning.ledger import Given, Ledger, Line

Q = Quantity
WARMEST = 308.15
"""Above this a bore is not corrected but left to cool: 35 degC. [K] practice"""

PER_WARM = Line(
    "cool.warm_bore", "The joined bore grows by", Q.DEVIATION, "diametral",
    of="for 10 °F (5.6 K), the fit's easing with it; free iron grows less",
)  # fmt: skip
EASED = Line(
    "cool.eased", "Of it, what the fit gives back", Q.DEVIATION, "diametral",
    of="at the temperature at which the cooled bore was gauged; a correction by iron leaves it in",
)  # fmt: skip
CORRECTED = Line(
    "cool.corrected", "Cooled bore, corrected", Q.SIZE, "diametral",
    of="at 20 °C, iron's growth and the fit's easing taken off",
    would_change="let it come to the bench's temperature, and gauge it again",
)  # fmt: skip
TOO_WARM = (
    "The bore was gauged with the casting above 35 °C: no correction is worth a proof there. Let "
    "it cool and gauge it again."
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
    _enter_corrected(ledger, plan, told)


def _enter_easing(ledger: Ledger, line: Line, at: str) -> None:
    """Enter what the fit gives back at a temperature."""
    ledger.compute(line, fit_easing, diameter="sleeve.od", interference="fit.effective",
                   ratio="cool.easing_ratio", casting_law="casting.law",
                   sleeve_law="sleeve.law", temperature=at)  # fmt: skip


def _enter_corrected(ledger: Ledger, plan: Plan, told: CoolingTold) -> None:
    """Enter the corrected size, where a bore was gauged away from 20 degC."""
    within = ledger.default("soak_within").value
    read = known_in(plan, "cool.bore")
    if told.bore_at is None or read is None or not isinstance(read.value, float):
        return
    if abs(told.bore_at - REFERENCE_TEMPERATURE) <= within:
        return
    if told.bore_at > WARMEST:
        ledger.caution("cooled-bore-warm", TOO_WARM, "practice")
        ledger.fact(CORRECTED, Given(None, Kind.MEASURED, need="the bore gauged below 35 °C"))
        return
    from_plan(ledger, plan, "cool.bore", need="the cooled bore")
    at = Line("cool.bore_at", "Part while the bore was gauged", Q.TEMPERATURE, is_detail=True)
    probe = ledger.default("probe_temperature").doubt
    ledger.fact(at, Given(told.bore_at, Kind.MEASURED, "the job", standard=probe))
    _enter_easing(ledger, EASED, at.id)
    ledger.compute(CORRECTED, rest_of, whole="cool.bore", part=EASED.id)
