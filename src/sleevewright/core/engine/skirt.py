"""The piston's skirt as gauged, taken to 20 degC.  Diametral."""

from __future__ import annotations

from sleevewright.core.checks import Number, positive, within
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.formulas import formula

WARMEST = 60.0
"""A part further from 20 degC than this is not gauged to a size. [K]"""


@formula(
    name="skirt at 20 degC",
    expression="d = read (1 + alpha_g (T - 20)) / (1 + alpha_p (T - 20))",
    sources=("iso-1", "derived"),
    validity="piston and micrometer at one temperature, within 60 K of 20 degC",
    unit="m",
)
def skirt_at_reference(
    *,
    piston_diameter: Number,
    piston_temperature: Number,
    piston_growth: Number,
    gauge_expansion: Number,
) -> Number:
    """Diameter of the skirt at 20 degC, from what a micrometer as warm as the piston showed.

    Parameters
    ----------
    piston_diameter : Number
        Skirt as read. [m]
    piston_temperature : Number
        Temperature of piston and micrometer. [K]
    piston_growth : Number
        Mean expansion of the piston's metal. [1/K]
    gauge_expansion : Number
        Mean expansion of the micrometer's metal. [1/K]

    Returns
    -------
    Number
        Diameter at 20 degC. [m]

    Raises
    ------
    InputError
        If the piston is not positive or is further than 60 K from 20 degC.

    Notes
    -----
    What piston and micrometer grow by alike is not seen. Source: ``iso-1``, ``derived``.

    Examples
    --------
    >>> size = skirt_at_reference(
    ...     piston_diameter=70e-3, piston_temperature=303.15, piston_growth=20.5e-6,
    ...     gauge_expansion=11.5e-6,
    ... )
    >>> round((size - 70e-3) * 1e6, 2)
    -6.3
    """
    rise = positive("piston temperature", piston_temperature, "K") - REFERENCE_TEMPERATURE
    within("piston above 20 degC", rise, "K", -WARMEST, WARMEST)
    read = positive("piston diameter", piston_diameter, "m")
    return read * (1.0 + gauge_expansion * rise) / (1.0 + piston_growth * rise)


@formula(
    name="what a kelvin between piston and bore is worth",
    expression="worth = d alpha_p dT",
    sources=("derived",),
    validity="the piston alone warmer than bore and gauges, or colder",
    unit="m",
)
def skirt_warmth(*, piston_diameter: Number, piston_growth: Number, difference: Number) -> Number:
    """How much larger a piston is that is so much warmer.

    Parameters
    ----------
    piston_diameter : Number
        Skirt. [m]
    piston_growth : Number
        Mean expansion of the piston's metal. [1/K]
    difference : Number
        How much warmer it is. [K]

    Returns
    -------
    Number
        What it is larger by. [m]

    Raises
    ------
    InputError
        If the piston is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> worth = skirt_warmth(piston_diameter=70e-3, piston_growth=20e-6, difference=5.0)
    >>> round(worth * 1e6, 3)
    7.0
    """
    return positive("piston diameter", piston_diameter, "m") * piston_growth * difference


@formula(
    name="clearance by the bore",
    expression="c / B",
    sources=("derived",),
    validity="any; thou by the inch is the same figure as micrometres by the millimetre",
    unit="1",
)
def looseness_of(*, clearance: Number, bore: Number) -> Number:
    """Skirt clearance by the bore.

    Parameters
    ----------
    clearance : Number
        Cold clearance. [m]
    bore : Number
        Diameter of the bore. [m]

    Returns
    -------
    Number
        Clearance per diameter. [1]

    Raises
    ------
    InputError
        If either is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(looseness_of(clearance=70e-6, bore=70e-3), 6)
    0.001
    """
    return positive("clearance", clearance, "m") / positive("bore", bore, "m")
