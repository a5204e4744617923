"""Beside the plan: what to do if the sleeve stops, sits off its mark, or is caught too soon.

In the first seconds a sleeve that stops is tilted or jammed, not yet fitted: there is
clearance left.  What helps later depends on the metals: a casting that grows more than its
sleeve lets go when the whole is hot enough; iron in iron never does.
"""

from __future__ import annotations

from sleevewright.core.allowances import larger, sum_of
from sleevewright.core.fits.running import grip_temperature
from sleevewright.core.heat.equal import slip_at_equal_temperature
from sleevewright.core.heat.growth import chill_gain
from sleevewright.core.heat.reheat import (
    freeing_sleeve_temperature,
    reheat_temperature,
    wedging_depth,
)
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Answer, Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, known_in, ledger_of
from sleevewright.planning.facts import enter_metal
from sleevewright.planning.habit import TO_CLEAR
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.recovery_cases import FREES, IRON, TOO_HOT, UNKNOWN, Branch, cases
from sleevewright.planning.shown import shown_answer
from sleevewright.units import shown

Q = Quantity
CASE = "recover.case."
"""Beginning of the names of the answers that are cases."""
BY_EYE = 2.0e-3
"""What a depth that is seen in passing is worth. [m]"""

TEN = 10.0
"""Warming of the sleeve that its loss is told for. [K]"""

GRIP = Line("recover.grip", "caught below, both parts alike", Q.TEMPERATURE, is_detail=True)
ABOVE = Line("recover.above", "above the grip by", Q.TEMPERATURE_DIFFERENCE, is_detail=True)
CLEAR = Line("recover.clear_of_form", "whole hot enough to clear its form", Q.TEMPERATURE,
             is_detail=True)  # fmt: skip
ENOUGH = Line("recover.above_grip", "whole hot enough above the grip", Q.TEMPERATURE,
              is_detail=True)  # fmt: skip
REHEAT = Line(
    "recover.reheat",
    "Reheat the whole to",
    Q.TEMPERATURE,
    of="casting and sleeve together, before a caught sleeve is moved",
)
LIMIT_SLIP = Line(
    "recover.slip_at_limit",
    "Slip with both at the casting's limit",
    Q.DEVIATION,
    "diametral",
    of="what reheating the whole can give at most",
)
NO_SLIP = Line("recover.no_slip", "no slip", Q.DEVIATION, is_detail=True)
STEP = Line("recover.step", "sleeve warmer by", Q.TEMPERATURE, is_detail=True)
LOST = Line(
    "recover.by_ten",
    "Slip lost for every 10 K (18 °F) of sleeve",
    Q.DEVIATION,
    "diametral",
    of="so much of what it had as it was warmed; let it come back to the room first",
)
COLD = Line(
    "recover.sleeve_cold",
    "Sleeve free only below",
    Q.TEMPERATURE,
    of="the whole sleeve, casting as warm as the room; a closed fit warms it faster than cold "
    "can be brought to it",
)
CHILLED = Line("recover.chilled", "Chilling a closed fit takes off about", Q.DEVIATION, "diametral",
               of="dry ice or nitrogen in the sleeve; the casting warms it as fast")  # fmt: skip
FRICTION = Line("recover.friction", "friction, dry", Q.RATIO, is_detail=True)
WEDGE = Line(
    "recover.wedge",
    "Can wedge within the first",
    Q.SIZE,
    of="keep it upright so far; below, it can jam and not wedge",
    is_detail=True,
)


def recovery_stage(plan: Plan, *, casting: Part, sleeve: Part, has_ports: bool) -> StageAnswers:
    """The figures that a recovery rests on."""
    ledger = ledger_of(plan)
    enter_metal(ledger, "casting", casting, fallback="unknown-aluminium", name="casting")
    enter_metal(ledger, "sleeve", sleeve, fallback="grey-iron", name="sleeve")
    for name, need in _FROM_PLAN:
        from_plan(ledger, plan, name, need=need)
    tight = TO_CLEAR.id if known_in(plan, TO_CLEAR.id) is not None else "fit.as_cut"
    from_plan(ledger, plan, tight, need="the fit")
    sizes = {"diameter": "sleeve.od", "interference": tight}
    laws = {"casting_law": "casting.law", "sleeve_law": "sleeve.law"}
    _enter_reheat(ledger, {**sizes, **laws})
    ledger.compute(LIMIT_SLIP, slip_at_equal_temperature, **sizes, **laws, temperature="heat.limit")
    _enter_sleeve(ledger, {**sizes, **laws})
    dry = ledger.default("wedging_friction")
    ledger.fact(FRICTION, Given(dry.value, Kind.ASSUMED, dry.source, dry.note))
    ledger.compute(WEDGE, wedging_depth, CENTRALLY, friction=FRICTION.id, diameter="sleeve.od")
    closed = ledger.default("chill_of_closed_fit")
    ledger.fact(CHILLED, Given(closed.value, Kind.ASSUMED, closed.source, closed.note))
    _enter_branches(ledger, plan.units, has_ports=has_ports)
    return beside(plan, "drop", "Drop", ledger.result())


