"""An answer as a page shows it, and what stands behind it when it is opened.

Nothing is computed here.  Every figure comes from ``planning.shown``; a limit or a part
of a doubt is handed to it as an answer of the same quantity, so that it reads alike.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from sleevewright.planning.answers import (
    Answer,
    Basis,
    Doubt,
    Judgement,
    Plan,
    Quantity,
    Verdict,
)
from sleevewright.planning.second_road import read_by_reading
from sleevewright.planning.shown import (
    ShownNumber,
    chance_words,
    coverage_words,
    difference_of,
    percent_words,
    shown_answer,
)
from sleevewright.units import Dimension, display_unit, to_unit
from sleevewright.web.plan.address import Trail
from sleevewright.web.plan.tables import table_of
from sleevewright.web.plan.views import (
    AnswerView,
    BarView,
    BasisView,
    RoadView,
    VerdictView,
    WayView,
    source_view,
)

LARGEST_CONTRIBUTORS = 6
LONGEST = 100.0
VERDICT_STYLES = {Verdict.GOOD: "good", Verdict.TOO_CLOSE: "close", Verdict.OUT: "out"}

DIGIT_WORDS = {1: "one digit", 2: "two digits"}
ROAD_WORDS = {
    "agrees": "agrees to {digits}",
    "differs": "differs in {digits}: the samples count",
    "too few samples to tell": "too few samples to tell {digits}",
}

Opening = Callable[[Trail], str]
"""Makes the address that opens a trail."""


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

    def number(self, identity: str) -> Answer | None:
        """The answer of this name where it is a number; nothing where it is missing."""
        if not self.knows(identity):
            return None
        answer = self.plan.answer(identity)
        return answer if isinstance(answer.value, float) else None

    def figure(self, identity: str) -> str:
        """Figures of an answer; empty where it is missing."""
        answer = self.number(identity)
        return "" if answer is None else shown_answer(answer, system=self.system).figure

    def unit(self, quantity: Quantity) -> str:
        """The unit in which a quantity is shown."""
        return display_unit(quantity.value, system=self.system)

    def deviation(self, value: float) -> float:
        """A small length in the unit in which it is shown."""
        return to_unit(value, self.unit(Quantity.DEVIATION), dimension=Dimension.LENGTH)

    def degrees(self, value: float) -> float:
        """A temperature in the unit in which it is shown."""
        unit = self.unit(Quantity.TEMPERATURE)
        return to_unit(value, unit, dimension=Dimension.TEMPERATURE)

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
            coverage="" if answer.doubt is None else coverage_words(answer, system=self.system),
            sources=tuple(source_view(key) for key in basis.sources),
            validity=basis.validity,
            would_change=answer.would_change,
            typed=answer.typed,
            told_by=(source_view(answer.source),) if answer.source else (),
            table=table_of(self.plan, answer, self.like, system=self.system),
            roads=self._roads(answer),
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
            chance=chance_words(judged),
            ways=tuple(
                WayView(one.words, "" if one.chance is None else percent_words(one.chance))
                for one in judged.ways
            ),
        )

    def _roads(self, answer: Answer) -> tuple[RoadView, ...]:
        """The same doubt by other roads, where there are any."""
        first = None if answer.doubt is None else answer.doubt.second
        found = (first, read_by_reading(self.plan, answer.id))
        return tuple(
            RoadView(
                one.name,
                self.like(
                    answer, (one.high - one.low) / 2.0, difference_of(answer.quantity)
                ).figure,
                ROAD_WORDS[one.says].format(digits=DIGIT_WORDS[one.digits]),
                source_view(one.source),
            )
            for one in found
            if one is not None
        )

    def _half(self, answer: Answer, half: float) -> str:
        """Figures of a half-width of an answer."""
        return self.like(answer, half, difference_of(answer.quantity)).figure

    def _bars(self, answer: Answer) -> tuple[BarView, ...]:
        """The largest contributors, each as the half-width that it alone would cause."""
        doubt = answer.doubt
        if doubt is None or not doubt.contributors:
            return ()
        largest = max(one.standard for one in doubt.contributors)
        bars = (
            BarView(
                one.label,
                round(100.0 * one.standard / largest, 1),
                self._half(answer, one.standard * _widening(doubt)),
            )
            for one in doubt.contributors[:LARGEST_CONTRIBUTORS]
        )
        # What would read as nought beside the others is no bar; the largest always is one.
        return tuple(one for one in bars if one.length == LONGEST or one.figure.strip("0."))


def _widening(doubt: Doubt) -> float:
    """From standard uncertainty to the half-width that is shown, as for the whole doubt."""
    return (doubt.high - doubt.low) / 2.0 / doubt.standard
