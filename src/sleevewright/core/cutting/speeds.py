"""Speeds of a cut: turns, speed at the wall, feed speed, metal removed, time, power, torque.

The diameter is the one at the wall that is cut: the larger of the cut when a bore is bored.
Turns are by the second inside and by the minute where they are shown.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula


@formula(
    name="turns for a cutting speed",
    expression="n = V / (pi D)",
    sources=("derived",),
    validity="always; rpm = 3.82 ft/min over inches is the same, rounded",
    unit="1/s",
)
def spindle_turns(*, cutting_speed: Number, diameter: Number) -> Number:
    """Turns of the spindle that give a speed at the wall.

    Parameters
    ----------
    cutting_speed : Number
        Speed of the edge along the wall. [m/s], > 0
    diameter : Number
        Diameter of the wall that is cut. [m], > 0

    Returns
    -------
    Number
        Turns by the second. [1/s]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(60.0 * spindle_turns(cutting_speed=100.0 / 60.0, diameter=0.062), 1)
    513.4
    """
    positive("cutting speed", cutting_speed, "m/s")
    positive("diameter", diameter, "m")
    return cutting_speed / (math.pi * diameter)


@formula(
    name="speed at the wall",
    expression="V = pi D n",
    sources=("derived",),
    validity="always",
    unit="m/s",
)
def wall_speed(*, diameter: Number, turns: Number) -> Number:
    """Speed of the edge along the wall.

    Parameters
    ----------
    diameter : Number
        Diameter of the wall that is cut. [m], > 0
    turns : Number
        Turns by the second. [1/s], > 0

    Returns
    -------
    Number
        Speed. [m/s]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(60.0 * wall_speed(diameter=0.0125, turns=400.0 / 60.0), 3)
    15.708
    """
    positive("diameter", diameter, "m")
    positive("turns", turns, "1/s")
    return math.pi * diameter * turns


@formula(
    name="feed speed",
    expression="v_f = f n",
    sources=("derived",),
    validity="one edge",
    unit="m/s",
)
def feed_speed(*, feed: Number, turns: Number) -> Number:
    """How fast the edge goes along the bore.

    Parameters
    ----------
    feed : Number
        Feed by the turn. [m], > 0
    turns : Number
        Turns by the second. [1/s], > 0

    Returns
    -------
    Number
        Speed along the bore. [m/s]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(60e3 * feed_speed(feed=1e-4, turns=513.4 / 60.0), 2)
    51.34
    """
    positive("feed", feed, "m")
    positive("turns", turns, "1/s")
    return feed * turns


@formula(
    name="metal removed by the second",
    expression="Q = pi D_mean a f n",
    sources=("derived",),
    validity="one edge; D_mean lies midway between the diameters before and after",
    unit="m3/s",
)
def removal_rate(*, mean_diameter: Number, depth: Number, feed: Number, turns: Number) -> Number:
    """Metal that is cut by the second.

    Parameters
    ----------
    mean_diameter : Number
        Midway between the diameters before and after. [m], > 0
    depth : Number
        Depth of the cut, radial. [m], > 0
    feed : Number
        Feed by the turn. [m], > 0
    turns : Number
        Turns by the second. [1/s], > 0

    Returns
    -------
    Number
        Volume by the second. [m^3/s]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> rate = removal_rate(mean_diameter=0.01225, depth=2.5e-4, feed=5e-4, turns=400.0 / 60.0)
    >>> round(60e9 * rate, 1)
    1924.2
    """
    positive("mean diameter", mean_diameter, "m")
    positive("depth", depth, "m")
    return math.pi * mean_diameter * depth * feed_speed(feed=feed, turns=turns)


@formula(
    name="time of a pass",
    expression="t = (L + run-in and run-out) / (f n)",
    sources=("derived",),
    validity="cutting time alone; dialling, gauging and the way back come on top",
    unit="s",
)
def pass_time(*, length: Number, run_out: Number, feed: Number, turns: Number) -> Number:
    """Time of one pass under feed.

    Parameters
    ----------
    length : Number
        Length that is bored, axial. [m], > 0
    run_out : Number
        What the edge goes before and behind it, together. [m], >= 0
    feed : Number
        Feed by the turn. [m], > 0
    turns : Number
        Turns by the second. [1/s], > 0

    Returns
    -------
    Number
        Time. [s]

    Raises
    ------
    InputError
        If a value is not positive (run-out: not negative) and finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(pass_time(length=0.150, run_out=0.0, feed=5e-4, turns=400.0 / 60.0), 6)
    45.0
    """
    positive("length", length, "m")
    not_negative("run-out", run_out, "m")
    return (length + run_out) / feed_speed(feed=feed, turns=turns)


@formula(
    name="time of the passes to come",
    expression="t = N (t_pass + t_between)",
    sources=("derived",),
    validity="every pass at the feed and turns that were told",
    unit="s",
)
def time_of_passes(*, passes_planned: Number, one_pass: Number, pass_between: Number) -> Number:
    """Time of several passes of a bar, with what goes by between them.

    Parameters
    ----------
    passes_planned : Number
        Passes that are planned. [1], >= 0
    one_pass : Number
        Time of one pass under feed. [s], > 0
    pass_between : Number
        Setting and gauging by the pass; nought for cutting alone. [s], >= 0

    Returns
    -------
    Number
        Time. [s]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> time_of_passes(passes_planned=3, one_pass=45.0, pass_between=300.0)
    1035.0
    """
    not_negative("passes", passes_planned, "")
    positive("time of a pass", one_pass, "s")
    not_negative("setting and gauging", pass_between, "s")
    return passes_planned * (one_pass + pass_between)


@formula(
    name="power of a cut",
    expression="P = u Q, or F V",
    sources=("kalpakjian-schmid-2009",),
    validity="at the edge; the machine takes more",
    unit="W",
)
def cut_power(*, specific_energy: Number, removal: Number) -> Number:
    """Power that a cut takes at the edge.

    Parameters
    ----------
    specific_energy : Number
        Work by the volume that is cut; force by the area of the chip. [J/m^3], > 0
    removal : Number
        Volume that is cut by the second. [m^3/s], > 0

    Returns
    -------
    Number
        Power. [W]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    1 W s/mm3 is 1 GPa. Source: ``kalpakjian-schmid-2009``.

    Examples
    --------
    >>> round(cut_power(specific_energy=4e9, removal=1924.2e-9 / 60.0), 1)
    128.3
    """
    positive("specific energy", specific_energy, "J/m3")
    positive("removal", removal, "m3/s")
    return specific_energy * removal


@formula(
    name="torque of a cut",
    expression="T = P / (2 pi n)",
    sources=("derived",),
    validity="always",
    unit="N m",
)
def cut_torque(*, power: Number, turns: Number) -> Number:
    """Torque that a cut asks of the spindle.

    Parameters
    ----------
    power : Number
        Power at the edge. [W], > 0
    turns : Number
        Turns by the second. [1/s], > 0

    Returns
    -------
    Number
        Torque. [N m]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(cut_torque(power=128.3, turns=400.0 / 60.0), 2)
    3.06
    """
    positive("power", power, "W")
    positive("turns", turns, "1/s")
    return power / (2.0 * math.pi * turns)
