"""Published checks of what the parts bear: compound cylinders, yielded hubs, hot walls."""

from __future__ import annotations

from sleevewright.core.fits.contact import contact_fraction
from sleevewright.core.fits.multiring import (
    RingStack,
    interface_pressures,
    ring_stresses,
)
from sleevewright.core.fits.plastic import plastic_interference
from sleevewright.core.fits.rings import RingPair
from sleevewright.core.fits.wallheat import hot_wall_hoop_inside, hot_wall_hoop_outside
from sleevewright.evidence.case import published

_MPA = 1e6


def _steel(*diameters: float) -> RingStack:
    """Rings of one steel, diameters in millimetres."""
    count = len(diameters) - 1
    return RingStack(
        diameters=tuple(one * 1e-3 for one in diameters),
        moduli=(208e9,) * count,
        poissons=(0.3,) * count,
    )


def _filled(pressure: float, inside: float) -> tuple[float, float, float]:
    """Hoop at the bore, at the jacket's bore and outside: shrunk, then filled; rings 120/160/200.

    The contact pressure after the shrinking is told; filling presses on both as on one ring.
    """
    shrunk = ring_stresses(_steel(120, 160, 200), pressures=(pressure,))
    whole = ring_stresses(_steel(120, 200), pressures=(), inner_pressure=inside)[0]
    stack = _steel(120, 160, 200)
    more = interface_pressures(stack, misfits=(0.0,), inner_pressure=inside)
    filled = ring_stresses(stack, pressures=more, inner_pressure=inside)
    return (
        float(shrunk[0].inside_hoop + filled[0].inside_hoop) / _MPA,
        float(shrunk[1].inside_hoop + filled[1].inside_hoop) / _MPA,
        float(shrunk[1].outside_hoop + whole.outside_hoop) / _MPA,
    )


@published(
    named="P20-bore",
    formula=ring_stresses,
    source="khurmi-2005",
    place="shrink fit assembly of 120, 160 and 200 mm, 8 and 60 N/mm2: inner surface",
    published=90.9,
    unit="MPa",
    tolerance=0.05,
    reading="memory",
)
def khurmi_bore() -> float:
    """Hoop stress at the bore of a shrunk and filled assembly."""
    return _filled(8e6, 60e6)[0]


@published(
    named="P20-jacket",
    formula=ring_stresses,
    source="khurmi-2005",
    place="shrink fit assembly of 120, 160 and 200 mm, 8 and 60 N/mm2: jacket's bore",
    published=122.9,
    unit="MPa",
    tolerance=0.05,
    reading="memory",
)
def khurmi_jacket() -> float:
    """Hoop stress at the jacket's bore of the same assembly."""
    return _filled(8e6, 60e6)[1]


@published(
    named="P20-outside",
    formula=ring_stresses,
    source="khurmi-2005",
    place="shrink fit assembly of 120, 160 and 200 mm, 8 and 60 N/mm2: outer surface",
    published=95.9,
    unit="MPa",
    tolerance=0.05,
    reading="memory",
)
def khurmi_outside() -> float:
    """Hoop stress at the outside of the same assembly."""
    return _filled(8e6, 60e6)[2]


def _exercise() -> tuple[float, float]:
    """Hoop at the bore and at the outside of the inner tube, 100, 150 and 200 mm, 20 MPa."""
    inner = ring_stresses(_steel(100, 150, 200), pressures=(20e6,))[0]
    return float(inner.inside_hoop) / _MPA, float(inner.outside_hoop) / _MPA


@published(
    named="P21-bore",
    formula=ring_stresses,
    source="compound-exercises",
    place="tubes of 100, 150 and 200 mm, 20 MN/m2 from shrinking: bore",
    published=-72.0,
    unit="MPa",
    tolerance=0.5,
    reading="read",
)
def exercise_bore() -> float:
    """Hoop stress at the bore of a shrunk pair of tubes."""
    return _exercise()[0]


@published(
    named="P21-junction",
    formula=ring_stresses,
    source="compound-exercises",
    place="tubes of 100, 150 and 200 mm, 20 MN/m2 from shrinking: inner tube at the junction",
    published=-52.0,
    unit="MPa",
    tolerance=0.5,
    reading="read",
)
def exercise_junction() -> float:
    """Hoop stress of the inner tube at the junction."""
    return _exercise()[1]


def _balanced() -> float:
    """Shrink pressure at which tube and jacket are pulled alike by 35 MPa: 50, 75 and 100 mm."""
    stack = _steel(50, 75, 100)
    filled = ring_stresses(
        stack,
        pressures=interface_pressures(stack, misfits=(0.0,), inner_pressure=35e6),
        inner_pressure=35e6,
    )
    shrunk = ring_stresses(stack, pressures=(1.0,))
    more = filled[0].inside_hoop - filled[1].inside_hoop
    return float(more / (shrunk[1].inside_hoop - shrunk[0].inside_hoop))


