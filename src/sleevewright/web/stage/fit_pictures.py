"""Pictures of the stage Fit: where the running fit grips, and what the casting's wall does."""

from __future__ import annotations

from markupsafe import Markup

from sleevewright.planning.answers import Plan
from sleevewright.web.plan.fit_drawings import RUNNING_MAP, running_drawing
from sleevewright.web.plan.thin_drawing import THIN_CURVE, thin_drawing
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.stage.views import PictureView

DRAWN = (
    (RUNNING_MAP, "How tight over both temperatures", running_drawing),
    (THIN_CURVE, "What the casting's wall does", thin_drawing),
)


def fit_pictures(stage: str, plan: Plan | None) -> tuple[PictureView, ...]:
    """The pictures of the stage Fit, as far as their answers are known."""
    if stage != "fit" or plan is None:
        return ()
    viewer = Viewer(plan, plan.units)
    found: list[PictureView] = []
    for identity, title, draw in DRAWN:
        drawn: Markup | None = None
        if viewer.knows(identity) and plan.answer(identity).value is not None:
            drawn = draw(viewer, plan.answer(identity))
        if drawn is not None:
            found.append(PictureView(title, drawn, is_last=True))
    return tuple(found)
