"""Quick answers without a job: one function for each topic, and the list of topics."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from sleevewright.errors import NotFound
from sleevewright.services.quick_advice import ADVICE_INPUTS, quick_advice
from sleevewright.services.quick_answer import QuickAnswer, quick_document, quick_lines
from sleevewright.services.quick_circle import CIRCLE_INPUTS, quick_circle
from sleevewright.services.quick_crosshatch import CROSSHATCH_INPUTS, quick_crosshatch
from sleevewright.services.quick_cut import CUT_INPUTS, quick_cut
from sleevewright.services.quick_cylinder import CYLINDER_INPUTS, quick_cylinder
from sleevewright.services.quick_dose import DOSE_INPUTS, quick_dose
from sleevewright.services.quick_drop import DROP_INPUTS, quick_drop
from sleevewright.services.quick_fit import (
    CLOSEUP_INPUTS,
    FIT_INPUTS,
    GRIP_INPUTS,
    quick_closeup,
    quick_fit,
    quick_grip,
)
from sleevewright.services.quick_flange import FLANGE_INPUTS, quick_flange
from sleevewright.services.quick_gap import GAP_INPUTS, quick_gap
from sleevewright.services.quick_gauge import (
    COMPARATOR_INPUTS,
    SOAK_INPUTS,
    quick_comparator,
    quick_soak,
)
from sleevewright.services.quick_heat import HEAT_INPUTS, quick_heat
from sleevewright.services.quick_inputs import QuickInput
from sleevewright.services.quick_limits import LIMITS_INPUTS, quick_limits
from sleevewright.services.quick_lobes import LOBES_INPUTS, quick_lobes
from sleevewright.services.quick_proof import PROOF_INPUTS, quick_proof
from sleevewright.services.quick_rings import RINGS_INPUTS, quick_rings
from sleevewright.services.quick_running import (
    RUNNING_INPUTS,
    THIN_INPUTS,
    quick_running,
    quick_thin,
)
from sleevewright.services.quick_setup import (
    LEAN_INPUTS,
    SWEEP_INPUTS,
    SWING_INPUTS,
    quick_lean,
    quick_sweep,
    quick_swing,
)
from sleevewright.services.quick_speeds import SPEEDS_INPUTS, quick_speeds
from sleevewright.services.quick_squish import SQUISH_INPUTS, quick_squish
from sleevewright.services.quick_stack import STACK_INPUTS, quick_stack
from sleevewright.services.quick_study import STUDY_INPUTS, quick_study
from sleevewright.services.quick_timing import TIMING_INPUTS, quick_timing

__all__ = ["TOPICS", "QuickAnswer", "Topic", "quick", "quick_document", "quick_lines"]


@dataclass(frozen=True)
class Topic:
    """One question that can be asked without a job."""

    name: str
    title: str
    inputs: tuple[QuickInput, ...]
    answer: Callable[[Iterable[str]], QuickAnswer]

    @property
    def example(self) -> str:
        """A command that is true: the inputs that must be given."""
        words = [one.example for one in self.inputs if one.is_needed and not one.without]
        return " ".join(["sleevewright quick", self.name, *words])


TOPICS = {
    topic.name: topic
    for topic in (
        Topic("fit", "How tight: pressure, stresses, close-up and hold.", FIT_INPUTS, quick_fit),
        Topic(
            "advice",
            "What the sources say of a fit, the preset and the least.",
            ADVICE_INPUTS,
            quick_advice,
        ),
        Topic("heat", "How hot, and whether that may be.", HEAT_INPUTS, quick_heat),
        Topic("drop", "How many seconds before it grips.", DROP_INPUTS, quick_drop),
        Topic("closeup", "How much the bore closes up.", CLOSEUP_INPUTS, quick_closeup),
        Topic("proof", "Whether the close-up proves the fit.", PROOF_INPUTS, quick_proof),
        Topic("grip", "Where the fit lets go.", GRIP_INPUTS, quick_grip),
        Topic(
            "running",
            "What is left hot, where it opens, how likely it has.",
            RUNNING_INPUTS,
            quick_running,
        ),
        Topic("thin", "What a thin casting holds, and what it costs.", THIN_INPUTS, quick_thin),
        Topic("rings", "What several rings do to one another.", RINGS_INPUTS, quick_rings),
        Topic("dose", "How much a heat ages an aluminium casting.", DOSE_INPUTS, quick_dose),
        Topic(
            "flange",
            "What the body's fit leaves of the flange's, and what both press with.",
            FLANGE_INPUTS,
            quick_flange,
        ),
        Topic("sweep", "Which way to move the table.", SWEEP_INPUTS, quick_sweep),
        Topic("swing", "How far off, by the swing alone or one pair.", SWING_INPUTS, quick_swing),
        Topic("lean", "How much the bore leans, and the shim for it.", LEAN_INPUTS, quick_lean),
        Topic(
            "comparator",
            "What a dial says that was set on a master: bore, or fit.",
            COMPARATOR_INPUTS,
            quick_comparator,
        ),
        Topic("soak", "How long a warm part must lie to be gauged.", SOAK_INPUTS, quick_soak),
        Topic(
            "lobes",
            "Which gauge sees which lobes, and what two gauges say.",
            LOBES_INPUTS,
            quick_lobes,
        ),
        Topic(
            "limits",
            "Limits of a book class at a size: ISO 286, ANSI B4.1.",
            LIMITS_INPUTS,
            quick_limits,
        ),
        Topic("circle", "What circle points lie on, and how round.", CIRCLE_INPUTS, quick_circle),
        Topic(
            "cylinder",
            "What cylinder points lie on, and how true.",
            CYLINDER_INPUTS,
            quick_cylinder,
        ),
        Topic("study", "What a gauge repeats to.", STUDY_INPUTS, quick_study),
        Topic("timing", "When a port opens, and for how long.", TIMING_INPUTS, quick_timing),
        Topic(
            "squish",
            "Squish and compression, and what a cut off deck or base does.",
            SQUISH_INPUTS,
            quick_squish,
        ),
        Topic("speeds", "How fast, what feed, what the bar gives.", SPEEDS_INPUTS, quick_speeds),
        Topic(
            "cut", "What to ask of the next boring pass, and what to dial.", CUT_INPUTS, quick_cut
        ),
        Topic(
            "crosshatch",
            "What crosshatch a hone makes, and the strokes for another.",
            CROSSHATCH_INPUTS,
            quick_crosshatch,
        ),
        Topic("gap", "Whether a ring's gap is right; the bore it tells.", GAP_INPUTS, quick_gap),
        Topic("stack", "Which blocks or pins make a height.", STACK_INPUTS, quick_stack),
    )
}


def quick(topic: str, words: Iterable[str]) -> QuickAnswer:
    """Answer one topic from ``name=value`` words."""
    if topic not in TOPICS:
        raise NotFound("topic", topic, tuple(TOPICS))
    return TOPICS[topic].answer(words)
