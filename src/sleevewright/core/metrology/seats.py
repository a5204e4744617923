"""Four readings of a seat: how uneven it is, and how far from where it was to be. Axial."""

from __future__ import annotations

import numpy as np

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.errors import InputError


@formula(
    name="spread of a seat",
    expression="largest reading - smallest reading",
    sources=("derived",),
    validity="readings of one flat face",
    unit="m",
)
def seat_spread(*, readings: GridReadings) -> float:
    """Largest less smallest of the readings of a ledge or a flange.

    Parameters
    ----------
    readings : GridReadings
        What was read, blanks as NaN. [m]

    Returns
    -------
    float
        Spread, axial. [m]

    Raises
    ------
    InputError
        If there are fewer than two readings.

    Notes
    -----
    Source: ``derived``.
    """
    read = _known(readings)
    return float(np.ptp(read))


@formula(
    name="how far a flange stands from its plan",
    expression="largest |reading - planned|",
    sources=("derived",),
    validity="readings above the deck, planned stand-out above the deck",
    unit="m",
)
def seat_miss(*, readings: GridReadings, planned: float) -> float:
    """How far the worst of the readings lies from the stand-out that was planned.

    Parameters
    ----------
    readings : GridReadings
        Stand-out as read, blanks as NaN. [m]
    planned : float
        Stand-out that was planned. [m]

    Returns
    -------
    float
        Farthest from the plan, axial. [m]

    Raises
    ------
    InputError
        If there are fewer than two readings.

    Notes
    -----
    Source: ``derived``.
    """
    return float(np.abs(_known(readings) - planned).max())


@formula(
    name="how deep a flange sits",
    expression="deep = planned - mean of the readings",
    sources=("derived",),
    validity="readings all round, so that a tilt falls out of the mean",
    unit="m",
)
def seat_depth(*, readings: GridReadings, planned: float) -> float:
    """How much deeper than planned the flange sits, on the mean of its readings.

    Parameters
    ----------
    readings : GridReadings
        Stand-out as read, blanks as NaN. [m]
    planned : float
        Stand-out that was planned. [m]

    Returns
    -------
    float
        Deeper by, negative where prouder, axial. [m]

    Raises
    ------
    InputError
        If there are fewer than two readings.

    Notes
    -----
    Source: ``derived``.
    """
    return planned - float(_known(readings).mean())


def _known(readings: GridReadings) -> np.ndarray:
    read = readings.readings[np.isfinite(readings.readings)]
    if read.size < 2:
        raise InputError("readings of a seat", int(read.size), "", "two or more; four are usual")
    return read
