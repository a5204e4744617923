"""A quick question at the hone: which crosshatch it makes, and the strokes for another."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from sleevewright.core.checks import Number
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
from sleevewright.core.cutting.tracks import cycles_to_set
from sleevewright.core.materials import default
from sleevewright.errors import Caution, InputError
from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.catalog_hatch import CYCLES, STROKE, TURNS
from sleevewright.jobs.field import Field, Span, quantity
from sleevewright.planning.hatch_said import (
    FLAT,
    QUARTER,
    STEEP,
    moved_words,
    track_words,
    which_was_meant,
)
from sleevewright.planning.hazards import SPINDLE
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, read_words
from sleevewright.units import from_unit

BY_THE_MINUTE = "/min"
DRIVEN = ("crank", "even")
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
    QuickInput("drive", "crank",
               said=("What drives the stroke: crank (an arm too), or even (an even feed).",
                     "crank")),
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
    is_even: bool = False

    @property
    def mean_wanted(self) -> float:
        """The angle by the mean speed that gives the wanted one in the middle."""
        return self.wanted if self.is_even else float(angle_of_middle(self.wanted))

    @property
    def exact(self) -> float:
        """The cycles in a second that make the wanted angle in the middle."""
        return float(
            cycles_for_angle(
                bore=self.bore, turns=self.turns, stroke=self.stroke, included=self.mean_wanted
            )
        )

    def read_at(self, mean: Number) -> Number:
        """The angle in the middle, where it is read, of one by the mean speed."""
        return mean if self.is_even else angle_at_middle(mean)


def hone_of(typed: Typed) -> HoneSet:
    """The setting that was typed."""
    bore, stroke, wanted = (typed.value(name) for name in ("bore", "stroke", "angle"))
    turns = from_unit(typed.value("rpm"), BY_THE_MINUTE)
    told = typed.given("cycles")
    hone = HoneSet(bore, turns, stroke, wanted, 0.0, _is_even(typed))
    if told is None:
        return replace(hone, cycles=cycles_to_set(turns=turns, cycles=hone.exact))
    return replace(hone, cycles=from_unit(told, BY_THE_MINUTE))


def _is_even(typed: Typed) -> bool:
    """Whether the stroke is driven at an even speed."""
    said = typed.text("drive").lower()
    if said not in DRIVEN:
        hint = "A crank or an arm slows at both ends; a hydraulic stroke keeps one speed."
        raise InputError("drive", said, "", "crank or even", hint)
    return said == "even"


def quick_crosshatch(words: Iterable[str]) -> QuickAnswer:
    """The angle that is made by both conventions, and the strokes for the wanted one."""
    typed = read_words("crosshatch", CROSSHATCH_INPUTS, words)
    hone = hone_of(typed)
    common = {"bore": hone.bore, "stroke": hone.stroke}
    made = float(included_angle(**common, turns=hone.turns, cycles=hone.cycles))
    return QuickAnswer(
        "crosshatch",
        typed,
        (*_angles(hone, made), *_strokes(hone)),
        tuple(_cautions(typed, hone, float(hone.read_at(made)))),
        said=(_speed_words(hone, typed.system),),
    )


def _angles(hone: HoneSet, made: float) -> tuple[Line, ...]:
    """The angle that is made where it is read, by both conventions, and by the mean speed."""
    read = float(hone.read_at(made))
    both = (
        Line("line_deg", "Each line", float(angle_from_across(read)), "angle",
             angle_from_across, note="from across the bore"),
        Line("axis_deg", "The same about the axis", float(angle_about_axis(read)), "angle",
             angle_about_axis),
    )  # fmt: skip
    around = "included, toward the circumference"
    if hone.is_even:
        line = Line("included_deg", "Crosshatch", made, "angle", included_angle, note=around)
        return (line, *both)
    near = default("hatch_near")
    share = float(share_near(made, hone.wanted, near.value))
    return (
        Line("middle_deg", "Crosshatch", read, "angle", angle_at_middle,
             note=f"{around}; in the middle, where it is read"),
        *both,
        Line("included_deg", "By the mean of the stroke", made, "angle", included_angle,
             note="included"),
        Line("share_1", "Stroke near the wanted angle", share, "probability", share_near,
             note=f"within {near.stated}; by a crank"),
    )  # fmt: skip


def _strokes(hone: HoneSet) -> tuple[Line, ...]:
    """The strokes and the spindle for the wanted angle, and the turns in a cycle."""
    common = {"bore": hone.bore, "stroke": hone.stroke}
    ratio = float(turns_in_cycle(turns=hone.turns, cycles=hone.cycles))
    order = cycles_to_set(turns=hone.turns, cycles=hone.exact)
    mean = float(cycles_for_angle(**common, turns=hone.turns, included=hone.wanted))
    spindle = float(turns_for_angle(**common, cycles=hone.cycles, included=hone.mean_wanted))
    by_mean = () if hone.is_even else (
        Line("cycles_mean_permin", "Full cycles for it by the mean", mean, "rate",
             cycles_for_angle, note="in the middle those cut steeper"),
    )  # fmt: skip
    return (
        Line("cycles_permin", "Full cycles for the wanted angle", order, "rate",
             cycles_for_angle, note="" if hone.is_even else "in the middle"),
        *by_mean,
        Line("spindle_permin", "Or spindle for it", spindle, "rate", turns_for_angle,
             note=f"at {60.0 * hone.cycles:.1f} cycles a minute"),
        Line("turns_in_cycle_1", "Turns in a full cycle", ratio, "ratio", turns_in_cycle),
    )  # fmt: skip


def _speed_words(hone: HoneSet, system: str) -> str:
    """The mean speed of the stroke for the wanted angle."""
    speed = float(stroke_speed(bore=hone.bore, turns=hone.turns, included=hone.mean_wanted))
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
    order = cycles_to_set(turns=hone.turns, cycles=hone.exact)
    moved = moved_words(cycles=hone.exact, told=order)
    if moved:
        found.append(Caution("strokes-moved", f"{moved}.", "derived"))
    return [*found, SPINDLE]
