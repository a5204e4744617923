"""How hot: slip against temperature, the temperature that a slip asks for, the needle.

Slip is the diametral clearance of the bore over the sleeve, each at its own temperature;
interference is diametral at 20 degC, sleeve larger than bore.  Sizes are at 20 degC.
"""

from __future__ import annotations

import math
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, not_negative, positive
from sleevewright.core.expansion import (
    ExpansionLaw,
    temperature_for_strain,
    thermal_strain,
)
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

_LAWS = "free parts, each at one temperature, within the range of its expansion law"


@formula(
    name="slip",
    expression="c = (D - i) (1 + eps_c(T_c)) - D (1 + eps_s(T_s))",
    sources=("iso-1", "derived"),
    validity=_LAWS,
    unit="m",
)
def slip(
    *,
    diameter: Number,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
    sleeve_temperature: Number,
) -> Number:
    """Clearance of the hot bore over the sleeve at the sleeve's own temperature.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve, or of its flange, at 20 degC. [m]
    interference : Number
        Diametral interference at 20 degC, negative for clearance. [m]
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
        Diametral clearance, negative where the parts still interfere. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or a temperature is below absolute zero.

    Notes
    -----
    Source: ``iso-1`` for the reference temperature, ``derived``.

    Examples
    --------
    >>> c = slip(diameter=0.0620, interference=110e-6, casting_law=ExpansionLaw(22.5e-6, 0.0),
    ...     sleeve_law=ExpansionLaw(11.0e-6, 0.0), casting_temperature=453.15,
    ...     sleeve_temperature=293.15)
    >>> round(c * 1e6, 1)
    112.8
    """
    bore = positive("diameter", diameter, "m") - finite("interference", interference, "m")
    grown = bore * thermal_strain(casting_law, temperature=casting_temperature)
    sleeve = diameter * thermal_strain(sleeve_law, temperature=sleeve_temperature)
    return grown - sleeve - interference


@formula(
    name="casting temperature for a slip",
    expression="eps_c(T_c) = (D (1 + eps_s(T_s)) + c) / (D - i) - 1",
    sources=("derived",),
    validity=_LAWS,
    unit="K",
)
def casting_temperature_for_slip(
    *,
    diameter: Number,
    interference: Number,
    slip: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    sleeve_temperature: Number,
) -> Number:
    """Temperature that the casting needs so that the sleeve goes in with a wanted slip.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve, or of its flange, at 20 degC. [m]
    interference : Number
        Diametral interference at 20 degC, negative for clearance. [m]
    slip : Number
        Wanted diametral clearance over the sleeve at its own temperature. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    sleeve_temperature : Number
        Temperature of the sleeve at the drop. [K]

    Returns
    -------
    Number
        Temperature of the casting. [K]

    Raises
    ------
    InputError
        If the diameter is not positive, the interference leaves no bore, a temperature
        is below absolute zero or the casting would have to be.

    Notes
    -----
    Inverse of :func:`slip`, a quadratic solved exactly. Source: ``derived``.

    Examples
    --------
    >>> hot = casting_temperature_for_slip(diameter=0.0620, interference=110e-6, slip=62e-6,
    ...     casting_law=ExpansionLaw(22.5e-6, 0.0), sleeve_law=ExpansionLaw(11.0e-6, 0.0),
    ...     sleeve_temperature=293.15)
    >>> round(hot - 273.15, 1)
    143.5
    """
    bore = positive("diameter", diameter, "m") - finite("interference", interference, "m")
    positive("bore", bore, "m")
    sleeve = diameter * thermal_strain(sleeve_law, temperature=sleeve_temperature)
    # the difference first: 1 + strain - 1 would lose four digits of a small strain
    strain = (interference + sleeve + finite("slip", slip, "m")) / bore
    square = casting_law.reference * casting_law.reference + 4.0 * casting_law.slope * strain
    if extremes(square)[0] > 0.0:
        hot = temperature_for_strain(casting_law, strain=strain)
        if extremes(hot)[0] > 0.0:
            return hot
    allowed = "what the casting can have above absolute zero"
    raise InputError("slip", extremes(slip)[0], "m", allowed)


