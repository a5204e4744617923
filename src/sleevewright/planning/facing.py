"""Stage Face: what the cut did, or would do, to squish, compression, ports and their datum.

Metal off the deck and metal off the base are two questions: the deck's cut leaves every port
where it was to the piston, the base's does not.  Before anything is cut the same sums answer
what was asked; after it, what was told.  All lengths are axial, all figures cold.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.allowances import rest_of
from sleevewright.core.engine.facing import deck_clearance_after, squish_change
from sleevewright.core.engine.squish import (
    band_share,
    band_volume,
    least_squish,
    running_squish_loss,
    solder_squish,
    solder_tilt,
    squish_after,
    squish_clearance,
)
from sleevewright.core.materials import material
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, told_size
from sleevewright.planning.facing_gaskets import enter_gaskets
from sleevewright.planning.facing_ports import enter_ports
from sleevewright.planning.facing_seat import enter_seat
from sleevewright.planning.facing_told import (
    BASE_CUT,
    BASE_THICKER,
    BORE,
    DECK_CUT,
    HEAD_THICKER,
    FaceTold,
    enter_known,
    tried,
)
from sleevewright.planning.facing_volumes import enter_volumes
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, assumed, given_or
from sleevewright.planning.judging import LimitJudge, between
from sleevewright.planning.ledger import CENTRALLY, SHALLOWLY, How, Ledger, Line
from sleevewright.planning.ports import ENGINE_DECK, ENGINE_ROD
from sleevewright.planning.squish_rules import TOO_LITTLE, least_name

Q = Quantity
DECK_AFTER = Line("face.deck_after", "Piston below the deck after", Q.DEVIATION, "axial",
                  of="negative above it")  # fmt: skip
DECK_CHANGE = Line(
    "face.deck_change", "Piston below the deck changes by", Q.READING, "axial", is_detail=True
)
STEP = Line("face.step", "Step of the head at the band", Q.SIZE, "axial", is_detail=True)
SUM = Line(
    "face.squish_sum",
    "Squish by its parts, before",
    Q.SIZE,
    "axial",
    of="deck, head gasket and step of the head",
)
BEFORE = Line("face.squish_before", "Squish before", Q.SIZE, "axial", of="cold")
CHANGE = Line("face.squish_change", "Squish changes by", Q.READING, "axial")
AFTER = Line(
    "face.squish_after",
    "Squish after",
    Q.SIZE,
    "axial",
    of="cold",
    would_change="solder at both ends of the line of the pin says what it really is",
)
READ = Line("face.squish_read", "Squish after, by solder", Q.SIZE, "axial", of="cold")
APART = Line("face.squish_apart", "Solder less the parts, before", Q.READING, "axial")
UNLIKE = Line("face.squish_unlike", "Solder less what was worked out", Q.READING, "axial")
TILT = Line("face.squish_tilt", "One end of the pin reads more by", Q.READING, "axial",
            of="head, deck or piston out of parallel")  # fmt: skip
LOSS = Line("face.squish_loss", "The running engine takes off it, at most", Q.SIZE, "axial")
LEAST = Line("face.squish_least", "Least squish", Q.SIZE, "axial", of="cold")
MOST = Line("face.squish_most", "Most squish that still works", Q.SIZE, "axial", is_detail=True)
BOWL = Line("face.bowl", "Bowl of the chamber, across", Q.SIZE, "diametral", is_detail=True)
BAND = Line("face.band", "Squish band, share of the bore", Q.RATIO, of="by area")
IN_BAND = Line("face.band_volume", "Volume in the band", Q.VOLUME, of="at top dead centre")

TOO_MUCH = "fit a thinner gasket, or face the deck: that leaves the ports where they are"

COCKED = (
    "Solder through one plug hole lies on one side and cocks the piston: it reads too little. "
    "Lay a piece at each end of the line of the pin, and take the mean."
)
DRAWS = 2000
"""Draws behind these doubts: many answers that rest on few inputs, known to two digits."""

UNPARALLEL = 5e-5
"""More than this between both ends of the pin is worth a look: two thou."""


def facing(plan: Plan, told: FaceTold) -> StageAnswers:
    """Everything that a cut off deck or base does, as far as it was told or asked."""
    ledger = Ledger(count=DRAWS, seed=plan.seed, chosen=plan.chosen)
    enter_known(ledger, plan, told)
    _enter_limits(ledger, told)
    _enter_before(ledger, plan, told)
    ledger.compute(
        CHANGE,
        squish_change,
        deck_cut=DECK_CUT.id,
        base_cut=BASE_CUT.id,
        base_thicker=BASE_THICKER.id,
        head_thicker=HEAD_THICKER.id,
    )
    _enter_after(ledger, plan, told)
    enter_volumes(ledger, plan, told)
    enter_ports(ledger, plan, told)
    enter_seat(ledger, told)
    enter_gaskets(ledger, plan, told)
    _say_kind(ledger, told)
    return beside(plan, "face", "Face", ledger.result())


def _enter_limits(ledger: Ledger, told: FaceTold) -> None:
    """Enter the least squish, by cooling and by what the running engine takes."""
    steel, alloy = material("steel"), material("unknown-aluminium")
    for key, label, quantity, value, source in (
        ("rod_expansion", "growth of the rod's metal", Q.EXPANSION,
         float(steel.expansion.reference), steel.source_of("expansion")),
        ("crown_expansion", "growth of the piston's metal", Q.EXPANSION,
         float(alloy.expansion.reference), alloy.source_of("expansion")),
    ):  # fmt: skip
        line = Line(f"face.{key}", label, quantity, is_detail=True)
        ledger.fact(line, assumed(value, source=source))
    for key, label, quantity, name in (
        ("rod_rise", "rod hotter by", Q.TEMPERATURE_DIFFERENCE, "squish_rod_rise"),
        ("crown_rise", "piston hotter by", Q.TEMPERATURE_DIFFERENCE, "squish_crown_rise"),
        ("crown_height", "piston's edge above its pin", Q.SIZE, "squish_crown_height"),
        ("play", "play and stretch at speed", Q.SIZE, "squish_play"),
        ("usual_least", "least squish that is kept to", Q.SIZE,
         least_name(told.engine.cooling)),
    ):  # fmt: skip
        line = Line(f"face.{key}", label, quantity, is_detail=True)
        ledger.fact(line, given_or(None, ledger.default(name)))
    ledger.fact(MOST, given_or(None, ledger.default("squish_most")))
    names = ("rod_expansion", "rod_rise", "crown_height", "crown_expansion", "crown_rise", "play")
    inputs = {one: f"face.{one}" for one in names}
    ledger.compute(LOSS, running_squish_loss, rod=ENGINE_ROD.id, **inputs)
    if ledger.has(LOSS.id):
        ledger.compute(LEAST, least_squish, usual_least="face.usual_least", running_loss=LOSS.id)
    else:  # without the rod the shop's own least still holds
        usual = ledger.default(least_name(told.engine.cooling))
        ledger.fact(LEAST, given_or(None, usual))


def _enter_before(ledger: Ledger, plan: Plan, told: FaceTold) -> None:
    """Enter the squish before: by solder where it was laid, else by its parts."""
    if told.step is None:
        ledger.fact(STEP, assumed(0.0, source="practice", note="flat head: none was told"))
    else:
        ledger.fact(STEP, told_size(told.step, doubt=_depth(ledger), need="step of the head"))
    tried(
        ledger, plan, SUM, squish_clearance,
        deck_clearance=ENGINE_DECK.id, head_gasket="face.head_was", head_step=STEP.id,
    )  # fmt: skip
    if told.solder:
        _enter_solder(ledger, plan, BEFORE, _Solder(told.solder, "before", told.is_cocked))
        if ledger.has(SUM.id):
            ledger.compute(APART, rest_of, whole=BEFORE.id, part=SUM.id)
            _say_apart(ledger, APART, "the sum of its parts", told)
    else:
        tried(
            ledger, plan, BEFORE, squish_clearance,
            deck_clearance=ENGINE_DECK.id, head_gasket="face.head_was", head_step=STEP.id,
        )  # fmt: skip


@dataclass(frozen=True)
class _Solder:
    """Solder as it was read: one end of the pin's line or both."""

    ends: tuple[Entry, ...]
    key: str
    is_cocked: bool


