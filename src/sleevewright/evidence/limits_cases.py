"""Published checks of limits by the name of a class: printed rows of ISO 286 and ANSI B4.1."""

from __future__ import annotations

from sleevewright.core.fits.ansi_b41 import inch_fit
from sleevewright.core.fits.iso286 import (
    interference_range,
    tabulated_tolerance,
    tolerance_zone,
)
from sleevewright.evidence.case import published

_MICRON = 1.0e-6
_THOU = 25.4e-6
_INCH = 25.4e-3


@published(
    named="F1-by-name",
    formula=interference_range,
    source="iso-286-1",
    place="50 H7/p6, greatest interference",
    published=42.0,
    unit="um",
    tolerance=0.01,
    reading="read",
)
def p6_by_name() -> float:
    """Greatest interference of 50 H7/p6 from the tables."""
    return interference_range(size=0.050, hole="H7", shaft="p6")[1] / _MICRON


@published(
    named="F2-by-name",
    formula=interference_range,
    source="bhandari-2010",
    place="Example 3.3, minimum interference of 50 H7/s6",
    published=18.0,
    unit="um",
    tolerance=0.01,
    reading="read",
)
def s6_by_name() -> float:
    """Least interference of 50 H7/s6 from the tables."""
    return interference_range(size=0.050, hole="H7", shaft="s6")[0] / _MICRON


@published(
    named="F3-u6",
    formula=tolerance_zone,
    source="jis-b-0401",
    place="shaft u6, over 50 to 65 mm, upper deviation",
    published=106.0,
    unit="um",
    tolerance=0.5,
    reading="read",
)
def u6_high() -> float:
    """Upper deviation of a u6 shaft over 50 mm to 65 mm."""
    return tolerance_zone(size=0.063, designation="u6").high / _MICRON


@published(
    named="F4-by-table",
    formula=tabulated_tolerance,
    source="iso-286-1",
    place="IT7, over 80 to 120 mm",
    published=35.0,
    unit="um",
    tolerance=0.5,
    reading="read",
)
def it7_wide() -> float:
    """IT7 over 80 mm to 120 mm from the table."""
    return tabulated_tolerance(size=0.100, grade=7) / _MICRON


@published(
    named="F7-N7",
    formula=tolerance_zone,
    source="iso-286-1",
    place="hole N7, over 50 to 65 mm, upper deviation: -20 and a delta of 11",
    published=-9.0,
    unit="um",
    tolerance=0.1,
    reading="read",
)
def n7_high() -> float:
    """Upper deviation of an N7 hole over 50 mm to 65 mm, by the delta rule."""
    return tolerance_zone(size=0.063, designation="N7").high / _MICRON


@published(
    named="F5-FN4",
    formula=inch_fit,
    source="machinerys-27",
    place="Table 11, FN4, over 1.97 to 2.56 in, least interference",
    published=2.3,
    unit="thou",
    tolerance=0.05,
    reading="read",
)
def fn4_least() -> float:
    """Least interference of FN4 at 2.5 in."""
    return inch_fit(size=2.5 * _INCH, designation="FN4").least / _THOU


@published(
    named="F8-LN3",
    formula=inch_fit,
    source="machinerys-31",
    place="Table 12, LN3, over 1.97 to 3.15 in, greatest interference",
    published=2.3,
    unit="thou",
    tolerance=0.05,
    reading="read",
)
def ln3_most() -> float:
    """Greatest interference of LN3 at 2.5 in."""
    return inch_fit(size=2.5 * _INCH, designation="LN3").most / _THOU
