"""Checks of what rings ask of ports, and of chamfers, against what is told."""

from __future__ import annotations

import math

from sleevewright.core.ports.chamfer import chamfer_advance, chamfer_height
from sleevewright.core.ports.ring_limits import ring_bow_ratio
from sleevewright.evidence.case import published


@published(
    named="ring-bow-wider",
    formula=ring_bow_ratio,
    source="derived",
    place="a window 10 % wider: the fourth power of 1.1",
    published=1.4641,
    unit="1",
    tolerance=5e-5,
    reading="derived",
)
def bow_of_a_wider_window() -> float:
    """How many times as far a ring bows into a window ten per cent wider."""
    return float(ring_bow_ratio(width=0.0462, reference_width=0.042))


@published(
    named="chamfer-tuning-text",
    formula=chamfer_height,
    source="practice",
    place="tuning text: about 1 mm along the wall by 0.3 mm deep, at the angle that makes",
    published=1.0,
    unit="mm",
    tolerance=0.005,
    reading="derived",
)
def height_of_a_usual_chamfer() -> float:
    """Height of a chamfer 0.3 mm deep at 16.7 degrees."""
    return 1e3 * float(chamfer_height(depth=0.3e-3, angle=math.radians(16.7)))


@published(
    named="chamfer-advance",
    formula=chamfer_advance,
    source="derived",
    place="slider-crank of 72 and 125 mm: crank angles at drops of 36.5 and 37.5 mm, by hand",
    published=1.548,
    unit="deg",
    tolerance=0.0005,
    reading="derived",
)
def advance_of_a_chamfer() -> float:
    """How much earlier an exhaust seems to open by a chamfer 1 mm high."""
    advance = chamfer_advance(
        height=1e-3, roof_depth=37.5e-3, deck_clearance=0.0, stroke=72e-3, rod=125e-3
    )
    return math.degrees(float(advance))
