"""Paper of the price: an offer of several options side by side, or the invoice of one.

Facts go in and the bytes of a PDF come out.  Nothing is reckoned here: every amount is a
whole number of cents that was kept, printed once.  The same facts give the same bytes.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from importlib import resources

import typst

from sleevewright import __version__
from sleevewright.planning.money import amount
from sleevewright.planning.options import TITLES, Option
from sleevewright.planning.price import Invoice, Price, PricedLine

Block = dict[str, object]

OFFER, INVOICE = "Offer", "Invoice"

BAND_WORDS = (
    "The band holds the price if the work goes as quickly or as slowly as it usually does. "
    "What is found on the way is told before it is charged."
)


@dataclass(frozen=True)
class Heading:
    """What stands on either sheet: whose job it is, and from when."""

    id: str
    job: str
    title: str
    made: str  # day, ISO
    is_invented: bool = False
    customer: tuple[str, ...] = ()  # lines of the address; outside the chain
    note: str = ""
    code: str = __version__  # with the seal of the records, where there is one


@dataclass(frozen=True)
class Column:
    """One option of an offer, with its words where it has some."""

    key: str
    price: Price
    is_agreed: bool = False
    words: Option | None = None


def offer_sheet(heading: Heading, columns: tuple[Column, ...], *, valid_until: str) -> bytes:
    """An offer as a PDF.

    Parameters
    ----------
    heading : Heading
        What stands on the sheet.
    columns : tuple[Column, ...]
        The options, side by side.
    valid_until : str
        Last day of the offer, ISO.
    """
    facts = {
        **_heading(OFFER, heading),
        "under": [f"made on {heading.made}", f"stands until {valid_until}"],
        "options": [_column(one) for one in columns],
        "below": [BAND_WORDS],
        "signed": True,
    }
    return _printed(facts)


def invoice_sheet(heading: Heading, option: str, invoice: Invoice, *, offer: str) -> bytes:
    """An invoice as a PDF.

    Parameters
    ----------
    heading : Heading
        What stands on the sheet.
    option : str
        What was agreed.
    invoice : Invoice
        Its lines, changes and sums.
    offer : str
        The offer that its figures are carried over from.
    """
    changes = [
        {"title": one.title, "note": one.reason, "amount": amount(one.cents)}
        for one in invoice.changes
    ]
    rows = [
        ("Net", invoice.net, False),
        ("Tax", invoice.tax, False),
        ("Total", invoice.total, False),
    ]
    if invoice.paid:
        rows.append(("Paid already", -invoice.paid, False))
    rows.append(("To pay", invoice.due, True))
    column: Block = {
        "title": option,
        "mark": "",
        "lines": [*map(_line, invoice.lines), *changes],
        "sums": _sums(rows, invoice.currency),
        "speaks_for": [],
        "against": [],
    }
    facts = {
        **_heading(INVOICE, heading),
        "under": [f"made on {heading.made}", f"carried over from offer {offer}"],
        "options": [column],
        "below": [],
        "signed": False,
    }
    return _printed(facts)


def _heading(kind: str, heading: Heading) -> Block:
    return {
        "kind": kind,
        "id": heading.id,
        "job": heading.job,
        "title": heading.title,
        "invented": heading.is_invented,
        "customer": list(heading.customer),
        "note": heading.note,
        "code": heading.code,
    }


def _column(one: Column) -> Block:
    """An option as the template prints it."""
    price = one.price
    rows = [("Net", price.net, False), ("Tax", price.tax, False), ("Total", price.total, True)]
    sums = _sums(rows, price.currency)
    band = f"{amount(price.low)} to {amount(price.high)}"
    sums.append({"title": "Band", "amount": band, "strong": False})
    sums.append({"title": "Deposit", "amount": amount(price.deposit), "strong": False})
    return {
        "title": TITLES[one.key],
        "mark": "agreed" if one.is_agreed else "",
        "lines": [_line(line) for line in price.lines],
        "sums": sums,
        "speaks_for": [] if one.words is None else list(one.words.speaks_for),
        "against": [] if one.words is None else list(one.words.against),
    }


def _line(line: PricedLine) -> Block:
    minutes = "" if line.minutes is None else f"{line.minutes} min"
    return {"title": line.title, "note": minutes, "amount": amount(line.cents)}


def _sums(rows: list[tuple[str, int, bool]], currency: str) -> list[Block]:
    return [
        {"title": title, "amount": amount(cents, currency if strong else ""), "strong": strong}
        for title, cents, strong in rows
    ]


def _printed(facts: Block) -> bytes:
    """The sheet of these facts."""
    package = resources.files("sleevewright.sheets")
    with resources.as_file(package.joinpath("fonts")) as folder:
        return typst.compile(
            package.joinpath("quote.typ").read_bytes(),
            format="pdf",
            font_paths=typst.Fonts(include_system_fonts=False, font_paths=[str(folder)]),
            ignore_system_fonts=True,
            sys_inputs={"facts": json.dumps(facts, ensure_ascii=False, sort_keys=True)},
        )
