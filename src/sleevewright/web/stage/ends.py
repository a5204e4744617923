"""The picture of flange and ledge on the stages that cut or choose for them."""

from __future__ import annotations

from sleevewright.planning.answers import Plan
from sleevewright.web.plan.end_drawing import END_TITLE, end_drawing
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.stage.views import PictureView

SHOWN_AT = ("fit", "counterbore")


def end_of(stage: str, plan: Plan | None) -> tuple[PictureView, ...]:
    """The section of the flange in its counterbore, where the plan knows enough of both."""
    if plan is None or stage not in SHOWN_AT:
        return ()
    drawn = end_drawing(Viewer(plan, plan.units))
    return () if drawn is None else (PictureView(END_TITLE, drawn, is_last=True),)
