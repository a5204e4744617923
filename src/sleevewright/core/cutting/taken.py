"""How much of the asked cut is taken where the cut's own force pushes the bar back.

A depth is radial, what is asked and taken is diametral; a share is the same on both.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.cutting.force import CutEdge, radial_force
from sleevewright.core.formulas import formula
from sleevewright.errors import NotConverged

_MOST_ROUNDS = 60
_CLOSE = 1e-11


@formula(
    name="depth that is taken",
    expression="t with t + C F(t) = a",
    sources=("derived",),
    validity="F in proportion to the depth, or rising slower; first pass from a clean wall",
    unit="m",
)
def depth_taken(
    *, depth: Number, edge_give: Number, radial_force: Callable[[Number], Number]
) -> Number:
    """Depth that a cut takes where its own force pushes the bar back.

    Parameters
    ----------
    depth : Number
        Depth that is asked, radial. [m], > 0
    edge_give : Number
        Deflection by force at the edge, radial. [m/N], >= 0
    radial_force : Callable[[Number], Number]
        Radial force [N] at a depth [m]. [record]

    Returns
    -------
    Number
        Depth that is taken, radial. [m]

    Raises
    ------
    InputError
        If a value is out of its range.
    NotConverged
        If the depth does not settle.

    Notes
    -----
    t is set anew to a / (1 + C F(t) / t) until it stands still. Source: ``derived``.

    Examples
    --------
    >>> round(1e6 * depth_taken(depth=1e-4, edge_give=1e-7, radial_force=lambda t: 1e6 * t), 2)
    90.91
    """
    positive("depth", depth, "m")
    not_negative("give", edge_give, "m/N")
    taken, change = depth, math.inf
    for _ in range(_MOST_ROUNDS):
        force = finite("radial force", radial_force(taken), "N")
        anew = depth / (1.0 + edge_give * force / taken)
        change = float(np.max(np.abs(anew - taken) / np.asarray(depth)))
        taken = anew
        if change < _CLOSE:
            return taken
    raise NotConverged("depth that is taken", _MOST_ROUNDS, change, _CLOSE)


@formula(
    name="depth of a cut",
    expression="a = asked / 2",
    sources=("derived",),
    validity="the ask is told on the diameter",
    unit="m",
)
def half_of_ask(*, ask: Number) -> Number:
    """Depth of a cut from what was asked on the diameter.

    Parameters
    ----------
    ask : Number
        What the bar was set to take, diametral. [m], > 0

    Returns
    -------
    Number
        Depth, radial. [m]

    Raises
    ------
    InputError
        If nothing was asked.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> half_of_ask(ask=1.0e-4)
    5e-05
    """
    positive("asked", ask, "m")
    return 0.5 * ask


@formula(
    name="what a cut takes of what is asked",
    expression="2 t, t + C F_r(t) = asked / 2",
    sources=("kienzle-1952", "derived"),
    validity="first pass from a clean wall; dial, dull edge and heat come on top",
    unit="m",
)
def cut_taken(*, ask: Number, own_give: Number, holder_give: Number, edge: CutEdge) -> Number:
    """Metal that a pass takes off where its own force pushes the bar back.

    Parameters
    ----------
    ask : Number
        What the bar was set to take, diametral. [m], > 0
    own_give, holder_give : Number
        Deflection by force of the bar, and of head, quill and table. [m/N], >= 0
    edge : CutEdge
        The edge at work. [record]

    Returns
    -------
    Number
        What is taken, diametral. [m]

    Raises
    ------
    InputError
        If a value is out of its range.
    NotConverged
        If the depth does not settle.

    Notes
    -----
    Source: ``kienzle-1952``, ``derived``.

    Examples
    --------
    >>> edge = CutEdge(1.016e-4, 4e-4, math.radians(75.0), 1.15e9, 0.2, 0.5)
    >>> given = {"own_give": 8.3e-8, "holder_give": 4e-8, "edge": edge}
    >>> round(1e6 * float(cut_taken(ask=2.54e-4, **given)), 1)
    250.8
    """
    taken = depth_taken(
        depth=0.5 * ask,
        edge_give=own_give + holder_give,
        radial_force=lambda depth: radial_force(depth=depth, edge=edge),
    )
    return 2.0 * taken


@formula(
    name="share of the ask that is taken",
    expression="taken / asked",
    sources=("derived",),
    validity="always",
    unit="1",
)
def share_of_ask(*, taken: Number, ask: Number) -> Number:
    """What is taken by what was asked.

    Parameters
    ----------
    taken, ask : Number
        Both diametral. [m], ask > 0

    Returns
    -------
    Number
        Share. [1]

    Raises
    ------
    InputError
        If nothing was asked.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> share_of_ask(taken=3.5, ask=4.0)
    0.875
    """
    positive("asked", ask, "m")
    return taken / ask
