"""Checks of crank and ports: piston places, port timing, volumes and ratios."""

from __future__ import annotations

import math

from sleevewright.core.engine.crank import (
    duration_per_height,
    piston_drop,
    port_duration,
    port_opens,
)
from sleevewright.core.engine.volumes import compression_ratio, swept_volume
from sleevewright.evidence.case import published

_PLACE = "crank 29 mm, rod 120 mm, exact relation"


@published(
    named="S1",
    formula=piston_drop,
    source="derived",
    place=_PLACE + ", drop at 90 deg",
    published=32.5569,
    unit="mm",
    tolerance=0.00005,
    reading="derived",
)
def drop_at_right_angle() -> float:
    """Drop of the piston at a quarter turn."""
    return float(piston_drop(crank_angle=math.pi / 2.0, stroke=58e-3, rod=120e-3)) * 1e3


@published(
    named="S2-opens",
    formula=port_opens,
    source="derived",
    place=_PLACE + ", roof 28 mm below top dead centre",
    published=81.131,
    unit="deg",
    tolerance=0.0005,
    reading="derived",
)
def opens_at_28() -> float:
    """Opening of a port with its roof 28 mm down."""
    opens = port_opens(roof_depth=28e-3, deck_clearance=0.0, stroke=58e-3, rod=120e-3)
    return math.degrees(opens)


@published(
    named="S2-duration",
    formula=port_duration,
    source="derived",
    place=_PLACE + ", roof 28 mm below top dead centre",
    published=197.738,
    unit="deg",
    tolerance=0.0005,
    reading="derived",
)
def duration_at_28() -> float:
    """Duration of the same port."""
    opens = port_opens(roof_depth=28e-3, deck_clearance=0.0, stroke=58e-3, rod=120e-3)
    return math.degrees(port_duration(opens))


@published(
    named="S2-height",
    formula=duration_per_height,
    source="derived",
    place=_PLACE + ", difference of the durations at 27.9 mm and 28.1 mm",
    published=3.852,
    unit="deg/mm",
    tolerance=6e-4,
    reading="derived",
    because="a difference over 0.2 mm is set beside a slope",
)
def duration_per_millimetre() -> float:
    """Degrees that one millimetre of height is worth at the same roof."""
    slope = duration_per_height(roof_depth=28e-3, deck_clearance=0.0, stroke=58e-3, rod=120e-3)
    return math.degrees(slope) * 1e-3


@published(
    named="S5-swept",
    formula=swept_volume,
    source="derived",
    place="bore 62 mm, stroke 58 mm",
    published=175.106,
    unit="cm^3",
    tolerance=0.0005,
    reading="derived",
)
def swept_175() -> float:
    """Swept volume of a 175."""
    return float(swept_volume(bore=62e-3, stroke=58e-3)) * 1e6


@published(
    named="S5-ratio",
    formula=compression_ratio,
    source="derived",
    place="bore 62 mm, stroke 58 mm, clearance 14.2 cm^3",
    published=13.331,
    unit="1",
    tolerance=0.0005,
    reading="derived",
)
def geometric_ratio() -> float:
    """Geometric compression ratio of the same cylinder."""
    swept = swept_volume(bore=62e-3, stroke=58e-3)
    return float(compression_ratio(swept=swept, clearance_volume=14.2e-6))


@published(
    named="S5-trapped",
    formula=compression_ratio,
    source="derived",
    place="bore 62 mm, port roof 28 mm below top dead centre, clearance 14.2 cm^3",
    published=6.953,
    unit="1",
    tolerance=0.0005,
    reading="derived",
)
def trapped_ratio() -> float:
    """Compression ratio from where the port closes."""
    trapped = swept_volume(bore=62e-3, stroke=28e-3)
    return float(compression_ratio(swept=trapped, clearance_volume=14.2e-6))
