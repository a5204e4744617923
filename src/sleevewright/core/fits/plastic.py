"""Past first yield: how far a ductile casting has yielded, and how much of the fit it carries.

The casting's bore yields first.  From there a yielded zone grows outwards with the
interference, while pressure rises less and less.  Ideally plastic metal after the modified
Tresca rule, plane stress; the sleeve stays elastic.  What is left after the job is heated,
pulled apart or loaded and unloaded is another question and is not answered here.
"""

from __future__ import annotations

from typing import cast

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.fits.limits import casting_yield_pressure, elastic_plastic_pressure
from sleevewright.core.fits.rings import RingPair, contact_pressure, interference_at_limit
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

_DIN = ("din-7190-1", "from-memory", "derived")
_ROOT_3 = 3.0**0.5
_HALVINGS = 60  # of the range of a radius: far below the last bit of any of them
_VALIDITY = "ideally plastic ductile casting, elastic sleeve, plane stress, no ports"


@formula(
    name="interference for a plastic radius",
    expression="i = D (2 Re z^2/(3^(1/2) E_c) - (1 - nu_c) p/E_c) + squeeze of the sleeve at p",
    sources=_DIN,
    validity=_VALIDITY + "; 1 <= z <= 1/Q, p below 2 Re/3^(1/2)",
    unit="m",
)
def plastic_interference(
    pair: RingPair, *, yield_strength: Number, plastic_ratio: Number
) -> Number:
    """Diametral interference at which the casting has yielded out to a given radius.

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
        Effective interference. [m]

    Raises
    ------
    InputError
        If the ratio lies below 1 or beyond the casting's outside.

    Notes
    -----
    In both zones r u + (1 - nu) r^2 p(r)/E is one constant, because plastic flow of this rule
    leaves the sum of hoop and radial strain elastic; its value is that of the elastic zone.
    With a solid member of the same metal it is 2 Re z^2/(3^(1/2) E), the form of the standard.
    Source: ``din-7190-1`` for that form, ``from-memory``; ``derived`` for hollow members.
    """
    pressure = elastic_plastic_pressure(
        pair, yield_strength=yield_strength, plastic_ratio=plastic_ratio
    )
    modulus, poisson = pair.casting_modulus, pair.casting_poisson
    free = 2.0 * yield_strength / _ROOT_3 * plastic_ratio**2 / modulus
    growth = pair.interface_diameter * (free - (1.0 - poisson) * pressure / modulus)
    both = interference_at_limit(pair, limit_pressure=pressure)
    return growth + both - _elastic_growth(pair) * pressure


def _elastic_growth(pair: RingPair) -> Number:
    """Growth of an elastic casting's bore per unit of pressure."""
    fit, outer = pair.interface_diameter**2, pair.outside_diameter**2
    ratio = (outer + fit) / (outer - fit)
    return pair.interface_diameter * (ratio + pair.casting_poisson) / pair.casting_modulus


@formula(
    name="how far the casting has yielded",
    expression="z from i(z) = i; 1 where nothing has yielded, nan where all has",
    sources=_DIN,
    validity=_VALIDITY,
    unit="1",
)
def plastic_ratio(pair: RingPair, *, interference: Number, yield_strength: Number) -> Number:
    """Radius to which the casting has yielded, divided by that of its bore.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    interference : Number
        Effective interference, diametral. [m]
    yield_strength : Number
        Yield strength of the casting. [Pa]

    Returns
    -------
    Number
        Ratio; 1 while it is elastic, nan for samples in which it has yielded through. [1]

    Raises
    ------
    InputError
        If a single interference is more than the casting can take without yielding through,
        or the interference is not finite.

    Notes
    -----
    The interference grows with the radius all the way, so the root is found between the bore
    and the casting's outside by halving. Source: ``din-7190-1``, ``from-memory``, ``derived``.

    Examples
    --------
    >>> pair = RingPair(interface_diameter=62e-3, inside_diameter=56e-3,
    ...     outside_diameter=84e-3, sleeve_modulus=110e9, sleeve_poisson=0.26,
    ...     casting_modulus=71e9, casting_poisson=0.33)
    >>> round(plastic_ratio(pair, interference=300e-6, yield_strength=110e6), 3)
    1.107
    """
    finite("interference", interference, "m")
    positive("casting yield strength", yield_strength, "Pa")
    most = furthest_ratio(pair)
    told = (interference, yield_strength, most, *vars(pair).values())
    at_most = plastic_interference(pair, yield_strength=yield_strength, plastic_ratio=most)
    if not any(isinstance(one, np.ndarray) for one in told):
        if interference > at_most:
            raise InputError(
                "interference", interference, "m",
                f"at most {float(at_most):.6g} m, where the casting has yielded through",
                "Nothing more is gained by a tighter fit; take a lighter one.",
            )  # fmt: skip
        return float(_halved(pair, interference, yield_strength, np.asarray(most)))
    found = _halved(pair, interference, yield_strength, np.asarray(most))
    return cast("Number", np.where(interference > at_most, np.nan, found))


