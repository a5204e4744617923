"""What a shop may set: each with its sentence, its unit, its range and where it is from.

Most settings stand in the place of a named default of the planner; the default's own row
of data gives value, range and source.  The others are words and prices.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cache

from sleevewright.core.materials import default
from sleevewright.errors import NotFound
from sleevewright.services.setting_rows import (
    BACKUPS,
    FITS,
    GROUPS,
    LEAST,
    LINKED,
    PASSES,
    PRICES,
    RATIOS,
    SHOP,
    Said,
)
from sleevewright.units import Dimension, to_unit

PRACTICE = "common practice, no source"
SOURCES = {
    "practice": PRACTICE,
    "derived": "worked out here",
    "from-memory": "a handbook, from memory",
}

FAMILIES = (("aluminium", "aluminium casting"), ("iron", "iron casting"))
COOLINGS = (
    ("air", "air-cooled"),
    ("fan", "fan-cooled"),
    ("water", "water-cooled"),
    ("racing", "raced"),
)


class Sort(StrEnum):
    """What a setting takes."""

    QUANTITY = "quantity"
    CHOICE = "choice"
    MONEY = "money"
    WORDS = "words"


@dataclass(frozen=True)
class Spec:
    """One setting: what it is called and decides, what it takes, what stands without it."""

    key: str
    group: str
    title: str
    sentence: str
    sort: Sort
    text: str  # what stands where the shop has set nothing
    source: str  # the line that says where that is from
    dimension: Dimension = Dimension.RATIO
    low: float = 0.0
    high: float = 0.0
    units: tuple[str, str] = ("", "")  # in which the range is told, inch and metric
    allowed: tuple[str, ...] = ()
    is_planned_with: bool = False  # whether it stands in the place of a planner's default

    def allowed_words(self, system: str) -> str:
        """What is taken, in the shop's own units."""
        if self.sort is Sort.CHOICE:
            return " or ".join(self.allowed)
        if self.sort is Sort.WORDS:
            return f"{int(self.low)} to {int(self.high)} letters"
        if self.sort is Sort.MONEY:
            return f"{self.low:g} to {self.high:g}"
        unit = self.units[0] if system == "inch" else self.units[1]
        low, high = (
            _plain(to_unit(one, unit, dimension=self.dimension), inwards)
            for one, inwards in ((self.low, math.ceil), (self.high, math.floor))
        )
        return f"{low} to {high} {unit}".removesuffix(" 1")


WHOLE_FROM = 1000.0
"""Ends of a range are told as whole numbers from here on."""


def _plain(number: float, inwards: Callable[[float], int]) -> str:
    """An end of a range without a power of ten; a long one is whole, and lies within it."""
    if abs(number) < WHOLE_FROM:
        return f"{Decimal(f'{number:.4g}'):f}"
    return str(inwards(round(number, 6)))


def _linked(group: str, key: str, title: str, sentence: str, said: Said) -> Spec:
    """A setting that stands in the place of a planner's default."""
    row = default(key)
    units, dimension = said
    line = SOURCES.get(row.source, row.source)
    return Spec(
        key, group, title, sentence, Sort.QUANTITY, row.stated, f"{line}: {row.note}",
        dimension, row.low, row.high, units, is_planned_with=True,
    )  # fmt: skip


def _fits() -> tuple[Spec, ...]:
    """The wanted and the least fit by the inch, for each metal of casting and cooling."""
    ways = (("wanted", "wanted"), ("least", "the least"))
    return tuple(
        _linked(
            LEAST if way == "least" else FITS,
            f"{way}_{family}_{cooling}",
            f"{metal.capitalize()}, {cooled}: {words}",
            f"Interference by the inch of diameter, iron sleeve; {words}.",
            RATIOS,
        )
        for family, metal in FAMILIES
        for cooling, cooled in COOLINGS
        for way, words in ways
    )


_OWN = (
    Spec("units", SHOP, "Units", "What a new job is taken in with; ranges here are told in it.",
         Sort.CHOICE, "inch", PRACTICE, allowed=("inch", "metric")),
    Spec("roughness_flattening", FITS, "Roughness that flattens",
         "Share k of the sum of both Rz that is taken off a fit, on the diameter; "
         "sources print 0, 0.4 and 0.8, and a plan shows all three.",
         Sort.CHOICE, "0.8", "DIN 7190-1, from memory: 0.4 Rz a surface, on radius",
         low=0.0, high=0.8, allowed=("0", "0.4", "0.8"), is_planned_with=True),
    Spec("head_reads", PASSES, "The head's dial counts",
         "What its graduations count; each order says it beside its figure.",
         Sort.CHOICE, "radius", f"{PRACTICE}: read it off the head, prove it by a cut",
         low=0.0, high=1.0, allowed=("radius", "diameter"), is_planned_with=True),
    Spec("head_counts", PASSES, "The head bores larger",
         "Which way its dial is turned, seen on its face.",
         Sort.CHOICE, "clockwise", PRACTICE, low=0.0,
         high=1.0, allowed=("clockwise", "counter-clockwise"), is_planned_with=True),
    Spec("price_hour", PRICES, "An hour at the bench", "Minutes of a quote are priced by it.",
         Sort.MONEY, "85", f"{PRACTICE}: 60 to 120 an hour is usual", low=0.0, high=100_000.0),
    Spec("price_risk", PRICES, "Risk", "Added to a quote for a casting that may be lost.",
         Sort.QUANTITY, "10 %", f"{PRACTICE}: set it by the casting's worth",
         Dimension.FRACTION, 0.0, 1.0, ("%", "%")),
    Spec("price_tax", PRICES, "Tax", "Added to the sum of a quote and of an invoice.",
         Sort.QUANTITY, "0 %", "local law; nothing is assumed",
         Dimension.FRACTION, 0.0, 0.5, ("%", "%")),
    Spec("price_deposit", PRICES, "Deposit", "Asked for when an offer is agreed, of its total.",
         Sort.QUANTITY, "30 %", f"{PRACTICE}: about what the parts cost",
         Dimension.FRACTION, 0.0, 1.0, ("%", "%")),
    Spec("price_currency", PRICES, "Currency", "What stands behind a price.", Sort.WORDS,
         "units", "the shop's own", low=1.0, high=12.0),
    Spec("backup_folder", BACKUPS, "Second folder for backups",
         "A folder that is there, as on a stick; each backup is copied into it.", Sort.WORDS,
         "", "the shop's own; nothing is copied where none is named", low=0.0, high=400.0),
    Spec("drill_time", BACKUPS, "Hour of the drill",
         "When the newest backup is restored to prove it, by the clock of the bench.", Sort.CHOICE,
         "02:00", "the hour at which a shop is empty",
         allowed=tuple(f"{hour:02d}:00" for hour in range(24))),
)  # fmt: skip


@cache
def specs() -> tuple[Spec, ...]:
    """Every setting, group by group."""
    found = (*_OWN, *(_linked(*row) for row in LINKED), *_fits())
    return tuple(sorted(found, key=lambda one: GROUPS.index(one.group)))


def spec_of(key: str) -> Spec:
    """The setting of this key."""
    found = next((one for one in specs() if one.key == key), None)
    if found is None:
        raise NotFound("setting", key, tuple(one.key for one in specs()))
    return found
