"""A quick question at the bar: how fast, with what feed, and what the bar gives."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sleevewright.core.materials import default
from sleevewright.services.quick_answer import QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, read_words


@dataclass(frozen=True)
class OwnInput(QuickInput):
    """An input with words of its own, no key of the job file."""

    said: tuple[str, str] = ("", "")  # a sentence, an example

    @property
    def doc(self) -> str:
        """What the input is, in a sentence."""
        return self.said[0]

    @property
    def example(self) -> str:
        """Name and value as they are typed."""
        return f"{self.name}={self.said[1]}"


def _own(name: str, doc: str, example: str, without: str = "", *, needed: bool = True) -> OwnInput:
    return OwnInput(name, without, needed, (doc, example))


SPEEDS_INPUTS = (
    _own("diameter", "Diameter of the wall that is cut.", "3.000in"),
    _own("metal", "Metal that is cut: a metal of the tables, or a job's own.", "grey-iron"),
    _own("tool", "Edge: hss, carbide, coated, pcd or cbn.", "carbide", "carbide"),
    _own("feed", "Feed by the turn.", "4thou"),
    _own("depth", "Depth of the cut, radial: half of what it adds to the diameter.", "10thou"),
    _own("nose", "Radius of the nose.", "0.4mm", default("boring_nose").stated),
    _own("bar", "Diameter of the bar.", "1in", default("boring_bar").stated),
    _own("overhang", "Free length of the bar.", "4in", default("boring_overhang").stated),
    _own("bar_metal", "Bar of steel, heavy-metal or carbide.", "steel", "steel"),
    _own("work", "Boring, or facing: then speeds and roughness alone, depth axial.", "boring",
         "boring"),
    _own("length", "Length that is bored, for the time.", "3.5in", needed=False),
    _own("turns", "Turns of the spindle; the slower end of the range without.", "380rpm",
         needed=False),
)  # fmt: skip


def quick_speeds(words: Iterable[str]) -> QuickAnswer:
    """Turns, feed speed, time, force, what is taken, roughness and power of a boring cut."""
    from sleevewright.services.speeds_answer import cut_answer  # tables and arrays, for this alone

    return cut_answer(read_words("speeds", SPEEDS_INPUTS, words))