_FROM_PLAN = (
    ("sleeve.od", "sleeve's outside"),
    ("heat.limit", "what the casting may see"),
    ("heat.room", "the room"),
    ("drop.form", "slip that shape uses up"),
)


def _enter_reheat(ledger: Ledger, pair: dict[str, str]) -> None:
    """Enter how hot the whole must be, clear of the grip and of the form."""
    ledger.compute(GRIP, grip_temperature, **pair)
    above = ledger.default("reheat_above_grip")
    ledger.fact(ABOVE, Given(above.value, Kind.CHOSEN, above.source, above.note))
    if ledger.entry(GRIP.id).answer.value is None:
        return  # not known yet, or iron in iron, which heat does not let go
    ledger.compute(ENOUGH, sum_of, wanted=GRIP.id, allowance=ABOVE.id)
    ledger.compute(CLEAR, reheat_temperature, **pair, slip="drop.form")
    limit = ledger.value("heat.limit")
    remedy = "bore the sleeve out; the parent bore is then measured again"
    ledger.compute(
        REHEAT,
        larger,
        How(judge=against_limit(limit, "most", remedy=remedy)),
        one=ENOUGH.id,
        other=CLEAR.id,
    )


def _enter_sleeve(ledger: Ledger, pair: dict[str, str]) -> None:
    """Enter what warmth of the sleeve alone costs, and how cold it would have to be."""
    room = ledger.value("heat.room")
    warmer = None if room is None else room + TEN
    ledger.fact(STEP, Given(warmer, Kind.CHOSEN, "derived", need="the room"))
    ledger.compute(
        LOST, chill_gain, CENTRALLY, diameter="sleeve.od", sleeve_law="sleeve.law",
        room=STEP.id, chilled="heat.room",
    )  # fmt: skip
    ledger.fact(NO_SLIP, Given(0.0, Kind.CHOSEN, "derived"))
    ledger.compute(
        COLD, freeing_sleeve_temperature, **pair, slip=NO_SLIP.id, casting_temperature="heat.room"
    )


def branches(plan: Plan) -> tuple[Branch, ...]:
    """What can have happened and what to do, in the order in which it is asked.

    The plan holds the answers of :func:`recovery_stage`; without them there is nothing.
    """
    own = (one for one in plan.answers() if one.id.startswith(CASE))
    return tuple(
        Branch(one.id.removeprefix(CASE), one.label, one.value, one.of)
        for one in own
        if isinstance(one.value, str)
    )


def _enter_branches(ledger: Ledger, system: str, *, has_ports: bool) -> None:
    """Enter each case as an answer in words, with the figures of this job in it."""
    known = {
        name: _said(ledger.entry(line.id).answer, system) if ledger.has(line.id) else _NO_FIGURE
        for name, line in _FIGURES.items()
    }
    for one in cases(_late(ledger), has_ports=has_ports):
        line = Line(
            f"{CASE}{one.key}", one.title, Q.TEXT, of=one.why.format(**known), is_detail=False
        )
        ledger.fact(line, Given(one.do.format(**known), Kind.COMPUTED, "practice"))


def _late(ledger: Ledger) -> str:
    """What helps once it is caught: heat, nothing but the boring bar, or nobody knows."""
    if ledger.entry(GRIP.id).answer.value is None:
        return IRON if ledger.value("sleeve.od") is not None else UNKNOWN
    hot, limit = ledger.value(REHEAT.id), ledger.value("heat.limit")
    return TOO_HOT if hot is not None and limit is not None and hot > limit else FREES


def _said(answer: Answer, system: str) -> str:
    """Figure and unit, or that it is not known."""
    if answer.value is None:
        return _NO_FIGURE
    if answer.quantity is Q.SIZE and isinstance(answer.value, float):
        # A depth by the eye: figures of a micrometer would promise what no friction holds.
        rough = shown(
            answer.value, quantity=answer.quantity.value, system=system, sampling_error=BY_EYE
        )
        return f"{rough.figure} {rough.unit}"
    told = shown_answer(answer, system=system)
    return f"{told.figure} {told.unit}".strip()


_NO_FIGURE = "a figure that is not known yet"
_FIGURES = {
    "reheat": REHEAT,
    "grip": GRIP,
    "lost": LOST,
    "cold": COLD,
    "wedge": WEDGE,
    "slip": LIMIT_SLIP,
    "chilled": CHILLED,
}
