"""What the wall of a casting does to a fit: how it holds by the thou, and what that costs.

The two run against each other.  Around a thin wall a given interference presses less, so
it holds less; and the same pressure pulls the thin wall harder.  All is elastic, of two
plain rings, the wall radial.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.fits.rings import (
    RingPair,
    casting_hoop_stress,
    contact_pressure,
    interference_at_limit,
)
from sleevewright.core.formulas import formula

_ELASTIC = "both rings elastic, no ports, the wall the same all round"


@dataclass(frozen=True)
class WallCurve:
    """Pressure and pull around the casting over its wall, at one interference.

    Parameters
    ----------
    walls : tuple[float, ...]
        Radial wall of the casting around the fit. [m]
    pressures : tuple[float, ...]
        Contact pressure at each wall; the hold goes with it. [Pa]
    hoops : tuple[float, ...]
        Hoop tension at the casting's bore at each wall. [Pa]
    """

    walls: tuple[float, ...]
    pressures: tuple[float, ...]
    hoops: tuple[float, ...]


@formula(
    name="wall around the fit",
    expression="w = (2R - D)/2",
    sources=("derived",),
    validity="radial; of an effective casting diameter the wall is effective too",
    unit="m",
)
def casting_wall(pair: RingPair) -> Number:
    """Radial wall of the casting around the fit.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]

    Returns
    -------
    Number
        Wall, radial. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return (pair.outside_diameter - pair.interface_diameter) / 2.0


@formula(
    name="the same rings with another wall",
    expression="2R = D + 2 w",
    sources=("derived",),
    validity=_ELASTIC,
    unit="record",
)
def with_wall(pair: RingPair, *, wall: Number) -> RingPair:
    """The same sleeve in a casting of another wall.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    wall : Number
        Radial wall of the other casting. [m]

    Returns
    -------
    RingPair
        The rings with that wall. [record]

    Raises
    ------
    InputError
        If the wall is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    outside = pair.interface_diameter + 2.0 * positive("wall", wall, "m")
    return replace(pair, outside_diameter=outside)


@formula(
    name="fit that holds as in a thicker casting",
    expression="i = i_0 p_w(i_0) / p(i_0)",
    sources=("timoshenko-1956", "derived"),
    validity=_ELASTIC + "; the same length, contact and friction",
    unit="m",
)
def equal_hold_interference(pair: RingPair, *, wall: Number, interference: Number) -> Number:
    """Fit at which this casting holds as one of another wall does at a given fit.

    Parameters
    ----------
    pair : RingPair
        This sleeve in this casting. [record]
    wall : Number
        Radial wall of the casting that is compared with. [m]
    interference : Number
        Effective interference in that casting; clearance holds nothing. [m]

    Returns
    -------
    Number
        Effective interference that presses as hard here. [m]

    Raises
    ------
    InputError
        If the wall is not positive or the interference is not finite.

    Notes
    -----
    Hold goes with pressure, so equal pressure is equal hold. Source: ``timoshenko-1956``
    for the pressure of two rings, ``derived`` for the comparison.

    Examples
    --------
    >>> thin = RingPair(interface_diameter=76.2e-3, inside_diameter=69.6e-3,
    ...     outside_diameter=88.2e-3, sleeve_modulus=107e9, sleeve_poisson=0.26,
    ...     casting_modulus=71.7e9, casting_poisson=0.33)
    >>> need = equal_hold_interference(thin, wall=12e-3, interference=80e-6)
    >>> round(need * 1e6, 1)
    102.2
    """
    other = with_wall(pair, wall=wall)
    pressed = contact_pressure(other, interference=finite("interference", interference, "m"))
    return interference_at_limit(pair, limit_pressure=pressed)


@formula(
    name="hold and pull over the casting's wall",
    expression="p(w), sigma(w) = p (R^2 + r^2)/(R^2 - r^2), R = r + w",
    sources=("timoshenko-1956",),
    validity=_ELASTIC,
    unit="record",
)
def wall_curve(
    pair: RingPair, *, interference: float, walls: NDArray[np.float64] | tuple[float, ...]
) -> WallCurve:
    """Pressure and hoop tension at one interference over a range of walls.

    Parameters
    ----------
    pair : RingPair
        This sleeve in this casting; its own wall is not used. [record]
    interference : float
        Effective interference. [m]
    walls : NDArray[np.float64] or tuple[float, ...]
        Radial walls, shape (n_walls,). [m]

    Returns
    -------
    WallCurve
        Both, wall by wall. [record]

    Raises
    ------
    InputError
        If a wall is not positive or the interference is not finite.

    Notes
    -----
    Source: ``timoshenko-1956``.
    """
    across = np.asarray(walls, dtype=np.float64)
    other = with_wall(pair, wall=across)
    pressures = np.asarray(contact_pressure(other, interference=interference))
    hoops = np.asarray(casting_hoop_stress(other, pressure=pressures))
    return WallCurve(
        tuple(float(one) for one in across),
        tuple(float(one) for one in np.broadcast_to(pressures, across.shape)),
        tuple(float(one) for one in np.broadcast_to(hoops, across.shape)),
    )
