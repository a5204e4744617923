"""Squish: what is left between the piston's edge and the head at top dead centre.

Clearances are axial.  They are cold and at rest; what the running engine takes off them is a
sum of its own.  The band is the ring of the head that comes so near to the piston, between
the bore and the bowl of the chamber.
"""

from __future__ import annotations

import math
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


@formula(
    name="squish clearance",
    expression="squish = d + g + s",
    sources=("derived",),
    validity="piston edge, band and head parallel; gasket as thick as it is when it is pressed",
    unit="m",
)
def squish_clearance(*, deck_clearance: Number, head_gasket: Number, head_step: Number) -> Number:
    """Gap between the piston's edge and the head at top dead centre.

    Parameters
    ----------
    deck_clearance : Number
        Depth of the piston's edge below the deck, negative above it. [m]
    head_gasket : Number
        Thickness of the head gasket, pressed; zero where there is none. [m]
    head_step : Number
        Depth of the band in the head above its gasket face; negative where the head reaches
        into the bore. [m]

    Returns
    -------
    Number
        Squish. [m]

    Raises
    ------
    InputError
        If a length is not finite, or if the piston would meet the head.

    Notes
    -----
    A sum along the axis. Source: ``derived``.

    Examples
    --------
    >>> round(squish_clearance(deck_clearance=0.5e-3, head_gasket=0.8e-3, head_step=0.0), 6)
    0.0013
    """
    finite("deck clearance", deck_clearance, "m")
    not_negative("head gasket", head_gasket, "m")
    finite("head step", head_step, "m")
    return _refuse_touching(deck_clearance + head_gasket + head_step)


def _refuse_touching(squish: Number) -> Number:
    """Refuse a squish of nothing or less: the piston meets the head."""
    if not extremes(squish)[0] > 0.0:
        raise InputError(
            "squish",
            extremes(squish)[0],
            "m",
            "more than zero",
            "The piston would meet the head: take less off, or fit a thicker gasket; of a head "
            "without one tell its step.",
        )
    return squish


@formula(
    name="squish after a cut",
    expression="squish' = squish + change",
    sources=("derived",),
    validity="cuts and gaskets parallel",
    unit="m",
)
def squish_after(*, squish: Number, change: Number) -> Number:
    """Squish after the cut; refused where the piston would meet the head.

    Parameters
    ----------
    squish : Number
        Squish before. [m]
    change : Number
        What cut and gaskets do to it. [m]

    Returns
    -------
    Number
        Squish after. [m]

    Raises
    ------
    InputError
        If nothing would be left.

    Notes
    -----
    Source: ``derived``.
    """
    return _refuse_touching(positive("squish", squish, "m") + finite("change", change, "m"))


@formula(
    name="squish by solder",
    expression="squish = (one + other)/2",
    sources=("practice",),
    validity="read at both ends of the line of the pin, where the piston cannot rock",
    unit="m",
)
def solder_squish(*, one_end: Number, other_end: Number) -> Number:
    """Squish from the flattened solder at both ends of the line of the pin.

    Parameters
    ----------
    one_end : Number
        Solder at one end of the line of the pin. [m]
    other_end : Number
        Solder at the other end. [m]

    Returns
    -------
    Number
        Squish, mean of both. [m]

    Raises
    ------
    InputError
        If a reading is not positive.

    Notes
    -----
    Solder through one plug hole lies on one side, cocks the piston and reads too little there.
    Source: ``practice``.
    """
    positive("solder, one end", one_end, "m")
    positive("solder, other end", other_end, "m")
    return 0.5 * (one_end + other_end)


@formula(
    name="tilt by solder",
    expression="tilt = one - other",
    sources=("practice",),
    validity="both ends of the line of the pin",
    unit="m",
)
def solder_tilt(*, one_end: Number, other_end: Number) -> Number:
    """How much more one end of the solder reads: head and piston out of parallel.

    Parameters
    ----------
    one_end : Number
        Solder at one end of the line of the pin. [m]
    other_end : Number
        Solder at the other end. [m]

    Returns
    -------
    Number
        One less other, over the width of the solder. [m]

    Raises
    ------
    InputError
        If a reading is not positive.

    Notes
    -----
    Source: ``practice``.
    """
    positive("solder, one end", one_end, "m")
    positive("solder, other end", other_end, "m")
    return one_end - other_end


