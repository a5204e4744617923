"""Form allowance and chance of leaning of a drop: as judged, or as the shop's own drops say.

What was learned counts once a person has accepted it, and stands beside what is judged without
it.  A form that was measured on the hot parts counts before either.
"""

from __future__ import annotations

from sleevewright.core.materials import default
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import enter_default
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.shop import Posterior

Q = Quantity
DROP_FORM_LEARNED, DROP_LEAN_LEARNED = "drop-form", "drop-lean"
"""Names of what was learned: median form with the spread of its logarithm; chance of leaning."""

FORM_JUDGED = Line(
    "drop.form_judged",
    "Slip that shape uses up, as judged",
    Q.DEVIATION,
    "diametral",
    of="without this shop's own drops",
)
LEAN_JUDGED = Line(
    "drop.lean_judged",
    "Leans against one side, as judged",
    Q.PROBABILITY,
    of="chance, without this shop's own drops",
)
LEAN = Line(
    "drop.lean",
    "Leans against one side",
    Q.PROBABILITY,
    of="chance, learned from this shop's own drops and accepted",
    would_change="take it back at What the shop has learned",
)


def enter_form(
    ledger: Ledger,
    line: Line,
    told: Entry | None,
    form: Posterior | None,
    lean: Posterior | None,
) -> dict[str, str]:
    """Enter both; returns what a case takes from them beyond its form, by its member."""
    if told is not None or form is None:
        enter_default(ledger, line, told, "form_allowance")
    else:
        enter_default(ledger, FORM_JUDGED, None, "form_allowance")
        ledger.fact(
            line,
            Given(
                form.value,
                Kind.CHOSEN,
                source=form.source,
                standard=form.standard,
                shape=Shape.LOGNORMAL,
            ),
        )
        ledger.advise(f"Slip that shape uses up is taken from this shop's drops ({form.source}).")
    if lean is None:
        return {}
    judged = default("lean_share")
    ledger.fact(LEAN_JUDGED, Given(judged.value, Kind.ASSUMED, source=judged.source))
    ledger.fact(LEAN, Given(lean.value, Kind.CHOSEN, source=lean.source))
    return {"lean_share": LEAN.id}
