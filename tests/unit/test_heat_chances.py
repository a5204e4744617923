"""What the chances of a drop do when what is known changes."""

import math
from itertools import pairwise

import numpy as np
import pytest

import heat_examples as shop
from heat_examples import THOU
from sleevewright.core.expansion import scaled_law
from sleevewright.core.heat.chances import (
    before_seated,
    drop_chances,
    drop_samples,
    expected_grip,
    free_p01,
    free_p05,
    may_stay_loose,
)
from sleevewright.core.heat.unknowns import draw_unknowns

ALUMINIUM = shop.case("aluminium", interference=3.2, slip=5.4)


def test_answers_are_those_of_the_record() -> None:
    """Each named answer reads its own part of the chances, in rising order."""
    found = drop_chances(ALUMINIUM)
    assert free_p01(chances=found) == found.free_p01.value
    assert free_p05(chances=found) == found.free_p05.value
    assert expected_grip(chances=found) == found.expected.value
    assert found.until is not None
    assert may_stay_loose(chances=found) == found.until.value
    assert before_seated(chances=found) == found.before_seated.value
    assert 0.0 < free_p01(chances=found) < free_p05(chances=found) < expected_grip(chances=found)
    assert expected_grip(chances=found) < may_stay_loose(chances=found)


def test_beyond_the_horizon_is_no_number() -> None:
    """A loose fit may stay loose beyond the horizon: nan, and the share is told."""
    found = drop_chances(shop.case("aluminium", interference=1.6, slip=5.4))
    assert found.until is None
    assert math.isnan(may_stay_loose(chances=found))
    assert found.beyond.value > 0.05
    hardly = drop_chances(shop.case("aluminium", interference=1.6, slip=5.4), horizon=8.0)
    assert math.isnan(expected_grip(chances=hardly))


def test_same_seed_gives_the_same_drops() -> None:
    """The same job gives the same seconds tomorrow; another seed gives others."""
    one, again = drop_samples(ALUMINIUM, count=300), drop_samples(ALUMINIUM, count=300)
    other = drop_samples(ALUMINIUM, count=300, seed=5)
    assert np.array_equal(one.seconds, again.seconds)
    assert not np.array_equal(one.seconds, other.seconds)


def test_fewer_drops_are_the_first_of_more() -> None:
    """A short run is the start of a long one: nothing is shuffled."""
    few, many = drop_samples(ALUMINIUM, count=200), drop_samples(ALUMINIUM, count=400)
    assert few.seconds == pytest.approx(many.seconds[:200], abs=1e-6)


def test_one_input_leaves_the_streams_of_the_others() -> None:
    """A form that was measured changes no other draw."""
    measured = shop.case("aluminium", interference=3.2, slip=5.4, form=0.8 * THOU)
    before = draw_unknowns(ALUMINIUM, count=100).named()
    after = draw_unknowns(measured, count=100).named()
    changed = [name for name in before if not np.array_equal(before[name], after[name])]
    assert changed == ["form"]


def test_samples_of_a_budget_are_used_as_they_are() -> None:
    """Interference and law that come as samples are not drawn again."""
    interference = 3.2 * THOU + 1e-6 * np.linspace(-3.0, 3.0, 500)
    law = scaled_law(
        reference=20.7e-6, slope=10e-9, scale=np.linspace(0.9, 1.1, 500), low=233.0, high=573.0
    )
    planned = shop.case("aluminium", interference=3.2, slip=5.4, casting_law=law)
    planned = type(planned)(**{**vars(planned), "interference": interference})
    draws = draw_unknowns(planned, count=400)
    assert np.array_equal(draws.interference, interference[:400])
    assert (draws.casting_expansion == 1.0).all()
    assert drop_chances(planned, count=400).free_p05.value > 0.0


def test_dry_parts_stay_free_longer() -> None:
    """Dry, not said, wet: the fifth percentile falls in that order."""
    values = [
        drop_chances(shop.case("aluminium", interference=3.2, slip=5.4, dry=dry)).free_p05.value
        for dry in (True, None, False)
    ]
    assert values[0] > values[1] > values[2]


def test_measuring_form_and_mass_narrows_the_band() -> None:
    """Measured form, dry parts and a weighed casting: the band is less than half as wide."""
    known = drop_chances(
        shop.case("aluminium", interference=3.2, slip=5.4, form=THOU, dry=True, is_weighed=True)
    )
    base = drop_chances(ALUMINIUM)
    assert known.until is not None
    assert base.until is not None
    narrow = known.until.value / known.free_p05.value
    wide = base.until.value / base.free_p05.value
    assert narrow < 0.5 * wide


def test_form_and_what_fills_the_gap_lead_the_ranking() -> None:
    """The form allowance decides most, and more of it means sooner."""
    found = drop_chances(ALUMINIUM).influences
    assert found[0].name == "form"
    assert found[0].correlation < -0.4
    by_name = {one.name: one.correlation for one in found}
    assert by_name["fluid factor"] < -0.2
    assert by_name["thermal radius"] > 0.2
    assert by_name["slip error"] > 0.1
    assert all(abs(a.correlation) >= abs(b.correlation) for a, b in pairwise(found))


def test_iron_leaves_less_time_than_aluminium() -> None:
    """Iron at its limit grips sooner, and one drop in twenty or more before it is seated."""
    iron = drop_chances(shop.case("iron", interference=2.2, slip=3.99))
    aluminium = drop_chances(ALUMINIUM)
    assert iron.free_p05.value < aluminium.free_p05.value
    assert iron.before_seated.value > 0.04
    assert aluminium.before_seated.value < 0.02


def test_clearance_added_for_the_carry_comes_back_as_time() -> None:
    """What the needle allows for the carry makes the drop longer."""
    allowed = shop.case("aluminium", interference=3.2, slip=5.4, carry_allowed=0.2 * THOU)
    found = drop_chances(allowed).expected.value
    assert found > drop_chances(ALUMINIUM).expected.value


def test_needle_does_not_know_the_carry_of_each_drop() -> None:
    """Samples of the allowance count as one number: the needle was set beforehand."""
    spread = THOU * np.linspace(0.1, 0.3, 401)
    found = [
        drop_chances(
            shop.case("aluminium", interference=3.2, slip=5.4, carry_allowed=allowed), count=400
        ).expected.value
        for allowed in (spread, 0.2 * THOU)
    ]
    assert found[0] == pytest.approx(found[1], rel=0.01)


def test_sampling_error_falls_with_the_root_of_the_count() -> None:
    """Four times the drops, half the sampling error, within a third."""
    few = drop_chances(ALUMINIUM, count=1000).expected.sampling_error
    many = drop_chances(ALUMINIUM, count=4000).expected.sampling_error
    assert many == pytest.approx(0.5 * few, rel=0.34)


def test_sleeve_that_cannot_enter_grips_at_once() -> None:
    """Where there is no slip at all, every drop grips before it is seated."""
    found = drop_chances(shop.case("aluminium", interference=3.2, slip=-3.0), count=200)
    assert found.before_seated.value == 1.0
