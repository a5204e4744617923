"""What the hold of the oven asks to be proved: the slip as gauged, against the slip needed.

The gauge is zeroed on this very sleeve, so that only its repeat is in doubt.  Body and
flange are judged each; the tighter one decides.
"""

from __future__ import annotations

from sleevewright.core.allowances import rest_of
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Line
from sleevewright.planning.proofing import Frame

Q = Quantity
GAUGED = (
    ("body", "Slip gauged at the body"),
    ("flange", "Slip gauged at the flange"),
)
OVER = (
    ("body", "Slip at the body, over what is needed"),
    ("flange", "Slip at the flange, over what is needed"),
)


def slip_gauged(frame: Frame, body: Entry | None, flange: Entry | None) -> StageAnswers:
    """Whether the hot bore clears the sleeve by what the drop needs, at body and flange."""
    plan, ledger = frame.plan, frame.ledger()
    from_plan(ledger, plan, "heat.slip", need="slip that is needed")
    repeat = ledger.default("indicator_setting").value / STATED_COVERAGE_FACTOR
    remedy = "back into the oven until the needle is at go; no sleeve goes in on less"
    judge = against_limit(0.0, "least", remedy=remedy)
    for (key, words), (_, over), told in zip(GAUGED, OVER, (body, flange), strict=True):
        line = Line(f"heat.{key}_gauged", words, Q.DEVIATION, "diametral", of="casting hot")
        given = Given(None, Kind.MEASURED, need=f"slip gauged at the {key}")
        if told is not None:
            kind = Kind(told.kind)
            given = Given(told.value, kind, "the job", told.text, standard=repeat)
        ledger.fact(line, given)
        margin = Line(f"heat.{key}_go", over, Q.DEVIATION, "diametral", of="gauged less needed")
        ledger.compute(
            margin, rest_of, How(judge=judge), whole=f"heat.{key}_gauged", part="heat.slip"
        )
    return beside(plan, "heat", "Heat", ledger.result())
