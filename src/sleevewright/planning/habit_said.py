"""What past jobs say of the shop's habit, as answers with their doubt and where they are from."""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.uncertainty.habit import expected_difference, scatter_of_jobs
from sleevewright.core.uncertainty.survival import none_came_back_bound
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity
from sleevewright.planning.beside import SAMPLES, beside
from sleevewright.planning.learning import Lasting, Learned
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.units import shown

Q = Quantity
REACH = 1.959963984540054  # two-sided 95 % of a normal distribution

EXPECTED = Line(
    "learned.bias",
    "Comes out against what was measured",
    Q.DEVIATION,
    "diametral",
    of="fit obtained less fit measured; below nought it holds less",
    would_change="more jobs gauged before and after; the casting's radius measured",
)
NEXT = Line(
    "learned.next",
    "The next job",
    Q.DEVIATION,
    "diametral",
    of="the same, with where the next single job lies",
)
SCATTER = Line(
    "learned.scatter",
    "Jobs scatter by",
    Q.DEVIATION,
    "diametral",
    of="standard deviation beyond what their own doubts explain",
)
SHARED = Line(
    "learned.shared",
    "Doubt that all jobs share",
    Q.DEVIATION,
    "diametral",
    of="how stiff castings are taken to be; no number of jobs averages it out",
    would_change="a measured radius of the casting",
)
BOUND = Line(
    "learned.bound",
    "Chance of a come-back, at most",
    Q.PROBABILITY,
    of="at 95 %, from jobs of which none came back",
    would_change="more jobs that are heard of",
)


def habit_plan(learned: Learned, *, units: str) -> Plan:
    """The answers about a habit, as a plan of one stage that any viewer shows."""
    ledger, habit = _ledger(), learned.habit
    if habit is not None:
        source = f"signed plans of {learned.jobs} jobs"
        record = Line("learned.habit", "what was learned", Q.RECORD, is_detail=True)
        ledger.fact(record, Given(habit, Kind.COMPUTED, source))
        ledger.compute(EXPECTED, expected_difference, CENTRALLY, habit="learned.habit")
        doubt = Doubt(habit.standard, habit.low, habit.high, 0.95, "stated")
        ledger.amend("learned.bias", doubt=doubt)
        reach = REACH * habit.next_standard
        ledger.compute(NEXT, expected_difference, CENTRALLY, habit="learned.habit")
        wide = replace(
            doubt, standard=habit.next_standard, low=habit.value - reach, high=habit.value + reach
        )
        ledger.amend("learned.next", doubt=wide)
        ledger.compute(SCATTER, scatter_of_jobs, CENTRALLY, habit="learned.habit")
        ledger.fact(SHARED, Given(learned.shared, Kind.COMPUTED, source))
        if habit.low <= 0.0 <= habit.high:
            ledger.advise(
                "It may as well be nought. Accepted, it would mostly add its doubt to every fit."
            )
    return _plan(ledger, units)


def bound_plan(lasting: Lasting, *, units: str) -> Plan:
    """What no come-back among so many says, as a plan of one stage."""
    ledger = _ledger()
    if lasting.bound is not None:
        heard = Line("learned.heard", "jobs that are known to run well", Q.RATIO, is_detail=True)
        ledger.fact(heard, Given(lasting.counts.well, Kind.MEASURED, "the records"))
        ledger.compute(BOUND, none_came_back_bound, CENTRALLY, heard="learned.heard")
    return _plan(ledger, units)


def half_width(doubt: Doubt) -> float:
    """Half of the interval of 95 %, which is what stands behind a plus-minus."""
    return (doubt.high - doubt.low) / 2.0


def fine(value: float, units: str) -> str:
    """A small length in figures with its unit; a true minus sign.

    Examples
    --------
    >>> fine(-4.1e-6, "metric")
    '−4.1 µm'
    """
    told = shown(abs(value), quantity="fine deviation", system=units)
    figure = told.figure if value else "0"
    return f"{'−' if value < 0.0 else ''}{figure} {told.unit}"


def _ledger() -> Ledger:
    return Ledger(count=SAMPLES, seed=0)


def _plan(ledger: Ledger, units: str) -> Plan:
    empty = Plan("", "", units, False, "", (), (), ())
    stage = beside(empty, "learned", "What the shop has learned", ledger.result())
    return replace(empty, stages=(stage,))
