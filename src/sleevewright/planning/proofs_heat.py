"""What the hold of the oven asks to be proved: the slip as gauged, against the slip needed.

The gauge is zeroed on this very sleeve, so that only its repeat is in doubt.  Body and
flange are judged each; the tighter one decides.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sleevewright.core.allowances import rest_of
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.planning.proofing import Frame

Q = Quantity
GAUGED = (
    ("body", "Slip gauged at the body"),
    ("flange", "Slip gauged at the flange"),
)
ZEROED_WARM = 2.0
"""Of what a reading repeats to: a zero that is further over nought was set warm."""

OVER = (
    ("body", "Slip at the body, over what is needed"),
    ("flange", "Slip at the flange, over what is needed"),
)


@dataclass(frozen=True)
class HotReading:
    """The needle in the hot bore, and what it shows put back on the sleeve afterwards."""

    needle: Entry | None = None
    zero: Entry | None = None


def slip_gauged(frame: Frame, body: HotReading, flange: HotReading) -> StageAnswers:
    """Whether the hot bore clears the sleeve by what the drop needs, at body and flange."""
    plan, ledger = frame.plan, frame.ledger()
    from_plan(ledger, plan, "heat.slip", need="slip that is needed")
    repeat = ledger.default("indicator_setting").value / STATED_COVERAGE_FACTOR
    remedy = "back into the oven until the needle is at go; no sleeve goes in on less"
    judge = against_limit(0.0, "least", remedy=remedy)
    for (key, words), (_, over), told in zip(GAUGED, OVER, (body, flange), strict=True):
        line = Line(f"heat.{key}_gauged", words, Q.DEVIATION, "diametral", of="casting hot")
        _enter_gauged(ledger, line, told, repeat, need=f"slip gauged at the {key}")
        margin = Line(f"heat.{key}_go", over, Q.DEVIATION, "diametral", of="gauged less needed")
        ledger.compute(
            margin, rest_of, How(judge=judge), whole=f"heat.{key}_gauged", part="heat.slip"
        )
    return beside(plan, "heat", "Heat", ledger.result())


def _enter_gauged(
    ledger: Ledger, line: Line, told: HotReading, repeat: float, *, need: str
) -> None:
    """Enter the slip as gauged: the needle alone, or less what its zero shows by now."""
    needle = _read(told.needle, repeat, need)
    if told.zero is None or told.needle is None:
        ledger.fact(line, needle)
        return
    zero = _read(told.zero, repeat, need)
    ids = (f"{line.id}_needle", f"{line.id}_zero")
    for identity, words, given in zip(ids, ("needle in the bore", "needle back on the sleeve"),
                                      (needle, zero), strict=True):  # fmt: skip
        detail = Line(identity, words, Q.READING, "diametral", is_detail=True)
        ledger.fact(detail, given)
    corrected = replace(line, of="casting hot; the gauge's own warming taken out by its zero")
    ledger.compute(corrected, rest_of, whole=ids[0], part=ids[1])
    if told.zero.value > ZEROED_WARM * repeat:
        ledger.caution(
            f"zeroed-warm:{line.id}",
            "The gauge shows plus on its own zero: it was zeroed warm and has cooled since, so "
            "that it showed slip that is not there. Let it cool, zero it again, gauge again.",
            "practice",
        )


def _read(told: Entry | None, repeat: float, need: str) -> Given:
    """A reading of the needle, with what it repeats to."""
    if told is None:
        return Given(None, Kind.MEASURED, need=need)
    return Given(told.value, Kind(told.kind), "the job", told.text, standard=repeat)
