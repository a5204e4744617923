"""Pictures of the stages that cut: each where its answer is known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.planning.answers import Answer, Plan
from sleevewright.web.plan.hone_drawing import DWELL_TITLE, hone_drawing
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.stage.views import PictureView


@dataclass(frozen=True)
class CutPicture:
    """A picture of one stage, drawn from one answer."""

    stage: str
    answer: str
    title: str
    draw: Callable[[Viewer, Answer], Markup | None]
    is_last: bool = False  # after the figures, not before them


CUT_PICTURES: tuple[CutPicture, ...] = (
    # one a line
    CutPicture("honefit", "honefit.dwell", DWELL_TITLE, hone_drawing),
    CutPicture("hone", "hone.dwell", DWELL_TITLE, hone_drawing),
)
"""In the order in which they stand on the page."""


def cut_pictures(stage: str, plan: Plan | None) -> tuple[PictureView, ...]:
    """The pictures of a stage that cuts, as far as their answers are known."""
    if plan is None:
        return ()
    viewer = Viewer(plan, plan.units)
    found: list[PictureView] = []
    for one in CUT_PICTURES:
        if one.stage != stage or not viewer.knows(one.answer):
            continue
        answer = plan.answer(one.answer)
        drawn = None if answer.value is None else one.draw(viewer, answer)
        if drawn is not None:
            found.append(PictureView(one.title, drawn, is_last=one.is_last))
    return tuple(found)
