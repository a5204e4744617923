"""Mean and peak-to-valley heights of a profile, and what one tells of the other.

Ra and Rq are over the whole evaluation length, Rz is the mean of the five peak-to-valley
heights of its five section lengths.  The profile is taken as the tester filtered it; only a
straight lean is taken off here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, positive
from sleevewright.core.cutting.roughness_curve import FEWEST
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

SECTIONS = 5
"""Section lengths in an evaluation length."""

RZ_BY_RA = (4.0, 7.0)
"""How many times Ra the Rz of a honed or turned wall is, as a range: no one factor holds."""

_MICRON = 1e-6
SECTION_LENGTHS = (
    (0.02 * _MICRON, 0.08e-3),
    (0.1 * _MICRON, 0.25e-3),
    (2.0 * _MICRON, 0.8e-3),
    (10.0 * _MICRON, 2.5e-3),
    (80.0 * _MICRON, 8.0e-3),
)
"""Up to which Ra a section length (cut-off) stands by default. [m], [m]"""


@dataclass(frozen=True)
class ProfileHeights:
    """Heights of one profile, in metres."""

    mean: float  # Ra
    root_mean_square: float  # Rq
    peak_to_valley: float  # Rz
    highest: float  # largest peak to deepest valley of the whole evaluation length, Rt


def profile_heights(heights: NDArray[np.float64]) -> ProfileHeights:
    """Ra, Rq, Rz and Rt of a sampled profile over five section lengths.

    Parameters
    ----------
    heights : NDArray[np.float64]
        Heights at even distances over the whole evaluation length, shape (n_points,). [m]

    Returns
    -------
    ProfileHeights
        The four heights. [record]

    Raises
    ------
    InputError
        If there are fewer than 50 heights or one is not a number.

    Notes
    -----
    A least-squares straight line is taken off first; each section's Rz is its highest less its
    lowest height.  Source: ``iso-21920-2``.

    Examples
    --------
    >>> turns = np.linspace(0.0, 50.0 * np.pi, 10001)
    >>> found = profile_heights(1e-6 * np.sin(turns))
    >>> f"{found.mean:.2e} {found.peak_to_valley:.2e}"
    '6.37e-07 2.00e-06'
    """
    if heights.ndim != 1 or heights.size < FEWEST:
        raise InputError("profile", f"{heights.size} heights", "", f"at least {FEWEST} heights")
    if not np.isfinite(heights).all():
        raise InputError("profile", "not a number", "", "numbers alone")
    places = np.arange(heights.size) - (heights.size - 1) / 2.0
    lean = places @ heights / (places @ places)
    level = heights - heights.mean() - lean * places
    sections = np.array_split(level, SECTIONS)
    return ProfileHeights(
        mean=float(np.abs(level).mean()),
        root_mean_square=float(np.sqrt(np.square(level).mean())),
        peak_to_valley=float(np.mean([one.max() - one.min() for one in sections])),
        highest=float(level.max() - level.min()),
    )


@formula(
    name="section length of a roughness profile",
    expression="l by table of Ra; five of them are evaluated",
    sources=("iso-21920-3",),
    validity="Ra up to 80 um",
    unit="m",
)
def section_length(mean_height: float) -> float | None:
    """Section length that stands by default for a wall of some Ra.

    Parameters
    ----------
    mean_height : float
        Ra, as expected or as measured. [m], > 0

    Returns
    -------
    float | None
        Section length; nothing above the table. [m]

    Raises
    ------
    InputError
        If Ra is not positive.

    Notes
    -----
    Five of them are the evaluation length. Source: ``iso-21920-3``.

    Examples
    --------
    >>> section_length(0.5e-6)
    0.0008
    """
    positive("Ra", mean_height, "m")
    return next((length for most, length in SECTION_LENGTHS if mean_height <= most), None)


@formula(
    name="least Rz that a Ra can mean",
    expression="Rz = 4 Ra",
    sources=("practice",),
    validity="honed or bored walls; one profile of the same Ra can lie outside",
    unit="m",
)
def least_peak_to_valley(mean_height: Number) -> Number:
    """Lower end of the Rz that goes with a Ra.

    Parameters
    ----------
    mean_height : Number
        Ra. [m]

    Returns
    -------
    Number
        Rz, at least. [m]

    Raises
    ------
    InputError
        If Ra is not positive.

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> round(least_peak_to_valley(0.5e-6) * 1e6, 9)
    2.0
    """
    return RZ_BY_RA[0] * positive("Ra", mean_height, "m")


@formula(
    name="greatest Rz that a Ra can mean",
    expression="Rz = 7 Ra",
    sources=("practice",),
    validity="honed or bored walls; one profile of the same Ra can lie outside",
    unit="m",
)
def greatest_peak_to_valley(mean_height: Number) -> Number:
    """Upper end of the Rz that goes with a Ra.

    Parameters
    ----------
    mean_height : Number
        Ra. [m]

    Returns
    -------
    Number
        Rz, at most. [m]

    Raises
    ------
    InputError
        If Ra is not positive.

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> round(greatest_peak_to_valley(0.5e-6) * 1e6, 9)
    3.5
    """
    return RZ_BY_RA[1] * positive("Ra", mean_height, "m")
