"""One quantile of a sampled answer, where some samples have no value at all."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.uncertainty.sampled import quantiles


@formula(
    name="level of a share",
    expression="order statistic at rank p N; samples without a value lie below all others in the "
    "share that is below, else beyond them",
    sources=("jcgm-101",),
    validity="independent samples; nan where the share is reached by samples without a value",
    unit="own unit",
)
def level_of_share(*, samples: NDArray[np.float64], share: float, below: float = 0.0) -> float:
    """Value that a share of the samples stays below.

    Parameters
    ----------
    samples : NDArray[np.float64]
        Samples of the result, nan for one that never comes; shape (n_samples,). [own unit]
    share : float
        Share of the samples, between 0 and 1. [1]
    below : float
        Share of the samples that have no value because they lie below all others, as fits
        that are loose cold; the others without one lie beyond all. [1]

    Returns
    -------
    float
        The value, nan where there is none. [own unit]

    Raises
    ------
    InputError
        If there are fewer than two samples or the share is not between 0 and 1.

    Notes
    -----
    A fit that never opens counts as one that opens hotter than any other, one that is loose
    cold as one that opens colder than any. Source: ``jcgm-101`` 7.7.

    Examples
    --------
    >>> level_of_share(samples=np.array([1.0, 2.0, np.nan, 4.0]), share=0.5)
    4.0
    >>> level_of_share(samples=np.array([1.0, 2.0, np.nan, 4.0]), share=0.5, below=0.25)
    2.0
    """
    known = np.where(np.isnan(samples), np.inf, samples)
    none = np.flatnonzero(np.isnan(samples))
    known[none[: round(below * samples.size)]] = -np.inf
    found = quantiles(known, (share,))[0].value
    return found if np.isfinite(found) else float("nan")
