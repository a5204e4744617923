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


@formula(
    name="sum of two lengths",
    expression="sum = wanted + allowance",
    sources=("derived",),
    validity="always",
    unit="m",
)
def sum_of(*, wanted: Number, allowance: Number) -> Number:
    """What is wanted and an allowance on top of it.

    Parameters
    ----------
    wanted : Number
        What is wanted. [m]
    allowance : Number
        What is added to it. [m]

    Returns
    -------
    Number
        Sum. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return wanted + allowance


@formula(
    name="rest of a length",
    expression="rest = whole - part",
    sources=("derived",),
    validity="always",
    unit="m",
)
def rest_of(*, whole: Number, part: Number) -> Number:
    """What is left of a length, negative where more goes off than is there.

    Parameters
    ----------
    whole : Number
        The whole. [m]
    part : Number
        What goes off it. [m]

    Returns
    -------
    Number
        Rest. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return whole - part


@formula(
    name="the same temperature",
    expression="T = T_other",
    sources=("practice",),
    validity="both have lain there long enough",
    unit="K",
)
def same_as(*, temperature: Number) -> Number:
    """Temperature of a part that lies in the same room as another, error and all.

    Parameters
    ----------
    temperature : Number
        Temperature of what it lies beside. [K]

    Returns
    -------
    Number
        The same temperature. [K]

    Notes
    -----
    Source: ``practice``.
    """
    return temperature


@formula(
    name="slip that shape and the tighter fit use up",
    expression="form + max(0, body slip - other slip)",
    sources=("derived",),
    validity="body and flange warm alike, so that their slips differ by the same amount throughout",
    unit="m",
)
def used_up_by_shape(*, form: Number, body_slip: Number, other_slip: Number) -> Number:
    """Slip of the body that is of no use because of shape, or because the flange has less.

    Parameters
    ----------
    form : Number
        Slip that hot shape uses up, diametral. [m]
    body_slip : Number
        Slip of the body at entry. [m]
    other_slip : Number
        Slip of the flange at entry. [m]

    Returns
    -------
    Number
        Diametral allowance. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return form + cast("Number", np.maximum(0.0, body_slip - other_slip))


@formula(
    name="lead in interference per diameter",
    expression="lead = i / D - i_f / D_f",
    sources=("derived",),
    validity="common cooling, one pair of metals",
    unit="1",
)
def per_diameter_lead(
    *, interference: Number, diameter: Number, other_interference: Number, other_diameter: Number
) -> Number:
    """How much more interference per diameter the body has than the flange.

    Parameters
    ----------
    interference : Number
        Interference of the body. [m]
    diameter : Number
        Its diameter. [m]
    other_interference : Number
        Interference of the flange. [m]
    other_diameter : Number
        Its diameter. [m]

    Returns
    -------
    Number
        Lead; below zero the flange is caught first. [1]

    Notes
    -----
    Source: ``derived``.
    """
    return interference / diameter - other_interference / other_diameter


@formula(
    name="wall that is left",
    expression="wall = (outside - inside) / 2",
    sources=("derived",),
    validity="concentric; negative where there is none",
    unit="m",
)
def wall_left(*, outside_diameter: Number, inside_diameter: Number) -> Number:
    """Wall of a ring, radial; negative where the inside is larger than the outside.

    Parameters
    ----------
    outside_diameter : Number
        Outside. [m]
    inside_diameter : Number
        Inside. [m]

    Returns
    -------
    Number
        Radial wall. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return 0.5 * (outside_diameter - inside_diameter)
