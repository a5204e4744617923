"""Use cases: an offer and an invoice on paper, with the customer's lines where they are kept."""

from __future__ import annotations

from sqlalchemy import Connection, select

from sleevewright import __version__
from sleevewright.errors import NotFound
from sleevewright.planning.options import Option
from sleevewright.services.bench import Bench
from sleevewright.services.choosing import options_of
from sleevewright.services.invoices import invoices_of
from sleevewright.services.jobs import look
from sleevewright.services.quotes import quote_named
from sleevewright.services.sealing import head_for_paper, sealed_words
from sleevewright.sheets.quote import Column, Heading, invoice_sheet, offer_sheet
from sleevewright.store.tables import contact as contact_table

DAY = 10  # letters of a date


def offer_paper(bench: Bench, number: str, identity: str) -> bytes:
    """An offer as a PDF.

    Raises
    ------
    NotFound
        If there is no such job or offer.
    """
    seen = look(bench, number)
    quote = quote_named(bench, number, identity)
    told = options_of(seen.plan, seen.living.job, seen.folded)
    words: dict[str, Option] = {one.key: one for one in told}
    columns = tuple(
        Column(one.key, one.price, one.name == quote.agreed, words.get(one.key))
        for one in quote.offered
    )
    heading = _heading(bench, number, quote.id, quote.made, quote.note)
    return offer_sheet(heading, columns, valid_until=quote.valid_until)


def invoice_paper(bench: Bench, number: str, identity: str) -> bytes:
    """An invoice as a PDF.

    Raises
    ------
    NotFound
        If there is no such job or invoice.
    """
    issued = invoices_of(bench, number)
    found = next((one for one in issued if one.id == identity), None)
    if found is None:
        raise NotFound("invoice", identity, tuple(one.id for one in issued))
    heading = _heading(bench, number, found.id, found.made, "")
    return invoice_sheet(heading, found.option, found.invoice, offer=found.quote)


def _heading(bench: Bench, number: str, identity: str, made: str, note: str) -> Heading:
    """What stands on either sheet."""
    opened = bench.store.folded(number).opened
    return Heading(
        id=identity,
        job=number,
        title=str(opened.get("title", "")) or "without a name",
        made=made[:DAY],
        is_invented=bool(opened.get("invented")),
        customer=bench.store.read(lambda connection: _customer(connection, number)),
        note=note,
        code=sealed_words(__version__, head_for_paper(bench)),
    )


def _customer(connection: Connection, number: str) -> tuple[str, ...]:
    """Name and address of the customer, line by line; none where none is kept."""
    row = connection.execute(
        select(contact_table.c.name, contact_table.c.address).where(contact_table.c.job == number)
    ).first()
    if row is None:
        return ()
    return tuple(line.strip() for line in (row.name, *row.address.splitlines()) if line.strip())
