"""Prices: more minutes, a higher rate or more risk never cost less, and sums add up to the cent.

The reference for rounding is Python's exact ``decimal`` arithmetic, rounding half up.
"""

from __future__ import annotations

import contextlib
import re
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.errors import InputError
from sleevewright.planning.money import amount, money
from sleevewright.planning.price import (
    Bought,
    Change,
    Extent,
    Rates,
    Work,
    estimate,
    invoiced,
    labour,
    priced,
    share_of,
    with_own,
)

MINUTES = st.integers(0, 600)
CENTS = st.integers(0, 500_000)
SHARES = st.integers(0, 10_000)
STAGES = st.sampled_from(["old", "parent", "hone"])


@st.composite
def works(draw: st.DrawFn) -> Work:
    """An operation whose minutes lie in their band."""
    low, middle, high = sorted(draw(st.tuples(MINUTES, MINUTES, MINUTES)))
    return Work("w", draw(STAGES), "Work", middle, low, high)


LISTS = st.lists(works(), min_size=1, max_size=8)
PARTS = st.lists(st.builds(Bought, st.just("Part"), CENTS), max_size=4)
RATES = st.builds(Rates, CENTS, SHARES, SHARES, SHARES, st.just("EUR"))


def half_up(value: Decimal) -> int:
    """Rounded half up, exactly."""
    return int(value.quantize(Decimal(1), rounding=ROUND_HALF_UP))


@given(jobs=LISTS, parts=PARTS, rates=RATES)
def test_sums_add_up_to_the_cent(jobs: list[Work], parts: list[Bought], rates: Rates) -> None:
    """Net is the sum of the printed lines, total is net and tax, and the band holds the total."""
    offer = priced(jobs, parts, rates)
    assert offer.net == sum(line.cents for line in offer.lines)
    assert offer.total == offer.net + offer.tax
    assert offer.low <= offer.total <= offer.high
    assert 0 <= offer.deposit <= offer.total
    assert offer.minutes == sum(one.minutes for one in jobs)


@given(jobs=LISTS, parts=PARTS, rates=RATES, more=st.integers(1, 100), data=st.data())
def test_price_never_falls(
    jobs: list[Work], parts: list[Bought], rates: Rates, more: int, data: st.DataObject
) -> None:
    """More minutes, a higher rate, more risk or a dearer part never make a lower total."""
    before = priced(jobs, parts, rates).total
    place = data.draw(st.integers(0, len(jobs) - 1))
    one = jobs[place]
    longer = [*jobs[:place], replace(one, minutes=one.minutes + more), *jobs[place + 1 :]]
    dearer = [*parts, Bought("One more", more)]
    riskier = replace(rates, risk=min(10_000, rates.risk + more))
    assert priced(longer, parts, rates).total >= before
    assert priced(jobs, parts, replace(rates, hour=rates.hour + more)).total >= before
    assert priced(jobs, parts, riskier).total >= before
    assert priced(jobs, dearer, rates).total >= before + more


@given(cents=st.integers(-(10**9), 10**9), share=SHARES)
def test_share_is_rounded_half_up(cents: int, share: int) -> None:
    """A share agrees with exact decimal arithmetic wherever it is no half of a negative."""
    exact = Decimal(cents) * share / 10_000
    wanted = half_up(exact) if cents >= 0 else -half_up(-exact - Decimal("1e-9"))
    assert share_of(cents, share) == wanted


@given(minutes=MINUTES, hour=CENTS)
def test_labour_is_rounded_half_up(minutes: int, hour: int) -> None:
    """Minutes at a rate agree with exact decimal arithmetic."""
    assert abs(Decimal(labour(minutes, hour)) - Decimal(minutes) * hour / 60) <= Decimal("0.5")


@given(
    jobs=LISTS,
    parts=PARTS,
    rates=RATES,
    changes=st.lists(st.builds(Change, st.just("More"), CENTS, st.just("found a crack"))),
)
def test_invoice_is_the_offer_and_its_changes(
    jobs: list[Work], parts: list[Bought], rates: Rates, changes: list[Change]
) -> None:
    """Without a change the invoice is the agreed offer to the cent; with changes it adds up."""
    offer = priced(jobs, parts, rates)
    plain = invoiced(offer, [], tax=rates.tax, paid=offer.deposit)
    assert (plain.lines, plain.net, plain.tax, plain.total) == (
        offer.lines, offer.net, offer.tax, offer.total,
    )  # fmt: skip
    assert plain.due + offer.deposit == offer.total
    changed = invoiced(offer, changes, tax=rates.tax)
    assert changed.net == offer.net + sum(one.cents for one in changes)
    assert changed.total == changed.net + changed.tax


@given(jobs=LISTS, own=st.dictionaries(STAGES, st.integers(0, 2_000)))
def test_own_minutes_of_a_stage_are_shared_out_whole(jobs: list[Work], own: dict[str, int]) -> None:
    """A shop's own minutes of a stage come out as they went in, over all of its operations."""
    made = with_own(jobs, own)
    for stage in {one.stage for one in jobs}:
        before = sum(one.minutes for one in jobs if one.stage == stage)
        after = sum(one.minutes for one in made if one.stage == stage)
        assert after == (own[stage] if stage in own and before else before)


@given(cents=st.integers(0, 10**10))
def test_amount_is_read_as_it_was_printed(cents: int) -> None:
    """Printed and typed again, with a point or a comma, an amount is the same."""
    text = amount(cents, "EUR")
    assert money(text, field="x", currency="EUR") == cents
    assert money(text.replace(".", ","), field="x", currency="EUR") == cents


@given(text=st.text(max_size=12))
def test_any_text_is_an_amount_or_refused(text: str) -> None:
    """No text breaks the reader; what is read is no less than nothing."""
    read = -1
    with contextlib.suppress(InputError):
        read = money(text, field="x")
    assert read >= (0 if re.fullmatch(r"\s*\+?\s*\d{1,9}\s*", text, re.ASCII) else -1)


@pytest.mark.parametrize(
    "text", ["1,250", "1.250", "1,250.00", "1.250,00", "85.5.0", "8550 GBP", "-5", "", "1e3", "8 5"]
)
def test_amount_that_can_be_read_in_two_ways_is_refused(text: str) -> None:
    """Grouped thousands, other currencies and signs are never guessed."""
    with pytest.raises(InputError):
        money(text, field="Sleeve", currency="EUR")


def test_sleeve_takes_six_to_ten_hours_of_touch() -> None:
    """One ported cylinder of five ports lies where the trade says: common practice, no source."""
    minutes = sum(one.minutes for one in estimate("sleeve", Extent(ports=5)))
    assert 6 * 60 <= minutes <= 10 * 60
    ways = [
        sum(one.minutes for one in estimate(way, Extent(ports=5))) for way in ("hone", "oversize")
    ]
    assert ways[0] < ways[1] < minutes


def test_change_without_a_reason_is_refused() -> None:
    """What was agreed is not altered without a word."""
    offer = priced([Work("w", "hone", "Hone", 30, 20, 40)], [], Rates(90_00))
    with pytest.raises(InputError, match="reason"):
        invoiced(offer, [Change("Hone", 500, " ")], tax=0)
