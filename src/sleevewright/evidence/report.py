"""What the published checks say about each formula, as rows that any surface can show.

Pure: cases and formulas go in, rows come out.  A case whose published number was derived
by this project is no check from outside; it is shown, and a formula that has no other is
counted among those without one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.formulas import Formula, all_formulas
from sleevewright.errors import SleevewrightError
from sleevewright.evidence.case import Case, all_cases

READING_WORDS = {
    "read": "read in the source",
    "inputs-read": "inputs read, result from memory",
    "memory": "from memory",
    "derived": "derived here",
}
"""How the published number of a case was obtained, in words."""


@dataclass(frozen=True)
class Kept:
    """What a case gave at the last release."""

    release: str
    formula: str
    case: str
    computed: float
    unit: str


@dataclass(frozen=True)
class Outcome:
    """A case after it was run."""

    case: Case
    computed: float  # nan where the core refused
    refusal: str = ""

    @property
    def error(self) -> float:
        """Computed minus published, in the unit of the source."""
        return self.computed - self.case.published

    @property
    def share(self) -> float:
        """Error over tolerance: at most one where the case holds."""
        return abs(self.error) / self.case.tolerance if not self.refusal else math.inf

    @property
    def has_held(self) -> bool:
        """Whether the published number was met within its tolerance."""
        return self.share <= 1.0

    @property
    def is_outside(self) -> bool:
        """Whether the published number comes from outside this project."""
        return self.case.reading != "derived"


@dataclass(frozen=True)
class Row:
    """One formula with its checks."""

    formula: Formula
    outcomes: tuple[Outcome, ...]
    change: str

    @property
    def outside(self) -> tuple[Outcome, ...]:
        """Checks whose published number comes from outside this project."""
        return tuple(outcome for outcome in self.outcomes if outcome.is_outside)

    @property
    def worst(self) -> Outcome | None:
        """The check that comes nearest to its tolerance, or goes furthest beyond it."""
        return max(self.outcomes, key=lambda outcome: outcome.share, default=None)


@dataclass(frozen=True)
class EvidenceReport:
    """Every formula, with its checks and what changed since the last release."""

    rows: tuple[Row, ...]
    last_release: str  # empty before the first

    @property
    def outcomes(self) -> tuple[Outcome, ...]:
        """Every check that was run."""
        return tuple(outcome for row in self.rows for outcome in row.outcomes)

    @property
    def published(self) -> tuple[Outcome, ...]:
        """Checks against a number from outside this project."""
        return tuple(outcome for outcome in self.outcomes if outcome.is_outside)

    @property
    def looser(self) -> tuple[Outcome, ...]:
        """Published checks that are allowed more than half of the last printed digit."""
        return tuple(outcome for outcome in self.published if outcome.case.is_looser)

    @property
    def failed(self) -> tuple[Outcome, ...]:
        """Checks that do not hold."""
        return tuple(outcome for outcome in self.outcomes if not outcome.has_held)

    @property
    def unchecked(self) -> tuple[Row, ...]:
        """Formulas without a check from outside."""
        return tuple(row for row in self.rows if not row.outside)


def report(
    *,
    cases: tuple[Case, ...] | None = None,
    formulas: tuple[Formula, ...] | None = None,
    kept: tuple[Kept, ...] = (),
) -> EvidenceReport:
    """Run every case and set it beside its formula.

    Parameters
    ----------
    cases : tuple of Case, optional
        The published checks; all that are registered where none are given.
    formulas : tuple of Formula, optional
        The relations to report on; all of the core where none are given.
    kept : tuple of Kept
        What the cases gave at the last release; empty before the first.
    """
    outcomes = [run(case) for case in (all_cases() if cases is None else cases)]
    rows = []
    for formula in all_formulas() if formulas is None else formulas:
        own = tuple(o for o in outcomes if o.case.formula == formula.function)
        rows.append(Row(formula, own, _change(formula, own, kept)))
    return EvidenceReport(tuple(rows), kept[0].release if kept else "")


def run(case: Case) -> Outcome:
    """Compute a published number again; a refusal of the core is a case that failed."""
    try:
        return Outcome(case, float(case.compute()))
    except SleevewrightError as refusal:
        return Outcome(case, math.nan, str(refusal))


def _change(formula: Formula, outcomes: tuple[Outcome, ...], kept: tuple[Kept, ...]) -> str:
    """How the results of a formula moved since the last release, in words."""
    if not kept:
        return "first release"
    before = {entry.case: entry for entry in kept if entry.formula == formula.function}
    if not before:
        return "new"
    moved = [change for o in outcomes if (change := _moved(o, before.get(o.case.id)))]
    gone = sorted(name for name in before if name and name not in {o.case.id for o in outcomes})
    moved += [f"{name} removed" for name in gone]
    return "; ".join(moved) or "none"


def _moved(outcome: Outcome, before: Kept | None) -> str:
    """One case's change, empty where it is the same to twelve digits."""
    if before is None:
        return f"{outcome.case.id} new"
    if math.isclose(outcome.computed, before.computed, rel_tol=1e-12, abs_tol=1e-300):
        return ""
    return f"{outcome.case.id}: {before.computed:.8g} to {outcome.computed:.8g} {before.unit}"
