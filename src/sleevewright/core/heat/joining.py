"""How hot for how much slip: growth of the bore, slip at body or flange, oven and needle.

Slip is the diametral clearance of the hot bore over the sleeve, the sleeve being at its
own temperature.  Everything is diametral; interference counts positive.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive, within
from sleevewright.core.expansion import (
    REFERENCE_TEMPERATURE,
    ExpansionLaw,
    temperature_for_strain,
    thermal_strain,
)
from sleevewright.core.formulas import formula


@formula(
    name="slip at the drop",
    expression="slip = (D - i)(1 + strain_c(T_c)) - D (1 + strain_s(T_s))",
    sources=("iso-1", "derived"),
    validity="free parts, each at one temperature, within the range of both laws",
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
    """Clearance of a hot casting over the sleeve, negative while it is still tight.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve, or of its flange, at 20 degC. [m]
    interference : Number
        Interference at 20 degC, negative for clearance. [m]
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
        Diametral slip. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or a temperature is at or below absolute zero.

    Notes
    -----
    Definition, with sizes at 20 degC. Source: ``iso-1``, ``derived``.
    """
    positive("diameter", diameter, "m")
    hole = diameter - finite("interference", interference, "m")
    hot = hole * (1.0 + thermal_strain(casting_law, temperature=casting_temperature))
    return hot - diameter * (1.0 + thermal_strain(sleeve_law, temperature=sleeve_temperature))


@formula(
    name="casting temperature for a slip",
    expression="strain_c(T_c) = (D (1 + strain_s(T_s)) + slip) / (D - i) - 1",
    sources=("din-7190-1", "derived"),
    validity="free parts; extrapolates as the law of the casting does",
    unit="K",
)
def casting_temperature_for_slip(
    *,
    diameter: Number,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    slip: Number,
    sleeve_temperature: Number,
) -> Number:
    """Temperature that the casting must have for a wanted slip.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve, or of its flange, at 20 degC. [m]
    interference : Number
        Interference at 20 degC, negative for clearance. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    slip : Number
        Wanted diametral clearance over the sleeve at its own temperature. [m]
    sleeve_temperature : Number
        Temperature of the sleeve at the drop. [K]

    Returns
    -------
    Number
        Temperature of the casting. [K]

    Raises
    ------
    InputError
        If the diameter is not positive, or the interference is not below it.

    Notes
    -----
    The joining temperature of a shrink fit with temperature-dependent means; with
    constant means and a sleeve at 20 degC it is T = 20 + (i + slip) / (expansion D) to
    first order. Source: ``din-7190-1`` for the form (from memory), ``derived``.
    """
    positive("diameter", diameter, "m")
    hole = positive("parent bore", diameter - interference, "m")
    cold = diameter * (1.0 + thermal_strain(sleeve_law, temperature=sleeve_temperature))
    strain = (cold + finite("slip", slip, "m")) / hole - 1.0
    return temperature_for_strain(casting_law, strain=strain)


@formula(
    name="heating temperature of a shrink fit",
    expression="T = T_0 + (greatest interference + clearance) / (expansion D)",
    sources=("din-7190-1",),
    validity="constant mean expansion, inner part at room temperature",
    unit="K",
)
def heating_temperature(
    *,
    diameter: Number,
    interference: Number,
    clearance: Number,
    expansion: Number,
    room: Number = REFERENCE_TEMPERATURE,
) -> Number:
    """Heating temperature of the outer part by the standard's short form.

    Parameters
    ----------
    diameter : Number
        Diameter of the joint. [m]
    interference : Number
        Greatest interference. [m]
    clearance : Number
        Clearance wanted for joining, about a thousandth of the diameter. [m]
    expansion : Number
        Mean expansion coefficient of the outer part. [1/K]
    room : Number
        Temperature that it is heated from. [K]

    Returns
    -------
    Number
        Temperature of the outer part. [K]

    Raises
    ------
    InputError
        If the diameter or the coefficient is not positive.

    Notes
    -----
    A second road to :func:`casting_temperature_for_slip`. Source: ``din-7190-1``, form
    from memory.

    Examples
    --------
    >>> hot = heating_temperature(
    ...     diameter=0.062, interference=110e-6, clearance=62e-6, expansion=22.5e-6)
    >>> round(hot - 273.15, 1)
    143.3
    """
    reach = positive("expansion", expansion, "1/K") * positive("diameter", diameter, "m")
    return room + (interference + not_negative("clearance", clearance, "m")) / reach


@formula(
    name="oven setting",
    expression="oven = min(target + margin, limit)",
    sources=("practice", "derived"),
    validity="the limit is the part's; where it cuts the margin, time cannot be foretold",
    unit="K",
)
def oven_setting(*, target: Number, margin: Number, limit: Number) -> Number:
    """What to set the oven to: above the target, never above what the part may bear.

    Parameters
    ----------
    target : Number
        Temperature that the casting needs. [K]
    margin : Number
        How far the oven is to be above it. [K]
    limit : Number
        Highest temperature allowed for the part. [K]

    Returns
    -------
    Number
        Setting of the oven. [K]

    Raises
    ------
    InputError
        If the margin is negative.

    Notes
    -----
    With an oven 6 K off and 35 K of margin a first-order warm-up misses the time by 0.14
    time constants; with 10 K by half of one. Source: ``derived``; the limit is
    ``practice``.
    """
    wanted = target + not_negative("margin", margin, "K")
    return cast("Number", np.minimum(wanted, positive("limit", limit, "K")))


@formula(
    name="whether the slip is reached",
    expression="yes where T_c <= limit",
    sources=("derived",),
    validity="central values; the verdict carries the doubt",
    unit="text",
)
def reaches(*, casting_temperature: float, limit: float) -> str:
    """Whether the casting may be made hot enough.

    Parameters
    ----------
    casting_temperature : float
        Temperature that the wanted slip needs. [K]
    limit : float
        Highest temperature allowed for the part. [K]

    Returns
    -------
    str
        "yes" or "no". [text]

    Raises
    ------
    InputError
        If a temperature is at or below absolute zero.

    Notes
    -----
    Source: ``derived``.
    """
    positive("casting temperature", casting_temperature, "K")
    return "yes" if casting_temperature <= positive("limit", limit, "K") else "no"


@formula(
    name="slip lost while carrying",
    expression="loss = D alpha_c (T_c) (T_c - room) (1 - exp(-t / tau))",
    sources=("derived",),
    validity="casting in still air, cooling as one lump; alpha_c local at T_c",
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
    """Slip that the casting loses between the oven and the entry of the sleeve.

    Parameters
    ----------
    diameter : Number
        Diameter of the bore. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    casting_temperature : Number
        Temperature of the casting as it leaves the oven. [K]
    room : Number
        Temperature of the room. [K]
    carry_time : Number
        From the oven's door to the entry. [s]
    time_constant : Number
        Time constant of the casting in still air. [s]

    Returns
    -------
    Number
        Loss of slip. [m]

    Raises
    ------
    InputError
        If a time is negative or the time constant is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    within("carry time", carry_time, "s", 0.0, 600.0)
    rise = casting_temperature - REFERENCE_TEMPERATURE
    local = casting_law.reference + 2.0 * casting_law.slope * rise
    cooled = 1.0 - np.exp(-carry_time / positive("time constant", time_constant, "s"))
    return cast("Number", diameter * local * (casting_temperature - room) * cooled)


