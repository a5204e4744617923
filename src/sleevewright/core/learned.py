"""What a shop's own habit does to the fit that it has to expect.  Diametral."""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, finite
from sleevewright.core.formulas import formula


@formula(
    name="fit with the shop's habit",
    expression="fit = chosen + miss of the cut + habit",
    sources=("derived",),
    validity="for the pairing that it was learned from, once accepted",
    unit="m",
)
def fit_with_habit(*, chosen: Number, miss: Number, bias: Number) -> Number:
    """Interference to expect where past jobs came out otherwise than they were measured.

    Parameters
    ----------
    chosen : Number
        Interference as chosen or measured. [m]
    miss : Number
        What the cut and its gauges may miss it by. [m]
    bias : Number
        Fit obtained less fit measured, as learned. [m]

    Returns
    -------
    Number
        Interference to expect. [m]

    Raises
    ------
    InputError
        If any of them is not finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(fit_with_habit(chosen=80e-6, miss=0.0, bias=-5e-6), 9)
    7.5e-05
    """
    cut = finite("chosen interference", chosen, "m") + finite("miss", miss, "m")
    return cut + finite("habit", bias, "m")


@formula(
    name="fit that has to clear",
    expression="fit = max(without habit, with habit)",
    sources=("derived",),
    validity="for the gap at the drop alone",
    unit="m",
)
def fit_to_clear(*, without_habit: Number, with_habit: Number) -> Number:
    """Interference that has to be opened at the drop: the tighter of two expectations.

    Parameters
    ----------
    without_habit : Number
        Interference to expect from the readings alone. [m]
    with_habit : Number
        Interference to expect with the shop's habit. [m]

    Returns
    -------
    Number
        The greater of both. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> fit_to_clear(without_habit=80e-6, with_habit=75e-6)
    8e-05
    """
    larger = np.maximum(without_habit, with_habit)
    return cast("Number", larger if np.ndim(larger) else float(larger))
