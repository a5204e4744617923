"""How small and how large a parent bore may be gauged for the sleeve in hand.

The largest keeps the chance of less than the least fit within what the shop accepts; the
smallest keeps the fit away from what casting and sleeve bear, by the guard band.  Both are
limits of the size that the gauge will show, so the doubt of that reading is taken off first.
All sizes are diametral at 20 degC.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


@formula(
    name="two doubts together",
    expression="u = (u_1^2 + u_2^2)^(1/2)",
    sources=("jcgm-100",),
    validity="errors that have nothing to do with each other",
    unit="m",
)
def combined_standard(*, one: Number, other: Number) -> Number:
    """Standard uncertainty of a difference of two lengths whose errors are independent.

    Parameters
    ----------
    one : Number
        Standard uncertainty of one length. [m]
    other : Number
        Standard uncertainty of the other. [m]

    Returns
    -------
    Number
        Standard uncertainty of their difference. [m]

    Raises
    ------
    InputError
        If either is negative.

    Notes
    -----
    Source: ``jcgm-100``, 5.1.2.
    """
    not_negative("one doubt", one, "m")
    return cast("Number", np.hypot(one, not_negative("other doubt", other, "m")))


@formula(
    name="two doubts together, less what is in both",
    expression="u = (u_1^2 + u_2^2 - 2 u_c^2)^(1/2)",
    sources=("jcgm-100", "derived"),
    validity="u_c the doubt of errors that are in both lengths alike; the rest independent",
    unit="m",
)
def unshared_standard(*, one: Number, other: Number, common: Number) -> Number:
    """Standard uncertainty of a difference of two lengths that share an error.

    Parameters
    ----------
    one : Number
        Standard uncertainty of one length. [m]
    other : Number
        Standard uncertainty of the other. [m]
    common : Number
        Standard uncertainty of what is in both alike. [m]

    Returns
    -------
    Number
        Standard uncertainty of their difference. [m]

    Raises
    ------
    InputError
        If any is negative.

    Notes
    -----
    The covariance of both is the variance of what they share. More than the lesser of both
    cannot be shared: sampled doubts scatter by a per cent, and so much is cut off.
    Source: ``jcgm-100``, 5.2.2; ``derived``.

    Examples
    --------
    >>> round(unshared_standard(one=5e-6, other=5e-6, common=4e-6) * 1e6, 2)
    4.24
    """
    least = np.minimum(not_negative("one doubt", one, "m"), not_negative("other doubt", other, "m"))
    shared = np.minimum(not_negative("common doubt", common, "m"), least)
    left = np.maximum(np.square(one) + np.square(other) - 2.0 * np.square(shared), 0.0)
    found = np.sqrt(left)
    return found if found.ndim else float(found)


@formula(
    name="largest bore that may be gauged",
    expression="D_high = D_s - i_least - z u, z the normal quantile of 1 - chance",
    sources=("jcgm-106", "derived"),
    validity="errors of the fit nearly normal; one reading of the whole bore decides",
    unit="m",
)
def largest_bore(
    *, outside_diameter: Number, least: Number, standard: Number, chance: Number
) -> Number:
    """Largest bore whose chance of less than the least fit is still accepted.

    Parameters
    ----------
    outside_diameter : Number
        Sleeve as measured. [m]
    least : Number
        Least fit, diametral. [m]
    standard : Number
        Standard uncertainty of the fit, sleeve and bore both gauged. [m]
    chance : Number
        Chance of less than the least that is accepted, more than 0 and at most 0.5. [1]

    Returns
    -------
    Number
        Largest size that the gauge may show. [m]

    Raises
    ------
    InputError
        If the sleeve is not positive, the doubt is negative or the chance is not allowed.

    Notes
    -----
    The true fit lies around the measured one as the errors do, so the acceptance limit lies
    inside of the limit by z u. Source: ``jcgm-106``, 8.3 (guarded acceptance); ``derived``.

    Examples
    --------
    >>> bore = largest_bore(outside_diameter=63.0e-3, least=60e-6, standard=5e-6, chance=0.05)
    >>> round(bore * 1e3, 4)
    62.9318
    """
    from scipy.special import ndtri

    positive("sleeve outside diameter", outside_diameter, "m")
    not_negative("doubt of the fit", standard, "m")
    allowed = np.asarray(chance)
    if not bool(np.all((allowed > 0.0) & (allowed <= 0.5))):
        raise InputError("chance", float(allowed.max()), "", "more than 0 and at most 0.5")
    inside = ndtri(1.0 - allowed) * standard
    found = outside_diameter - finite("least", least, "m") - inside
    return found if isinstance(found, np.ndarray) and found.ndim else float(found)


@formula(
    name="smallest bore that may be gauged",
    expression="D_low = D_s - (i_limit - g u), g the guard factor",
    sources=("iso-14253-1", "derived"),
    validity="u holds the doubt of the fit and of the limit together",
    unit="m",
)
def smallest_bore(
    *, outside_diameter: Number, limit_fit: Number, standard: Number, guard: Number
) -> Number:
    """Smallest bore whose fit still lies within what the parts bear, by the guard band.

    Parameters
    ----------
    outside_diameter : Number
        Sleeve as measured. [m]
    limit_fit : Number
        Fit at which casting or sleeve comes to its limit, the lesser of both. [m]
    standard : Number
        Standard uncertainty of what is left between fit and limit. [m]
    guard : Number
        Guard band in standard uncertainties. [1]

    Returns
    -------
    Number
        Smallest size that the gauge may show. [m]

    Raises
    ------
    InputError
        If the sleeve is not positive, or the doubt or the guard band is negative.

    Notes
    -----
    Acceptance within the limit less the guard band. Source: ``iso-14253-1``; ``derived``.

    Examples
    --------
    >>> bore = smallest_bore(outside_diameter=63.0e-3, limit_fit=90e-6, standard=4e-6, guard=2.0)
    >>> round(bore * 1e3, 4)
    62.918
    """
    positive("sleeve outside diameter", outside_diameter, "m")
    not_negative("doubt of the margin", standard, "m")
    not_negative("guard factor", guard, "")
    return outside_diameter - (finite("limit fit", limit_fit, "m") - guard * standard)


@formula(
    name="what binds the bore at its ends",
    expression="the least above; casting or sleeve below, whichever bears less",
    sources=("derived",),
    validity="always",
    unit="text",
)
def binding_ends(*, casting_fit: float, sleeve_fit: float) -> str:
    """Words for what stands at either end of the sizes that may be gauged.

    Parameters
    ----------
    casting_fit : float
        Fit at the casting's limit. [m]
    sleeve_fit : float
        Fit at the sleeve's limit. [m]

    Returns
    -------
    str
        What binds above and below. [text]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> binding_ends(casting_fit=90e-6, sleeve_fit=200e-6)
    'above: the least fit; below: what the casting bears'
    """
    part = "casting" if casting_fit <= sleeve_fit else "sleeve"
    return f"above: the least fit; below: what the {part} bears"
