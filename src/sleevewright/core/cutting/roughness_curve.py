"""The Rk family of a profile: how much of a wall is peak, how much carries, how much holds oil.

The heights of a profile, sorted from the highest down, are its material ratio curve: at 30 %
of the length the wall reaches at least so high.  The straight line of least slope through
40 % of that curve is the core; what stands above it becomes the reduced peaks, what lies
below it the reduced valleys, each as a triangle of the same area.  The profile is taken as
the tester filtered it: the filter of this family is the tester's and not done here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError

CORE = 0.4
"""Length of the secant that finds the core, as a share of the curve."""

FEWEST = 50
"""Heights that a curve of this kind needs at least."""

ALIKE = 1e-9
"""Secants whose drops differ by less than this share of the whole height are alike."""


@dataclass(frozen=True)
class RoughnessCurve:
    """The five numbers of a material ratio curve: heights in metres, ratios of one."""

    core: float  # Rk
    peaks: float  # Rpk
    valleys: float  # Rvk
    peak_ratio: float  # Mr1
    valley_ratio: float  # Mr2


def roughness_curve(heights: NDArray[np.float64]) -> RoughnessCurve:
    """Core, reduced peaks and reduced valleys of a profile with their material ratios.

    Parameters
    ----------
    heights : NDArray[np.float64]
        Heights of the filtered profile at even distances, shape (n_points,). [m]

    Returns
    -------
    RoughnessCurve
        Rk, Rpk, Rvk, Mr1, Mr2. [record]

    Raises
    ------
    InputError
        If there are fewer than 50 heights, one is not a number, or all are alike.

    Notes
    -----
    Of secants that drop alike the first from the top counts.  The core line is fitted to the
    curve over that secant by least squares of the heights.  Source: ``iso-13565-2``.

    Examples
    --------
    >>> found = roughness_curve(np.linspace(0.0, 4e-6, 4001))
    >>> f"{found.core:.3e} {found.peak_ratio:.3f} {found.valley_ratio:.3f}"
    '4.001e-06 0.000 1.000'
    """
    curve = _curve(heights)
    ratios = (np.arange(curve.size) + 0.5) / curve.size
    slope, top = _core_line(ratios, curve)
    floor = top + slope
    peak_ratio = _ratio_at(ratios, curve, top, curve[0] > top)
    valley_ratio = 1.0 - _ratio_at(1.0 - ratios[::-1], -curve[::-1], -floor, curve[-1] < floor)
    above = float(np.maximum(curve - top, 0.0).sum()) / curve.size
    below = float(np.maximum(floor - curve, 0.0).sum()) / curve.size
    return RoughnessCurve(
        core=top - floor,
        peaks=2.0 * above / peak_ratio if peak_ratio > 0.0 else 0.0,
        valleys=2.0 * below / (1.0 - valley_ratio) if valley_ratio < 1.0 else 0.0,
        peak_ratio=peak_ratio,
        valley_ratio=valley_ratio,
    )


def _curve(heights: NDArray[np.float64]) -> NDArray[np.float64]:
    """Heights from the highest down, refused where they are no profile."""
    if heights.ndim != 1 or heights.size < FEWEST:
        raise InputError("profile", f"{heights.size} heights", "", f"at least {FEWEST} heights")
    if not np.isfinite(heights).all():
        raise InputError("profile", "not a number", "", "numbers alone")
    curve = np.sort(heights)[::-1]
    if not curve[0] > curve[-1]:
        raise InputError("profile", "one height alone", "", "heights that differ")
    return curve


def _core_line(ratios: NDArray[np.float64], curve: NDArray[np.float64]) -> tuple[float, float]:
    """Slope and height at nought of the line through the flattest 40 % of the curve."""
    reach = min(curve.size - 1, max(2, round(CORE * curve.size)))
    drops = curve[:-reach] - curve[reach:]
    least = float(drops.min()) + ALIKE * float(curve[0] - curve[-1])
    start = int(np.argmax(drops <= least))
    x, y = ratios[start : start + reach + 1], curve[start : start + reach + 1]
    centred = x - x.mean()
    slope = float(centred @ (y - y.mean()) / (centred @ centred))
    return slope, float(y.mean() - slope * x.mean())


def _ratio_at(
    ratios: NDArray[np.float64], curve: NDArray[np.float64], height: float, is_crossed: bool
) -> float:
    """Material ratio at which a falling curve comes down to a height; nought where it never is."""
    if not is_crossed:
        return 0.0
    after = int(np.argmax(curve <= height))
    high, low = curve[after - 1], curve[after]
    share = 0.0 if high == low else (high - height) / (high - low)
    return float(ratios[after - 1] + share * (ratios[after] - ratios[after - 1]))
