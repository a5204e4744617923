"""What a job is offered at: minutes by operation at the shop's rate, parts, and risk.

Everything is whole cents and whole parts of ten thousand, so that what is printed adds up
to the cent.  Each line is rounded half up by itself; sums are sums of what is printed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from sleevewright.core.operations import Operation, operations
from sleevewright.errors import InputError

WHOLE = 10_000
"""A whole, in the parts that risk, tax and deposit are counted in: 10 % is 1,000."""

USUAL_DEPOSIT = 3_000
"""Deposit where the shop says nothing, 30 %: common practice, no source."""

VALID_DAYS = 30
"""Days that an offer stands where the shop says nothing: common practice, no source."""

MOST_MINUTES = 10_000
MOST_LINES = 60
ESTIMATED, OWN, TYPED = "own estimate of the trade", "your last ones took so long", "typed"


@dataclass(frozen=True)
class Work:
    """One operation as it is priced: whole minutes, and between which it usually lies."""

    name: str
    stage: str
    title: str
    minutes: int
    low: int
    high: int
    why: str = ESTIMATED


@dataclass(frozen=True)
class Bought:
    """A part that is bought for the job, or work that is given out."""

    title: str
    cents: int


@dataclass(frozen=True)
class Rates:
    """What a shop prices by; shares in parts of ten thousand."""

    hour: int  # cents
    risk: int = 0  # of labour and parts, for a casting that may be lost
    tax: int = 0  # of the net sum
    deposit: int = USUAL_DEPOSIT  # of the total
    currency: str = ""


@dataclass(frozen=True)
class PricedLine:
    """One line of an offer or an invoice."""

    title: str
    cents: int
    minutes: int | None = None  # None where it is no labour


@dataclass(frozen=True)
class Price:
    """An offer in cents, line by line; every sum is the sum of what stands above it."""

    lines: tuple[PricedLine, ...]
    minutes: int
    net: int
    tax: int
    total: int
    deposit: int
    low: int  # total at the low minutes
    high: int  # total at the high minutes
    currency: str


def priced(works: Sequence[Work], parts: Sequence[Bought], rates: Rates) -> Price:
    """The price of these operations and parts.

    Parameters
    ----------
    works : Sequence[Work]
        Operations with their minutes.
    parts : Sequence[Bought]
        What is bought or given out.
    rates : Rates
        The shop's rates.

    Returns
    -------
    Price
        Lines, sums, and the band that the minutes span.

    Raises
    ------
    InputError
        If a figure is negative or beyond belief.

    Examples
    --------
    >>> work = Work("hone", "hone", "Hone to the piston", 30, 20, 45)
    >>> offer = priced([work], [Bought("Rings", 40_00)], Rates(90_00, risk=1000, tax=1900))
    >>> [line.cents for line in offer.lines], offer.net, offer.tax, offer.total
    ([4500, 4000, 850], 9350, 1777, 11127)
    """
    _check(works, parts, rates)
    lines = _lines(works, parts, rates)
    net = sum(line.cents for line in lines)
    tax = share_of(net, rates.tax)
    band = [_total([replace(work, minutes=getattr(work, end)) for work in works], parts, rates)
            for end in ("low", "high")]  # fmt: skip
    total = net + tax
    return Price(
        lines=lines,
        minutes=sum(work.minutes for work in works),
        net=net,
        tax=tax,
        total=total,
        deposit=share_of(total, rates.deposit),
        low=min(band[0], total),
        high=max(band[1], total),
        currency=rates.currency,
    )


def share_of(cents: int, share: int) -> int:
    """A share of an amount, rounded half up to the cent.

    Examples
    --------
    >>> share_of(9350, 1900), share_of(-50, 1000)
    (1777, -5)
    """
    return (2 * cents * share + WHOLE) // (2 * WHOLE)


def labour(minutes: int, hour: int) -> int:
    """Minutes at an hourly rate, rounded half up to the cent.

    Examples
    --------
    >>> labour(25, 85_00)
    3542
    """
    return (2 * minutes * hour + 60) // 120


def _lines(works: Sequence[Work], parts: Sequence[Bought], rates: Rates) -> tuple[PricedLine, ...]:
    """Labour, parts, and the risk on both."""
    done = [PricedLine(one.title, labour(one.minutes, rates.hour), one.minutes) for one in works]
    bought = [PricedLine(one.title, one.cents) for one in parts]
    lines = [*done, *bought]
    risk = share_of(sum(line.cents for line in lines), rates.risk)
    if risk:
        lines.append(PricedLine("Risk of the casting", risk))
    return tuple(lines)


def _total(works: Sequence[Work], parts: Sequence[Bought], rates: Rates) -> int:
    """Total of these, tax included."""
    net = sum(line.cents for line in _lines(works, parts, rates))
    return net + share_of(net, rates.tax)


def _check(works: Sequence[Work], parts: Sequence[Bought], rates: Rates) -> None:
    """Refuse what no shop means."""
    if len(works) + len(parts) > MOST_LINES:
        raise InputError("lines", len(works) + len(parts), "", f"at most {MOST_LINES}")
    for work in works:
        for figure in (work.minutes, work.low, work.high):
            if not 0 <= figure <= MOST_MINUTES:
                raise InputError(work.title, figure, "min", f"0 to {MOST_MINUTES} min")
    for part in parts:
        if part.cents < 0:
            raise InputError(part.title, part.cents / 100.0, rates.currency, "nothing or more")
    if rates.hour < 0:
        raise InputError("an hour", rates.hour / 100.0, rates.currency, "nothing or more")
    for name, share in (("risk", rates.risk), ("tax", rates.tax), ("deposit", rates.deposit)):
        if not 0 <= share <= WHOLE:
            raise InputError(name, share / 100.0, "%", "0 to 100 %")


@dataclass(frozen=True)
class Extent:
    """How much there is to do."""

    cylinders: int = 1
    ports: int = 0  # of one cylinder
    is_flanged: bool = True
    is_faced: bool = True


def estimate(
    option: str, extent: Extent, *, own: Mapping[str, int] | None = None
) -> tuple[Work, ...]:
    """The operations that a way of mending takes, with their minutes to begin with.

    Parameters
    ----------
    option : str
        ``hone``, ``oversize``, ``replate`` or ``sleeve``.
    extent : Extent
        How much there is to do.
    own : Mapping[str, int] | None
        Minutes of the shop's own by stage, for the whole stage; shared out over its
        operations as the estimates are.

    Returns
    -------
    tuple[Work, ...]
        Operations; those that nothing is done of are left out.
    """
    works = [
        _work(one, times)
        for one in operations()
        if option in one.options
        and (times := _times(one.per, extent))
        and not (one.name == "counterbore" and not extent.is_flanged)
        and not (one.name == "deck" and not extent.is_faced)
    ]
    return with_own(works, own or {})


def with_own(works: Iterable[Work], own: Mapping[str, int]) -> tuple[Work, ...]:
    """Operations with a shop's own minutes of their stages in the place of the estimates.

    Examples
    --------
    >>> works = [Work("a", "hone", "A", 20, 10, 30), Work("b", "hone", "B", 10, 5, 15)]
    >>> [(one.minutes, one.why) for one in with_own(works, {"hone": 45})]
    [(30, 'your last ones took so long'), (15, 'your last ones took so long')]
    """
    given = list(works)
    whole = {stage: sum(one.minutes for one in given if one.stage == stage) for stage in own}
    left = {stage: own[stage] for stage, minutes in whole.items() if minutes}
    made: list[Work] = []
    for place, one in enumerate(given):
        if one.stage not in left:
            made.append(one)
            continue
        is_last = all(later.stage != one.stage for later in given[place + 1 :])
        shared = own[one.stage] * one.minutes // whole[one.stage]
        minutes = left[one.stage] if is_last else shared
        left[one.stage] -= minutes
        low, high = (_minutes_of(end, one.minutes, minutes) for end in (one.low, one.high))
        made.append(replace(one, minutes=minutes, low=low, high=high, why=OWN))
    return tuple(made)


def _work(one: Operation, times: int) -> Work:
    """An operation that is done so many times."""
    middle, low, high = (_minutes(time * times) for time in (one.time, one.low, one.high))
    return Work(one.name, one.stage, one.title, middle, low, high)


def _minutes_of(end: int, estimated: int, minutes: int) -> int:
    """An end of the band, moved as the minutes moved."""
    return end * minutes // estimated if estimated else minutes


def _minutes(seconds: float) -> int:
    return round(seconds / 60.0)


def _times(per: str, extent: Extent) -> int:
    """How often an operation is done."""
    return {
        "job": 1,
        "cylinder": extent.cylinders,
        "port": extent.cylinders * extent.ports,
    }[per]


@dataclass(frozen=True)
class Change:
    """What an invoice differs by from the offer that was agreed, and why."""

    title: str
    cents: int  # negative where it became less
    reason: str


@dataclass(frozen=True)
class Invoice:
    """What is asked for: the agreed lines as they were, the changes with their reasons."""

    lines: tuple[PricedLine, ...]
    changes: tuple[Change, ...]
    net: int
    tax: int
    total: int
    paid: int  # deposit that was paid
    due: int
    currency: str


def invoiced(price: Price, changes: Sequence[Change], *, tax: int, paid: int = 0) -> Invoice:
    """The invoice of an agreed offer.

    Parameters
    ----------
    price : Price
        What was agreed.
    changes : Sequence[Change]
        What became more or less; each with its reason.
    tax : int
        Tax that was agreed, in parts of ten thousand.
    paid : int
        Cents that were paid already.

    Returns
    -------
    Invoice
        Lines and sums.

    Raises
    ------
    InputError
        If a change has no reason, or the sum would be less than nothing.
    """
    for one in changes:
        if len(one.reason.strip()) < 3:
            raise InputError(
                one.title, "no reason", "", "a reason in words", "The offer was agreed without it."
            )
    if paid < 0:
        raise InputError("paid", paid / 100.0, price.currency, "nothing or more")
    net = price.net + sum(one.cents for one in changes)
    if net < 0:
        raise InputError("changes", net / 100.0, price.currency, "a sum that is not negative")
    due = share_of(net, tax) if changes else price.tax
    total = net + due
    return Invoice(price.lines, tuple(changes), net, due, total, paid, total - paid, price.currency)
