"""Angle-areas with what roof, sides and deck put in doubt, their sums and how they changed."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.checks import Number, extremes, finite, positive
from sleevewright.core.formulas import formula


@dataclass(frozen=True)
class AreaAsTold:
    """An angle-area at the values as told, and how it goes with roof and deck.

    Attributes
    ----------
    angle_area : float
        Angle-area. [m^2 rad]
    roof_width : float
        Width that a strip along the roof adds by its height. [m]
    edge_sweep : float
        Width at the piston's edge, integrated over the turn. [m rad]
    height_sweep : float
        Height that is open, integrated over the turn. [m rad]
    told_roof, told_deck : float
        Depth of the roof and of the crown's edge at top dead centre, as told. [m]
    """

    angle_area: float
    roof_width: float
    edge_sweep: float
    height_sweep: float
    told_roof: float
    told_deck: float


@formula(
    name="angle-area near a told roof",
    expression="AA = AA_0 + w t_open (h_0 - h) + W (d - d_0) + H v",
    sources=("derived",),
    validity="to first order: h and d apart from h_0 and d_0 by no more than they are in doubt",
    unit="m^2 rad",
)
def angle_area_near(
    *,
    as_told: AreaAsTold,
    lasts: Number,
    roof_depth: Number,
    sides_out: Number,
    deck_clearance: Number,
) -> Number:
    """Angle-area with what roof and deck are in doubt by.

    Parameters
    ----------
    as_told : AreaAsTold
        Angle-area at the roof and the deck as told, and how it goes with both. [record]
    lasts : Number
        Crank angle for which the port is open. [rad]
    roof_depth : Number
        Depth of the roof, with its doubt. [m]
    sides_out : Number
        How much wider the window is than told: nought, with the doubt of both sides. [m]
    deck_clearance : Number
        Crown's edge below the deck, with its doubt. [m]

    Returns
    -------
    Number
        Angle-area. [m^2 rad]

    Raises
    ------
    InputError
        If a value is not finite.

    Notes
    -----
    A strip at the roof is open all the time, one at the piston's edge while that edge is in the
    port, one at a side as high as the port is open. At the values as told it is exact.
    Source: ``derived``.
    """
    strip = as_told.roof_width * lasts * (as_told.told_roof - roof_depth)
    lower = as_told.edge_sweep * (deck_clearance - as_told.told_deck)
    sides = as_told.height_sweep * sides_out
    return finite("angle-area", as_told.angle_area + strip + lower + sides, "m^2 rad")


@formula(
    name="change as a share",
    expression="change = b/a - 1",
    sources=("derived",),
    validity="a not zero",
    unit="1",
)
def share_changed(*, former_area: Number, present_area: Number) -> Number:
    """How much more there is after than before, as a share of what was before.

    Parameters
    ----------
    former_area : Number
        What it is compared with. [m^2 rad]
    present_area : Number
        What it is now. [m^2 rad]

    Returns
    -------
    Number
        Negative where it is less. [1]

    Raises
    ------
    InputError
        If there was nothing before.

    Notes
    -----
    Source: ``derived``.
    """
    if extremes(former_area)[0] <= 0.0:
        positive("former area", former_area, "m^2 rad")
    return present_area / former_area - 1.0


@formula(
    name="one less the other",
    expression="apart = a - b",
    sources=("derived",),
    validity="both from the same dead centre",
    unit="rad",
)
def angles_apart(*, later: Number, sooner: Number) -> Number:
    """How much later one port opens than another.

    Parameters
    ----------
    later : Number
        Crank angle of the one. [rad]
    sooner : Number
        Crank angle of the other. [rad]

    Returns
    -------
    Number
        Negative where it opens sooner. [rad]

    Raises
    ------
    InputError
        If an angle is not finite.

    Notes
    -----
    Source: ``derived``.
    """
    return finite("later", later, "rad") - finite("sooner", sooner, "rad")


@formula(
    name="two areas together",
    expression="A = A_1 + A_2",
    sources=("derived",),
    validity="windows that flow side by side",
    unit="m^2 rad",
)
def areas_together(*, one: Number, other: Number) -> Number:
    """Angle-areas of two windows that flow side by side, as those of a bridged port do.

    Parameters
    ----------
    one : Number
        Angle-area of one window. [m^2 rad]
    other : Number
        Angle-area of another. [m^2 rad]

    Returns
    -------
    Number
        Both together. [m^2 rad]

    Raises
    ------
    InputError
        If either is not finite.

    Notes
    -----
    Source: ``derived``.
    """
    return finite("one", one, "m^2 rad") + finite("other", other, "m^2 rad")


@formula(
    name="blowdown angle-area near its angles",
    expression="AA_b = AA_0 + w (t_T - t_E) (h_0 - h) + A_T (t_T - t_0)",
    sources=("derived",),
    validity="to first order in what roof and opening are in doubt by",
    unit="m^2 rad",
)
def blowdown_area_near(
    *,
    as_told: AreaAsTold,
    blowdown: Number,
    roof_depth: Number,
    area: Number,
    told_opens: Number,
    opens: Number,
) -> Number:
    """Angle-area of the exhaust before the first transfer, with what both are in doubt by.

    Parameters
    ----------
    as_told : AreaAsTold
        Blowdown angle-area at the depths as told, and the exhaust's roof. [record]
    blowdown : Number
        Crank angle between both openings. [rad]
    roof_depth : Number
        Depth of the exhaust's roof, with its doubt. [m]
    area : Number
        Open area of the exhaust when the first transfer opens. [m^2]
    told_opens : Number
        Opening of the first transfer as told. [rad]
    opens : Number
        The same with its doubt. [rad]

    Returns
    -------
    Number
        Angle-area. [m^2 rad]

    Raises
    ------
    InputError
        If a value is not finite.

    Notes
    -----
    At the depths as told it is exact; at its opening the exhaust adds nothing. Source: ``derived``.
    """
    strip = as_told.roof_width * blowdown * (as_told.told_roof - roof_depth)
    whole = as_told.angle_area + strip + area * (opens - told_opens)
    return finite("angle-area", whole, "m^2 rad")
