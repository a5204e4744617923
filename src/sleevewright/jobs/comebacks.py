"""Every word of a come-back: what was told of one stays told, whatever is told afterwards.

A later "runs well" is told beside a come-back and never instead of it, and of two devices that
say otherwise the bad word holds.  It is taken back only where its cell is emptied.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sleevewright.jobs.entries import BLANKS
from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.records import WHOLE_JOB

COME_BACK_CELLS = ("after.symptom", "after.finding", "after.cause", "after.came_back")
"""Cells that are told only when a cylinder came back, the most telling first."""

OUTCOME_CELL, OUTCOME_BAD = "after.outcome", "came back"
"""How it is since, as it was heard."""


def come_backs(folded: Folded, *, cylinder: int = 1) -> tuple[Told, ...]:
    """Every word of a come-back that was not taken back, in the order of their telling.

    Parameters
    ----------
    folded : Folded
        The job.
    cylinder : int
        Which cylinder, from 1; what was told of the whole job counts for each.

    Returns
    -------
    tuple[Told, ...]
        Empty where it never came back, or each word of it was taken back.
    """
    found = {
        one.id: one
        for cell in (*COME_BACK_CELLS, OUTCOME_CELL)
        for owner in (cylinder, WHOLE_JOB)
        for one in _kept(folded.history(cell, cylinder=owner))
        if cell != OUTCOME_CELL or one.text.strip() == OUTCOME_BAD
    }
    return tuple(sorted(found.values(), key=lambda one: one.number))


def standing_words(folded: Folded, cell: str, *, cylinder: int = 1) -> str:
    """What stands in a cell of words; where devices differ, all of it."""
    said = (one.text.strip() for one in folded.heads(cell, cylinder=cylinder))
    return " or ".join(dict.fromkeys(one for one in said if one not in BLANKS))


def _kept(told: tuple[Told, ...]) -> Iterator[Told]:
    """What was told of a cell and not taken back, also what was told otherwise later."""
    known = {one.id: one for one in told}
    emptied = {
        id_ for one in told if one.text.strip() in BLANKS for id_ in _before(one, known)
    }  # fmt: skip
    return (one for one in told if one.text.strip() not in BLANKS and one.id not in emptied)


def _before(one: Told, known: Mapping[str, Told]) -> Iterator[str]:
    """Ids of everything that a telling stands in the place of, and what those stood for."""
    left, seen = [one], set[str]()
    while left:
        for id_ in left.pop().body.get("replaces", ()):
            earlier = known.get(id_)
            if earlier is not None and id_ not in seen and earlier.number < one.number:
                seen.add(id_)
                left.append(earlier)
                yield id_
