"""Whether metal was taken off the sleeve between its two gaugings, before and after the drop.

A close-up is the bore before less the bore after.  A cut on the sleeve between them is in
that difference too, so that it proves nothing; edges that were only broken take nothing off
the wall that is gauged.

A tablet may hand in late what was told at the bench in time.  A cut of the sleeve's own
stages counts however late it is told.  Boring and honing to the piston is usual work after
the cooled bore: told after it, it counts only where its device says that it was before.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from sleevewright.jobs.entries import BLANKS
from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.records import Record
from sleevewright.jobs.sets import newest, sets_of
from sleevewright.jobs.stagefield import YES

BEFORE, AFTER = "sleeve-id", "cooled-bore"
SLEEVE_CUT = "ready.sleeve_cut"
UNCUT = "none"
BORED = "piston.bored"
FINISHED = "finish-bore"
PASSES = ("piston.pass/", "hone.pass/")
LATE = " (told after the cooled bore was begun)"


@dataclass(frozen=True)
class _Cut:
    """One cut as it was told: number of its record, its words, and when it was keyed."""

    number: int
    words: str
    keyed: float | None  # by its device's clock
    is_later_work: bool = True  # usual after the cooled bore


def cut_between(folded: Folded, *, cylinder: int = 1) -> str:
    """What was cut on the sleeve after its bore was gauged and before it was gauged cooled.

    Parameters
    ----------
    folded : Folded
        The job.
    cylinder : int
        Which cylinder, from 1.

    Returns
    -------
    str
        The cut in words, as it goes on in a sentence, with that it was told late where it
        was; empty where none is told.
    """
    before = newest(folded, BEFORE, cylinder=cylinder)
    after = newest(folded, AFTER, cylinder=cylinder)
    if before is None or after is None:
        return ""
    begun, ended = before.record.number, after.record
    cooled = _keyed(folded, ended) or _moment(ended.received)
    for cut in sorted(_cuts(folded, cylinder), key=lambda one: one.number):
        if begun < cut.number < ended.number:
            return cut.words
        was_before = cut.keyed is not None and cooled is not None and cut.keyed < cooled
        if cut.number > ended.number and (was_before or not cut.is_later_work):
            return cut.words + LATE
    return ""


def _keyed(folded: Folded, record: Record) -> float | None:
    """When the first reading of a set was keyed, by its device; nothing where none says."""
    cells = folded.cells(f"set/{record.body['set']}/", cylinder=record.cylinder)
    told = (one for cell in cells for one in folded.history(cell, cylinder=record.cylinder))
    moments = (_moment(one.body.get("said")) for one in told)
    return min((one for one in moments if one is not None), default=None)


def _moment(said: object) -> float | None:
    """A moment in seconds; nothing where it is none."""
    try:
        return datetime.fromisoformat(str(said or "")).timestamp()
    except ValueError:
        return None


def _cuts(folded: Folded, cylinder: int) -> Iterator[_Cut]:
    """Every cut on the sleeve that stands, each time that it was told."""
    for one in folded.heads(SLEEVE_CUT, cylinder=cylinder):
        if _is_cut(one):
            words, keyed = f"the sleeve was {one.text.strip()}", _moment(one.body.get("said"))
            yield _Cut(one.number, words, keyed, is_later_work=False)
    later = [(BORED, "the sleeve was bored to the piston")]
    for start in PASSES:
        words = "the sleeve was honed" if start.startswith("hone") else "the sleeve was bored"
        later += [(cell, words) for cell in folded.cells(start, cylinder=cylinder)]
    for cell, words in later:
        for one in _tellings(folded, cell, cylinder):
            yield _Cut(one.number, words, _moment(one.body.get("said")))
    for record in sets_of(folded, FINISHED, cylinder=cylinder):
        yield _Cut(record.number, "the finished bore was gauged", _keyed(folded, record))


def _is_cut(one: Told) -> bool:
    """Whether a telling says that something was cut."""
    text = one.text.strip()
    if str(one.body.get("cell")) == BORED:
        return text.lower() == YES
    return text not in (*BLANKS, UNCUT)


def _tellings(folded: Folded, cell: str, cylinder: int) -> Iterator[Told]:
    """The cuts of a cell that stand, and what they put right: to correct one is no new cut."""
    told = folded.history(cell, cylinder=cylinder)
    known = {one.id: one for one in told}
    replaced = {id_ for one in told for id_ in _earlier(one, known)}
    left = [one for one in told if one.id not in replaced]
    while left:
        one = left.pop()
        if _is_cut(one):
            yield one
            left += [known[id_] for id_ in _earlier(one, known)]


def _earlier(one: Told, known: Mapping[str, Told]) -> Iterator[str]:
    """Ids of what a telling stands in the place of."""
    for id_ in one.body.get("replaces", ()):
        earlier = known.get(id_)
        if earlier is not None and earlier.number < one.number:
            yield id_
