"""The least wall of a casting of which only the even wall is known, and what cores shift.

A shift of equal spread along both axes has a Rayleigh length; the even wall is known with a
normal doubt.  Of the two together the chance is in closed form.  Walls are radial.
"""

from __future__ import annotations

import math

from scipy.optimize import brentq
from scipy.special import ndtr

from sleevewright.core.checks import finite, not_negative, within
from sleevewright.core.formulas import formula


@formula(
    name="chance of too thin a wall, core shift not read",
    expression="P(u z + r > s) = Q(s/u) + (c/t) exp(-s^2 / 2 t^2) Phi(s c / u t), t^2 = u^2 + c^2",
    sources=("rayleigh-1880", "derived"),
    validity="shift of equal spread along both axes; doubt of the even wall normal",
    unit="1",
)
def chance_of_shifted_wall(
    *, even_wall: float, wall_standard: float, core_spread: float, least_wall: float
) -> float:
    """How probable it is that a wall is thinner on its thin side than the least.

    Parameters
    ----------
    even_wall : float
        Wall if the core had not shifted, radial. [m]
    wall_standard : float
        Standard uncertainty of that wall. [m]
    core_spread : float
        Core shift, as a standard deviation along each of two axes. [m]
    least_wall : float
        Least wall that may be left, radial. [m]

    Returns
    -------
    float
        Probability. [1]

    Raises
    ------
    InputError
        If a spread is negative or a wall is not finite.

    Notes
    -----
    u is the standard uncertainty, c the spread, s the even wall less the least. Source:
    ``rayleigh-1880``, ``derived``.

    Examples
    --------
    >>> round(chance_of_shifted_wall(even_wall=3.0, wall_standard=0.0, core_spread=1.0,
    ...     least_wall=1.0), 6)
    0.135335
    """
    spare = finite("even wall", even_wall, "m") - finite("least wall", least_wall, "m")
    doubt = not_negative("doubt of the even wall", wall_standard, "m")
    spread = not_negative("core shift", core_spread, "m")
    if spread == 0.0:
        return float(ndtr(-spare / doubt)) if doubt else float(spare < 0.0)
    if doubt == 0.0:
        return math.exp(-0.5 * (spare / spread) ** 2) if spare > 0.0 else 1.0
    both = math.hypot(doubt, spread)
    beside = float(ndtr(spare * spread / (doubt * both)))
    return float(ndtr(-spare / doubt)) + spread / both * math.exp(-0.5 * (spare / both) ** 2) * (
        beside
    )


@formula(
    name="wall that is kept, core shift not read",
    expression="P(least wall < w) = p, solved for w",
    sources=("rayleigh-1880", "derived"),
    validity="as the chance of too thin a wall, core shift not read",
    unit="m",
)
def shifted_wall(
    *, even_wall: float, wall_standard: float, core_spread: float, probability: float
) -> float:
    """Wall that the thin side of a casting falls below with a given probability.

    Parameters
    ----------
    even_wall : float
        Wall if the core had not shifted, radial. [m]
    wall_standard : float
        Standard uncertainty of that wall. [m]
    core_spread : float
        Core shift, as a standard deviation along each of two axes. [m]
    probability : float
        Probability of less. [1]

    Returns
    -------
    float
        Radial. [m]

    Raises
    ------
    InputError
        If the probability is not between 0.001 and 0.999, or a spread is negative.

    Notes
    -----
    Solved to a billionth of the spreads. Source: ``rayleigh-1880``, ``derived``.

    Examples
    --------
    >>> round(shifted_wall(even_wall=5.0, wall_standard=0.0, core_spread=1.0,
    ...     probability=0.05), 4)
    2.5523
    """
    within("probability", probability, "", 0.001, 0.999)
    scale = 12.0 * math.hypot(wall_standard, core_spread)
    if scale == 0.0:
        return even_wall

    def over(wall: float) -> float:
        found = chance_of_shifted_wall(
            even_wall=even_wall,
            wall_standard=wall_standard,
            core_spread=core_spread,
            least_wall=wall,
        )
        return found - probability

    return float(brentq(over, even_wall - scale, even_wall + scale, xtol=1e-10 * scale))
