"""An answer as a page shows it, and what stands behind it when it is opened.

Nothing is computed here.  Every figure comes from ``planning.shown``; a limit or a part
of a doubt is handed to it as an answer of the same quantity, so that it reads alike.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from sleevewright.errors import Caution
from sleevewright.planning.answers import (
    Answer,
    Basis,
    Doubt,
    Judgement,
    Kind,
    Plan,
    Quantity,
    Verdict,
)
from sleevewright.planning.shown import BLANK, ShownNumber, shown_answer
from sleevewright.web.plan.address import Trail

LARGEST_CONTRIBUTORS = 3
VERDICT_STYLES = {Verdict.GOOD: "good", Verdict.TOO_CLOSE: "close", Verdict.OUT: "out"}
KEYS_IN_WORDS = {
    "practice": "common practice, no source",
    "from-memory": "from memory, to be checked",
    "derived": "derived here",
}

Opening = Callable[[Trail], str]
"""Makes the address that opens a trail."""


@dataclass(frozen=True)
class VerdictView:
    """A verdict with its limit in figures."""

    word: str
    style: str
    side: str
    limit: ShownNumber
    rule: str
    remedy: str


@dataclass(frozen=True)
class AnswerView:
    """One row: an answer in figures and words, and the address that opens it."""

    id: str
    label: str
    shown: ShownNumber
    of: str
    needs: tuple[str, ...]
    cautions: tuple[Caution, ...]
    verdict: VerdictView | None
    is_text: bool
    href: str
    is_open: bool = False

    @property
    def is_blank(self) -> bool:
        """Whether there is no value to show."""
        return self.shown.figure == BLANK

    @property
    def is_record(self) -> bool:
        """Whether the value is a structure that no figure stands for."""
        return not self.shown.figure


@dataclass(frozen=True)
class SourceView:
    """A source by its key, or in words where there is none."""

    words: str
    href: str


@dataclass(frozen=True)
class BarView:
    """One contributor to a doubt; ``length`` is in hundredths of the largest."""

    label: str
    length: float
    figure: str


@dataclass(frozen=True)
class BasisView:
    """What an opened number rests on."""

    answer: AnswerView
    back: AnswerView | None
    relation: str
    expression: str
    function: str
    inputs: tuple[AnswerView, ...]
    bars: tuple[BarView, ...]
    sources: tuple[SourceView, ...]
    validity: str
    would_change: str
    typed: str
    told_by: tuple[SourceView, ...]


@dataclass(frozen=True)
class Viewer:
    """Shows the answers of one plan in one system of units."""

    plan: Plan
    system: str

    def answer(self, identity: str, href: str = "", *, is_open: bool = False) -> AnswerView:
        """One answer as a row."""
        answer = self.plan.answer(identity)
        return AnswerView(
            id=answer.id,
            label=answer.label,
            shown=shown_answer(answer, system=self.system),
            of=answer.of,
            needs=answer.needs,
            cautions=answer.cautions,
            verdict=self._verdict(answer, answer.judgement),
            is_text=answer.quantity is Quantity.TEXT,
            href=href,
            is_open=is_open,
        )

    def knows(self, identity: str) -> bool:
        """Whether the plan has an answer of this name."""
        return any(answer.id == identity for answer in self.plan.answers())

    def basis(self, trail: Trail, opening: Opening) -> BasisView:
        """What the last number of a trail rests on."""
        answer = self.plan.answer(trail[-1])
        basis = answer.basis or Basis("", "", "", (), (), "")
        inputs = dict.fromkeys(source for _, source in basis.inputs)
        return BasisView(
            answer=self.answer(answer.id),
            back=self.answer(trail[-2], opening(trail[:-1])) if len(trail) > 1 else None,
            relation=basis.name,
            expression=basis.expression,
            function=basis.function,
            inputs=tuple(self.answer(one, opening((*trail, one))) for one in inputs),
            bars=self._bars(answer),
            sources=tuple(source_view(key) for key in basis.sources),
            validity=basis.validity,
            would_change=answer.would_change,
            typed=answer.typed,
            told_by=(source_view(answer.source),) if answer.source else (),
        )

    def like(self, answer: Answer, value: float, quantity: Quantity | None = None) -> ShownNumber:
        """A value that belongs to an answer, in the figures of that answer."""
        twin = replace(answer, value=value, doubt=None, quantity=quantity or answer.quantity)
        return shown_answer(twin, system=self.system)

    def _verdict(self, answer: Answer, judged: Judgement | None) -> VerdictView | None:
        if judged is None:
            return None
        return VerdictView(
            word=judged.verdict.value,
            style=VERDICT_STYLES[judged.verdict],
            side=judged.side,
            limit=self.like(answer, judged.limit),
            rule=judged.rule,
            remedy=judged.remedy,
        )

    def _bars(self, answer: Answer) -> tuple[BarView, ...]:
        """The largest contributors, each as the half-width that it alone would cause."""
        doubt = answer.doubt
        if doubt is None or not doubt.contributors:
            return ()
        largest = max(one.standard for one in doubt.contributors)
        quantity = answer.quantity
        if quantity is Quantity.TEMPERATURE:
            quantity = Quantity.TEMPERATURE_DIFFERENCE
        return tuple(
            BarView(
                one.label,
                round(100.0 * one.standard / largest, 1),
                self.like(answer, one.standard * _widening(doubt), quantity).figure,
            )
            for one in doubt.contributors[:LARGEST_CONTRIBUTORS]
        )


def _widening(doubt: Doubt) -> float:
    """From standard uncertainty to the half-width that is shown, as for the whole doubt."""
    return (doubt.high - doubt.low) / 2.0 / doubt.standard


def source_view(key: str) -> SourceView:
    """A source: a key of the manual's list becomes its address there."""
    if key in KEYS_IN_WORDS:
        return SourceView(KEYS_IN_WORDS[key], "")
    if " " in key or not key:
        return SourceView(key, "")
    return SourceView(key, f"/manual/sources.html#{key}")


def is_given(answer: Answer) -> bool:
    """Whether an answer was told or assumed rather than worked out or decided."""
    return answer.kind in (Kind.MEASURED, Kind.TYPED, Kind.ASSUMED)
