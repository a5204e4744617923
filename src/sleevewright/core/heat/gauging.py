"""Gauging hot: a gauge that warms in the bore, and a plug of known size that must enter.

A gauge that stands in a hot bore gets longer and shows less slip than there is.  That errs
towards waiting.  A gauge that was zeroed warm errs the other way as it cools: it shows slip
that is not there.  Diametral.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.expansion import REFERENCE_TEMPERATURE, ExpansionLaw, thermal_strain
from sleevewright.core.formulas import formula


@formula(
    name="warming of a gauge in a hot bore",
    expression="dT = (T_bore - T_gauge) (1 - exp(-t / tau))",
    sources=("incropera-2007",),
    validity="gauge as one lump, bore at one temperature",
    unit="K",
)
def gauge_warming(
    *, bore_temperature: Number, gauge_temperature: Number, time: Number, time_constant: Number
) -> Number:
    """How much warmer a gauge gets that is left in a hot bore.

    Parameters
    ----------
    bore_temperature : Number
        Temperature of the bore. [K]
    gauge_temperature : Number
        Temperature of the gauge as it goes in. [K]
    time : Number
        How long it stays there. [s]
    time_constant : Number
        Time constant of the gauge in the bore. [s]

    Returns
    -------
    Number
        Rise of the gauge since it went in. [K]

    Raises
    ------
    InputError
        If a temperature or the time constant is not positive, or the time is negative.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.6.

    Examples
    --------
    >>> round(gauge_warming(bore_temperature=443.15, gauge_temperature=293.15,
    ...     time=30.0, time_constant=600.0), 2)
    7.32
    """
    warm = positive("bore temperature", bore_temperature, "K")
    cool = positive("gauge temperature", gauge_temperature, "K")
    part = not_negative("time", time, "s") / positive("time constant", time_constant, "s")
    # a power of e and not exp, so that uncertain numbers pass
    return (warm - cool) * (1.0 - math.e ** (-part))


@formula(
    name="slip that a warm gauge hides",
    expression="hidden = a_g D dT",
    sources=("derived",),
    validity="gauge that was zeroed cool",
    unit="m",
)
def hidden_by_warmth(*, diameter: Number, gauge_expansion: Number, gauge_warmed: Number) -> Number:
    """How much less slip a gauge shows than there is, because it warmed since its zero.

    Parameters
    ----------
    diameter : Number
        Diameter that is gauged. [m]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge. [1/K]
    gauge_warmed : Number
        How much warmer the gauge is than at its zero; negative where it has cooled. [K]

    Returns
    -------
    Number
        What is to be added to the reading; negative where the gauge was zeroed warm and
        shows slip that is not there. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or the warming is not finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(hidden_by_warmth(diameter=0.063, gauge_expansion=11.5e-6, gauge_warmed=10.0) * 1e6, 2)
    7.24
    """
    finite("warming of the gauge", gauge_warmed, "K")
    return gauge_expansion * positive("diameter", diameter, "m") * gauge_warmed


@formula(
    name="target plug",
    expression="P = (D (1 + eps_s(T_s)) + c) / (1 + a_p (T_p - 293.15))",
    sources=("derived",),
    validity="plug at its own temperature, in and out within two seconds",
    unit="m",
)
def target_plug(
    *,
    diameter: Number,
    slip: Number,
    sleeve_law: ExpansionLaw,
    sleeve_temperature: Number,
    plug_expansion: Number,
    plug_temperature: Number,
) -> Number:
    """Size at 20 degC of a plug that enters a hot bore once it is large enough for the sleeve.

    Parameters
    ----------
    diameter : Number
        Outside of the sleeve, or of its flange, at 20 degC. [m]
    slip : Number
        Clearance that is wanted on the gauge, what the carry costs included. [m]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    sleeve_temperature : Number
        Temperature of the sleeve at the drop. [K]
    plug_expansion : Number
        Mean expansion coefficient of the plug. [1/K]
    plug_temperature : Number
        Temperature of the plug as it is tried. [K]

    Returns
    -------
    Number
        Diameter of the plug at 20 degC. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or a temperature is below absolute zero.

    Notes
    -----
    A plug that has warmed in the bore asks for more than is needed. Source: ``derived``.

    Examples
    --------
    >>> plug = target_plug(diameter=0.063, slip=140e-6, sleeve_law=ExpansionLaw(10.7e-6, 6e-9),
    ...     sleeve_temperature=293.15, plug_expansion=11.5e-6, plug_temperature=293.15)
    >>> round(plug * 1e3, 3)
    63.14
    """
    positive("diameter", diameter, "m")
    cold = diameter * (1.0 + thermal_strain(sleeve_law, temperature=sleeve_temperature))
    rise = positive("plug temperature", plug_temperature, "K") - REFERENCE_TEMPERATURE
    return (cold + slip) / (1.0 + plug_expansion * rise)
