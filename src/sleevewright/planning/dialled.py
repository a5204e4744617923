"""The fit straight from the dial, where the gauge was zeroed on this very sleeve.

It stands beside the fit by two sizes, each with its own budget.  Where the two differ by
more than they may, the gauge was zeroed on something else.
"""

from __future__ import annotations

from sleevewright.core.allowances import rest_of
from sleevewright.core.fits.interference import interference
from sleevewright.core.metrology.comparator import fit_from_dial
from sleevewright.planning.answers import Quantity
from sleevewright.planning.ledger import DEEPLY, Ledger, Line
from sleevewright.planning.linear import with_freedom

Q = Quantity

BY_SIZES = Line(
    "fit.by_sizes",
    "Fit by two sizes",
    Q.DEVIATION,
    "diametral",
    of="sleeve as gauged less bore over the size keyed; two micrometer readings in doubt",
)
DIFFERENCE = Line(
    "fit.dial_off", "fit by two sizes less that off the dial", Q.DEVIATION, is_detail=True
)
DIAL = (
    "straight from the dial: the gauge was zeroed on this sleeve, no micrometer in it; "
    "both parts at 20 °C"
)
SURPRISE = 2.0
"""Standard uncertainties by which dial and sizes may differ. Common practice, no source."""


def is_dialled(ledger: Ledger) -> bool:
    """Whether the parent bore was gauged over this very sleeve."""
    return ledger.has("bore.size.by_size")


def enter_dialled(ledger: Ledger, line: Line) -> None:
    """Enter the cold fit off the dial under ``line``, and beside it the one by two sizes."""
    ids = dict(ledger.entry("bore.size").inputs)
    del ids["master_size"]
    ledger.compute(line, fit_from_dial, DEEPLY, diameter="sleeve.od", **ids)
    ledger.compute(
        BY_SIZES, interference, DEEPLY, outside_diameter="sleeve.od", bore="bore.size.by_size"
    )
    ledger.amend("fit.by_sizes", doubt=with_freedom(ledger, "fit.by_sizes"))
    _caution_where_they_differ(ledger)


def _caution_where_they_differ(ledger: Ledger) -> None:
    """Say so where the size keyed is not that of this sleeve."""
    # One micrometer for both sizes cancels between them: what is left is in the samples.
    found = ledger.compute(DIFFERENCE, rest_of, DEEPLY, whole=BY_SIZES.id, part="fit.cold")
    doubt = found.answer.doubt
    if abs(float(found.point)) <= SURPRISE * (0.0 if doubt is None else doubt.standard):
        return
    ledger.caution(
        "dial-and-sizes-differ",
        "The size that the gauge was zeroed at is not that of this sleeve as it was gauged: by "
        "the dial and by two sizes the fit comes out differently. Zero the gauge on this sleeve "
        "again, or gauge the sleeve again; cut nothing until they agree.",
        "practice",
    )
