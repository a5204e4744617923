"""What must be there before a job may go on: met, not met and why, or lifted in writing.

A hold looks at what is told, not at what it says: readings are there or not, a verdict of
the plan is good or not.  Records that a device has announced and that are not here count
against every hold, and so do two different values in a cell that the hold rests on.  A hold
that was lifted stays lifted for ever, with who lifted it and why.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.evidence import (
    GOOD,
    LEAST_LETTERS,
    LEAST_WORDS,
    Asked,
    Lack,
    is_reason,
)
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.life import life_of, stage_named
from sleevewright.jobs.records import WHOLE_JOB, Record
from sleevewright.jobs.stageholds import LACKS

__all__ = [
    "GOOD",
    "LIFTED",
    "MET",
    "NONE",
    "NOT_MET",
    "Hold",
    "Lack",
    "evidence_of",
    "hold_of",
    "is_past",
    "is_reason",
    "lift_of",
    "refuse_reason",
    "verdicts_for",
    "verdicts_together",
]

MET, NOT_MET, LIFTED, NONE = "met", "not met", "lifted", "none"


@dataclass(frozen=True)
class Hold:
    """The hold at the end of a stage."""

    stage: str
    words: str  # what must be there
    state: str  # "met", "not met", "lifted" or "none"
    lacks: tuple[Lack, ...] = ()  # of a lifted one: what still lacks
    by: str = ""  # who lifted it
    reason: str = ""
    lifted_at: str = ""
    was_told_since: bool = False  # after the lifting, something that the hold rests on


def is_past(hold: Hold) -> bool:
    """Whether the job may go on past this hold."""
    return hold.state != NOT_MET


def hold_of(
    stage: str,
    folded: Folded,
    *,
    cylinder: int = 1,
    verdicts: Mapping[str, str] | None = None,
) -> Hold:
    """The hold of a stage as it stands.

    Parameters
    ----------
    stage : str
        Key of the stage.
    folded : Folded
        The job.
    cylinder : int
        Which cylinder, from 1.
    verdicts : Mapping[str, str] | None
        Id of a plan's answer and its verdict: ``good``, ``too close to call`` or ``out``.
        For the release of a job of several cylinders also ``2/fit.below_least``.

    Returns
    -------
    Hold
        Its state; what lacks and what would meet it.
    """
    words = stage_named(stage).hold
    if not words or stage not in {one.key for one in life_of(folded)}:
        return Hold(stage, "", NONE)
    lift = lift_of(stage, folded, cylinder=cylinder)
    asked = Asked(folded, cylinder, verdicts_for(verdicts or {}, cylinder), lift is not None)
    if stage == "release":
        lacks = _lacks_of_all(folded, cylinder, verdicts or {})
        if lift is not None:
            asked.seen |= _seen_by_all(folded)
    else:
        lacks = (*_not_here(folded), *evidence_of(stage, asked))
    if lift is None:
        return Hold(stage, words, NOT_MET if lacks else MET, lacks)
    return Hold(
        stage,
        words,
        LIFTED,
        lacks,
        str(lift.body["person"]),
        str(lift.body["reason"]),
        str(lift.body.get("said") or lift.received),
        any(number > lift.number for number in asked.seen),
    )


def evidence_of(stage: str, asked: Asked) -> tuple[Lack, ...]:
    """What lacks of the evidence itself, records that are not here left out."""
    lacks = LACKS.get(stage)
    return () if lacks is None else tuple(lacks(asked))


def verdicts_for(verdicts: Mapping[str, str], cylinder: int) -> Mapping[str, str]:
    """The verdicts of one cylinder, where those of several stand together."""
    own = f"{cylinder}/"
    of_all = {key: said for key, said in verdicts.items() if "/" not in key}
    return of_all | {
        key.removeprefix(own): said for key, said in verdicts.items() if key.startswith(own)
    }


def verdicts_together(by_cylinder: Mapping[int, Mapping[str, str]]) -> dict[str, str]:
    """The verdicts of all cylinders in one mapping, as the release of a job asks them.

    Only what was judged of each itself is taken, not what it held of the others.

    Examples
    --------
    >>> verdicts_together({2: {"bore.taper": "good"}})
    {'2/bore.taper': 'good'}
    """
    return {
        f"{cylinder}/{answer}": said
        for cylinder, verdicts in by_cylinder.items()
        for answer, said in verdicts.items()
        if "/" not in answer
    }


def _not_here(folded: Folded) -> tuple[Lack, ...]:
    """Records that a device has counted and that have not come."""
    return tuple(
        Lack(
            f"{count} {'reading' if count == 1 else 'readings'} of {device} not here yet",
            f"Bring {device} within reach and wait until nothing waits on it",
            device,
        )
        for device, count in folded.missing().items()
    )


def _lacks_of_all(folded: Folded, cylinder: int, verdicts: Mapping[str, str]) -> tuple[Lack, ...]:
    """Holds of every cylinder that are neither met nor lifted."""
    found: list[Lack] = []
    everyone = range(1, folded.cylinders + 1)
    for one in everyone:
        own = verdicts if one == cylinder else _foreign(verdicts, one)
        for stage in life_of(folded):
            if not stage.hold or stage.key == "release":
                continue
            hold = hold_of(stage.key, folded, cylinder=one, verdicts=own)
            if hold.state == NOT_MET:
                which = f"Cylinder {one}, {stage.title}" if len(everyone) > 1 else stage.title
                cure = hold.lacks[0].cure
                found.append(Lack(f"{which}: {hold.lacks[0].why}", f"{which}: {cure}"))
    return tuple(found)


def _seen_by_all(folded: Folded) -> set[int]:
    """Numbers of the records that the holds of every cylinder rest on."""
    found: set[int] = set()
    for cylinder in range(1, folded.cylinders + 1):
        asked = Asked(folded, cylinder, {}, is_watched=True)
        for stage in life_of(folded):
            evidence_of(stage.key, asked)
        found |= asked.seen
    return found


def _foreign(verdicts: Mapping[str, str], cylinder: int) -> Mapping[str, str]:
    """Verdicts of another cylinder: those that name it, and none that name nobody."""
    own = f"{cylinder}/"
    return {key: said for key, said in verdicts.items() if key.startswith(own)}


def lift_of(stage: str, folded: Folded, *, cylinder: int = 1) -> Record | None:
    """The first lifting of a hold that names a person and a reason."""
    for record in folded.lifts:
        body = record.body
        if (
            body.get("stage") == stage
            and record.cylinder in (WHOLE_JOB, cylinder)
            and str(body.get("person", "")).strip()
            and is_reason(str(body.get("reason", "")))
        ):
            return record
    return None


def refuse_reason(text: str) -> None:
    """Refuse a reason that says nothing.

    Raises
    ------
    InputError
        If it has fewer than two words or eight letters.
    """
    if not is_reason(text):
        allowed = f"at least {LEAST_WORDS} words, {LEAST_LETTERS} letters"
        hint = "It is read on this job for ever: say what was seen and who accepts it."
        raise InputError("reason", clipped(text.strip()) or "nothing", "", allowed, hint)
