"""What a cut off the deck or off the base did, and what another gasket does.

Metal off the deck leaves the piston where it was against the ports: only the place that
depths are counted from comes nearer to them.  Metal off the base, or a thinner base gasket,
lowers the whole barrel: every port opens later.  Both take their depth off the squish.
All lengths are axial.
"""

from __future__ import annotations

import math
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, not_negative, positive
from sleevewright.core.engine.crank import port_opens
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


def _refuse_negative(field: str, cut: Number) -> None:
    """Refuse a cut below nought; draws of a small cut may lie below it, not all of them."""
    least, greatest = extremes(finite(field, cut, "m"))
    if greatest < 0.0:
        raise InputError(field, least, "m", "zero or more", "Metal that is taken off counts up.")


@formula(
    name="piston below the deck after a cut",
    expression="d' = d - c_deck - c_base + g_base",
    sources=("derived",),
    validity="cuts and gaskets parallel",
    unit="m",
)
def deck_clearance_after(
    *, deck_clearance: Number, deck_cut: Number, base_cut: Number, base_thicker: Number
) -> Number:
    """How far the piston stays below the deck after the cut.

    Parameters
    ----------
    deck_clearance : Number
        The same before the cut, negative above it. [m]
    deck_cut : Number
        Taken off the deck. [m]
    base_cut : Number
        Taken off the base. [m]
    base_thicker : Number
        How much thicker the base gasket is than before, negative where thinner. [m]

    Returns
    -------
    Number
        Piston below the deck. [m]

    Raises
    ------
    InputError
        If a cut is negative.

    Notes
    -----
    A sum along the axis. Source: ``derived``.
    """
    _refuse_negative("taken off the deck", deck_cut)
    _refuse_negative("taken off the base", base_cut)
    finite("deck clearance", deck_clearance, "m")
    return deck_clearance - deck_cut - base_cut + finite("base gasket", base_thicker, "m")


@formula(
    name="change of the squish",
    expression="change = g_head + g_base - c_deck - c_base",
    sources=("derived",),
    validity="cuts and gaskets parallel",
    unit="m",
)
def squish_change(
    *, deck_cut: Number, base_cut: Number, base_thicker: Number, head_thicker: Number
) -> Number:
    """What the cut and the gaskets do to the squish.

    Parameters
    ----------
    deck_cut : Number
        Taken off the deck. [m]
    base_cut : Number
        Taken off the base. [m]
    base_thicker : Number
        How much thicker the base gasket is than before, negative where thinner. [m]
    head_thicker : Number
        The same of the head gasket. [m]

    Returns
    -------
    Number
        Change of the squish, negative where it is less. [m]

    Raises
    ------
    InputError
        If a cut is negative.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> change = squish_change(deck_cut=0.25e-3, base_cut=0.0, base_thicker=0.0, head_thicker=0.0)
    >>> round(change * 1e3, 3)
    -0.25
    """
    _refuse_negative("taken off the deck", deck_cut)
    _refuse_negative("taken off the base", base_cut)
    finite("base gasket", base_thicker, "m")
    return head_thicker + base_thicker - deck_cut - base_cut


@formula(
    name="volume after a cut",
    expression="V' = V + pi/4 B^2 (g_base - c_deck - c_base) + pi/4 G^2 g_head",
    sources=("derived",),
    validity="the deck's cut as wide as the bore",
    unit="m^3",
)
def volume_after(
    *,
    volume: Number,
    bore: Number,
    deck_cut: Number,
    base_cut: Number,
    base_thicker: Number,
    gasket_hole: Number,
    head_thicker: Number,
) -> Number:
    """Volume above the piston after the cut.

    Parameters
    ----------
    volume : Number
        Volume above the piston before. [m^3]
    bore : Number
        Diameter of the bore. [m]
    deck_cut : Number
        Taken off the deck. [m]
    base_cut : Number
        Taken off the base. [m]
    base_thicker : Number
        How much thicker the base gasket is than before, negative where thinner. [m]
    gasket_hole : Number
        Diameter of the head gasket's hole. [m]
    head_thicker : Number
        How much thicker the head gasket is than before, negative where thinner. [m]

    Returns
    -------
    Number
        Volume after. [m^3]

    Raises
    ------
    InputError
        If a cut is negative or if nothing is left.

    Notes
    -----
    A cut of h takes a disc of the bore's width and the height h. Source: ``derived``.

    Examples
    --------
    >>> after = volume_after(volume=22e-6, bore=70e-3, deck_cut=0.254e-3, base_cut=0.0,
    ...                      base_thicker=0.0, gasket_hole=72e-3, head_thicker=0.0)
    >>> round((22e-6 - after) * 1e6, 2)
    0.98
    """
    _refuse_negative("taken off the deck", deck_cut)
    _refuse_negative("taken off the base", base_cut)
    bore_area = math.pi / 4.0 * positive("bore", bore, "m") ** 2
    hole_area = math.pi / 4.0 * positive("gasket's hole", gasket_hole, "m") ** 2
    left = volume + bore_area * (base_thicker - deck_cut - base_cut) + hole_area * head_thicker
    if not extremes(left)[0] > 0.0:
        raise InputError(
            "volume above the piston", extremes(left)[0], "m^3", "more than zero",
            "The cut takes more than there is above the piston.",
        )  # fmt: skip
    return left


