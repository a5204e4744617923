"""What the close-up says of the fit: measured before the drop, told again by the bore.

The fit as measured is a normal prior; each station's close-up is a normal measurement of it,
b = K g (i - loss) + e.  What the stations share (the gauge's setting, and K) is one error of
all of them, so that more stations never average it away.  All is diametral.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import finite, positive
from sleevewright.core.fits.closeups import StationCloseUps
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError, NotConverged

Array = NDArray[np.float64]

MOST_STEPS = 50
STEP_WANTED = 1e-12
"""The closed form has settled when the fit moves by less. [m]"""
LEAST_EFFECTIVE = 30.0
"""Fewer of the samples of K that still count give no answer. [1]"""
PARTS = 50
"""Normals that a mixture is kept as. [1]"""
NEVER_FINER = 1e-9
"""Doubt of a station that was told to have none: a millionth of a millimetre. [m]"""


@dataclass(frozen=True)
class Prior:
    """The fit as measured, and what its close-up shares with the gauge.

    Parameters
    ----------
    interference : float
        Interference as measured, diametral. [m]
    standard : float
        Its standard uncertainty. [m]
    roughness_loss : float
        What flattening takes off before anything presses, diametral. [m]
    shared : float
        Standard uncertainty that all close-ups share: setting, temperature. [m]
    covariance : float
        Of the error of the interference with that shared error, where one setting is in
        both. [m^2]
    """

    interference: float
    standard: float
    roughness_loss: float = 0.0
    shared: float = 0.0
    covariance: float = 0.0

    def __post_init__(self) -> None:
        """Refuse doubts that cannot be."""
        finite("interference", self.interference, "m")
        positive("doubt of the fit", self.standard, "m")
        if not self.shared >= 0.0:
            raise InputError("shared doubt", self.shared, "m", "nought or more")
        if abs(self.covariance) > self.shared * self.standard:
            allowed = f"at most {self.shared * self.standard:.3g} m^2, the product of both doubts"
            raise InputError("covariance", self.covariance, "m^2", allowed)


@dataclass(frozen=True, eq=False)
class FitPosterior:
    """The fit by measurement and close-up together: a mixture of normals over what K may be.

    Parameters
    ----------
    means : Array
        Mean of each part, shape (n_parts,). [m]
    standards : Array
        Standard deviation of each part, shape (n_parts,). [m]
    weights : Array
        Weight of each part, of sum 1, shape (n_parts,). [1]
    """

    means: Array
    standards: Array
    weights: Array

    @property
    def mean(self) -> float:
        """Mean of the fit, in metres."""
        return float(self.weights @ self.means)

    @property
    def standard(self) -> float:
        """Standard deviation of the fit, in metres."""
        spread = self.standards**2 + (self.means - self.mean) ** 2
        return float(np.sqrt(self.weights @ spread))

    def below(self, limit: float) -> float:
        """Chance that the fit is below a limit."""
        from scipy.special import ndtr

        return float(self.weights @ ndtr((limit - self.means) / self.standards))

    def quantile(self, share: float) -> float:
        """The fit that this share lies below, in metres."""
        from scipy.optimize import brentq

        reach = 12.0 * self.standard
        low, high = self.mean - reach, self.mean + reach
        found = brentq(lambda x: self.below(x) - share, low, high, xtol=1e-15, rtol=1e-12)
        return float(found)


@formula(
    name="covariance of close-ups",
    expression="V = diag(u_s^2) + u_g^2 + u_K^2 c_s c_t, c = K g (i - loss), u_K relative",
    sources=("jcgm-100", "derived"),
    validity="the ratio K and the gauge's setting are one error of all stations",
    unit="m^2",
)
def close_up_covariance(
    *, standards: Array, shared: float, ratio_standard: float, predicted: Array
) -> Array:
    """Covariance of the close-ups of several stations.

    Parameters
    ----------
    standards : Array
        Doubt of each station by its own readings, shape (n_stations,). [m]
    shared : float
        Doubt that all stations share by the gauge. [m]
    ratio_standard : float
        Relative standard uncertainty of the ratio of close-up to fit. [1]
    predicted : Array
        Close-up to expect at each station, shape (n_stations,). [m]

    Returns
    -------
    Array
        Covariance, shape (n_stations, n_stations). [m^2]

    Notes
    -----
    Stations taken for independent would make the mean of many far too good. Source:
    ``jcgm-100`` 5.2, F.1.2; ``derived``.
    """
    own = np.diag(np.maximum(standards, NEVER_FINER) ** 2)
    whole: Array = own + shared**2 + ratio_standard**2 * np.outer(predicted, predicted)
    return whole


@formula(
    name="fit by its close-up, closed form",
    expression="1/u^2 = 1/u_i^2 + a' V^-1 a, i = u^2 (i_0/u_i^2 + a' V^-1 (b + a loss)), a = K g",
    sources=("jcgm-106", "derived"),
    validity="the doubt of K is normal and small; V taken at the fit that comes out",
    unit="m",
)
def fit_from_close_ups(
    *, prior: Prior, stations: StationCloseUps, ratio: float, ratio_standard: float
) -> FitPosterior:
    """The fit by its measurement and its close-ups, all taken as normal.

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
    FitPosterior
        One normal. [m]

    Raises
    ------
    NotConverged
        If the fit at which the doubt is taken does not settle.

    Notes
    -----
    Product of two normals; the width by one station is sqrt(u_b^2 + i^2 u_K^2)/K. Source:
    ``jcgm-106`` 6 (Bayes' theorem for a measurement); the stations' covariance, ``derived``.
    """
    positive("ratio of close-up to fit", ratio, "1")
    a = ratio * stations.factors
    found, step = prior.interference, np.inf
    for _ in range(MOST_STEPS):
        tight = a * (found - prior.roughness_loss)
        whole = close_up_covariance(
            standards=stations.standards,
            shared=prior.shared,
            ratio_standard=ratio_standard,
            predicted=tight,
        )
        mean, standard, _chance = _updated(prior, stations, a[None, :], whole)
        step, found = abs(float(mean[0]) - found), float(mean[0])
        if step < STEP_WANTED:
            return FitPosterior(mean, standard, np.ones(1))
    raise NotConverged("fit by its close-up", MOST_STEPS, step, STEP_WANTED)


def _updated(
    prior: Prior, stations: StationCloseUps, a: Array, covariance: Array
) -> tuple[Array, Array, Array]:
    """Mean, standard deviation and log likelihood for each row of slopes ``a``."""
    off = stations.means - a * (prior.interference - prior.roughness_loss)
    cross = prior.standard**2 * a - prior.covariance  # of the fit with each close-up
    total = (
        covariance
        + prior.standard**2 * a[:, :, None] * a[:, None, :]
        - prior.covariance * (a[:, :, None] + a[:, None, :])
    )
    lower = np.linalg.cholesky(total)
    white = np.linalg.solve(lower, off[..., None])[..., 0]
    gain = np.linalg.solve(lower, cross[..., None])[..., 0]
    mean = prior.interference + (gain * white).sum(axis=1)
    left = prior.standard**2 - (gain**2).sum(axis=1)
    standard = np.sqrt(np.maximum(left, (1e-6 * prior.standard) ** 2))
    diagonal = np.diagonal(lower, axis1=1, axis2=2)
    chance = -0.5 * (white**2).sum(axis=1) - np.log(diagonal).sum(axis=1)
    return mean, standard, chance


@formula(
    name="fit by its close-up",
    expression="sum over samples of K: w_k N(i | K_k), w_k as likely as K_k makes the close-ups",
    sources=("jcgm-106", "derived"),
    validity="K by its samples, of any shape; one fit over the stations that count",
    unit="m",
)
def proved_fit(*, samples: Array, prior: Prior, stations: StationCloseUps) -> FitPosterior:
    """The fit by its measurement and its close-ups, over what the ratio K may be.

    Parameters
    ----------
    samples : Array
        Samples of the ratio of close-up to effective interference, shape (n_ratios,). [1]
    prior : Prior
        The fit as measured. [record]
    stations : StationCloseUps
        How far the bore closed, by station. [record]

    Returns
    -------
    FitPosterior
        A mixture over the samples of the ratio, neighbours gathered. [m]

    Raises
    ------
    NotConverged
        If so few of the samples agree with the close-ups that they give no answer.

    Notes
    -----
    For each K fit and close-ups are jointly normal, so that only K needs samples; the doubt
    of K may then lean to one side, as friction makes it. Source: ``jcgm-106`` 6, ``derived``.
    """
    ratios = np.atleast_1d(np.asarray(samples, dtype=np.float64))
    positive("ratio of close-up to fit", ratios, "1")
    whole = close_up_covariance(
        standards=stations.standards,
        shared=prior.shared,
        ratio_standard=0.0,
        predicted=np.zeros_like(stations.standards),
    )
    mean, standard, chance = _updated(prior, stations, np.outer(ratios, stations.factors), whole)
    weights = np.exp(chance - chance.max())
    weights /= weights.sum()
    counting = 1.0 / float((weights**2).sum())
    if ratios.size > 1 and counting < LEAST_EFFECTIVE:
        raise NotConverged("fit by its close-up", ratios.size, counting, LEAST_EFFECTIVE)
    return _gathered(mean, standard, weights)


def _gathered(means: Array, standards: Array, weights: Array) -> FitPosterior:
    """A mixture of thousands of normals as one of a few, of the same mean and width.

    Neighbours go together, each group with the mean and the variance of its own; an answer
    is kept with its job for ever, so that it is to be small.
    """
    order = np.argsort(means)
    means, standards, weights = means[order], standards[order], weights[order]
    group = np.minimum((np.cumsum(weights) * PARTS).astype(int), PARTS - 1)
    whole = np.bincount(group, weights, PARTS)
    held = whole > 0.0
    safe = np.where(held, whole, 1.0)
    mean = np.bincount(group, weights * means, PARTS) / safe
    spread = weights * (standards**2 + (means - mean[group]) ** 2)
    standard = np.sqrt(np.bincount(group, spread, PARTS) / safe)
    return FitPosterior(mean[held], standard[held], whole[held] / whole.sum())


@formula(
    name="fit by the close-up alone",
    expression="i = w' b / (K w' g) + loss, w = V^-1 g, for each sample of K alike",
    sources=("jcgm-101", "derived"),
    validity="whatever was measured of the fit before the drop",
    unit="m",
)
def fit_by_close_ups(*, samples: Array, prior: Prior, stations: StationCloseUps) -> FitPosterior:
    """The fit that the close-ups tell by themselves.

    Parameters
    ----------
    samples : Array
        Samples of the ratio of close-up to effective interference, shape (n_ratios,). [1]
    prior : Prior
        Only its loss and what the close-ups share are used. [record]
    stations : StationCloseUps
        How far the bore closed, by station. [record]

    Returns
    -------
    FitPosterior
        A mixture over the samples of the ratio, all of one weight, neighbours gathered. [m]

    Notes
    -----
    Weighted least squares over the stations, carried through K by samples. Source:
    ``jcgm-101`` 5, ``derived``.
    """
    ratios = np.atleast_1d(np.asarray(samples, dtype=np.float64))
    positive("ratio of close-up to fit", ratios, "1")
    whole = close_up_covariance(
        standards=stations.standards,
        shared=prior.shared,
        ratio_standard=0.0,
        predicted=np.zeros_like(stations.standards),
    )
    weights = np.linalg.solve(whole, stations.factors)
    known = float(weights @ stations.factors)
    tight = float(weights @ stations.means) / known / ratios
    standard = known**-0.5 / ratios
    even = np.full(ratios.size, 1.0 / ratios.size)
    return _gathered(tight + prior.roughness_loss, standard, even)


@formula(
    name="fit, proved",
    expression="mean of the fit by its measurement and its close-ups",
    sources=("jcgm-106",),
    validity="as the mixture that it is the mean of",
    unit="m",
)
def mean_proved_fit(*, posterior: FitPosterior) -> float:
    """The fit as measurement and close-up together have it.

    Parameters
    ----------
    posterior : FitPosterior
        The fit by both. [record]

    Returns
    -------
    float
        Its mean, diametral. [m]

    Notes
    -----
    Source: ``jcgm-106`` 6.
    """
    return posterior.mean


@formula(
    name="chance of less than the least, proved",
    expression="sum over parts: w_k Phi((least - i_k)/u_k)",
    sources=("jcgm-106",),
    validity="as the mixture",
    unit="1",
)
def chance_proved_below(*, posterior: FitPosterior, limit: float) -> float:
    """How likely the fit is below a limit, by measurement and close-up together.

    Parameters
    ----------
    posterior : FitPosterior
        The fit by both. [record]
    limit : float
        The least fit, diametral. [m]

    Returns
    -------
    float
        Chance. [1]

    Notes
    -----
    Source: ``jcgm-106`` 7.
    """
    return posterior.below(finite("limit", limit, "m"))
