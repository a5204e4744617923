"""Set-up of a casting from two sweeps: how far off the spindle, and how much it leans.

Offsets are radial, half of the swing.  The lean is the change of the centre between the
two depths, by the distance between them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.sweep import Mount, Sense, Sweep, sweep_offset
from sleevewright.errors import InputError


@dataclass(frozen=True)
class OneSweep:
    """Readings round the bore at one depth; NaN where nothing was read.

    Parameters
    ----------
    angles : tuple[float, ...]
        From +X, seen from above. [rad]
    readings : tuple[float, ...]
        Indicator, positive where pushed in, square to the wall. [m]
    mount : Mount
        What turned.
    sense : Sense
        Which way round the angles are counted.
    standard : float
        Standard uncertainty of one reading; 0 where it is not known. [m]
    """

    angles: tuple[float, ...]
    readings: tuple[float, ...]
    mount: Mount = Mount.SPINDLE
    sense: Sense = Sense.COUNTER
    standard: float = 0.0


@dataclass(frozen=True)
class TwoSweeps:
    """Readings at two depths; NaN where nothing was read.

    Parameters
    ----------
    angles : tuple[float, ...]
        Of both sweeps, from +X, seen from above. [rad]
    upper : tuple[float, ...]
        Indicator at the upper depth, positive where pushed in. [m]
    lower : tuple[float, ...]
        The same at the lower depth. [m]
    apart : float
        Distance between the two depths. [m]
    mount : Mount
        What turned.
    sense : Sense
        Which way round the angles are counted.
    lower_angles : tuple[float, ...] | None
        Angles of the lower sweep where they are others. [rad]
    standards : tuple[float, float]
        Standard uncertainty of one reading, upper and lower. [m]
    indicators : tuple[str, str]
        Which indicator each was read with, as far as it was told.
    """

    angles: tuple[float, ...]
    upper: tuple[float, ...]
    lower: tuple[float, ...]
    apart: float
    mount: Mount = Mount.SPINDLE
    sense: Sense = Sense.COUNTER
    lower_angles: tuple[float, ...] | None = None
    standards: tuple[float, float] = (0.0, 0.0)
    indicators: tuple[str, str] = ("", "")

    @property
    def top(self) -> OneSweep:
        """The upper sweep alone."""
        return OneSweep(self.angles, self.upper, self.mount, self.sense, self.standards[0])

    @property
    def bottom(self) -> OneSweep:
        """The lower sweep alone."""
        angles = self.angles if self.lower_angles is None else self.lower_angles
        return OneSweep(angles, self.lower, self.mount, self.sense, self.standards[1])


@dataclass(frozen=True)
class Lean:
    """How the bore leans: its centre at the top against that at the bottom, by length.

    ``lean_x`` and ``lean_y`` are where it leans to, from its lower end upwards.
    """

    lean_x: float
    lean_y: float
    standard_x: float
    standard_y: float
    standard: float  # along the direction that is known worse

    @property
    def amount(self) -> float:
        """How much, whichever way."""
        return math.hypot(self.lean_x, self.lean_y)

    @property
    def towards(self) -> float:
        """Direction that it leans to, counter-clockwise from +X."""
        return math.atan2(self.lean_y, self.lean_x)


@formula(
    name="one sweep, blanks left out",
    expression="as the sweep of a bore",
    sources=("derived",),
    validity="as the sweep of a bore",
    unit="m",
)
def swept(*, sweep: OneSweep) -> Sweep:
    """A sweep taken apart, places that were not read left out.

    Parameters
    ----------
    sweep : OneSweep
        Readings at one depth. [record]

    Returns
    -------
    Sweep
        Offset, form and doubt. [m]

    Raises
    ------
    InputError
        If too few places were read.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> quarter = tuple(0.5 * math.pi * k for k in range(4))
    >>> round(swept(sweep=OneSweep(quarter, (2e-5, 0.0, -2e-5, 0.0))).move_x, 9)
    2e-05
    """
    angles, read = np.array(sweep.angles), np.array(sweep.readings)
    known = np.isfinite(read)
    return sweep_offset(
        angles[known],
        read[known],
        mount=sweep.mount,
        reading_standard=sweep.standard,
        sense=sweep.sense,
    )


def both_swept(sweeps: TwoSweeps) -> tuple[Sweep, Sweep]:
    """Both sweeps taken apart; two indicators do not make one lean.

    Parameters
    ----------
    sweeps : TwoSweeps
        Both sweeps. [record]

    Returns
    -------
    tuple[Sweep, Sweep]
        Upper and lower. [m]

    Raises
    ------
    InputError
        If a sweep has too few readings or two indicators were used.
    """
    first, second = sweeps.indicators
    if first and second and first != second:
        raise InputError(
            "indicator of the two sweeps",
            f"{first} at the top, {second} at the bottom",
            "",
            "one indicator for both",
            "Sweep both depths again with one of them.",
        )
    return swept(sweep=sweeps.top), swept(sweep=sweeps.bottom)


@formula(
    name="offset of a set-up",
    expression="larger of both sweeps' offsets, each half of its swing",
    sources=("derived",),
    validity="sweeps of a bore that is round against its offset",
    unit="m",
)
def setup_offset(*, sweeps: TwoSweeps) -> float:
    """How far the bore's centre stands off the spindle, at the worse of two depths.

    Parameters
    ----------
    sweeps : TwoSweeps
        Both sweeps. [record]

    Returns
    -------
    float
        Offset, radial. [m]

    Raises
    ------
    InputError
        If a sweep has too few readings.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> quarter = tuple(0.5 * math.pi * k for k in range(4))
    >>> two = TwoSweeps(quarter, (2e-5, 0.0, -2e-5, 0.0), (1e-5, 0.0, -1e-5, 0.0), 0.05)
    >>> round(setup_offset(sweeps=two), 9)
    2e-05
    """
    return max(one.offset for one in both_swept(sweeps))


@formula(
    name="lean of a set-up",
    expression="|centre above - centre below| / distance",
    sources=("derived",),
    validity="both sweeps taken without moving the casting",
    unit="1",
)
def setup_tilt(*, sweeps: TwoSweeps) -> float:
    """How much the bore leans against the spindle.

    Parameters
    ----------
    sweeps : TwoSweeps
        Both sweeps. [record]

    Returns
    -------
    float
        Lean, radial by length. [1]

    Raises
    ------
    InputError
        If a sweep has too few readings, or the depths are the same.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> quarter = tuple(0.5 * math.pi * k for k in range(4))
    >>> two = TwoSweeps(quarter, (2e-5, 0.0, -2e-5, 0.0), (1e-5, 0.0, -1e-5, 0.0), 0.05)
    >>> round(setup_tilt(sweeps=two), 9)
    0.0002
    """
    return setup_lean(sweeps=sweeps).amount


@formula(
    name="direction of the lean",
    expression="(move below - move above) / distance",
    sources=("derived",),
    validity="both sweeps taken without moving the casting",
    unit="1",
)
def setup_lean(*, sweeps: TwoSweeps) -> Lean:
    """Which way and how much the bore leans, with its doubt.

    Parameters
    ----------
    sweeps : TwoSweeps
        Both sweeps. [record]

    Returns
    -------
    Lean
        Radial by length, towards the side that the upper end leans to. [1]

    Raises
    ------
    InputError
        If a sweep has too few readings, two indicators were used, or the depths are the same.

    Notes
    -----
    The centre lies opposite to the move. Source: ``derived``.

    Examples
    --------
    >>> quarter = tuple(0.5 * math.pi * k for k in range(4))
    >>> two = TwoSweeps(quarter, (2e-5, 0.0, -2e-5, 0.0), (1e-5, 0.0, -1e-5, 0.0), 0.05)
    >>> round(setup_lean(sweeps=two).lean_x, 9)
    -0.0002
    """
    positive("distance between the depths", sweeps.apart, "m")
    upper, lower = both_swept(sweeps)
    far = sweeps.apart
    return Lean(
        lean_x=(lower.move_x - upper.move_x) / far,
        lean_y=(lower.move_y - upper.move_y) / far,
        standard_x=math.hypot(upper.standard_x, lower.standard_x) / far,
        standard_y=math.hypot(upper.standard_y, lower.standard_y) / far,
        standard=math.hypot(upper.move_doubt, lower.move_doubt) / far,
    )
