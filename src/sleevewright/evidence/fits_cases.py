"""Published checks of the fit: press fits of textbooks, and the case of an iron liner."""

from __future__ import annotations

from sleevewright.core.fits.hold import torque_hold
from sleevewright.core.fits.rings import (
    RingPair,
    bore_closure,
    casting_hoop_stress,
    contact_pressure,
    interference_at_limit,
    sleeve_hoop_stress,
)
from sleevewright.evidence.case import published

_INCH = 0.0254
_PSI = 6894.757293168
_POUND_INCH = 0.1129848290276167


def _pair(
    sizes: tuple[float, float, float], sleeve: tuple[float, float], casting: tuple[float, float]
) -> RingPair:
    """Rings from inside, fit and outside diameter, and each metal's modulus and Poisson."""
    inside, fit, outside = sizes
    return RingPair(
        inside_diameter=inside,
        interface_diameter=fit,
        outside_diameter=outside,
        sleeve_modulus=sleeve[0],
        sleeve_poisson=sleeve[1],
        casting_modulus=casting[0],
        casting_poisson=casting[1],
    )


def _norton() -> RingPair:
    return _pair((0.0, 0.781 * _INCH, 3.0 * _INCH), (30e6 * _PSI, 0.28), (14e6 * _PSI, 0.28))


@published(
    named="P1",
    formula=contact_pressure,
    source="norton-2011",
    place="Example 10-5, interface pressure",
    published=15265.0,
    unit="psi",
    tolerance=0.5,
    reading="read",
)
def norton_pressure() -> float:
    """Solid steel shaft in a grey-iron hub."""
    return float(contact_pressure(_norton(), interference=0.0015 * _INCH)) / _PSI


@published(
    named="P1b-hoop",
    formula=casting_hoop_stress,
    source="norton-2011",
    place="Example 10-5, inputs; hoop stress of the hub derived",
    published=17485.0,
    unit="psi",
    tolerance=0.5,
    reading="derived",
)
def norton_hub_hoop() -> float:
    """Hoop stress at the bore of the same hub."""
    pressure = contact_pressure(_norton(), interference=0.0015 * _INCH)
    return float(casting_hoop_stress(_norton(), pressure=pressure)) / _PSI


@published(
    named="P1b-torque",
    formula=torque_hold,
    source="norton-2011",
    place="Example 10-5, inputs; torque at friction 0.12 derived",
    published=2633.0,
    unit="lbf in",
    tolerance=0.5,
    reading="derived",
)
def norton_torque() -> float:
    """Torque at which the same hub slips."""
    torque = torque_hold(
        friction=0.12,
        pressure=contact_pressure(_norton(), interference=0.0015 * _INCH),
        diameter=0.781 * _INCH,
        length=1.5 * _INCH,
    )
    return float(torque) / _POUND_INCH


@published(
    named="P2",
    formula=interference_at_limit,
    source="bhandari-2010",
    place="Example 22.6, inner diameter of the jacket",
    published=39.968289,
    unit="mm",
    tolerance=5e-7,
    reading="read",
)
def bhandari_jacket() -> float:
    """Steel jacket on a steel tube, jacket's hoop stress held to 100 MPa."""
    pair = _pair((20e-3, 40e-3, 60e-3), (207e9, 0.3), (207e9, 0.3))
    pressure = 100e6 / float(casting_hoop_stress(pair, pressure=1.0))
    return (40e-3 - float(interference_at_limit(pair, limit_pressure=pressure))) * 1e3


@published(
    named="P3",
    formula=contact_pressure,
    source="timoshenko-1956",
    place="built-up cylinders, worked example",
    published=4050.0,
    unit="psi",
    tolerance=1.0,
    reading="memory",
    because="the printed number is rounded to tens; the relation gives 4049.1",
)
def timoshenko_compound() -> float:
    """Steel cylinder of radii 4, 6 and 8 in, radial interference 0.005 in."""
    steel = (30e6 * _PSI, 0.3)
    pair = _pair((8.0 * _INCH, 12.0 * _INCH, 16.0 * _INCH), steel, steel)
    return float(contact_pressure(pair, interference=0.010 * _INCH)) / _PSI


