"""Stage Old sleeve out: what is left of the casting, and whether the sleeve in hand serves.

All sizes are diametral at 20 degC except the wall, which is radial.  The sleeve serves
while its outside less the clean-out is at least the fit that was chosen: then there is
still metal to bore to the target.  Where it does not, the size of one that would is said.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import rest_of, wall_left
from sleevewright.core.cutting.cleanout import outside_diameter_for
from sleevewright.core.fits.interference import interference
from sleevewright.core.materials import default
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, Quantity, StageAnswers, Verdict
from sleevewright.planning.beside import beside, from_plan, ledger_of, told_size
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import How, Ledger, Line

Q = Quantity
CLEAN_OUT = Line("old.clean_out", "Clean-out", Q.SIZE, "diametral", of="casting at 20 °C")
THIN = Line("old.outside", "Casting where it is thinnest, outside", Q.SIZE, "diametral")
WALL = Line(
    "old.wall",
    "Wall left of the casting",
    Q.SIZE,
    "radial",
    of="concentric; core shift comes off one side",
    would_change="measure the casting without fins, at its thinnest",
)
STOCK = Line(
    "old.stock",
    "Still to bore to the parent bore",
    Q.DEVIATION,
    "diametral",
    of="parent bore of the fit less clean-out; what the hone takes is in it",
    would_change="gauge the clean-out in more directions",
)
FIT = Line(
    "old.fit",
    "Fit in the clean-out, before it is bored",
    Q.DEVIATION,
    "diametral",
    of="no fit to drop with: what the sleeve in hand has over the clean-out at 20 °C",
    would_change="gauge the clean-out in more directions",
)
NEXT = Line(
    "old.next",
    "Outside of a sleeve that just serves",
    Q.SIZE,
    "diametral",
    of="for the fit that was chosen, with nothing left to clean up",
)


@dataclass(frozen=True)
class OldOut:
    """What was told when the old sleeve was out."""

    clean_out: Entry | None = None
    thin_outside: Entry | None = None  # casting without fins, where it is thinnest


def old_out(plan: Plan, told: OldOut) -> StageAnswers:
    """Wall left, metal still to bore, and whether the sleeve in hand serves."""
    ledger = ledger_of(plan)
    setting = default("gauge_setting").value
    ledger.fact(CLEAN_OUT, told_size(told.clean_out, doubt=setting, need="clean-out diameter"))
    from_plan(ledger, plan, "sleeve.od", need="outside of the sleeve in hand")
    from_plan(ledger, plan, "fit.wanted", need="fit that is wanted")
    from_plan(ledger, plan, "bore.target", need="target of the parent bore")
    _enter_wall(ledger, plan, told)
    wanted = ledger.value("fit.wanted")
    remedy = "the sleeve is too small for this bore: order one of the size below, or accept the fit"
    serves = How(judge=against_limit(0.0, "least", remedy=remedy))
    ledger.compute(STOCK, rest_of, serves, whole="bore.target", part="old.clean_out")
    said = ledger.entry(STOCK.id).answer.judgement
    if said is not None and said.verdict is Verdict.GOOD:
        ledger.amend(STOCK.id, of=f"the sleeve in hand serves; {STOCK.of}")
    judge = None if wanted is None else against_limit(wanted, "least", remedy=remedy)
    ledger.compute(
        FIT, interference, How(judge=judge), outside_diameter="sleeve.od", bore="old.clean_out"
    )
    ledger.compute(NEXT, outside_diameter_for, bore="old.clean_out", interference="fit.wanted")
    return beside(plan, "old", "Old sleeve out", ledger.result())


def _enter_wall(ledger: Ledger, plan: Plan, told: OldOut) -> None:
    """Enter the wall that is left: from the thinnest outside, else from the effective one."""
    if told.thin_outside is not None:
        caliper = default("depth_micrometer_setting").value
        ledger.fact(THIN, told_size(told.thin_outside, doubt=caliper, need="casting's outside"))
        outside = THIN.id
    else:
        outside = "casting.outside_diameter"
        from_plan(ledger, plan, outside, need="outside of the casting")
    ledger.compute(WALL, wall_left, outside_diameter=outside, inside_diameter="old.clean_out")
