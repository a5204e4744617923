"""Two fits, body and flange: which is tighter hot, which is caught first, what lifts the flange.

The flange in its counterbore is a second shrink fit on a larger diameter at the same
temperatures.  Interference is diametral; lengths are along the sleeve; lift is positive
when the seat draws away from the flange.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.fits.running import grip_temperature, running_interference
from sleevewright.core.formulas import formula

Text = str | NDArray[np.str_]

_TIE = 1.0e-9  # [m], closer than this is one and the same


def _ahead(lead: Number) -> Text:
    """Name of the fit that is ahead: of the body where ``lead`` is positive."""
    names = np.where(np.abs(lead) < _TIE, "tie", np.where(np.greater(lead, 0.0), "body", "flange"))
    return names if names.ndim else str(names)


@dataclass(frozen=True, kw_only=True)
class ShrinkFit:
    """One cold fit: a diameter and its interference.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve's body or flange at 20 degC. [m]
    interference : Number
        Interference at 20 degC, negative for clearance. [m]
    """

    diameter: Number
    interference: Number

    def __post_init__(self) -> None:
        """Refuse a diameter that cannot be."""
        positive("diameter of the fit", self.diameter, "m")
        finite("interference of the fit", self.interference, "m")


@formula(
    name="flange slip above body slip",
    expression="c_f - c_b, c = -i(T_c, T_s)",
    sources=("derived",),
    validity="both fits at the same two temperatures",
    unit="m",
)
def slip_difference(
    *,
    body: ShrinkFit,
    flange: ShrinkFit,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
    sleeve_temperature: Number,
) -> Number:
    """Hot slip of the flange minus hot slip of the body.

    Parameters
    ----------
    body : ShrinkFit
        The body in its parent bore. [record]
    flange : ShrinkFit
        The flange in its counterbore. [record]
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
        Difference of slips, negative where the flange is the tighter one hot. [m]

    Notes
    -----
    Slip is the negative of the running interference. Source: ``derived``.
    """
    left = [
        running_interference(
            diameter=fit.diameter,
            interference=fit.interference,
            casting_law=casting_law,
            sleeve_law=sleeve_law,
            casting_temperature=casting_temperature,
            sleeve_temperature=sleeve_temperature,
        )
        for fit in (body, flange)
    ]
    return left[0] - left[1]


@formula(
    name="which fit is tighter hot",
    expression="body where its hot slip is the smaller one",
    sources=("derived",),
    validity="both fits at the same two temperatures",
    unit="text",
)
def tighter_hot(
    *,
    body: ShrinkFit,
    flange: ShrinkFit,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
    sleeve_temperature: Number,
) -> Text:
    """Which of two fits has less slip at the drop, and so rules the temperature.

    Parameters
    ----------
    body : ShrinkFit
        The body in its parent bore. [record]
    flange : ShrinkFit
        The flange in its counterbore. [record]
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
    Text
        "body", "flange" or "tie", for each sample where samples are given. [text]

    Notes
    -----
    Source: ``derived``.
    """
    ahead = slip_difference(
        body=body,
        flange=flange,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        casting_temperature=casting_temperature,
        sleeve_temperature=sleeve_temperature,
    )
    return _ahead(ahead)


@formula(
    name="which fit is caught first",
    expression="body where i/D is greater than i_f/D_f",
    sources=("derived",),
    validity="common cooling, one pair of metals",
    unit="text",
)
def caught_first(
    *,
    body: ShrinkFit,
    flange: ShrinkFit,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
) -> Text:
    """Which of two fits is caught first when sleeve and casting cool at one temperature.

    Parameters
    ----------
    body : ShrinkFit
        The body in its parent bore. [record]
    flange : ShrinkFit
        The flange in its counterbore. [record]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]

    Returns
    -------
    Text
        "body", "flange", "tie", or "neither" where no common temperature catches
        either, as for iron in iron; for each sample where samples are given. [text]

    Notes
    -----
    The grip temperature rises with the interference per diameter and with nothing else,
    so the fit with more of it is caught first. Source: ``derived``.
    """
    grips = [
        grip_temperature(
            diameter=fit.diameter,
            interference=fit.interference,
            casting_law=casting_law,
            sleeve_law=sleeve_law,
        )
        for fit in (body, flange)
    ]
    lead = body.interference - flange.interference * body.diameter / flange.diameter
    # a fit that nothing catches is behind any that is caught
    loose = [np.isnan(grip) for grip in grips]
    names = np.where(
        loose[0] & loose[1],
        "neither",
        np.where(loose[0], "flange", np.where(loose[1], "body", _ahead(lead))),
    )
    return names if names.ndim else str(names)


@formula(
    name="flange lift still to come",
    expression="lift = z (i - i(T))/D",
    sources=("derived",),
    validity="common cooling from T to 20 degC, sleeve caught at z below its seat, no friction",
    unit="m",
)
def flange_lift(
    *, anchor_length: Number, interference: Number, interference_left: Number, diameter: Number
) -> Number:
    """How far the seat still draws away from the flange on cooling to 20 degC.

    Parameters
    ----------
    anchor_length : Number
        Distance from the seat to where the sleeve is caught. [m]
    interference : Number
        Interference at 20 degC. [m]
    interference_left : Number
        Interference at the common temperature from which is counted; zero at grip. [m]
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]

    Returns
    -------
    Number
        Lift of an unclamped flange, an upper value because friction takes a part. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or the length is negative.

    Notes
    -----
    The strains that undo the fit across the diameter act along the length too. Differs
    from :func:`length_mismatch` by z i eps_c/D. Source: ``derived``.

    Examples
    --------
    >>> lift = flange_lift(anchor_length=47.5e-3, interference=81.28e-6,
    ...     interference_left=0.0, diameter=62.992e-3)
    >>> round(lift * 1e6, 1)
    61.3
    """
    not_negative("anchor length", anchor_length, "m")
    positive("diameter", diameter, "m")
    return anchor_length * (interference - interference_left) / diameter


@formula(
    name="difference in length still to come",
    expression="mismatch = z (eps_c(T) - eps_s(T))",
    sources=("derived",),
    validity="common cooling from T to 20 degC, both parts free lengthways",
    unit="m",
)
def length_mismatch(
    *,
    anchor_length: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    temperature: Number,
) -> Number:
    """How much more the casting still shrinks than the sleeve, lengthways, to 20 degC.

    Parameters
    ----------
    anchor_length : Number
        Length over which is counted. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    temperature : Number
        Common temperature from which is counted. [K]

    Returns
    -------
    Number
        Difference of the shrinkages. [m]

    Raises
    ------
    InputError
        If the length is negative or the temperature is below absolute zero.

    Notes
    -----
    Second road to :func:`flange_lift`. Source: ``derived``.
    """
    not_negative("anchor length", anchor_length, "m")
    casting = thermal_strain(casting_law, temperature=temperature)
    sleeve = thermal_strain(sleeve_law, temperature=temperature)
    return anchor_length * (casting - sleeve)
