"""Moments as they are said at the bench: the hour today, the day this week, else the date."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, tzinfo

THIS_WEEK = timedelta(days=6)


def moment_words(
    text: str, *, now: datetime, zone: tzinfo | None = None, has_seconds: bool = False
) -> str:
    """A moment of a record as it is said; empty where there is none.

    Parameters
    ----------
    text : str
        ISO 8601, UTC, as records carry it.
    now : datetime
        This moment, with its zone.
    zone : tzinfo | None
        Where the bench stands; the machine's own zone where nothing is said.
    has_seconds : bool
        Whether seconds matter, as of what happens at the drop.

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
        return there.strftime("%H:%M:%S" if has_seconds else "%H:%M")
    if timedelta(0) <= here - there < THIS_WEEK:
        return there.strftime("%a %H:%M")
    day = f"{there.day} {there.strftime('%b')}"
    return day if there.year == here.year else f"{day} {there.year}"


def day_words(text: str, *, now: datetime) -> str:
    """A day as it is said: its name within the week to come, else its date.

    Examples
    --------
    >>> noon = datetime(2026, 3, 10, 12, tzinfo=UTC)
    >>> [day_words(text, now=noon) for text in ("2026-03-13", "2026-04-02", "when it is done")]
    ['Fri', '2 Apr', 'when it is done']
    """
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        return text
    ahead = (day - now.date()).days
    if ahead == 0:
        return "today"
    if 0 < ahead < THIS_WEEK.days:
        return day.strftime("%a")
    said = f"{day.day} {day.strftime('%b')}"
    return said if day.year == now.year else f"{said} {day.year}"


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
