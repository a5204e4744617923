"""The evidence page: the table of ``sleevewright evidence``."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from sleevewright.evidence.report import EvidenceReport, Row
from sleevewright.evidence.words import cases_words, share_words, summary_lines, worst_words
from sleevewright.services.evidence import evidence_report, long_runs
from sleevewright.web.plan.views import SourceView, source_view
from sleevewright.web.render import page

router = APIRouter()


@dataclass(frozen=True)
class EvidenceLine:
    """One formula with its checks, in the words that the terminal prints."""

    row: Row
    sources: tuple[SourceView, ...]
    checks: str
    worst: str
    share: str


@router.get("/evidence", response_class=HTMLResponse)
def show_evidence() -> Response:
    """Every formula with its published checks run again on this machine."""
    report = _report()
    lines = tuple(
        EvidenceLine(
            row,
            tuple(source_view(key) for key in row.formula.sources),
            cases_words(row),
            worst_words(row),
            share_words(row),
        )
        for row in report.rows
    )
    summary = _paragraphs(summary_lines(report))
    context: dict[str, Any] = {"lines": lines, "summary": summary, "report": report}
    return page("evidence/evidence.html", runs=long_runs(), **context)


@functools.cache
def _report() -> EvidenceReport:
    """The report, run once: the code that it is about cannot change while it is served."""
    return evidence_report()


def _paragraphs(lines: tuple[str, ...]) -> list[str]:
    """The terminal's lines without its breaks: an indented line belongs to the one before."""
    joined: list[str] = []
    for line in lines:
        if line.startswith(" ") and joined:
            joined[-1] = f"{joined[-1]} {line.strip()}"
        else:
            joined.append(line)
    return joined
