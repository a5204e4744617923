"""What on a casting stands less heat than the casting itself; the least of it rules."""

from __future__ import annotations

from sleevewright.core.materials import default
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.stagefield import YES

LIMITS = {
    "paint": ("paint", "limit_paint"),
    "bush": ("a bush, seat or guide", "limit_bush"),
    "thread_insert": ("a thread insert", "limit_thread_insert"),
    "threadlocker": ("threadlocker or sealant", "limit_threadlocker"),
    "soft_solder": ("soft solder", "limit_soft_solder"),
    "gasket": ("a gasket", "limit_gasket"),
    "rubber": ("rubber or plastic", "limit_rubber"),
    "plating": ("plating", "limit_plating"),
}
"""What may be on a casting: its words, and the default with its usual highest temperature."""


def on_casting(folded: Folded, cylinder: int) -> tuple[str, ...]:
    """What was ticked as being on the casting."""
    cells = {one: f"heat.has/{one}" for one in LIMITS}
    return tuple(
        one
        for one, cell in cells.items()
        if folded.text(cell, cylinder=cylinder).strip().lower() == YES
    )


def least_limit(has: tuple[str, ...]) -> str:
    """The least usual limit of what is on the casting, as it is said; empty where it is none."""
    rows = [default(LIMITS[one][1]) for one in has]
    below = [row for row in rows if row.value < default("part_limit").value]
    return min(below, key=lambda row: row.value).stated if below else ""
