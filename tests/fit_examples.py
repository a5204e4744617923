"""Parts that several tests of the fit share: an invented pair, and the laws of two metals."""

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.rings import RingPair

INCH = 0.0254
THOU = 25.4e-6
ZERO_C = 273.15

ALUMINIUM_356 = ExpansionLaw(20.7e-6, 0.010e-6, 233.15, 573.15)
"""Line through the means 21.5, 22.5 and 23.5e-6/K to 100, 200 and 300 degC (ASM)."""

GREY_IRON = ExpansionLaw(10.6894e-6, 0.00597e-6, 173.15, 673.15)
"""Line through 11.7 and 13.0e-6/K to 200 and 400 degC (EN 1561, from memory)."""

BODY = 2.480 * INCH
"""Outside diameter of the invented sleeve."""


def rings(inside: float, fit: float, outside: float, **changes: float) -> RingPair:
    """Rings of iron in aluminium, unless told otherwise."""
    metals = {
        "sleeve_modulus": 110e9,
        "sleeve_poisson": 0.26,
        "casting_modulus": 71e9,
        "casting_poisson": 0.33,
    }
    return RingPair(
        inside_diameter=inside,
        interface_diameter=fit,
        outside_diameter=outside,
        **(metals | changes),
    )


def celsius(kelvin: float) -> float:
    """Temperature in degC."""
    return float(kelvin) - ZERO_C


def kelvin(celsius: float) -> float:
    """Temperature in kelvin."""
    return celsius + ZERO_C
