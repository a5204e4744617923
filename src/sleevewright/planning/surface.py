"""Roughness of a honed wall by parameter: what was read, what is usual, what it means.

Each reading carries the tester's doubt and is judged against the nearer end of a range of
common practice.  Ra and Rz tell of each other as a range alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sleevewright.core.cutting.profile_heights import (
    greatest_peak_to_valley,
    least_peak_to_valley,
)
from sleevewright.core.cutting.roughness_targets import PARAMETERS, roughness_target
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.judging import against_limit, judged_with
from sleevewright.planning.ledger import SHALLOWLY, Entry, Given, Ledger, Line

Q = Quantity

WALL_OF = {"plain iron": "iron", "chrome": "chrome", "moly": "moly", "moly, raced": "moly"}
"""Rows of the table by the face of the rings; any other face takes what stands for all."""

TITLES = {
    "Ra": "Roughness Ra",
    "Rz": "Roughness Rz",
    "Rk": "Rk, core",
    "Rpk": "Rpk, reduced peaks",
    "Rvk": "Rvk, reduced valleys",
    "Mr1": "Mr1, share of peaks",
    "Mr2": "Mr2, share without valleys",
}

MEANS = {
    "Ra": (
        "too smooth: it holds little oil and the rings bed in slowly; a coarser stone last",
        "too rough: it wears the rings and uses oil; a finer stone last, a few strokes",
    ),
    "Rz": (
        "too smooth: it holds little oil; a coarser stone last",
        "too rough, or one deep scratch: read at three places before it is honed again",
    ),
    "Rk": (
        "core too fine: little is left to run in; the stone was too fine or glazed",
        "core too coarse: it wears the rings until it has run in; more strokes of the fine stone",
    ),
    "Rpk": (
        "no peaks at all: no fault, unless the wall was polished and is dry",
        "peaks too high: it runs in hard and eats the rings; a few plateau strokes take them off",
    ),
    "Rvk": (
        "valleys too shallow: they hold too little oil; a coarser stone first, less after it",
        "valleys too deep: they hold more oil than the rings can wipe, and oil is burnt",
    ),
    "Mr1": (
        "hardly any peaks: no fault",
        "too much of the wall is peaks: it was not plateaued long enough",
    ),
    "Mr2": (
        "too much of the wall is valleys: little is left to carry the rings",
        "hardly any valleys: they hold too little oil",
    ),
}
"""What a reading below and above the usual range means, and what to do."""

PARENT_MEANS = {
    "Ra": ("", "too rough for a fit: its peaks flatten and the fit is lost with them"),
    "Rz": ("", "too rough for a fit: its peaks flatten and the fit is lost with them"),
}
"""The same of the parent bore under a sleeve."""


@dataclass(frozen=True)
class Range:
    """A range that is usual, and what it means to lie below or above it."""

    low: float
    high: float
    below: str
    above: str


@dataclass(frozen=True)
class Surface:
    """What a tester read on one wall: heights in metres, ratios of one."""

    prefix: str
    wall: str  # a row of the table of targets
    read: Mapping[str, float] = field(default_factory=dict)


def enter_surface(ledger: Ledger, surface: Surface) -> None:
    """Enter every parameter that was read, judged; and Rz as a range where Ra alone was."""
    for parameter in PARAMETERS:
        if parameter in surface.read:
            _enter_reading(ledger, surface, parameter, surface.read[parameter])
    if "Ra" in surface.read and "Rz" not in surface.read:
        _enter_rz_of_ra(ledger, surface.prefix)


def _enter_reading(ledger: Ledger, surface: Surface, parameter: str, value: float) -> None:
    """Enter one reading with the tester's doubt and its verdict."""
    ratio = parameter.startswith("Mr")
    target = roughness_target(surface.wall, parameter)
    line = Line(
        f"{surface.prefix}.{parameter.lower()}",
        TITLES[parameter],
        Q.PROBABILITY if ratio else Q.ROUGHNESS,
        of="" if target is None else f"usual {target.stated}; {target.note}",
        would_change="read at three places of the wall, across the lay, and take the mean",
    )
    share = ledger.default("roughness_share").value / STATED_COVERAGE_FACTOR
    given = Given(value, Kind.MEASURED, "the job", standard=share * value)
    entry = ledger.fact(line, given)
    if target is not None:
        means = (PARENT_MEANS if surface.wall == "parent" else MEANS)[parameter]
        judge_range(ledger, entry, Range(target.low, target.high, *means))


def _enter_rz_of_ra(ledger: Ledger, prefix: str) -> None:
    """Enter between which Rz a Ra can lie."""
    words = "4 to 7 times Ra, a range and no law: measure Rz where the fit asks for it"
    for end, function in (("least", least_peak_to_valley), ("most", greatest_peak_to_valley)):
        name = "at least" if end == "least" else "at most"
        line = Line(f"{prefix}.rz_{end}", f"Rz by that Ra, {name}", Q.ROUGHNESS, of=words)
        ledger.compute(line, function, SHALLOWLY, mean_height=f"{prefix}.ra")


def judge_range(ledger: Ledger, entry: Entry, usual: Range) -> None:
    """Put the verdict of the nearer end of a range on an entry; nothing where it is missing."""
    value = entry.point
    if not isinstance(value, float):
        return
    is_low = value < (usual.low + usual.high) / 2.0 and usual.low > 0.0
    judge = (
        against_limit(usual.low, "least", remedy=usual.below)
        if is_low
        else against_limit(usual.high, "most", remedy=usual.above)
    )
    guard = ledger.default("guard_factor").value
    judgement = judged_with(judge.by(guard), value, entry.answer.doubt)
    ledger.amend(entry.answer.id, judgement=judgement)
