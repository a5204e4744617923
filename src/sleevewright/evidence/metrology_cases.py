"""Published and derived checks of sizes, sweeps and circles."""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.metrology.circle import Circle, fit_circle
from sleevewright.core.metrology.grid import reading_at_reference
from sleevewright.core.metrology.ranges import mean_range, range_quantile
from sleevewright.core.metrology.sweep import Mount, Sweep, lever_reading, sweep_offset
from sleevewright.evidence.case import published


def _six_points() -> Circle:
    """The first example of Gander, Golub and Strebel."""
    return fit_circle(
        np.array([1.0, 2.0, 5.0, 7.0, 9.0, 3.0]), np.array([7.0, 6.0, 8.0, 7.0, 5.0, 7.0])
    )


@published(
    named="M1-x",
    formula=fit_circle,
    source="gander-1994",
    place="section 2, six points, geometric fit",
    published=4.7398,
    unit="1",
    tolerance=5e-5,
    reading="memory",
)
def six_points_x() -> float:
    """Circle through six points on a short arc: first coordinate of the centre."""
    return _six_points().x


@published(
    named="M1-y",
    formula=fit_circle,
    source="gander-1994",
    place="section 2, six points, geometric fit",
    published=2.9835,
    unit="1",
    tolerance=5e-5,
    reading="memory",
)
def six_points_y() -> float:
    """Circle through six points on a short arc: second coordinate of the centre."""
    return _six_points().y


@published(
    named="M1-radius",
    formula=fit_circle,
    source="gander-1994",
    place="section 2, six points, geometric fit",
    published=4.7142,
    unit="1",
    tolerance=5e-5,
    reading="memory",
)
def six_points_radius() -> float:
    """Circle through six points on a short arc: radius."""
    return _six_points().radius


def _cookbook() -> Circle:
    """Data set 1 of the cookbook."""
    return fit_circle(
        np.array([9.0, 35.0, -13.0, 10.0, 23.0, 0.0]),
        np.array([34.0, 10.0, 6.0, -14.0, 27.0, -10.0]),
    )


@published(
    named="M2-x",
    formula=fit_circle,
    source="scipy-cookbook-circle",
    place="data set 1, geometric fit",
    published=10.50009,
    unit="1",
    tolerance=5e-6,
    reading="read",
)
def cookbook_x() -> float:
    """Circle round six points: first coordinate of the centre."""
    return _cookbook().x


@published(
    named="M2-y",
    formula=fit_circle,
    source="scipy-cookbook-circle",
    place="data set 1, geometric fit",
    published=9.65995,
    unit="1",
    tolerance=5e-6,
    reading="read",
)
def cookbook_y() -> float:
    """Circle round six points: second coordinate of the centre."""
    return _cookbook().y


@published(
    named="M2-radius",
    formula=fit_circle,
    source="scipy-cookbook-circle",
    place="data set 1, geometric fit",
    published=23.33353,
    unit="1",
    tolerance=5e-6,
    reading="read",
)
def cookbook_radius() -> float:
    """Circle round six points: radius."""
    return _cookbook().radius


@published(
    named="M2-residual",
    formula=fit_circle,
    source="scipy-cookbook-circle",
    place="data set 1, sum of squared residuals of the geometric fit",
    published=7.711852,
    unit="1",
    tolerance=5e-7,
    reading="memory",
)
def cookbook_residual() -> float:
    """Circle round six points: sum of squares left."""
    return _cookbook().sum_of_squares


@published(
    named="M3",
    formula=lever_reading,
    source="practice",
    place="table of factors for a lever at 30 degrees",
    published=0.87,
    unit="1",
    tolerance=0.005,
    reading="memory",
)
def lever_factor() -> float:
    """Lever indicator at 30 degrees to the work: factor of its reading."""
    return float(lever_reading(1.0, angle=math.radians(30.0)))


@published(
    named="M4",
    formula=lever_reading,
    source="practice",
    place="lever at 60 degrees that shows 0.004 in",
    published=0.002,
    unit="in",
    tolerance=1e-6,
    reading="memory",
)
def lever_at_sixty() -> float:
    """Lever indicator at 60 degrees to the work: true movement."""
    return float(lever_reading(0.004, angle=math.radians(60.0)))


