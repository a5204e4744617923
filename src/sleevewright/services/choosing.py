"""Use case: the ways of mending a cylinder side by side, from what was told of it."""

from __future__ import annotations

from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.answers import Plan
from sleevewright.planning.choice import IRON, PLATED, Choosing, choice_stage
from sleevewright.planning.options import (
    ASK,
    HONE,
    OVERSIZE,
    POSSIBLE,
    REPLATE,
    SLEEVE,
    UNKNOWN,
    Option,
    bare_option,
    options,
)

NANO = 1e-9
GRID = "as-found-bore"

CHOICE_NAMES = {
    HONE: "hone",
    OVERSIZE: "next oversize",
    REPLATE: "re-plate",
    SLEEVE: "sleeve",
}
"""Options as a decision names them."""


def choosing_of(job: Job, folded: Folded, *, cylinder: int = 1) -> Choosing:
    """What the choice rests on, from the cells of a job.

    Parameters
    ----------
    job : Job
        The job as it is planned with.
    folded : Folded
        All that was told of it.
    cylinder : int
        Which cylinder.

    Returns
    -------
    Choosing
        As far as it was told.
    """

    def length(cell: str) -> Entry | None:
        return _entry(folded.value(cell, cylinder=cylinder), "nm", NANO)

    grid = job.grid(GRID)
    read = grid is not None and any(one is not None for row in grid.readings for one in row)
    return Choosing(
        grid=grid if read else None,
        score=length("found.score"),
        clean_up=length("choice.clean_up"),
        standard=job.engine.bore,
        step=length("choice.oversize_step"),
        largest_step=length("choice.oversize_most"),
        wall=length("choice.wall"),
        stroke=job.engine.stroke,
        volume=_entry(folded.value("found.volume", cylinder=cylinder), "si", 1.0),
        surface=surface_of(folded, cylinder=cylinder),
        instruments=job.instruments,
    )


def surface_of(folded: Folded, *, cylinder: int = 1) -> str:
    """What the old bore runs on: plated where it was said, else iron."""
    said = folded.text("choice.surface", cylinder=cylinder)
    if said in (IRON, PLATED):
        return said
    words = folded.text("intake.iron", cylinder=cylinder).casefold()
    return PLATED if "plated" in words or "plating" in words else IRON


def options_of(
    plan: Plan | None, job: Job, folded: Folded, *, cylinder: int = 1
) -> tuple[Option, ...]:
    """The options of a cylinder; where nothing can be planned yet, without their figures.

    Parameters
    ----------
    plan : Plan | None
        The plan of the cylinder; nothing where what was told contradicts itself.
    job : Job
        The job as it is planned with.
    folded : Folded
        All that was told of it.
    cylinder : int
        Which cylinder.

    Returns
    -------
    tuple[Option, ...]
        Hone, next oversize or re-plate, sleeve.
    """
    told = choosing_of(job, folded, cylinder=cylinder)
    if plan is None:
        second = (REPLATE, ASK) if told.surface == PLATED else (OVERSIZE, UNKNOWN)
        return tuple(bare_option(*one) for one in ((HONE, UNKNOWN), second, (SLEEVE, POSSIBLE)))
    return options(plan, choice_stage(plan, told))


def _entry(told: Told | None, key: str, factor: float) -> Entry | None:
    """A quantity that was told; nothing where it is none."""
    value = None if told is None else told.body.get(key)
    if told is None or isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return Entry(value * factor, told.text, told.kind)
