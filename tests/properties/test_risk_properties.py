"""What always holds of risks, of guard bands and of reading again."""

import math

from hypothesis import assume, given
from hypothesis import strategies as st

from sleevewright.core.cutting.concentric import Chain, chance_within, eccentricity_at_most
from sleevewright.core.uncertainty.decision import Verdict, decide, guard_band
from sleevewright.core.uncertainty.risk import (
    Limits,
    Process,
    chance_out,
    global_risk,
    guard_factor,
)
from sleevewright.core.uncertainty.settle import (
    Standing,
    Way,
    chance_to_settle,
    standard_after,
    ways_to_settle,
)

shares = st.floats(0.0, 5.0)
guards = st.floats(0.0, 3.0)
ways = st.builds(
    Way,
    name=st.just("a gauge"),
    setting=shares,
    scatter=shares,
    floor=shares,
    kept=st.integers(0, 20),
    each=st.just(30.0),
    fewest=st.integers(1, 16),
)


@given(rest=shares, way=ways, readings=st.integers(1, 60), more=st.integers(0, 60))
def test_more_readings_never_raise_the_doubt(
    rest: float, way: Way, readings: int, more: int
) -> None:
    """Whatever the gauge, a reading more leaves no more doubt."""
    now = standard_after(untouched=rest, way=way, readings=readings)
    assert standard_after(untouched=rest, way=way, readings=readings + more) <= now


@given(one=shares, other=shares, probability=st.floats(0.5, 0.999))
def test_a_guard_band_grows_with_the_doubt(one: float, other: float, probability: float) -> None:
    """The larger doubt never has the smaller band."""
    low, high = sorted((one, other))
    assert guard_band(standard=low, probability=probability) <= guard_band(
        standard=high, probability=probability
    )


@given(few=st.floats(1.0, 200.0), more=st.floats(1.0, 200.0), probability=st.floats(0.5, 0.999))
def test_a_guard_band_narrows_with_degrees_of_freedom(
    few: float, more: float, probability: float
) -> None:
    """A doubt that is known better asks for no wider a band, and never less than the normal one."""
    low, high = sorted((few, more))
    wide = guard_factor(probability=probability, degrees_of_freedom=low)
    narrow = guard_factor(probability=probability, degrees_of_freedom=high)
    assert wide >= narrow >= guard_factor(probability=probability) - 1e-12


@given(
    mean=st.floats(-2.0, 2.0),
    spread=st.floats(0.1, 3.0),
    standard=st.floats(0.02, 2.0),
    one=guards,
    other=guards,
)
def test_a_wider_guard_trades_the_consumers_risk_for_the_producers(
    mean: float, spread: float, standard: float, one: float, other: float
) -> None:
    """The consumer's risk falls with the guard band, the producer's rises; shares add up."""
    low, high = sorted((one, other))
    narrow, wide = (
        global_risk(Process(mean, spread), standard=standard, limits=Limits(-1.0, 1.5), guard=guard)
        for guard in (low, high)
    )
    assert wide.consumer <= narrow.consumer + 1e-9
    assert wide.producer >= narrow.producer - 1e-9
    for risk in (narrow, wide):
        assert math.isclose(
            risk.passed, risk.consumer + 1.0 - risk.out - risk.producer, abs_tol=1e-9
        )


@given(value=st.floats(-9.0, 9.0), standard=st.floats(0.01, 5.0), limit=st.floats(-9.0, 9.0))
def test_good_is_out_with_five_per_cent_at_most(
    value: float, standard: float, limit: float
) -> None:
    """The verdict and the chance that is shown beside it never contradict each other."""
    call = decide(value, standard=standard, limit=limit, side="least")
    chance = chance_out(value, standard=standard, least=limit)
    if call is Verdict.GOOD:
        assert chance <= 0.0501
    if call is Verdict.OUT:
        assert chance >= 0.9499


@given(value=st.floats(0.01, 9.0), rest=st.floats(0.0, 3.0), listed=st.lists(ways, max_size=5))
def test_a_way_that_is_listed_would_settle_it(value: float, rest: float, listed: list[Way]) -> None:
    """With its readings the verdict is called; with one fewer, where that is allowed, it is not."""
    standing = Standing(value, 9.0, rest, (0.0,), 1.645)
    found = ways_to_settle(standing, listed)
    assert [one.effort for one in found] == sorted(one.effort for one in found)
    for settling in found:
        assert 1.645 * settling.standard <= value * (1.0 + 1e-9)
        assert 0.0 <= settling.chance <= 1.0
    for way in listed:
        alone = ways_to_settle(standing, [way])
        if alone and alone[0].readings > way.fewest:
            fewer = standard_after(untouched=rest, way=way, readings=alone[0].readings - 1)
            assert 1.645 * fewer > value * (1.0 - 1e-9)


@given(way=ways, rest=shares, value=st.floats(-3.0, 3.0), standard=st.floats(0.1, 9.0))
def test_the_chance_to_settle_is_a_probability(
    way: Way, rest: float, value: float, standard: float
) -> None:
    """And certain where there is no guard band."""
    assume(rest <= standard)
    standing = Standing(value, standard, rest, (0.0,), 1.645)
    assert -1e-12 <= chance_to_settle(standing, way=way, readings=3) <= 1.0 + 1e-12
    free = Standing(value, standard, rest, (0.0,), 0.0)
    assert math.isclose(chance_to_settle(free, way=way, readings=3), 1.0, abs_tol=1e-9)


sizes = st.lists(st.floats(0.1, 3.0), max_size=3).map(tuple)


@given(
    sizes=sizes, spread=st.floats(0.2, 2.0), one=st.floats(0.0, 12.0), other=st.floats(0.0, 12.0)
)
def test_chances_of_a_chain_grow_with_the_radius(
    sizes: tuple[float, ...], spread: float, one: float, other: float
) -> None:
    """A probability that never falls, and does not depend on the order of the steps."""
    chain, turned = Chain(sizes, spread), Chain(sizes[::-1], spread)
    low, high = sorted((one, other))
    assert chance_within(low, chain=chain) <= chance_within(high, chain=chain) + 1e-9
    assert math.isclose(
        chance_within(high, chain=chain), chance_within(high, chain=turned), abs_tol=1e-9
    )


@given(sizes=sizes, spread=st.floats(0.2, 2.0), more=st.floats(0.0, 2.0))
def test_what_is_added_to_a_chain_never_brings_it_nearer(
    sizes: tuple[float, ...], spread: float, more: float
) -> None:
    """A wider spread never lowers the eccentricity that is reached at most; scale is free."""
    now = eccentricity_at_most(chain=Chain(sizes, spread))
    assert eccentricity_at_most(chain=Chain(sizes, math.hypot(spread, more))) >= now - 1e-6
    scaled = Chain(tuple(1e-5 * one for one in sizes), 1e-5 * spread)
    assert math.isclose(eccentricity_at_most(chain=scaled), 1e-5 * now, rel_tol=1e-6)
