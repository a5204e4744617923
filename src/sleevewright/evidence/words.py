"""The evidence as text: one table for the terminal, one document for other programs."""

from __future__ import annotations

import textwrap

from sleevewright.evidence.report import READING_WORDS, EvidenceReport, Outcome, Row

NONE = "none"
"""What stands where a formula has no check from outside."""


def table_lines(report: EvidenceReport) -> tuple[str, ...]:
    """The report as lines of plain text: a paragraph for each formula, then the count."""
    lines: list[str] = []
    for row in report.rows:
        lines += _paragraph(row)
        lines.append("")
    return (*lines, *summary_lines(report))


def summary_lines(report: EvidenceReport) -> tuple[str, ...]:
    """What was run, what failed and what has no check, in sentences."""
    published = report.published
    parts = []
    for reading, words in READING_WORDS.items():
        count = sum(outcome.case.reading == reading for outcome in published)
        if count:
            parts.append(f"{count} {words}")
    how = f": {', '.join(parts)}" if parts else ""
    derived = len(report.outcomes) - len(published)
    loose = len(report.looser)
    apart = f"Of these, {loose} are looser than their printed digits, for stated reasons"
    lines = [
        f"{len(published)} published checks of {len(report.rows)} formulas{how}.",
        f"{apart}; {derived} more are derived here.",
        f"{len(report.failed)} failed." if report.failed else "Every check holds.",
    ]
    lines += [f"failed: {failure(outcome)}" for outcome in report.failed]
    return (*lines, *_unchecked_lines(report))


def _unchecked_lines(report: EvidenceReport) -> tuple[str, ...]:
    """How many formulas have no check from outside, and which they are."""
    names = [row.formula.name for row in report.unchecked]
    if not names:
        return ("Every formula has a check from outside.",)
    have = "formula has" if len(names) == 1 else "formulas have"
    head = f"{len(names)} {have} no check from outside ({NONE}):"
    listed = textwrap.wrap(", ".join(names) + ".", 96, initial_indent="  ", subsequent_indent="  ")
    return (head, *listed)


def failure(outcome: Outcome) -> str:
    """What went wrong with a check that does not hold."""
    case = outcome.case
    if outcome.refusal:
        return f"{case.id} ({case.title}): {outcome.refusal}"
    return (
        f"{case.id} ({case.title}): computed {outcome.computed:.8g}, published "
        f"{case.published:.8g} {case.unit}, allowed {case.tolerance:.3g} {case.unit}"
    )


def cases_words(row: Row) -> str:
    """The checks of a formula with how each number was obtained; ``none`` without any."""
    if not row.outcomes:
        return NONE
    named = ", ".join(f"{o.case.id} {READING_WORDS[o.case.reading]}" for o in row.outcomes)
    if not row.outside:
        return f"{NONE} from outside; {named}"
    return f"{len(row.outcomes)}: {named}"


def looser_words(row: Row) -> tuple[str, ...]:
    """Which checks are allowed more than their printed digits, how much, and why."""
    return tuple(
        f"{o.case.id}: {o.case.tolerance:.3g} for {o.case.printed:.3g} {unit_words(o.case.unit)}"
        f"because {o.case.because}"
        for o in row.outcomes
        if o.case.is_looser
    )


def unit_words(unit: str) -> str:
    """A unit before the next word; nothing for a ratio."""
    return "" if unit == "1" else f"{unit} "


def worst_words(row: Row) -> str:
    """The worst error in the unit of its source; a dash without a check."""
    worst = row.worst
    if worst is None:
        return "\N{EN DASH}"
    if worst.refusal:
        return f"refused ({worst.case.id})"
    return f"{_error(worst)} {worst.case.unit} ({worst.case.id})".replace(" 1 (", " (")


def share_words(row: Row) -> str:
    """The worst error over its tolerance; a dash without a check."""
    worst = row.worst
    if worst is None:
        return "\N{EN DASH}"
    return "refused" if worst.refusal else _steady(worst.share)


def _error(outcome: Outcome) -> str:
    """An error in two digits; one that is far below its tolerance is only said to be so."""
    if outcome.share < 1e-3:
        return f"below {outcome.case.tolerance * 1e-3:.2g}"
    return f"{outcome.error:+.2g}"


def _steady(share: float) -> str:
    """A share of the tolerance without digits that only rounding makes."""
    return "below 0.001" if share < 1e-3 else f"{share:.2g}"


def _paragraph(row: Row) -> list[str]:
    """What is known of one formula."""
    formula = row.formula
    return [
        f"{formula.name}  [{formula.function.removeprefix('sleevewright.core.')}]",
        f"  sources        {', '.join(formula.sources)}",
        f"  valid          {formula.validity}",
        f"  checks         {cases_words(row)}",
        f"  worst error    {worst_words(row)}",
        f"  over tolerance {share_words(row)}",
        *(f"  looser         {line}" for line in looser_words(row)),
        f"  change         {row.change}",
    ]


def document(report: EvidenceReport) -> dict[str, object]:
    """The report as plain records, for JSON."""
    return {
        "last_release": report.last_release or None,
        "formulas": [_row_record(row) for row in report.rows],
        "checks": len(report.published),
        "looser": [outcome.case.id for outcome in report.looser],
        "derived": len(report.outcomes) - len(report.published),
        "failed": [outcome.case.id for outcome in report.failed],
        "without_outside_check": [row.formula.function for row in report.unchecked],
        "count_without_outside_check": len(report.unchecked),
    }


def _row_record(row: Row) -> dict[str, object]:
    """One formula as a record."""
    worst = row.worst
    return {
        "name": row.formula.name,
        "function": row.formula.function,
        "expression": row.formula.expression,
        "sources": list(row.formula.sources),
        "validity": row.formula.validity,
        "outside_checks": len(row.outside) or NONE,
        "cases": [_case_record(outcome) for outcome in row.outcomes],
        "worst_case": worst.case.id if worst else None,
        "worst_error": None if worst is None or worst.refusal else worst.error,
        "worst_error_unit": worst.case.unit if worst else None,
        "worst_error_over_tolerance": None if worst is None or worst.refusal else worst.share,
        "change": row.change,
    }


def _case_record(outcome: Outcome) -> dict[str, object]:
    """One check as a record."""
    case = outcome.case
    return {
        "id": case.id,
        "title": case.title,
        "source": case.source,
        "place": case.place,
        "reading": READING_WORDS[case.reading],
        "published": case.published,
        "computed": None if outcome.refusal else outcome.computed,
        "tolerance": case.tolerance,
        "printed_digits_leave": case.printed,
        "because": case.because or None,
        "unit": case.unit,
        "has_held": outcome.has_held,
        "refusal": outcome.refusal or None,
    }
