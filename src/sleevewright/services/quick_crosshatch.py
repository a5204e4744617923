"""A quick question at the hone: which crosshatch it makes, and the strokes for another."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from sleevewright.core.cutting.crosshatch import (
    angle_about_axis,
    angle_from_across,
    cycles_for_angle,
    included_angle,
    stroke_speed,
    turns_for_angle,
)
from sleevewright.core.cutting.strokes import (
    angle_at_middle,
    angle_of_middle,
    share_near,
    turns_in_cycle,
)
from sleevewright.core.materials import default
from sleevewright.errors import Caution
from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.catalog_hatch import CYCLES, STROKE, TURNS
from sleevewright.jobs.field import Field, Span, quantity
from sleevewright.planning.hatch_said import (
    FLAT,
    QUARTER,
    STEEP,
    track_words,
    which_was_meant,
)
from sleevewright.planning.hazards import SPINDLE
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, read_words
from sleevewright.units import from_unit

BY_THE_MINUTE = "/min"
_RATE = re.compile(r"((?:rpm|cycles)=\s*[0-9.,]+)\s*(?:rpm|1?/min|cpm)", re.IGNORECASE)
METRES_A_MINUTE, FEET_A_MINUTE = 60.0, 60.0 / 0.3048


@dataclass(frozen=True)
class HoneInput(QuickInput):
    """An input of the hone, which is no key of the job file."""

    span: Span = span.BORE
    says: str = ""
    shown: str = ""

    @property
    def field(self) -> Field:
        """What it takes."""
        return quantity(f"hone.{self.name}", self.span, self.says, self.shown)

    @property
    def doc(self) -> str:
        """What it is, in a sentence."""
        return self.says

    @property
    def example(self) -> str:
        """Name and value as they are typed."""
        return f"{self.name}={self.shown}"


_WANTED = default("hatch_wanted").stated
CROSSHATCH_INPUTS = (
    HoneInput("bore", span=span.BORE, says="Bore, diametral.", shown="2.7555in"),
    HoneInput("rpm", span=TURNS, says="Spindle, turns a minute, a plain number.", shown="150"),
    HoneInput("stroke", span=STROKE, says="Stroke of the hone between its reversals.",
              shown="3.0in"),
    HoneInput("angle", _WANTED, span=span.HATCH, shown="45deg",
              says="Included angle that is wanted, opened towards the circumference."),
    HoneInput("cycles", is_needed=False, span=CYCLES, shown="89",
              says="Full cycles a minute, down and up again; without them those for the angle."),
)  # fmt: skip


@dataclass(frozen=True)
class HoneSet:
    """How a hone is set: bore and stroke in metres, rates by the second, angle in radians."""

    bore: float
    turns: float
    stroke: float
    wanted: float
    cycles: float  # as told, else those for the wanted angle


def hone_of(typed: Typed) -> HoneSet:
    """The setting that was typed."""
    bore, stroke, wanted = (typed.value(name) for name in ("bore", "stroke", "angle"))
    turns = from_unit(typed.value("rpm"), BY_THE_MINUTE)
    told = typed.given("cycles")
    if told is None:
        made = cycles_for_angle(bore=bore, turns=turns, stroke=stroke, included=wanted)
        return HoneSet(bore, turns, stroke, wanted, float(made))
    return HoneSet(bore, turns, stroke, wanted, from_unit(told, BY_THE_MINUTE))


def _plain_rate(word: str) -> str:
    """A rate by the minute with its word left off; any other word as it is.

    Examples
    --------
    >>> _plain_rate("rpm=150rpm"), _plain_rate("cycles=89 /min"), _plain_rate("bore=54mm")
    ('rpm=150', 'cycles=89', 'bore=54mm')
    """
    found = _RATE.fullmatch(word)
    return word if found is None else found[1]


def quick_crosshatch(words: Iterable[str]) -> QuickAnswer:
    """The angle that is made by both conventions, and the strokes for the wanted one."""
    typed = read_words("crosshatch", CROSSHATCH_INPUTS, map(_plain_rate, words))
    hone = hone_of(typed)
    common = {"bore": hone.bore, "stroke": hone.stroke}
    made = float(included_angle(**common, turns=hone.turns, cycles=hone.cycles))
    return QuickAnswer(
        "crosshatch",
        typed,
        (*_angles(hone, made), *_strokes(hone)),
        tuple(_cautions(typed, hone, made)),
        said=(_speed_words(hone, typed.system),),
    )


def _angles(hone: HoneSet, made: float) -> tuple[Line, ...]:
    """The angle that is made, by both conventions and along a crank's stroke."""
    near = default("hatch_near")
    share = float(share_near(made, hone.wanted, near.value))
    return (
        Line("included_deg", "Crosshatch", made, "angle", included_angle,
             note="included, toward the circumference"),
        Line("line_deg", "Each line", float(angle_from_across(made)), "angle",
             angle_from_across, note="from across the bore"),
        Line("axis_deg", "The same about the axis", float(angle_about_axis(made)), "angle",
             angle_about_axis),
        Line("middle_deg", "At mid stroke", float(angle_at_middle(made)), "angle",
             angle_at_middle, note="included; by a crank"),
        Line("share_1", "Stroke near the wanted angle", share, "probability", share_near,
             note=f"within {near.stated}; by a crank"),
    )  # fmt: skip


