"""What always holds of a fit that its close-up proves."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.fits.closeups import StationCloseUps
from sleevewright.core.fits.posterior import Prior, fit_by_close_ups, proved_fit

UM = 1e-6
RATIOS = np.linspace(0.56, 0.62, 60)
priors = st.builds(
    Prior,
    st.floats(40 * UM, 120 * UM),
    st.floats(2 * UM, 10 * UM),
    st.floats(0.0, 8 * UM),
    st.floats(0.5 * UM, 8 * UM),
)
closed_up = st.lists(st.floats(20 * UM, 70 * UM), min_size=1, max_size=5)


def stations(means: list[float], own: float = 2 * UM) -> StationCloseUps:
    """Stations with these means."""
    count = len(means)
    rows = np.array([[one, one] for one in means])
    return StationCloseUps(
        np.arange(count) * 0.01, np.array([0.0, 1.57]), rows, np.full(count, own), np.ones(count)
    )


@settings(max_examples=60)
@given(priors, closed_up, st.floats(1 * UM, 20 * UM))
def test_a_bore_that_closed_more_has_more_fit(
    prior: Prior, means: list[float], more: float
) -> None:
    """Every station closed by as much more: the fit rises, by less than that over the ratio."""
    one = fit_by_close_ups(samples=RATIOS, prior=prior, stations=stations(means))
    wider = [mean + more for mean in means]
    other = fit_by_close_ups(samples=RATIOS, prior=prior, stations=stations(wider))
    assert 0.0 < other.mean - one.mean <= more / RATIOS.min() * (1.0 + 1e-9)


@settings(max_examples=60)
@given(priors, closed_up)
def test_a_proof_never_knows_less_than_the_measurement(prior: Prior, means: list[float]) -> None:
    """For one ratio the proved fit is never wider than what was measured, and lies between."""
    one = np.array([0.6])
    told = stations(means)
    both = proved_fit(samples=one, prior=prior, stations=told)
    alone = fit_by_close_ups(samples=one, prior=prior, stations=told)
    assert both.standard <= prior.standard * (1.0 + 1e-9)
    low, high = sorted((prior.interference, alone.mean))
    assert low - 1e-12 <= both.mean <= high + 1e-12


@settings(max_examples=60)
@given(priors, closed_up, st.floats(-20 * UM, 20 * UM))
def test_a_chance_rises_with_its_limit(prior: Prior, means: list[float], off: float) -> None:
    """The chance of less is a distribution: between nought and one, and never falling."""
    found = fit_by_close_ups(samples=RATIOS, prior=prior, stations=stations(means))
    limit = found.mean + off
    assert 0.0 <= found.below(limit) <= found.below(limit + UM) <= 1.0
    assert abs(found.below(found.quantile(0.3)) - 0.3) < 1e-6
