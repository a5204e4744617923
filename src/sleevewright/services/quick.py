"""Quick answers without a job: one function for each topic, and the list of topics.

A topic's module is loaded when the topic is asked for, so that a short answer starts quickly
whatever the others need.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from importlib import import_module
from typing import cast

from sleevewright.errors import NotFound
from sleevewright.services.quick_answer import QuickAnswer, quick_document, quick_lines
from sleevewright.services.quick_inputs import QuickInput

__all__ = ["TOPICS", "QuickAnswer", "Topic", "quick", "quick_document", "quick_lines"]


@dataclass(frozen=True)
class Topic:
    """One question that can be asked without a job: its name, its title, where it is answered.

    The module holds ``NAME_INPUTS`` and ``quick_name``.
    """

    name: str
    title: str
    module: str

    @property
    def inputs(self) -> tuple[QuickInput, ...]:
        """What may be typed."""
        return cast("tuple[QuickInput, ...]", self._own(f"{self.name.upper()}_INPUTS"))

    @property
    def answer(self) -> Callable[[Iterable[str]], QuickAnswer]:
        """Answers the question from ``name=value`` words."""
        return cast("Callable[[Iterable[str]], QuickAnswer]", self._own(f"quick_{self.name}"))

    @property
    def example(self) -> str:
        """A command that is true: the inputs that must be given."""
        words = [one.example for one in self.inputs if one.is_needed and not one.without]
        return " ".join(["sleevewright quick", self.name, *words])

    def _own(self, name: str) -> object:
        return getattr(import_module(f"sleevewright.services.{self.module}"), name)


TOPICS = {
    name: Topic(name, title, module)
    for name, title, module in (
        ("fit", "How tight: pressure, stresses, close-up and hold.", "quick_fit"),
        ("advice", "What the sources say of a fit, the preset and the least.", "quick_advice"),
        ("heat", "How hot, and whether that may be.", "quick_heat"),
        ("ready", "When the casting in the oven is ready.", "quick_ready"),
        ("drop", "How many seconds before it grips.", "quick_drop"),
        ("closeup", "How much the bore closes up.", "quick_fit"),
        ("proof", "Whether the close-up proves the fit.", "quick_proof"),
        ("grip", "Where the fit lets go.", "quick_fit"),
        ("running", "What is left hot, where it opens, how likely it has.", "quick_running"),
        ("thin", "What a thin casting holds, and what it costs.", "quick_running"),
        ("rings", "What several rings do to one another.", "quick_rings"),
        ("dose", "How much a heat ages an aluminium casting.", "quick_dose"),
        (
            "flange",
            "What the body's fit leaves of the flange's, and what both press with.",
            "quick_flange",
        ),
        ("sweep", "Which way to move the table.", "quick_setup"),
        ("swing", "How far off, by the swing alone or one pair.", "quick_setup"),
        ("lean", "How much the bore leans, and the shim for it.", "quick_setup"),
        ("comparator", "What a dial says that was set on a master: bore, or fit.", "quick_gauge"),
        ("soak", "How long a warm part must lie to be gauged.", "quick_gauge"),
        ("lobes", "Which gauge sees which lobes, and what two gauges say.", "quick_lobes"),
        ("limits", "Limits of a book class at a size: ISO 286, ANSI B4.1.", "quick_limits"),
        ("circle", "What circle points lie on, and how round.", "quick_circle"),
        ("cylinder", "What cylinder points lie on, and how true.", "quick_cylinder"),
        ("study", "What a gauge repeats to.", "quick_study"),
        ("timing", "When a port opens, and for how long.", "quick_timing"),
        ("squish", "Squish and compression, and what a cut off deck or base does.", "quick_squish"),
        ("speeds", "How fast, what feed, what the bar gives.", "quick_speeds"),
        ("cut", "What to ask of the next boring pass, and what to dial.", "quick_cut"),
        (
            "crosshatch",
            "What crosshatch a hone makes, and the strokes for another.",
            "quick_crosshatch",
        ),
        ("gap", "Whether a ring's gap is right; the bore it tells.", "quick_gap"),
        ("stack", "Which blocks or pins make a height.", "quick_stack"),
    )
}


def quick(topic: str, words: Iterable[str]) -> QuickAnswer:
    """Answer one topic from ``name=value`` words."""
    if topic not in TOPICS:
        raise NotFound("topic", topic, tuple(TOPICS))
    return TOPICS[topic].answer(words)