@published(
    named="P23-pressure",
    formula=ring_stresses,
    source="bhandari-2010",
    place="Example 22.8, shrinkage pressure",
    published=3.615169,
    unit="MPa",
    tolerance=5e-7,
    reading="read",
)
def balanced_pressure() -> float:
    """Shrink pressure of a tube and its jacket that share a pressure inside alike."""
    return _balanced() / _MPA


@published(
    named="P23-jacket",
    formula=interface_pressures,
    source="bhandari-2010",
    place="Example 22.8, inner diameter of the jacket",
    published=74.991916,
    unit="mm",
    tolerance=5e-7,
    reading="read",
)
def balanced_jacket() -> float:
    """Inside of the jacket for that pressure, on a tube of 75 mm, E 207 GPa."""
    stack = RingStack(diameters=(0.050, 0.075, 0.100), moduli=(207e9, 207e9), poissons=(0.3, 0.3))
    by_micrometre = float(interface_pressures(stack, misfits=(1e-6,))[0])
    return 75.0 - _balanced() / by_micrometre * 1e-3


@published(
    named="P5-rings",
    formula=interface_pressures,
    source="hearn-1997",
    place="compound cylinder exercise, inputs; answer derived",
    published=9.75,
    unit="MPa",
    tolerance=0.005,
    reading="derived",
)
def compound_by_rings() -> float:
    """Shrink pressure of the compound cylinder by the system of several rings."""
    return float(interface_pressures(_steel(100, 200, 300), misfits=(40e-6,))[0]) / _MPA


@published(
    named="P5-filled",
    formula=ring_stresses,
    source="hearn-1997",
    place="compound cylinder exercise with 90 MPa inside, inputs; answer derived",
    published=86.5,
    unit="MPa",
    tolerance=0.05,
    reading="derived",
)
def compound_filled() -> float:
    """Hoop stress at the bore of the compound cylinder, shrunk and filled."""
    stack = _steel(100, 200, 300)
    pressures = interface_pressures(stack, misfits=(40e-6,), inner_pressure=90e6)
    filled = ring_stresses(stack, pressures=pressures, inner_pressure=90e6)
    return float(filled[0].inside_hoop) / _MPA


@published(
    named="P18",
    formula=plastic_interference,
    source="din-7190-1",
    place="solid member and hub of one steel yielded to 1.3 times its bore; form from memory",
    published=0.27878,
    unit="mm",
    tolerance=5e-6,
    reading="derived",
)
def yielded_hub() -> float:
    """Interference of a hub of 100 mm that has yielded, 2 Re z^2 D/(3^(1/2) E)."""
    pair = RingPair(
        interface_diameter=0.1,
        inside_diameter=0.0,
        outside_diameter=0.2,
        sleeve_modulus=210e9,
        sleeve_poisson=0.3,
        casting_modulus=210e9,
        casting_poisson=0.3,
    )
    return float(plastic_interference(pair, yield_strength=300e6, plastic_ratio=1.3)) * 1e3


_WALL = {
    "inside_diameter": 0.060,
    "outside_diameter": 0.120,
    "temperature_difference": 100.0,
    "modulus": 72e9,
    "poisson": 0.33,
    "expansion": 22e-6,
}


@published(
    named="E6-inside",
    formula=hot_wall_hoop_inside,
    source="timoshenko-goodier-1970",
    place="long hollow cylinder 60/120 mm, inside 100 K hotter; form from memory",
    published=-144.68,
    unit="MPa",
    tolerance=0.005,
    reading="derived",
)
def hot_wall_inside() -> float:
    """Hoop stress at the hotter inner surface of an aluminium wall."""
    return float(hot_wall_hoop_inside(**_WALL)) / _MPA


@published(
    named="E6-outside",
    formula=hot_wall_hoop_outside,
    source="timoshenko-goodier-1970",
    place="long hollow cylinder 60/120 mm, inside 100 K hotter; form from memory",
    published=91.73,
    unit="MPa",
    tolerance=0.005,
    reading="derived",
)
def hot_wall_outside() -> float:
    """Hoop stress at the cooler outer surface of the same wall."""
    return float(hot_wall_hoop_outside(**_WALL)) / _MPA


@published(
    named="P22",
    formula=contact_fraction,
    source="derived",
    place="four windows of a sixth of the circle each, a quarter of the length high, by hand",
    published=0.8333,
    unit="1",
    tolerance=5e-5,
    reading="derived",
)
def windows() -> float:
    """Share of a surface whose windows take 4/6 of the circle over a quarter of the length."""
    chord = 0.5 * 0.060  # of a sixth of the circle
    windows = ((chord, 0.020),) * 4
    return float(
        contact_fraction(windows=windows, width_diameter=0.060, diameter=0.066, length=0.080)
    )