def _enter_solder(
    ledger: Ledger, plan: Plan, line: Line, solder: _Solder, how: How = SHALLOWLY
) -> None:
    """Enter a squish by solder, from both ends of the pin or from the one that was read."""
    ends, key, is_cocked = solder.ends, solder.key, solder.is_cocked
    name = "squish_cocked" if is_cocked else "squish_solder"
    standard = ledger.default(name).value / STATED_COVERAGE_FACTOR
    for number, end in enumerate((ends[0], ends[-1])):
        end_line = Line(f"face.solder_{key}_{number + 1}", f"solder {key}, end {number + 1}",
                        Q.SIZE, "axial", is_detail=True)  # fmt: skip
        told = told_size(end, doubt=STATED_COVERAGE_FACTOR * standard, need="solder")
        ledger.fact(end_line, told)
    # One reading used twice is one reading: both names stand for the same doubt.
    second = 2 if len(ends) > 1 else 1
    both = {"one_end": f"face.solder_{key}_1", "other_end": f"face.solder_{key}_{second}"}
    tried(ledger, plan, line, solder_squish, how, **both)
    if is_cocked:
        ledger.caution(f"face.solder:{line.id}", COCKED, "practice")
    if len(ends) > 1:
        tilt = Line(f"{TILT.id}_{key}", f"{TILT.label}, {key}", TILT.quantity, TILT.sense, TILT.of)
        tried(ledger, plan, tilt, solder_tilt, **both)
        if abs(ends[0].value - ends[-1].value) > UNPARALLEL:
            ledger.advise(
                f"Squish {key} differs at both ends of the pin: look for dirt under the head, "
                "an untrue deck or base, a bent rod."
            )


