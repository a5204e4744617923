"""Offer and invoice on paper: every amount that was kept, each sum, and nothing else."""

from __future__ import annotations

import io
import re

import pypdf
import pytest

from sleevewright.planning.money import amount
from sleevewright.planning.options import bare_option
from sleevewright.planning.price import (
    Bought,
    Change,
    Extent,
    Price,
    Rates,
    estimate,
    invoiced,
    priced,
)
from sleevewright.sheets.quote import Column, Heading, invoice_sheet, offer_sheet

RATES = Rates(90_00, risk=1000, tax=1900, currency="EUR")
HEADING = Heading("J-31-Q1", "J-31", "270 single, water", "2026-11-25", is_invented=True)
KEYS = ("hone", "oversize", "sleeve")


def price_of(key: str) -> Price:
    """Price of an option with two parts."""
    parts = [Bought("Sleeve", 140_00), Bought("Gaskets", 22_40)]
    return priced(estimate(key, Extent(ports=5)), parts, RATES)


def words(sheet: bytes) -> str:
    """All that can be read on the sheet."""
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(sheet)).pages)


def amounts(text: str) -> set[str]:
    """Everything on a sheet that looks like an amount."""
    return set(re.findall(r"\d+\.\d{2}", text))


def test_offer_prints_each_line_and_sum_of_every_option() -> None:
    """What is kept is on the paper, to the cent, with the band, the day and the mark."""
    columns = tuple(Column(key, price_of(key), words=bare_option(key, "possible")) for key in KEYS)
    sheet = offer_sheet(HEADING, columns, valid_until="2026-12-25")
    text = words(sheet)
    wanted = set()
    for one in columns:
        price = one.price
        cents = [line.cents for line in price.lines]
        cents += [price.net, price.tax, price.total, price.low, price.high, price.deposit]
        wanted |= {amount(cent) for cent in cents}
    assert wanted == amounts(text)
    for said in ("Offer", "J-31", "2026-12-25", "invented example", "Next oversize", "Signature"):
        assert said in text
    assert "most work, and heat on the casting" in text.replace("\n", " ")


def test_invoice_prints_agreed_lines_changes_and_what_is_to_pay() -> None:
    """Changes stand with their reasons; what was paid is taken off."""
    price = price_of("sleeve")
    invoice = invoiced(price, [Change("Welding", 60_00, "crack found")], tax=1900, paid=50_00)
    text = words(invoice_sheet(HEADING, "Sleeve", invoice, offer="J-31-Q1"))
    cents = [line.cents for line in invoice.lines]
    cents += [60_00, invoice.net, invoice.tax, invoice.total, 50_00, invoice.due]
    assert {amount(cent) for cent in cents} == amounts(text)
    for said in ("Invoice", "crack found", "J-31-Q1", "To pay", "EUR"):
        assert said in text
    assert "Signature" not in text


def test_same_facts_give_the_same_bytes() -> None:
    """A sheet can be printed again."""
    columns = (Column("hone", price_of("hone"), is_agreed=True),)
    sheets = [offer_sheet(HEADING, columns, valid_until="2026-12-25") for _ in range(2)]
    assert sheets[0] == sheets[1]
    assert "agreed" in words(sheets[0])


@pytest.mark.parametrize("is_invented", [True, False])
def test_mark_of_an_invented_job_is_printed_only_there(is_invented: bool) -> None:
    """A real job carries no mark; a customer's lines stand on it."""
    heading = Heading("Q", "J", "T", "2026-11-25", is_invented, ("A. Customer", "1 Lane"))
    columns = (Column("hone", price_of("hone")),)
    text = words(offer_sheet(heading, columns, valid_until="2026-12-25"))
    assert ("invented example" in text) is is_invented
    assert "A. Customer" in text


def test_long_offer_goes_on_overleaf() -> None:
    """Sixty lines are all printed, on as many pages as they take."""
    parts = [Bought(f"Part {number}", 100 + number) for number in range(45)]
    price = priced(estimate("hone", Extent()), parts, RATES)
    sheet = offer_sheet(HEADING, (Column("hone", price),), valid_until="2026-12-25")
    assert len(pypdf.PdfReader(io.BytesIO(sheet)).pages) >= 2
    assert {amount(one.cents) for one in price.lines} <= amounts(words(sheet))
