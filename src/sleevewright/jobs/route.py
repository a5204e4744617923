"""The route of a job as data, and where on it a job stands.

A hold means only this: what must be there before the job may go on.  Where a job stands
follows from what has been told of it; nothing here keeps a state of its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.jobs.model import Job

WITHOUT_PORTS = ("four-stroke", "compressor")
"""Kinds of engine whose cylinders have no ports."""


@dataclass(frozen=True)
class Stage:
    """One stage of the route."""

    key: str
    title: str
    hold: str = ""  # what must be there before going on; empty where nothing must
    skipped_by: tuple[str, ...] = ()  # kinds of engine that have no such stage


ROUTE = (
    Stage("intake", "Intake", "the condition is agreed"),
    Stage("found", "As found", "cracks were looked for; the ports are mapped, where it has any"),
    Stage("choice", "Choice", "the option is agreed"),
    Stage("sleeve", "Sleeve in hand", "the sleeve is measured; no parent bore without it"),
    Stage("fit", "Fit", "the fit is agreed"),
    Stage("setup", "Set-up", "offset and tilt are within the limit"),
    Stage("old", "Old sleeve out", "the bore is clean all round, or accepted in writing"),
    Stage("parent", "Parent bore", "the bore is round and straight, with stock left to hone"),
    Stage("counterbore", "Counterbore", "the ledge is square and the stand-out is planned"),
    Stage("honefit", "Hone to fit", "the chance of less than the least fit is small enough"),
    Stage("ready", "Make ready", "the casting is dry and drained; the sleeve is unchanged"),
    Stage("heat", "Heat", "the slip is measured at body and flange, not predicted"),
    Stage("drop", "Drop"),
    Stage("cool", "Cool and prove", "the flange is seated and the fit is proved"),
    Stage("face", "Face"),
    Stage("piston", "Bore to piston", "the piston is in hand"),
    Stage("ports", "Ports", "the chamfers are ticked, port by port", WITHOUT_PORTS),
    Stage("hone", "Hone to piston", "the bore is round and straight and the clearance is good"),
    Stage("rings", "Rings"),
    Stage("release", "Release", "every hold is met, or lifted in writing"),
)


@dataclass(frozen=True)
class Step:
    """A stage of one job: behind it (``done``), under way (``now``) or ``ahead``."""

    stage: Stage
    state: str
    hold: str = ""  # "met", "not met" or "lifted", where records tell it


def route_of(job: Job) -> tuple[Stage, ...]:
    """The stages of this job's kind of engine, in order."""
    return tuple(stage for stage in ROUTE if job.engine.kind not in stage.skipped_by)


def steps_of(job: Job) -> tuple[Step, ...]:
    """The route of a job with what is behind it and what is ahead."""
    now = stage_of(job)
    states: list[Step] = []
    state = "done"
    for stage in route_of(job):
        if stage.key == now:
            states.append(Step(stage, "now"))
            state = "ahead"
        else:
            states.append(Step(stage, state))
    return tuple(states)


def stage_of(job: Job) -> str:
    """Key of the stage at which the next move is made."""
    return _next(job)[0]


def next_move(job: Job) -> str:
    """The one thing to do next, in the words of the bench.

    Examples
    --------
    >>> next_move(Job())
    'Say what the casting is made of'
    """
    return _next(job)[1]


def _next(job: Job) -> tuple[str, str]:
    """Stage and words of the first thing that has not been told and still can be."""
    for moves in (_before_boring, _at_the_sleeve, _at_the_cuts):
        found = moves(job)
        if found is not None:
            return found
    if job.heat.dry is not True:
        return "ready", "Make ready: dry and drained"
    return "heat", "Heat the casting"


def _before_boring(job: Job) -> tuple[str, str] | None:
    """What can only be told while the old bore is still there."""
    if not job.casting.material:
        return "intake", "Say what the casting is made of"
    if job.grid("parent-bore") is not None:
        return None
    if job.engine.kind not in WITHOUT_PORTS and not job.ports:
        return "found", "Map the ports before anything is bored"
    if job.grid("as-found-bore") is None and not _has_sleeve(job):
        return "found", "Gauge the bore as found"
    if not job.sleeve.material:
        return "choice", "Choose the sleeve and say its metal"
    return None


def _at_the_sleeve(job: Job) -> tuple[str, str] | None:
    """What the sleeve and the fit still want."""
    if not _has_sleeve(job):
        return "sleeve", "Measure the sleeve"
    if job.sleeve.flange_diameter is not None and job.grid("flange-od") is None:
        return "sleeve", "Measure the flange"
    if job.choice.wanted is None:
        return "fit", "Choose the fit"
    if not job.choice.by and not _is_bored(job):
        return "fit", "Agree this fit"
    return None


def _at_the_cuts(job: Job) -> tuple[str, str] | None:
    """What is still to be cut."""
    if not _is_bored(job):
        return "parent", "Bore the parent to size"
    if _is_flanged(job) and job.grid("counterbore") is None:
        return "counterbore", "Cut the counterbore"
    if _is_flanged(job) and job.grid("counterbore-depth") is None:
        return "counterbore", "Measure how deep the counterbore is"
    return None


def _has_sleeve(job: Job) -> bool:
    """Whether the sleeve's outside diameter is known."""
    return job.grid("sleeve-od") is not None or job.sleeve.outside_diameter is not None


def _is_bored(job: Job) -> bool:
    """Whether the parent bore's size is known."""
    return job.grid("parent-bore") is not None or job.casting.inside_diameter is not None


def _is_flanged(job: Job) -> bool:
    """Whether the sleeve has a flange, as far as it was told."""
    return job.grid("flange-od") is not None or job.sleeve.flange_diameter is not None
