"""Use case: what stages ask on their own account, answered beside the plan of a job.

Wear as found, how it can be mended, what the clean-out leaves, what the casting bears and
what the oven does to it: answered from the plan and a few cells of the job, and put with the
plan, so that pages and holds see both.
"""

from __future__ import annotations

from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.gauged import grid_of, instruments_of
from sleevewright.jobs.model import Entry, Job
from sleevewright.jobs.serieslog import told_series
from sleevewright.planning.accepting import accepting, with_sleeve_judged
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import with_stage
from sleevewright.planning.choice import choice_stage
from sleevewright.planning.dose import OvenLog, dose_stage
from sleevewright.planning.fit_hot import fit_hot
from sleevewright.planning.found import Swept, as_found
from sleevewright.planning.oldout import OldOut, old_out
from sleevewright.planning.ordering import ordering
from sleevewright.planning.proofing import Gauged
from sleevewright.planning.stress import stress_stage
from sleevewright.services.choosing import choosing_of
from sleevewright.services.ordered import arrival_of, ordering_of, wants_sleeve
from sleevewright.services.swept import setup_told

NANO = 1e-9


def widened(plan: Plan, job: Job, folded: Folded, *, cylinder: int = 1) -> Plan:
    """The plan of a cylinder with the answers that stand beside it."""
    plan = with_sleeve_judged(plan)
    for stage in _stages(plan, job, folded, cylinder):
        plan = with_stage(plan, stage)
    return plan


def _stages(plan: Plan, job: Job, folded: Folded, cylinder: int) -> tuple[StageAnswers, ...]:
    """As found, choice, order, arrival, the fit hot and old sleeve out, as far as told."""
    clean_out = _entry(folded.value("old.diameter", cylinder=cylinder))
    score = _entry(folded.value("found.score", cylinder=cylinder))
    swept = Swept(
        Gauged(
            grid_of(folded, "found-wear", cylinder=cylinder),
            instruments_of(folded, "found-wear", cylinder=cylinder),
        ),
        _entry(folded.value("found.unworn", cylinder=cylinder)),
        setup_told(folded, cylinder),
    )
    choosing = choosing_of(job, folded, cylinder=cylinder)
    order = None
    if wants_sleeve(folded):
        order = ordering(plan, ordering_of(folded, cylinder=cylinder))
    return (
        as_found(plan, job, score=score, swept=swept),
        *((choice_stage(plan, choosing),) if choosing.is_told else ()),
        *(() if order is None else (order,)),
        accepting(plan, arrival_of(folded, cylinder=cylinder), order),
        fit_hot(plan, job),
        old_out(plan, OldOut(clean_out, job.casting.outside_low)),
        stress_stage(plan, job.casting, bores=folded.cylinders),
        dose_stage(plan, job.casting, oven_log(folded, cylinder)),
    )


def _entry(told: Told | None) -> Entry | None:
    """A length that was told; nothing where it is none."""
    nm = None if told is None else told.body.get("nm")
    if told is None or not isinstance(nm, int):
        return None
    return Entry(nm * NANO, told.text, told.kind)


def oven_log(folded: Folded, cylinder: int) -> OvenLog:
    """The logger's series of the casting where one was told, else the rows that were typed."""
    series = told_series(folded, "heat", cylinder=cylinder)
    if series is not None:
        told = series.casting
        times, castings = tuple(told.seconds.tolist()), tuple(told.kelvin.tolist())
        return OvenLog(times, castings, told.gaps, is_file=True)
    start, rows = "heat.log/", []
    cells = folded.cells(start, cylinder=cylinder)
    for number in sorted({one.split("/")[1] for one in cells}, key=_place):
        time = folded.value(f"{start}{number}/minutes", cylinder=cylinder)
        heat = folded.value(f"{start}{number}/casting", cylinder=cylinder)
        seconds = None if time is None else time.body.get("si")
        milli = None if heat is None else heat.body.get("mk")
        if isinstance(seconds, (int, float)) and isinstance(milli, int):
            rows.append((float(seconds), milli * 1e-3))
    return OvenLog(tuple(one for one, _ in rows), tuple(one for _, one in rows))


def _place(number: str) -> tuple[int, str]:
    """Order of the rows of a log: by their number, others after them."""
    return (int(number), "") if number.isdecimal() else (1_000_000, number)
