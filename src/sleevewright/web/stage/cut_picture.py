"""One picture of a stage: which answer it is drawn from, and how."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.planning.answers import Answer
from sleevewright.web.plan.viewer import Viewer


@dataclass(frozen=True)
class CutPicture:
    """A picture of one stage, drawn from one answer."""

    stage: str
    answer: str
    title: str
    draw: Callable[[Viewer, Answer], Markup | None]
    is_last: bool = False  # after the figures, not before them
