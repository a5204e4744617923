"""Checks of ports over the crank: pin off the axis, times, areas and their units."""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.ports.breathing import effective_area, time_area, volume_at_opening
from sleevewright.core.ports.crank import Crank
from sleevewright.core.ports.crank_offset import crank_radius, lasts_below, offset_drop, passes_down
from sleevewright.core.ports.curves import curve_angle_area, port_curves
from sleevewright.core.ports.exposed import exposed_area, specific_time_area
from sleevewright.core.ports.mapped import arc_to_chord
from sleevewright.evidence.case import published

_DEMO = Crank(0.072, 0.125)


@published(
    named="offset-stroke",
    formula=offset_drop,
    source="gate-2025",
    place="question 60: crank 30 mm, rod 50 mm, offset 10 mm, the stroke in a worked answer",
    published=62.05,
    unit="mm",
    tolerance=0.005,
    reading="read",
)
def stroke_of_an_offset_slider() -> float:
    """Distance between both dead centres, the deepest of the drops about the lower one."""
    radius, rod, off = 30e-3, 50e-3, 10e-3
    low, high = 0.05, 0.075
    for _ in range(60):  # the stroke whose crank is 30 mm
        middle = 0.5 * (low + high)
        is_less = crank_radius(stroke=middle, rod=rod, pin_offset=off) < radius
        low, high = (middle, high) if is_less else (low, middle)
    stroke = 0.5 * (low + high)
    bottom = math.pi + math.asin(off / (rod - radius)) - math.asin(off / (rod + radius))
    drop = offset_drop(crank_angle=bottom, stroke=stroke, rod=rod, pin_offset=off)
    return float(drop) * 1e3


@published(
    named="S4",
    formula=offset_drop,
    source="derived",
    place="crank 120 mm, rod 260 mm, 65 deg: slider from the shaft",
    published=0.286875,
    unit="m",
    tolerance=0.0000005,
    reading="derived",
)
def slider_of_a_planar_crank() -> float:
    """Place of a slider by the closed form."""
    drop = offset_drop(crank_angle=math.radians(65.0), stroke=0.24, rod=0.26, pin_offset=0.0)
    return 0.12 + 0.26 - float(drop)


@published(
    named="S2-offset-opens",
    formula=passes_down,
    source="derived",
    place="crank 29 mm, rod 120 mm, no offset, edge 28 mm below top dead centre",
    published=81.131,
    unit="deg",
    tolerance=0.0005,
    reading="derived",
)
def passes_at_28() -> float:
    """Opening by the crossing of two circles, which with no offset is the cosine rule."""
    crank = Crank(0.058, 0.120)
    return math.degrees(passes_down(edge_depth=28e-3, **crank.parts))


@published(
    named="low-rear-lasts",
    formula=lasts_below,
    source="derived",
    place="stroke 72, rod 125 mm, roof 58.2 mm below the crown at the top",
    published=118.9,
    unit="deg",
    tolerance=0.05,
    reading="derived",
)
def low_rear_lasts() -> float:
    """Duration of a transfer whose roof lies 2.2 mm low."""
    return math.degrees(lasts_below(edge_depth=58.2e-3, **_DEMO.parts))


@published(
    named="window-angle-area",
    formula=curve_angle_area,
    source="derived",
    place="stroke 72, rod 125 mm, square window 22 mm wide from 56 to 72 mm: by quadrature",
    published=30029.0,
    unit="mm2 deg",
    tolerance=0.5,
    reading="derived",
)
def window_angle_area() -> float:
    """Angle-area of a square window over one turn."""
    square = np.array([[0.0, 0.056], [0.022, 0.056], [0.022, 0.072], [0.0, 0.072]])
    curves = port_curves((("window", exposed_area(square)),), crank=_DEMO)
    own = float(curve_angle_area(curves.of("window"), angles=curves.angles))
    return own * 1e6 / math.radians(1.0)


@published(
    named="time-area-by-degrees",
    formula=time_area,
    source="derived",
    place="100 mm2 open for 60 deg at 5000 rpm: AA/(6 N)",
    published=0.2,
    unit="mm2 s",
    tolerance=0.00005,
    reading="derived",
    digits=4,
)
def time_area_by_degrees() -> float:
    """Time-area in the units of the degree wheel."""
    speed = 5000.0 / 60.0 * 2.0 * math.pi
    return float(time_area(angle_area=100e-6 * math.radians(60.0), speed=speed)) * 1e6


@published(
    named="specific-time-area-unit",
    formula=specific_time_area,
    source="derived",
    place="1 s cm2/cm3 in s/m",
    published=100.0,
    unit="s/m",
    tolerance=0.05,
    reading="derived",
)
def unit_of_a_specific_time_area() -> float:
    """One square centimetre, one second, one cubic centimetre."""
    return specific_time_area(angle_area=1e-4, speed=1.0, volume=1e-6)


@published(
    named="chord-of-46",
    formula=arc_to_chord,
    source="derived",
    place="46 mm along the wall of a bore of 66.4 mm",
    published=42.41,
    unit="mm",
    tolerance=0.005,
    reading="derived",
)
def chord_of_46() -> float:
    """Straight width of a width along the wall."""
    return arc_to_chord(arc=46e-3, bore=66.4e-3) * 1e3


@published(
    named="trapped-share",
    formula=volume_at_opening,
    source="derived",
    place="roof 37.5 mm down in a stroke of 72 mm: trapped by swept",
    published=0.52,
    unit="1",
    tolerance=0.005,
    reading="derived",
)
def trapped_share() -> float:
    """Share of the swept volume that lies above the exhaust's roof."""
    trapped = volume_at_opening(
        clearance_volume=0.0, bore=66.4e-3, roof_depth=37.5e-3, deck_clearance=0.0
    )
    return float(trapped) / (math.pi / 4.0 * 66.4e-3**2 * 72e-3)


@published(
    named="projected-window",
    formula=effective_area,
    source="derived",
    place="46 mm along a bore of 66.4 mm, 20 mm high, 20 deg in plan: by the integral over the arc",
    published=797.0,
    unit="mm2",
    tolerance=0.5,
    reading="derived",
    digits=3,
)
def projected_window() -> float:
    """A window of a round wall, seen along a flow that leans."""
    chord = arc_to_chord(arc=46e-3, bore=66.4e-3)
    own = effective_area(
        chord=chord, open_height=20e-3, plan_angle=math.radians(20.0), elevation=0.0
    )
    return float(own) * 1e6
