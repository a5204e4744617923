"""Which backups are kept: by the hour for a day, by the day for a month, by the month for a year.

Pure: times go in, the times that stay come out.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

HOURS = 24
DAYS = 30
MONTHS = 12


def kept(times: Iterable[datetime], now: datetime) -> frozenset[datetime]:
    """The times of the backups that stay.

    Of each of the last 24 hours, of each of the last 30 days and of each of the last 12
    months the newest stays; whatever else there is, the newest of all stays too.  Hours,
    days and months are those of UTC.  What claims to be from the future stays: a clock was
    wrong then or is now, and neither is a reason to delete.

    Parameters
    ----------
    times : Iterable[datetime]
        When each backup was made, with its time zone.
    now : datetime
        This moment, with its time zone.

    Returns
    -------
    frozenset[datetime]
        Those of ``times`` that stay.

    Examples
    --------
    >>> day = datetime(2031, 5, 2, tzinfo=UTC)
    >>> hourly = [day - timedelta(hours=hour) for hour in range(72)]
    >>> len(kept(hourly, day))
    26
    """
    newest_first = sorted(set(times), reverse=True)
    stays = set(newest_first[:1])
    stays |= {time for time in newest_first if time > now}
    past = [time for time in newest_first if time <= now]
    utc = now.astimezone(UTC)
    stays |= _newest_of_each(past, "%Y-%m-%d %H", {_back(utc, hours=n) for n in range(HOURS)})
    stays |= _newest_of_each(past, "%Y-%m-%d", {_back(utc, days=n) for n in range(DAYS)})
    stays |= _newest_of_each(past, "%Y-%m", {_months_back(utc, n) for n in range(MONTHS)})
    return frozenset(stays)


def _newest_of_each(
    newest_first: list[datetime], form: str, periods: set[datetime]
) -> set[datetime]:
    """The newest time within each of the periods."""
    wanted = {period.strftime(form) for period in periods}
    found: dict[str, datetime] = {}
    for time in newest_first:
        period = time.astimezone(UTC).strftime(form)
        if period in wanted:
            found.setdefault(period, time)
    return set(found.values())


def _back(time: datetime, *, hours: int = 0, days: int = 0) -> datetime:
    return time - timedelta(hours=hours, days=days)


def _months_back(time: datetime, months: int) -> datetime:
    count = time.year * 12 + time.month - 1 - months
    return time.replace(year=count // 12, month=count % 12 + 1, day=1)
