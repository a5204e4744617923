"""Single figures of a sweep or a lean: what its record holds, each as a number of its own.

A figure that the readings cannot tell is NaN.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.setup import Lean, OneSweep
from sleevewright.core.metrology.sweep import Sweep, place_sign


@formula(
    name="oval of a swept bore",
    expression="amplitude of the second harmonic",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def sweep_oval(*, sweep: Sweep) -> float:
    """How oval the bore is: half of the long less the short diameter, on radius.

    Parameters
    ----------
    sweep : Sweep
        The sweep. [record]

    Returns
    -------
    float
        Radial amplitude, NaN below six places. [m]

    Notes
    -----
    An offset e adds e^2 / (4 R) of oval that is not there. Source: ``derived``.

    Examples
    --------
    >>> import numpy as np
    >>> from sleevewright.core.metrology.sweep import Mount, sweep_offset
    >>> turns = np.arange(8) * 0.25 * np.pi
    >>> read = 3e-5 * np.cos(turns) + 1e-5 * np.cos(2.0 * turns) + 5e-6 * np.cos(3.0 * turns)
    >>> found = sweep_offset(turns, read, mount=Mount.SPINDLE)
    >>> round(sweep_oval(sweep=found), 9)
    1e-05
    """
    return math.nan if sweep.oval is None else sweep.oval


@formula(
    name="three lobes of a swept bore",
    expression="amplitude of the third harmonic",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def sweep_three_lobes(*, sweep: Sweep) -> float:
    """How far three lobes stand out of the round.

    Parameters
    ----------
    sweep : Sweep
        The sweep. [record]

    Returns
    -------
    float
        Radial amplitude, NaN below eight places. [m]

    Notes
    -----
    A gauge with two points does not see them. Source: ``derived``.

    Examples
    --------
    >>> import numpy as np
    >>> from sleevewright.core.metrology.sweep import Mount, sweep_offset
    >>> turns = np.arange(8) * 0.25 * np.pi
    >>> read = 3e-5 * np.cos(turns) + 1e-5 * np.cos(2.0 * turns) + 5e-6 * np.cos(3.0 * turns)
    >>> found = sweep_offset(turns, read, mount=Mount.SPINDLE)
    >>> round(sweep_three_lobes(sweep=found), 9)
    5e-06
    """
    return math.nan if sweep.three_lobed is None else sweep.three_lobed


@formula(
    name="form that a sweep leaves",
    expression="highest less lowest reading without the offset",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def sweep_form(*, sweep: Sweep) -> float:
    """What stays of the swing when the centre is under the spindle.

    Parameters
    ----------
    sweep : Sweep
        The sweep. [record]

    Returns
    -------
    float
        Peak to valley, radial. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> import numpy as np
    >>> from sleevewright.core.metrology.sweep import Mount, sweep_offset
    >>> turns = np.arange(8) * 0.25 * np.pi
    >>> read = 3e-5 * np.cos(turns) + 1e-5 * np.cos(2.0 * turns) + 5e-6 * np.cos(3.0 * turns)
    >>> found = sweep_offset(turns, read, mount=Mount.SPINDLE)
    >>> round(sweep_form(sweep=found), 7)
    2.5e-05
    """
    return sweep.form


@formula(
    name="offset of a sweep without scatter",
    expression="sqrt(max(0, offset^2 - u_x^2 - u_y^2))",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def sweep_unbiased(*, sweep: Sweep) -> float:
    """An offset less what scatter adds to it in the mean.

    Parameters
    ----------
    sweep : Sweep
        The sweep. [record]

    Returns
    -------
    float
        Offset, radial. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> import numpy as np
    >>> from sleevewright.core.metrology.sweep import Mount, sweep_offset
    >>> turns = np.arange(8) * 0.25 * np.pi
    >>> read = 3e-5 * np.cos(turns) + 1e-5 * np.cos(2.0 * turns) + 5e-6 * np.cos(3.0 * turns)
    >>> found = sweep_offset(turns, read, mount=Mount.SPINDLE)
    >>> round(sweep_unbiased(sweep=found), 7)
    3e-05
    """
    return sweep.offset_without


@formula(
    name="way that a bore leans",
    expression="atan2 of its parts",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="rad",
)
def lean_towards(*, lean: Lean) -> float:
    """Which way the upper end of the bore leans, counter-clockwise from +X.

    Parameters
    ----------
    lean : Lean
        How the bore leans. [record]

    Returns
    -------
    float
        Direction. [rad]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> lean_towards(lean=Lean(0.0, 1e-4, 0.0, 0.0, 0.0)) == 0.5 * math.pi
    True
    """
    return lean.towards


@dataclass(frozen=True)
class SeenPoints:
    """Readings where they stand on the bore, less its level: for a picture."""

    directions: tuple[float, ...]  # counter-clockwise from +X with the table at nought [rad]
    deviations: tuple[float, ...]  # positive where the wall is nearer [m]


@formula(
    name="readings where they stand on the bore",
    expression="direction = t on the spindle, -t on the table; deviation = reading - level",
    sources=("derived",),
    validity="as the sweep that it is part of",
    unit="m",
)
def seen_points(*, read: OneSweep, sweep: Sweep) -> SeenPoints:
    """Each reading with its direction on the bore, seen from above with the table at nought.

    Parameters
    ----------
    read : OneSweep
        Readings of the sweep. [record]
    sweep : Sweep
        The same taken apart. [record]

    Returns
    -------
    SeenPoints
        Directions and deviations, blanks left out. [m]

    Notes
    -----
    Where the table turns counter-clockwise, the place under the plunger goes clockwise round
    the bore. Source: ``derived``.

    Examples
    --------
    >>> from sleevewright.core.metrology.setup import swept
    >>> quarter = tuple(0.5 * math.pi * k for k in range(4))
    >>> one = OneSweep(quarter, (2e-5, 0.0, -2e-5, 0.0))
    >>> round(seen_points(read=one, sweep=swept(sweep=one)).deviations[0], 9)
    2e-05
    """
    sign = place_sign(mount=read.mount, sense=read.sense)
    pairs = [
        (sign * angle, reading - sweep.level)
        for angle, reading in zip(read.angles, read.readings, strict=True)
        if math.isfinite(reading)
    ]
    return SeenPoints(tuple(one for one, _ in pairs), tuple(two for _, two in pairs))