def _shigley_metric() -> RingPair:
    return _pair((0.0, 40e-3, 80e-3), (207e9, 0.292), (207e9, 0.292))


@published(
    named="P10",
    formula=contact_pressure,
    source="budynas-2011",
    place="problem 3-64 (8th edition), greatest pressure",
    published=114.5,
    unit="MPa",
    tolerance=0.05,
    reading="read",
)
def shigley_40_h7_s6_most() -> float:
    """Solid 40 H7/s6 steel shaft in an 80 mm steel collar, tightest."""
    return float(contact_pressure(_shigley_metric(), interference=0.059e-3)) / 1e6


@published(
    named="P11",
    formula=contact_pressure,
    source="budynas-2011",
    place="problem 3-64 (8th edition), least pressure",
    published=34.9,
    unit="MPa",
    tolerance=0.05,
    reading="read",
)
def shigley_40_h7_s6_least() -> float:
    """The same collar, loosest."""
    return float(contact_pressure(_shigley_metric(), interference=0.018e-3)) / 1e6


@published(
    named="P12",
    formula=casting_hoop_stress,
    source="budynas-2011",
    place="problem 3-68 (8th edition), hoop stress of the outer member",
    published=37500.0,
    unit="psi",
    tolerance=0.5,
    reading="read",
)
def shigley_collar_hoop() -> float:
    """Steel collar 1 by 2 in on a solid shaft, radial interference 0.001 in."""
    steel = (30e6 * _PSI, 0.292)
    pair = _pair((0.0, 1.0 * _INCH, 2.0 * _INCH), steel, steel)
    pressure = contact_pressure(pair, interference=0.002 * _INCH)
    return float(casting_hoop_stress(pair, pressure=pressure)) / _PSI


def _shigley_tubes() -> RingPair:
    return _pair((25e-3, 50e-3, 75e-3), (207e9, 0.292), (207e9, 0.292))


@published(
    named="P13",
    formula=contact_pressure,
    source="budynas-2011",
    place="problem 5-35 (8th edition), pressure",
    published=19.41,
    unit="MPa",
    tolerance=0.005,
    reading="read",
)
def shigley_tubes_pressure() -> float:
    """Two steel tubes of 25, 50 and 75 mm, diametral interference 0.02 mm."""
    return float(contact_pressure(_shigley_tubes(), interference=0.02e-3)) / 1e6


@published(
    named="P14",
    formula=casting_hoop_stress,
    source="budynas-2011",
    place="problem 5-35 (8th edition), hoop stress of the outer tube",
    published=50.47,
    unit="MPa",
    tolerance=0.015,
    reading="read",
    because="the source multiplies its pressure after rounding it to 19.41 MPa",
)
def shigley_tubes_hoop() -> float:
    """Hoop stress at the bore of the outer of those tubes."""
    pressure = contact_pressure(_shigley_tubes(), interference=0.02e-3)
    return float(casting_hoop_stress(_shigley_tubes(), pressure=pressure)) / 1e6


@published(
    named="P15",
    formula=contact_pressure,
    source="budynas-2011",
    place="problem 5-73 (9th edition), pressure",
    published=2613.0,
    unit="psi",
    tolerance=0.5,
    reading="memory",
)
def shigley_iron_hub_pressure() -> float:
    """Solid steel shaft of 2.001 in in a grey-iron hub of 4 in, mid-range sizes."""
    pair = _pair((0.0, 2.0 * _INCH, 4.0 * _INCH), (30e6 * _PSI, 0.292), (14.5e6 * _PSI, 0.211))
    return float(contact_pressure(pair, interference=0.0008 * _INCH)) / _PSI


@published(
    named="P16",
    formula=contact_pressure,
    source="brown-2005",
    place="chapter 3, Example 6, metric column",
    published=12.6,
    unit="MPa",
    tolerance=0.05,
    reading="read",
)
def brown_collar() -> float:
    """Solid steel shaft of radius 5 cm in a steel collar, radial interference 0.001 cm."""
    pair = _pair((0.0, 0.10, 0.16), (207e9, 0.3), (207e9, 0.3))
    return float(contact_pressure(pair, interference=2e-5)) / 1e6


