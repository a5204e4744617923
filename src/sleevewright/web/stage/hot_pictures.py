"""Pictures of heat, drop and cooling: each where its answer is known."""

from __future__ import annotations

from sleevewright.web.stage.cut_picture import CutPicture

HOT_PICTURES: tuple[CutPicture, ...] = ()
"""In the order in which they stand on the page."""