@formula(
    name="does it reach",
    expression="yes where T_c <= limit",
    sources=("derived",),
    validity="always",
    unit="text",
)
def reaches(*, casting_temperature: float, limit: float) -> str:
    """Whether the wanted slip can be had within the limit of the casting.

    Parameters
    ----------
    casting_temperature : float
        Temperature that the slip asks for. [K]
    limit : float
        Highest temperature of the part. [K]

    Returns
    -------
    str
        ``yes`` or ``no``. [text]

    Raises
    ------
    InputError
        If a temperature is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    wanted = positive("casting temperature", casting_temperature, "K")
    return "yes" if wanted <= positive("limit", limit, "K") else "no"


@formula(
    name="oven setting",
    expression="setting = min(target + margin, limit)",
    sources=("derived",),
    validity="never above the limit of the part, however large the margin",
    unit="K",
)
def oven_setting(*, target: Number, margin: Number, limit: Number) -> Number:
    """Where to set the oven for a casting temperature.

    Parameters
    ----------
    target : Number
        Temperature that the casting needs. [K]
    margin : Number
        How far the oven is wanted above it. [K]
    limit : Number
        Highest temperature of the part. [K]

    Returns
    -------
    Number
        Air temperature of the oven. [K]

    Raises
    ------
    InputError
        If a temperature is not positive or the margin is negative.

    Notes
    -----
    A margin below about 20 K makes the time unpredictable, see :func:`.soak.timing_error`.
    Source: ``derived``.

    Examples
    --------
    >>> oven_setting(target=490.0, margin=35.0, limit=503.15)
    503.15
    """
    positive("target", target, "K")
    positive("limit", limit, "K")
    wanted = target + not_negative("margin", margin, "K")
    if any(isinstance(value, np.ndarray) for value in (wanted, limit)):
        return cast("Number", np.minimum(wanted, limit))
    return min(wanted, limit)


@formula(
    name="slip lost while carrying",
    expression="loss = D (eps_c(T_c) - eps_c(T')), T' = T_r + (T_c - T_r) exp(-t / tau)",
    sources=("derived",),
    validity="casting at one temperature; draughts and cold tongs not counted",
    unit="m",
)
def carry_loss(
    *,
    diameter: Number,
    casting_law: ExpansionLaw,
    casting_temperature: Number,
    room: Number,
    carry_time: Number,
    time_constant: Number,
) -> Number:
    """Slip that is lost between the oven and the sleeve's entry.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    casting_temperature : Number
        Temperature of the casting as it leaves the oven. [K]
    room : Number
        Temperature of the room. [K]
    carry_time : Number
        Time from the oven to the first entry. [s]
    time_constant : Number
        Time constant of the casting in the open. [s]

    Returns
    -------
    Number
        Diametral clearance lost. [m]

    Raises
    ------
    InputError
        If the diameter, a temperature or the time constant is not positive, or the time
        is negative.

    Notes
    -----
    First-order cooling of a lumped part. Source: ``derived``.

    Examples
    --------
    >>> loss = carry_loss(diameter=0.0620, casting_law=ExpansionLaw(22.5e-6, 0.0),
    ...     casting_temperature=453.15, room=293.15, carry_time=12.0, time_constant=600.0)
    >>> round(loss * 1e6, 2)
    4.42
    """
    positive("diameter", diameter, "m")
    positive("time constant", time_constant, "s")
    part = not_negative("carry time", carry_time, "s") / time_constant
    # a power of e and not exp, so that uncertain numbers pass
    later = room + (casting_temperature - room) * math.e ** (-part)
    hot = thermal_strain(casting_law, temperature=casting_temperature)
    return diameter * (hot - thermal_strain(casting_law, temperature=later))


@formula(
    name="needle that means go",
    expression="n = c + loss + D (eps_s(T_drop) - eps_s(T_zero)) - alpha_g D dT_g",
    sources=("derived",),
    validity="gauge zeroed on the sleeve; its own warming left out unless it was measured",
    unit="m",
)
def needle_position(
    *,
    slip: Number,
    carry_loss: Number,
    diameter: Number,
    sleeve_law: ExpansionLaw,
    sleeve_at_drop: Number,
    sleeve_at_zero: Number,
    gauge_expansion: Number = 0.0,
    gauge_rise: Number = 0.0,
) -> Number:
    """Reading of a bore gauge, zeroed on this sleeve, at which the drop may begin.

    Parameters
    ----------
    slip : Number
        Diametral clearance wanted at entry. [m]
    carry_loss : Number
        Clearance that is lost while carrying. [m]
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    sleeve_at_drop : Number
        Temperature of the sleeve as it will enter. [K]
    sleeve_at_zero : Number
        Temperature of the sleeve when the gauge was zeroed on it. [K]
    gauge_expansion : Number
        Coefficient of the gauge. [1/K]
    gauge_rise : Number
        How much warmer the gauge is than at its zero, where that was measured; zero
        errs towards waiting. [K]

    Returns
    -------
    Number
        Needle position past zero, larger bore positive. [m]

    Raises
    ------
    InputError
        If the diameter is not positive, a temperature is below absolute zero, or the
        gauge's rise is negative: a gauge that was zeroed warm shows clearance that is
        not there.

    Notes
    -----
    A gauge that warms in the bore gets longer and reads less clearance than there is.
    Source: ``derived``.

    Examples
    --------
    >>> go = needle_position(slip=137e-6, carry_loss=5e-6, diameter=0.063,
    ...     sleeve_law=ExpansionLaw(10.7e-6, 6e-9), sleeve_at_drop=294.15, sleeve_at_zero=294.15)
    >>> round(go * 1e6, 1)
    142.0
    """
    positive("diameter", diameter, "m")
    not_negative("warming of the gauge since its zero", gauge_rise, "K")
    cold = thermal_strain(sleeve_law, temperature=sleeve_at_drop)
    grown = diameter * (cold - thermal_strain(sleeve_law, temperature=sleeve_at_zero))
    return slip + carry_loss + grown - gauge_expansion * diameter * gauge_rise
