"""A drop as it was told: when it went in, what came when after that, and how each was known.

Each happening holds the moment; its ``result`` holds how it was known and the seconds from
the first entry, as ``pedal 4.2``.  Those seconds come from a clock that nobody sets, so they
count before the moments do.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from datetime import datetime

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gauged import NANO
from sleevewright.jobs.records import WHOLE_JOB, Body, Record

STAGE = "drop"
IN, CLOCKED, SEATED, GRIPPED = "in", "clocked", "seated", "gripped"
STILL_LOOSE, STUCK, PULLED_OUT = "still-loose", "stuck", "pulled-out"
TIMED = (CLOCKED, SEATED, GRIPPED, STILL_LOOSE, STUCK, PULLED_OUT)
"""What may come after the entry."""

WAYS = ("pedal", "key", "helper", "afterwards")
"""How a time is known; by a press that says no more it is ``pressed``."""

LONGEST = 3600.0
"""Later than that a happening belongs to no drop. [s]"""

_RESULT = re.compile(r"(pedal|key|helper|afterwards)(?: +(\d{1,5}(?:\.\d{1,3})?))?")


@dataclass(frozen=True)
class Dropped:
    """The newest try of a drop; times are seconds from first entry [s], lengths diametral [m]."""

    number: int  # which try, from 1
    at: str  # the moment of the entry
    clocked: float | None = None
    seated: float | None = None
    gripped: float | None = None
    still_loose_at: float | None = None  # it was still loose then: a drop that is censored
    stuck: float | None = None
    pulled_out: float | None = None
    known_by: dict[str, str] = field(default_factory=dict)
    """How each was known, by the name of the happening: pedal, key, helper, afterwards, pressed."""

    clearance: float | None = None  # slip at the body that was gauged before it
    went: str = ""  # as it is said afterwards: home in one, stuck and freed, stuck, clocked wrong
    took: float | None = None  # door to seat, by a watch


def dropped(folded: Folded, *, cylinder: int) -> Dropped | None:
    """The newest try of a cylinder's drop.

    Parameters
    ----------
    folded : Folded
        The job.
    cylinder : int
        Which cylinder, from 1.

    Returns
    -------
    Dropped | None
        Nothing where no sleeve went in.  What was told twice holds as it was told last.
    """
    own = [
        one
        for one in folded.events
        if one.body.get("stage") == STAGE and one.cylinder in (WHOLE_JOB, cylinder)
    ]
    tries = [one for one in own if one.body.get("what") == IN]
    if not tries:
        return None
    # The newest by when it happened: an outbox may bring an earlier try later.
    entry = max(tries, key=lambda one: (_instant(one), one.number))
    times, known_by = _after(entry, own, tries)
    return Dropped(
        number=len({_instant(one) for one in tries}),
        at=_moment(entry),
        clocked=times.get(CLOCKED),
        seated=times.get(SEATED),
        gripped=times.get(GRIPPED),
        still_loose_at=times.get(STILL_LOOSE),
        stuck=times.get(STUCK),
        pulled_out=times.get(PULLED_OUT),
        known_by={IN: _way(entry.body), **known_by},
        clearance=_length(folded, "heat.slip_body", cylinder),
        went=folded.text("drop.went", cylinder=cylinder),
        took=_number(folded, "drop.took", cylinder),
    )


def _after(
    entry: Record, own: list[Record], tries: list[Record]
) -> tuple[dict[str, float], dict[str, str]]:
    """Seconds of what came after an entry, and how each was known."""
    times: dict[str, float] = {}
    known_by: dict[str, str] = {}
    begun = _instant(entry)
    later = [_instant(one) for one in tries if _instant(one) > begun]
    for one in sorted(own, key=lambda record: record.number):
        what, moment = str(one.body.get("what", "")), _instant(one)
        if what not in TIMED or moment < begun or any(moment >= other for other in later):
            continue
        seconds = _said_seconds(one.body)
        seconds = moment - begun if seconds is None else seconds
        if seconds <= LONGEST:
            times[what], known_by[what] = seconds, _way(one.body)
    return times, known_by


def _moment(record: Record) -> str:
    """When it happened; where that was not told, when it came."""
    return str(record.body.get("at") or record.received)


def _instant(record: Record) -> float:
    """Moment as seconds of an epoch; before everything where it cannot be read."""
    try:
        moment = datetime.fromisoformat(_moment(record))
    except ValueError:
        return -math.inf
    if moment.tzinfo is None:
        return moment.replace(tzinfo=datetime.fromisoformat(record.received).tzinfo).timestamp()
    return moment.timestamp()


def _way(body: Body) -> str:
    """How it was known."""
    found = _RESULT.fullmatch(str(body.get("result", "")))
    return "pressed" if found is None else found[1]


def _said_seconds(body: Body) -> float | None:
    """Seconds from first entry, where they were told with it."""
    found = _RESULT.fullmatch(str(body.get("result", "")))
    return None if found is None or found[2] is None else float(found[2])


def _length(folded: Folded, cell: str, cylinder: int) -> float | None:
    told = folded.value(cell, cylinder=cylinder)
    nm = None if told is None else told.body.get("nm")
    return nm * NANO if isinstance(nm, int) else None


def _number(folded: Folded, cell: str, cylinder: int) -> float | None:
    told = folded.value(cell, cylinder=cylinder)
    si = None if told is None else told.body.get("si")
    return float(si) if isinstance(si, int | float) else None
