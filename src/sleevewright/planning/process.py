"""What a rule of decision does over many parent bores of this shop: both global risks.

What is asked is whether a bore is still below its largest.  The prior is how the shop's
cuts lie about their target.  Nobody has counted them yet, so it is an assumption, and says
so; it changes no verdict on this bore.
"""

from __future__ import annotations

from sleevewright.core.uncertainty.risk import consumer_risk, producer_risk
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity

SPREAD = Line(
    "bore.process_spread",
    "spread of the shop's parent bores",
    Q.DEVIATION,
    "diametral",
    of="standard deviation about the target",
    is_detail=True,
)
READ = Line(
    "bore.read_doubt", "doubt of the bore as gauged", Q.DEVIATION, "diametral", is_detail=True
)
GUARD = Line("bore.guard", "guard band", Q.RATIO, of="in standard uncertainties", is_detail=True)
CONSUMER = Line(
    "bore.consumer_risk",
    "Of all such bores: too large, and passed",
    Q.PROBABILITY,
    of="consumer's risk, gauged as this one; the spread of the cuts is assumed",
    would_change="a surer gauge, or cuts that lie closer to their target",
)
PRODUCER = Line(
    "bore.producer_risk",
    "Of all such bores: not too large, and not passed",
    Q.PROBABILITY,
    of="producer's risk, gauged as this one; the spread of the cuts is assumed",
    would_change="a surer gauge; a guard band trades it for the other",
)


def enter_bore_risks(ledger: Ledger, plan: Plan) -> None:
    """Enter consumer's and producer's risk over all parent bores cut and gauged like this one."""
    size = next((one for one in plan.answers() if one.id == "bore.size"), None)
    if size is None or size.doubt is None or not ledger.has("bore.target_high"):
        return
    for name in ("bore.target", "cut.tolerance"):
        from_plan(ledger, plan, name, need="target of the parent bore")
    share, guard = ledger.default("cut_spread"), ledger.default("guard_factor")
    spread = share.value * float(ledger.value("cut.tolerance"))
    ledger.fact(
        SPREAD, Given(spread, Kind.ASSUMED, share.source, f"{share.stated} of what the cut keeps")
    )
    ledger.fact(READ, Given(size.doubt.standard, Kind.COMPUTED, "derived"))
    ledger.fact(GUARD, Given(guard.value, Kind.CHOSEN, guard.source, guard.stated))
    for line, function in ((CONSUMER, consumer_risk), (PRODUCER, producer_risk)):
        ledger.compute(
            line,
            function,
            CENTRALLY,
            middle="bore.target",
            spread="bore.process_spread",
            standard="bore.read_doubt",
            most="bore.target_high",
            guard="bore.guard",
        )
