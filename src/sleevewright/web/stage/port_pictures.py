"""Pictures of the ports: each where its answer is known."""

from __future__ import annotations

from sleevewright.web.plan.clock_drawing import CLOCK_TITLE, clock_drawing
from sleevewright.web.stage.cut_picture import CutPicture

PORT_PICTURES: tuple[CutPicture, ...] = (
    CutPicture("ready", "clock.turn", CLOCK_TITLE, clock_drawing),
)
"""In the order in which they stand on the page."""
