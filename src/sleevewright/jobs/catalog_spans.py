"""Between which values the things that a stage records are believed (SI, ends allowed).

Wide on purpose: a wrong unit or a lost decimal point falls out, a worn cylinder does not.
Source of all of them: common practice, no source.
"""

from __future__ import annotations

import math

from sleevewright.jobs.field import MM, UM, ZERO_C, Span
from sleevewright.units import Dimension

BORE = Span(Dimension.LENGTH, 0.010, 0.400)
"""A diameter of sleeve, bore or flange."""

EDGE = Span(Dimension.LENGTH, 0.0, 0.400)
"""A depth below the deck, or a width of a port."""

FEED = Span(Dimension.LENGTH, 1.0 * UM, 3.0 * MM)
"""What an edge goes along the bore in one turn."""

BAR = Span(Dimension.LENGTH, 0.004, 0.120)

THICKNESS = Span(Dimension.LENGTH, 0.3 * MM, 0.060)
WALL = Span(Dimension.LENGTH, 0.0, 0.060)

AROUND_ZERO = Span(Dimension.LENGTH, -2.0 * MM, 2.0 * MM)
"""An indicator around its zero."""

SWING = Span(Dimension.LENGTH, 0.0, 4.0 * MM)
"""Largest less smallest reading of an indicator."""

TRAVEL = Span(Dimension.LENGTH, -0.5, 0.5)
"""What a table's dial shows, or how far it was turned."""

STAND_OUT = Span(Dimension.LENGTH, -2.0 * MM, 5.0 * MM)
BLADE = Span(Dimension.LENGTH, 0.0, 1.5 * MM)
"""The thickest feeler that enters; 0 where none does."""

GROWN = Span(Dimension.LENGTH, -1.0 * MM, 1.5 * MM)
"""Growth of a hot bore over the sleeve, as a gauge that was zeroed on the sleeve shows it."""

OFFCUT = Span(Dimension.LENGTH, 0.0, 3.0 * MM)
"""Metal that is taken off."""

SCORE = Span(Dimension.LENGTH, 0.0, 3.0 * MM)
RADIUS = Span(Dimension.LENGTH, 0.0, 0.060)
RIM = Span(Dimension.LENGTH, 0.0, 60.0 * MM)
CLEARANCE = Span(Dimension.LENGTH, 0.0, 1.5 * MM)
GAP = Span(Dimension.LENGTH, 0.0, 3.0 * MM)
SQUISH = Span(Dimension.LENGTH, 0.0, 6.0 * MM)
FLATNESS = Span(Dimension.LENGTH, 0.0, 0.5 * MM)
ROUGHNESS = Span(Dimension.LENGTH, 0.0, 60.0 * UM)

ROOM = Span(Dimension.TEMPERATURE, ZERO_C - 30.0, ZERO_C + 60.0)
PART = Span(Dimension.TEMPERATURE, ZERO_C - 200.0, ZERO_C + 450.0)
OVEN = Span(Dimension.TEMPERATURE, ZERO_C + 10.0, ZERO_C + 450.0)

WINDOW = Span(Dimension.AREA, 0.0, 0.02)
"""Area of a port or of the passage behind it."""

SKIRT = Span(Dimension.LENGTH, 0.010, 0.300)
"""Length of a piston, from its crown's edge to the skirt's lower edge."""

PIN_OFF = Span(Dimension.LENGTH, -10.0 * MM, 10.0 * MM)
"""How far a pin, or a cylinder, stands off the axis of the crank."""

CRANK_SPEED = Span(Dimension.TURNING, 5.0, 500.0)
"""Speed of an engine: 300 to 30,000 turns by the minute."""

CHAMFER_ANGLE = Span(Dimension.ANGLE, 0.087, 1.48)
"""Between a chamfer and the wall."""

TURNED = Span(Dimension.ANGLE, -6.4, 6.4)
ROUND = Span(Dimension.ANGLE, 0.0, 2.0 * math.pi)
"""An angle round the bore from a datum, one way all round."""

LEVER = Span(Dimension.ANGLE, 0.0, 1.3)
HATCH = Span(Dimension.ANGLE, 0.1, 2.7)
TEST_PRESSURE = Span(Dimension.PRESSURE, 0.0, 1.0e6)
VOLUME = Span(Dimension.VOLUME, 0.0, 2.0e-3)
CROWN = Span(Dimension.VOLUME, 0.0, 3.0e-4)
"""Volume of a dome above the piston's edge, or of a dish below it."""

RISE = Span(Dimension.LENGTH, -30.0 * MM, 40.0 * MM)
"""A step or a crown, negative the other way."""

GASKET = Span(Dimension.LENGTH, 0.0, 10.0 * MM)
SECONDS = Span(Dimension.TIME, 0.0, 7200.0)
TWO_DAYS = Span(Dimension.TIME, 0.0, 2.0 * 86400.0)
HOURS = Span(Dimension.TIME, 0.0, 30.0 * 86400.0)
WEIGHT = Span(Dimension.MASS, 0.02, 200.0)
COUNT = Span(Dimension.RATIO, 0.0, 100_000.0)
NUT_TORQUE = Span(Dimension.TORQUE, 0.0, 500.0)
