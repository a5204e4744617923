"""Published checks of heat: convection, radiation, lumps, walls, cylinders, joining."""

from __future__ import annotations

import math

from sleevewright.core.heat.convection import (
    Film,
    convection_coefficient,
    nusselt_horizontal_cylinder,
    nusselt_vertical_plate,
    radiated_flux,
    rayleigh_number,
)
from sleevewright.core.heat.growth import joining_temperature_din
from sleevewright.core.heat.lump import lump_time_constant
from sleevewright.core.heat.soak import soak_time
from sleevewright.core.heat.transients import biot_number, transient_cylinder, transient_wall
from sleevewright.evidence.case import published

_ZERO_CELSIUS = 273.15
_PIPE = Film(conductivity=0.0313, viscosity=22.8e-6, diffusivity=32.8e-6, expansion=2.725e-3)
_DOOR = Film(conductivity=0.0338, viscosity=26.4e-6, diffusivity=38.3e-6, expansion=2.5e-3)


@published(
    named="T1-rayleigh",
    formula=rayleigh_number,
    source="incropera-2007",
    place="Example 9.4, Rayleigh number of a horizontal steam pipe",
    published=5.073e6,
    unit="1",
    tolerance=1.2e3,
    reading="inputs-read",
    digits=4,
    because="the film values have three digits, which leaves 0.2 % open",
)
def pipe_rayleigh() -> float:
    """Steam pipe of 0.1 m at 165 degC in air at 23 degC."""
    return float(rayleigh_number(film=_PIPE, excess=142.0, length=0.1))


@published(
    named="T1-nusselt",
    formula=nusselt_horizontal_cylinder,
    source="incropera-2007",
    place="Example 9.4, Nusselt number",
    published=23.1,
    unit="1",
    tolerance=0.05,
    reading="inputs-read",
)
def pipe_nusselt() -> float:
    """The same pipe: natural convection about a cylinder."""
    return float(nusselt_horizontal_cylinder(rayleigh=pipe_rayleigh(), prandtl=0.697))


@published(
    named="T1-convected",
    formula=convection_coefficient,
    source="incropera-2007",
    place="Example 9.4, heat lost by convection for each metre",
    published=325.0,
    unit="W/m",
    tolerance=2.6,
    reading="inputs-read",
    because="the printed inputs give 322.5; the printed result carries roundings on its way",
)
def pipe_convected() -> float:
    """The same pipe: heat that convection takes from a metre of it."""
    taken = convection_coefficient(nusselt=pipe_nusselt(), conductivity=0.0313, length=0.1)
    return float(taken) * math.pi * 0.1 * 142.0


@published(
    named="T1-radiated",
    formula=radiated_flux,
    source="incropera-2007",
    place="Example 9.4, heat lost by radiation for each metre",
    published=441.0,
    unit="W/m",
    tolerance=0.5,
    reading="inputs-read",
)
def pipe_radiated() -> float:
    """The same pipe: heat that a metre of it radiates at an emissivity of 0.85."""
    return float(radiated_flux(emissivity=0.85, surface=438.0, surroundings=296.0)) * math.pi * 0.1


@published(
    named="T2-rayleigh",
    formula=rayleigh_number,
    source="incropera-2007",
    place="Example 9.2, Rayleigh number of a glass fire screen",
    published=1.813e9,
    unit="1",
    tolerance=0.8e6,
    reading="inputs-read",
    digits=4,
    because="the source takes 9.8 m/s2 for gravity; the core takes standard gravity",
)
def screen_rayleigh() -> float:
    """Vertical plate of 0.71 m at 232 degC in air at 23 degC."""
    return float(rayleigh_number(film=_DOOR, excess=209.0, length=0.71))


@published(
    named="T2-nusselt",
    formula=nusselt_vertical_plate,
    source="incropera-2007",
    place="Example 9.2, Nusselt number",
    published=147.0,
    unit="1",
    tolerance=0.5,
    reading="inputs-read",
)
def screen_nusselt() -> float:
    """The same plate: natural convection along it."""
    return float(nusselt_vertical_plate(rayleigh=screen_rayleigh(), prandtl=0.69))