@formula(
    name="area of the squish band",
    expression="A = pi/4 (B^2 - w^2)",
    sources=("derived",),
    validity="round bowl, concentric with the bore",
    unit="m^2",
)
def band_area(*, bore: Number, bowl: Number) -> Number:
    """Area of the head that comes near to the piston.

    Parameters
    ----------
    bore : Number
        Diameter of the bore. [m]
    bowl : Number
        Diameter of the chamber's bowl where the band ends. [m]

    Returns
    -------
    Number
        Area. [m^2]

    Raises
    ------
    InputError
        If the bowl is negative or not smaller than the bore.

    Notes
    -----
    A ring. Source: ``derived``.
    """
    positive("bore", bore, "m")
    not_negative("bowl", bowl, "m")
    if not extremes(bore - bowl)[0] > 0.0:
        raise InputError(
            "bowl", extremes(bowl)[1], "m", f"less than the bore, {extremes(bore)[0]:.6g} m"
        )
    return math.pi / 4.0 * (bore * bore - bowl * bowl)


@formula(
    name="share of the squish band",
    expression="share = 1 - (w/B)^2",
    sources=("derived",),
    validity="round bowl, concentric with the bore",
    unit="1",
)
def band_share(*, bore: Number, bowl: Number) -> Number:
    """Share of the bore's area that is squish band.

    Parameters
    ----------
    bore : Number
        Diameter of the bore. [m]
    bowl : Number
        Diameter of the chamber's bowl where the band ends. [m]

    Returns
    -------
    Number
        Share. [1]

    Raises
    ------
    InputError
        If the bowl is negative or not smaller than the bore.

    Notes
    -----
    Source: ``derived``.
    """
    return band_area(bore=bore, bowl=bowl) / (math.pi / 4.0 * bore * bore)


@formula(
    name="volume in the squish band",
    expression="V = pi/4 (B^2 - w^2) squish",
    sources=("derived",),
    validity="band parallel to the piston",
    unit="m^3",
)
def band_volume(*, bore: Number, bowl: Number, squish: Number) -> Number:
    """Volume that lies in the squish band at top dead centre.

    Parameters
    ----------
    bore : Number
        Diameter of the bore. [m]
    bowl : Number
        Diameter of the chamber's bowl where the band ends. [m]
    squish : Number
        Squish. [m]

    Returns
    -------
    Number
        Volume. [m^3]

    Raises
    ------
    InputError
        If bowl or squish cannot be.

    Notes
    -----
    Area times height. Source: ``derived``.
    """
    return band_area(bore=bore, bowl=bowl) * positive("squish", squish, "m")


@formula(
    name="squish lost in the running engine",
    expression="loss = a_r l dT_r + a_p h dT_p + play",
    sources=("practice",),
    validity="an upper bound: what the barrel grows by is left out",
    unit="m",
)
def running_squish_loss(
    *,
    rod: Number,
    rod_expansion: Number,
    rod_rise: Number,
    crown_height: Number,
    crown_expansion: Number,
    crown_rise: Number,
    play: Number,
) -> Number:
    """How much nearer the piston comes to the head hot and at speed, at most.

    Parameters
    ----------
    rod : Number
        Length of the connecting rod between centres. [m]
    rod_expansion : Number
        Mean linear expansion of the rod's metal. [1/K]
    rod_rise : Number
        How much hotter the rod runs than it was measured. [K]
    crown_height : Number
        Height of the piston's edge above its pin. [m]
    crown_expansion : Number
        Mean linear expansion of the piston's metal. [1/K]
    crown_rise : Number
        How much hotter that part of the piston runs. [K]
    play : Number
        Play of both bearings and stretch of the rod at speed. [m]

    Returns
    -------
    Number
        Loss of squish. [m]

    Raises
    ------
    InputError
        If a length, coefficient or rise is negative.

    Notes
    -----
    Straight growth of rod and piston, with an allowance for play and stretch. The barrel grows
    too and gives some of it back; leaving that out errs to the side of more room.
    Source: ``practice``.
    """
    growth = not_negative("rod", rod, "m") * not_negative("rod expansion", rod_expansion, "1/K")
    growth = growth * not_negative("rod rise", rod_rise, "K")
    crown = not_negative("crown height", crown_height, "m")
    crown = crown * not_negative("crown expansion", crown_expansion, "1/K")
    crown = crown * not_negative("crown rise", crown_rise, "K")
    return growth + crown + not_negative("play", play, "m")


@formula(
    name="least squish",
    expression="least = max(set, loss)",
    sources=("practice",),
    validity="cold, at rest",
    unit="m",
)
def least_squish(*, usual_least: Number, running_loss: Number) -> Number:
    """Least squish cold: what the shop keeps to, and never less than rod and piston grow.

    Parameters
    ----------
    usual_least : Number
        Least squish that the shop keeps to. [m]
    running_loss : Number
        What the running engine takes off it, at most. [m]

    Returns
    -------
    Number
        Least squish. [m]

    Raises
    ------
    InputError
        If either is negative.

    Notes
    -----
    The larger of both. Source: ``practice``.
    """
    not_negative("least squish", usual_least, "m")
    not_negative("loss of squish", running_loss, "m")
    return cast("Number", np.maximum(usual_least, running_loss))