def _hearn() -> RingPair:
    return _pair((100e-3, 200e-3, 300e-3), (208e9, 0.3), (208e9, 0.3))


@published(
    named="P5-pressure",
    formula=contact_pressure,
    source="hearn-1997",
    place="compound cylinder exercise, inputs; answer derived",
    published=9.75,
    unit="MPa",
    tolerance=0.005,
    reading="derived",
)
def hearn_pressure() -> float:
    """Tubes of 100, 200 and 300 mm, allowance 0.02 mm on radius."""
    return float(contact_pressure(_hearn(), interference=0.04e-3)) / 1e6


@published(
    named="P5-bore",
    formula=sleeve_hoop_stress,
    source="hearn-1997",
    place="compound cylinder exercise, inputs; answer derived",
    published=-26.0,
    unit="MPa",
    tolerance=0.05,
    reading="derived",
)
def hearn_bore_hoop() -> float:
    """Hoop stress at the bore of the inner of those tubes."""
    pressure = contact_pressure(_hearn(), interference=0.04e-3)
    return float(sleeve_hoop_stress(_hearn(), pressure=pressure)) / 1e6


@published(
    named="P5-jacket",
    formula=casting_hoop_stress,
    source="hearn-1997",
    place="compound cylinder exercise, inputs; answer derived",
    published=25.35,
    unit="MPa",
    tolerance=0.005,
    reading="derived",
)
def hearn_jacket_hoop() -> float:
    """Hoop stress at the bore of the outer of those tubes."""
    pressure = contact_pressure(_hearn(), interference=0.04e-3)
    return float(casting_hoop_stress(_hearn(), pressure=pressure)) / 1e6


def _liner() -> RingPair:
    return _pair((56e-3, 62e-3, 84e-3), (110e9, 0.26), (71e9, 0.33))


@published(
    named="P6-pressure",
    formula=contact_pressure,
    source="derived",
    place="iron liner 56/62 mm in aluminium of 84 mm, 0.110 mm",
    published=12.700,
    unit="MPa",
    tolerance=0.0005,
    reading="derived",
)
def liner_pressure() -> float:
    """Iron liner in an aluminium casting: pressure."""
    return float(contact_pressure(_liner(), interference=110e-6)) / 1e6


@published(
    named="P6-casting",
    formula=casting_hoop_stress,
    source="derived",
    place="iron liner 56/62 mm in aluminium of 84 mm, 0.110 mm",
    published=43.10,
    unit="MPa",
    tolerance=0.005,
    reading="derived",
)
def liner_casting_hoop() -> float:
    """Iron liner in an aluminium casting: hoop tension of the casting."""
    pressure = contact_pressure(_liner(), interference=110e-6)
    return float(casting_hoop_stress(_liner(), pressure=pressure)) / 1e6


@published(
    named="P6-liner",
    formula=sleeve_hoop_stress,
    source="derived",
    place="iron liner 56/62 mm in aluminium of 84 mm, 0.110 mm",
    published=-137.9,
    unit="MPa",
    tolerance=0.05,
    reading="derived",
)
def liner_hoop() -> float:
    """Iron liner in an aluminium casting: hoop compression of the liner."""
    pressure = contact_pressure(_liner(), interference=110e-6)
    return float(sleeve_hoop_stress(_liner(), pressure=pressure)) / 1e6


@published(
    named="P6-closure",
    formula=bore_closure,
    source="derived",
    place="iron liner 56/62 mm in aluminium of 84 mm, 0.110 mm",
    published=0.0702,
    unit="mm",
    tolerance=0.00005,
    reading="derived",
)
def liner_closure() -> float:
    """Iron liner in an aluminium casting: close-up of the liner's bore."""
    pressure = contact_pressure(_liner(), interference=110e-6)
    return float(bore_closure(_liner(), pressure=pressure)) * 1e3
