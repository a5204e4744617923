"""Offers as they are kept: one JSON body with every line and sum as it was told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from sleevewright.planning.options import TITLES
from sleevewright.planning.price import Bought, Price, PricedLine, Rates, Work
from sleevewright.services.choosing import CHOICE_NAMES

FORMAT = 1


@dataclass(frozen=True)
class Offered:
    """One option as it was offered."""

    key: str
    works: tuple[Work, ...]
    parts: tuple[Bought, ...]
    price: Price

    @property
    def title(self) -> str:
        """What it is called."""
        return TITLES[self.key]

    @property
    def name(self) -> str:
        """What a decision calls it."""
        return CHOICE_NAMES[self.key]


@dataclass(frozen=True)
class Quote:
    """An offer of several options."""

    id: str
    job: str
    revision: int
    made: str  # ISO, UTC
    valid_until: str  # ISO, last day
    offered: tuple[Offered, ...]
    rates: Rates
    note: str = ""
    agreed: str = ""  # name of the option that was agreed, as the chain says
    agreed_how: str = ""

    @property
    def chosen(self) -> Offered | None:
        """The option that was agreed."""
        return next((one for one in self.offered if one.name == self.agreed), None)


def quote_body(quote: Quote) -> dict[str, Any]:
    """The body of an offer."""
    return {
        "format": FORMAT,
        "revision": quote.revision,
        "valid_until": quote.valid_until,
        "note": quote.note,
        "rates": asdict(quote.rates),
        "offered": [
            {
                "key": one.key,
                "works": [asdict(work) for work in one.works],
                "parts": [asdict(part) for part in one.parts],
                "price": asdict(one.price),
            }
            for one in quote.offered
        ],
    }


def quote_of(identity: str, job: str, made: str, body: Mapping[str, Any]) -> Quote:
    """The offer that a body is of."""
    return Quote(
        id=identity,
        job=job,
        revision=int(body["revision"]),
        made=made,
        valid_until=str(body["valid_until"]),
        offered=tuple(_offered(one) for one in body["offered"]),
        rates=Rates(**body["rates"]),
        note=str(body["note"]),
    )


def _offered(body: Mapping[str, Any]) -> Offered:
    return Offered(
        str(body["key"]),
        tuple(Work(**one) for one in body["works"]),
        tuple(Bought(**one) for one in body["parts"]),
        price_of(body["price"]),
    )


def price_of(body: Mapping[str, Any]) -> Price:
    """The price that a body is of."""
    lines = tuple(PricedLine(**one) for one in body["lines"])
    return Price(**{**body, "lines": lines})
