"""How far each part moves to meet the other: growth of the bore, squeeze of the sleeve.

On diameter; the two add up to the effective interference.
"""

from __future__ import annotations

from sleevewright.core.checks import Number, not_negative
from sleevewright.core.fits.rings import RingPair
from sleevewright.core.formulas import formula


@formula(
    name="growth of the casting's bore",
    expression="growth = p D ((R^2 + r^2)/(R^2 - r^2) + nu_c)/E_c",
    sources=("timoshenko-1956",),
    validity="elastic, plane stress, no ports, full contact",
    unit="m",
)
def casting_growth(pair: RingPair, *, pressure: Number) -> Number:
    """How much the casting's bore grows under the pressure, on diameter.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    pressure : Number
        Contact pressure. [Pa]

    Returns
    -------
    Number
        Growth of the bore. [m]

    Raises
    ------
    InputError
        If the pressure is negative.

    Notes
    -----
    With :func:`sleeve_squeeze` it adds up to the interference. Source:
    ``timoshenko-1956``.
    """
    not_negative("pressure", pressure, "Pa")
    fit, outer = pair.interface_diameter**2, pair.outside_diameter**2
    give = ((outer + fit) / (outer - fit) + pair.casting_poisson) / pair.casting_modulus
    return pressure * pair.interface_diameter * give


@formula(
    name="squeeze of the sleeve's outside",
    expression="squeeze = p D ((r^2 + a^2)/(r^2 - a^2) - nu_s)/E_s",
    sources=("timoshenko-1956",),
    validity="elastic, plane stress, no ports, full contact",
    unit="m",
)
def sleeve_squeeze(pair: RingPair, *, pressure: Number) -> Number:
    """How much the sleeve's outside shrinks under the pressure, on diameter.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    pressure : Number
        Contact pressure. [Pa]

    Returns
    -------
    Number
        Shrinkage of the outside, positive. [m]

    Raises
    ------
    InputError
        If the pressure is negative.

    Notes
    -----
    Source: ``timoshenko-1956``.
    """
    not_negative("pressure", pressure, "Pa")
    fit, inner = pair.interface_diameter**2, pair.inside_diameter**2
    give = ((fit + inner) / (fit - inner) - pair.sleeve_poisson) / pair.sleeve_modulus
    return pressure * pair.interface_diameter * give
