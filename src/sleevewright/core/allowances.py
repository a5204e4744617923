"""What is wanted and what is allowed around it: per-diameter wishes, limits of size, rests.

Everything here is diametral and a plain sum or product; it stands in the core so that
even these steps have a name, a source and a unit, and no page has to compute them.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.formulas import formula


@formula(
    name="interference by the inch",
    expression="interference = ratio x diameter",
    sources=("practice",),
    validity="as a first wish; the pair's own answers decide",
    unit="m",
)
def interference_for_ratio(*, ratio: Number, diameter: Number) -> Number:
    """Interference that a shop states per unit of diameter.

    Parameters
    ----------
    ratio : Number
        Interference per unit of diameter. [1]
    diameter : Number
        Diameter of the fit. [m]

    Returns
    -------
    Number
        Diametral interference. [m]

    Raises
    ------
    InputError
        If the diameter is not positive.

    Notes
    -----
    Thou per inch is a ratio. Source: ``practice``.

    Examples
    --------
    >>> interference_for_ratio(ratio=0.0013, diameter=0.060)
    7.8e-05
    """
    positive("diameter", diameter, "m")
    return finite("ratio", ratio, "") * diameter


@formula(
    name="limit of size",
    expression="limit = size + allowance",
    sources=("derived",),
    validity="always; a negative allowance gives the lower limit",
    unit="m",
)
def size_limit(*, size: Number, allowance: Number) -> Number:
    """Size that a cut may not pass.

    Parameters
    ----------
    size : Number
        Size asked for. [m]
    allowance : Number
        How far the limit lies above it; negative for below. [m]

    Returns
    -------
    Number
        Limit of size. [m]

    Raises
    ------
    InputError
        If the size is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    return positive("size", size, "m") + finite("allowance", allowance, "m")


@formula(
    name="opposite of an allowance",
    expression="lower = -upper",
    sources=("derived",),
    validity="always",
    unit="m",
)
def lower_allowance(*, allowance: Number) -> Number:
    """Allowance on the lower side of a symmetrical tolerance.

    Parameters
    ----------
    allowance : Number
        Half-width of the tolerance. [m]

    Returns
    -------
    Number
        The same below the size asked for. [m]

    Raises
    ------
    InputError
        If the half-width is negative.

    Notes
    -----
    Source: ``derived``.
    """
    return -not_negative("tolerance", allowance, "m")


@formula(
    name="fit as it will be cut",
    expression="fit = chosen + miss of the cut",
    sources=("derived",),
    validity="before both parts are measured",
    unit="m",
)
def fit_as_cut(*, chosen: Number, miss: Number) -> Number:
    """Interference to expect from a cut that has not been made yet.

    Parameters
    ----------
    chosen : Number
        Interference asked for. [m]
    miss : Number
        What the cut and its gauges may miss it by. [m]

    Returns
    -------
    Number
        Interference to expect. [m]

    Raises
    ------
    InputError
        If either is not finite.

    Notes
    -----
    The chosen figure has no doubt of its own; the cut has. Source: ``derived``.
    """
    return finite("chosen interference", chosen, "m") + finite("miss", miss, "m")


@formula(
    name="smaller of two",
    expression="smaller = min(one, other)",
    sources=("derived",),
    validity="always",
    unit="1",
)
def smaller(*, one: Number, other: Number) -> Number:
    """Smaller of two values of the same kind.

    Parameters
    ----------
    one : Number
        One value. [1]
    other : Number
        The other, in the same unit. [1]

    Returns
    -------
    Number
        The smaller. [1]

    Notes
    -----
    Source: ``derived``.
    """
    return cast("Number", np.minimum(one, other))


@formula(
    name="larger of two",
    expression="larger = max(one, other)",
    sources=("derived",),
    validity="always",
    unit="1",
)
def larger(*, one: Number, other: Number) -> Number:
    """Larger of two values of the same kind.

    Parameters
    ----------
    one : Number
        One value. [1]
    other : Number
        The other, in the same unit. [1]

    Returns
    -------
    Number
        The larger. [1]

    Notes
    -----
    Source: ``derived``.
    """
    return cast("Number", np.maximum(one, other))
