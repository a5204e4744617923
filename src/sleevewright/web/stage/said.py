"""Records of what a stage says beside what it asks for."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.web.plan.views import AnswerView, VerdictView

WEIGHT = {"good": 0, "close": 1, "out": 2}


@dataclass(frozen=True)
class SaysSection:
    """Answers that belong together, behind one press where there are many of them."""

    heading: str
    rows: tuple[AnswerView, ...]
    is_open: bool = True

    @property
    def worst(self) -> VerdictView | None:
        """The verdict that weighs most, so that a closed press hides no trouble."""
        found = [one.verdict for one in self.rows if one.verdict is not None]
        return max(found, key=lambda one: WEIGHT[one.style], default=None)


@dataclass(frozen=True)
class SaysView:
    """What follows from what was told: answers of the plan for this stage."""

    rows: tuple[AnswerView, ...] = ()
    sections: tuple[SaysSection, ...] = ()
    lead: tuple[AnswerView, ...] = ()  # shown large: what is cut or done next
    advice: tuple[str, ...] = ()
    problem: str = ""
    cautions: tuple[str, ...] = ()  # readings that were held back, and the like
    remarks: tuple[str, ...] = ()  # quiet ones, about how readings look
