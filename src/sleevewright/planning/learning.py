"""What the shop's own jobs say: counts in words, how long they last, and the shop's habit.

Nothing here decides: a come-back is counted wherever jobs are counted, and a habit stands as
an estimate until a person accepts it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sleevewright.core.uncertainty.habit import LEAST_FREEDOM, Differences, Habit, learned_habit
from sleevewright.core.uncertainty.survival import (
    SurvivalCurve,
    none_came_back_bound,
    survival_curve,
)
from sleevewright.jobs.pastjobs import BACK, DAY, OUTCOMES, UNHEARD, WELL, PastJob
from sleevewright.planning.answers import Plan
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.habit import MEASURED as WITHOUT_HABIT

LEAST_JOBS = 8
"""Proved jobs below which no habit is estimated."""

LEAST_SIDE = 5
"""Jobs on each side of the median fit below which the curve is not split."""


@dataclass(frozen=True)
class Counts:
    """How many of some jobs came out how."""

    well: int = 0
    back: int = 0
    unheard: int = 0

    @property
    def all(self) -> int:
        """All of them."""
        return self.well + self.back + self.unheard

    @property
    def words(self) -> str:
        """As it is said; a come-back is said even where there is none.

        Examples
        --------
        >>> Counts(9, 2, 3).words
        '14 like this one: 9 run well, 2 came back, 3 not heard of'
        """
        runs = "runs" if self.well == 1 else "run"
        return (
            f"{self.all} like this one: {self.well} {runs} well, {self.back} came back, "
            f"{self.unheard} not heard of"
        )


@dataclass(frozen=True)
class OwnFit:
    """The fit of the job in hand by its diameter, and the half-width of its doubt, 95 %."""

    ratio: float
    half: float


@dataclass(frozen=True)
class Lasting:
    """How long jobs last, with what is said where a curve would mislead."""

    title: str
    curve: SurvivalCurve | None  # nothing where none came back, or none was heard of
    counts: Counts
    longest: float  # days that one of them was followed
    ends: tuple[float, ...]  # days after which jobs that run were last heard of
    bound: float | None  # chance of a come-back at most, where none came back


@dataclass(frozen=True)
class Learned:
    """What past jobs of a pairing say of the shop's habit."""

    pairing: str
    habit: Habit | None
    jobs: int  # that were proved, of every pairing
    own: int  # of them of this pairing
    missing: int  # that are still wanted
    from_jobs: tuple[str, ...]  # number/cylinder of each
    digest: str  # hash of what it was estimated from
    is_invented: bool = False  # whether the jobs are; such a habit is shown and never counts
    shared: float = 0.0  # standard uncertainty that all of them share [m]


def own_fit(plan: Plan) -> OwnFit | None:
    """The fit of a plan without the shop's habit, by the diameter; nothing where not known.

    It stands on the axis of past fits as they were measured, which hold no habit either.
    """
    known = {one.id: one for one in plan.answers()}
    fit = known.get(WITHOUT_HABIT.id, known.get("fit.as_cut"))
    size = known.get("sleeve.od")
    if fit is None or size is None:
        return None
    if not isinstance(fit.value, float) or not isinstance(size.value, float):
        return None
    standard = 0.0 if fit.doubt is None else fit.doubt.standard
    return OwnFit(fit.value / size.value, STATED_COVERAGE_FACTOR * standard / size.value)


def counts_of(outcomes: Mapping[str, int]) -> Counts:
    """Counts from outcomes by their names."""
    return Counts(*(outcomes.get(one, 0) for one in (WELL, BACK, UNHEARD)))


def counted(jobs: Sequence[PastJob]) -> Counts:
    """Counts of these jobs."""
    return counts_of({name: sum(one.outcome == name for one in jobs) for name in OUTCOMES})


def that_count(jobs: Sequence[PastJob]) -> tuple[PastJob, ...]:
    """The jobs that are learned from: the real ones; the invented ones where there is no other."""
    real = tuple(one for one in jobs if not one.is_invented)
    return real or tuple(jobs)


def fit_range(jobs: Sequence[PastJob], outcome: str) -> tuple[float, float] | None:
    """Least and most fit by the diameter among those that came out so; nothing where none."""
    told = [
        one.per_diameter for one in jobs if one.outcome == outcome and one.per_diameter is not None
    ]
    return (min(told), max(told)) if told else None


