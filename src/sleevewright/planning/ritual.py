"""Stage Make ready: why nothing is touched between the last wipe and the oven.

The slip is the diametral room of the hot bore over the sleeve.  A grain between the two
pushes the sleeve against the other side, so that its whole thickness is gone from the slip.
"""

from __future__ import annotations

import math

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.cleanout import farthest_of
from sleevewright.core.metrology.answers import setting_chain
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan
from sleevewright.planning.comparing import GAUGE_EXPANSION
from sleevewright.planning.facts import enter_metal
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.proofing import Frame, Gauged, enter_read, reading_doubt, within
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
READ = Line("ready.read", "Sleeve again, as read", Q.RECORD, is_detail=True)
ERROR = Line("ready.error", "error of one reading of the sleeve again", Q.DEVIATION, is_detail=True)
EDGE = Line(
    "ready.edge",
    "Sleeve again, beside the port edges",
    Q.SIZE,
    "diametral",
    of="the reading farthest off, at 20 °C",
)
TRUE = Line("ready.edge_true", "Sleeve again, with its error", Q.SIZE, is_detail=True)
CHANGED = Line(
    "ready.od",
    "Sleeve's outside since it was measured",
    Q.DEVIATION,
    "diametral",
    of="the reading farthest off less the size in hand; negative is lost, positive a burr",
    would_change="measure both with one micrometer at one temperature",
)
UNTOLD_WARMTH = 3.0
"""K that a sleeve may be off 20 degC where nothing was told. Common practice, no source."""


def make_ready(frame: Frame, again: Gauged, sleeve: Part) -> StageAnswers:
    """What a grain costs of the slip, and whether deburring left the sleeve as it was."""
    plan, ledger = frame.plan, frame.ledger()
    from_plan(ledger, plan, "heat.slip", need="slip that is needed")
    figure, unit = GRAINS[plan.units]
    ledger.fact(
        GRAIN, Given(from_unit(figure, unit), Kind.ASSUMED, "practice", f"{figure:g} {unit}")
    )
    ledger.compute(LEFT, rest_of, whole="heat.slip", part="ready.grain")
    _enter_again(ledger, plan, again, sleeve)
    remedy = "take a burr off and measure again; if metal is lost, reckon the fit with the size now"
    judge = within(ledger, "edge_change", remedy)
    ledger.compute(CHANGED, rest_of, How(judge=judge), whole="ready.edge_true", part="sleeve.od")
    return beside(plan, "ready", "Make ready", ledger.result())


def _enter_again(ledger: Ledger, plan: Plan, again: Gauged, sleeve: Part) -> None:
    """Enter the sleeve as it was measured again, at 20 degC, with what a reading is worth."""
    enter_metal(ledger, "edge", sleeve, fallback="grey-iron", name="sleeve")
    enter_read(ledger, READ, again.grid, need="sleeve measured again")
    expansion = ledger.default("gauge_expansion")
    ledger.fact(GAUGE_EXPANSION, Given(expansion.value, Kind.ASSUMED, source=expansion.source))
    from_plan(ledger, plan, "sleeve.od", need="outside of the sleeve in hand")
    ledger.compute(
        EDGE,
        farthest_of,
        CENTRALLY,
        readings="ready.read",
        part_expansion="edge.expansion",
        gauge_expansion="gauge.expansion",
        size="sleeve.od",
    )
    standard = reading_doubt(ledger, again, "micrometer_setting")
    if again.grid is not None and again.grid.part_temperature is None and ledger.has("sleeve.od"):
        grows = float(ledger.value("edge.expansion")) * float(ledger.value("sleeve.od"))
        standard = math.hypot(standard, grows * UNTOLD_WARMTH)
    ledger.fact(ERROR, Given(0.0, Kind.MEASURED, "the readings", standard=standard))
    ledger.compute(TRUE, setting_chain, own="ready.edge", master="ready.error")
