"""Was the fit obtained: the close-up against what the fit says, over all and by station.

On diameter.  What the stations share is one error of all of them: it parts none of them from
its neighbours, and is never averaged away.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.fits.closeups import StationCloseUps
from sleevewright.core.fits.posterior import NEVER_FINER, Prior, close_up_covariance
from sleevewright.core.formulas import formula

Array = NDArray[np.float64]


@formula(
    name="surprise of the close-ups",
    expression="z = g' T^-1 (b - b_0) / sqrt(g' T^-1 g); of one: (b - K i)/sqrt(u_b^2 + K^2 u_i^2 "
    "+ i^2 u_K^2)",
    sources=("derived", "iso-14253-1"),
    validity="T holds all doubts of measured less expected; small doubt of K",
    unit="1",
)
def fit_surprise(
    *, prior: Prior, stations: StationCloseUps, ratio: float, ratio_standard: float
) -> float:
    """By how many standard uncertainties the bore closed otherwise than its fit says.

    Parameters
    ----------
    prior : Prior
        The fit as measured. [record]
    stations : StationCloseUps
        How far the bore closed, by station. [record]
    ratio : float
        Close-up over effective interference. [1]
    ratio_standard : float
        Relative standard uncertainty of the ratio. [1]

    Returns
    -------
    float
        Surprise; far below zero the fit was not obtained, far above it is tighter. [1]

    Notes
    -----
    Of one station (b - K i)/sqrt(u_b^2 + K^2 u_i^2 + i^2 u_K^2); of several along the common
    close-up, each by its weight. Source: ``derived``; as a rule of decision, ``iso-14253-1``.
    """
    a = ratio * stations.factors
    tight = a * (prior.interference - prior.roughness_loss)
    total = close_up_covariance(
        standards=stations.standards,
        shared=prior.shared,
        ratio_standard=ratio_standard,
        predicted=tight,
    )
    total += prior.standard**2 * np.outer(a, a) - prior.covariance * (a[:, None] + a[None, :])
    weights = np.linalg.solve(total, stations.factors)
    off = stations.means - tight
    return float(weights @ off / np.sqrt(weights @ stations.factors))


@dataclass(frozen=True, eq=False)
class StationFit:
    """What one station says by itself of the fit there.

    ``own`` is its doubt by its own readings alone, ``standard`` with what all share;
    ``off`` is how far it lies from the other stations, ``surprise`` that in its doubt.
    """

    depth: float
    fit: float
    standard: float
    own: float
    off: float
    surprise: float


@formula(
    name="fit by station",
    expression="i_s = b_s/(K g_s) + loss; against the mean of the others by their own readings",
    sources=("derived",),
    validity="K, setting and temperature are common, so they do not part the stations",
    unit="m",
)
def station_fits(
    *, prior: Prior, stations: StationCloseUps, ratio: float, ratio_standard: float
) -> tuple[StationFit, ...]:
    """The fit at each station by its close-up alone, and against its neighbours.

    Parameters
    ----------
    prior : Prior
        The fit as measured; only its loss and what the gauge shares are used. [record]
    stations : StationCloseUps
        How far the bore closed, by station. [record]
    ratio : float
        Close-up over effective interference. [1]
    ratio_standard : float
        Relative standard uncertainty of the ratio. [1]

    Returns
    -------
    tuple[StationFit, ...]
        One for each station, from the deck downwards. [record]

    Notes
    -----
    Source: ``derived``.
    """
    a = ratio * stations.factors
    tight = stations.means / a
    own = np.maximum(stations.standards, NEVER_FINER) / a
    whole = np.sqrt(own**2 + (prior.shared / a) ** 2 + (ratio_standard * tight) ** 2)
    found = []
    for at, depth in enumerate(stations.depths):
        off, surprise = _apart(tight, own, at)
        fit = float(tight[at]) + prior.roughness_loss
        found.append(StationFit(float(depth), fit, float(whole[at]), float(own[at]), off, surprise))
    return tuple(found)


def _apart(fits: Array, own: Array, at: int) -> tuple[float, float]:
    """How far one lies from the weighted mean of the others, and that in its doubt."""
    if fits.size < 2:
        return 0.0, 0.0
    others = np.arange(fits.size) != at
    weights = own[others] ** -2.0
    mean = float(weights @ fits[others] / weights.sum())
    off = float(fits[at]) - mean
    return off, off / float(np.hypot(own[at], weights.sum() ** -0.5))
