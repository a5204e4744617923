"""Use cases of the price: make an offer of several options, agree one, see minutes beside.

An offer is kept as it was reckoned, line by line, so that what a customer was told stays
what it was.  What is agreed is a record of the chain; the offer itself is not, since it
may be thrown away.  Customers' names never come near either.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from sqlalchemy import Connection, insert, select

from sleevewright.errors import InputError, NotFound, StateError, clipped
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import DECISION, VALUE, WHOLE_JOB, Record
from sleevewright.planning.money import amount, money
from sleevewright.planning.price import (
    MOST_MINUTES,
    TYPED,
    VALID_DAYS,
    Bought,
    Extent,
    Rates,
    Work,
    estimate,
    priced,
)
from sleevewright.services.bench import Bench
from sleevewright.services.choosing import CHOICE_NAMES
from sleevewright.services.jobs import folded_job, server_draft
from sleevewright.services.minutes import own_minutes
from sleevewright.services.quote_bodies import Offered, Quote, quote_body, quote_of
from sleevewright.services.settings import price_rates
from sleevewright.store.tables import quote as quote_table

OFFER, INVOICE = "offer", "invoice"
"""States of a row: what it is.  Whether an offer was agreed is told by the chain."""

USUAL_PORTS = 5
"""Ports of a two-stroke cylinder until they are mapped: common practice, no source."""

HOW = ("by telephone", "in person", "in writing")
"""How a customer agreed."""

MOST_PARTS = 12
LONGEST_NOTE = 1000


@dataclass(frozen=True)
class Wanted:
    """One option as it is to be offered: minutes by operation and parts, as they were typed."""

    key: str
    minutes: Mapping[str, str]
    parts: Sequence[tuple[str, str]]


def rates_of(bench: Bench) -> Rates:
    """What the shop prices by, in whole cents and parts of ten thousand."""
    told = price_rates(bench)
    return Rates(
        round(told.hour * 100),
        risk=round(told.risk * 10_000),
        tax=round(told.tax * 10_000),
        deposit=round(told.deposit * 10_000),
        currency=told.currency,
    )


def extent_of(folded: Folded) -> Extent:
    """How much there is to do, from what was told of a job."""
    ports = {cell.split("/")[1] for cell in folded.cells("port/") if cell.count("/") == 2}
    is_ported = str(folded.opened.get("engine_kind", "two-stroke")) == "two-stroke"
    return Extent(
        cylinders=folded.cylinders,
        ports=(len(ports) or USUAL_PORTS) if is_ported else 0,
        is_flanged=folded.text("sleeve.flange") != "plain",
    )


def draft(bench: Bench, number: str, keys: Iterable[str]) -> tuple[Offered, ...]:
    """Options with the minutes that are to be expected; nothing is kept.

    Minutes that the shop told of jobs like this one go before the estimates.

    Parameters
    ----------
    bench : Bench
        The open bench.
    number : str
        Number of the job.
    keys : Iterable[str]
        Which options.

    Returns
    -------
    tuple[Offered, ...]
        One for each key, priced without parts.
    """
    folded = folded_job(bench, number)
    own, extent, rates = own_minutes(bench, folded), extent_of(folded), rates_of(bench)
    made = []
    for key in keys:
        works = estimate(key, extent, own=own)
        made.append(Offered(key, works, (), priced(works, (), rates)))
    return tuple(made)


def make_quote(
    bench: Bench,
    number: str,
    wanted: Sequence[Wanted],
    *,
    valid_until: str = "",
    note: str = "",
) -> Quote:
    """Make an offer, or the next revision of one.

    Parameters
    ----------
    bench : Bench
        The open bench.
    number : str
        Number of the job.
    wanted : Sequence[Wanted]
        The options with their minutes and parts.
    valid_until : str
        Last day of the offer, ISO; thirty days from today where nothing is said.
    note : str
        What is said beside it.

    Returns
    -------
    Quote
        As it is kept.

    Raises
    ------
    InputError
        If a figure cannot be taken; it names the option and the line.
    NotFound
        If there is no such job.
    """
    if not wanted:
        raise InputError("options", "none", "", "one option at least")
    until = _until(bench, valid_until)
    told = " ".join(note.split())
    if len(told) > LONGEST_NOTE or not told.isprintable():
        allowed = f"at most {LONGEST_NOTE} letters that can be printed"
        raise InputError("note", clipped(repr(told)), "", allowed)
    drafted = {one.key: one for one in draft(bench, number, [one.key for one in wanted])}
    rates = rates_of(bench)
    offered = tuple(_offered(one, drafted[one.key], rates) for one in wanted)
    made = bench.now()

    def work(connection: Connection) -> Quote:
        revision = 1 + len(_rows(connection, number, OFFER))
        quote = Quote(f"{number}-Q{revision}", number, revision, made, until, offered, rates, told)
        row = {"id": quote.id, "job": number, "body": json.dumps(quote_body(quote)),
               "made": made, "state": OFFER}  # fmt: skip
        connection.execute(insert(quote_table).values(row))
        return quote

    return bench.store.write(work)


def _until(bench: Bench, text: str) -> str:
    """The last day of an offer."""
    today = bench.clock().date()
    if not text.strip():
        return (today + timedelta(days=VALID_DAYS)).isoformat()
    try:
        until = date.fromisoformat(text.strip())
    except ValueError:
        raise InputError("stands until", clipped(text), "", "a day as 2026-11-30") from None
    if until < today:
        raise InputError("stands until", clipped(text), "", f"a day from {today} on")
    return until.isoformat()


def _offered(wanted: Wanted, drafted: Offered, rates: Rates) -> Offered:
    """An option with what was typed in the place of what was to be expected."""
    works = tuple(_typed(one, wanted.minutes.get(one.name, "")) for one in drafted.works)
    unknown = set(wanted.minutes) - {one.name for one in works}
    if unknown:
        raise InputError(CHOICE_NAMES[wanted.key], clipped(min(unknown)), "", "its operations")
    if len(wanted.parts) > MOST_PARTS:
        raise InputError("parts", len(wanted.parts), "", f"at most {MOST_PARTS}")
    parts = tuple(
        Bought(_title(title), money(text, field=title or "part", currency=rates.currency))
        for title, text in wanted.parts
        if title.strip() or text.strip()
    )
    return Offered(wanted.key, works, parts, priced(works, parts, rates))


def _title(text: str) -> str:
    if not text.strip() or len(text) > 120 or not text.strip().isprintable():
        raise InputError("part", clipped(text) or "nothing", "", "what it is, in one line")
    return text.strip()


def _typed(work: Work, text: str) -> Work:
    """An operation with its minutes as they were typed."""
    told = text.strip()
    if not told:
        return work
    if not (told.isascii() and told.isdigit() and int(told[:6]) <= MOST_MINUTES):
        allowed = f"whole minutes, 0 to {MOST_MINUTES}"
        raise InputError(work.title, clipped(told), "min", allowed)
    minutes = int(told)
    if minutes == work.minutes:
        return work
    low, high = min(work.low, minutes), max(work.high, minutes)
    return replace(work, minutes=minutes, low=low, high=high, why=TYPED)


def quotes_of(bench: Bench, number: str) -> tuple[Quote, ...]:
    """The offers of a job, the newest first, the agreed one marked."""
    rows = bench.store.read(lambda connection: _rows(connection, number, OFFER))
    decisions = bench.store.folded(number).decisions if rows else []
    found = [quote_of(row.id, row.job, row.made, json.loads(row.body)) for row in rows]
    marked = [_marked(one, decisions) for one in found]
    return tuple(sorted(marked, key=lambda one: -one.revision))


def quote_named(bench: Bench, number: str, identity: str) -> Quote:
    """One offer of a job.

    Raises
    ------
    NotFound
        If the job has no such offer.
    """
    known = quotes_of(bench, number)
    found = next((one for one in known if one.id == identity), None)
    if found is None:
        raise NotFound("offer", identity, tuple(one.id for one in known))
    return found


def _marked(quote: Quote, decisions: Sequence[Record]) -> Quote:
    """An offer with what the chain says was agreed of it; only the last decision counts."""
    last: Mapping[str, Any] = decisions[-1].body if decisions else {}
    if last.get("quote") != quote.id:
        return quote
    return replace(quote, agreed=str(last.get("option", "")), agreed_how=str(last.get("how", "")))


def _rows(connection: Connection, number: str, state: str) -> Sequence[Any]:
    query = select(quote_table).where(quote_table.c.job == number, quote_table.c.state == state)
    return connection.execute(query.order_by(quote_table.c.made)).all()


def is_over(bench: Bench, quote: Quote) -> bool:
    """Whether the last day of an offer has passed."""
    return date.fromisoformat(quote.valid_until) < bench.clock().date()


@dataclass(frozen=True)
class Agreeing:
    """What a customer agreed to, how, and who noted it."""

    quote: str
    option: str  # key
    how: str  # one of HOW
    person: str = ""  # key; empty where the shop has one person


def agree(bench: Bench, number: str, agreed: Agreeing) -> int:
    """Note that the customer agreed to an option of an offer.

    The decision and the planned minutes are kept as one.

    Parameters
    ----------
    bench : Bench
        The open bench.
    number : str
        Number of the job.
    agreed : Agreeing
        Which option of which offer, and how.

    Returns
    -------
    int
        Number of the decision in the job.

    Raises
    ------
    NotFound
        If there is no such offer, or it has no such option.
    StateError
        If the offer is over: a new one is to be made.
    """
    quote = quote_named(bench, number, agreed.quote)
    chosen = next((one for one in quote.offered if one.key == agreed.option), None)
    if chosen is None:
        known = tuple(one.key for one in quote.offered)
        raise NotFound("option of this offer", agreed.option, known)
    if agreed.how not in HOW:
        raise InputError("how", clipped(agreed.how) or "nothing", "", ", ".join(HOW))
    if is_over(bench, quote):
        raise StateError(number, f"at an offer that stood until {quote.valid_until}", "a new offer")
    body = {
        "cylinder": WHOLE_JOB,
        "quote": quote.id,
        "option": chosen.name,
        "offered": [one.name for one in quote.offered],
        "price": amount(chosen.price.total),
        "currency": quote.rates.currency,
        "agreed_by": "customer",
        "how": agreed.how,
        "valid_until": quote.valid_until,
        "said": bench.now(),
        **({"person": agreed.person} if agreed.person else {}),
    }
    planned = _planned(bench.store.folded(number), chosen)
    drafts = [server_draft(number, DECISION, body)]
    drafts += [server_draft(number, VALUE, one) for one in planned]
    return bench.store.append(drafts)[0].number


def _planned(folded: Folded, chosen: Offered) -> list[dict[str, Any]]:
    """Bodies that tell the planned minutes of each stage, in the place of earlier ones."""
    stages: dict[str, int] = {}
    for work in chosen.works:
        stages[work.stage] = stages.get(work.stage, 0) + work.minutes
    return [
        {
            "cylinder": WHOLE_JOB,
            "cell": (cell := f"operation.{stage}.planned"),
            "text": f"{minutes} min",
            "si": minutes * 60.0,
            "kind": "chosen",
            "source": "keyed",
            "replaces": [one.id for one in folded.heads(cell, cylinder=WHOLE_JOB)],
        }
        for stage, minutes in stages.items()
    ]