def lasting(jobs: Sequence[PastJob], title: str = "all of them") -> Lasting:
    """How long jobs last; one of which nothing was heard counts for nothing in the curve."""
    heard = [one for one in jobs if one.outcome != UNHEARD]
    counts, days = counted(jobs), [one.heard_after for one in heard]
    ends = tuple(sorted(one.heard_after for one in heard if one.outcome == WELL))
    longest = max(days, default=0.0)
    if not counts.back:
        bound = none_came_back_bound(heard=counts.well) if counts.well else None
        return Lasting(title, None, counts, longest, ends, bound)
    curve = survival_curve(
        run_times=np.array(days) * DAY, failed=np.array([one.outcome == BACK for one in heard])
    )
    return Lasting(title, curve, counts, longest, ends, None)


def lasting_by_fit(jobs: Sequence[PastJob]) -> tuple[Lasting, ...]:
    """The same for less and for more than the median fit, where each side has enough."""
    told = [one for one in jobs if one.per_diameter is not None and one.outcome != UNHEARD]
    fits = [float(one.per_diameter or 0.0) for one in told]
    if not fits:
        return ()
    median = float(np.median(fits))
    less = [one for one, fit in zip(told, fits, strict=True) if fit < median]
    more = [one for one, fit in zip(told, fits, strict=True) if fit >= median]
    if min(len(less), len(more)) < LEAST_SIDE:
        return ()
    return (
        lasting(less, "less fit than the median"),
        lasting(more, "the median fit or more"),
    )


def learned_from(jobs: Sequence[PastJob], pairing: str) -> Learned:
    """What the proved jobs say of the habit in a pairing.

    Every job that was proved counts, a come-back like any other; one that was never proved
    says nothing.
    """
    proved = _proved(jobs)
    names = sorted({one.pairing.key for one in proved})
    own = sum(one.pairing.key == pairing for one in proved)
    missing = max(0, LEAST_JOBS - len(proved), len(names) + LEAST_FREEDOM - len(proved))
    told = tuple(f"{one.job}/{one.cylinder}" for one in proved)
    habit = None if missing else _habit(proved, names, pairing)
    is_invented = any(one.is_invented for one in proved)
    return Learned(
        pairing, habit, len(proved), own, missing, told, _digest(proved), is_invented,
        _shared(proved),
    )  # fmt: skip


def digest_of(jobs: Sequence[PastJob]) -> str:
    """Hash of what any estimate from these jobs rests on; it changes as soon as that does."""
    return _digest(_proved(jobs))


def _proved(jobs: Sequence[PastJob]) -> list[PastJob]:
    """The jobs that count and were proved, in the order of their numbers."""
    counting = (one for one in that_count(jobs) if one.obtained is not None)
    return sorted(counting, key=lambda one: (one.job, one.cylinder))


def _shared(proved: Sequence[PastJob]) -> float:
    """What all jobs are in doubt by together, as a root mean square."""
    own = [one.obtained.shared**2 for one in proved if one.obtained is not None]
    return float(np.sqrt(np.mean(own))) if own else 0.0


def _habit(proved: Sequence[PastJob], names: Sequence[str], pairing: str) -> Habit:
    got = [one.obtained for one in proved if one.obtained is not None]
    differences = Differences(
        values=np.array([one.difference for one in got]),
        standards=np.array([one.standard for one in got]),
        shared=_shared(proved),
        groups=np.array([names.index(one.pairing.key) for one in proved]),
    )
    kind = names.index(pairing) if pairing in names else len(names)
    return learned_habit(differences=differences, asked=kind)


def _digest(proved: Sequence[PastJob]) -> str:
    """Hash of everything that the estimate rests on."""
    rows = [
        [one.job, one.cylinder, one.pairing.key] + [repr(figure) for figure in _figures(one)]
        for one in proved
    ]
    return hashlib.sha256(json.dumps(rows).encode()).hexdigest()


def _figures(one: PastJob) -> tuple[float, ...]:
    got = one.obtained
    return () if got is None else (got.difference, got.standard, got.shared)
