"""A gauge study as answers: what one hand repeats to, what people add, and what follows.

The part of people is held against the doubt of the gauge's setting, in which the hand that
sets and feels is counted; a study does not widen that by itself, it says so.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.metrology.plausible import looks_rounded
from sleevewright.core.metrology.study import GaugeStudy, Part, gauge_study
from sleevewright.core.metrology.studyparts import (
    both_of_study,
    people_of_study,
    person_of_study,
    repeat_of_study,
)
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import SAMPLES, beside
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.units import shown

Q = Quantity
COVERAGE = 0.95

REPEAT = Line(
    "study.repeat",
    "One hand repeats to",
    Q.DEVIATION,
    of="standard deviation of one reading",
    would_change="more repeats: four times as many halve the doubt of it",
)
PEOPLE = Line("study.people", "People add", Q.DEVIATION, of="standard deviation between hands")
PERSON = Line("study.person", "of that, the same on every feature", Q.DEVIATION, is_detail=True)
BOTH = Line("study.both", "of that, otherwise from feature to feature", Q.DEVIATION, is_detail=True)


@dataclass(frozen=True)
class StudyTold:
    """A whole study as it was read, with what is stated of its gauge. SI."""

    study: str  # its number, as G-3
    day: str
    gauge: str
    readings: NDArray[np.float64]  # (n_features, n_people, n_repeats)
    resolution: float
    resolution_kind: Kind
    setting: float | None  # half-width of its doubt, about 95 %
    units: str


def study_plan(told: StudyTold) -> Plan:
    """The answers of a whole study, as a plan of one stage that any viewer shows."""
    empty = Plan(told.study, told.gauge, told.units, False, "", (), (), ())
    stage = study_stage(told, empty)
    return Plan(
        told.study, told.gauge, told.units, False, "", (), (), (stage,), cautions=stage.cautions
    )


def fine_figure(value: float, units: str) -> str:
    """A standard deviation in two digits with its unit: finer than a size is ever shown.

    It is written out, however large: an exponent is not read at a bench.

    Examples
    --------
    >>> fine_figure(3.8e-6, "inch"), fine_figure(3.84e-6, "metric")
    ('0.15 thou', '3.8 µm')
    >>> fine_figure(300.8e-6, "metric"), fine_figure(0.0, "inch")
    ('300 µm', '0 thou')
    """
    told = shown(value, quantity="fine deviation", system=units)
    return f"{told.figure if value else 0} {told.unit}"


def study_stage(told: StudyTold, plan: Plan) -> StageAnswers:
    """What a study says of its gauge."""
    ledger = Ledger(count=SAMPLES, seed=plan.seed)
    features, people, repeats = told.readings.shape
    shape = f"{features} features, {people} {'people' if people > 1 else 'person'}, {repeats} times"
    ledger.fact(
        Line("study.readings", f"Readings with {told.gauge}", Q.RECORD, of=shape, is_detail=True),
        Given(told.readings, Kind.MEASURED, f"study {told.study}, {told.day}"),
    )
    ledger.fact(
        Line("study.step", f"step of {told.gauge}", Q.DEVIATION, is_detail=True),
        Given(told.resolution, told.resolution_kind, "the gauge"),
    )
    parts = Line("study.parts", "Parts of the variance", Q.RECORD, of=shape, is_detail=True)
    found: GaugeStudy = ledger.compute(
        parts, gauge_study, CENTRALLY, readings="study.readings"
    ).point
    ledger.compute(REPEAT, repeat_of_study, CENTRALLY, study="study.parts", resolution="study.step")
    _amend(ledger, REPEAT, found.repeatability, told)
    _look_at_readings(ledger, found, told)
    if found.reproducibility is None or found.person is None or found.both is None:
        ledger.advise("One person read alone: what people add is not known from this study.")
        return beside(plan, "study", "Gauge study", ledger.result())
    for line, function, part in (
        (PEOPLE, people_of_study, found.reproducibility),
        (PERSON, person_of_study, found.person),
        (BOTH, both_of_study, found.both),
    ):
        _enter_part(ledger, line, function, part, told)
    _say_less_than_parts(ledger, found)
    _judge_setting(ledger, found.reproducibility, told)
    return beside(plan, "study", "Gauge study", ledger.result())


def _look_at_readings(ledger: Ledger, found: GaugeStudy, told: StudyTold) -> None:
    """Say where the steps of the gauge hide the scatter, or readings look rounded."""
    if found.repeatability.standard < told.resolution / math.sqrt(12.0):
        text = (
            f"Repeats differ by less than the steps of {told.gauge} can show. What a step hides, "
            "0.29 of it, is taken for the repeat."
        )
        ledger.caution("study-step-hides", text, "jcgm-100")
    rounded = looks_rounded(told.readings, resolution=told.resolution, least_scatter=0.0)
    if rounded is not None:
        step = shown(rounded.step, quantity="deviation", system=told.units)
        text = (
            f"Looks rounded to {step.figure} {step.unit}: {rounded.on_step} of {rounded.readings} "
            "readings lie on it. Read to the gauge's own steps, or put that step in at the gauge."
        )
        ledger.caution("study-rounded", text, "pearson-1900")


def _enter_part(
    ledger: Ledger, line: Line, function: Callable[..., float], part: Part, told: StudyTold
) -> None:
    """Enter a part of people; below zero it is told as zero, with what it came to."""
    ledger.compute(line, function, CENTRALLY, study="study.parts")
    _amend(ledger, line, part, told)
    if part.is_below_zero:
        name = line.label.removeprefix("of that, ")
        ledger.caution(
            f"{line.id}-below-zero",
            f"{name[:1].upper()}{name[1:]}: the estimate of the variance came out below zero, "
            f"minus the square of {fine_figure((-part.variance) ** 0.5, told.units)}, and is told "
            "as zero. The study is too small to see this part, or there is none.",
            "montgomery-2013",
        )


def _amend(ledger: Ledger, line: Line, part: Part, told: StudyTold) -> None:
    """Say the interval and how well the part is known."""
    value = float(ledger.value(line.id))
    freedom = part.degrees_of_freedom
    low, high = min(part.low, value), max(part.high, value)
    standard = value / math.sqrt(2.0 * freedom) if freedom > 0.0 else (high - low) / 4.0
    ends = [fine_figure(one, told.units) for one in (low, high)]
    words = f"19 times in 20 from {ends[0].partition(' ')[0]} to {ends[1]}"
    known = f", {_counted(freedom)} degrees of freedom" if freedom > 0.0 else ""
    said = f"{line.of or 'standard deviation'}; {words}{known}"
    doubt = Doubt(standard, low, high, COVERAGE, "linear", degrees_of_freedom=freedom or None)
    ledger.amend(line.id, doubt=doubt, of=said)


def _counted(freedom: float) -> str:
    """Degrees of freedom with one decimal at most."""
    return f"{freedom:.1f}".removesuffix(".0")


def _say_less_than_parts(ledger: Ledger, found: GaugeStudy) -> None:
    """Say why what people add is less than a part of it, where the other is below zero.

    The total stays the unbiased one: with a part cut off at zero it would be too large in
    the mean.
    """
    parts = [one for one in (found.person, found.both) if one is not None]
    if not any(one.is_below_zero for one in parts) or all(one.is_below_zero for one in parts):
        return
    text = (
        "What people add in all is less than the one part of it that is above zero: the other "
        "came out below zero and is taken off as it came out, so that the total is right in the "
        "mean. The parts alone are told as zero there."
    )
    ledger.caution("study-total-less", text, "montgomery-2013")


def _judge_setting(ledger: Ledger, people: Part, told: StudyTold) -> None:
    """Say where what people add is more than the doubt of the setting has room for."""
    if told.setting is None or people.standard <= told.setting / STATED_COVERAGE_FACTOR:
        return
    wanted = STATED_COVERAGE_FACTOR * people.standard
    needs, has = (
        shown(one, quantity="deviation", system=told.units) for one in (wanted, told.setting)
    )
    text = (
        f"People differ by more than the doubt of the setting, ±{has.figure} {has.unit}, has room "
        f"for. Put in ±{needs.figure} {needs.unit} or more at the gauge, or read the same way."
    )
    ledger.caution("study-people-above-setting", text, "jcgm-100")
