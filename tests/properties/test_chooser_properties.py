"""What must hold for every picture of a fit: which way curves go, and that they are smooth."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.fits.chooser import bands, between_fits, chances_out, round_steps
from sleevewright.core.uncertainty.sampled import quantiles
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.chooser import Chooser, Curve, chooser
from sleevewright.planning.shop import Settings, Shop
from sleevewright.services.jobfiles import load_job

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("demo-air-175", "demo-water", "demo-thin-iron")
QUICK = Shop(Settings(budget_samples=4_000))
THOU = 25.4e-6
UP = (
    "fit.running", "fit.hard", "fit.pressure", "fit.casting_hoop", "fit.hold", "fit.torque",
    "fit.grip", "fit.opens", "heat.casting", "heat.oven", "fit.close_up", "finish.stock",
    "cool.lift",
)  # fmt: skip
DOWN = ("fit.below_least", "fit.sleeve_hoop", "fit.limit_margin", "heat.slip_at_limit")


@cache
def drawn(name: str) -> Chooser:
    """The picture of an invented job."""
    return chooser(load_job(EXAMPLES / f"{name}.toml"), QUICK)


def lines(curve: Curve) -> tuple[np.ndarray, ...]:
    """Its three lines and the central one."""
    return tuple(np.array(one) for one in (curve.low, curve.middle, curve.high, curve.central))


@pytest.mark.parametrize("name", NAMES)
def test_every_curve_goes_its_way(name: str) -> None:
    """More interference: tighter hot, more pressure, hotter oven, more close-up and stock."""
    seen = set()
    for curve in drawn(name).curves:
        sign = 1.0 if curve.id in UP else -1.0
        for line in lines(curve):
            steps = sign * np.diff(line)
            assert np.nanmin(steps) >= -1e-12 * np.nanmax(np.abs(line)), curve.id
        known = [one for one in curve.central if not np.isnan(one)]
        assert sign * (known[-1] - known[0]) >= 0.0
        seen.add(curve.id)
    assert seen <= set(UP) | set(DOWN)
    assert len(seen) >= 15


@pytest.mark.parametrize("name", NAMES)
def test_bands_are_in_order_and_chances_are_chances(name: str) -> None:
    """Low, middle, high; a chance of being out falls or rises with the limit's side."""
    for curve in drawn(name).curves:
        low, middle, high, _ = lines(curve)
        known = ~np.isnan(low) & ~np.isnan(high)
        assert (low[known] <= middle[known]).all()
        assert (middle[known] <= high[known]).all()
        if curve.limit is None:
            continue
        chances = np.array(curve.chance_out)
        assert ((chances >= 0.0) & (chances <= 1.0)).all()
        rising = (curve.side == "most") == (curve.id in UP)
        assert (np.diff(chances) * (1.0 if rising else -1.0) >= 0.0).all(), curve.id


@pytest.mark.parametrize("name", NAMES)
def test_curves_are_smooth(name: str) -> None:
    """Common samples: neighbours differ by a step, without jitter, beyond the bends at nought.

    Where samples of one fit were drawn apart from those of the next, second differences
    would be a good part of the band's own sampling error, some 3 % of its width.
    """
    for curve in drawn(name).curves:
        if curve.id == "fit.below_least":
            continue
        for line in lines(curve)[:3]:
            width = np.nanmax(np.array(curve.high) - np.array(curve.low))
            second = np.diff(line, 2)[6:]
            assert np.nanmedian(np.abs(second)) <= 0.006 * width, curve.id


def test_draws_apart_would_be_seen() -> None:
    """The same test of smoothness fails where each fit has samples of its own."""
    fits = drawn("demo-water").interferences[8:20]
    apart = [
        chooser(
            load_job(EXAMPLES / "demo-water.toml"),
            replace(QUICK, settings=replace(QUICK.settings, seed=100 + at)),
            interferences=(fit,),
        ).curve("fit.running")
        for at, fit in enumerate(fits)
    ]
    low = np.array([one.low[0] for one in apart if one is not None])
    high = np.array([one.high[0] for one in apart if one is not None])
    assert np.median(np.abs(np.diff(low, 2))) > 0.006 * (high - low).max()


