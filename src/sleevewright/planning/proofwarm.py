"""A cooled bore that was gauged before it was at 20 degC, as the proof takes it.

A bore is brought to 20 degC by the growth of its iron.  In its casting it is open besides by
what the fit gives back when warm, and that is taken off here, once, for every use.
"""

from __future__ import annotations

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.hone_heat import fit_easing
from sleevewright.core.fits.cooled import temperature_over
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, known_in
from sleevewright.planning.ledger import Given, Ledger, Line

Q = Quantity
BORE = "cool.bore"
RISE = "cool.bore.part_rise"
EASED = Line(
    "cool.eased", "Cooled bore, open by the fit's easing", Q.DEVIATION, "diametral",
    of="at the temperature at which it was gauged; taken off beside iron's growth",
)  # fmt: skip
CORRECTED = Line(
    "cool.corrected", "Cooled bore, corrected", Q.SIZE, "diametral",
    of="at 20 °C, iron's growth and the fit's easing taken off; the proof rests on it",
    would_change="let it come to the bench's temperature, and gauge it again",
)  # fmt: skip
IRON_ALONE = (
    "The cooled bore was gauged warm and its fit is not known: it is corrected as iron alone, and "
    "reads large by what the fit had eased. Gauge it cold."
)
NAMES = ("sleeve.od", "fit.effective", "fit.close_up")


def enter_cold(ledger: Ledger, plan: Plan) -> str:
    """Enter the cooled bore at 20 degC; the id of it, that of the bore itself if it was cold."""
    if not ledger.has(RISE) or not ledger.has(BORE):
        return BORE
    if abs(float(ledger.value(RISE))) <= ledger.default("soak_within").value:
        return BORE
    known = {name: known_in(plan, name) for name in (*NAMES, "casting.law", "sleeve.law")}
    values = {name: None if one is None else one.value for name, one in known.items()}
    fit, closed = values["fit.effective"], values["fit.close_up"]
    share = _share(closed, fit)
    if share is None or None in values.values():
        ledger.advise(IRON_ALONE)
        return BORE
    _enter_eased(ledger, plan, share)
    ledger.compute(CORRECTED, rest_of, whole=BORE, part=EASED.id)
    return CORRECTED.id


def _share(closed: object, fit: object) -> float | None:
    """How much of the fit the bore closes up; nothing where either is not known or cannot be."""
    if not isinstance(fit, float) or not isinstance(closed, float):
        return None
    return closed / fit if 0.0 < closed <= fit else None


def _enter_eased(ledger: Ledger, plan: Plan, share: float) -> None:
    """Enter what the fit gives back at the temperature of the part, with its doubt."""
    for name in ("sleeve.od", "fit.effective"):
        if not ledger.has(name):
            from_plan(ledger, plan, name, need="the fit of the sleeve")
    for part in ("casting", "sleeve"):
        if not ledger.has(f"{part}.law"):
            law = known_in(plan, f"{part}.law")
            line = Line(f"{part}.law", f"growth of the {part}'s metal", Q.RECORD, is_detail=True)
            value = None if law is None else law.value
            ledger.fact(line, Given(value, Kind.COMPUTED, "the plan"))
    ratio = Line("cool.easing_share", "close-up, of the fit", Q.RATIO, is_detail=True)
    ledger.fact(ratio, Given(share, Kind.COMPUTED, "the plan"))
    at = Line("cool.bore_at", "Part while the bore was gauged", Q.TEMPERATURE, is_detail=True)
    ledger.compute(at, temperature_over, rise=RISE)
    ledger.compute(EASED, fit_easing, diameter="sleeve.od", interference="fit.effective",
                   ratio=ratio.id, casting_law="casting.law", sleeve_law="sleeve.law",
                   temperature=at.id)  # fmt: skip
