"""Stages Hone to fit and Hone to piston: stock, grits, strokes to go, heat, taper, overrun.

Answers beside the plan, under the key of the stage.  Diametral unless axial is said.
"""

from __future__ import annotations

from dataclasses import replace

from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, ledger_of
from sleevewright.planning.hone_form import enter_dwell, enter_travel
from sleevewright.planning.hone_grits import enter_grits, planned_steps
from sleevewright.planning.hone_rates import enter_strokes, grit_in_use
from sleevewright.planning.hone_sizes import enter_sizes
from sleevewright.planning.hone_told import PISTON, TITLES, HoneTold
from sleevewright.planning.hone_warm import COLD, temperature_off
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.proofing import judge_own

Q = Quantity


def honing(plan: Plan, told: HoneTold) -> StageAnswers:
    """What a stage that hones answers, as far as it was told."""
    ledger = ledger_of(plan)
    steps = planned_steps(told)
    enter_sizes(ledger, plan, told)
    grit = grit_in_use(told)
    enter_strokes(ledger, told, steps.grits[0] if grit is None else round(grit))
    enter_grits(ledger, plan, told)
    enter_travel(ledger, plan, told)
    enter_dwell(ledger, plan, told)
    _enter_cold(ledger, told)
    _say_what_is_open(ledger, told)
    return beside(plan, told.key, TITLES[told.key], ledger.result())


def _enter_cold(ledger: Ledger, told: HoneTold) -> None:
    """Enter whether the newest grid was taken cold: only then has it the last word."""
    off = temperature_off(told)
    if off is None:
        return
    line = Line(
        told.named("grid_cold"),
        "Grid taken warmer than its gauge",
        Q.TEMPERATURE_DIFFERENCE,
        of="the verdict on the bore is that of a cold grid",
    )
    ledger.fact(line, Given(off, Kind.MEASURED, "the readings"))
    within = ledger.default("soak_within").value
    judge = replace(against_limit(within, "most", remedy=COLD, guard=0.0), is_distance=True)
    judge_own(ledger, line, 0.0, judge)


def _say_what_is_open(ledger: Ledger, told: HoneTold) -> None:
    """Say what a reading does not know of, and which ports must be chamfered first."""
    if told.since:
        names = ", ".join(one.name for one in told.since)
        ledger.advise(
            f"Pass {names} was told after the bore was gauged: what it took counts as honed since. "
            "Was the bore gauged after it, tell the reading again."
        )
    if told.is_stale and told.part_at is not None:
        ledger.advise(
            f"The casting's {told.part_at.text} are older than the reading before this one: tell "
            "how warm it is now."
        )
    if told.key == PISTON and told.unchamfered:
        ledger.advise(
            f"Chamfer {', '.join(told.unchamfered)} before the hone: cut and chamfer come first, "
            "so that no burr crosses a finished wall."
        )
