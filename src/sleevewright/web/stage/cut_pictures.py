"""Pictures of the stages that cut: each where its answer is known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.planning.answers import Answer, Plan
from sleevewright.web.plan.ledge_drawing import LEDGE_TITLE, ledge_picture
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
    CutPicture("counterbore", "counterbore.plane", LEDGE_TITLE, ledge_picture),
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
