"""Published stress areas of the threads that a hold-down plate is drawn down with."""

from __future__ import annotations

from sleevewright.core.fits.hold_down import METRIC_DEPTH, UNIFIED_DEPTH, stress_area
from sleevewright.evidence.case import published

SQUARE_INCH = 25.4e-3**2


def _metric(diameter: float, pitch: float) -> float:
    """Stress area of a metric thread by millimetres [mm^2]."""
    area = stress_area(diameter=1e-3 * diameter, pitch=1e-3 * pitch, depth=METRIC_DEPTH)
    return 1e6 * float(area)


def _unified(diameter: float, threads: float) -> float:
    """Stress area of a unified thread by inches and threads to the inch [in^2]."""
    inch = 25.4e-3
    area = stress_area(diameter=inch * diameter, pitch=inch / threads, depth=UNIFIED_DEPTH)
    return float(area) / SQUARE_INCH


@published(
    named="H1-M6", formula=stress_area, source="iso-898-1",
    place="nominal stress areas, coarse threads, M6", published=20.1, unit="mm2",
    tolerance=0.05, reading="memory",
)  # fmt: skip
def stress_area_of_m6() -> float:
    """Stress area of M6, coarse."""
    return _metric(6.0, 1.0)


@published(
    named="H1-M8", formula=stress_area, source="iso-898-1",
    place="nominal stress areas, coarse threads, M8", published=36.6, unit="mm2",
    tolerance=0.05, reading="memory",
)  # fmt: skip
def stress_area_of_m8() -> float:
    """Stress area of M8, coarse."""
    return _metric(8.0, 1.25)


@published(
    named="H1-M10", formula=stress_area, source="iso-898-1",
    place="nominal stress areas, coarse threads, M10", published=58.0, unit="mm2",
    tolerance=0.05, reading="memory", digits=3,
)  # fmt: skip
def stress_area_of_m10() -> float:
    """Stress area of M10, coarse."""
    return _metric(10.0, 1.5)


@published(
    named="H2-1/4", formula=stress_area, source="asme-b1-1",
    place="tensile stress areas, UNC, 1/4-20", published=0.0318, unit="in2",
    tolerance=5e-5, reading="memory",
)  # fmt: skip
def stress_area_of_quarter() -> float:
    """Stress area of 1/4-20."""
    return _unified(0.25, 20.0)


@published(
    named="H2-5/16", formula=stress_area, source="asme-b1-1",
    place="tensile stress areas, UNC, 5/16-18", published=0.0524, unit="in2",
    tolerance=5e-5, reading="memory",
)  # fmt: skip
def stress_area_of_five_sixteenths() -> float:
    """Stress area of 5/16-18."""
    return _unified(0.3125, 18.0)


@published(
    named="H2-3/8", formula=stress_area, source="asme-b1-1",
    place="tensile stress areas, UNC, 3/8-16", published=0.0775, unit="in2",
    tolerance=5e-5, reading="memory",
)  # fmt: skip
def stress_area_of_three_eighths() -> float:
    """Stress area of 3/8-16."""
    return _unified(0.375, 16.0)
