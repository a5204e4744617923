"""Pictures of the ports: each where its answer is known."""

from __future__ import annotations

from sleevewright.web.plan.clock_drawing import CLOCK_TITLE, clock_drawing
from sleevewright.web.plan.port_map_drawing import PORT_MAP, PORT_MAP_TITLE, port_map_drawing
from sleevewright.web.stage.cut_picture import CutPicture

PORT_PICTURES: tuple[CutPicture, ...] = (
    CutPicture("ready", "clock.turn", CLOCK_TITLE, clock_drawing),
    CutPicture("ports", PORT_MAP, PORT_MAP_TITLE, port_map_drawing),
)
"""In the order in which they stand on the page."""
