"""What the sources say for one pairing at its diameter, and where a fit stands to each.

Sources disagree, and are not made to agree: each stands beside the others as it is.  All
fits are diametral, in metres, both parts at 20 degC.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from sleevewright.core.allowances import interference_for_ratio
from sleevewright.core.checks import positive
from sleevewright.errors import InputError
from sleevewright.planning.answers import Quantity
from sleevewright.planning.believed import most_believed
from sleevewright.planning.fit_statements import (
    ABOUT,
    ANY,
    COOLINGS,
    FAMILIES,
    LEAST,
    MOST,
    NO,
    PER_DIAMETER,
    YES,
    Statement,
    statements,
)
from sleevewright.units import shown

NEAR = 1.27e-6
"""Half a tenth of a thou: a fit this near to an end is at it. [m]"""
ROUGHLY = 12.7e-6
"""Half a thou: what one figure that is told in whole thou leaves open. [m]"""


class Stand(StrEnum):
    """Where a fit stands to what a source says."""

    BELOW = "below"
    WITHIN = "within"
    ABOVE = "above"


@dataclass(frozen=True)
class Pairing:
    """What a statement has to be about: family of the casting, cooling, diameter, flange."""

    casting: str
    cooling: str
    diameter: float
    is_flanged: bool | None = None  # None: not told
    sleeve: str = "iron"


@dataclass(frozen=True)
class Advice:
    """One statement for a pairing: its ends as fits at this diameter, and the bore it is for."""

    statement: Statement
    low: float | None
    high: float | None
    is_own: bool  # about this metal of casting, not about castings in general

    def stand(self, fit: float) -> Stand:
        """Where a fit stands to it: one figure is met within half a thou."""
        near = ROUGHLY if self.statement.bound == ABOUT else NEAR
        if self.low is not None and fit < self.low - near:
            return Stand.BELOW
        if self.high is not None and fit > self.high + near:
            return Stand.ABOVE
        return Stand.WITHIN


@dataclass(frozen=True)
class Span:
    """The lowest and highest fit that any source of a pairing advises, and who says each."""

    low: float
    high: float
    lowest: Advice
    highest: Advice

    def stand(self, fit: float) -> Stand:
        """Where a fit stands to all of them together."""
        if self.lowest.stand(fit) is Stand.BELOW:
            return Stand.BELOW
        return Stand.ABOVE if self.highest.stand(fit) is Stand.ABOVE else Stand.WITHIN


def advice_for(pairing: Pairing, *, said: Iterable[Statement] | None = None) -> tuple[Advice, ...]:
    """What the sources say for a pairing: those about its own metal first.

    Parameters
    ----------
    pairing : Pairing
        Metals, cooling, diameter of the fit in metres, flanged or not.
    said : Iterable[Statement] | None
        The statements to choose from; those of the data where none are given.

    Returns
    -------
    tuple[Advice, ...]
        Each as fits at this diameter; what was rejected is left out.

    Raises
    ------
    InputError
        If metal or cooling is not known, or the diameter is not positive.
    """
    for name, word, known in (
        ("casting", pairing.casting, FAMILIES[:-1]),
        ("cooling", pairing.cooling, COOLINGS[:-1]),
    ):
        if word not in known:
            raise InputError(name, word, "", f"one of {', '.join(known)}")
    positive("diameter", pairing.diameter, "m")
    found = [
        _at(one, pairing)
        for one in (statements() if said is None else said)
        if one.counts and is_about(one, pairing)
    ]
    return tuple(sorted(found, key=lambda one: not one.is_own))


def not_counted_for(pairing: Pairing) -> tuple[Statement, ...]:
    """What is said of a pairing and can not be put right: kept, with its reason, never counted."""
    return tuple(one for one in statements() if not one.counts and is_about(one, pairing))


def is_about(one: Statement, pairing: Pairing) -> bool:
    """Whether a statement is about this pairing at this diameter.

    A statement on flanged sleeves alone is taken only where a flange was told, one on plain
    ones only where none was told to be there.
    """
    if one.casting not in (pairing.casting, ANY) or one.sleeve not in (pairing.sleeve, ANY):
        return False
    if not {pairing.cooling, ANY} & set(one.coolings):
        return False
    if (one.flanged == YES and not pairing.is_flanged) or (
        one.flanged == NO and pairing.is_flanged
    ):
        return False
    return one.size_low <= pairing.diameter <= one.size_high


def span_of(found: Iterable[Advice]) -> Span | None:
    """The lowest and highest fit that is advised; of general statements only where no other is.

    A most and a least are limits, not advice of how tight, and make no span.
    """
    ranged = [
        (one, one.low, one.high)
        for one in found
        if one.low is not None and one.high is not None
    ]  # fmt: skip
    own = [row for row in ranged if row[0].is_own] or ranged
    if not own:
        return None
    lowest = min(own, key=lambda row: row[1])
    highest = max(own, key=lambda row: row[2])
    return Span(lowest[1], highest[2], lowest[0], highest[0])


def is_believable(one: Statement, diameter: float) -> bool:
    """Whether what is said could be a fit at all at this diameter."""
    ends = [end for end in (_fit(one, one.low, diameter), _fit(one, one.high, diameter)) if end]
    return all(end <= most_believed(diameter) for end in ends)


def said_figures(advice: Advice, *, system: str) -> str:
    """What a source says at this diameter, in figures with their unit."""
    if advice.high is None:
        low = figure(advice.low or 0.0, system=system)
        return "no interference needed" if not advice.low else f"at least {low}"
    high = figure(advice.high, system=system)
    if advice.low is None:
        return f"at most {high}"
    if advice.statement.bound == ABOUT:
        return f"about {high}"
    return f"{figure(advice.low, system=system).rpartition(' ')[0]} to {high}"


def figure(fit: float, *, system: str) -> str:
    """A fit in figures with its unit: tenths of a thou, or whole micrometres."""
    made = shown(fit, quantity=Quantity.DEVIATION.value, system=system, doubt=NEAR)
    return f"{made.figure} {made.unit}"


def _at(one: Statement, pairing: Pairing) -> Advice:
    """A statement as fits at a diameter."""
    low, high = (_fit(one, end, pairing.diameter) for end in (one.low, one.high))
    return Advice(one, low, high, one.casting == pairing.casting)


def _fit(one: Statement, end: float | None, diameter: float) -> float | None:
    """An end of a statement as a fit."""
    if end is None or one.basis != PER_DIAMETER:
        return end
    return float(interference_for_ratio(ratio=end, diameter=diameter))


__all__ = [
    "LEAST",
    "MOST",
    "Advice",
    "Pairing",
    "Span",
    "Stand",
    "advice_for",
    "figure",
    "is_about",
    "is_believable",
    "not_counted_for",
    "said_figures",
    "span_of",
]
