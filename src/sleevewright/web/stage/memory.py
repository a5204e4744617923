"""The short line of a stage page about jobs like this one; a come-back is always in it."""

from __future__ import annotations

from urllib.parse import urlencode

from sleevewright.jobs.pastjobs import pairing_of
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import Look
from sleevewright.services.learned import like_this
from sleevewright.web.stage.views import MemoryView

STAGES = ("fit", "after")
"""Where it is asked: before the fit is agreed, and when something came of it."""


def memory_of(bench: Bench, look: Look, stage: str) -> MemoryView | None:
    """How jobs like this one came out, counted in one question; nothing at other stages."""
    if stage not in STAGES:
        return None
    told = look.living.job
    own = pairing_of(told.casting.material, told.sleeve.material, told.engine.cooling)
    counts = like_this(bench, own.key, invented=bool(look.folded.opened.get("invented")))
    words = f"{counts.words} ({own.words})" if counts.all else f"None released yet ({own.words})"
    asked = {"job": look.number, "cylinder": look.cylinder}
    return MemoryView(words, f"/learned?{urlencode(asked)}")
