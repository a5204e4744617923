"""Beside the plan: what the oven's heats do to the temper of an aluminium casting.

The log of this job where one was kept, else the heat as it is planned; every re-heat adds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.allowances import sum_of
from sleevewright.core.heat.overage import heat_dose, held_dose, logged_dose
from sleevewright.core.heat.soak import soak_time
from sleevewright.core.materials import material
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, ledger_of
from sleevewright.planning.facts import enter_default
from sleevewright.planning.judging import LimitJudge, against_limit
from sleevewright.planning.ledger import CENTRALLY, SHALLOWLY, Given, How, Ledger, Line

Q = Quantity
AT = "as so long at 200 °C; all heats of it together"
LOG = "as the rows that were keyed in the oven have it; as so long at 200 °C"
FILE = "as the logger's file has it; as so long at 200 °C"
SOURCE = "smithells-2004"

ACTIVATION = Line(
    "heat.activation",
    "activation energy of ageing",
    Q.TEMPERATURE_DIFFERENCE,
    of="over the gas constant",
    is_detail=True,
)
AIR = Line("heat.air_time_constant", "its time constant in still air", Q.TIME, is_detail=True)
TIME_CONSTANT = Line("heat.time_constant", "oven's time constant", Q.TIME, is_detail=True)
SOAK = Line("heat.dose_soak", "time in the oven, as planned", Q.TIME, is_detail=True)
TIMES = Line("heat.log_times", "times of the oven's log", Q.RECORD, is_detail=True)
CASTINGS = Line("heat.log_castings", "casting in the oven's log", Q.RECORD, is_detail=True)
PLANNED = Line(
    "heat.dose_planned", "Ageing by one heat as planned", Q.TIME, of="as so long at 200 °C",
    is_detail=True,
)  # fmt: skip
THIN = Line(
    "heat.dose_thin", "Ageing of thin metal, at most", Q.TIME,
    of="fins and bosses as hot as the oven's air for the whole time; as so long at 200 °C",
    is_detail=True,
)  # fmt: skip
DOSE = "heat.dose"
AGAIN = Line(
    "heat.dose_again", "Ageing with one heat more", Q.TIME, of=AT,
    would_change="a cooler or a shorter heat",
)  # fmt: skip


@dataclass(frozen=True)
class OvenLog:
    """Readings of the casting in the oven, in the order of the log."""

    times: tuple[float, ...] = ()
    castings: tuple[float, ...] = ()
    gaps: tuple[tuple[float, float], ...] = ()  # when a logger was silent [s]
    is_file: bool = False  # whether it is out of a logger's file, not keyed row by row


def dose_stage(plan: Plan, casting: Part, log: OvenLog) -> StageAnswers:
    """How much the heats of this job age an aluminium casting; nothing of an iron one."""
    ledger = ledger_of(plan)
    if material(casting.material or "unknown-aluminium").family != "aluminium":
        return beside(plan, "heat", "Heat", ledger.result())
    enter_default(ledger, ACTIVATION, None, "ageing_activation")
    enter_default(ledger, AIR, None, "air_time_constant")
    judge = _judge(ledger)
    is_logged = len(log.times) > 1
    # Where nothing was logged the plan's heat is the answer itself, and sampled there.
    _enter_planned(ledger, plan, SHALLOWLY if is_logged else CENTRALLY)
    if is_logged:
        ledger.fact(TIMES, Given(log.times, Kind.MEASURED, source="the job"))
        ledger.fact(CASTINGS, Given(log.castings, Kind.MEASURED, source="the job"))
        ledger.compute(
            _line(FILE if log.is_file else LOG), logged_dose, How(judge=judge),
            times=TIMES.id, temperatures=CASTINGS.id, activation=ACTIVATION.id,
        )  # fmt: skip
        ledger.compute(AGAIN, sum_of, How(judge=judge), wanted=DOSE, allowance=PLANNED.id)
    else:
        ledger.compute(_line(AT), heat_dose, How(judge=judge), **PLAN)
    _warn(ledger)
    _warn_of_gaps(ledger, log)
    return beside(plan, "heat", "Heat", ledger.result())


PLAN = {
    "start": "heat.room",
    "oven": "heat.oven",
    "time_constant": TIME_CONSTANT.id,
    "soak": SOAK.id,
    "cooling_constant": AIR.id,
    "activation": ACTIVATION.id,
}


def _line(of: str) -> Line:
    """The answer of this name, with what it rests on."""
    return Line(
        DOSE, "Ageing by the oven", Q.TIME, of=of,
        would_change="a log of time and temperature on the casting; a cooler or a shorter heat",
    )  # fmt: skip


def _enter_planned(ledger: Ledger, plan: Plan, how: How) -> None:
    """Enter the heat as it is planned: what it is to reach is set, how fast is in doubt."""
    enter_default(ledger, TIME_CONSTANT, None, "oven_time_constant")
    for name, need in (
        ("heat.room", "the room"),
        ("heat.oven", "the oven's dial"),
        ("heat.drop_at", "the casting at the drop"),
    ):
        known = next((one.value for one in plan.answers() if one.id == name), None)
        value = known if isinstance(known, float) and math.isfinite(known) else None
        line = Line(name, need, Q.TEMPERATURE, is_detail=True)
        ledger.fact(line, Given(value, Kind.COMPUTED, "the plan", need=need))
    both = ledger.has("heat.oven") and ledger.has("heat.drop_at")
    if both and not ledger.value("heat.oven") > ledger.value("heat.drop_at"):
        # It never brings the casting there.
        ledger.fact(SOAK, Given(None, Kind.COMPUTED, need="an oven above the casting's heat"))
    else:
        ledger.compute(
            SOAK, soak_time, target="heat.drop_at", start="heat.room", oven="heat.oven",
            time_constant=TIME_CONSTANT.id,
        )  # fmt: skip
    ledger.compute(PLANNED, heat_dose, how, **PLAN)
    ledger.compute(
        THIN, held_dose, CENTRALLY,
        duration=SOAK.id, temperature="heat.oven", activation=ACTIVATION.id,
    )  # fmt: skip


def _judge(ledger: Ledger) -> LimitJudge:
    """Against the most ageing that the shop lets its ovens add."""
    most = ledger.default("dose_most").value
    remedy = "let it cool; a chilled sleeve or less slip needs less heat; test its hardness"
    return against_limit(most, "most", remedy=remedy)


def _warn(ledger: Ledger) -> None:
    """Say so where the heats have taken, or would take, more than the shop allows."""
    most = ledger.default("dose_most").value
    told = [ledger.value(one) for one in (DOSE, AGAIN.id) if ledger.has(one)]
    if told and max(told) > most:
        ledger.caution(
            "overaged:heat.dose",
            "The heats of this casting add up to more ageing than is allowed: it goes soft for "
            "good, and the fit, its threads and its gasket face with it. Test its hardness "
            "before it is heated again.",
            SOURCE,
        )


def _warn_of_gaps(ledger: Ledger, log: OvenLog) -> None:
    """Say so where the dose counts over a time in which the logger was silent."""
    for begin, end in log.gaps:
        ledger.caution(
            f"log-gap:heat.dose.{begin:.0f}",
            f"The logger was silent from {begin / 60.0:.0f} to {end / 60.0:.0f} min; the ageing "
            "counts a straight line between the temperatures beside it, and could be more.",
            SOURCE,
        )
