"""What lies on the scale of the fits: the range in which all is good, and what others advise."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.jobs.model import Job
from sleevewright.planning.advising import Advised, advised
from sleevewright.planning.answers import Plan
from sleevewright.planning.chooser import Chooser
from sleevewright.planning.fit_advice import Advice, figure
from sleevewright.planning.fit_range import Recommendation, recommended
from sleevewright.planning.fit_range_said import (
    best_said,
    empty_said,
    ends_said,
    opened_by,
    range_figures,
    undecided_said,
)
from sleevewright.planning.shop import default_in

ALL_GOOD = "all is good"
NONE_OUT = "nothing is out"


@dataclass(frozen=True)
class Mark:
    """A range on the scale, in words and metres; ``None`` is an end that nobody names."""

    words: str
    low: float | None
    high: float | None
    is_ours: bool = False


@dataclass(frozen=True)
class Marks:
    """Ranges on the scale, and what is to be said of them."""

    marks: tuple[Mark, ...]
    says: tuple[str, ...]


def marks_of(plan: Plan, job: Job, picture: Chooser) -> Marks:
    """The ranges on the scale of a chooser's picture.

    Parameters
    ----------
    plan : Plan
        The plan of the cylinder.
    job : Job
        The job that it was made of.
    picture : Chooser
        The picture whose scale it is.

    Returns
    -------
    Marks
        The range of this picture first, then each source about this pairing.
    """
    told = recommended(picture, guard=default_in(plan.chosen, "guard_factor").value)
    found = advised(plan, job)
    marks: tuple[Mark, ...] = () if told is None else _ours(told)
    says: tuple[str, ...] = () if told is None else _range_said(told, plan.units)
    if found is not None:
        marks += tuple(_theirs(one) for one in found.advice)
        says += _against(found)
    return Marks(marks, says)


def _ours(told: Recommendation) -> tuple[Mark, ...]:
    """The range in which all is good; where there is none, that in which nothing is out."""
    if not told.good.is_empty:
        return (Mark(ALL_GOOD, told.good.low, told.good.high, is_ours=True),)
    if not told.not_out.is_empty:
        return (Mark(NONE_OUT, told.not_out.low, told.not_out.high, is_ours=True),)
    return ()


def _range_said(told: Recommendation, system: str) -> tuple[str, ...]:
    """The range in words with what ends it, or what excludes what, and what would open it."""
    if told.good.is_empty:
        said = [f"No fit is good for everything: {empty_said(told, system=system)}."]
        undecided = undecided_said(told, system=system)
        said += [f"{undecided[:1].upper()}{undecided[1:]}."] if undecided else []
    else:
        ends = ends_said(told.good, system=system)
        where = range_figures(told.good, system=system)
        joint = "at" if where.endswith("alone") else "from"
        said = [f"All is good {joint} {where}: {ends}."]
        if told.best is not None:
            best = figure(told.best, system=system)
            said.append(f"Farthest from every limit at {best}: {best_said(told)}.")
    ways = opened_by(told)
    return (*said, f"What would move it: {'; '.join(ways)}.") if ways else tuple(said)


def _theirs(one: Advice) -> Mark:
    return Mark(one.statement.said_by, one.low, one.high)


def _against(found: Advised) -> tuple[str, ...]:
    """What the chosen fit and the least go against, with whether a reason is asked for."""
    if not found.found:
        return ()
    asks = any(one.asks for one in found.found)
    words = "; ".join(one.words for one in found.found)
    return (
        f"The fit as it stands goes against{' this, and wants a reason' if asks else ''}: {words}.",
    )
