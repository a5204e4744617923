"""The gap of a piston ring as a second look at the bore.

The gap is the straight distance between the ring's ends in the bore, the bore diametral.
"""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, not_negative, positive, within
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

WIDEST = 0.05
"""A gap wider than this share of the bore is no gap of a ring in its own bore."""


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


@formula(
    name="bore that a ring's gap tells",
    expression="B = B_ref + (gap - gap_ref)/pi",
    sources=("derived",),
    validity="the same ring, squared in a round bore, away from ports; both gaps cold",
    unit="m",
)
def bore_from_gap(*, gap: Number, reference_gap: Number, reference_bore: Number) -> Number:
    """Bore that the gap of a ring tells, whose gap is known in a known bore.

    Parameters
    ----------
    gap : Number
        End gap in this bore. [m]
    reference_gap : Number
        End gap of the same ring in the known bore. [m]
    reference_bore : Number
        Diameter of the known bore. [m]

    Returns
    -------
    Number
        Diameter of this bore. [m]

    Raises
    ------
    InputError
        If a gap is not more than zero or is wider than a twentieth of the bore.

    Notes
    -----
    The ends lie on the circumference, which is pi times the diameter; the ring keeps its
    own length. Source: ``derived``.

    Examples
    --------
    >>> bore = bore_from_gap(gap=0.46e-3, reference_gap=0.28e-3, reference_bore=69.85e-3)
    >>> round((bore - 69.85e-3) * 1e6, 1)
    57.3
    """
    positive("reference bore", reference_bore, "m")
    _believed("reference gap", reference_gap, reference_bore)
    return reference_bore + bore_change_from_gap(
        gap=_believed("gap", gap, reference_bore), former_gap=reference_gap
    )


@formula(
    name="gap of a known ring in a bore",
    expression="gap = gap_ref + pi (B - B_ref)",
    sources=("derived",),
    validity="the same ring, squared in a round bore, away from ports; both cold",
    unit="m",
)
def gap_in_bore(*, bore: Number, reference_gap: Number, reference_bore: Number) -> Number:
    """End gap to expect of a ring whose gap is known in a known bore.

    Parameters
    ----------
    bore : Number
        Diameter of this bore. [m]
    reference_gap : Number
        End gap of the ring in the known bore. [m]
    reference_bore : Number
        Diameter of the known bore. [m]

    Returns
    -------
    Number
        End gap; below nought the ring does not go in. [m]

    Raises
    ------
    InputError
        If a bore is not positive or the gap is not believed.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> gap = gap_in_bore(bore=70e-3, reference_gap=0.3e-3, reference_bore=69.9e-3)
    >>> round(gap * 1e3, 4)
    0.6142
    """
    positive("reference bore", reference_bore, "m")
    known = _believed("reference gap", reference_gap, reference_bore)
    return known + math.pi * (positive("bore", bore, "m") - reference_bore)


@formula(
    name="ring gap by the diameter",
    expression="share = gap / B",
    sources=("ring-sheet",),
    validity="cold, squared; the sheet's least is 0.0035, its alarm 0.008",
    unit="1",
)
def gap_share(*, gap: Number, bore: Number) -> Number:
    """End gap by the bore, to be held against rules by the inch.

    Parameters
    ----------
    gap : Number
        End gap. [m]
    bore : Number
        Diameter of the bore. [m]

    Returns
    -------
    Number
        Gap per diameter. [1]

    Raises
    ------
    InputError
        If the gap is not more than zero or wider than a twentieth of the bore.

    Notes
    -----
    Source: ``ring-sheet``.

    Examples
    --------
    >>> round(gap_share(gap=0.35e-3, bore=70e-3), 4)
    0.005
    """
    return _believed("gap", gap, positive("bore", bore, "m")) / bore


@formula(
    name="metal to file off a ring's ends",
    expression="off = max(wanted - gap, 0)",
    sources=("derived",),
    validity="off both ends together; one end alone is filed, square",
    unit="m",
)
def filing_needed(*, wanted: Number, gap: Number) -> Number:
    """How much is filed off the ends of a ring for the gap that is wanted.

    Parameters
    ----------
    wanted : Number
        End gap that is wanted. [m]
    gap : Number
        End gap as gauged, squared in this bore. [m]

    Returns
    -------
    Number
        Metal to take off, nought where the gap is wide enough already. [m]

    Raises
    ------
    InputError
        If the wanted gap is negative or the gap is not finite.

    Notes
    -----
    Metal off the ends adds to the gap one for one. Source: ``derived``.

    Examples
    --------
    >>> round(float(filing_needed(wanted=0.35e-3, gap=0.28e-3)) * 1e6, 1)
    70.0
    """
    less = not_negative("wanted", wanted, "m") - finite("gap", gap, "m")
    left = np.maximum(less, 0.0)
    return left if isinstance(less, np.ndarray) else float(left)


@formula(
    name="ring gap, hot",
    expression="gap_hot = gap + pi B (growth_B - alpha_r (T_r - T_0))",
    sources=("derived",),
    validity="ring at one temperature, round bore, growths small against one",
    unit="m",
)
def hot_ring_gap(
    *, gap: Number, bore: Number, bore_strain: Number, ring_growth: Number, ring_temperature: Number
) -> Number:
    """End gap that is left when ring and bore are hot.

    Parameters
    ----------
    gap : Number
        End gap, cold. [m]
    bore : Number
        Diameter of the bore, cold. [m]
    bore_strain : Number
        Growth of the bore by the diameter. [1]
    ring_growth : Number
        Mean expansion of the ring's metal. [1/K]
    ring_temperature : Number
        Temperature of the ring. [K]

    Returns
    -------
    Number
        Gap left; below nought the ends butt. [m]

    Raises
    ------
    InputError
        If the gap is not believed or a temperature is not positive.

    Notes
    -----
    The ring grows along its length, which is pi times the bore, and the bore grows away
    from it. Source: ``derived``.

    Examples
    --------
    >>> left = hot_ring_gap(
    ...     gap=0.30e-3, bore=70e-3, bore_strain=0.0, ring_growth=11e-6, ring_temperature=393.15
    ... )
    >>> round(left * 1e6, 1)
    58.1
    """
    cold = _believed("gap", gap, positive("bore", bore, "m"))
    rise = positive("ring temperature", ring_temperature, "K") - REFERENCE_TEMPERATURE
    grows = within("ring growth", ring_growth, "1/K", 0.0, 1e-4) * rise
    return cold + math.pi * bore * (finite("bore strain", bore_strain, "1") - grows)


def _believed(field: str, gap: Number, bore: Number) -> Number:
    """A gap that can be one; refused at nought and beyond a twentieth of the bore.

    Samples are judged by their mean: what is not known of a small gap reaches below nought.
    """
    central = float(np.mean(finite(field, gap, "m")))
    positive(field, central, "m")
    least = extremes(bore)[0]
    if not central <= WIDEST * least:
        allowed = f"at most a twentieth of the bore, {WIDEST * least:.6g} m"
        hint = "Is it this ring, and is the unit right?"
        raise InputError(field, central, "m", allowed, hint)
    return gap
