"""Checks of targets of ports: a manual's degrees as a height, sources as one mean."""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.ports.agree import agreement
from sleevewright.core.ports.manualdegrees import roof_by_opening
from sleevewright.evidence.case import published


@published(
    named="S2-roof",
    formula=roof_by_opening,
    source="derived",
    place="crank 29 mm, rod 120 mm, exact relation; opening of a roof 28 mm down, turned back",
    published=28.0,
    unit="mm",
    tolerance=0.0005,
    reading="derived",
)
def roof_at_28() -> float:
    """Roof of the port that opens at 81.131 degrees."""
    opens = math.radians(81.131)
    return float(roof_by_opening(opens=opens, deck_clearance=0.0, stroke=58e-3, rod=120e-3)) * 1e3


@published(
    named="target-mean",
    formula=agreement,
    source="derived",
    place="normal equation of one unknown by hand: 56.10 (0.15), 56.04 (0.16), 55.95 (0.12)",
    published=56.017,
    unit="mm",
    tolerance=0.0005,
    reading="derived",
)
def mean_of_three() -> float:
    """Mean of a mirror port, a manual and a library."""
    return agreement(np.array([56.10, 56.04, 55.95]), np.array([0.15, 0.16, 0.12])).value