@published(
    named="T2-convected",
    formula=convection_coefficient,
    source="incropera-2007",
    place="Example 9.2, heat lost by convection",
    published=1060.0,
    unit="W",
    tolerance=0.5,
    reading="inputs-read",
)
def screen_convected() -> float:
    """The same plate, 1.02 m wide: heat that convection takes from it."""
    taken = convection_coefficient(nusselt=screen_nusselt(), conductivity=0.0338, length=0.71)
    return float(taken) * 0.71 * 1.02 * 209.0


def _sphere_time_constant(
    *, diameter: float, coefficient: float, density: float, heat: float
) -> float:
    """Time constant of a sphere from its diameter."""
    capacity = density * heat * math.pi * diameter**3 / 6.0
    area = math.pi * diameter**2
    return float(lump_time_constant(heat_capacity=capacity, coefficient=coefficient, area=area))


@published(
    named="T3-diameter",
    formula=lump_time_constant,
    source="incropera-2007",
    place="Example 5.1, diameter of a thermocouple bead for a time constant of 1 s",
    published=7.06e-4,
    unit="m",
    tolerance=0.005e-4,
    reading="inputs-read",
)
def bead_diameter() -> float:
    """Bead in a gas stream, 400 W/m2K: its time constant goes with its diameter."""
    of_one_metre = _sphere_time_constant(
        diameter=1.0, coefficient=400.0, density=8500.0, heat=400.0
    )
    return 1.0 / of_one_metre


@published(
    named="T3-time",
    formula=soak_time,
    source="incropera-2007",
    place="Example 5.1, time from 25 degC to 199 degC in gas at 200 degC",
    published=5.2,
    unit="s",
    tolerance=0.05,
    reading="inputs-read",
)
def bead_time() -> float:
    """The same bead: time until it is within a kelvin."""
    tau = _sphere_time_constant(diameter=7.06e-4, coefficient=400.0, density=8500.0, heat=400.0)
    return float(
        soak_time(
            target=199.0 + _ZERO_CELSIUS,
            start=25.0 + _ZERO_CELSIUS,
            oven=200.0 + _ZERO_CELSIUS,
            time_constant=tau,
        )
    )


def _wall(position: float) -> float:
    """Temperature of the steel wall of Example 5.4 after eight minutes, in degC."""
    biot = float(biot_number(coefficient=500.0, length=0.04, conductivity=63.9))
    left = transient_wall(fourier=18.8e-6 * 480.0 / 0.04**2, biot=biot, position=position)
    return 60.0 - 80.0 * left


@published(
    named="T4-biot",
    formula=biot_number,
    source="incropera-2007",
    place="Example 5.4, Biot number of a pipe wall",
    published=0.313,
    unit="1",
    tolerance=0.0005,
    reading="inputs-read",
)
def wall_biot() -> float:
    """Pipe wall of 40 mm, insulated outside, hot oil inside."""
    return float(biot_number(coefficient=500.0, length=0.04, conductivity=63.9))


@published(
    named="T4-outside",
    formula=transient_wall,
    source="incropera-2007",
    place="Example 5.4, insulated face after 8 min",
    published=42.9,
    unit="degC",
    tolerance=0.2,
    reading="inputs-read",
    because="the source rounds the root to 0.531 and its constant to 1.047",
)
def wall_outside() -> float:
    """The same wall: its insulated face."""
    return _wall(0.0)


@published(
    named="T4-inside",
    formula=transient_wall,
    source="incropera-2007",
    place="Example 5.4, wetted face after 8 min",
    published=45.2,
    unit="degC",
    tolerance=0.2,
    reading="inputs-read",
    because="the source rounds the root to 0.531 and its constant to 1.047",
)
def wall_inside() -> float:
    """The same wall: the face that the oil wets."""
    return _wall(1.0)


@published(
    named="T5-biot",
    formula=biot_number,
    source="cengel-2002",
    place="Example of a long steel shaft, Biot number on the radius",
    published=0.537,
    unit="1",
    tolerance=0.0005,
    reading="memory",
)
def shaft_biot() -> float:
    """Shaft of 0.2 m that cools from 600 degC in a chamber at 200 degC."""
    return float(biot_number(coefficient=80.0, length=0.1, conductivity=14.9))


