"""Book classes beside the fit that was chosen: named for comparison, never to cut by."""

from __future__ import annotations

from sleevewright.core.fits.ansi_b41 import (
    FORCE,
    GREATEST_INCH_SIZE,
    inch_fit,
    nearest_inch_class,
)
from sleevewright.core.fits.iso286 import GREATEST_SIZE, grade_kept, nearest_iso_class
from sleevewright.planning.answers import Quantity
from sleevewright.planning.ledger import CENTRALLY, Ledger, Line

MEANT = "for comparison; book classes are meant for steel, not for iron in aluminium"
IN_IRON = (
    "for comparison; FN2 is about the tightest that its book names for good cast iron around it"
)
ISO = Line("fit.iso_class", "Among the classes of ISO 286", Quantity.TEXT, of=MEANT)
ANSI = Line("fit.ansi_class", "Among the force fits of ANSI B4.1", Quantity.TEXT, of=MEANT)
GRADE = Line(
    "fit.iso_grade",
    "Cut of the bore, as a grade of ISO 286",
    Quantity.TEXT,
    of="its band from end to end; a book hole is H7",
)


def enter_book_classes(ledger: Ledger) -> None:
    """Enter which book classes lie nearest to the fit; nothing where the tables end."""
    size = ledger.value("sleeve.od")
    if size is not None and size > GREATEST_SIZE:
        return
    fit = {"interference": "fit.as_cut", "diameter": "sleeve.od"}
    ledger.compute(ISO, nearest_iso_class, CENTRALLY, **fit)
    ledger.compute(GRADE, grade_kept, CENTRALLY, size="sleeve.od", tolerance="cut.tolerance")
    if size is None or size <= GREATEST_INCH_SIZE:
        ledger.compute(ANSI, nearest_inch_class, CENTRALLY, **fit)
        if ledger.value("casting.is_brittle") == "cracks":
            ledger.amend(ISO.id, of="for comparison; book classes are meant for steel")
            ledger.amend(ANSI.id, of=IN_IRON)
    if size is not None and size <= GREATEST_INCH_SIZE and _is_remembered(float(size)):
        told = ledger.entry(ANSI.id).answer.of
        ledger.amend(ANSI.id, of=f"{told}; this row of the inch table is from memory")


def _is_remembered(size: float) -> bool:
    """Whether the row of the inch table at this size could not be read."""
    return inch_fit(size=size, designation=FORCE[0]).reading == "memory"
