"""Published and derived checks of what gauges and vees show of lobes."""

from __future__ import annotations

import math

from sleevewright.core.metrology.lobes import (
    three_point_range,
    two_point_range,
    vee_amplification,
)
from sleevewright.evidence.case import published


@published(
    named="M6-60-3",
    formula=vee_amplification,
    source="iso-4292",
    place="table of factors, summit method, vee of 60 degrees, 3 lobes",
    published=3.0,
    unit="1",
    tolerance=0.01,
    reading="memory",
)
def vee_60_three() -> float:
    """Three lobes in a vee of 60 degrees."""
    return vee_amplification(lobes=3, included=math.radians(60.0))


@published(
    named="M6-90-5",
    formula=vee_amplification,
    source="iso-4292",
    place="table of factors, summit method, vee of 90 degrees, 5 lobes",
    published=2.0,
    unit="1",
    tolerance=0.01,
    reading="memory",
)
def vee_90_five() -> float:
    """Five lobes in a vee of 90 degrees."""
    return vee_amplification(lobes=5, included=math.radians(90.0))


@published(
    named="M6-90-4",
    formula=vee_amplification,
    source="iso-4292",
    place="table of factors, summit method, vee of 90 degrees, 4 lobes",
    published=-0.41,
    unit="1",
    tolerance=0.005,
    reading="memory",
)
def vee_90_four() -> float:
    """Four lobes in a vee of 90 degrees."""
    return vee_amplification(lobes=4, included=math.radians(90.0))


@published(
    named="M6-72-3",
    formula=vee_amplification,
    source="iso-4292",
    place="table of factors, summit method, vee of 72 degrees, 3 lobes",
    published=2.618,
    unit="1",
    tolerance=0.0005,
    reading="memory",
)
def vee_72_three() -> float:
    """Three lobes in a vee of 72 degrees."""
    return vee_amplification(lobes=3, included=math.radians(72.0))


@published(
    named="M6-108-5",
    formula=vee_amplification,
    source="iso-4292",
    place="table of factors, summit method, vee of 108 degrees, 5 lobes",
    published=2.236,
    unit="1",
    tolerance=0.0005,
    reading="memory",
)
def vee_108_five() -> float:
    """Five lobes in a vee of 108 degrees."""
    return vee_amplification(lobes=5, included=math.radians(108.0))


@published(
    named="M6-120-2",
    formula=vee_amplification,
    source="iso-4292",
    place="table of factors, summit method, vee of 120 degrees, 2 lobes",
    published=1.577,
    unit="1",
    tolerance=0.0005,
    reading="memory",
)
def vee_120_two() -> float:
    """Two lobes in a vee of 120 degrees."""
    return vee_amplification(lobes=2, included=math.radians(120.0))


@published(
    named="M7-two",
    formula=two_point_range,
    source="derived",
    place="diameters of R + a cos 2 t",
    published=20.0,
    unit="um",
    tolerance=1e-6,
    reading="derived",
)
def oval_between_two_points() -> float:
    """Oval of 5 um amplitude: range of the diameters."""
    return two_point_range(amplitude=5e-6, lobes=2) * 1e6


@published(
    named="M7-three",
    formula=three_point_range,
    source="derived",
    place="circle through three contacts on R + a cos 3 t",
    published=20.0,
    unit="um",
    tolerance=1e-6,
    reading="derived",
)
def three_lobes_between_three_points() -> float:
    """Three lobes of 5 um amplitude: range of a three-point gauge."""
    return three_point_range(amplitude=5e-6, lobes=3) * 1e6
