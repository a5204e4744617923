"""Quick question about a gauge: what it repeats to, by a few readings read again and again."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from sleevewright.errors import InputError, clipped
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, by_default, read_words
from sleevewright.units import Dimension, parse

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

STUDY_INPUTS = (QuickInput("study"), by_default("step", "gauge_resolution"))

_BETWEEN = re.compile(r"(?<=[^\d\s.,])\s*[,\s]\s*")
"""Readings are parted behind their unit: a comma between digits is a decimal sign."""


def quick_study(words: Iterable[str]) -> QuickAnswer:
    """What one hand repeats to, and what people add, from a small gauge study."""
    from sleevewright.core.metrology.study import gauge_study
    from sleevewright.core.metrology.studyparts import people_of_study, repeat_of_study
    from sleevewright.planning.gaugestudy import fine_figure

    typed = read_words("study", STUDY_INPUTS, words)
    found = gauge_study(_read_study(typed))
    part = found.repeatability
    repeat = repeat_of_study(found, resolution=typed.value("step"))

    def fine(value: float) -> str:
        return fine_figure(value, typed.system)

    low, high = min(part.low, repeat), max(part.high, repeat)  # what a step hides is in it
    reach = f"{fine(repeat)}; 19 times in 20 from {fine(low)} to {fine(high)}"
    lines = [
        Line("repeat_um", "One hand repeats to", repeat, "deviation", repeat_of_study, note=reach),
        Line("degrees_of_freedom", "Degrees of freedom", part.degrees_of_freedom, "ratio",
             gauge_study),
    ]  # fmt: skip
    if found.reproducibility is not None:
        people = people_of_study(found)
        is_below = found.reproducibility.is_below_zero
        note = "the estimate came out below zero" if is_below else fine(people)
        lines.append(
            Line("people_um", "People add", people, "deviation", people_of_study, note=note)
        )
    ends = (("repeat_low_um", low * 1e6), ("repeat_high_um", high * 1e6))
    return QuickAnswer("study", typed, tuple(lines), extra=ends)


def _read_study(typed: Typed) -> NDArray[np.float64]:
    """Readings by feature, person and repeat; all equally often, in one kind of unit."""
    import numpy as np

    text = typed.text("study")
    groups = [
        [_BETWEEN.split(person.strip(" ,")) for person in feature.split("|")]
        for feature in text.strip(" ;").split(";")
    ]
    people = {len(feature) for feature in groups}
    repeats = {len(person) for feature in groups for person in feature}
    if len(people) > 1 or len(repeats) > 1:
        said = "people or repeats differ from feature to feature"
        hint = "Features stand between ; people between | and repeats between commas."
        raise InputError("study", said, "", "every person reads every feature equally often", hint)
    spoken = [
        parse(one, field="study", dimension=Dimension.LENGTH)
        for feature in groups
        for person in feature
        for one in person
    ]
    units = {one.unit for one in spoken}
    if len(units) > 1:
        kinds = clipped(", ".join(sorted(units)))
        raise InputError("study", kinds, "", "one unit for all readings", "As 0.1thou,0.2thou.")
    typed.units = tuple(units)
    shape = (len(groups), people.pop(), repeats.pop())
    return np.array([one.value for one in spoken]).reshape(shape)
