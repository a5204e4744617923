"""The page of a job: its stage in hand, its cylinders, and everything that was told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sleevewright.jobs.records import Record
from sleevewright.web.job.history import HistoryLine, history
from sleevewright.web.stage.page import Seen, attached_view, stage_page
from sleevewright.web.stage.views import AttachedView, StagePage

FIRST_LINES = 12
"""Records that a job's page reads; the others are read when they are asked for."""


@dataclass(frozen=True)
class CylinderLine:
    """One cylinder of the job with its next action."""

    number: int
    words: str
    href: str
    is_shown: bool


@dataclass(frozen=True)
class JobPage:
    """Everything that the page of a job shows beside its stage in hand."""

    stage: StagePage
    cylinders: tuple[CylinderLine, ...]
    lines: tuple[HistoryLine, ...]
    before: int  # records that were told before these
    whole_history: str  # address that shows all of them
    attached: tuple[AttachedView, ...]
    links: tuple[tuple[str, str], ...]
    contact: Mapping[str, str]


@dataclass(frozen=True)
class Around:
    """What a job's page shows beside what is seen of one cylinder."""

    others: Sequence[tuple[int, str]]  # its cylinders with their next actions
    records: Sequence[Record]
    contact: Mapping[str, str]  # whose it is, outside of the chain


def job_page(seen: Seen, around: Around) -> JobPage:
    """The page of a job."""
    others, records = around.others, around.records
    lines = history(records, seen.folded, seen.shop)
    here = f"{seen.base}/{seen.look.cylinder}"
    shown = stage_page(seen, seen.look.next.stage)
    return JobPage(
        stage=replace(shown, here=seen.at(shown.stage)),
        cylinders=tuple(
            CylinderLine(number, words, f"{seen.base}/{number}", number == seen.look.cylinder)
            for number, words in others
        ),
        lines=lines,
        before=seen.folded.last - len(lines),
        whole_history=f"{here}?history=all#history-heading",
        attached=tuple(
            attached_view(one.body, one.received, seen) for one in seen.folded.attachments
        ),
        links=_links(seen),
        contact=around.contact,
    )


def _links(seen: Seen) -> tuple[tuple[str, str], ...]:
    """The other documents of a job."""
    cylinder = seen.look.cylinder
    query = f"?cylinder={cylinder}" if cylinder > 1 else ""
    return (
        ("Plan, every number", f"{seen.base}/plan{query}"),
        ("Ticket, one page", f"{seen.base}/ticket.pdf{query}"),
        ("Price and offer", f"{seen.base}/price"),
        ("Plan as data", f"{seen.base}/plan.json{query}"),
        ("Export, the whole job", f"{seen.base}/export.zip"),
    )
