"""Where to dwell with a hone so that a bore comes out straight, and how many short strokes.

From the mean size of each depth.  Depths count from the deck downwards, sizes are diametral
at 20 degC.  What lies within doubt is left alone: short strokes on scatter make a taper.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.profile import Profile

Array = NDArray[np.float64]

THIRDS = ("top", "middle", "bottom")
SHORT = 0.5
"""Travel of a short stroke as a share of the stone."""

_MIDDLE = 1
CERTAIN = 1.96
"""Standard uncertainties that a third must lack before it is dwelt in."""


@dataclass(frozen=True)
class DwellPlace:
    """A third of the bore that is small: how much it lacks, and the short strokes for it."""

    where: str
    depth: float  # of its middle
    lack: float  # against the largest third, diametral
    strokes: float


@dataclass(frozen=True, eq=False)
class DwellPlan:
    """How the bore stands by depth, and where to dwell; no place where all is in doubt."""

    depths: Array
    means: Array
    bore_length: float
    places: tuple[DwellPlace, ...]
    is_told: bool  # whether the readings show any shape at all


@formula(
    name="what a short stroke takes",
    expression="r_short = r L / min(L, l + s - o), s = l/2",
    sources=("derived", "practice"),
    validity="the stones take the same volume a stroke wherever they go: a guide; gauge again",
    unit="m",
)
def short_stroke_rate(
    *, rate: float, bore_length: float, stone_length: float, overrun: float
) -> float:
    """What one short stroke takes where it is made, from what a full stroke takes everywhere.

    Parameters
    ----------
    rate : float
        What a full stroke takes, diametral. [m]
    bore_length : float
        Length that is honed. [m]
    stone_length : float
        Length of the stones. [m]
    overrun : float
        How far the stones stand out of the end that they dwell at; 0 in the middle. [m]

    Returns
    -------
    float
        What a short stroke takes, diametral. [m]

    Raises
    ------
    InputError
        If a length or the rate is not positive or the overrun is negative.

    Notes
    -----
    A short stroke travels half of the stone. At the same pressure and speed the volume a
    stroke is the same, on a shorter piece of wall. Source: ``derived`` from that, which is
    ``practice``.

    Examples
    --------
    >>> short = short_stroke_rate(rate=1e-6, bore_length=0.090, stone_length=0.040, overrun=0.012)
    >>> round(short * 1e6, 3)
    1.875
    """
    positive("rate", rate, "m")
    positive("stone length", stone_length, "m")
    not_negative("overrun", overrun, "m")
    reached = (1.0 + SHORT) * stone_length - overrun
    length = positive("bore length", bore_length, "m")
    return rate * length / min(length, positive("reach of a short stroke", reached, "m"))


@formula(
    name="where to dwell",
    expression="lack = largest third - third; n = floor(lack / r_short) where lack > 1.96 u",
    sources=("derived", "practice"),
    validity="a shape that the readings show beyond doubt; thirds that were read",
    unit="m",
)
def dwell_plan(
    *,
    profile: Profile,
    rate: float,
    bore_length: float,
    stone_length: float,
    overrun: float,
) -> DwellPlan:
    """Which thirds of the bore are small, and how many short strokes each is worth.

    Parameters
    ----------
    profile : Profile
        Mean size by depth, with the shapes that it shows. [m]
    rate : float
        What a full stroke takes, diametral. [m]
    bore_length : float
        Length that is honed. [m]
    stone_length : float
        Length of the stones. [m]
    overrun : float
        How far the stones stand out of an end. [m]

    Returns
    -------
    DwellPlan
        Places with their lack and strokes; none where no shape is beyond doubt. [m]

    Raises
    ------
    InputError
        If a length or the rate is not positive or the overrun is negative.

    Notes
    -----
    The named shapes decide whether anything is done, so that a straight bore is dwelt in
    at most one time in twenty. Stones that dwell at an end and are longer than a third
    reach into the middle: what they take there is taken off its lack. Source: ``derived``,
    the thirds ``practice``.
    """
    length = positive("bore length", bore_length, "m")
    is_told = bool(profile.named) or profile.is_uneven
    bare = DwellPlan(profile.depths, profile.means, length, (), is_told)
    if not is_told:
        return bare
    index = np.clip(np.floor(3.0 * profile.depths / length), 0, 2).astype(np.intp)
    sizes = {one: float(profile.means[index == one].mean()) for one in set(index.tolist())}
    largest = max(sizes.values())
    lacks = {one: largest - size for one, size in sizes.items()}
    lacks = {one: lack for one, lack in lacks.items() if lack > CERTAIN * profile.change_standard}
    found, beyond = [], 0.0
    for one in sorted(lacks, key=lambda third: third == _MIDDLE):  # the ends first
        out = 0.0 if one == _MIDDLE else overrun
        short = short_stroke_rate(
            rate=rate, bore_length=length, stone_length=stone_length, overrun=out
        )
        strokes = float(np.floor(max(lacks[one] - beyond * (one == _MIDDLE), 0.0) / short))
        if strokes >= 1.0:
            middle = (one + 0.5) * length / 3.0
            found.append(DwellPlace(THIRDS[one], middle, lacks[one], strokes))
            reach = (1.0 + SHORT) * stone_length - out - length / 3.0
            beyond += strokes * short * float(np.clip(3.0 * reach / length, 0.0, 1.0))
    found.sort(key=lambda place: place.depth)
    return DwellPlan(profile.depths, profile.means, length, tuple(found), is_told)


@formula(
    name="where to dwell, in words",
    expression="short strokes by third, then full length",
    sources=("practice",),
    validity="as where to dwell",
    unit="text",
)
def dwell_words(*, dwell: DwellPlan) -> str:
    """Where to dwell, in words.

    Parameters
    ----------
    dwell : DwellPlan
        Where to dwell. [record]

    Returns
    -------
    str
        What to do; never a figure that rests on scatter. [text]

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> dwell = DwellPlan(np.array([0.02, 0.07]), np.array([0.06, 0.05999]), 0.09,
    ...     (DwellPlace("bottom", 0.075, 10e-6, 12.0),), True)
    >>> dwell_words(dwell=dwell)
    '12 short strokes in the bottom third, then full length'
    """
    if not dwell.is_told:
        return "leave it: no taper beyond doubt, full length only"
    if not dwell.places:
        return "full length only: no third is worth a short stroke"
    said = " and ".join(
        f"{one.strokes:.0f} short stroke{'s' if one.strokes > 1 else ''} in the {one.where} third"
        for one in dwell.places
    )
    return f"{said}, then full length"