@settings(max_examples=4, deadline=None)
@given(
    stiffer=st.floats(1.02, 1.4),
    thicker=st.floats(1.02, 1.3),
)
def test_a_stiffer_or_thicker_casting_presses_and_closes_more(
    stiffer: float, thicker: float
) -> None:
    """Pressure and close-up rise with the casting's stiffness and with its wall, at each fit."""
    fits = (20e-6, 60e-6, 100e-6)
    job = load_job(EXAMPLES / "demo-water.toml")

    def told(modulus: float, outside: float) -> Job:
        part = replace(
            job.casting,
            modulus=Entry(modulus, "told"),
            outside_diameter=Entry(outside, "told", doubt=1e-3),
            outside_low=None,
            outside_high=None,
        )
        return replace(job, casting=part)

    plain = chooser(told(70e9, 0.110), QUICK, interferences=fits, samples=400)
    for other in (told(70e9 * stiffer, 0.110), told(70e9, 0.110 * thicker)):
        more = chooser(other, QUICK, interferences=fits, samples=400)
        for identity in ("fit.pressure", "fit.close_up", "fit.hold"):
            one, two = plain.curve(identity), more.curve(identity)
            assert one is not None
            assert two is not None
            assert (np.array(two.central) > np.array(one.central)).all()
            assert (np.array(two.middle) > np.array(one.middle)).all()


@given(
    rows=st.integers(1, 4),
    seed=st.integers(0, 1000),
    loose=st.integers(0, 30),
)
def test_a_band_is_the_quantile_of_each_row(rows: int, seed: int, loose: int) -> None:
    """Ranks are those of the quantiles of samples, with infinite ones among them."""
    samples = np.random.default_rng(seed).normal(size=(rows, 300))
    samples[:, :loose] = np.inf
    three = bands(samples)
    for at in range(rows):
        wanted = [one.value for one in quantiles(samples[at], (0.05, 0.50, 0.95))]
        assert [three.low[at], three.middle[at], three.high[at]] == wanted


@given(shift=st.floats(-3.0, 3.0), seed=st.integers(0, 100))
def test_a_chance_of_being_out_is_never_certain(shift: float, seed: int) -> None:
    """A count of a thousand never says nought or one."""
    left = np.random.default_rng(seed).normal(size=(2, 1000)) + shift
    chances = chances_out(left)
    assert ((chances > 0.0) & (chances < 1.0)).all()
    share = np.mean(left < 0.0, axis=1)
    assert chances == pytest.approx(share, abs=1.01e-3)


@given(reach=st.floats(1e-6, 1e-3), count=st.integers(2, 200), unit=st.sampled_from((1e-6, THOU)))
def test_steps_reach_and_are_the_least_that_do(reach: float, count: int, unit: float) -> None:
    """The last step is at or beyond the reach; no step is more than twice too large."""
    fits = round_steps(largest_fit=reach, counted_in=unit, count=count)
    assert fits.size == count
    assert fits[0] == 0.0
    assert reach * (1.0 - 1e-9) <= fits[-1] <= 2.0 * reach * (1.0 + 1e-9)
    mantissa = float(f"{fits[1] / unit:.6e}".split("e")[0])
    assert min(abs(mantissa - one) for one in (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0)) < 1e-6


@given(
    values=st.lists(st.floats(-10.0, 10.0), min_size=3, max_size=9, unique=True),
    shares=st.lists(st.floats(0.0, 1.0), min_size=1, max_size=20),
)
def test_between_fits_nothing_overshoots(values: list[float], shares: list[float]) -> None:
    """Falling answers stay falling, and between two fits lie between their answers."""
    falling = np.array(sorted(values, reverse=True))
    fits = np.arange(falling.size, dtype=np.float64)
    wanted = np.sort(np.array(shares)) * fits[-1]
    found = between_fits(interferences=fits, values=falling, wanted=wanted)
    assert (np.diff(found) <= 1e-9).all()
    for at, one in zip(wanted, found, strict=True):
        left = min(int(at), falling.size - 2)
        assert falling[left + 1] - 1e-9 <= one <= falling[left] + 1e-9


def test_nothing_is_made_up_beyond_a_fit_without_an_answer() -> None:
    """Where a neighbour has no answer there is none between."""
    found = between_fits(
        interferences=np.arange(4.0),
        values=np.array([np.inf, 5.0, 3.0, 2.0]),
        wanted=np.array([0.0, 0.5, 1.0, 1.5, 3.0, 3.5]),
    )
    assert np.isnan(found).tolist() == [True, True, False, False, False, True]
    assert found[2] == 5.0
    assert found[4] == 2.0
