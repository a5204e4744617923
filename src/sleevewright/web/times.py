"""Moments as they are said at the bench: the hour today, the day this week, else the date."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, tzinfo

THIS_WEEK = timedelta(days=6)


def moment_words(text: str, *, now: datetime, zone: tzinfo | None = None) -> str:
    """A moment of a record as it is said; empty where there is none.

    Parameters
    ----------
    text : str
        ISO 8601, UTC, as records carry it.
    now : datetime
        This moment, with its zone.
    zone : tzinfo | None
        Where the bench stands; the machine's own zone where nothing is said.

    Returns
    -------
    str
        As "10:41", "Tue 10:41" or "12 Nov".

    Examples
    --------
    >>> noon = datetime(2026, 3, 10, 12, tzinfo=UTC)
    >>> for text in ("2026-03-10T10:41:00Z", "2026-03-08T10:41:00Z", "2026-01-02T10:41:00Z"):
    ...     print(moment_words(text, now=noon, zone=UTC))
    10:41
    Sun 10:41
    2 Jan
    """
    moment = moment_of(text)
    if moment is None:
        return ""
    there, here = moment.astimezone(zone), now.astimezone(zone)
    if there.date() == here.date():
        return there.strftime("%H:%M")
    if timedelta(0) <= here - there < THIS_WEEK:
        return there.strftime("%a %H:%M")
    day = f"{there.day} {there.strftime('%b')}"
    return day if there.year == here.year else f"{day} {there.year}"


def moment_of(text: str) -> datetime | None:
    """The moment that a text names; nothing where it names none.

    Examples
    --------
    >>> moment_of("2026-03-10T10:41:00.000Z")
    datetime.datetime(2026, 3, 10, 10, 41, tzinfo=datetime.timezone.utc)
    """
    try:
        read = datetime.fromisoformat(text)
    except ValueError:
        return None
    return read if read.tzinfo is not None else read.replace(tzinfo=UTC)