@formula(
    name="needle at go",
    expression="needle = slip + carry loss + D (strain_s(T_drop) - strain_s(T_zero))",
    sources=("derived",),
    validity="bore gauge zeroed on this sleeve; its own warming is left on the cautious side",
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
) -> Number:
    """What a bore gauge that was zeroed on this sleeve must show before the drop.

    Parameters
    ----------
    slip : Number
        Slip wanted at the entry. [m]
    carry_loss : Number
        Slip that is lost between oven and entry. [m]
    diameter : Number
        Outside diameter of the sleeve. [m]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    sleeve_at_drop : Number
        Temperature of the sleeve at the drop. [K]
    sleeve_at_zero : Number
        Temperature of the sleeve when the gauge was zeroed on it. [K]

    Returns
    -------
    Number
        Reading of the needle, plus is a larger bore. [m]

    Raises
    ------
    InputError
        If a temperature is at or below absolute zero.

    Notes
    -----
    A gauge that warms in the bore reads too little slip, which errs to the side of more
    heat; a gauge that was zeroed warm errs the other way and must not be used.
    Source: ``derived``.
    """
    drop = thermal_strain(sleeve_law, temperature=sleeve_at_drop)
    zero = thermal_strain(sleeve_law, temperature=sleeve_at_zero)
    return slip + carry_loss + diameter * (drop - zero)
