"""Published checks of the fit's limits: book fits, yield, roughness, and heat that undoes it."""

from __future__ import annotations

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.grades import (
    fundamental_deviation,
    greatest_interference,
    least_interference,
    standard_tolerance,
)
from sleevewright.core.fits.interference import effective_interference
from sleevewright.core.fits.limits import (
    casting_yield_pressure,
    elastic_plastic_pressure,
    full_plastic_pressure,
    sleeve_yield_pressure,
)
from sleevewright.core.fits.rings import RingPair
from sleevewright.core.fits.running import grip_temperature, running_interference
from sleevewright.evidence.case import published

_MILLIMETRE = 1.0e-3
_MICRON = 1.0e-6
_HUB = RingPair(
    inside_diameter=0.03,
    interface_diameter=0.05,
    outside_diameter=0.10,
    sleeve_modulus=210e9,
    sleeve_poisson=0.3,
    casting_modulus=210e9,
    casting_poisson=0.3,
)
_LAWS = {"casting_law": ExpansionLaw(22.5e-6, 0.0), "sleeve_law": ExpansionLaw(11.0e-6, 0.0)}


def _width(over: float, up_to: float, grade: int) -> float:
    """Standard tolerance of a step given in millimetres, in micrometres."""
    width = standard_tolerance(over=over * _MILLIMETRE, up_to=up_to * _MILLIMETRE, grade=grade)
    return width / _MICRON


@published(
    named="F1-least",
    formula=least_interference,
    source="iso-286-1",
    place="50 H7/p6, least interference",
    published=1.0,
    unit="um",
    tolerance=0.01,
    reading="read",
)
def p6_least() -> float:
    """Least interference of 50 H7/p6: shaft low +26 um, hole of grade 7."""
    hole = _width(30.0, 50.0, 7) * _MICRON
    return float(least_interference(shaft_low=26 * _MICRON, hole_high=hole)) / _MICRON


@published(
    named="F1-most",
    formula=greatest_interference,
    source="iso-286-1",
    place="50 H7/p6, greatest interference",
    published=42.0,
    unit="um",
    tolerance=0.01,
    reading="read",
)
def p6_most() -> float:
    """Greatest interference of 50 H7/p6: shaft low +26 um and grade 6, hole at zero."""
    high = (26.0 + _width(30.0, 50.0, 6)) * _MICRON
    return float(greatest_interference(shaft_high=high, hole_low=0.0)) / _MICRON


@published(
    named="F2-least",
    formula=least_interference,
    source="bhandari-2010",
    place="Example 3.3, minimum interference of 50 H7/s6",
    published=18.0,
    unit="um",
    tolerance=0.01,
    reading="read",
)
def s6_least() -> float:
    """Least interference of 50 H7/s6: shaft low +43 um, hole of grade 7."""
    hole = _width(30.0, 50.0, 7) * _MICRON
    return float(least_interference(shaft_low=43 * _MICRON, hole_high=hole)) / _MICRON


@published(
    named="F2-most",
    formula=greatest_interference,
    source="bhandari-2010",
    place="Example 3.3, maximum interference of 50 H7/s6",
    published=59.0,
    unit="um",
    tolerance=0.01,
    reading="read",
)
def s6_most() -> float:
    """Greatest interference of 50 H7/s6: shaft low +43 um and grade 6, hole at zero."""
    high = (43.0 + _width(30.0, 50.0, 6)) * _MICRON
    return float(greatest_interference(shaft_high=high, hole_low=0.0)) / _MICRON


@published(
    named="F3",
    formula=fundamental_deviation,
    source="jis-b-0401",
    place="shaft s6, over 50 to 65 mm, lower deviation",
    published=53.0,
    unit="um",
    tolerance=0.5,
    reading="read",
)
def s6_low() -> float:
    """Lower deviation of an s6 shaft over 50 mm to 65 mm."""
    low = fundamental_deviation(
        letter="s", over=0.050, up_to=0.065, step_over=0.050, step_up_to=0.080
    )
    return low / _MICRON


