"""Pictures of the ports: each where its answer is known."""

from __future__ import annotations

from sleevewright.web.plan.clock_drawing import CLOCK_TITLE, clock_drawing
from sleevewright.web.plan.port_map_drawing import PORT_MAP, PORT_MAP_TITLE, port_map_drawing
from sleevewright.web.plan.timing_drawing import AREAS_TITLE, found_areas, ports_areas
from sleevewright.web.stage.cut_picture import CutPicture

PORT_PICTURES: tuple[CutPicture, ...] = (
    CutPicture("ready", "clock.turn", CLOCK_TITLE, clock_drawing),
    CutPicture("ports", PORT_MAP, PORT_MAP_TITLE, port_map_drawing),
    CutPicture("found", "timing.found.curves", AREAS_TITLE, found_areas, is_last=True),
    CutPicture("ports", "timing.now.curves", AREAS_TITLE, ports_areas, is_last=True),
)
"""In the order in which they stand on the page."""
