"""How far the fit may go: first yield, the plastic branch, and the limit of a brittle casting.

Pressures at which a limit is reached; :func:`~.rings.interference_at_limit` turns them
into interference.  Yield follows the modified Tresca rule of DIN 7190: the difference of
hoop and radial stress reaches 2 Re / 3^(1/2).  Cast iron under tension has no yield to
compare with: its hoop tension is compared with a share of its tensile strength.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, extremes, positive, within
from sleevewright.core.fits.rings import RingPair
from sleevewright.core.formulas import formula
from sleevewright.core.materials import default
from sleevewright.errors import InputError

BRITTLE_SHARE = default("brittle_share").value
"""Share of the tensile strength allowed as hoop tension in an iron casting. [1]"""

_ROOT_3 = 3.0**0.5
_DIN = ("din-7190-1", "from-memory")


@formula(
    name="pressure at first yield of the casting",
    expression="p = Re (1 - Q^2)/3^(1/2), Q = D/Do",
    sources=_DIN,
    validity="ductile casting, plane stress, no ports",
    unit="Pa",
)
def casting_yield_pressure(pair: RingPair, *, yield_strength: Number) -> Number:
    """Contact pressure at which the casting's bore begins to yield.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    yield_strength : Number
        Yield strength of the casting. [Pa]

    Returns
    -------
    Number
        Contact pressure. [Pa]

    Raises
    ------
    InputError
        If the strength is not positive.

    Notes
    -----
    Modified Tresca. Source: ``din-7190-1``, form ``from-memory``.
    """
    positive("casting yield strength", yield_strength, "Pa")
    ratio = pair.interface_diameter / pair.outside_diameter
    return yield_strength * (1.0 - ratio * ratio) / _ROOT_3


@formula(
    name="pressure at first yield of the sleeve",
    expression="p = Re (1 - (d/D)^2)/3^(1/2); 2 Re/3^(1/2) for a solid member",
    sources=_DIN,
    validity="plane stress; a hollow member yields at half the pressure of a solid one or less",
    unit="Pa",
)
def sleeve_yield_pressure(pair: RingPair, *, yield_strength: Number) -> Number:
    """Contact pressure at which the sleeve's bore begins to yield in compression.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    yield_strength : Number
        Yield strength of the sleeve in compression. [Pa]

    Returns
    -------
    Number
        Contact pressure. [Pa]

    Raises
    ------
    InputError
        If the strength is not positive.

    Notes
    -----
    The bore of a hollow member carries -2 p/(1 - (d/D)^2), so the limit of a solid member
    times 1 - (d/D)^2, which is sometimes printed, would be twice too high. Source:
    ``din-7190-1``, form ``from-memory``.
    """
    positive("sleeve yield strength", yield_strength, "Pa")
    if pair.is_solid:
        return 2.0 * yield_strength / _ROOT_3
    ratio = pair.inside_diameter / pair.interface_diameter
    return yield_strength * (1.0 - ratio * ratio) / _ROOT_3


def _capped(pressure: Number, yield_strength: Number) -> Number:
    """No pressure above 2 Re/3^(1/2): there the axial direction yields instead."""
    return cast("Number", np.minimum(pressure, 2.0 * yield_strength / _ROOT_3))


@formula(
    name="pressure for a plastic radius",
    expression="p = Re/3^(1/2) (1 + 2 ln z - (Q z)^2), at most 2 Re/3^(1/2)",
    sources=_DIN,
    validity="ideally plastic casting, 1 <= z <= 1/Q",
    unit="Pa",
)
def elastic_plastic_pressure(
    pair: RingPair, *, yield_strength: Number, plastic_ratio: Number
) -> Number:
    """Contact pressure at which the casting has yielded out to a given radius.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    yield_strength : Number
        Yield strength of the casting. [Pa]
    plastic_ratio : Number
        Radius to which the casting has yielded, divided by that of its bore. [1]

    Returns
    -------
    Number
        Contact pressure. [Pa]

    Raises
    ------
    InputError
        If the ratio lies below 1 or beyond the casting's outside.

    Notes
    -----
    The yielded zone adds 2 Re/3^(1/2) ln z to the elastic limit of the rest. Source:
    ``din-7190-1``, form ``from-memory``.
    """
    positive("casting yield strength", yield_strength, "Pa")
    ratio = pair.interface_diameter / pair.outside_diameter
    reach = ratio * plastic_ratio
    if extremes(plastic_ratio)[0] < 1.0 or extremes(reach)[1] > 1.0 + 1e-12:
        outermost = 1.0 / extremes(ratio)[1]
        raise InputError("plastic ratio", plastic_ratio, "", f"1 to {outermost:.6g}")
    pressure = yield_strength / _ROOT_3 * (1.0 + 2.0 * np.log(plastic_ratio) - reach * reach)
    return _capped(pressure, yield_strength)


@formula(
    name="pressure at full yield of the casting",
    expression="p = 2 Re/3^(1/2) ln(1/Q), at most 2 Re/3^(1/2)",
    sources=_DIN,
    validity="ideally plastic casting, plane stress",
    unit="Pa",
)
def full_plastic_pressure(pair: RingPair, *, yield_strength: Number) -> Number:
    """Contact pressure at which the casting has yielded through.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    yield_strength : Number
        Yield strength of the casting. [Pa]

    Returns
    -------
    Number
        Contact pressure. [Pa]

    Raises
    ------
    InputError
        If the strength is not positive.

    Notes
    -----
    Integral of the yield condition over the wall. Source: ``din-7190-1``, form
    ``from-memory``.
    """
    positive("casting yield strength", yield_strength, "Pa")
    walls = np.log(pair.outside_diameter / pair.interface_diameter)
    return _capped(2.0 * yield_strength / _ROOT_3 * walls, yield_strength)


@formula(
    name="pressure at the limit of a brittle casting",
    expression="p = share Rm (R^2 - r^2)/(R^2 + r^2)",
    sources=("timoshenko-1956", "practice"),
    validity="cast iron under hoop tension; share 1/2 by default, to be chosen; no ports",
    unit="Pa",
)
def brittle_limit_pressure(
    pair: RingPair, *, tensile_strength: Number, share: Number = BRITTLE_SHARE
) -> Number:
    """Contact pressure at which an iron casting's hoop tension reaches its allowed share.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    tensile_strength : Number
        Tensile strength of the casting. [Pa]
    share : Number
        Share of the tensile strength that is allowed. [1]

    Returns
    -------
    Number
        Contact pressure. [Pa]

    Raises
    ------
    InputError
        If the strength is not positive or the share is outside 0 to 1.

    Notes
    -----
    Greatest principal stress against half the tensile strength, as formula sheets on
    press fits of brittle hubs do. Source: ``timoshenko-1956`` for the stress,
    ``practice`` for the share.
    """
    positive("casting tensile strength", tensile_strength, "Pa")
    within("share", share, "1", 0.0, 1.0)
    fit, outer = pair.interface_diameter**2, pair.outside_diameter**2
    return share * tensile_strength * (outer - fit) / (outer + fit)
