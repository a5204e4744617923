"""Checks of the crosshatch: speeds of a stroke, the angle that is made, the strokes for one.

The relation was read in texts of calculators; their figures here were worked out from it by
hand, and are marked as derived.  The strokes for 45 degrees are as the trade tells them.
"""

from __future__ import annotations

import math

from sleevewright.core.cutting.crosshatch import (
    angle_about_axis,
    cycles_for_angle,
    included_angle,
    stroke_speed,
)
from sleevewright.core.cutting.strokes import angle_at_middle
from sleevewright.evidence.case import published

BORE, TURNS = 0.062, 200.0 / 60.0


def _speed(degrees: float) -> float:
    """Metres a minute for an included angle in a bore of 62 mm at 200 turns a minute."""
    return 60.0 * float(stroke_speed(bore=BORE, turns=TURNS, included=math.radians(degrees)))


@published(
    named="K7-30", formula=stroke_speed, source="derived",
    place="pi D N tan(a/2), 62 mm, 200 turns a minute, 30 degrees",
    published=10.438, unit="m/min", tolerance=5e-4, reading="derived",
)  # fmt: skip
def speed_for_30() -> float:
    """Stroke speed for 30 degrees included."""
    return _speed(30.0)


@published(
    named="K7-45", formula=stroke_speed, source="derived",
    place="pi D N tan(a/2), 62 mm, 200 turns a minute, 45 degrees",
    published=16.136, unit="m/min", tolerance=5e-4, reading="derived",
)  # fmt: skip
def speed_for_45() -> float:
    """Stroke speed for 45 degrees included."""
    return _speed(45.0)


@published(
    named="K7-60", formula=stroke_speed, source="derived",
    place="pi D N tan(a/2), 62 mm, 200 turns a minute, 60 degrees",
    published=22.491, unit="m/min", tolerance=5e-4, reading="derived",
)  # fmt: skip
def speed_for_60() -> float:
    """Stroke speed for 60 degrees included."""
    return _speed(60.0)


@published(
    named="K8", formula=included_angle, source="derived",
    place="62 mm, 200 turns a minute, 90 mm of stroke, 60 full cycles a minute",
    published=30.99, unit="deg", tolerance=0.005, reading="derived",
)  # fmt: skip
def angle_of_sixty_cycles() -> float:
    """Included angle by the mean speed of the stroke."""
    angle = included_angle(bore=BORE, turns=TURNS, stroke=0.090, cycles=1.0)
    return math.degrees(float(angle))


@published(
    named="K8-about-axis", formula=angle_about_axis, source="derived",
    place="the same, about the axis: what doubling the angle to the axis comes to",
    published=149.01, unit="deg", tolerance=0.005, reading="derived",
)  # fmt: skip
def angle_by_the_other_convention() -> float:
    """The same crossing about the axis: 149 and 31 are one wall."""
    angle = included_angle(bore=BORE, turns=TURNS, stroke=0.090, cycles=1.0)
    return math.degrees(float(angle_about_axis(float(angle))))


@published(
    named="hatch-89-cycles", formula=cycles_for_angle, source="practice",
    place="2.75 in, 150 turns a minute, 3.0 in of stroke, 45 degrees included",
    published=89.0, unit="1/min", tolerance=0.5, reading="memory",
)  # fmt: skip
def cycles_for_45() -> float:
    """Full cycles a minute for 45 degrees, as they are told at the bench."""
    told = {"bore": 2.75 * 0.0254, "turns": 2.5, "stroke": 3.0 * 0.0254}
    return 60.0 * float(cycles_for_angle(**told, included=math.radians(45.0)))


@published(
    named="hatch-mid-stroke", formula=angle_at_middle, source="derived",
    place="peak speed of a sine over its mean, pi/2; 45 degrees by the mean",
    published=66.10, unit="deg", tolerance=0.005, reading="derived",
)  # fmt: skip
def middle_of_45() -> float:
    """Included angle in the middle of a crank's stroke."""
    return math.degrees(float(angle_at_middle(math.radians(45.0))))
