"""Rk family and heights of profiles whose curves are known exactly, and by a second road.

ISO 13565-2:1996 and ISO 21920-2:2021 give the construction; the exact profiles are a ramp,
a sine and three straight pieces, worked out by hand.  The second road takes the curve by
interpolation, tries every secant, fits with a library and adds up areas by Simpson's rule.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import simpson

from sleevewright.core.cutting.profile_heights import (
    RZ_BY_RA,
    SECTIONS,
    greatest_peak_to_valley,
    least_peak_to_valley,
    profile_heights,
    section_length,
)
from sleevewright.core.cutting.roughness_curve import CORE, RoughnessCurve, roughness_curve
from sleevewright.errors import InputError

POINTS = 40_000
MIDS = (np.arange(POINTS) + 0.5) / POINTS


def test_a_ramp_is_all_core() -> None:
    """A triangle or saw tooth has a straight curve: Rk is its height, nothing stands out."""
    found = roughness_curve(3e-6 * MIDS)
    assert found.core == pytest.approx(3e-6, rel=1e-9)
    assert (found.peaks, found.valleys) == (0.0, 0.0)
    assert (found.peak_ratio, found.valley_ratio) == (0.0, 1.0)


def test_a_sine_against_its_closed_form() -> None:
    """The curve is cos(pi m); its flattest 40 % lie at the top, and all below is valley.

    With s, c = sin, cos of 0.4 pi the least-squares line has slope
    12 / 0.4^3 (integral of (m - 0.2) cos(pi m)) and passes the mean at m = 0.2.
    """
    mean = math.sin(CORE * math.pi) / (CORE * math.pi)
    first = (
        CORE * math.sin(CORE * math.pi) / math.pi + (math.cos(CORE * math.pi) - 1.0) / math.pi**2
    )
    slope = 12.0 / CORE**3 * (first - CORE**2 / 2.0 * mean)
    top = mean - slope * CORE / 2.0
    floor = top + slope
    crossed = math.acos(floor) / math.pi
    area = floor * (1.0 - crossed) + math.sin(math.pi * crossed) / math.pi
    found = roughness_curve(1e-6 * np.cos(math.pi * MIDS))
    assert found.core == pytest.approx(-slope * 1e-6, rel=1e-3)
    assert found.peaks == 0.0
    assert found.valley_ratio == pytest.approx(crossed, abs=2e-4)
    assert found.valleys == pytest.approx(2e-6 * area / (1.0 - crossed), rel=2e-3)


def test_peaks_core_and_valleys_of_three_straight_pieces() -> None:
    """10 % steep peak, core of slope 2, 20 % steep valley: areas of triangles by hand.

    Core line 2 - 2 m, so Rk 2.  Peak: 1.8 at m 0.1 and 5.8 at 0, so it meets 2 at m 0.095 and
    its area above is 3.8 x 0.095 / 2: Rpk 3.8.  Valley: 0.4 at 0.8 and -7.6 at 1, meets 0 at
    0.81, area 7.6 x 0.19 / 2: Rvk 7.6.
    """
    heights = np.where(
        MIDS < 0.1, 1.8 + 40.0 * (0.1 - MIDS), np.where(MIDS < 0.8, 2.0 - 2.0 * MIDS, 0.0)
    )
    heights = np.where(MIDS >= 0.8, 0.4 - 40.0 * (MIDS - 0.8), heights) * 1e-6
    found = roughness_curve(np.random.default_rng(3).permutation(heights))
    assert found.core == pytest.approx(2e-6, rel=1e-6)
    assert found.peak_ratio == pytest.approx(0.095, abs=1e-4)
    assert found.valley_ratio == pytest.approx(0.81, abs=1e-4)
    assert found.peaks == pytest.approx(3.8e-6, rel=1e-3)
    assert found.valleys == pytest.approx(7.6e-6, rel=1e-3)


def second_road(heights: np.ndarray) -> RoughnessCurve:
    """The same family by interpolation, a library's fit and Simpson's rule."""
    sampled = np.sort(heights)[::-1]
    mids = (np.arange(sampled.size) + 0.5) / sampled.size
    m = np.linspace(0.0, 1.0, 20_001)
    curve = np.interp(m, mids, sampled)
    starts = np.linspace(0.0, 1.0 - CORE, 6001)
    drops = np.interp(starts, m, curve) - np.interp(starts + CORE, m, curve)
    start = starts[int(np.argmin(drops))]
    inside = np.linspace(start, start + CORE, 4001)
    slope, top = np.polyfit(inside, np.interp(inside, m, curve), 1)
    floor = slope + top
    first = float(m[np.argmax(curve <= top)]) if curve[0] > top else 0.0
    last = float(m[np.argmax(curve < floor)]) if curve[-1] < floor else 1.0
    above = float(simpson(np.maximum(curve - top, 0.0), x=m))
    below = float(simpson(np.maximum(floor - curve, 0.0), x=m))
    return RoughnessCurve(-slope, 2 * above / first, 2 * below / (1 - last), first, last)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_plateau_of_chance_agrees_with_the_second_road(seed: int) -> None:
    """Fine noise on top, deep scratches in a fifth: every number within two per cent."""
    chance = np.random.default_rng(seed)
    fine = 0.15e-6 * chance.standard_normal(20_000)
    deep = np.where(chance.random(20_000) < 0.2, chance.exponential(1.5e-6, 20_000), 0.0)
    found, other = roughness_curve(fine - deep), second_road(fine - deep)
    for name in ("core", "peaks", "valleys", "peak_ratio", "valley_ratio"):
        assert getattr(found, name) == pytest.approx(getattr(other, name), rel=0.02), name
    assert found.valleys > 5.0 * found.peaks


def test_heights_of_a_sine() -> None:
    """Ra 2/pi, Rq 1/sqrt 2, Rz and Rt twice the amplitude; a lean is taken off."""
    places = np.arange(50_000) / 50_000
    wave = 1e-6 * np.sin(2.0 * math.pi * 25.0 * places) + 4e-6 * places
    found = profile_heights(wave)
    assert found.mean == pytest.approx(2e-6 / math.pi, rel=2e-3)
    assert found.root_mean_square == pytest.approx(1e-6 / math.sqrt(2.0), rel=2e-3)
    assert found.peak_to_valley == pytest.approx(2e-6, rel=0.03)


def test_one_scratch_counts_in_one_section_of_five() -> None:
    """A valley ten times as deep raises Rz by a fifth of what it raises Rt."""
    wave = 1e-6 * np.sin(2.0 * math.pi * 25.0 * np.arange(50_000) / 50_000)
    plain = profile_heights(wave)
    wave[12_345] -= 10e-6
    deep = profile_heights(wave)
    raised = deep.highest - plain.highest
    assert deep.peak_to_valley - plain.peak_to_valley == pytest.approx(raised / SECTIONS, rel=0.05)


@pytest.mark.parametrize(
    ("ra", "length"),
    [(0.05e-6, 0.25e-3), (0.5e-6, 0.8e-3), (2.0e-6, 0.8e-3), (3e-6, 2.5e-3), (20e-6, 8e-3)],
)
def test_section_lengths_of_the_table(ra: float, length: float) -> None:
    """ISO 4288:1996 table 1, kept by ISO 21920-3: the cut-off for a Ra, from memory."""
    assert section_length(ra) == length
    assert section_length(100e-6) is None


def test_ra_gives_rz_as_a_range_alone() -> None:
    """Four to seven times; a sine, at pi, shows that even that range is no law."""
    assert (least_peak_to_valley(1e-6), greatest_peak_to_valley(1e-6)) == (4e-6, 7e-6)
    assert math.pi < RZ_BY_RA[0]


@pytest.mark.parametrize(
    "heights", [np.zeros(10), np.zeros(100), np.full(100, np.nan), np.zeros((10, 10))]
)
def test_what_is_no_profile_is_refused(heights: np.ndarray) -> None:
    """Too few, all alike, no numbers, a map."""
    with pytest.raises(InputError, match="profile"):
        roughness_curve(heights)