@published(
    named="T5-centre",
    formula=transient_cylinder,
    source="cengel-2002",
    place="Example of a long steel shaft, centre after 45 min",
    published=364.0,
    unit="degC",
    tolerance=0.5,
    reading="memory",
)
def shaft_centre() -> float:
    """The same shaft: temperature of its axis."""
    left = transient_cylinder(fourier=3.95e-6 * 2700.0 / 0.1**2, biot=shaft_biot())
    return 200.0 + 400.0 * left


@published(
    named="T6-emitted",
    formula=radiated_flux,
    source="incropera-2007",
    place="Example 1.2, emissive power of a steam pipe",
    published=2270.0,
    unit="W/m2",
    tolerance=0.7,
    reading="memory",
    because="the printed number is rounded to tens; the relation gives 2270.6",
)
def pipe_emitted() -> float:
    """Surface at 200 degC with an emissivity of 0.8, towards nothing at all."""
    return float(radiated_flux(emissivity=0.8, surface=473.0, surroundings=1e-3))


@published(
    named="T6-exchanged",
    formula=radiated_flux,
    source="incropera-2007",
    place="Example 1.2, radiation of a pipe of 70 mm for each metre",
    published=421.0,
    unit="W/m",
    tolerance=0.5,
    reading="memory",
)
def pipe_exchanged() -> float:
    """The same surface as a pipe of 70 mm in a room at 25 degC."""
    return float(radiated_flux(emissivity=0.8, surface=473.0, surroundings=298.0)) * math.pi * 0.07


@published(
    named="T7",
    formula=soak_time,
    source="cengel-2002",
    place="Example 4-1, time until a bead of 1 mm has made good 99 %",
    published=10.0,
    unit="s",
    tolerance=0.1,
    reading="memory",
)
def junction_time() -> float:
    """Thermocouple junction in a gas stream, 210 W/m2K."""
    tau = _sphere_time_constant(diameter=1.0e-3, coefficient=210.0, density=8500.0, heat=320.0)
    return float(soak_time(target=399.0, start=300.0, oven=400.0, time_constant=tau))


@published(
    named="T8",
    formula=soak_time,
    source="incropera-2007",
    place="Example 5.5, first stage: sphere of 5 mm radius from 400 to 335 degC in air",
    published=94.0,
    unit="s",
    tolerance=0.5,
    reading="inputs-read",
)
def sphere_time() -> float:
    """Sphere that cools in air at 20 degC, 10 W/m2K."""
    tau = _sphere_time_constant(diameter=0.01, coefficient=10.0, density=3000.0, heat=1000.0)
    return float(
        soak_time(
            target=335.0 + _ZERO_CELSIUS,
            start=400.0 + _ZERO_CELSIUS,
            oven=20.0 + _ZERO_CELSIUS,
            time_constant=tau,
        )
    )


@published(
    named="P9-hub",
    formula=joining_temperature_din,
    source="din-7190-1",
    place="form of the joining temperature; number derived for 80 mm H7/s6 in cast iron",
    published=199.5,
    unit="degC",
    tolerance=0.05,
    reading="derived",
)
def hub_joining() -> float:
    """Hub of 80 mm: interference 78 um, clearance a thousandth, 11e-6/K."""
    hot = joining_temperature_din(
        diameter=0.080, interference=78e-6, clearance=80e-6, expansion=11e-6
    )
    return float(hot) - _ZERO_CELSIUS


@published(
    named="P9-liner",
    formula=joining_temperature_din,
    source="din-7190-1",
    place="form of the joining temperature; number derived for a liner in aluminium",
    published=143.3,
    unit="degC",
    tolerance=0.05,
    reading="derived",
)
def liner_joining() -> float:
    """Liner of 62 mm: interference 110 um, clearance a thousandth, 22.5e-6/K."""
    hot = joining_temperature_din(
        diameter=0.062, interference=110e-6, clearance=62e-6, expansion=22.5e-6
    )
    return float(hot) - _ZERO_CELSIUS
