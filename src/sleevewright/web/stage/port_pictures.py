"""Pictures of the ports: each where its answer is known."""

from __future__ import annotations

from sleevewright.web.stage.cut_picture import CutPicture

PORT_PICTURES: tuple[CutPicture, ...] = ()
"""In the order in which they stand on the page."""
