"""How far to feed down next toward a depth that must not be passed.  All lengths are axial."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]


@formula(
    name="depth still to go",
    expression="to go = depth wanted - depth reached",
    sources=("derived",),
    validity="both from the same deck",
    unit="m",
)
def depth_to_go(*, target: Number, reached: Number) -> Number:
    """What is still to be cut; negative where the ledge is too deep already.

    Parameters
    ----------
    target : Number
        Depth that is wanted. [m]
    reached : Number
        Depth as it was read. [m]

    Returns
    -------
    Number
        Depth still to go. [m]

    Raises
    ------
    InputError
        If either is not finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(depth_to_go(target=3.937e-3, reached=3.904e-3) * 1e6, 3)
    33.0
    """
    return finite("depth wanted", target, "m") - finite("depth reached", reached, "m")


@formula(
    name="feed that is too deep at a chance",
    expression="feed = quantile of (deepest allowed - deepest reached - miss) at the chance",
    sources=("jcgm-101", "derived"),
    validity="independent samples of what is left to the deepest that is allowed",
    unit="m",
)
def feed_at_chance(*, samples: Number, chance: float) -> float:
    """Feed whose chance of passing the deepest allowed is just the one that is accepted.

    Parameters
    ----------
    samples : Number
        Samples of what is left to the deepest allowed, less what the feed may miss by. [m]
    chance : float
        Chance of being too deep that is accepted, more than 0 and at most 0.5. [1]

    Returns
    -------
    float
        Feed; not positive where nothing may be cut any more. [m]

    Raises
    ------
    InputError
        If the chance is not allowed.

    Notes
    -----
    The lower of the two samples beside the quantile is taken: never past.  Source:
    ``jcgm-101`` 7.7; ``derived``.
    """
    if not 0.0 < chance <= 0.5:
        raise InputError("chance of too deep", chance, "", "more than 0 and at most 0.5")
    return float(np.quantile(np.atleast_1d(samples), chance, method="lower"))


@formula(
    name="next feed down",
    expression="min(held, most, to go - last where more than the last cut is left), not below 0",
    sources=("practice", "derived"),
    validity="approached from the shallow side",
    unit="m",
)
def next_downfeed(*, to_go: float, held: float, most: float, last_cut: float) -> float:
    """Next feed down from the shallow side, so that a last light cut is left.

    Parameters
    ----------
    to_go : float
        Still to go at the deepest place. [m]
    held : float
        Feed whose chance of being too deep is just accepted. [m]
    most : float
        Deepest single cut at a ledge. [m]
    last_cut : float
        Depth that is left for the last cut. [m]

    Returns
    -------
    float
        Feed to ask for; nought where nothing may be cut any more. [m]

    Raises
    ------
    InputError
        If the deepest or the last cut is not positive.

    Notes
    -----
    Cuts at an insert's seat are kept light, the last one lightest.  Source: ``practice``;
    ``derived``.

    Examples
    --------
    >>> feed = next_downfeed(to_go=130e-6, held=120e-6, most=100e-6, last_cut=25e-6)
    >>> round(feed * 1e6, 3)
    100.0
    """
    positive("deepest cut", most, "m")
    positive("last cut", last_cut, "m")
    finite("still to go", to_go, "m")
    wanted = to_go - last_cut if to_go > 1.5 * last_cut else to_go
    return max(min(wanted, held, most), 0.0)


@formula(
    name="chance that the next feed is too deep",
    expression="share of samples of what is left that lie below the feed",
    sources=("jcgm-101",),
    validity="independent samples",
    unit="1",
)
def chance_too_deep(*, samples: Number, downfeed: float) -> float:
    """How probable it is that a feed ends deeper than is allowed.

    Parameters
    ----------
    samples : Number
        Samples of what is left to the deepest allowed, less what the feed may miss by. [m]
    downfeed : float
        Feed that is asked for. [m]

    Returns
    -------
    float
        Chance, never nought: what was never met in n draws is told as 1 in n. [1]

    Notes
    -----
    Source: ``jcgm-101`` 7.5.
    """
    drawn = np.atleast_1d(samples)
    if drawn.size < 2:  # nothing is in doubt
        return float(drawn[0] < downfeed)
    return max(float(np.mean(drawn < downfeed)), 1.0 / drawn.size)