@published(
    named="F4",
    formula=standard_tolerance,
    source="iso-286-1",
    place="table of standard tolerances, IT7 over 50 mm to 80 mm",
    published=30.0,
    unit="um",
    tolerance=0.5,
    reading="read",
)
def seventh_grade() -> float:
    """Width of grade 7 over 50 mm to 80 mm."""
    return _width(50.0, 80.0, 7)


@published(
    named="P8-yield",
    formula=casting_yield_pressure,
    source="din-7190-1",
    place="first yield of a hub, Q 0.5, Re 300 MPa; form from memory",
    published=129.90,
    unit="MPa",
    tolerance=0.005,
    reading="derived",
)
def hub_first_yield() -> float:
    """Pressure at first yield of a hub twice as wide as its bore."""
    return float(casting_yield_pressure(_HUB, yield_strength=300e6)) / 1e6


@published(
    named="P8-plastic",
    formula=elastic_plastic_pressure,
    source="din-7190-1",
    place="hub yielded to 1.3 times its bore, Q 0.5, Re 300 MPa; form from memory",
    published=190.91,
    unit="MPa",
    tolerance=0.005,
    reading="derived",
)
def hub_part_plastic() -> float:
    """Pressure at which the same hub has yielded to 1.3 times its bore."""
    pressure = elastic_plastic_pressure(_HUB, yield_strength=300e6, plastic_ratio=1.3)
    return float(pressure) / 1e6


@published(
    named="P8-full",
    formula=full_plastic_pressure,
    source="din-7190-1",
    place="hub yielded through, Q 0.5, Re 300 MPa; form from memory",
    published=240.11,
    unit="MPa",
    tolerance=0.005,
    reading="derived",
)
def hub_full_plastic() -> float:
    """Pressure at which the same hub has yielded through."""
    return float(full_plastic_pressure(_HUB, yield_strength=300e6)) / 1e6


@published(
    named="P8-hollow",
    formula=sleeve_yield_pressure,
    source="din-7190-1",
    place="first yield of a hollow inner member, bore 0.6 of its outside, Re 300 MPa",
    published=110.85,
    unit="MPa",
    tolerance=0.005,
    reading="derived",
)
def hollow_first_yield() -> float:
    """Pressure at first yield of a hollow inner member."""
    return float(sleeve_yield_pressure(_HUB, yield_strength=300e6)) / 1e6


@published(
    named="P17",
    formula=effective_interference,
    source="din-7190-1",
    place="loss by flattening, Rz 6 um on both, factor 0.8; factor from memory",
    published=9.6,
    unit="um",
    tolerance=0.005,
    reading="memory",
)
def flattening_loss() -> float:
    """Interference lost by two surfaces of Rz 6 um."""
    left = effective_interference(
        interference=80 * _MICRON, sleeve_roughness=6 * _MICRON, casting_roughness=6 * _MICRON
    )
    return 80.0 - float(left) / _MICRON


@published(
    named="P7-lost",
    formula=running_interference,
    source="derived",
    place="iron liner of 62 mm in aluminium, 22.5 and 11.0e-6/K, 100 K warmer, by hand",
    published=71.05,
    unit="um",
    tolerance=0.005,
    reading="derived",
)
def liner_loss() -> float:
    """Free interference that an iron liner in aluminium loses over 100 K."""
    left = running_interference(
        diameter=62e-3,
        interference=110e-6,
        casting_temperature=393.15,
        sleeve_temperature=393.15,
        **_LAWS,
    )
    return 110.0 - float(left) / _MICRON


@published(
    named="P7-gone",
    formula=grip_temperature,
    source="derived",
    place="iron liner of 62 mm in aluminium, 0.110 mm, 22.5 and 11.0e-6/K, by hand",
    published=154.82,
    unit="K above 20 degC",
    tolerance=0.005,
    reading="derived",
)
def liner_grip() -> float:
    """Rise at which nothing is left of an iron liner's fit in aluminium."""
    return float(grip_temperature(diameter=62e-3, interference=110e-6, **_LAWS)) - 293.15
