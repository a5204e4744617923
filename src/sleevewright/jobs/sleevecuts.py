"""Whether metal was taken off the sleeve between its two gaugings, before and after the drop.

A close-up is the bore before less the bore after.  A cut on the sleeve between them is in
that difference too, so that it proves nothing; edges that were only broken take nothing off
the wall that is gauged.
"""

from __future__ import annotations

from collections.abc import Iterator

from sleevewright.jobs.entries import BLANKS
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.sets import newest, sets_of
from sleevewright.jobs.stagefield import YES

BEFORE, AFTER = "sleeve-id", "cooled-bore"
SLEEVE_CUT = "ready.sleeve_cut"
UNCUT = "none"
FINISHED = "finish-bore"
PASSES = ("piston.pass/", "hone.pass/")


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
        The cut in words, as it goes on in a sentence; empty where none is told.
    """
    before = newest(folded, BEFORE, cylinder=cylinder)
    after = newest(folded, AFTER, cylinder=cylinder)
    if before is None or after is None:
        return ""
    begun, ended = before.record.number, after.record.number
    told = sorted(_cuts(folded, cylinder))
    return next((words for number, words in told if begun < number < ended), "")


def _cuts(folded: Folded, cylinder: int) -> Iterator[tuple[int, str]]:
    """Every cut on the sleeve: number of the record that told it, and what it was."""
    for one in folded.heads(SLEEVE_CUT, cylinder=cylinder):
        if one.text.strip() not in (*BLANKS, UNCUT):
            yield one.number, f"the sleeve was {one.text.strip()}"
    for one in folded.heads("piston.bored", cylinder=cylinder):
        if one.text.strip().lower() == YES:
            yield one.number, "the sleeve was bored to the piston"
    for start in PASSES:
        words = "the sleeve was honed" if start.startswith("hone") else "the sleeve was bored"
        for cell in folded.cells(start, cylinder=cylinder):
            heads = folded.heads(cell, cylinder=cylinder)
            yield from ((one.number, words) for one in heads if one.text.strip() not in BLANKS)
    for record in sets_of(folded, FINISHED, cylinder=cylinder):
        yield record.number, "the finished bore was gauged"
