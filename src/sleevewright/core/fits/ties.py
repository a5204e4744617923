"""Flange interference at which body and flange tie: hot, and when they are caught.

Two rules that need no model.  The flange is tighter hot only if its interference exceeds
the body's by more than the extra growth of its larger diameter; it is caught first if it
has more interference per diameter.  Interference is diametral, at 20 degC.
"""

from __future__ import annotations

from sleevewright.core.checks import Number, positive
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.fits.flange import ShrinkFit
from sleevewright.core.formulas import formula


@formula(
    name="flange interference that is caught together with the body",
    expression="i_f = i D_f/D",
    sources=("derived",),
    validity="common cooling, one pair of metals",
    unit="m",
)
def caught_together(*, body: ShrinkFit, flange_diameter: Number) -> Number:
    """Flange interference at which flange and body are caught at one temperature.

    Parameters
    ----------
    body : ShrinkFit
        The body in its parent bore. [record]
    flange_diameter : Number
        Outside diameter of the flange at 20 degC. [m]

    Returns
    -------
    Number
        Interference of the flange; with more, the flange is caught first. [m]

    Raises
    ------
    InputError
        If the flange diameter is not positive.

    Notes
    -----
    Equal interference per diameter. Source: ``derived``.
    """
    positive("flange diameter", flange_diameter, "m")
    return body.interference * flange_diameter / body.diameter


@formula(
    name="flange interference of equal hot slip",
    expression="i_f = i + (D_f - D)(eps_c - eps_s)/(1 + eps_c)",
    sources=("derived",),
    validity="both fits at the same two temperatures",
    unit="m",
)
def equal_hot_slip(
    *,
    body: ShrinkFit,
    flange_diameter: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
    sleeve_temperature: Number,
) -> Number:
    """Flange interference at which flange and body have the same slip hot.

    Parameters
    ----------
    body : ShrinkFit
        The body in its parent bore. [record]
    flange_diameter : Number
        Outside diameter of the flange at 20 degC. [m]
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
        Interference of the flange; with more, the flange is the tighter one hot. [m]

    Raises
    ------
    InputError
        If the flange diameter is not positive.

    Notes
    -----
    The larger diameter grows more; that much more interference it can bear. Source:
    ``derived``.
    """
    positive("flange diameter", flange_diameter, "m")
    casting = thermal_strain(casting_law, temperature=casting_temperature)
    sleeve = thermal_strain(sleeve_law, temperature=sleeve_temperature)
    extra = flange_diameter - body.diameter
    return body.interference + extra * (casting - sleeve) / (1.0 + casting)
