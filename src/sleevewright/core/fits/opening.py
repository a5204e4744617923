"""A fit that has opened in the engine: the gap at which it settles, and how hot the sleeve is.

The heat that comes through the sleeve has to cross the gap.  A gap that opens holds it up,
the sleeve grows hotter and larger, and closes most of the gap again: so the loss that two
temperatures give is more than the gap that stays.  What stays is no fit: it presses
nothing and holds nothing.  Gaps are diametral here; half of them lies on each side.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import Number, not_negative
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.fits.opening_line import closing_sleeve_temperature
from sleevewright.core.fits.running import running_interference
from sleevewright.core.formulas import formula
from sleevewright.core.heat.gap import air_conductivity
from sleevewright.errors import InputError

_AIR_LOW, _AIR_HIGH = 250.0, 700.0
_TOLERANCES = {"xatol": 1e-9, "xrtol": 0.0, "fatol": 1e-10, "frtol": 0.0}


@dataclass(frozen=True)
class OpenFit:
    """A fit in the running engine once the heat through it has settled.

    Parameters
    ----------
    gap : Number
        Gap that stays, diametral; zero where the fit is still tight. [m]
    plain_gap : Number
        Gap that the told temperatures alone would give, diametral. [m]
    sleeve_temperature : Number
        Temperature at which the sleeve settles. [K]
    """

    gap: Number
    plain_gap: Number
    sleeve_temperature: Number


@formula(
    name="resistance that a gap adds",
    expression="R = g/k(T)",
    sources=("derived", "incropera-2007"),
    validity="still dry air in the gap, 250 K to 700 K; the table of air ends at 550 K",
    unit="m2 K/W",
)
def added_resistance(*, gap: Number, temperature: Number) -> Number:
    """What a gap adds to the resistance of faces that touch.

    Parameters
    ----------
    gap : Number
        Radial gap between the mean faces. [m]
    temperature : Number
        Mean temperature in the gap, held to 250 K to 700 K. [K]

    Returns
    -------
    Number
        Resistance of a unit of area above that of the closed joint. [m2 K/W]

    Raises
    ------
    InputError
        If the gap is negative.

    Notes
    -----
    Roughness and the jump of temperature at the walls resist in the closed joint alike, so
    they are in the sleeve's told temperature already and cancel here. Radiation is left
    out: it is a hundredth. Source: ``derived``; ``incropera-2007`` for air.
    """
    mean = np.clip(temperature, _AIR_LOW, _AIR_HIGH)
    return not_negative("gap", gap, "m") / air_conductivity(temperature=mean)


@formula(
    name="gap at which an open fit settles",
    expression="T = T_s + q (g/2)/k, g = -i(T_c, T), bracketed between T_s and closing",
    sources=("derived", "incropera-2007"),
    validity="steady heat through the sleeve, the casting's temperature held by its cooling",
    unit="record",
)
def settled_gap(
    *,
    diameter: Number,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
    sleeve_temperature: Number,
    flux: Number,
) -> OpenFit:
    """Gap at which a fit that has opened comes to rest, and how hot the sleeve is then.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Interference at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    casting_temperature : Number
        Temperature of the casting. [K]
    sleeve_temperature : Number
        Temperature of the sleeve while the fit is closed. [K]
    flux : Number
        Heat that comes through a unit of the sleeve's outside. [W/m2]

    Returns
    -------
    OpenFit
        Gap that stays, the gap without this effect, and the sleeve's temperature.
        [record]

    Raises
    ------
    InputError
        If the flux is negative, an input is not possible, or the search does not
        converge: no gap is given then.

    Notes
    -----
    A hotter sleeve always closes the gap, so there is one answer between the told
    temperature and the one that just closes. Source: ``derived``; ``incropera-2007`` for air.

    Examples
    --------
    >>> found = settled_gap(diameter=62e-3, interference=80e-6, flux=2.0e5,
    ...     casting_law=ExpansionLaw(22.5e-6, 0.0), sleeve_law=ExpansionLaw(11.0e-6, 0.0),
    ...     casting_temperature=453.15, sleeve_temperature=473.15)
    >>> [round(float(one) * 1e6, 1) for one in (found.plain_gap, found.gap)]
    [20.2, 7.3]
    """
    not_negative("flux", flux, "W/m2")
    told = running_interference(
        diameter=diameter,
        interference=interference,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        casting_temperature=casting_temperature,
        sleeve_temperature=sleeve_temperature,
    )
    closing = closing_sleeve_temperature(
        diameter=diameter,
        interference=interference,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        casting_temperature=casting_temperature,
    )
    bore = (diameter - interference) * (
        1.0 + thermal_strain(casting_law, temperature=casting_temperature)
    )
    # A fit so tight that no cold would free it is closed: it needs no search above that heat.
    closing = np.where(np.isnan(closing) & (np.asarray(told) >= 0.0), sleeve_temperature, closing)
    free = (sleeve_law.reference, sleeve_law.slope, diameter, bore)
    heat = (casting_temperature, sleeve_temperature, flux)
    settles = _root(sleeve_temperature, np.maximum(closing, sleeve_temperature), (*free, *heat))
    left = diameter * (1.0 + thermal_strain(sleeve_law, temperature=settles)) - bore
    return OpenFit(_gap(left), _gap(told), settles)


def _gap(left: Number) -> Number:
    """Clearance as a gap, a float where one was given."""
    gap = np.maximum(-np.asarray(left), 0.0)
    return gap if gap.ndim else float(gap)


def _missed(sleeve: Number, *known: Number) -> Number:
    """How far a temperature of the sleeve lies above the one that its gap would give it."""
    reference, slope, diameter, bore, casting, told, flux = known
    law = ExpansionLaw(reference, slope)
    gap = np.maximum(bore - diameter * (1.0 + thermal_strain(law, temperature=sleeve)), 0.0)
    mean = 0.5 * (sleeve + casting)
    adds = added_resistance(gap=gap / 2.0, temperature=mean)
    return sleeve - told - flux * adds


def _root(low: Number, high: Number, known: tuple[Number, ...]) -> Number:
    """The sleeve's temperature between two ends; refused where the search does not end."""
    from scipy.optimize import elementwise

    found = elementwise.find_root(_missed, (low, high), args=known, tolerances=_TOLERANCES)
    if not np.all(found.success):
        worst = float(np.max(np.abs(np.asarray(found.f_x))))
        hint = "Give temperatures within the range of both metals, or a smaller flux of heat."
        allowed = "a search that ends: no gap is told without"
        raise InputError("open fit, missed by", worst, "K", allowed, hint)
    roots = np.asarray(found.x, dtype=np.float64)
    return roots if roots.ndim else float(roots)


