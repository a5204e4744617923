"""A plan as lines of text: what to cut and do, the headlines, then stage by stage.

Figures come from the one place that makes them for page, paper and document; nothing is
computed or rounded here.
"""

from __future__ import annotations

import shutil
import textwrap
from collections.abc import Iterable
from dataclasses import dataclass

from sleevewright.cli.output import strong
from sleevewright.errors import Caution, NotFound
from sleevewright.planning.answers import Answer, Kind, Plan, Quantity, StageAnswers, Verdict
from sleevewright.planning.shown import chance_words, shown_answer

MARKS = {
    Kind.MEASURED: "|",
    Kind.TYPED: "_",
    Kind.CHOSEN: "#",
    Kind.ASSUMED: "?",
    Kind.COMPUTED: "=",
}
LEGEND = "kinds: | measured  _ typed  # chosen  ? assumed  = computed; +/- is about 19 times in 20"

_LONGEST_FIGURE = 12  # a name of a metal is told behind its label, not in the column
_NARROWEST, _WIDEST = 40, 100


@dataclass(frozen=True)
class _Row:
    """One answer, cell by cell."""

    mark: str
    figure: str
    doubt: str
    unit: str
    words: str
    verdict: str


def plan_lines(plan: Plan, *, show_all: bool = False) -> tuple[str, ...]:
    """The whole plan in the units that it carries."""
    lines = [strong(" ".join(part for part in (plan.job, plan.title) if part) or "Job")]
    if plan.invented:
        lines.append("invented: a demonstration, not a cylinder")
    lines.append(f"next: {plan.next_move}")
    lines += _caution_lines(plan.cautions)
    lines += _part("To cut and do", _found(plan, plan.orders), plan.units)
    lines += _part("Headlines", _found(plan, plan.seven), plan.units)
    for stage in plan.stages:
        lines += _stage_lines(stage, plan.units, show_all=show_all)
    return (*lines, "", LEGEND)


def _found(plan: Plan, names: Iterable[str]) -> tuple[Answer, ...]:
    """The answers of these names, as far as the plan has them."""
    found: list[Answer] = []
    for name in names:
        try:
            found.append(plan.answer(name))
        except NotFound:
            continue
    return tuple(found)


def _stage_lines(stage: StageAnswers, system: str, *, show_all: bool) -> list[str]:
    """A stage: its answers, what they need, what to mind."""
    kept = [
        answer
        for answer in stage.answers
        if answer.quantity is not Quantity.RECORD and (show_all or not answer.is_detail)
    ]
    lines = _part(stage.title, kept, system)
    cautions = dict.fromkeys(caution for answer in kept for caution in answer.cautions)
    lines += _caution_lines(cautions)
    for text in stage.advice:
        lines += wrapped("advice", text)
    for hazard in stage.hazards:
        lines += wrapped("hazard", hazard.text)
    return lines


def _caution_lines(cautions: Iterable[Caution]) -> list[str]:
    return [line for caution in cautions for line in wrapped("caution", caution.text)]


def room() -> int:
    """How many letters a line may have in this terminal."""
    return max(_NARROWEST, min(shutil.get_terminal_size((_WIDEST, 24)).columns, _WIDEST))


def wrapped(head: str, text: str) -> list[str]:
    """A sentence under its head, no wider than the terminal."""
    return textwrap.wrap(
        text, room(), initial_indent=f"  {head}: ", subsequent_indent="    ", break_long_words=False
    )


def _part(title: str, answers: Iterable[Answer], system: str) -> list[str]:
    """A title and its answers in columns, each with what would settle it below."""
    kept = tuple(answers)
    rows = [_row(answer, system) for answer in kept]
    figures = max((len(row.figure) for row in rows), default=0)
    doubts = max((len(row.doubt) for row in rows), default=0)
    units = max((len(row.unit) for row in rows), default=0)
    lines = ["", strong(title)]
    for answer, row in zip(kept, rows, strict=True):
        cells = f"{row.figure:>{figures}} {row.doubt:<{doubts}} {row.unit:<{units}}"
        lines.append(f"  {row.mark} {cells}  {row.words}{row.verdict}".rstrip())
        lines += _below(answer)
    return lines


def _row(answer: Answer, system: str) -> _Row:
    """The cells of one answer."""
    shown = shown_answer(answer, system=system)
    words = ", ".join(part for part in (answer.label, shown.sense, answer.of) if part)
    is_long = len(shown.figure) > _LONGEST_FIGURE
    return _Row(
        MARKS[answer.kind],
        "" if is_long else shown.figure,
        f"±{shown.doubt}" if shown.doubt else "",
        shown.unit,
        f"{words}: {shown.figure}" if is_long else words,
        _verdict(answer),
    )


def _verdict(answer: Answer) -> str:
    """The verdict's words, bold where it is out."""
    if answer.judgement is None:
        return ""
    word = answer.judgement.verdict.value
    chance = chance_words(answer.judgement)
    said = f"  [{strong(word) if answer.judgement.verdict is Verdict.OUT else word}]"
    return f"{said} {chance}" if chance else said


def _below(answer: Answer) -> list[str]:
    """What is missing, and what to do where a verdict is not good."""
    lines = [f"      needs: {', '.join(answer.needs)}"] if answer.needs else []
    judged = answer.judgement
    if judged is not None and judged.remedy and judged.verdict is not Verdict.GOOD:
        lines.append(f"      do: {judged.remedy}")
        lines += [f"      or: {one.words}" for one in judged.ways[1:]]
    return lines