def _strokes(hone: HoneSet) -> tuple[Line, ...]:
    """The strokes and the spindle for the wanted angle, and the turns in a cycle."""
    common = {"bore": hone.bore, "stroke": hone.stroke}
    wanted = {**common, "included": hone.wanted}
    middle = {**common, "included": angle_of_middle(hone.wanted)}
    ratio = float(turns_in_cycle(turns=hone.turns, cycles=hone.cycles))
    return (
        Line("cycles_permin", "Full cycles for the wanted angle",
             float(cycles_for_angle(**wanted, turns=hone.turns)), "rate", cycles_for_angle),
        Line("cycles_middle_permin", "Full cycles for it at mid stroke",
             float(cycles_for_angle(**middle, turns=hone.turns)), "rate", cycles_for_angle,
             note="by a crank"),
        Line("spindle_permin", "Or spindle for it",
             float(turns_for_angle(**wanted, cycles=hone.cycles)), "rate", turns_for_angle,
             note=f"at {60.0 * hone.cycles:.1f} cycles a minute"),
        Line("turns_in_cycle_1", "Turns in a full cycle", ratio, "ratio", turns_in_cycle),
    )  # fmt: skip


def _speed_words(hone: HoneSet, system: str) -> str:
    """The mean speed of the stroke for the wanted angle."""
    speed = float(stroke_speed(bore=hone.bore, turns=hone.turns, included=hone.wanted))
    shown = (
        f"{speed * FEET_A_MINUTE:.1f} ft/min"
        if system == "inch"
        else f"{speed * METRES_A_MINUTE:.2f} m/min"
    )
    return f"stroke speed for the wanted angle: {shown}, mean, up and down alike"


def _cautions(typed: Typed, hone: HoneSet, made: float) -> list[Caution]:
    """What is to be watched: which angle was meant, flat, steep, tracks, the spindle."""
    found = []
    if hone.wanted > QUARTER and "angle" in typed.words:
        found.append(Caution("hatch-which", which_was_meant(hone.wanted), "derived"))
    for name, words, is_beyond in (
        ("hatch_least", FLAT, made < default("hatch_least").value),
        ("hatch_most", STEEP, made > default("hatch_most").value),
    ):
        if is_beyond:
            limit = default(name).stated
            text = f"{math.degrees(made):.0f}° is beyond the usual {limit}: {words}."
            found.append(Caution(name.replace("_", "-"), text, "practice"))
    again = track_words(turns=hone.turns, cycles=hone.cycles)
    if again:
        found.append(Caution("same-track", again, "derived"))
    return [*found, SPINDLE]
