"""Whether the reason that was told for a fit is one for the fit that stands now."""

from __future__ import annotations

from collections.abc import Callable

from sleevewright.jobs.evidence import is_reason
from sleevewright.jobs.folding import Folded, Told

REASON = "fit.reason"
CHOICE = ("fit.wanted", "fit.flange_wanted", "fit.least")
"""What a fit is chosen by; told anew it is another choice, and wants its own reason."""

WANTED = "a reason is wanted"
EARLIER = "the reason was told for an earlier fit"
GIVEN = "the reason is told"
"""How it stands with the reason, as it goes on in a sentence."""

BY_FILE = "file"


def reason_state(heads: Callable[[str], tuple[Told, ...]]) -> str:
    """How it stands with the reason for a fit.

    Parameters
    ----------
    heads : Callable[[str], tuple[Told, ...]]
        What stands in a cell of the cylinder.

    Returns
    -------
    str
        One of ``WANTED``, ``EARLIER`` and ``GIVEN``.  What one file told was told together,
        in whatever order it stands there.
    """
    told = heads(REASON)
    if len(told) != 1 or not is_reason(told[0].text):
        return WANTED
    reason = told[0]
    chosen = [one for cell in CHOICE for one in heads(cell)]
    is_older = any(one.number > reason.number and not _together(one, reason) for one in chosen)
    return EARLIER if is_older else GIVEN


def state_of_text(reason: str) -> str:
    """How it stands with a reason of which nothing but its text is known.

    Examples
    --------
    >>> state_of_text("a race barrel"), state_of_text("ok")
    ('the reason is told', 'a reason is wanted')
    """
    return GIVEN if is_reason(reason) else WANTED


def reason_of(folded: Folded, *, cylinder: int = 1) -> str:
    """The same for one cylinder of a job."""
    return reason_state(lambda cell: folded.heads(cell, cylinder=cylinder))


def _together(one: Told, other: Told) -> bool:
    """Whether both came with a job file."""
    return all(each.body.get("source") == BY_FILE for each in (one, other))
