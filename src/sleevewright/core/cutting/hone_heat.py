"""What a bore reads while it is warm from the hone, and where to stop while it is.

A sleeved bore follows neither metal alone: the iron grows, and as the aluminium round it
grows more the fit eases and lets the bore open besides.  All diametral, sizes at 20 degC.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, finite, positive, within
from sleevewright.core.expansion import REFERENCE_TEMPERATURE, ExpansionLaw, thermal_strain
from sleevewright.core.fits.running import running_interference
from sleevewright.core.formulas import formula


@formula(
    name="opening of a sleeved bore as its fit eases",
    expression="e = K (max(i, 0) - max(i(T, T), 0))",
    sources=("timoshenko-1956", "derived"),
    validity="casting and sleeve as warm as each other, elastic, full contact, no ports",
    unit="m",
)
def fit_easing(
    *,
    diameter: Number,
    interference: Number,
    ratio: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    temperature: Number,
) -> Number:
    """How much more a sleeved bore is open than its iron alone would be, away from 20 degC.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Interference at 20 degC, negative for clearance. [m]
    ratio : Number
        Close-up of the bore over the interference that causes it. [1]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    temperature : Number
        Temperature of both. [K]

    Returns
    -------
    Number
        Opening, diametral; negative where the fit tightens. [m]

    Raises
    ------
    InputError
        If the ratio is not from 0 to 1, the diameter is not positive, or the temperature is
        below absolute zero.

    Notes
    -----
    The close-up follows the interference that is left: elastic superposition. Source:
    ``timoshenko-1956`` for the close-up, ``derived``.

    Examples
    --------
    >>> eased = fit_easing(diameter=0.0763, interference=89e-6, ratio=0.66,
    ...     casting_law=ExpansionLaw(21.4e-6, 0.0), sleeve_law=ExpansionLaw(11.0e-6, 0.0),
    ...     temperature=304.26)
    >>> round(eased * 1e6, 1)
    5.8
    """
    within("close-up by the fit", ratio, "1", 0.0, 1.0)
    left = running_interference(
        diameter=diameter,
        interference=interference,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        casting_temperature=temperature,
        sleeve_temperature=temperature,
    )
    eased = ratio * (np.maximum(interference, 0.0) - np.maximum(left, 0.0))
    return cast("Number", eased if np.ndim(eased) else float(eased))


@formula(
    name="growth of a sleeved bore",
    expression="g = d eps_s(T) + K (max(i, 0) - max(i(T, T), 0))",
    sources=("timoshenko-1956", "derived"),
    validity="casting and sleeve as warm as each other, elastic, full contact, no ports",
    unit="m",
)
def sleeved_growth(
    *,
    bore: Number,
    diameter: Number,
    interference: Number,
    ratio: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    temperature: Number,
) -> Number:
    """How much the bore of a sleeve in its casting has grown over its size at 20 degC.

    Parameters
    ----------
    bore : Number
        Bore of the sleeve at 20 degC. [m]
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Interference at 20 degC, negative for clearance. [m]
    ratio : Number
        Close-up of the bore over the interference that causes it. [1]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    temperature : Number
        Temperature of both. [K]

    Returns
    -------
    Number
        Growth, negative where it is colder. [m]

    Raises
    ------
    InputError
        If a size is not positive, the ratio is not from 0 to 1, or a temperature is below
        absolute zero.

    Notes
    -----
    The iron's own growth, and what its fit gives way. Source: ``timoshenko-1956`` for the
    close-up, ``derived``.

    Examples
    --------
    >>> growth = sleeved_growth(bore=0.0700, diameter=0.0763, interference=89e-6, ratio=0.66,
    ...     casting_law=ExpansionLaw(21.4e-6, 0.0), sleeve_law=ExpansionLaw(11.0e-6, 0.0),
    ...     temperature=304.26)
    >>> round(growth * 1e6, 1)
    14.4
    """
    eased = fit_easing(
        diameter=diameter,
        interference=interference,
        ratio=ratio,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        temperature=temperature,
    )
    iron = thermal_strain(sleeve_law, temperature=temperature)
    return positive("bore", bore, "m") * iron + eased


@formula(
    name="reading of a warm bore",
    expression="r = (D + g) / (1 + a_g (T_g - 293.15))",
    sources=("iso-1", "derived"),
    validity="gauge at one temperature, its scale or its master right at 20 degC",
    unit="m",
)
def reading_when_warm(
    *, size: Number, grown: Number, gauge_expansion: Number, gauge_temperature: Number
) -> Number:
    """What a gauge shows in a bore that has grown.

    Parameters
    ----------
    size : Number
        Size at 20 degC. [m]
    grown : Number
        How much it has grown, diametral. [m]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge. [1/K]
    gauge_temperature : Number
        Temperature of the gauge. [K]

    Returns
    -------
    Number
        Reading. [m]

    Raises
    ------
    InputError
        If the size or a temperature is not positive.

    Notes
    -----
    Source: ``iso-1`` for the reference, ``derived``.

    Examples
    --------
    >>> reading = reading_when_warm(size=0.070, grown=14.4e-6, gauge_expansion=11.5e-6,
    ...     gauge_temperature=293.15)
    >>> round(reading * 1e3, 4)
    70.0144
    """
    rise = positive("gauge temperature", gauge_temperature, "K") - REFERENCE_TEMPERATURE
    finite("growth", grown, "m")
    return (positive("size", size, "m") + grown) / (1.0 + gauge_expansion * rise)


@formula(
    name="size at 20 degC of a bore that has grown",
    expression="D = r (1 + a_g (T_g - 293.15)) - g",
    sources=("iso-1", "derived"),
    validity="as the reading of a warm bore, of which it is the inverse",
    unit="m",
)
def size_from_warm(
    *, reading: Number, grown: Number, gauge_expansion: Number, gauge_temperature: Number
) -> Number:
    """Size that a bore will have at 20 degC, from a reading while it has grown.

    Parameters
    ----------
    reading : Number
        What the gauge shows. [m]
    grown : Number
        How much the bore has grown, diametral. [m]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge. [1/K]
    gauge_temperature : Number
        Temperature of the gauge. [K]

    Returns
    -------
    Number
        Size. [m]

    Raises
    ------
    InputError
        If the reading or a temperature is not positive.

    Notes
    -----
    Source: ``iso-1`` for the reference, ``derived``.

    Examples
    --------
    >>> size = size_from_warm(reading=0.0700144, grown=14.4e-6, gauge_expansion=11.5e-6,
    ...     gauge_temperature=293.15)
    >>> round(size * 1e3, 4)
    70.0
    """
    rise = positive("gauge temperature", gauge_temperature, "K") - REFERENCE_TEMPERATURE
    finite("growth", grown, "m")
    return positive("reading", reading, "m") * (1.0 + gauge_expansion * rise) - grown
