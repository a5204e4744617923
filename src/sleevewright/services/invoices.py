"""Use case: the invoice of a job, carried over from the offer that was agreed.

No figure is typed twice: lines and sums are those of the offer.  What became more or less
stands below them with its reason.  Nothing is rounded or reckoned on the page.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from sqlalchemy import Connection, insert, select

from sleevewright.errors import InputError, NotFound, StateError
from sleevewright.planning.money import amount, money
from sleevewright.planning.price import Change, Invoice, PricedLine, invoiced
from sleevewright.services.bench import Bench
from sleevewright.services.quote_bodies import Offered, Quote
from sleevewright.services.quotes import INVOICE, quotes_of
from sleevewright.store.tables import quote as quote_table

MOST_CHANGES = 20


@dataclass(frozen=True)
class Issued:
    """An invoice as it was made."""

    id: str
    job: str
    made: str
    quote: str  # id of the offer that it carries over
    option: str  # title of what was agreed
    invoice: Invoice


def agreed_offer(bench: Bench, number: str) -> tuple[Quote, Offered]:
    """The offer that was agreed, and its option.

    Raises
    ------
    StateError
        If none is agreed, or what is kept is not what the chain says was agreed.
    """
    agreed = next((one for one in quotes_of(bench, number) if one.chosen is not None), None)
    if agreed is None or agreed.chosen is None:
        raise StateError(number, "at a price that nobody agreed to", "an agreed offer")
    decision = bench.store.folded(number).decisions[-1].body
    if decision.get("price") != amount(agreed.chosen.price.total):
        wanted = f"{decision.get('price')} as it was agreed"
        raise StateError(number, f"at an offer of {amount(agreed.chosen.price.total)}", wanted)
    return agreed, agreed.chosen


def make_invoice(
    bench: Bench,
    number: str,
    changes: Sequence[tuple[str, str, str]] = (),
    *,
    paid: str = "",
) -> Issued:
    """Make the invoice of an agreed offer.

    Parameters
    ----------
    bench : Bench
        The open bench.
    number : str
        Number of the job.
    changes : Sequence[tuple[str, str, str]]
        What became more or less: title, amount with its sign, reason.
    paid : str
        What was paid already; empty for nothing.

    Returns
    -------
    Issued
        As it is kept.

    Raises
    ------
    InputError
        If a change has no reason, or an amount cannot be taken.
    StateError
        If no offer is agreed.
    """
    quote, chosen = agreed_offer(bench, number)
    if len(changes) > MOST_CHANGES:
        raise InputError("changes", len(changes), "", f"at most {MOST_CHANGES}")
    currency = quote.rates.currency
    told = [
        Change(
            title.strip() or "Change",
            money(text, field=title or "change", currency=currency, may_be_negative=True),
            reason.strip(),
        )
        for title, text, reason in changes
    ]
    before = money(paid, field="paid", currency=currency) if paid.strip() else 0
    made = invoiced(chosen.price, told, tax=quote.rates.tax, paid=before)
    return bench.store.write(lambda connection: _keep(connection, bench, quote, chosen, made))


def _keep(
    connection: Connection, bench: Bench, quote: Quote, chosen: Offered, made: Invoice
) -> Issued:
    """Write the row of an invoice."""
    count = len(_rows(connection, quote.job)) + 1
    issued = Issued(f"{quote.job}-R{count}", quote.job, bench.now(), quote.id, chosen.title, made)
    body = {"quote": quote.id, "option": chosen.title, "invoice": asdict(made)}
    row = {"id": issued.id, "job": quote.job, "body": json.dumps(body), "made": issued.made,
           "state": INVOICE}  # fmt: skip
    connection.execute(insert(quote_table).values(row))
    return issued


def invoices_of(bench: Bench, number: str) -> tuple[Issued, ...]:
    """The invoices of a job, the newest first."""
    rows = bench.store.read(lambda connection: _rows(connection, number))
    return tuple(_issued(row) for row in reversed(rows))


def last_invoice(bench: Bench, number: str) -> Issued:
    """The invoice of a job that was made last.

    Raises
    ------
    NotFound
        If none was made.
    """
    made = invoices_of(bench, number)
    if not made:
        raise NotFound("invoice of", number)
    return made[0]


def _rows(connection: Connection, number: str) -> Sequence[Any]:
    query = select(quote_table).where(quote_table.c.job == number, quote_table.c.state == INVOICE)
    return connection.execute(query.order_by(quote_table.c.made, quote_table.c.id)).all()


def _issued(row: Any) -> Issued:
    body = json.loads(row.body)
    told = body["invoice"]
    lines = tuple(PricedLine(**one) for one in told["lines"])
    changes = tuple(Change(**one) for one in told["changes"])
    invoice = Invoice(**{**told, "lines": lines, "changes": changes})
    return Issued(row.id, row.job, row.made, body["quote"], body["option"], invoice)
