"""The wall of a sleeve whose bore lies off its outside, and the room round a flange. Radial."""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.checks import positive
from sleevewright.core.cutting.concentric import Chain, chances_within
from sleevewright.core.formulas import formula

_DEVIATES = np.linspace(-8.0, 8.0, 97)


@formula(
    name="eccentricity of a wall",
    expression="e = (w_thick - w_thin) / 2",
    sources=("derived",),
    validity="both faces round; the wall read all round at one depth",
    unit="m",
)
def wall_eccentricity(*, variation: float) -> float:
    """How far the bore of a sleeve lies off its outside, from its wall.

    Parameters
    ----------
    variation : float
        Wall at its thickest less at its thinnest, radial. [m]

    Returns
    -------
    float
        Distance of the two axes, radial. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> wall_eccentricity(variation=5.0e-5)
    2.5e-05
    """
    return 0.5 * variation


@formula(
    name="least wall of a bore off centre",
    expression="w = (D - d) / 2 - e",
    sources=("derived",),
    validity="both faces round; nothing else is cut into the wall",
    unit="m",
)
def least_wall(*, outside_diameter: float, inside_diameter: float, off_centre: float) -> float:
    """Wall of a sleeve at its thinnest, where its bore lies off its outside.

    Parameters
    ----------
    outside_diameter : float
        Outside of the sleeve, diametral. [m]
    inside_diameter : float
        Bore, diametral. [m]
    off_centre : float
        Distance of the two axes, radial. [m]

    Returns
    -------
    float
        Radial wall on the thin side. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(least_wall(outside_diameter=0.066, inside_diameter=0.060, off_centre=1e-4), 7)
    0.0029
    """
    return 0.5 * (outside_diameter - inside_diameter) - off_centre


@formula(
    name="room all round",
    expression="c = -i / 2",
    sources=("derived",),
    validity="both faces round and concentric; negative where the fit is tight",
    unit="m",
)
def radial_clearance(*, interference: float) -> float:
    """Room all round a part in its bore, from the interference of the two.

    Parameters
    ----------
    interference : float
        Diametral; negative is clearance. [m]

    Returns
    -------
    float
        Radial room, negative where the fit is tight. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> radial_clearance(interference=-1.0e-4)
    5e-05
    """
    return -0.5 * interference


@formula(
    name="chance of too thin a wall",
    expression="p = P((D - d) / 2 - e < w), over the doubt of both diameters and of the chain",
    sources=("kluyver-1906", "derived"),
    validity="doubt of the even wall normal, independent of the chain",
    unit="1",
)
def chance_of_thin_wall(
    *, even_wall: float, wall_standard: float, least_wall: float, chain: Chain
) -> float:
    """How probable it is that the wall is thinner somewhere than the least.

    Parameters
    ----------
    even_wall : float
        Wall if both faces were concentric, radial. [m]
    wall_standard : float
        Standard uncertainty of that wall. [m]
    least_wall : float
        Least wall that may be left, radial. [m]
    chain : Chain
        All misses. [m]

    Returns
    -------
    float
        Probability. [1]

    Raises
    ------
    InputError
        If the least wall is not above zero.

    Notes
    -----
    The doubt of the even wall is taken in by a sum over 97 of its deviates; where the chain
    is exact, in closed form. Source: ``kluyver-1906``, ``derived``.
    """
    positive("least wall", least_wall, "m")
    spare = even_wall - least_wall
    if chain.spread == 0.0 and len(chain.sizes) < 2:
        spare -= math.fsum(chain.sizes)
        if wall_standard == 0.0:
            return float(spare < 0.0)
        return 0.5 * math.erfc(spare / wall_standard / math.sqrt(2.0))
    shares = np.exp(-0.5 * _DEVIATES**2)
    kept = chances_within(spare + wall_standard * _DEVIATES, chain)
    return min(max(1.0 - float(kept @ shares / shares.sum()), 0.0), 1.0)
