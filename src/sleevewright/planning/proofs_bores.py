"""What the holds ask to be proved of the finished bore: round, straight, and its clearance.

Diametral.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from sleevewright.core.allowances import rest_of
from sleevewright.core.metrology.form import Range
from sleevewright.jobs.model import Entry as Told
from sleevewright.jobs.model import Part
from sleevewright.jobs.pistonreading import growth_named
from sleevewright.planning.answers import Quantity, StageAnswers
from sleevewright.planning.beside import beside, told_size
from sleevewright.planning.facts import enter_metal, given
from sleevewright.planning.form import ONE_SIDED, bounds_of, judged_form
from sleevewright.planning.ledger import Given, How, Ledger, Line
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
HEIGHT = (
    "At what height the piston was gauged is not told: at another than its maker's it may read "
    "0.5 to 2 thou small, and the clearance is then less by as much. Its verdict counts none of it."
)


@dataclass(frozen=True)
class PistonRead:
    """The piston at 20 degC and the clearance wanted; how it was read, as far as it was told."""

    diameter: Told | None = None
    clearance: Told | None = None
    kind: str = ""  # "cast" or "forged"
    has_temperature: bool = False
    has_height: bool = False


def finish(frame: Frame, bore: Gauged, piston: PistonRead) -> StageAnswers:
    """Whether the finished bore is round, straight and has the clearance that was wanted."""
    plan, ledger = frame.plan, frame.ledger()
    enter_metal(ledger, "finished", Part("grey-iron"), fallback="grey-iron", name="sleeve")
    enter_bore(ledger, FINISH, bore, frame, need="the finished bore gauged")
    line = Line("finish.piston", "Piston", Q.SIZE, "diametral", of="at 20 °C")
    ledger.fact(line, _piston(ledger, piston))
    wanted = given(piston.clearance, need="the clearance that was wanted")
    ledger.fact(Line("finish.wanted", "Clearance wanted", Q.DEVIATION, "diametral"), wanted)
    ledger.compute(CLEARANCE, rest_of, whole="finish.as_gauged", part="finish.piston")
    judge = within(ledger, "clearance_over", "hone to the clearance, or see which piston fits")
    ledger.compute(OFF, rest_of, How(judge=judge), whole="finish.gap", part="finish.wanted")
    if ledger.has(OFF.id) and not piston.has_height:
        ledger.advise(HEIGHT)
    for name, kind, remedy in (
        ("out_of_round", Range.OUT_OF_ROUND, "hone it round"),
        ("taper", Range.TAPER, "hone it straight"),
    ):
        _rejudge(ledger, name, kind, remedy)
    return beside(plan, "hone", "Hone to piston", ledger.result())


def _piston(ledger: Ledger, piston: PistonRead) -> Given:
    """The piston with what its micrometer and its temperature are honestly worth."""
    setting = ledger.default("micrometer_setting").value
    told = told_size(piston.diameter, doubt=setting, need="the piston")
    if piston.diameter is None:
        return told
    warmth = ledger.default("probe_temperature" if piston.has_temperature else "room_temperature")
    growth = ledger.default(growth_named(piston.kind)).value
    apart = growth - ledger.default("gauge_expansion").value
    worth = piston.diameter.value * apart * warmth.doubt
    return replace(told, standard=math.hypot(told.standard, worth))


def _rejudge(ledger: Ledger, name: str, kind: Range, remedy: str) -> None:
    """Enter a form of the finished bore under the name that its hold asks for."""
    gauged = f"finish.as_gauged.{name}"
    if not ledger.has(gauged):
        return
    used, scatter = (ledger.value(f"finish.as_gauged.{one}") for one in ("used", "scatter"))
    bounds = bounds_of(float(ledger.value(gauged)), kind, used, scatter, coverage=ONE_SIDED)
    limit = ledger.default("form_most").value
    ledger.amend(gauged, id=f"finish.{name}", judgement=judged_form(bounds, limit, remedy))
