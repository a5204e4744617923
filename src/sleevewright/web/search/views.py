"""What was found, as the page shows it: each job with its figures, why, and how it came out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import quote

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.likeness import OPEN, Facts
from sleevewright.jobs.searchwords import read_query
from sleevewright.services.bench import Bench
from sleevewright.services.search import Found, similar
from sleevewright.services.settings import units_of
from sleevewright.units import shown

NANO = 1e-9


@dataclass(frozen=True)
class Figure:
    """One number of a job that was found."""

    name: str
    figure: str
    unit: str


@dataclass(frozen=True)
class FoundLine:
    """One job that was found."""

    href: str
    number: str
    title: str
    cylinder: int
    metals: str
    why: str
    outcome: str
    is_open: bool
    figures: tuple[Figure, ...]

    @property
    def size(self) -> str:
        """The class of a number that is too long for its place."""
        return "long" if len(self.number) > 6 else ""


def found_lines(found: Sequence[Found], *, system: str) -> tuple[FoundLine, ...]:
    """Lines of what was found, in ``inch`` or ``metric`` figures."""
    return tuple(_line(one, system) for one in found)


def done_before(bench: Bench, folded: Folded, cylinder: int = 1) -> tuple[FoundLine, ...]:
    """Lines of the piece *done before*: cylinders like this one, the likest first.

    Parameters
    ----------
    bench : Bench
        The open bench.
    folded : Folded
        The job that others are looked for beside.
    cylinder : int
        Which cylinder of it.

    Returns
    -------
    tuple[FoundLine, ...]
        For the macro ``before`` of ``search/before.html``.
    """
    system = "metric" if folded.opened.get("units") == "metric" else "inch"
    return found_lines(similar(bench, folded, cylinder), system=system)


def query_words(query: str, *, system: str) -> str:
    """How a question was understood: sizes in words, so that a misread one shows."""
    sizes = [
        f"a bore within 1 mm of {one.figure} {one.unit}"
        for size in read_query(query).sizes_nm
        for one in [shown(size * NANO, quantity="size", system=system, given=True)]
    ]
    return ", ".join(sizes)


def system_of(bench: Bench) -> str:
    """Units of the shop."""
    return units_of(bench)


def _line(one: Found, system: str) -> FoundLine:
    facts = one.facts
    return FoundLine(
        href=f"/jobs/{quote(one.number, safe='')}",
        number=one.number,
        title=one.title or "without a name",
        cylinder=one.cylinder,
        metals=", ".join(metal for metal in (facts.casting, facts.sleeve) if metal),
        why=", ".join(one.why),
        outcome=one.outcome,
        is_open=facts.outcome == OPEN,
        figures=_figures(facts, system),
    )


def _figures(facts: Facts, system: str) -> tuple[Figure, ...]:
    """Bore, sleeve and fit, as far as they were told."""
    told = (
        ("Bore", facts.bore_nm, "size"),
        ("Sleeve, outside", facts.sleeve_nm, "size"),
        ("Fit", facts.fit_nm, "deviation"),
    )
    figures = []
    for name, nm, quantity in told:
        if nm is not None:
            one = shown(nm * NANO, quantity=quantity, system=system, given=True)
            figures.append(Figure(name, one.figure, one.unit))
    return tuple(figures)
