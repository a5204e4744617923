"""What always holds of crosshatch and of material ratio curves."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.cutting.crosshatch import (
    angle_about_axis,
    angle_from_across,
    cycles_for_angle,
    included_angle,
    turns_for_angle,
)
from sleevewright.core.cutting.roughness_curve import roughness_curve
from sleevewright.core.cutting.strokes import angle_along, angle_at_middle, share_near

HONES = st.fixed_dictionaries(
    {
        "bore": st.floats(0.02, 0.2),
        "turns": st.floats(0.5, 10.0),
        "stroke": st.floats(0.01, 0.3),
        "cycles": st.floats(0.2, 5.0),
    }
)


@given(HONES)
@settings(max_examples=60)
def test_strokes_make_the_angle_that_they_were_set_for(hone: dict[str, float]) -> None:
    """There and back by cycles and by turns; faster strokes steepen, faster turns flatten."""
    made = float(included_angle(**hone))
    cycles, turns = hone["cycles"], hone["turns"]
    sizes = {"bore": hone["bore"], "stroke": hone["stroke"]}
    assert float(cycles_for_angle(**sizes, turns=turns, included=made)) == pytest.approx(cycles)
    assert float(turns_for_angle(**sizes, cycles=cycles, included=made)) == pytest.approx(turns)
    assert float(included_angle(**{**hone, "cycles": 1.05 * cycles})) > made
    assert float(included_angle(**{**hone, "turns": 1.05 * turns})) < made


@given(st.floats(0.05, 3.0), st.floats(-1.0, 1.0), st.floats(0.2, 2.5))
@settings(max_examples=60)
def test_both_conventions_are_one_wall(included: float, place: float, wanted: float) -> None:
    """Both angles come to a half turn; no place of a stroke is steeper than its middle."""
    assert angle_about_axis(included) + included == pytest.approx(math.pi)
    assert 2.0 * angle_from_across(included) == pytest.approx(included)
    assert float(angle_along(included, place)) <= float(angle_at_middle(included)) + 1e-12
    assert 0.0 <= float(share_near(included, wanted, 0.1)) <= 1.0


@given(st.integers(0, 10_000), st.floats(0.1, 50.0), st.floats(-5e-6, 5e-6))
@settings(max_examples=40)
def test_the_rk_family_scales_and_does_not_see_order_or_height(
    seed: int, factor: float, lift: float
) -> None:
    """Heights scale with the profile, ratios stay; turned over, peaks and valleys change places."""
    chance = np.random.default_rng(seed)
    wall = 1e-6 * (chance.standard_normal(400) - chance.exponential(1.0, 400))
    found = roughness_curve(wall)
    other = roughness_curve(factor * chance.permutation(wall) + lift)
    turned = roughness_curve(-wall)
    for name, by in (("core", factor), ("peaks", factor), ("valleys", factor),
                     ("peak_ratio", 1.0), ("valley_ratio", 1.0)):  # fmt: skip
        assert getattr(other, name) == pytest.approx(by * getattr(found, name), rel=1e-5), name
    assert turned.core == pytest.approx(found.core, rel=1e-6)
    assert (turned.peaks, turned.valleys) == pytest.approx((found.valleys, found.peaks), rel=1e-6)
    assert turned.peak_ratio == pytest.approx(1.0 - found.valley_ratio, abs=1e-9)
