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
from sleevewright.core.metrology.sweep import Mount, Sweep, sweep_offset


@dataclass(frozen=True)
class TwoSweeps:
    """Readings at the same angles at two depths; NaN where nothing was read.

    Parameters
    ----------
    angles : tuple[float, ...]
        Counter-clockwise from +X. [rad]
    upper : tuple[float, ...]
        Indicator at the upper depth, positive where pushed in. [m]
    lower : tuple[float, ...]
        The same at the lower depth. [m]
    apart : float
        Distance between the two depths. [m]
    mount : Mount
        What turned.
    """

    angles: tuple[float, ...]
    upper: tuple[float, ...]
    lower: tuple[float, ...]
    apart: float
    mount: Mount = Mount.SPINDLE


def _taken(sweeps: TwoSweeps, readings: tuple[float, ...]) -> Sweep:
    """One sweep, blanks left out."""
    angles, read = np.array(sweeps.angles), np.array(readings)
    known = np.isfinite(read)
    return sweep_offset(angles[known], read[known], mount=sweeps.mount)


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
    return max(_taken(sweeps, sweeps.upper).offset, _taken(sweeps, sweeps.lower).offset)


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
    positive("distance between the depths", sweeps.apart, "m")
    upper, lower = _taken(sweeps, sweeps.upper), _taken(sweeps, sweeps.lower)
    return math.hypot(upper.move_x - lower.move_x, upper.move_y - lower.move_y) / sweeps.apart
