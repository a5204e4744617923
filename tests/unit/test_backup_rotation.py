"""Which backups stay: 24 hours, 30 days, 12 months, and never none."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from sleevewright.store.rotation import DAYS, HOURS, MONTHS, kept

NOW = datetime(2031, 5, 17, 13, 20, tzinfo=UTC)
QUARTER = timedelta(minutes=15)
times = st.lists(
    st.integers(0, 4 * 365 * 96).map(lambda back: NOW - QUARTER * back), min_size=1, max_size=200
)


def test_four_years_of_quarter_hours_come_to_the_stated_number() -> None:
    """Every 15 minutes for years leaves an hour's for a day, a day's for a month, a month's."""
    made = [NOW - QUARTER * back for back in range(4 * 365 * 96)]
    stays = kept(made, NOW)
    hours = {NOW.replace(minute=0) - timedelta(hours=n) for n in range(HOURS)}
    assert {time.replace(minute=0) for time in stays} >= hours
    assert len({time.date() for time in stays} & _days()) == DAYS
    assert len({(time.year, time.month) for time in stays}) == MONTHS
    assert len(stays) <= HOURS + DAYS + MONTHS
    assert min(stays) == datetime(2030, 6, 30, 23, 50, tzinfo=UTC)


def _days() -> set[object]:
    return {(NOW - timedelta(days=n)).date() for n in range(DAYS)}


@given(times)
def test_the_newest_stays_and_nothing_is_made_up(made: list[datetime]) -> None:
    """Whatever there is, the newest stays, and what stays was there."""
    stays = kept(made, NOW)
    assert max(made) in stays
    assert stays <= set(made)


@given(times)
def test_what_was_let_go_is_not_wanted_later(made: list[datetime]) -> None:
    """Cleaning twice is cleaning once, and cleaning hour by hour keeps what cleaning late does."""
    stays = kept(made, NOW)
    assert kept(stays, NOW) == stays


@given(times)
def test_of_each_hour_of_the_last_day_the_newest_stays(made: list[datetime]) -> None:
    """An hour of the last 24 that has a backup keeps its newest."""
    stays = kept(made, NOW)
    first = NOW.replace(minute=0) - timedelta(hours=HOURS - 1)
    for time in made:
        if time >= first:
            same = [one for one in made if one.replace(minute=0) == time.replace(minute=0)]
            assert max(same) in stays


def test_a_long_holiday_leaves_the_last_one() -> None:
    """After three years without a backup the only one is not deleted."""
    old = NOW - timedelta(days=3 * 365)
    assert kept([old], NOW) == {old}


def test_what_claims_to_come_from_the_future_stays() -> None:
    """A clock that jumped is no reason to delete a backup."""
    ahead = [NOW + timedelta(days=n) for n in range(1, 60)]
    assert kept([NOW, *ahead], NOW) == {NOW, *ahead}


def test_nothing_is_kept_of_nothing() -> None:
    """An empty folder is no error."""
    assert kept([], NOW) == frozenset()
