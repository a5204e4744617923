"""The price of a job as its page shows it: columns of options, the offer, the invoice."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import quote as quoted

from sleevewright.planning.money import amount
from sleevewright.planning.options import Option
from sleevewright.planning.price import Price, Work
from sleevewright.services.bench import Bench
from sleevewright.services.choosing import options_of
from sleevewright.services.invoices import Issued, invoices_of
from sleevewright.services.jobs import Look
from sleevewright.services.minutes import minutes_beside
from sleevewright.services.people import people
from sleevewright.services.quote_bodies import Offered, Quote
from sleevewright.services.quotes import HOW, draft, is_over, quotes_of, rates_of

BLANK_PARTS = 3
BLANK_CHANGES = 3


@dataclass(frozen=True)
class Sum:
    """One sum under a column."""

    name: str
    amount: str
    currency: str = ""
    is_main: bool = False


@dataclass(frozen=True)
class Column:
    """One option: what is known of it, its lines to type on, its sums."""

    key: str
    option: Option
    works: tuple[Work, ...]
    minutes: int
    parts: tuple[tuple[str, str], ...]  # title and amount; blank rows at the end
    sums: tuple[Sum, ...]
    is_offered: bool  # stands in the last offer
    is_agreed: bool


@dataclass(frozen=True)
class StageRow:
    """Minutes of one stage."""

    title: str
    planned: str
    worked: str


@dataclass(frozen=True)
class InvoiceView:
    """The last invoice, in words and amounts."""

    id: str
    href: str
    changes: tuple[tuple[str, str, str], ...]
    sums: tuple[Sum, ...]


@dataclass(frozen=True)
class Agreement:
    """What the customer agreed to last."""

    title: str
    how: str
    price: Sum
    offer: str  # id
    is_newest: bool  # whether no offer was made since


@dataclass(frozen=True)
class PricePage:
    """Everything on the page."""

    number: str
    title: str
    is_invented: bool
    base: str
    api: str
    columns: tuple[Column, ...]
    hour: str
    risk: str
    currency: str
    offer: Quote | None
    is_over: bool
    offer_href: str
    until: str
    note: str
    hows: tuple[str, ...]
    people: tuple[tuple[str, str], ...]  # key and name; none where one works here
    stages: tuple[StageRow, ...]
    invoice: InvoiceView | None
    agreed: Agreement | None  # of whichever offer
    blank_changes: int = BLANK_CHANGES


def price_page(bench: Bench, look: Look) -> PricePage:
    """The page of a job's price.

    Parameters
    ----------
    bench : Bench
        The open bench.
    look : Look
        Where the job stands; its first cylinder.

    Returns
    -------
    PricePage
        What the template prints.
    """
    folded, number = look.folded, look.number
    options = options_of(look.plan, look.living.job, folded, cylinder=look.cylinder)
    offers = quotes_of(bench, number)
    offer = offers[0] if offers else None
    drafted = {one.key: one for one in draft(bench, number, [one.key for one in options])}
    base = f"/jobs/{quoted(number, safe='')}"
    rates = rates_of(bench)
    workers = people(bench)
    issued = invoices_of(bench, number)
    return PricePage(
        number=number,
        title=str(folded.opened.get("title", "")),
        is_invented=bool(folded.opened.get("invented")),
        base=base,
        api=f"/api{base}",
        columns=tuple(_column(one, drafted[one.key], offer) for one in options),
        hour=amount(rates.hour, rates.currency),
        risk=f"{rates.risk / 100:g} %",
        currency=rates.currency,
        offer=offer,
        is_over=offer is not None and is_over(bench, offer),
        offer_href="" if offer is None else f"{base}/offers/{quoted(offer.id, safe='')}/offer.pdf",
        until="" if offer is None else offer.valid_until,
        note="" if offer is None else offer.note,
        hows=HOW,
        people=tuple((one.key, one.shown) for one in workers) if len(workers) > 1 else (),
        stages=_stages(look),
        invoice=_invoice(issued[0], base) if issued else None,
        agreed=_agreement(offers),
    )


def _agreement(offers: Sequence[Quote]) -> Agreement | None:
    """What was agreed, of the offers newest first."""
    for place, one in enumerate(offers):
        chosen = one.chosen
        if chosen is not None:
            price = Sum("Total", amount(chosen.price.total), chosen.price.currency, is_main=True)
            return Agreement(chosen.title, one.agreed_how, price, one.id, is_newest=place == 0)
    return None


def _column(option: Option, drafted: Offered, offer: Quote | None) -> Column:
    """An option as it was offered last; else as it is to be expected."""
    last = None
    if offer is not None:
        last = next((one for one in offer.offered if one.key == option.key), None)
    shown = drafted if last is None else last
    parts = [(one.title, amount(one.cents)) for one in shown.parts]
    return Column(
        option.key,
        option,
        shown.works,
        shown.price.minutes,
        tuple(parts + [("", "")] * BLANK_PARTS),
        _sums(shown.price),
        is_offered=last is not None,
        is_agreed=last is not None and offer is not None and offer.agreed == last.name,
    )


def _sums(price: Price) -> tuple[Sum, ...]:
    """Net, tax, total, band and deposit of an option."""
    return (
        Sum("Total", amount(price.total), price.currency, is_main=True),
        Sum("of it tax", amount(price.tax)),
        Sum("Band", f"{amount(price.low)} \N{EN DASH} {amount(price.high)}"),
        Sum("Deposit", amount(price.deposit)),
    )


def _stages(look: Look) -> tuple[StageRow, ...]:
    """Planned and worked minutes, by the titles of the route."""
    titles: Mapping[str, str] = {step.stage: step.title for step in look.steps}
    return tuple(
        StageRow(titles.get(one.stage, one.stage), _told(one.planned), _told(one.worked))
        for one in minutes_beside(look.folded)
    )


def _told(minutes: int | None) -> str:
    return "\N{EN DASH}" if minutes is None else str(minutes)


def _invoice(issued: Issued, base: str) -> InvoiceView:
    made = issued.invoice
    rows: Sequence[tuple[str, int, bool]] = (
        ("To pay", made.due, True),
        ("Net", made.net, False),
        ("Tax", made.tax, False),
        ("Total", made.total, False),
        ("Paid already", made.paid, False),
    )
    return InvoiceView(
        issued.id,
        f"{base}/invoices/{quoted(issued.id, safe='')}/invoice.pdf",
        tuple((one.title, amount(one.cents), one.reason) for one in made.changes),
        tuple(
            Sum(name, amount(cents), made.currency if main else "", main)
            for name, cents, main in rows
        ),
    )
