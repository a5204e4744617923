"""Stage Make ready: why nothing is touched between the last wipe and the oven.

The slip is the diametral room of the hot bore over the sleeve.  A grain between the two
pushes the sleeve against the other side, so that its whole thickness is gone from the slip.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import rest_of
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, ledger_of, told_size
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Line
from sleevewright.units import from_unit

Q = Quantity
GRAINS = {"inch": (2.0, "thou"), "metric": (50.0, "µm")}
"""A grain of iron or stone dust that a finger hardly feels."""

GRAIN = Line("ready.grain", "A grain of dirt", Q.DEVIATION, of="thickness", is_detail=True)
LEFT = Line(
    "ready.slip_left",
    "Slip left after one grain of dirt",
    Q.DEVIATION,
    "diametral",
    of="slip needed less the grain",
)
EDGE = Line("ready.edge", "Sleeve again, beside the port edges", Q.SIZE, "diametral", of="smallest")
LOST = Line(
    "ready.od",
    "Sleeve's outside since it was measured",
    Q.DEVIATION,
    "diametral",
    of="smallest beside an edge less the size in hand; negative is lost",
    would_change="measure both with one micrometer at one temperature",
)


@dataclass(frozen=True)
class Again:
    """The smallest of the readings beside the port edges, and what one of them is worth."""

    smallest: Entry | None = None
    allowed: float = 12.7e-6  # deburring may take this much off the outside, diametral
    doubt: float = 5.08e-6  # half-width of one reading, about 95 %


def make_ready(plan: Plan, again: Again) -> StageAnswers:
    """What a grain costs of the slip, and what deburring took off the sleeve."""
    ledger = ledger_of(plan)
    from_plan(ledger, plan, "heat.slip", need="slip that is needed")
    figure, unit = GRAINS[plan.units]
    ledger.fact(
        GRAIN, Given(from_unit(figure, unit), Kind.ASSUMED, "practice", f"{figure:g} {unit}")
    )
    ledger.compute(LEFT, rest_of, whole="heat.slip", part="ready.grain")
    ledger.fact(EDGE, told_size(again.smallest, doubt=again.doubt, need="sleeve measured again"))
    from_plan(ledger, plan, "sleeve.od", need="outside of the sleeve in hand")
    remedy = "measure it again with the same micrometer; if it stands, the fit is smaller by this"
    judge = against_limit(-again.allowed, "least", remedy=remedy)
    ledger.compute(LOST, rest_of, How(judge=judge), whole="ready.edge", part="sleeve.od")
    return beside(plan, "ready", "Make ready", ledger.result())
