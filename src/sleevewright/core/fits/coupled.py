"""Body and flange pressed at once: what the body's fit leaves of the flange's, both pressures.

The body's fit opens the counterbore and draws the flange in; only what is left of the
flange's own fit presses.  All fits are diametral, pressures are means over the contact, and
none is below zero: parts that do not touch do not pull.
"""

from __future__ import annotations

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.fits.flanged import SHELL, VALID, FlangedEnd
from sleevewright.core.formulas import formula


@formula(
    name="opening of the counterbore against the flange",
    expression="g = s i_b, s = 1 - m k (t/(r h)^(1/2))^a (h/r)^b (H/r)^c (o/r)^d",
    sources=("derived",),
    validity=VALID,
    unit="m",
)
def counterbore_opening(
    flanged: FlangedEnd, *, body_interference: Number, misfit: Number = 1.0
) -> Number:
    """By how much the body's fit opens the counterbore against the flange.

    Parameters
    ----------
    flanged : FlangedEnd
        The flanged end. [record]
    body_interference : Number
        Fit of the body that works; clearance opens nothing. [m]
    misfit : Number
        What the law of opening may be wrong by, around 1. [1]

    Returns
    -------
    Number
        What is taken off the flange's fit, diametral. [m]

    Raises
    ------
    InputError
        If the fit is not finite or the misfit not positive.

    Notes
    -----
    Casting out and flange in, both from the body's fit.  h and H are the walls of sleeve and
    casting, o the overhang and t the thickness of the flange, r the radius of the fit.  A
    flange of no thickness opens by all of the body's fit. Source: ``derived``.

    Examples
    --------
    >>> from sleevewright.core.fits.flanged import FlangedPair, flanged_end
    >>> from sleevewright.core.fits.rings import RingPair
    >>> body = RingPair(interface_diameter=63e-3, inside_diameter=56e-3,
    ...     outside_diameter=92e-3, sleeve_modulus=110e9, sleeve_poisson=0.26,
    ...     casting_modulus=71e9, casting_poisson=0.33)
    >>> pair = FlangedPair(body=body, flange_diameter=70e-3, flange_thickness=4e-3,
    ...     body_length=81e-3, hold_down="held")
    >>> opening = counterbore_opening(flanged_end(pair), body_interference=80e-6)
    >>> round(float(opening) * 1e6, 1)
    65.7
    """
    positive("misfit", misfit, "1")
    body = np.maximum(finite("body interference", body_interference, "m"), 0.0)
    return (1.0 - np.minimum(flanged.not_opened * misfit, 1.0)) * body


@formula(
    name="pressure at the flange, both fits",
    expression="p_f = min((i_f - g)/C_2, i_f/C), zero where nothing is left",
    sources=SHELL,
    validity=VALID,
    unit="Pa",
)
def flange_pressure(
    flanged: FlangedEnd, *, flange_interference: Number, opening: Number, stiffness: Number = 1.0
) -> Number:
    """Pressure between flange and counterbore with the body fitted too.

    Parameters
    ----------
    flanged : FlangedEnd
        The flanged end. [record]
    flange_interference : Number
        Fit of the flange, negative for clearance. [m]
    opening : Number
        What the body's fit opens the counterbore by; zero without one. [m]
    stiffness : Number
        What the stiffness at the flange may be wrong by, around 1. [1]

    Returns
    -------
    Number
        Mean pressure around the flange. [Pa]

    Raises
    ------
    InputError
        If the opening is negative, or the stiffness not positive.

    Notes
    -----
    While the body holds below the ledge the end is stiffer (C_2 below C); once the flange
    has pushed the walls apart there, the flange carries as if alone, and never more. Source:
    ``timoshenko-woinowsky-1959``; ``derived``.
    """
    finite("flange interference", flange_interference, "m")
    not_negative("opening", opening, "m")
    positive("stiffness", stiffness, "1")
    engaged = (flange_interference - opening) / (flanged.give * flanged.engaged)
    return stiffness * np.maximum(np.minimum(engaged, flange_interference / flanged.give), 0.0)


@formula(
    name="pressure at the body, both fits",
    expression="p_b = p (1 + t/L) - s p_f D_f t/(D L)",
    sources=("timoshenko-1956", "derived"),
    validity=VALID,
    unit="Pa",
)
def body_pressure(
    flanged: FlangedEnd, *, pressure: Number, opening: Number, flange_pressure: Number
) -> Number:
    """Mean pressure between body and parent bore with the flange fitted too.

    Parameters
    ----------
    flanged : FlangedEnd
        The flanged end. [record]
    pressure : Number
        Pressure of the body alone, by two rings. [Pa]
    opening : Number
        What the body's fit opens the counterbore by. [m]
    flange_pressure : Number
        Mean pressure at the flange. [Pa]

    Returns
    -------
    Number
        Mean pressure over the body below the ledge. [Pa]

    Raises
    ------
    InputError
        If a pressure or the opening is negative.

    Notes
    -----
    Two rings of the body's length carry the end beside them too, hence t/L.  What the flange
    takes is its force times the share of opening, by the equality of mutual work (Betti);
    once the walls part at the ledge a harder push takes no more. Source: ``timoshenko-1956``
    for the rings; ``derived``.
    """
    not_negative("pressure", pressure, "Pa")
    not_negative("opening", opening, "m")
    not_negative("flange pressure", flange_pressure, "Pa")
    parted = opening / (flanged.give * (1.0 - flanged.engaged))
    pushed = (1.0 - flanged.not_opened) * np.minimum(flange_pressure, parted)
    return np.maximum(
        pressure * (1.0 + flanged.height_share) - pushed * flanged.wider * flanged.height_share, 0.0
    )


@formula(
    name="hoop tension on the ledge",
    expression="sigma = a p_b + b p_f",
    sources=("timoshenko-1956", "derived"),
    validity=VALID + "; mean over the ledge, corners apart",
    unit="Pa",
)
def ledge_hoop(
    flanged: FlangedEnd, *, body_pressure: Number, flange_pressure: Number, misfit: Number = 1.0
) -> Number:
    """Mean hoop tension in the face of the ledge, from both pressures.

    Parameters
    ----------
    flanged : FlangedEnd
        The flanged end. [record]
    body_pressure : Number
        Mean pressure at the body. [Pa]
    flange_pressure : Number
        Mean pressure at the flange. [Pa]
    misfit : Number
        What the mean may be wrong by, around 1. [1]

    Returns
    -------
    Number
        Mean hoop stress, positive in tension; a sharp corner sees more. [Pa]

    Raises
    ------
    InputError
        If a pressure is negative.

    Notes
    -----
    Source: ``timoshenko-1956`` for the ring; ``derived``.
    """
    not_negative("body pressure", body_pressure, "Pa")
    not_negative("flange pressure", flange_pressure, "Pa")
    return misfit * (flanged.ledge_body * body_pressure + flanged.ledge_flange * flange_pressure)