@formula(
    name="roof below the deck after a cut",
    expression="h' = h - c_deck + sunk",
    sources=("derived",),
    validity="depths count from the deck as it is now",
    unit="m",
)
def roof_after(*, roof_depth: Number, deck_cut: Number, sunk: Number) -> Number:
    """Depth of a port's edge below the new deck.

    Parameters
    ----------
    roof_depth : Number
        Depth below the old deck. [m]
    deck_cut : Number
        Taken off the deck. [m]
    sunk : Number
        How much deeper the sleeve sits than planned, negative where prouder. [m]

    Returns
    -------
    Number
        Depth below the new deck. [m]

    Raises
    ------
    InputError
        If the cut is negative or reaches the port.

    Notes
    -----
    A deck's cut moves the datum, not the port. Source: ``derived``.
    """
    _refuse_negative("taken off the deck", deck_cut)
    left = finite("roof depth", roof_depth, "m") - deck_cut + finite("sunk", sunk, "m")
    if not extremes(left)[0] > 0.0:
        raise InputError(
            "taken off the deck", extremes(deck_cut)[1], "m", "less than the depth of the port"
        )
    return left


@formula(
    name="change of a port's duration",
    expression="change = 2 t(h, d) - 2 t(h', d')",
    sources=("heywood-1988",),
    validity="no pin offset, flat crown edge, roof without chamfer",
    unit="rad",
)
def duration_change(
    *,
    roof_depth: Number,
    deck_clearance: Number,
    new_roof: Number,
    new_clearance: Number,
    stroke: Number,
    rod: Number,
) -> Number:
    """How much longer a port stays open after the cut: exact, not by a slope.

    Parameters
    ----------
    roof_depth : Number
        Depth of the roof below the old deck. [m]
    deck_clearance : Number
        Piston below the old deck at top dead centre. [m]
    new_roof : Number
        Depth of the roof below the new deck. [m]
    new_clearance : Number
        Piston below the new deck. [m]
    stroke : Number
        Stroke. [m]
    rod : Number
        Length of the connecting rod between centres. [m]

    Returns
    -------
    Number
        Change of the duration, negative where it is shorter. [rad]

    Raises
    ------
    InputError
        If the roof lies above top or below bottom dead centre, before or after.

    Notes
    -----
    A cut off the deck alone gives nothing: roof and piston both come nearer to it.
    Source: ``heywood-1988``, difference of two exact angles.
    """
    before = port_opens(
        roof_depth=roof_depth, deck_clearance=deck_clearance, stroke=stroke, rod=rod
    )
    after = port_opens(roof_depth=new_roof, deck_clearance=new_clearance, stroke=stroke, rod=rod)
    return 2.0 * (before - after)


@formula(
    name="cut that a deck still needs",
    expression="cut = f where f > most, else 0",
    sources=("practice",),
    validity="the deck cleans up all round when its lowest place is reached",
    unit="m",
)
def flattening_cut(*, out_of_flat: Number, most: Number) -> Number:
    """Metal that is still to come off a deck to clean it up all round.

    Parameters
    ----------
    out_of_flat : Number
        Largest gap under a straightedge. [m]
    most : Number
        How much is still accepted. [m]

    Returns
    -------
    Number
        Least cut, zero where the deck is accepted. [m]

    Raises
    ------
    InputError
        If either is negative.

    Notes
    -----
    Set up true to its highest places, the cut has to reach the lowest. Source: ``practice``.
    """
    not_negative("out of flat", out_of_flat, "m")
    not_negative("most", most, "m")
    return cast("Number", np.where(np.asarray(out_of_flat) > most, out_of_flat, 0.0)[()])


@formula(
    name="change of a volume",
    expression="change = V' - V",
    sources=("derived",),
    validity="both known on their own",
    unit="m^3",
)
def volume_change(*, volume: Number, new_volume: Number) -> Number:
    """How much larger a volume is than another.

    Parameters
    ----------
    volume : Number
        Volume above the piston before, or by its parts. [m^3]
    new_volume : Number
        Volume after, or by burette. [m^3]

    Returns
    -------
    Number
        New less old. [m^3]

    Raises
    ------
    InputError
        If a volume is not finite.

    Notes
    -----
    Source: ``derived``.
    """
    return finite("new volume", new_volume, "m^3") - finite("volume", volume, "m^3")


@formula(
    name="change of a compression ratio",
    expression="change = e' - e",
    sources=("derived",),
    validity="both geometric or both trapped",
    unit="1",
)
def ratio_change(*, ratio: Number, new_ratio: Number) -> Number:
    """How much higher the compression is than before.

    Parameters
    ----------
    ratio : Number
        Compression ratio before. [1]
    new_ratio : Number
        Compression ratio after. [1]

    Returns
    -------
    Number
        New less old. [1]

    Raises
    ------
    InputError
        If a ratio is not finite.

    Notes
    -----
    Source: ``derived``.
    """
    return finite("new ratio", new_ratio, "") - finite("ratio", ratio, "")
