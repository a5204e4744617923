"""An outline without the wave of the hand, so that its highest point is the port's roof."""

from __future__ import annotations

from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points, PortShape
from sleevewright.core.rubbing.edges import STEP, outward
from sleevewright.core.rubbing.shape_fit import MM, distances, sizes_of

WAVE = 1.5e-3
"""Smoothing of what an outline differs from its shape, one sigma along the edge, m."""


@formula(
    name="outline without the wave of the hand",
    expression="p + n (smooth(d) - d), d the distance from the fitted shape",
    sources=("derived",),
    validity="outlines in even steps; features narrower than about 3 mm are flattened",
    unit="m",
)
def evened_outline(points: Points, *, shape: PortShape) -> Points:
    """An outline whose differences from its shape are smoothed along the edge.

    The highest point of a wavy edge lies above the edge: as rubbed, roofs come out 0.05 to
    0.1 mm too high. A roof is the edge that cannot be put back.

    Parameters
    ----------
    points : Points
        Closed outline at even steps, arc length and depth. [m]
    shape : PortShape
        The window that fits it best. [record]

    Returns
    -------
    Points
        As many points, moved along their normals. [m]

    Notes
    -----
    Only the difference is smoothed, so that corners and an arched roof stay as they are.
    Source: ``derived``.

    Examples
    --------
    >>> import numpy as np
    >>> from sleevewright.core.ports.outline import port_outline
    >>> square = PortShape(roof=0.03, floor=0.05, top=0.02, bottom=0.02)
    >>> corners = port_outline(square)
    >>> bool(np.allclose(evened_outline(corners, shape=square), corners))
    True
    """
    from scipy import ndimage

    off = distances(points * MM, sizes_of(shape)) / MM
    smooth = ndimage.gaussian_filter1d(off, WAVE / STEP, mode="wrap")
    moved: Points = points + outward(points) * (smooth - off)[:, None]
    return moved
