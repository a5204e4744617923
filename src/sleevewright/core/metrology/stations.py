"""How the stations of a grid lie to each other: their order, and what their means share.

Depths count downwards from the deck; angles are about the axis.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.metrology.grid import SizeGrid
from sleevewright.errors import InputError

Array = NDArray[np.float64]


def station_spread(grid: SizeGrid) -> Array:
    """Covariance of the means of the stations that were read, per variance of a reading.

    Parameters
    ----------
    grid : SizeGrid
        Sizes at 20 degC. [m]

    Returns
    -------
    Array
        Covariance, shape (n_read, n_read), of differences between stations. [1]

    Raises
    ------
    InputError
        If stations share no direction, so that an oval could be taken for a taper.

    Notes
    -----
    Of the same fit as :func:`station_means`. Source: ``derived``.
    """
    stations, directions = grid.sizes.shape
    if grid.present.all():
        alike: Array = np.eye(stations) / float(directions)
        return alike
    read, used = grid.present.any(axis=1), grid.present.any(axis=0)
    row, column = np.nonzero(grid.present)
    contrast = np.eye(directions)[:, used][:, 1:] - np.eye(directions)[:, used][:, :1]
    level = np.eye(stations)[row][:, read]
    design = np.hstack([level, contrast[column]])
    if np.linalg.matrix_rank(design) < design.shape[1]:
        allowed = "directions that are read at several stations, so that these can be compared"
        raise InputError("directions", "none shared by all stations", "", allowed)
    whole: Array = np.linalg.inv(design.T @ design).astype(np.float64)
    count = int(read.sum())
    return whole[:count, :count]


def check_layout(grid: SizeGrid) -> None:
    """Refuse depths out of order or there twice, and directions that are there twice.

    Parameters
    ----------
    grid : SizeGrid
        Sizes at 20 degC. [m]

    Raises
    ------
    InputError
        If a depth is not below the one before it, or an angle is repeated.

    Notes
    -----
    Source: ``derived``.
    """
    for above, here in zip(grid.stations, grid.stations[1:], strict=False):
        if here == above:
            hint = "It is there twice: put its readings into one row."
            raise InputError("stations", float(here), "m", "each depth once", hint)
        if here < above:
            allowed = f"more than {float(above):g} m, the station above"
            raise InputError("stations", float(here), "m", allowed, "Go from the deck downwards.")
    turned = np.sort(np.mod(grid.directions, 2.0 * np.pi))
    near = np.diff(np.append(turned, turned[:1] + 2.0 * np.pi))
    if turned.size > 1 and near.min() < 1e-6:
        twice = float(np.degrees(turned[int(np.argmin(near))]))
        hint = "It is there twice: put its readings into one column."
        raise InputError("directions", f"{twice:g}", "deg", "each angle once", hint)