@formula(
    name="gap that stays",
    expression="g",
    sources=("derived",),
    validity="as the open fit that it is part of",
    unit="m",
)
def gap_that_stays(open_fit: OpenFit) -> Number:
    """Gap of an open fit that has settled, diametral.

    Parameters
    ----------
    open_fit : OpenFit
        The fit in the running engine. [record]

    Returns
    -------
    Number
        Gap, zero where the fit is tight. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return open_fit.gap


@formula(
    name="gap by the told temperatures alone",
    expression="-i(T_c, T_s), not below zero",
    sources=("derived",),
    validity="as the open fit that it is part of",
    unit="m",
)
def gap_without_heat(open_fit: OpenFit) -> Number:
    """Gap that would open if no heat had to cross it, diametral.

    Parameters
    ----------
    open_fit : OpenFit
        The fit in the running engine. [record]

    Returns
    -------
    Number
        Gap, zero where the fit is tight. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return open_fit.plain_gap


@formula(
    name="sleeve's temperature behind the gap",
    expression="T",
    sources=("derived",),
    validity="as the open fit that it is part of",
    unit="K",
)
def settled_sleeve_temperature(open_fit: OpenFit) -> Number:
    """Temperature at which the sleeve of an open fit settles.

    Parameters
    ----------
    open_fit : OpenFit
        The fit in the running engine. [record]

    Returns
    -------
    Number
        Temperature of the sleeve. [K]

    Notes
    -----
    Source: ``derived``.
    """
    return open_fit.sleeve_temperature
