"""What heat and cold do to each part alone: growth of the bore, slip gained by chilling.

Also the joining temperature in the form of the standard for press fits, with one constant
coefficient, to set beside the exact one.  All diametral, sizes at 20 degC.
"""

from __future__ import annotations

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.expansion import REFERENCE_TEMPERATURE, ExpansionLaw, thermal_strain
from sleevewright.core.formulas import formula

_LAWS = "free parts, each at one temperature, within the range of its expansion law"


@formula(
    name="growth of the bore",
    expression="growth = (D - i) eps_c(T_c)",
    sources=("derived",),
    validity=_LAWS,
    unit="m",
)
def bore_growth(
    *, diameter: Number, interference: Number, casting_law: ExpansionLaw, temperature: Number
) -> Number:
    """How much the parent bore has grown over its size at 20 degC.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Diametral interference at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    temperature : Number
        Temperature of the casting. [K]

    Returns
    -------
    Number
        Growth on diameter. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or the temperature is below absolute zero.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> grown = bore_growth(diameter=0.0620, interference=110e-6,
    ...     casting_law=ExpansionLaw(22.5e-6, 0.0), temperature=393.15)
    >>> round(grown * 1e6, 1)
    139.3
    """
    bore = positive("diameter", diameter, "m") - finite("interference", interference, "m")
    return bore * thermal_strain(casting_law, temperature=temperature)


@formula(
    name="slip gained by chilling",
    expression="gain = D (eps_s(T_room) - eps_s(T_cold))",
    sources=("derived",),
    validity=_LAWS + "; frost is not in it",
    unit="m",
)
def chill_gain(
    *, diameter: Number, sleeve_law: ExpansionLaw, room: Number, chilled: Number
) -> Number:
    """Slip that a chilled sleeve gains over one at room temperature.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    room : Number
        Temperature of the room. [K]
    chilled : Number
        Temperature of the chilled sleeve as it enters. [K]

    Returns
    -------
    Number
        Diametral clearance gained. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or a temperature is below absolute zero.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> gain = chill_gain(diameter=0.0620, sleeve_law=ExpansionLaw(10.7e-6, 6e-9), room=293.15,
    ...     chilled=255.15)
    >>> round(gain * 1e6, 1)
    24.7
    """
    positive("diameter", diameter, "m")
    warm = thermal_strain(sleeve_law, temperature=room)
    return diameter * (warm - thermal_strain(sleeve_law, temperature=chilled))


@formula(
    name="joining temperature with a constant coefficient",
    expression="T = T_0 + (i + c) / (alpha D)",
    sources=("din-7190-1",),
    validity="one constant coefficient, inner part at the reference temperature",
    unit="K",
)
def joining_temperature_din(
    *,
    diameter: Number,
    interference: Number,
    clearance: Number,
    expansion: Number,
    start: Number = REFERENCE_TEMPERATURE,
) -> Number:
    """Temperature of the outer part in the form that the standard for press fits gives.

    Parameters
    ----------
    diameter : Number
        Diameter of the joint. [m]
    interference : Number
        Greatest diametral interference. [m]
    clearance : Number
        Diametral clearance wanted for joining. [m]
    expansion : Number
        Constant coefficient of expansion of the outer part. [1/K]
    start : Number
        Temperature of the cold parts. [K]

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
    Form from memory; with a clearance of about a thousandth of the diameter. Source:
    ``din-7190-1``.

    Examples
    --------
    >>> hot = joining_temperature_din(diameter=0.080, interference=78e-6, clearance=80e-6,
    ...     expansion=11e-6)
    >>> round(hot - 273.15, 1)
    199.5
    """
    positive("diameter", diameter, "m")
    positive("expansion", expansion, "1/K")
    finite("interference", interference, "m")
    finite("clearance", clearance, "m")
    return start + (interference + clearance) / (expansion * diameter)
