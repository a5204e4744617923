"""What a sleeve touches first, its flange or its bottom, cold and hot.

A register is a step at the foot of the bore.  All lengths are axial and hold at 20 degC; depths
count downwards.  A gap is positive where the flange sits first and the bottom is clear.
"""

from __future__ import annotations

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.formulas import formula


@formula(
    name="gap at the register",
    expression="gap = register - body",
    sources=("derived",),
    validity="both at 20 degC; flange down on its ledge",
    unit="m",
)
def register_gap(*, register: Number, body_length: Number) -> Number:
    """Gap between a sleeve's bottom and its register, flange down on the ledge, cold.

    Parameters
    ----------
    register : Number
        Depth of the register below the ledge. [m]
    body_length : Number
        Length of the sleeve below its flange. [m]

    Returns
    -------
    Number
        Gap; negative where the bottom touches first and the flange stands up by as much. [m]

    Raises
    ------
    InputError
        If either length is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(register_gap(register=80.10e-3, body_length=80.00e-3) * 1e6, 3)
    100.0
    """
    positive("register below the ledge", register, "m")
    return register - positive("body below the flange", body_length, "m")


@formula(
    name="gap at the register, hot",
    expression="gap = register (1 + strain_c) - body (1 + strain_s)",
    sources=("derived", "iso-1"),
    validity="each part at one temperature; flange down on its ledge, body free to slide",
    unit="m",
)
def register_gap_hot(
    *,
    register: Number,
    body_length: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
    sleeve_temperature: Number,
) -> Number:
    """The same gap with each part at a temperature of its own.

    Parameters
    ----------
    register : Number
        Depth of the register below the ledge at 20 degC. [m]
    body_length : Number
        Length of the sleeve below its flange at 20 degC. [m]
    casting_law : ExpansionLaw
        Law of growth of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Law of growth of the sleeve. [1/K]
    casting_temperature : Number
        Temperature of the casting. [K]
    sleeve_temperature : Number
        Temperature of the sleeve. [K]

    Returns
    -------
    Number
        Gap hot; negative where the bottom touches first. [m]

    Raises
    ------
    InputError
        If a length is not positive or a temperature lies outside of its law.

    Notes
    -----
    Free growth: a body that is gripped cannot slide, and the gap then changes less.  Source:
    ``derived``; reference temperature ``iso-1``.

    Examples
    --------
    >>> aluminium = ExpansionLaw(21.4e-6, 0.0, 200.0, 600.0)
    >>> iron = ExpansionLaw(11.0e-6, 0.0, 200.0, 600.0)
    >>> gap = register_gap_hot(register=80.0e-3, body_length=80.0e-3, casting_law=aluminium,
    ...     sleeve_law=iron, casting_temperature=393.15, sleeve_temperature=393.15)
    >>> round(gap * 1e6, 2)
    83.2
    """
    positive("register below the ledge", register, "m")
    positive("body below the flange", body_length, "m")
    grown = register * (1.0 + thermal_strain(casting_law, temperature=casting_temperature))
    return grown - body_length * (1.0 + thermal_strain(sleeve_law, temperature=sleeve_temperature))


@formula(
    name="top of a sleeve that stands on a step",
    expression="stand-out = length - depth of the step",
    sources=("derived",),
    validity="plain sleeve, foot on the step; both at 20 degC",
    unit="m",
)
def stand_out_on_step(*, overall: Number, step_depth: Number) -> Number:
    """How far a plain sleeve stands out of the deck when its foot is on the step.

    Parameters
    ----------
    overall : Number
        Length of the sleeve over all. [m]
    step_depth : Number
        Depth of the step below the deck. [m]

    Returns
    -------
    Number
        Top of the sleeve above the deck; negative below it. [m]

    Raises
    ------
    InputError
        If the length is not positive or the depth is not finite.

    Notes
    -----
    Source: ``derived``.
    """
    return positive("length of the sleeve", overall, "m") - finite("step", step_depth, "m")


@formula(
    name="least gap of two",
    expression="least = min(cold, hot)",
    sources=("derived",),
    validity="gaps of the same register",
    unit="text",
)
def touches_first(*, cold_gap: float, hot_gap: float) -> str:
    """Words for what a flanged sleeve with a register touches first.

    Parameters
    ----------
    cold_gap : float
        Gap at the register at 20 degC. [m]
    hot_gap : float
        Gap at the register with the engine warm. [m]

    Returns
    -------
    str
        What touches first, cold and hot. [text]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> touches_first(cold_gap=50e-6, hot_gap=130e-6)
    'the flange, cold and hot'
    >>> touches_first(cold_gap=-20e-6, hot_gap=60e-6)
    'the bottom when cold; the flange once it is warm, if it can still slide'
    """
    if cold_gap > 0.0 and hot_gap > 0.0:
        return "the flange, cold and hot"
    if cold_gap <= 0.0 and hot_gap <= 0.0:
        return "the bottom, cold and hot"
    if cold_gap <= 0.0:
        return "the bottom when cold; the flange once it is warm, if it can still slide"
    return "the flange when cold; the bottom once it is warm"
