"""Use case: the order for the clocking of a cylinder, as paper and the drop say it."""

from __future__ import annotations

from sleevewright.planning.clocking import clocking_words
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import look
from sleevewright.services.ledge_told import PLAIN


def clocking_order(bench: Bench, number: str, cylinder: int, *, system: str) -> str:
    """Where to set the sleeve's mark, in words; empty where no ports are clocked.

    Raises
    ------
    NotFound
        If there is no such job, or it has no such cylinder.
    """
    seen = look(bench, number, cylinder)
    if seen.plan is None:
        return ""
    is_plain = seen.folded.text("sleeve.flange", cylinder=cylinder) == PLAIN
    return clocking_words(seen.plan, system=system, is_plain=is_plain)
