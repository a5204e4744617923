"""The gap of a piston ring as a second look at the bore.

The gap is the straight distance between the ring's ends in the bore, the bore diametral.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.formulas import formula


@formula(
    name="ring gap for a bore",
    expression="gap = share B",
    sources=("practice",),
    validity="share as the ring maker states it, often 0.0035 to 0.006",
    unit="m",
)
def ring_gap(*, bore: Number, share: Number) -> Number:
    """End gap that a ring is given in a bore.

    Parameters
    ----------
    bore : Number
        Diameter of the bore. [m]
    share : Number
        Gap per diameter. [1]

    Returns
    -------
    Number
        End gap. [m]

    Raises
    ------
    InputError
        If the bore is not positive or the share is negative.

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> round(ring_gap(bore=70.0e-3, share=0.004) * 1e3, 4)
    0.28
    """
    return positive("bore", bore, "m") * not_negative("share", share, "1")


@formula(
    name="bore from a change of ring gap",
    expression="B2 - B1 = (gap2 - gap1)/pi",
    sources=("derived",),
    validity="the same ring, squared in a round bore, away from ports",
    unit="m",
)
def bore_change_from_gap(*, gap: Number, former_gap: Number) -> Number:
    """Change of the bore that a change of the same ring's gap tells.

    Parameters
    ----------
    gap : Number
        End gap now. [m]
    former_gap : Number
        End gap before, in a bore of known size. [m]

    Returns
    -------
    Number
        Bore now minus bore before. [m]

    Raises
    ------
    InputError
        If a gap is not finite.

    Notes
    -----
    The circumference grows by pi times the diameter. Source: ``derived``.
    """
    return (finite("gap", gap, "m") - finite("former gap", former_gap, "m")) / math.pi
