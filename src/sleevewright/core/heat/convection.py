"""How well still air takes heat from a hot part: natural convection and radiation.

Temperatures of surface and air are mean values.  The properties of the air belong to the
film, at the mean of both.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.checks import Number, not_negative, positive, within
from sleevewright.core.formulas import formula
from sleevewright.core.heat.gap import STEFAN_BOLTZMANN

GRAVITY = 9.80665
"""Standard acceleration of free fall. [m/s^2]"""


@dataclass(frozen=True)
class Film:
    """Properties of the air next to a hot surface, at the mean of both temperatures.

    Parameters
    ----------
    conductivity : Number
        Thermal conductivity. [W/(m K)]
    viscosity : Number
        Kinematic viscosity. [m^2/s]
    diffusivity : Number
        Thermal diffusivity. [m^2/s]
    expansion : Number
        Volumetric expansion, 1/T of a gas. [1/K]
    """

    conductivity: Number
    viscosity: Number
    diffusivity: Number
    expansion: Number

    @property
    def prandtl(self) -> Number:
        """Viscosity over diffusivity, the Prandtl number."""
        return self.viscosity / self.diffusivity


@formula(
    name="Rayleigh number",
    expression="Ra = g beta dT L^3 / (nu a)",
    sources=("incropera-2007",),
    validity="natural convection, properties at the film temperature",
    unit="1",
)
def rayleigh_number(*, film: Film, excess: Number, length: Number) -> Number:
    """Strength of natural convection about a hot part.

    Parameters
    ----------
    film : Film
        Properties of the air. [record]
    excess : Number
        Temperature of the surface above that of the air. [K]
    length : Number
        Diameter of a horizontal cylinder, height of a vertical plate. [m]

    Returns
    -------
    Number
        Rayleigh number. [1]

    Raises
    ------
    InputError
        If the length is not positive or the excess is negative.

    Notes
    -----
    Source: ``incropera-2007`` equation 9.25.

    Examples
    --------
    >>> air = Film(0.0313, 22.8e-6, 32.8e-6, 2.725e-3)
    >>> round(rayleigh_number(film=air, excess=142.0, length=0.1) / 1e6, 2)
    5.07
    """
    cube = positive("length", length, "m") ** 3
    driven = GRAVITY * film.expansion * not_negative("excess", excess, "K") * cube
    return driven / (film.viscosity * film.diffusivity)


@formula(
    name="Nusselt number of a horizontal cylinder",
    expression="Nu = (0.60 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))^2",
    sources=("churchill-chu-1975-cylinder",),
    validity="Ra up to 1e12",
    unit="1",
)
def nusselt_horizontal_cylinder(*, rayleigh: Number, prandtl: Number) -> Number:
    """Natural convection about a long horizontal cylinder.

    Parameters
    ----------
    rayleigh : Number
        Rayleigh number on the diameter. [1]
    prandtl : Number
        Prandtl number of the film. [1]

    Returns
    -------
    Number
        Mean Nusselt number on the diameter. [1]

    Raises
    ------
    InputError
        If the Rayleigh number is negative or the Prandtl number is not positive.

    Notes
    -----
    Source: ``churchill-chu-1975-cylinder``.

    Examples
    --------
    >>> round(nusselt_horizontal_cylinder(rayleigh=5.073e6, prandtl=0.697), 1)
    23.1
    """
    spread = (1.0 + (0.559 / positive("Prandtl number", prandtl, "")) ** (9 / 16)) ** (8 / 27)
    driven = 0.387 * not_negative("Rayleigh number", rayleigh, "") ** (1 / 6)
    return (0.60 + driven / spread) ** 2


@formula(
    name="Nusselt number of a vertical plate",
    expression="Nu = (0.825 + 0.387 Ra^(1/6) / (1 + (0.492/Pr)^(9/16))^(8/27))^2",
    sources=("churchill-chu-1975-plate",),
    validity="all Ra, laminar and turbulent",
    unit="1",
)
def nusselt_vertical_plate(*, rayleigh: Number, prandtl: Number) -> Number:
    """Natural convection along a vertical plate.

    Parameters
    ----------
    rayleigh : Number
        Rayleigh number on the height. [1]
    prandtl : Number
        Prandtl number of the film. [1]

    Returns
    -------
    Number
        Mean Nusselt number on the height. [1]

    Raises
    ------
    InputError
        If the Rayleigh number is negative or the Prandtl number is not positive.

    Notes
    -----
    Source: ``churchill-chu-1975-plate``.

    Examples
    --------
    >>> round(nusselt_vertical_plate(rayleigh=1.813e9, prandtl=0.69), 0)
    147.0
    """
    spread = (1.0 + (0.492 / positive("Prandtl number", prandtl, "")) ** (9 / 16)) ** (8 / 27)
    driven = 0.387 * not_negative("Rayleigh number", rayleigh, "") ** (1 / 6)
    return (0.825 + driven / spread) ** 2


@formula(
    name="coefficient of convection",
    expression="h = Nu k / L",
    sources=("incropera-2007",),
    validity="mean over the surface",
    unit="W/(m^2 K)",
)
def convection_coefficient(*, nusselt: Number, conductivity: Number, length: Number) -> Number:
    """Heat that convection takes, by area and kelvin.

    Parameters
    ----------
    nusselt : Number
        Mean Nusselt number. [1]
    conductivity : Number
        Conductivity of the film. [W/(m K)]
    length : Number
        Length that the Nusselt number is formed with. [m]

    Returns
    -------
    Number
        Coefficient. [W/(m^2 K)]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    Definition of the Nusselt number. Source: ``incropera-2007`` section 6.5.

    Examples
    --------
    >>> round(convection_coefficient(nusselt=23.1, conductivity=0.0313, length=0.1), 2)
    7.23
    """
    positive("Nusselt number", nusselt, "")
    positive("conductivity", conductivity, "W/(m K)")
    return nusselt * conductivity / positive("length", length, "m")


@formula(
    name="radiated heat",
    expression="q = e sigma (T_s^4 - T_r^4)",
    sources=("incropera-2007",),
    validity="grey surface, small against what surrounds it",
    unit="W/m^2",
)
def radiated_flux(*, emissivity: Number, surface: Number, surroundings: Number) -> Number:
    """Heat that a surface radiates away, by area.

    Parameters
    ----------
    emissivity : Number
        Emissivity of the surface. [1]
    surface : Number
        Temperature of the surface. [K]
    surroundings : Number
        Temperature of what surrounds it. [K]

    Returns
    -------
    Number
        Net flux, positive outwards. [W/m^2]

    Raises
    ------
    InputError
        If a temperature is not positive or the emissivity is not between 0 and 1.

    Notes
    -----
    Law of Stefan and Boltzmann. Source: ``incropera-2007`` equation 1.7.

    Examples
    --------
    >>> round(radiated_flux(emissivity=0.8, surface=473.15, surroundings=298.15), -1)
    1920.0
    """
    within("emissivity", emissivity, "", 0.0, 1.0)
    hot = positive("temperature of the surface", surface, "K") ** 4
    cold = positive("temperature of the surroundings", surroundings, "K") ** 4
    return emissivity * STEFAN_BOLTZMANN * (hot - cold)
