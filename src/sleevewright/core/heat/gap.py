"""What carries heat from a hot bore to a cold sleeve across a gap of a few hundredths.

Gaps here are radial and uniform along the axis; a sleeve that leans by the eccentricity e
has the gap g (1 - e cos theta) around itself, g being the mean gap, theta counted from
the side that touches.  Conduction through still air does nearly all: such gaps are far too
thin for the air in them to move, and radiation is a per cent.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, not_negative, positive, within
from sleevewright.core.formulas import formula

STEFAN_BOLTZMANN = 5.670374419e-8
"""Constant of radiation, exact since 2019. [W/(m^2 K^4)]"""

AIR_CONDUCTIVITY = (-5.5e-4, 1.019e-4, -4.0e-8)
"""Coefficients of a fit to tabulated air, 250 K to 550 K. [W/(m K)], per kelvin, squared"""

MOLECULAR_GAP_PER_KELVIN = 0.37e-6 / 323.0
"""Extra gap that rarefaction at the walls amounts to, air at one atmosphere. [m/K]"""


@formula(
    name="conductivity of air",
    expression="k = -5.5e-4 + 1.019e-4 T - 4.0e-8 T^2",
    sources=("incropera-2007",),
    validity="dry air at one atmosphere, 250 K to 550 K, within 1 %",
    unit="W/(m K)",
)
def air_conductivity(*, temperature: Number) -> Number:
    """Thermal conductivity of still dry air.

    Parameters
    ----------
    temperature : Number
        Mean temperature in the gap. [K]

    Returns
    -------
    Number
        Conductivity. [W/(m K)]

    Raises
    ------
    InputError
        If the temperature is not positive.

    Notes
    -----
    A parabola through the tabulated values. Source: ``incropera-2007`` table A.4.

    Examples
    --------
    >>> round(air_conductivity(temperature=400.0), 4)
    0.0338
    """
    constant, linear, quadratic = AIR_CONDUCTIVITY
    return constant + (linear + quadratic * positive("temperature", temperature, "K")) * temperature


@formula(
    name="molecular gap",
    expression="M = 0.37e-6 (T / 323)",
    sources=("yovanovich-1988",),
    validity="air at one atmosphere between machined metals",
    unit="m",
)
def molecular_gap(*, temperature: Number) -> Number:
    """Extra thickness that stands for the jump of temperature at both walls of a thin gap.

    Parameters
    ----------
    temperature : Number
        Mean temperature in the gap. [K]

    Returns
    -------
    Number
        Radial thickness. [m]

    Raises
    ------
    InputError
        If the temperature is not positive.

    Notes
    -----
    Proportional to the mean free path; it keeps the conductance of a closed gap finite.
    Value from memory. Source: ``yovanovich-1988``.

    Examples
    --------
    >>> molecular_gap(temperature=323.0)
    3.7e-07
    """
    return MOLECULAR_GAP_PER_KELVIN * positive("temperature", temperature, "K")


@formula(
    name="conductance of a gap",
    expression="h = k / (g + d + M)",
    sources=("derived", "yovanovich-1988"),
    validity="still gas, gap thin against the radius",
    unit="W/(m^2 K)",
)
def gap_conductance(
    *, gap: Number, stand_off: Number, conductivity: Number, molecular: Number = 0.0
) -> Number:
    """Heat that crosses a gap by conduction, by area and kelvin.

    Parameters
    ----------
    gap : Number
        Radial gap between the mean faces. [m]
    stand_off : Number
        What roughness and waviness keep open where the faces touch. [m]
    conductivity : Number
        Conductivity of what fills the gap. [W/(m K)]
    molecular : Number
        Extra thickness from :func:`molecular_gap`. [m]

    Returns
    -------
    Number
        Conductance. [W/(m^2 K)]

    Raises
    ------
    InputError
        If a thickness is negative, all of them are zero, or the conductivity is not
        positive.

    Notes
    -----
    Source: ``derived``, ``yovanovich-1988`` for the last term.

    Examples
    --------
    >>> round(gap_conductance(gap=65e-6, stand_off=8e-6, conductivity=0.034), 1)
    465.8
    """
    not_negative("gap", gap, "m")
    not_negative("stand-off", stand_off, "m")
    thickness = gap + stand_off + not_negative("molecular gap", molecular, "m")
    conducted = positive("conductivity", conductivity, "W/(m K)")
    return conducted / positive("gap and stand-off together", thickness, "m")


@formula(
    name="conductance of radiation",
    expression="h = 4 sigma T^3 F",
    sources=("incropera-2007",),
    validity="temperatures of both faces near to each other",
    unit="W/(m^2 K)",
)
def radiation_conductance(*, temperature: Number, factor: Number) -> Number:
    """Heat that crosses a gap by radiation, by area and kelvin.

    Parameters
    ----------
    temperature : Number
        Mean temperature of both faces. [K]
    factor : Number
        Exchange factor 1 / (1/e1 + 1/e2 - 1) of both emissivities. [1]

    Returns
    -------
    Number
        Conductance. [W/(m^2 K)]

    Raises
    ------
    InputError
        If the temperature is not positive or the factor is not between 0 and 1.

    Notes
    -----
    The law of the fourth power, linearised. Source: ``incropera-2007`` section 1.2.

    Examples
    --------
    >>> round(radiation_conductance(temperature=400.0, factor=0.3), 2)
    4.35
    """
    within("exchange factor", factor, "", 0.0, 1.0)
    return 4.0 * STEFAN_BOLTZMANN * positive("temperature", temperature, "K") ** 3 * factor


@formula(
    name="exchange factor of two faces",
    expression="F = 1 / (1/e_1 + 1/e_2 - 1)",
    sources=("incropera-2007",),
    validity="parallel grey faces, gap thin against the radius",
    unit="1",
)
def exchange_factor(*, casting_emissivity: Number, sleeve_emissivity: Number) -> Number:
    """Share of black radiation that two faces exchange.

    Parameters
    ----------
    casting_emissivity : Number
        Emissivity of the bore. [1]
    sleeve_emissivity : Number
        Emissivity of the sleeve. [1]

    Returns
    -------
    Number
        Exchange factor. [1]

    Raises
    ------
    InputError
        If an emissivity is not between 0 and 1.

    Notes
    -----
    Source: ``incropera-2007`` section 13.3.

    Examples
    --------
    >>> round(exchange_factor(casting_emissivity=0.5, sleeve_emissivity=0.5), 3)
    0.333
    """
    for field, value in (("casting", casting_emissivity), ("sleeve", sleeve_emissivity)):
        within(f"{field} emissivity", value, "", 0.001, 1.0)
    return 1.0 / (1.0 / casting_emissivity + 1.0 / sleeve_emissivity - 1.0)


@formula(
    name="mean conductance of a cell of a leaning gap",
    expression="h = k 2 [atan(S tan(th/2))] / ((A^2 - B^2)^(1/2) (th_2 - th_1)), "
    "A = g + d, B = e g, S = ((A + B)/(A - B))^(1/2)",
    sources=("derived",),
    validity="0 <= theta <= pi, 0 <= e <= 1, d above zero where e is 1",
    unit="W/(m^2 K)",
)
def leaning_cell_conductance(
    *,
    gap: Number,
    stand_off: Number,
    eccentricity: Number,
    conductivity: Number,
    start: float,
    end: float,
) -> Number:
    """Mean conductance over a part of the way round a sleeve that leans.

    Parameters
    ----------
    gap : Number
        Mean radial gap. [m]
    stand_off : Number
        What keeps the faces apart where they touch, molecular gap included. [m]
    eccentricity : Number
        Shift of the sleeve over the mean gap, 0 centred, 1 touching. [1]
    conductivity : Number
        Conductivity of what fills the gap. [W/(m K)]
    start : float
        Angle where the cell begins, from the touching side. [rad]
    end : float
        Angle where the cell ends. [rad]

    Returns
    -------
    Number
        Mean conductance of the cell. [W/(m^2 K)]

    Raises
    ------
    InputError
        If a thickness is negative, the eccentricity is not between 0 and 1, or the cell
        is empty.

    Notes
    -----
    Integral of 1/(A - B cos theta) in closed form, so that few cells do. Source:
    ``derived``.

    Examples
    --------
    >>> half = leaning_cell_conductance(gap=60e-6, stand_off=8e-6, eccentricity=0.0,
    ...     conductivity=0.034, start=0.0, end=1.5)
    >>> round(float(half), 1)
    500.0
    """
    within("eccentricity", eccentricity, "", 0.0, 1.0)
    positive("cell", end - start, "rad")
    middle = not_negative("gap", gap, "m") + positive("stand-off", stand_off, "m")
    shift = eccentricity * gap
    root = ((middle - shift) * (middle + shift)) ** 0.5
    slope = root / (middle - shift)
    angles = [
        np.arctan(slope * np.tan(0.5 * angle)) if angle < np.pi else 0.5 * np.pi
        for angle in (start, end)
    ]
    covered = cast("Number", angles[1] - angles[0])
    return 2.0 * conductivity * covered / (root * (end - start))


@formula(
    name="mean conductance of a leaning gap",
    expression="h = k / ((g + d)^2 - (e g)^2)^(1/2)",
    sources=("derived",),
    validity="sleeve at one temperature: then an upper bound of the heat that crosses",
    unit="W/(m^2 K)",
)
def leaning_conductance(
    *, gap: Number, stand_off: Number, eccentricity: Number, conductivity: Number
) -> Number:
    """Mean conductance all the way round a sleeve that leans.

    Parameters
    ----------
    gap : Number
        Mean radial gap. [m]
    stand_off : Number
        What keeps the faces apart where they touch. [m]
    eccentricity : Number
        Shift of the sleeve over the mean gap, 0 centred, 1 touching. [1]
    conductivity : Number
        Conductivity of what fills the gap. [W/(m K)]

    Returns
    -------
    Number
        Mean conductance. [W/(m^2 K)]

    Raises
    ------
    InputError
        If a thickness is negative or the eccentricity is not between 0 and 1.

    Notes
    -----
    The thin limit of the exact shape factor of an eccentric annulus. Source: ``derived``.

    Examples
    --------
    >>> round(leaning_conductance(gap=60e-6, stand_off=8e-6, eccentricity=1.0,
    ...     conductivity=0.034), 1)
    1062.5
    """
    within("eccentricity", eccentricity, "", 0.0, 1.0)
    middle = not_negative("gap", gap, "m") + not_negative("stand-off", stand_off, "m")
    shift = eccentricity * gap
    square = positive("square of the gap", (middle - shift) * (middle + shift), "m2")
    return positive("conductivity", conductivity, "W/(m K)") / square**0.5
