"""Pictures of heat, drop and cooling: each where its answer is known."""

from __future__ import annotations

from sleevewright.web.plan.cooling_drawing import COOLING_TITLE, cooling_drawing
from sleevewright.web.plan.ready_drawing import READY_TITLE, ready_drawing
from sleevewright.web.stage.cut_picture import CutPicture

HOT_PICTURES: tuple[CutPicture, ...] = (
    CutPicture("heat", "ready_when.curve", READY_TITLE, ready_drawing),
    CutPicture("cool", "cool.forecast", COOLING_TITLE, cooling_drawing),
)
"""In the order in which they stand on the page."""
