"""What sources say of piston clearances and ring gaps: side by side, followed by none.

Each statement is about a kind of engine, piston, cooling and bore; which of them fit the
one at hand is looked up here, and where a chosen figure lies among them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.materials import table_text
from sleevewright.core.metals import EVIDENCE
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError
from sleevewright.planning.fit_advice import figure

CLEARANCES, GAPS = "piston_clearance.csv", "ring_gaps.csv"
ANY = "any"
PER_DIAMETER = "per diameter"
STROKES, KINDS, COOLINGS = ("two", "four", ANY), ("cast", "forged", ANY), ("air", "water", ANY)
PARTS = ("top", "second", ANY, "")
BOUNDS = ("range", "about", "most", "least")
UNITS = {"clearance": "m", PER_DIAMETER: "1"}


@dataclass(frozen=True)
class Setting:
    """The engine that a statement is looked up for; empty words are not known."""

    bore: float
    strokes: str = ""  # "two", "four" or "neither"
    kind: str = ""  # "cast" or "forged"
    cooling: str = ""  # "air" or "water"
    part: str = ""  # "top" or "second"


@dataclass(frozen=True)
class Rule:
    """One statement; ``low`` and ``high`` in m or by the diameter, none where it names none."""

    id: str
    source: str
    evidence: str
    said_by: str
    strokes: str
    kind: str
    cooling: str
    part: str
    sizes: tuple[float, float]
    basis: str
    low: float | None
    high: float | None
    stated: str
    note: str

    def fits(self, setting: Setting) -> bool:
        """Whether it is about this engine; what is not known of the engine shuts nothing out."""
        told = (
            (self.strokes, setting.strokes),
            (self.kind, setting.kind),
            (self.cooling, setting.cooling),
            (self.part, setting.part),
        )
        return self.sizes[0] <= setting.bore <= self.sizes[1] and all(
            said in (ANY, "") or not asked or said == asked for said, asked in told
        )

    @property
    def kind_words(self) -> str:
        """What it is about, in words."""
        known = (
            f"{self.strokes}-stroke" if self.strokes != ANY else "",
            self.kind if self.kind != ANY else "",
            f"{self.cooling}-cooled" if self.cooling != ANY else "",
            f"{self.part} ring" if self.part in ("top", "second") else "",
        )
        return ", ".join(one for one in known if one) or "any engine"

    def at(self, bore: float) -> tuple[float | None, float | None]:
        """Both ends as lengths, at a bore."""
        scale = bore if self.basis == PER_DIAMETER else 1.0
        return (
            None if self.low is None else self.low * scale,
            None if self.high is None else self.high * scale,
        )

    def place_of(self, value: float, bore: float) -> str:
        """Where a figure lies: below, within or above."""
        low, high = self.at(bore)
        slack = 1e-9  # a figure that is the limit itself lies within
        if low is not None and value < low - slack:
            return "below"
        if high is not None and value > high + slack:
            return "above"
        return "within"

    def range_said(self, bore: float, *, system: str) -> str:
        """Its range at a bore in the units of the job."""
        low, high = (None if one is None else figure(one, system=system) for one in self.at(bore))
        if low is None:
            return f"at most {high}"
        if high is None:
            return f"at least {low}"
        return f"about {low}" if low == high else f"{low} to {high}"

    def said(self, bore: float, *, system: str) -> str:
        """Its range at a bore in the units of the job, and who says it."""
        return f"{self.range_said(bore, system=system)}: {self.said_by}"


@lru_cache(maxsize=2)
def rules(name: str) -> tuple[Rule, ...]:
    """Every statement of a table, in order.

    Raises
    ------
    InputError
        Naming the line, if a row can not be right.
    """
    return tuple(rule_of(row) for row in rows_of(table_text(name), name=name))


def fitting(name: str, setting: Setting) -> tuple[Rule, ...]:
    """The statements of a table that are about this engine."""
    return tuple(one for one in rules(name) if one.fits(setting))


def rule_of(row: Row) -> Rule:
    """The statement that a row makes; refused with its line where it can not be right."""
    basis, bound = row.text("basis", UNITS), row.text("bound", BOUNDS)
    row.text("unit", (UNITS[basis],))
    low = None if bound == "most" else row.number("low")
    high = None if bound == "least" else row.number("high")
    ordered = 0.0 if low is None else low, math.inf if high is None else high
    if not 0.0 <= ordered[0] <= ordered[1]:
        raise InputError(f"{row.place}, low", ordered[0], "", "from nought up to high")
    sizes = tuple(row.number(one) if row.text(one) else end for one, end in _ENDS)
    if not 0.0 <= sizes[0] < sizes[1]:
        raise InputError(f"{row.place}, size_low", sizes[0], "m", "less than size_high")
    return Rule(
        row.text("id"), row.text("source"), row.text("evidence", EVIDENCE), row.text("said_by"),
        row.text("strokes", STROKES), row.text("kind", KINDS), row.text("cooling", COOLINGS),
        row.text("part", PARTS), (sizes[0], sizes[1]), basis, low, high, row.text("stated"),
        row.text("note"),
    )  # fmt: skip


_ENDS = (("size_low", 0.0), ("size_high", math.inf))


def place_words(found: tuple[Rule, ...], value: float, bore: float) -> str:
    """Where a figure lies among the statements, in a sentence."""
    counts = {"below": 0, "within": 0, "above": 0}
    for one in found:
        counts[one.place_of(value, bore)] += 1
    told = [f"{word} {count}" for word, count in counts.items() if count]
    return f"of {len(found)} that fit: " + ", ".join(told) if found else "nothing that fits"


def usual_rule(found: tuple[Rule, ...]) -> tuple[float, Rule]:
    """The middle of the statement that has both ends; else a tenth over the least of all."""
    for one in found:
        if one.basis == PER_DIAMETER and one.low is not None and one.high is not None:
            return (one.low + one.high) / 2.0, one
    least = next(one for one in found if one.low is not None)
    return 1.1 * float(least.low or 0.0), least


def strokes_of(engine_kind: str) -> str:
    """Two or four, by the kind of engine; a compressor is neither."""
    return engine_kind.removesuffix("-stroke") if engine_kind.endswith("-stroke") else "neither"


def cooling_of(cooling: str) -> str:
    """Air or water: what is fan-cooled or raced is air-cooled here."""
    return "water" if cooling == "water" else "air"
