"""From a stock and what a stroke takes to strokes that can be counted, and back.

Everything here is diametral; up and down is one stroke.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.formulas import formula

LEAST_SHARE = 0.2
"""Share of its usual rate below which a hone that still cuts is never taken to cut."""


@formula(
    name="rate of a hone that still cuts",
    expression="rate = max(drawn, usual / 5)",
    sources=("practice",),
    validity="stones that cut at all",
    unit="m",
)
def cutting_rate(*, drawn: Number, usual: Number) -> Number:
    """A rate as it is drawn, kept above nought: a hone neither stands still nor adds metal.

    Parameters
    ----------
    drawn : Number
        Rate, a stroke, diametral. [m]
    usual : Number
        Mean of what is known of it. [m]

    Returns
    -------
    Number
        Rate that strokes are reckoned with. [m]

    Raises
    ------
    InputError
        If the usual rate is not positive.

    Notes
    -----
    Only the long end of the strokes is touched by it. Source: ``practice``.

    Examples
    --------
    >>> cutting_rate(drawn=-2e-7, usual=1e-6)
    2e-07
    """
    floor = LEAST_SHARE * positive("usual rate", usual, "m")
    found = np.maximum(drawn, floor)
    return cast("Number", found if np.ndim(found) else float(found))


@formula(
    name="strokes for a stock",
    expression="n = max(stock, 0) / rate",
    sources=("derived",),
    validity="one pass; gauged again before the next",
    unit="1",
)
def strokes_for(*, stock: Number, rate: Number) -> Number:
    """How many full strokes take a stock off; none where nothing is left to take.

    Parameters
    ----------
    stock : Number
        What is to be taken, diametral. [m]
    rate : Number
        What a stroke takes, diametral. [m]

    Returns
    -------
    Number
        Strokes, up and down counted as one. [1]

    Raises
    ------
    InputError
        If the rate is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(strokes_for(stock=20e-6, rate=1e-6), 6)
    20.0
    """
    finite("stock", stock, "m")
    found = np.maximum(stock, 0.0) / positive("rate", rate, "m")
    return cast("Number", found if np.ndim(found) else float(found))


@formula(
    name="left after so many strokes",
    expression="left = stock - n rate",
    sources=("derived",),
    validity="one pass at one rate",
    unit="m",
)
def left_after(*, stock: Number, rate: Number, strokes: float) -> Number:
    """What is left of a stock after so many strokes; below nought it is passed.

    Parameters
    ----------
    stock : Number
        What is to be taken before them, diametral. [m]
    rate : Number
        What a stroke takes, diametral. [m]
    strokes : float
        Full strokes of one pass. [1]

    Returns
    -------
    Number
        What is left, diametral. [m]

    Raises
    ------
    InputError
        If the strokes are negative.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(left_after(stock=20e-6, rate=1e-6, strokes=12.0) * 1e6, 6)
    8.0
    """
    return finite("stock", stock, "m") - not_negative("strokes", strokes, "") * rate


@formula(
    name="whole strokes",
    expression="n = floor(strokes)",
    sources=("derived",),
    validity="always; rounded to the side that leaves metal",
    unit="1",
)
def whole_strokes(*, strokes: float) -> float:
    """Strokes that can be counted, never more than were reckoned.

    Parameters
    ----------
    strokes : float
        Strokes as reckoned. [1]

    Returns
    -------
    float
        Whole strokes. [1]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> whole_strokes(strokes=11.9)
    11.0
    """
    return float(np.floor(strokes + 1e-9))
