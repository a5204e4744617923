"""Sizes of the bore that may be gauged: what must always hold of them."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.core.fits.bore_limits import (
    combined_standard,
    largest_bore,
    smallest_bore,
    unshared_standard,
)
from sleevewright.errors import InputError

microns = st.floats(0.1, 30.0).map(lambda um: um * 1e-6)
least_fits = st.floats(10.0, 120.0).map(lambda um: um * 1e-6)
chances = st.floats(0.005, 0.5)
SLEEVE = 63.07e-3


@given(least_fits, microns, microns, chances)
def test_a_better_gauge_and_a_lighter_least_allow_a_larger_bore(
    least: float, one: float, more: float, chance: float
) -> None:
    """The upper end falls with the doubt, with the least, and with a smaller chance."""
    common = {"outside_diameter": SLEEVE, "chance": chance}
    here = largest_bore(least=least, standard=one, **common)
    assert largest_bore(least=least, standard=one + more, **common) <= here
    assert largest_bore(least=least + more, standard=one, **common) < here
    stricter = common | {"chance": chance / 2.0}
    assert largest_bore(least=least, standard=one, **stricter) < here


@given(least_fits, microns, microns, st.floats(0.0, 3.0))
def test_a_better_gauge_and_stronger_parts_allow_a_smaller_bore(
    limit: float, one: float, more: float, guard: float
) -> None:
    """The lower end rises with the doubt and falls with what the parts bear."""
    common = {"outside_diameter": SLEEVE, "guard": guard}
    here = smallest_bore(limit_fit=limit, standard=one, **common)
    assert smallest_bore(limit_fit=limit, standard=one + more, **common) >= here
    assert smallest_bore(limit_fit=limit + more, standard=one, **common) < here


@given(microns, microns)
def test_two_doubts_together_lie_between_the_larger_and_the_sum(one: float, other: float) -> None:
    """Root of the sum of squares."""
    both = combined_standard(one=one, other=other)
    assert max(one, other) <= both <= one + other


@given(microns, microns, microns)
def test_what_both_share_goes_out_of_their_difference(
    one: float, other: float, both: float
) -> None:
    """Two sums with one term in common: their difference has only the other two (JCGM 100, 5.2)."""
    told = {"one": math.hypot(one, both), "other": math.hypot(other, both)}
    apart = unshared_standard(common=both, **told)
    assert apart == pytest.approx(math.hypot(one, other), rel=1e-6, abs=1e-12)
    apart = unshared_standard(common=0.0, **told)
    assert apart == pytest.approx(combined_standard(**told), rel=1e-12)


@pytest.mark.parametrize("chance", [0.01, 0.05, 0.20])
def test_bores_gauged_at_the_limit_have_the_chance_that_is_claimed(chance: float) -> None:
    """Simulated shop: sleeve and bore gauged with their errors, the reading at the limit.

    True fits lie around the gauged one as the errors do (JCGM 106, 8.3); the share of less
    than the least is the accepted chance within four of its own sampling errors, and less
    where the gauge showed less.
    """
    draws, least, u_sleeve, u_bore = 200_000, 60e-6, 3e-6, 5e-6
    rng = np.random.default_rng(20_261_130)
    standard = math.hypot(u_sleeve, u_bore)
    limit = largest_bore(outside_diameter=SLEEVE, least=least, standard=standard, chance=chance)
    sleeve = SLEEVE + u_sleeve * rng.standard_normal(draws)
    error = u_bore * rng.standard_normal(draws)
    at_limit = float(np.mean(sleeve - (limit + error) < least))
    sampling = math.sqrt(chance * (1.0 - chance) / draws)
    assert at_limit == pytest.approx(chance, abs=4.0 * sampling)
    below = float(np.mean(sleeve - (limit - 3e-6 + error) < least))
    assert below < at_limit


def test_a_fit_at_the_lower_end_passes_the_limit_as_seldom_as_the_guard_says() -> None:
    """With a guard band of 1.645 u one fit in twenty lies past the parts' limit."""
    draws, limit, u_fit, u_limit = 200_000, 165e-6, 6e-6, 20e-6
    rng = np.random.default_rng(1)
    margin = math.hypot(u_fit, u_limit)
    bore = smallest_bore(outside_diameter=SLEEVE, limit_fit=limit, standard=margin, guard=1.6448536)
    fits = SLEEVE - bore + u_fit * rng.standard_normal(draws)
    borne = limit + u_limit * rng.standard_normal(draws)
    assert float(np.mean(fits > borne)) == pytest.approx(0.05, abs=4.0 * math.sqrt(0.0475 / draws))


@pytest.mark.parametrize("chance", [0.0, -0.1, 0.6])
def test_a_chance_that_is_none_is_refused(chance: float) -> None:
    """Nought would need a bore without end; more than a half accepts more bad than good."""
    with pytest.raises(InputError, match=r"at most 0\.5"):
        largest_bore(outside_diameter=SLEEVE, least=6e-5, standard=5e-6, chance=chance)