def _say_apart(ledger: Ledger, line: Line, other: str, told: FaceTold) -> None:
    """Say where solder and a sum differ by more than both are in doubt by."""
    if not ledger.has(line.id):
        return
    found = ledger.entry(line.id).answer
    standard = 0.0 if found.doubt is None else found.doubt.standard
    if abs(float(ledger.value(line.id))) <= STATED_COVERAGE_FACTOR * standard:
        return
    step = "" if told.step is not None else "a step of the head, which was not told; "
    text = (
        f"Solder and {other} differ by more than both are in doubt by. Look for: {step}the "
        "piston's place at top dead centre, the gasket as it is when pressed, solder on one side."
    )
    ledger.caution(f"face.apart:{line.id}", text, "practice")


def _enter_after(ledger: Ledger, plan: Plan, told: FaceTold) -> None:
    """Enter squish and deck after the cut, and the solder that proves them."""
    ledger.compute(
        DECK_AFTER,
        deck_clearance_after,
        deck_clearance=ENGINE_DECK.id,
        deck_cut=DECK_CUT.id,
        base_cut=BASE_CUT.id,
        base_thicker=BASE_THICKER.id,
    )
    ledger.compute(DECK_CHANGE, rest_of, CENTRALLY, whole=DECK_AFTER.id, part=ENGINE_DECK.id)
    expected = None
    if ledger.has(BEFORE.id) and ledger.has(CHANGE.id):
        expected = ledger.value(BEFORE.id) + ledger.value(CHANGE.id)
    tried(
        ledger, plan, AFTER, squish_after, How(judge=_judge(ledger, expected)),
        squish=BEFORE.id, change=CHANGE.id,
    )  # fmt: skip
    shown = AFTER.id
    if told.solder_after:
        ends = told.solder_after
        mean = 0.5 * (ends[0].value + ends[-1].value)
        how = How(judge=_judge(ledger, mean))
        _enter_solder(ledger, plan, READ, _Solder(ends, "after", told.is_cocked), how)
        ledger.compute(UNLIKE, rest_of, whole=READ.id, part=AFTER.id)
        _say_apart(ledger, UNLIKE, "what was worked out", told)
        shown = READ.id
    ledger.fact(BOWL, told_size(told.bowl, doubt=_depth(ledger), need="bowl of the chamber"))
    if told.bowl is not None:
        tried(ledger, plan, BAND, band_share, bore=BORE.id, bowl=BOWL.id)
        squish = shown if ledger.has(shown) else BEFORE.id
        tried(ledger, plan, IN_BAND, band_volume, bore=BORE.id, bowl=BOWL.id, squish=squish)


def _judge(ledger: Ledger, value: float | None) -> LimitJudge | None:
    """Both limits of a squish, the least and the most that still works."""
    if value is None or not ledger.has(LEAST.id):
        return None
    least, most = float(ledger.value(LEAST.id)), float(ledger.value(MOST.id))
    return between((least, TOO_LITTLE), (max(most, least), TOO_MUCH), value=value)


def _depth(ledger: Ledger) -> float:
    """What a depth by micrometer is honestly worth, as a half-width."""
    return ledger.default("depth_micrometer_setting").value


def _say_kind(ledger: Ledger, told: FaceTold) -> None:
    """Say of which face it speaks, and which of the two moves the ports."""
    if told.engine.deck is None and not told.solder:
        ledger.advise(
            "Where the piston stands at top dead centre was not told: it is taken as level with "
            "the deck. Measure it, or lay solder."
        )
    if told.is_deck_late:
        ledger.advise(
            "Where the piston stands at top dead centre was told after the cut, and is taken as "
            "it stood before it: tell it as it was, and the stage works out the rest."
        )
    if told.is_asked:
        ledger.advise("Nothing is cut yet: these figures say what the cut that was asked would do.")
    if not math.isclose(ledger.value(DECK_CUT.id) or 0.0, 0.0, abs_tol=1e-9):
        ledger.advise(
            "Metal off the deck leaves the timing as it is; every depth from the deck reads "
            "less by the cut."
        )
    if not math.isclose(ledger.value(BASE_CUT.id) or 0.0, 0.0, abs_tol=1e-9):
        ledger.advise(
            "Metal off the base lowers every port to the piston: it opens later and stays open "
            "for less. A base gasket thicker by as much puts it back."
        )
