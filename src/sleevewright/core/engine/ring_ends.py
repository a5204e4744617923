"""Ring ends, pegs and windows: what a ring end may pass over, and how wide a window may be.

Angles are about the axis, counted one way all round; a window's width is its chord.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

TURN = 2.0 * math.pi


@dataclass(frozen=True)
class Land:
    """A stretch of wall between two windows.

    Parameters
    ----------
    middle : float
        Angle of its middle, from nought up to a whole turn. [rad]
    width : float
        Angle from window to window. [rad]
    """

    middle: float
    width: float


@formula(
    name="window as a share of the bore",
    expression="share = c / B",
    sources=("jennings-1973",),
    validity="chord of one window; a bridge makes two of it",
    unit="1",
)
def window_share(*, chord: Number, bore: Number) -> Number:
    """Width of a window by the bore, to be held against the limits for rings.

    Parameters
    ----------
    chord : Number
        Width of the window along the chord. [m]
    bore : Number
        Diameter of the bore. [m]

    Returns
    -------
    Number
        Chord per diameter. [1]

    Raises
    ------
    InputError
        If the chord is not smaller than the bore.

    Notes
    -----
    A ring bows into a window by the fourth power of its width. Source: ``jennings-1973``.

    Examples
    --------
    >>> round(window_share(chord=38.1e-3, bore=69.99e-3), 3)
    0.544
    """
    return _chord(chord, bore) / bore


@formula(
    name="angle from a window's middle to its edge",
    expression="half = asin(c / B)",
    sources=("derived",),
    validity="chord of a window in a round bore",
    unit="rad",
)
def window_half_angle(*, chord: Number, bore: Number) -> Number:
    """Angle from the middle of a window to its edge.

    Parameters
    ----------
    chord : Number
        Width of the window along the chord. [m]
    bore : Number
        Diameter of the bore. [m]

    Returns
    -------
    Number
        Half of the angle that the window takes up. [rad]

    Raises
    ------
    InputError
        If the chord is not smaller than the bore.

    Notes
    -----
    Half of the chord over the radius is the sine of it. Source: ``derived``.

    Examples
    --------
    >>> round(math.degrees(window_half_angle(chord=35e-3, bore=70e-3)), 6)
    30.0
    """
    found: Number = np.arcsin(_chord(chord, bore) / bore)
    return found


@formula(
    name="wall between a ring end and a window",
    expression="room = (|peg - window| - asin(c/B)) B/2 - gap/2",
    sources=("derived",),
    validity="along the wall; gap in the middle over its peg; the ring does not turn",
    unit="m",
)
def ring_end_room(
    *, peg: Number, window: Number, chord: Number, bore: Number, gap: Number
) -> Number:
    """Wall between the nearer end of a ring and the edge of a window, along the wall.

    Parameters
    ----------
    peg : Number
        Angle of the peg. [rad]
    window : Number
        Angle of the window's middle. [rad]
    chord : Number
        Width of the window along the chord. [m]
    bore : Number
        Diameter of the bore. [m]
    gap : Number
        End gap of the ring. [m]

    Returns
    -------
    Number
        Wall between them; below nought the end runs over the window. [m]

    Raises
    ------
    InputError
        If an angle is not finite, the chord is not smaller than the bore or the gap is
        negative.

    Notes
    -----
    The shorter way round counts. Source: ``derived``.

    Examples
    --------
    >>> told = dict(chord=35e-3, bore=70e-3, gap=0.3e-3)
    >>> room = ring_end_room(peg=math.radians(350.0), window=math.radians(60.0), **told)
    >>> round(float(room) * 1e3, 3)
    24.285
    """
    apart = finite("peg", peg, "rad") - finite("window", window, "rad")
    between = np.abs((apart + math.pi) % TURN - math.pi)
    half = window_half_angle(chord=chord, bore=bore)
    room: Number = (between - half) * bore / 2.0 - not_negative("gap", gap, "m") / 2.0
    return room


@formula(
    name="walls that are clear of windows",
    expression="what the windows leave of a turn, widest first",
    sources=("derived",),
    validity="windows at any height: a ring end passes all of them",
    unit="rad",
)
def clear_lands(
    windows: Sequence[float], chords: Sequence[float], *, bore: float
) -> tuple[Land, ...]:
    """Stretches of wall that no window interrupts, the widest first.

    Parameters
    ----------
    windows : Sequence[float]
        Angle of the middle of each window. [rad]
    chords : Sequence[float]
        Width of each window along the chord, in the same order. [m]
    bore : float
        Diameter of the bore. [m]

    Returns
    -------
    tuple[Land, ...]
        Lands, widest first; a whole turn where there is no window. [record]

    Raises
    ------
    InputError
        If there are not as many chords as windows, or one is not smaller than the bore.

    Notes
    -----
    Windows that overlap round the bore are taken together. Source: ``derived``.

    Examples
    --------
    >>> lands = clear_lands([0.0, math.pi], [35e-3, 35e-3], bore=70e-3)
    >>> [round(math.degrees(one.width), 6) for one in lands]
    [120.0, 120.0]
    """
    if len(windows) != len(chords):
        raise InputError("chords", len(chords), "", f"{len(windows)}, one for each window")
    if not windows:
        return (Land(0.0, TURN),)
    halves = [float(window_half_angle(chord=one, bore=bore)) for one in chords]
    middles = [float(finite("window", one, "rad")) % TURN for one in windows]
    spans = sorted(
        (one + turn - half, one + turn + half)
        for one, half in zip(middles, halves, strict=True)
        for turn in (-TURN, 0.0, TURN)  # a window may reach over the datum from either side
    )
    lands, reach = [], spans[0][1]
    for start, end in spans[1:]:
        middle = (start + reach) / 2.0
        if start > reach and 0.0 <= middle < TURN:
            lands.append(Land(middle, start - reach))
        reach = max(reach, end)
    return tuple(sorted(lands, key=lambda one: -one.width))


def _chord(chord: Number, bore: Number) -> Number:
    """A chord that can be one of this bore."""
    positive("chord", chord, "m")
    if not extremes(chord)[1] < extremes(positive("bore", bore, "m"))[0]:
        allowed = f"less than the bore, {extremes(bore)[0]:.6g} m"
        raise InputError("chord", extremes(chord)[1], "m", allowed, "Is it an arc?")
    return chord
