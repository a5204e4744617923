"""Volume above the piston at top dead centre, put together of its parts.

The head's chamber is what a burette fills under a plate on the gasket face, with the plug in
its place.  Volumes under the deck and in the gasket are cylinders; a dome on the crown takes
volume away, a dish gives some.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, extremes, finite, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


@formula(
    name="volume of a ring or disc",
    expression="V = pi/4 D^2 t",
    sources=("derived",),
    validity="round; negative where the height is",
    unit="m^3",
)
def disc_volume(*, across: Number, height: Number) -> Number:
    """Volume of a round disc: in the hole of a gasket, between piston and deck.

    Parameters
    ----------
    across : Number
        Diameter of the disc. [m]
    height : Number
        Height of the disc; negative where it takes volume away. [m]

    Returns
    -------
    Number
        Volume, with the sign of the height. [m^3]

    Raises
    ------
    InputError
        If the diameter is not positive or the height not finite.

    Notes
    -----
    Cylinder. Source: ``derived``.

    Examples
    --------
    >>> round(float(disc_volume(across=62e-3, height=0.5e-3)) * 1e6, 3)
    1.51
    """
    positive("diameter", across, "m")
    return math.pi / 4.0 * across * across * finite("height", height, "m")


@formula(
    name="volume of a dome",
    expression="V = pi/6 h (3 a^2 + h^2), a = D/2",
    sources=("bronshtein-2015",),
    validity="cap of a sphere; a dish where the height is negative",
    unit="m^3",
)
def dome_volume(*, across: Number, bulge: Number) -> Number:
    """Volume of a crown that is a cap of a sphere.

    Parameters
    ----------
    across : Number
        Diameter of the cap at its foot. [m]
    bulge : Number
        Height of the middle above the edge, negative of a dish. [m]

    Returns
    -------
    Number
        Volume above the edge, negative of a dish. [m^3]

    Raises
    ------
    InputError
        If the diameter is not positive, or if the cap is more than half of a sphere.

    Notes
    -----
    Spherical cap. Source: ``bronshtein-2015``.
    """
    _refuse_steep(across, bulge)
    a = 0.5 * across
    return math.pi / 6.0 * bulge * (3.0 * a * a + bulge * bulge)


def _refuse_steep(across: Number, bulge: Number) -> None:
    """Refuse a crown that is higher than half its width."""
    positive("diameter", across, "m")
    low, high = extremes(finite("height of the crown", bulge, "m"))
    most = 0.5 * extremes(across)[0]
    if max(-low, high) > most:
        worst = low if -low > high else high
        raise InputError("height of the crown", worst, "m", f"up to half its width, {most:.6g} m")


@formula(
    name="volume above the piston",
    expression="V = V_head + V_gasket + V_deck + V_step - V_crown",
    sources=("derived",),
    validity="at top dead centre; the gap beside the piston above its first ring is left out",
    unit="m^3",
)
def clearance_volume(
    *,
    chamber: Number,
    gasket_volume: Number,
    deck_volume: Number,
    step_volume: Number,
    crown_volume: Number,
) -> Number:
    """Volume that is left above the piston at top dead centre.

    Parameters
    ----------
    chamber : Number
        Chamber in the head under a plate, plug in its place. [m^3]
    gasket_volume : Number
        Volume in the hole of the head gasket. [m^3]
    deck_volume : Number
        Volume between the piston's edge and the deck, negative where it stands proud. [m^3]
    step_volume : Number
        Volume that a head which reaches into the bore takes away, negative; else zero. [m^3]
    crown_volume : Number
        Volume of the crown above its edge, negative of a dish. [m^3]

    Returns
    -------
    Number
        Volume above the piston. [m^3]

    Raises
    ------
    InputError
        If a part cannot be, or if nothing is left.

    Notes
    -----
    A sum of volumes. Source: ``derived``.
    """
    positive("chamber", chamber, "m^3")
    not_negative("volume in the gasket", gasket_volume, "m^3")
    parts = (deck_volume, step_volume, crown_volume)
    for name, part in zip(("below the deck", "step", "crown"), parts, strict=True):
        finite(f"volume {name}", part, "m^3")
    whole = chamber + gasket_volume + deck_volume + step_volume - crown_volume
    if not extremes(whole)[0] > 0.0:
        raise InputError(
            "volume above the piston",
            extremes(whole)[0],
            "m^3",
            "more than zero",
            "The crown takes more than there is: is it measured above the piston's edge?",
        )
    return whole


@formula(
    name="volume above the piston, believed",
    expression="0 < V < V_swept",
    sources=("derived",),
    validity="a ratio of more than two",
    unit="m^3",
)
def believed_volume(*, volume: Number, swept: Number) -> Number:
    """The volume above the piston, refused where it cannot be one.

    Parameters
    ----------
    volume : Number
        Volume above the piston. [m^3]
    swept : Number
        Swept volume. [m^3]

    Returns
    -------
    Number
        The same volume. [m^3]

    Raises
    ------
    InputError
        If it is not positive, or not smaller than what the piston sweeps.

    Notes
    -----
    Source: ``derived``.
    """
    positive("swept volume", swept, "m^3")
    positive("volume above the piston", volume, "m^3")
    if not extremes(swept - volume)[0] > 0.0:
        raise InputError(
            "volume above the piston",
            extremes(volume)[1],
            "m^3",
            f"less than the swept volume, {extremes(swept)[0]:.6g} m^3",
            "Was it read at top dead centre?",
        )
    return volume
