"""What the holds ask to be proved of the finished bore: round, straight, and its clearance.

Diametral.
"""

from __future__ import annotations

from sleevewright.core.allowances import rest_of
from sleevewright.core.metrology.form import Range
from sleevewright.jobs.model import Entry as Told
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Quantity, StageAnswers
from sleevewright.planning.beside import beside
from sleevewright.planning.facts import enter_metal, given
from sleevewright.planning.form import ONE_SIDED, bounds_of, judged_form
from sleevewright.planning.ledger import How, Ledger, Line
from sleevewright.planning.proofing import Frame, Gauged, enter_bore, within
from sleevewright.planning.sizes import Feature

Q = Quantity

FINISH = Feature(
    "finish.as_gauged", "Finished bore", "finished", of="as honed, at 20 °C", is_bore=True
)
CLEARANCE = Line("finish.gap", "Piston clearance", Q.DEVIATION, "diametral", of="as honed")
OFF = Line(
    "finish.clearance",
    "Piston clearance, off what was wanted",
    Q.DEVIATION,
    "diametral",
    of="positive is more than wanted",
)


def finish(frame: Frame, bore: Gauged, piston: tuple[Told | None, Told | None]) -> StageAnswers:
    """Whether the finished bore is round, straight and has the clearance that was wanted.

    ``piston`` is its diameter and the clearance that was wanted.
    """
    plan, ledger = frame.plan, frame.ledger()
    enter_metal(ledger, "finished", Part("grey-iron"), fallback="grey-iron", name="sleeve")
    enter_bore(ledger, FINISH, bore, frame, need="the finished bore gauged")
    ledger.fact(
        Line("finish.piston", "Piston", Q.SIZE, "diametral"), given(piston[0], need="the piston")
    )
    wanted = given(piston[1], need="the clearance that was wanted")
    ledger.fact(Line("finish.wanted", "Clearance wanted", Q.DEVIATION, "diametral"), wanted)
    ledger.compute(CLEARANCE, rest_of, whole="finish.as_gauged", part="finish.piston")
    judge = within(ledger, "clearance_over", "hone to the clearance, or see which piston fits")
    ledger.compute(OFF, rest_of, How(judge=judge), whole="finish.gap", part="finish.wanted")
    for name, kind, remedy in (
        ("out_of_round", Range.OUT_OF_ROUND, "hone it round"),
        ("taper", Range.TAPER, "hone it straight"),
    ):
        _rejudge(ledger, name, kind, remedy)
    return beside(plan, "hone", "Hone to piston", ledger.result())


def _rejudge(ledger: Ledger, name: str, kind: Range, remedy: str) -> None:
    """Enter a form of the finished bore under the name that its hold asks for."""
    gauged = f"finish.as_gauged.{name}"
    if not ledger.has(gauged):
        return
    used, scatter = (ledger.value(f"finish.as_gauged.{one}") for one in ("used", "scatter"))
    bounds = bounds_of(float(ledger.value(gauged)), kind, used, scatter, coverage=ONE_SIDED)
    limit = ledger.default("form_most").value
    ledger.amend(gauged, id=f"finish.{name}", judgement=judged_form(bounds, limit, remedy))
