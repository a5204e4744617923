"""A sleeve's bore that is gauged before the joined assembly has cooled to 20 degC.

Warm, the bore reads large for two reasons: iron grows, and an aluminium casting lets go of a
part of the fit.  A correction by iron alone leaves the second one in the figure.
"""

from __future__ import annotations

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.expansion import REFERENCE_TEMPERATURE, ExpansionLaw, thermal_strain
from sleevewright.core.formulas import formula


@formula(
    name="growth of a joined bore",
    expression="g = d eps_s(T) + e(T)",
    sources=("iso-1", "derived"),
    validity="both parts at one temperature",
    unit="m",
)
def joined_growth(
    *, inside_diameter: Number, easing: Number, sleeve_law: ExpansionLaw, temperature: Number
) -> Number:
    """How much larger the sleeve's bore is warm, in its casting, than at 20 degC.

    Parameters
    ----------
    inside_diameter : Number
        Bore of the sleeve at 20 degC. [m]
    easing : Number
        What the fit gives back by that temperature, on the bore's diameter. [m]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    temperature : Number
        Temperature of both. [K]

    Returns
    -------
    Number
        Growth on diameter; negative where it is colder than 20 degC. [m]

    Raises
    ------
    InputError
        If the bore is not positive or the temperature is below absolute zero.

    Notes
    -----
    Source: ``iso-1`` for the reference, ``derived``.

    Examples
    --------
    >>> law = ExpansionLaw(10.7e-6, 0.0)
    >>> growth = joined_growth(inside_diameter=55.9e-3, easing=4.1e-6, sleeve_law=law,
    ...     temperature=303.15)
    >>> round(growth * 1e6, 1)
    10.1
    """
    alone = thermal_strain(sleeve_law, temperature=temperature)
    bore = positive("inside diameter", inside_diameter, "m")
    return bore * alone + finite("easing", easing, "m")


@formula(
    name="temperature by what it is over 20 degC",
    expression="T = T_0 + dT",
    sources=("iso-1",),
    validity="any temperature",
    unit="K",
)
def temperature_over(*, rise: Number) -> Number:
    """Temperature of a part that is so much warmer than 20 degC.

    Parameters
    ----------
    rise : Number
        Difference to 20 degC, negative where it is colder. [K]

    Returns
    -------
    Number
        Temperature. [K]

    Raises
    ------
    InputError
        If the difference is not finite.

    Notes
    -----
    Source: ``iso-1``.

    Examples
    --------
    >>> round(temperature_over(rise=10.0), 2)
    303.15
    """
    return REFERENCE_TEMPERATURE + finite("rise", rise, "K")
