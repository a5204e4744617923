"""How far a hone travels: its stones must run out of both ends, and never so far that it tips.

Axial.  The stroke is the travel of the hone from one turning point to the other; the overrun
is how much of a stone stands out of an end at the turning point.
"""

from __future__ import annotations

from sleevewright.core.checks import Number, extremes, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

TIPS = 0.5
"""Share of a stone out of the bore beyond which the hone tips and bells the end."""


@formula(
    name="overrun of a stone",
    expression="o = share l",
    sources=("practice",),
    validity="a quarter to a third of the stone",
    unit="m",
)
def overrun_for(*, stone_length: Number, share: Number) -> Number:
    """How far a stone is to run out of an end.

    Parameters
    ----------
    stone_length : Number
        Length of the stones. [m]
    share : Number
        Share of the stone that is to stand out. [1]

    Returns
    -------
    Number
        Overrun, axial. [m]

    Raises
    ------
    InputError
        If the stone has no length or the share is negative or beyond one half.

    Notes
    -----
    Less leaves the end tight, more bells it. Source: ``practice``.

    Examples
    --------
    >>> overrun_for(stone_length=0.060, share=0.3)
    0.018
    """
    positive("stone length", stone_length, "m")
    refuse_tipping(overrun=share * stone_length, stone_length=stone_length)
    return share * stone_length


def refuse_tipping(*, overrun: Number, stone_length: Number) -> None:
    """Refuse an overrun that lets more than half of the stone leave the bore.

    Parameters
    ----------
    overrun : Number
        How far the stone runs out of an end. [m]
    stone_length : Number
        Length of the stones. [m]

    Raises
    ------
    InputError
        If the overrun is negative or more than half of the stone.

    Notes
    -----
    Source: ``practice``.
    """
    not_negative("overrun", overrun, "m")
    most = TIPS * extremes(positive("stone length", stone_length, "m"))[0]
    if extremes(overrun)[1] > most * (1.0 + 1e-9):
        raise InputError(
            "overrun",
            extremes(overrun)[1],
            "m",
            f"at most half of the stone, {most:.6g} m",
            "With more of it out of the bore the hone tips and bells the end: a quarter to a "
            "third is usual.",
        )


@formula(
    name="stroke of a hone",
    expression="S = L + o_top + o_bottom - l",
    sources=("derived",),
    validity="stones shorter than the bore, at most half of one out of an end",
    unit="m",
)
def hone_stroke(
    *, bore_length: Number, stone_length: Number, overrun_top: Number, overrun_bottom: Number
) -> Number:
    """Travel of a hone between its turning points.

    Parameters
    ----------
    bore_length : Number
        Length that is honed. [m]
    stone_length : Number
        Length of the stones. [m]
    overrun_top : Number
        How far the stones run out at the top. [m]
    overrun_bottom : Number
        How far they run out at the bottom. [m]

    Returns
    -------
    Number
        Stroke, axial. [m]

    Raises
    ------
    InputError
        If the stone is not shorter than the bore, or an overrun lets it leave the bore.

    Notes
    -----
    At the turning points the stone spans from -o_top and to L + o_bottom. Source:
    ``derived``.

    Examples
    --------
    >>> stroke = hone_stroke(bore_length=0.090, stone_length=0.060, overrun_top=0.018,
    ...     overrun_bottom=0.018)
    >>> round(stroke, 6)
    0.066
    """
    positive("bore length", bore_length, "m")
    positive("stone length", stone_length, "m")
    longest, shortest = extremes(stone_length)[1], extremes(bore_length)[0]
    if longest >= shortest:
        raise InputError(
            "stone length",
            longest,
            "m",
            f"less than the bore's length, {shortest:.6g} m",
            "A stone as long as the bore cannot travel in it: fit shorter stones.",
        )
    for overrun in (overrun_top, overrun_bottom):
        refuse_tipping(overrun=overrun, stone_length=stone_length)
    return bore_length + overrun_top + overrun_bottom - stone_length


@formula(
    name="ports that a stone bridges",
    expression="b = l / h",
    sources=("practice",),
    validity="stones that are not held by the hone at both ends of the port",
    unit="1",
)
def port_bridging(*, stone_length: Number, port_height: Number) -> Number:
    """How many times the height of a port the stones are long: short ones dip into it.

    Parameters
    ----------
    stone_length : Number
        Length of the stones. [m]
    port_height : Number
        Height of the tallest port, axial. [m]

    Returns
    -------
    Number
        Stone over port. [1]

    Raises
    ------
    InputError
        If either is not positive.

    Notes
    -----
    A stone that is no longer than the port falls into it; one of twice its height always
    rests on wall above or below with half of its length. Source: ``practice``.

    Examples
    --------
    >>> port_bridging(stone_length=0.060, port_height=0.024)
    2.5
    """
    positive("stone length", stone_length, "m")
    return stone_length / positive("port height", port_height, "m")
