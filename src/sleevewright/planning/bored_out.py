"""Stage Parent bore: what the bar bores out to, with what the hone is left; diametral at 20 degC.

The fit's own bore is the target of the hone.  The bar stops short of it, so that the hone has
something to lay the peaks with; the fit's own upper limit stays the one that counts.
"""

from __future__ import annotations

from sleevewright.core.allowances import rest_of, size_limit
from sleevewright.core.fits.targets import bored_size
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, known_in, ledger_of
from sleevewright.planning.facts import enter_default
from sleevewright.planning.ledger import Ledger, Line
from sleevewright.units import shown

Q = Quantity
BORED = "bore.bored"
STOCK = Line("bore.hone_stock", "Left for the hone of the parent bore", Q.DEVIATION, "diametral")
OUT_TO = Line(
    BORED,
    "Bore out to",
    Q.SIZE,
    "diametral",
    of="casting at 20 °C",
    would_change="it follows the parent bore that the fit asks for",
)
OUT_LOW = Line(
    "bore.bored_low", "Bored out at least to", Q.SIZE, "diametral", of="casting at 20 °C"
)
LEFT = Line(
    "bore.hone_left",
    "Still to hone, as gauged",
    Q.DEVIATION,
    "diametral",
    of="the fit's bore less the size as gauged; below nought it is past it already",
)


def bored_out(plan: Plan, stock: Entry | None, *, is_honed: bool) -> StageAnswers | None:
    """What the parent bore is bored out to; nothing where the fit asks for no bore yet."""
    if not isinstance(getattr(known_in(plan, "bore.target"), "value", None), float):
        return None
    ledger = ledger_of(plan)
    for name in ("bore.target", "cut.lower", "bore.size"):
        from_plan(ledger, plan, name, need="the parent bore of the fit")
    enter_default(ledger, STOCK, stock, "fit_hone_stock")
    ledger.compute(OUT_TO, bored_size, finished_bore="bore.target", hone_stock=STOCK.id)
    ledger.amend(BORED, of=f"{OUT_TO.of}; {_then(ledger, plan)}")
    ledger.compute(OUT_LOW, size_limit, size=BORED, allowance="cut.lower")
    if ledger.has("bore.size") and not is_honed:
        ledger.compute(LEFT, rest_of, whole="bore.target", part="bore.size")
        _say_nothing_left(ledger, plan)
    return beside(plan, "parent", "Parent bore", ledger.result())


def _then(ledger: Ledger, plan: Plan) -> str:
    """What is done after the bar, in words."""
    if not float(ledger.value(STOCK.id)) > 0.0:
        return "bored to size, nothing is left for the hone"
    told = shown(float(ledger.value("bore.target")), quantity=Q.SIZE.value, system=plan.units)
    return f"then hone to {told.figure} {told.unit}"


def _say_nothing_left(ledger: Ledger, plan: Plan) -> None:
    """Say so where a stock is wanted and the bar has taken it too, inside the limit or not."""
    high = known_in(plan, "bore.target_high")
    size = float(ledger.value("bore.size"))
    is_inside = high is not None and isinstance(high.value, float) and size <= high.value
    if is_inside and float(ledger.value(LEFT.id)) <= 0.0 < float(ledger.value(STOCK.id)):
        ledger.advise(
            "Nothing is left to hone: the bar has reached the fit's bore, inside its upper limit. "
            "A few strokes with the finest stone lay the peaks; gauge after each few."
        )
