"""Is there a finite time until it grips: where both parts settle, and what slip is left there.

Slip is diametral, clearance positive.  Nothing is lost to the room here; that loss comes
after, over minutes.
"""

from __future__ import annotations

from sleevewright.core.checks import Number, positive
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.formulas import formula
from sleevewright.core.heat.joining import slip


@formula(
    name="equal temperature",
    expression="T = (C_c T_c + C_s T_s) / (C_c + C_s)",
    sources=("derived",),
    validity="no heat lost to the room, heat capacities that do not change",
    unit="K",
)
def equal_temperature(
    *,
    casting_capacity: Number,
    casting_temperature: Number,
    sleeve_capacity: Number,
    sleeve_temperature: Number,
) -> Number:
    """Temperature at which sleeve and casting meet.

    Parameters
    ----------
    casting_capacity : Number
        Heat capacity of the metal that the sleeve draws on. [J/K]
    casting_temperature : Number
        Temperature of the casting as the sleeve enters. [K]
    sleeve_capacity : Number
        Heat capacity of the sleeve. [J/K]
    sleeve_temperature : Number
        Temperature of the sleeve as it enters. [K]

    Returns
    -------
    Number
        Common temperature. [K]

    Raises
    ------
    InputError
        If a heat capacity or a temperature is not positive.

    Notes
    -----
    Balance of heat. Source: ``derived``.

    Examples
    --------
    >>> equal_temperature(casting_capacity=1200.0, casting_temperature=450.0,
    ...     sleeve_capacity=200.0, sleeve_temperature=296.0)
    428.0
    """
    positive("casting heat capacity", casting_capacity, "J/K")
    positive("sleeve heat capacity", sleeve_capacity, "J/K")
    positive("casting temperature", casting_temperature, "K")
    positive("sleeve temperature", sleeve_temperature, "K")
    heat = casting_capacity * casting_temperature + sleeve_capacity * sleeve_temperature
    return heat / (casting_capacity + sleeve_capacity)


@formula(
    name="slip at equal temperature",
    expression="c = (D - i) (1 + eps_c(T)) - D (1 + eps_s(T))",
    sources=("derived",),
    validity="each part at the common temperature, within the range of its expansion law",
    unit="m",
)
def slip_at_equal_temperature(
    *,
    diameter: Number,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    temperature: Number,
) -> Number:
    """Slip that is left when both parts have the same temperature.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Diametral interference at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    temperature : Number
        Common temperature of both. [K]

    Returns
    -------
    Number
        Diametral clearance; positive means that the sleeve may stay loose for minutes,
        negative that it grips on the way. [m]

    Raises
    ------
    InputError
        If the diameter or the temperature is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> left = slip_at_equal_temperature(diameter=0.0620, interference=110e-6,
    ...     casting_law=ExpansionLaw(22.5e-6, 0.0), sleeve_law=ExpansionLaw(11.0e-6, 0.0),
    ...     temperature=453.15)
    >>> round(left * 1e6, 1)
    3.7
    """
    return slip(
        diameter=diameter,
        interference=interference,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        casting_temperature=temperature,
        sleeve_temperature=temperature,
    )
