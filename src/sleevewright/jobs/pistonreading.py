"""The piston as it was keyed, taken to 20 degC where its own temperature was told."""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.engine.skirt import skirt_at_reference
from sleevewright.core.materials import default
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.model import Job

MILLI = 1e-3
GROWTHS = {"cast": "piston_growth_cast", "forged": "piston_growth_forged"}


def piston_kind(words: str) -> str:
    """Cast or forged, where the words say one of them alone.

    Examples
    --------
    >>> piston_kind("cast, marked 2"), piston_kind("Forged"), piston_kind("forged or cast?")
    ('cast', 'forged', '')
    """
    found = [one for one in GROWTHS if one in words.lower()]
    return found[0] if len(found) == 1 else ""


def growth_named(kind: str) -> str:
    """The default that a kind of piston grows by; a cast one where nothing is told."""
    return GROWTHS[kind or "cast"]


def with_piston_at_20(job: Job, folded: Folded, cylinder: int) -> Job:
    """The job with its piston at 20 degC; as it is where no temperature was told.

    The micrometer is taken to be as warm as the piston: what both grow by is not seen.
    """
    told = folded.value("piston.temperature", cylinder=cylinder)
    milli = None if told is None else told.body.get("mk")
    read = job.piston.diameter
    if read is None or not isinstance(milli, int):
        return job
    kind = piston_kind(folded.text("piston.kind", cylinder=cylinder))
    size = skirt_at_reference(
        piston_diameter=read.value,
        piston_temperature=milli * MILLI,
        piston_growth=default(growth_named(kind)).value,
        gauge_expansion=default("gauge_expansion").value,
    )
    return replace(job, piston=replace(job.piston, diameter=replace(read, value=float(size))))
