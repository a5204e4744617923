"""The shop's own habit in a fit: what was learned, once a person has accepted it.

It moves the fit that is to be expected, never the fit that was measured.  What has to clear
at the drop keeps the tighter of both, because a fit that proves slack afterwards still had
to go in as it was gauged.
"""

from __future__ import annotations

from sleevewright.core.allowances import fit_as_cut
from sleevewright.core.learned import fit_to_clear, fit_with_habit
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.ledger import DEEPLY, Given, Ledger, Line
from sleevewright.planning.linear import with_freedom
from sleevewright.planning.shop import Posterior
from sleevewright.units import shown

HABIT = "bias"
"""Name of the learned difference between the fit obtained and the fit measured."""

SHOP_BIAS = Line(
    "shop.bias",
    "The shop's own habit",
    Quantity.DEVIATION,
    "diametral",
    of="fit obtained less fit measured, learned from past jobs and accepted",
    would_change="take it back at What the shop has learned",
)
MEASURED = Line(
    "fit.without_habit",
    "Fit to expect, without the shop's habit",
    Quantity.DEVIATION,
    "diametral",
    of="both parts at 20 °C",
    is_detail=True,
)
TO_CLEAR = Line(
    "fit.to_clear",
    "Fit that has to clear",
    Quantity.DEVIATION,
    "diametral",
    of="at the drop: with the habit or without it, whichever is tighter",
    is_detail=True,
)


def enter_habit(ledger: Ledger, line: Line, habit: Posterior, *, units: str) -> None:
    """Enter the fit to expect with the habit in it, under the line's own name."""
    ledger.fact(
        SHOP_BIAS,
        Given(habit.value, Kind.CHOSEN, source=habit.source, standard=habit.standard),
    )
    ledger.compute(MEASURED, fit_as_cut, DEEPLY, chosen="fit.cold", miss="cut.miss")
    ledger.compute(
        line, fit_with_habit, DEEPLY, chosen="fit.cold", miss="cut.miss", bias="shop.bias"
    )
    expected = with_freedom(ledger, line.id)
    ledger.amend(line.id, doubt=expected, is_detail=False, would_change=SHOP_BIAS.would_change)
    ledger.compute(
        TO_CLEAR, fit_to_clear, DEEPLY, without_habit="fit.without_habit", with_habit="fit.as_cut"
    )
    told = shown(abs(habit.value), quantity="fine deviation", system=units)
    way = "less" if habit.value < 0.0 else "more"
    ledger.advise(
        f"Past jobs came out {told.figure} {told.unit} {way} than was measured, on diameter; "
        f"that is counted in ({habit.source})."
    )


def clearing(ledger: Ledger) -> str:
    """The fit that has to clear at the drop: as expected, or the tighter with a habit."""
    return TO_CLEAR.id if ledger.has(TO_CLEAR.id) else "fit.as_cut"