def _round_bore() -> Sweep:
    """A true round bore of 29 mm radius, 0.030 mm off at 40 degrees, swept every 5 degrees."""
    radius, eccentric, towards = 29e-3, 0.030e-3, math.radians(40.0)
    angles = np.radians(np.arange(0.0, 360.0, 5.0))
    lag = angles - towards
    wall = eccentric * np.cos(lag) + np.sqrt(radius**2 - (eccentric * np.sin(lag)) ** 2)
    return sweep_offset(angles, radius - wall, mount=Mount.SPINDLE)


@published(
    named="M5-swing",
    formula=sweep_offset,
    source="derived",
    place="exact distances to an eccentric circle: the swing is twice the offset",
    published=0.060,
    unit="mm",
    tolerance=1e-9,
    reading="derived",
)
def round_bore_swing() -> float:
    """Eccentric round bore: total swing."""
    return _round_bore().total_swing * 1e3


@published(
    named="M5-direction",
    formula=sweep_offset,
    source="derived",
    place="the bore lies off at 40 degrees, so the table goes the opposite way",
    published=-140.0,
    unit="deg",
    tolerance=1e-6,
    reading="derived",
)
def round_bore_direction() -> float:
    """Eccentric round bore: direction of the move."""
    found = _round_bore()
    return math.degrees(math.atan2(found.move_y, found.move_x))


@published(
    named="M5-oval",
    formula=sweep_offset,
    source="derived",
    place="e^2 / (4 R) of oval that is not there",
    published=7.7586e-6,
    unit="mm",
    tolerance=5e-11,
    reading="derived",
)
def round_bore_oval() -> float:
    """Eccentric round bore: second harmonic that the offset makes."""
    return (_round_bore().oval or 0.0) * 1e3


@published(
    named="U9-steel",
    formula=reading_at_reference,
    source="iso-1",
    place="reference temperature; 100 mm of steel, 11.5e-6/K, 10 K warm, to first order",
    published=11.5,
    unit="um",
    tolerance=2e-3,
    reading="derived",
)
def warm_steel() -> float:
    """Steel of 100 mm at 30 degC: how much it is larger than at 20 degC."""
    size = reading_at_reference(
        0.1,
        part_expansion=11.5e-6,
        part_temperature=303.15,
        gauge_expansion=0.0,
        gauge_temperature=293.15,
    )
    return float(0.1 - size) * 1e6


@published(
    named="U9-bore",
    formula=reading_at_reference,
    source="iso-1",
    place="reference temperature; 58 mm aluminium, steel gauge, both 8 K warm, first order",
    published=5.336,
    unit="um",
    tolerance=1e-3,
    reading="derived",
    because="the number is of first order; the core divides by the whole growth",
)
def warm_bore_warm_gauge() -> float:
    """Aluminium bore and steel gauge, both at 28 degC: what is left of the growth."""
    size = reading_at_reference(
        0.058,
        part_expansion=23e-6,
        part_temperature=301.15,
        gauge_expansion=11.5e-6,
        gauge_temperature=301.15,
    )
    return float(0.058 - size) * 1e6


@published(
    named="M8-mean",
    formula=mean_range,
    source="tippett-1925",
    place="mean range of 4 normal readings, factor d2 of control charts",
    published=2.059,
    unit="1",
    tolerance=0.0005,
    reading="memory",
)
def mean_range_of_four() -> float:
    """Mean range of four readings in standard deviations."""
    return mean_range(size=4)


@published(
    named="M8-studentised",
    formula=range_quantile,
    source="harter-1960",
    place="upper 5 % point of the studentised range, 3 readings, 10 degrees of freedom",
    published=3.88,
    unit="1",
    tolerance=0.005,
    reading="memory",
)
def studentised_range() -> float:
    """Studentised range of three readings at ten degrees of freedom, 95 %."""
    return range_quantile(probability=0.95, size=3, degrees_of_freedom=10.0)