@formula(
    name="how far a casting can yield",
    expression="z_most = 1/Q, less where 2 ln z - (Q z)^2 = 1 before",
    sources=_DIN,
    validity=_VALIDITY,
    unit="1",
)
def furthest_ratio(pair: RingPair) -> Number:
    """How far the zone can reach: the casting's outside, or where the pressure is at its cap.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]

    Returns
    -------
    Number
        Greatest plastic radius over that of the bore. [1]

    Notes
    -----
    In a thick wall the pressure comes to 2 Re/3^(1/2) first, where 2 ln z - (Q z)^2 = 1; a
    ring that is thinner than Q = 1/e yields through before. Source: ``din-7190-1``.
    """
    quotient = pair.interface_diameter / pair.outside_diameter
    whole = 1.0 / quotient
    low, high = np.ones_like(np.asarray(whole)), np.asarray(whole, dtype=float)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        over = 2.0 * np.log(middle) - (quotient * middle) ** 2 > 1.0
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    return low if isinstance(whole, np.ndarray) else float(low)


def _halved(
    pair: RingPair, interference: Number, strength: Number, most: NDArray[np.float64]
) -> NDArray[np.float64]:
    """The ratio between 1 and the furthest at which the interference is reached."""
    shape = np.broadcast_shapes(np.shape(interference), np.shape(strength), most.shape)
    low, high = np.ones(shape), np.broadcast_to(most, shape).copy()
    start = plastic_interference(pair, yield_strength=strength, plastic_ratio=low)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        reached = plastic_interference(pair, yield_strength=strength, plastic_ratio=middle)
        below = reached < interference
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return np.where(np.asarray(interference) <= start, 1.0, 0.5 * (low + high))


@formula(
    name="pressure of a fit that may have yielded",
    expression="p = Lame below first yield, Re/3^(1/2) (1 + 2 ln z - (Q z)^2) above",
    sources=_DIN,
    validity=_VALIDITY,
    unit="Pa",
)
def carried_pressure(pair: RingPair, *, interference: Number, yield_strength: Number) -> Number:
    """Contact pressure, elastic while the casting is, from the plastic zone afterwards.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    interference : Number
        Effective interference, diametral. [m]
    yield_strength : Number
        Yield strength of the casting. [Pa]

    Returns
    -------
    Number
        Contact pressure, nan for samples in which the casting has yielded through. [Pa]

    Raises
    ------
    InputError
        As for :func:`plastic_ratio`.

    Notes
    -----
    Both branches meet at first yield. Source: ``din-7190-1``, ``from-memory``.
    """
    ratio = plastic_ratio(pair, interference=interference, yield_strength=yield_strength)
    elastic = contact_pressure(pair, interference=interference)
    if not isinstance(ratio, np.ndarray):
        if elastic <= casting_yield_pressure(pair, yield_strength=yield_strength):
            return elastic
        return float(
            elastic_plastic_pressure(pair, yield_strength=yield_strength, plastic_ratio=ratio)
        )
    known = np.where(np.isnan(ratio), 1.0, ratio)
    plastic = elastic_plastic_pressure(pair, yield_strength=yield_strength, plastic_ratio=known)
    both = np.where(known > 1.0, plastic, np.minimum(elastic, plastic))
    return np.where(np.isnan(ratio), np.nan, both)


@formula(
    name="interference that a yielded casting carries",
    expression="i_carried = elastic interference of the pressure that is there",
    sources=_DIN,
    validity=_VALIDITY,
    unit="m",
)
def carried_interference(pair: RingPair, *, interference: Number, yield_strength: Number) -> Number:
    """The elastic interference that would press as much as this fit does.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    interference : Number
        Effective interference, diametral. [m]
    yield_strength : Number
        Yield strength of the casting. [Pa]

    Returns
    -------
    Number
        Interference that is really carried; all of it while nothing has yielded. [m]

    Raises
    ------
    InputError
        As for :func:`plastic_ratio`.

    Notes
    -----
    The rest has gone into stretching the casting for good. Source: ``din-7190-1`` for the
    pressure, ``derived``.
    """
    pressure = carried_pressure(pair, interference=interference, yield_strength=yield_strength)
    gives = interference_at_limit(pair, limit_pressure=1.0)
    return pressure * gives


@formula(
    name="depth of the yielded zone",
    expression="s = D/2 (z - 1)",
    sources=_DIN,
    validity=_VALIDITY,
    unit="m",
)
def yielded_depth(pair: RingPair, *, interference: Number, yield_strength: Number) -> Number:
    """How deep the casting has yielded from its bore, radial.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    interference : Number
        Effective interference, diametral. [m]
    yield_strength : Number
        Yield strength of the casting. [Pa]

    Returns
    -------
    Number
        Thickness of the yielded zone, zero while nothing has yielded. [m]

    Raises
    ------
    InputError
        As for :func:`plastic_ratio`.

    Notes
    -----
    From the bore outwards. Source: ``din-7190-1``, ``from-memory``.
    """
    ratio = plastic_ratio(pair, interference=interference, yield_strength=yield_strength)
    return pair.interface_diameter / 2.0 * (ratio - 1.0)
