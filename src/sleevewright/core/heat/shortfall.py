"""Where the slip or the oven falls short: what fit would do, how late, with what chance.

Diametral, sizes at 20 degC.
"""

from __future__ import annotations

from scipy.special import ndtr

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.formulas import formula


@formula(
    name="fit that a slip leaves room for",
    expression="i = D - (D (1 + eps_s(T_s)) + c) / (1 + eps_c(T_c))",
    sources=("derived",),
    validity="free parts, each at one temperature; negative where no fit would do",
    unit="m",
)
def interference_for_slip(
    *,
    diameter: Number,
    slip: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
    sleeve_temperature: Number,
) -> Number:
    """The most interference that still gives a slip at a casting temperature.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    slip : Number
        Diametral clearance wanted. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    casting_temperature : Number
        Temperature of the casting. [K]
    sleeve_temperature : Number
        Temperature of the sleeve. [K]

    Returns
    -------
    Number
        Diametral interference at 20 degC. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or a temperature is below absolute zero.

    Notes
    -----
    The equation of the slip, solved for the fit. Source: ``derived``.

    Examples
    --------
    >>> fit = interference_for_slip(diameter=0.0620, slip=62e-6,
    ...     casting_law=ExpansionLaw(22.5e-6, 0.0), sleeve_law=ExpansionLaw(11e-6, 0.0),
    ...     casting_temperature=416.45, sleeve_temperature=293.15)
    >>> round(fit * 1e6, 1)
    109.7
    """
    positive("diameter", diameter, "m")
    finite("slip", slip, "m")
    hot = thermal_strain(casting_law, temperature=casting_temperature)
    cold = thermal_strain(sleeve_law, temperature=sleeve_temperature)
    return diameter - (diameter * (1.0 + cold) + slip) / (1.0 + hot)


@formula(
    name="chance that the oven never brings it there",
    expression="P = Phi(-(T_a - T) / u_a)",
    sources=("derived",),
    validity="normal error of the oven against its dial, steady through the heat",
    unit="1",
)
def never_arrives(*, margin: float, oven_doubt: float) -> float:
    """Chance that an oven that reads wrong stays below what the casting needs.

    Parameters
    ----------
    margin : float
        Oven's dial above the casting's temperature. [K]
    oven_doubt : float
        Standard uncertainty of the air against the dial. [K]

    Returns
    -------
    float
        Chance. [1]

    Raises
    ------
    InputError
        If the doubt is not positive.

    Notes
    -----
    Share of a normal distribution. Source: ``derived``.

    Examples
    --------
    >>> round(never_arrives(margin=6.0, oven_doubt=6.0), 3)
    0.159
    """
    return float(ndtr(-finite("margin", margin, "K") / positive("oven doubt", oven_doubt, "K")))


@formula(
    name="long soak",
    expression="t = 4 tau",
    sources=("incropera-2007",),
    validity="Biot number below 0.1",
    unit="s",
)
def long_soak(*, time_constant: Number) -> Number:
    """Time after which a part has all but the oven's temperature.

    Parameters
    ----------
    time_constant : Number
        Time constant in the oven. [s]

    Returns
    -------
    Number
        Time. [s]

    Raises
    ------
    InputError
        If the time constant is not positive.

    Notes
    -----
    Four time constants leave 1.8 % of the difference. Source: ``incropera-2007`` equation 5.6.

    Examples
    --------
    >>> long_soak(time_constant=900.0)
    3600.0
    """
    return 4.0 * positive("time constant", time_constant, "s")
