"""What a map of the wall comes to: the least of it, where, and how large a bore it allows.

Walls are radial, bores diametral.
"""

from __future__ import annotations

import numpy as np

from sleevewright.core.checks import Number, positive
from sleevewright.core.cutting.wallmap import IN_TWENTY, WallMap
from sleevewright.core.formulas import formula


@formula(
    name="least wall that a planned bore leaves",
    expression="median over the draws of min w",
    sources=("derived",),
    validity="as the wall that a planned bore leaves",
    unit="m",
)
def least_wall_likely(*, wall_map: WallMap) -> float:
    """Wall that is left at its thinnest, wherever that is: as likely less as more.

    Parameters
    ----------
    wall_map : WallMap
        The wall that is left. [record]

    Returns
    -------
    float
        Radial, negative where the bore breaks through. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return float(np.median(wall_map.least_draws))


@formula(
    name="least wall, 19 times in 20",
    expression="5 % quantile over the draws of min w",
    sources=("derived",),
    validity="as the wall that a planned bore leaves",
    unit="m",
)
def least_wall_in_twenty(*, wall_map: WallMap) -> float:
    """Wall that is left at its thinnest, 19 times in 20 at least.

    Parameters
    ----------
    wall_map : WallMap
        The wall that is left. [record]

    Returns
    -------
    float
        Radial. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return float(np.quantile(wall_map.least_draws, IN_TWENTY))


@formula(
    name="doubt of the least wall",
    expression="standard deviation over the draws of min w",
    sources=("derived",),
    validity="as the wall that a planned bore leaves",
    unit="m",
)
def least_wall_standard(*, wall_map: WallMap) -> float:
    """Standard uncertainty of the least wall.

    Parameters
    ----------
    wall_map : WallMap
        The wall that is left. [record]

    Returns
    -------
    float
        Radial. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return float(wall_map.least_draws.std())


@formula(
    name="angle of the thinnest place",
    expression="theta of min w",
    sources=("derived",),
    validity="as the wall that a planned bore leaves",
    unit="rad",
)
def thinnest_angle(*, wall_map: WallMap) -> float:
    """Where round the bore the wall is likely thinnest.

    Parameters
    ----------
    wall_map : WallMap
        The wall that is left. [record]

    Returns
    -------
    float
        From +X, counter-clockwise. [rad]

    Notes
    -----
    Source: ``derived``.
    """
    return float(wall_map.angles[_thinnest(wall_map)[1]])


@formula(
    name="depth of the thinnest place",
    expression="z of min w",
    sources=("derived",),
    validity="as the wall that a planned bore leaves",
    unit="m",
)
def thinnest_depth(*, wall_map: WallMap) -> float:
    """How deep down the wall is likely thinnest.

    Parameters
    ----------
    wall_map : WallMap
        The wall that is left. [record]

    Returns
    -------
    float
        Below the deck. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return float(wall_map.depths[_thinnest(wall_map)[0]])


def _thinnest(wall_map: WallMap) -> tuple[int, int]:
    """Row and column of the thinnest place."""
    row, column = divmod(int(np.argmin(wall_map.walls)), wall_map.angles.size)
    return row, column


@formula(
    name="chance that the wall is below the least",
    expression="p = share of the draws with min w < w_least, within 1 / (n + 2) of both ends",
    sources=("derived",),
    validity="as the wall that a planned bore leaves",
    unit="1",
)
def chance_of_too_thin(*, wall_map: WallMap, least_wall: float) -> float:
    """How probable it is that the wall is thinner somewhere than the least.

    Parameters
    ----------
    wall_map : WallMap
        The wall that is left. [record]
    least_wall : float
        Least wall that may be left, radial. [m]

    Returns
    -------
    float
        Probability; never quite none and never quite all. [1]

    Raises
    ------
    InputError
        If the least wall is not above zero.

    Notes
    -----
    Source: ``derived``.
    """
    positive("least wall", least_wall, "m")
    count = wall_map.least_draws.size
    rarest = 1.0 / (count + 2.0)
    share = float(np.searchsorted(wall_map.least_draws, least_wall)) / count
    return min(max(share, rarest), 1.0 - rarest)


@formula(
    name="largest bore that the wall allows",
    expression="D = D_target + 2 (w_19 in 20 - w_least)",
    sources=("derived",),
    validity="same axis; the axis lies much nearer than the radius",
    unit="m",
)
def bore_by_wall(*, planned_bore: float, wall_kept: float, least_wall: float) -> float:
    """Bore on the planned axis that leaves just the least wall, 19 times in 20.

    Parameters
    ----------
    planned_bore : float
        Bore that is planned, diametral. [m]
    wall_kept : float
        Least wall that it leaves, 19 times in 20, radial. [m]
    least_wall : float
        Least wall that may be left, radial. [m]

    Returns
    -------
    float
        Diametral. [m]

    Raises
    ------
    InputError
        If the bore or the least wall is not above zero.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(bore_by_wall(planned_bore=0.072, wall_kept=0.004, least_wall=0.003), 6)
    0.074
    """
    positive("bore that is to be cut", planned_bore, "m")
    positive("least wall", least_wall, "m")
    return planned_bore + 2.0 * (wall_kept - least_wall)


@formula(
    name="wall after another cut",
    expression="w = w_now - (D - D_now) / 2",
    sources=("derived",),
    validity="same axis",
    unit="m",
)
def wall_after(*, wall: Number, bore: Number, planned_bore: Number) -> Number:
    """Wall that is left at a place when a bore is opened on its own axis.

    Parameters
    ----------
    wall : Number
        Wall as it is now, radial. [m]
    bore : Number
        Bore as it is now, diametral. [m]
    planned_bore : Number
        Bore that is to be cut, diametral. [m]

    Returns
    -------
    Number
        Radial, negative where it breaks through. [m]

    Raises
    ------
    InputError
        If a bore or the wall is not above zero.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(wall_after(wall=0.005, bore=0.070, planned_bore=0.072), 6)
    0.004
    """
    positive("bore", bore, "m")
    positive("bore that is to be cut", planned_bore, "m")
    return positive("wall", wall, "m") - 0.5 * (planned_bore - bore)
