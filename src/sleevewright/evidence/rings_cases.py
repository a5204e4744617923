"""Checks of ring gaps and window widths against what is printed."""

from __future__ import annotations

from sleevewright.core.engine.ring_ends import window_share
from sleevewright.core.engine.ring_gap import bore_from_gap, ring_gap
from sleevewright.evidence.case import published

THOU, INCH = 25.4e-6, 25.4e-3


@published(
    named="ring-gap-sheet",
    formula=ring_gap,
    source="ring-sheet",
    place="its rule of 0.0035 in by the inch at 3 in; its printed example of 0.012 is a slip",
    published=0.0105,
    unit="in",
    tolerance=0.00005,
    reading="derived",
)
def least_gap_at_three_inches() -> float:
    """Least gap of a ring in a bore of 3 in."""
    return float(ring_gap(bore=3.0 * INCH, share=0.0035)) / INCH


@published(
    named="ring-gap-pi",
    formula=bore_from_gap,
    source="derived",
    place="six thou more gap are nearly two thou of bore: 6/pi",
    published=1.90986,
    unit="thou",
    tolerance=5e-6,
    reading="derived",
)
def bore_of_six_thou_more_gap() -> float:
    """Growth of the bore that six thou more of gap tell."""
    bore = bore_from_gap(gap=17.0 * THOU, reference_gap=11.0 * THOU, reference_bore=2.75 * INCH)
    return (float(bore) - 2.75 * INCH) / THOU


@published(
    named="window-share",
    formula=window_share,
    source="derived",
    place="exhaust of 1.500 in by its chord in a bore of 2.7555 in",
    published=54.44,
    unit="%",
    tolerance=0.005,
    reading="derived",
)
def share_of_an_exhaust() -> float:
    """Width of an exhaust window by the bore."""
    return 100.0 * float(window_share(chord=1.5 * INCH, bore=2.7555 * INCH))
