"""Between limits that pull both ways: how far each is in doubts, where one is met, the middle.

A margin is what is left to a limit in standard uncertainties: the deviate of the chance of
being out.  Over the interference one limit asks for more and another for less; the fit at
which the smallest of all margins is largest lies as far from being out on either side.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]

FINE = 2001
"""Points between which the largest least margin is looked for."""
LEVEL = 1e-9
"""Margins this near are level. [1]"""


@formula(
    name="margin in doubts",
    expression="z = -Phi^-1(chance of being out), kept within what the samples tell apart",
    sources=("jcgm-106", "derived"),
    validity="chances of independent samples; beyond one in so many no margin is told apart",
    unit="1",
)
def margin_in_doubts(chance: Array, *, samples: float) -> Array:
    """What is left to a limit in standard uncertainties, from the chance of being out.

    Parameters
    ----------
    chance : NDArray[np.float64]
        Chance of being beyond the limit, from 0 to 1, of any shape. [1]
    samples : float
        Samples that the chances were counted from. [1], > 0

    Returns
    -------
    NDArray[np.float64]
        Margin, negative where it is rather out than not. [1]

    Raises
    ------
    InputError
        If a chance is outside 0 to 1, or there are no samples.

    Notes
    -----
    Of so many samples none below one in twice their number can be told: there the margin
    stays at what that share has. Source: ``jcgm-106`` for the chance of being out, ``derived``
    for the bound.

    Examples
    --------
    >>> [round(float(z), 3) for z in margin_in_doubts(np.array([0.5, 0.05, 0.0]), samples=4000)]
    [0.0, 1.645, 3.662]
    """
    from scipy.special import ndtri

    given = np.asarray(chance, dtype=np.float64)
    if not ((given >= 0.0) & (given <= 1.0)).all():
        raise InputError("chance", float(np.nanmin(given)), "", "from 0 to 1")
    least = 0.5 / positive("samples", samples, "")
    return np.asarray(-ndtri(np.clip(given, least, 1.0 - least)), dtype=np.float64)


@formula(
    name="fit at which a margin is met",
    expression="straight line between the two points on either side",
    sources=("derived",),
    validity="between neighbours that lie on either side of the wanted margin",
    unit="m",
)
def fit_at_margin(interferences: Array, *, margins: Array, wanted: float) -> float:
    """Interference between two points at which a margin has a value.

    Parameters
    ----------
    interferences : NDArray[np.float64]
        Two interferences, diametral. [m]
    margins : NDArray[np.float64]
        The margin at each. [1]
    wanted : float
        The margin that is asked for. [1]

    Returns
    -------
    float
        Interference between the two; half way where the margins are level. [m]

    Notes
    -----
    Held between the two points: a step of a verdict is never placed outside of its cell.
    Source: ``derived``.

    Examples
    --------
    >>> fit_at_margin(np.array([2e-5, 4e-5]), margins=np.array([1.0, 3.0]), wanted=1.5)
    2.5e-05
    """
    rise = float(margins[1] - margins[0])
    share = 0.5 if abs(rise) < LEVEL else (wanted - float(margins[0])) / rise
    return float(
        interferences[0] + min(max(share, 0.0), 1.0) * (interferences[1] - interferences[0])
    )


@formula(
    name="balanced fit",
    expression="the interference at which the smallest margin is largest",
    sources=("derived",),
    validity="margins between the points on straight lines; the middle of a level top",
    unit="m",
)
def balanced_fit(interferences: Array, *, margins: Array) -> float:
    """Interference at which the smallest of all margins is largest.

    Parameters
    ----------
    interferences : NDArray[np.float64]
        Interferences, rising, diametral, shape (n,). [m]
    margins : NDArray[np.float64]
        Margin to each limit at each, shape (k, n). [1]

    Returns
    -------
    float
        Interference; the middle of the widest stretch where it is level. [m]

    Raises
    ------
    InputError
        If there are fewer than two interferences, they do not rise, or no margins.

    Notes
    -----
    Where one margin rises and another falls they are equal there: as many doubts from being
    out on either side. Source: ``derived``, the largest of minima.

    Examples
    --------
    >>> two = np.array([2e-5, 6e-5])
    >>> round(balanced_fit(two, margins=np.array([[0.0, 4.0], [3.0, 1.0]])) * 1e6, 1)
    40.0
    """
    if interferences.size < 2 or not (np.diff(interferences) > 0.0).all():
        raise InputError("interferences", interferences.size, "of them", "two or more, rising")
    if margins.ndim != 2 or margins.shape[1] != interferences.size or not margins.size:
        raise InputError("margins", margins.size, "", "one for each interference and limit")
    fine = np.union1d(np.linspace(interferences[0], interferences[-1], FINE), interferences)
    smallest = np.min([np.interp(fine, interferences, row) for row in margins], axis=0)
    places = np.flatnonzero(smallest >= smallest.max() - LEVEL)
    runs = np.split(places, np.flatnonzero(np.diff(places) > 1) + 1)
    widest = max(runs, key=lambda run: fine[run[-1]] - fine[run[0]])
    return float((fine[widest[0]] + fine[widest[-1]]) / 2.0)
