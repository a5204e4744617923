"""Beside the plan, stage Counterbore: how deep still, the next feed, the stop.

Depths count from the deck as it was touched.  A burr under the gauge lifts it by nobody knows
how much, so nothing is answered from depths until the burr was knocked off before them; a deck
that is out of flat is in the doubt of each depth.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.allowances import rest_of, sum_of
from sleevewright.core.cutting.downfeed import (
    chance_too_deep,
    depth_to_go,
    feed_at_chance,
    next_downfeed,
)
from sleevewright.core.cutting.ledgeplane import degrees_words
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, told_size
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, enter_default
from sleevewright.planning.gauges import readings_of
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.proofing import Gauged, reading_parts

Q = Quantity
Array = NDArray[np.float64]
DECK, OLD_SEAT, PLATE = "deck", "old flange seat", "base plate"
MOST_PLACES = 8
BURR = "a tick that the burr was knocked off before these depths"

FACED = Line("counterbore.faced", "Deck faced after, by", Q.DEVIATION, "axial", is_detail=True)
NOW = Line(
    "counterbore.depth_now",
    "Depth from the deck as it is now",
    Q.SIZE,
    "axial",
    of="flange less stand-out, and what is faced off the deck after",
)
DEEPEST_ALLOWED = Line(
    "counterbore.deepest_allowed", "deepest that is allowed", Q.SIZE, "axial", is_detail=True
)
DEEPEST = Line("counterbore.deepest", "Deepest place as read", Q.SIZE, "axial", is_detail=True)
TO_GO = Line(
    "counterbore.to_go",
    "Ledge, still to go",
    Q.DEVIATION,
    "axial",
    of="at its deepest place; negative is too deep",
    would_change="read the depths again with a gauge set on a master",
)
MISS = Line("counterbore.feed_miss", "what the feed may miss by", Q.DEVIATION, is_detail=True)
SPARE = Line("counterbore.spare", "left to the deepest allowed", Q.DEVIATION, is_detail=True)
AFTER_MISS = Line("counterbore.spare_missed", "the same less the miss", Q.DEVIATION, is_detail=True)
RISK = Line("counterbore.risk", "chance of too deep that is taken", Q.PROBABILITY, is_detail=True)
HELD = Line("counterbore.feed_held", "feed at that chance", Q.DEVIATION, "axial", is_detail=True)
MOST = Line("counterbore.cut_most", "deepest single cut", Q.DEVIATION, "axial", is_detail=True)
LAST = Line("counterbore.cut_last", "left for the last cut", Q.DEVIATION, "axial", is_detail=True)
NEXT = Line(
    "counterbore.next_feed",
    "Next feed down",
    Q.DEVIATION,
    "axial",
    of="from the depth just read, from the shallow side; then read again",
)
CHANCE = Line(
    "counterbore.too_deep",
    "Chance that it ends too deep",
    Q.PROBABILITY,
    of="deeper than the depth and its limit",
)
UNDER = Line(
    "counterbore.deck_left",
    "Metal left under the ledge",
    Q.SIZE,
    "axial",
    of="thickness of the deck less the depth of the ledge",
    would_change="measure the deck where it is thinnest, at the ports or the jacket",
)
THICK = Line("counterbore.deck_thickness", "Deck, thick", Q.SIZE, "axial", is_detail=True)
DATUM = Line("counterbore.touched", "Touched off on", Q.TEXT)
DATUM_OFF = Line("counterbore.datum_off", "from the deck to it", Q.SIZE, "axial", is_detail=True)
STOP = Line(
    "counterbore.stop",
    "Set the stop to",
    Q.SIZE,
    "axial",
    of="travel down from where the tool touched off; from the base plate the height over it",
)


@dataclass(frozen=True)
class DepthTold:
    """What was told of depths, datum and deck."""

    depths: Gauged = field(default_factory=Gauged)
    is_burr_off: bool = False
    flatness: Entry | None = None  # deck out of flat
    faced: Entry | None = None  # taken off the deck after
    datum: str = ""
    datum_off: Entry | None = None
    thickness: Entry | None = None  # of the deck


@dataclass(frozen=True, eq=False)
class Depths:
    """Depths round the ledge that may be taken as facts, with what they share and do not."""

    angles: Array
    values: Array
    shared: float  # standard uncertainty that all of them have in common
    own: float  # of each alone

    @property
    def standard(self) -> float:
        """Standard uncertainty of one of them."""
        return math.hypot(self.shared, self.own)


def depths_of(ledger: Ledger, told: DepthTold) -> Depths | None:
    """The depths with their doubt; nothing where none may be taken as a fact."""
    grid = told.depths.grid
    if grid is None or not told.is_burr_off:
        return None
    readings = readings_of(grid)
    row, column = np.nonzero(np.isfinite(readings.readings))
    if not row.size:
        return None
    setting, step = reading_parts(ledger, told.depths, "depth_micrometer_setting")
    flat = 0.0 if told.flatness is None else told.flatness.value / math.sqrt(12.0)
    own = math.hypot(step.standard, ledger.default("depth_repeat").value, flat)
    values = readings.readings[row, column]
    return Depths(readings.directions[column], values, setting.standard, own)


def enter_target(ledger: Ledger, plan: Plan, told: DepthTold) -> None:
    """Enter the depth that is wanted from the deck as it is now, and its limit."""
    for name, need in (
        ("flange.thickness", "flange thickness"),
        ("counterbore.stand_out", "wanted stand-out"),
        ("counterbore.depth", "flange thickness and wanted stand-out"),
        ("counterbore.above", "tolerance of the depth"),
    ):
        from_plan(ledger, plan, name, need=need)
    nothing = Given(0.0, Kind.ASSUMED, "practice", "the deck is not faced after")
    faced = told.faced
    ledger.fact(
        FACED,
        nothing if faced is None else Given(faced.value, Kind(faced.kind), "the job", faced.text),
    )
    ledger.compute(NOW, sum_of, wanted="counterbore.depth", allowance=FACED.id)
    ledger.compute(DEEPEST_ALLOWED, sum_of, wanted=NOW.id, allowance="counterbore.above")
    _enter_deck(ledger, told.thickness)
    _enter_stop(ledger, told)


def _enter_deck(ledger: Ledger, thickness: Entry | None) -> None:
    """Enter what is left of the deck under the ledge, where its thickness was told."""
    if thickness is None:
        return
    doubt = ledger.default("depth_micrometer_setting").value
    ledger.fact(THICK, told_size(thickness, doubt=doubt, need="thickness of the deck"))
    judge = against_limit(0.0, "least", remedy="no such depth in this deck: a thinner flange")
    ledger.compute(UNDER, rest_of, How(judge=judge), whole=THICK.id, part=NOW.id)


def _enter_stop(ledger: Ledger, told: DepthTold) -> None:
    """Enter what was touched off and the travel from there; from a plate it is read upwards."""
    if not told.datum:
        assumed = Given(DECK, Kind.ASSUMED, "practice", "the tool is touched off on the deck")
        ledger.fact(DATUM, assumed)
    else:
        ledger.fact(DATUM, Given(told.datum, Kind.CHOSEN, "the job"))
    off = Given(0.0, Kind.ASSUMED, "derived", "the deck itself")
    if told.datum in (OLD_SEAT, PLATE):
        doubt = ledger.default("depth_micrometer_setting").value
        need = f"how far the {told.datum} lies from the deck"
        off = told_size(told.datum_off, doubt=doubt, need=need)
    ledger.fact(DATUM_OFF, off)
    ends = (DATUM_OFF.id, NOW.id) if told.datum == PLATE else (NOW.id, DATUM_OFF.id)
    ledger.compute(STOP, rest_of, whole=ends[0], part=ends[1])
    if told.datum in SAID_OF_DATUM:
        ledger.advise(SAID_OF_DATUM[told.datum])


SAID_OF_DATUM = {
    OLD_SEAT: "Touched off on the old flange seat: the stand-out follows that seat, and what it "
    "is off the deck goes whole into it. Read the depths from the deck before the last cut.",
    PLATE: "Touched off on the base plate: the height of the deck over the plate goes whole into "
    "the stand-out, and a deck that is not parallel to the base shows as a tilt of the ledge. "
    "Read the depths from the deck before the last cut. The stack stands on the plate and holds "
    "the tool up: one that is too short lets it go too deep, and is let pass half as far.",
}


def enter_to_go(ledger: Ledger, depths: Depths | None) -> None:
    """Enter what is still to go, the next feed and the chance that it ends too deep."""
    if depths is None:
        ledger.fact(DEEPEST, Given(None, Kind.MEASURED, need=f"the ledge's depths, and {BURR}"))
    else:
        deepest = float(depths.values.max())
        ledger.fact(
            DEEPEST, Given(deepest, Kind.MEASURED, "the readings", standard=depths.standard)
        )
        _enter_places(ledger, depths)
        _caution_beyond(ledger, depths)
    ledger.compute(TO_GO, depth_to_go, target=NOW.id, reached=DEEPEST.id)
    half = ledger.default("downfeed_miss")
    miss = Given(
        0.0, Kind.ASSUMED, half.source, half.note, half.value / math.sqrt(3.0),
        shape=Shape.RECTANGULAR,
    )  # fmt: skip
    ledger.fact(MISS, miss)
    ledger.compute(SPARE, rest_of, whole=DEEPEST_ALLOWED.id, part=DEEPEST.id)
    ledger.compute(AFTER_MISS, rest_of, whole=SPARE.id, part=MISS.id)
    enter_default(ledger, RISK, None, "too_deep_chance")
    enter_default(ledger, MOST, None, "ledge_cut_most")
    enter_default(ledger, LAST, None, "ledge_cut_last")
    ledger.compute(HELD, feed_at_chance, samples=AFTER_MISS.id, chance=RISK.id)
    ledger.compute(
        NEXT, next_downfeed, CENTRALLY, to_go=TO_GO.id, held=HELD.id, most=MOST.id, last_cut=LAST.id
    )
    ledger.compute(CHANCE, chance_too_deep, samples=AFTER_MISS.id, downfeed=NEXT.id)
    _say_next(ledger, depths)


def _enter_places(ledger: Ledger, depths: Depths) -> None:
    """Enter what is still to go at each place, with one doubt for all of them."""
    wanted = ledger.entry(NOW.id).answer.doubt
    of_target = 0.0 if wanted is None else wanted.standard
    for number, (angle, depth) in enumerate(zip(depths.angles, depths.values, strict=True), 1):
        if number > MOST_PLACES:
            break
        at = degrees_words(angle)
        place = Line(
            f"counterbore.place_{number}", f"depth at {at}", Q.SIZE, "axial", is_detail=True
        )
        told = Given(float(depth), Kind.MEASURED, "the readings", standard=depths.standard)
        ledger.fact(place, told)
        line = Line(
            f"counterbore.to_go_{number}",
            f"To go at {at}",
            Q.DEVIATION,
            "axial",
            of="negative is too deep",
        )
        ledger.compute(line, depth_to_go, CENTRALLY, target=NOW.id, reached=place.id)
        if ledger.has(line.id):
            state_doubt(ledger, line.id, math.hypot(depths.standard, of_target))


def state_doubt(ledger: Ledger, identity: str, standard: float) -> None:
    """Give an answer the doubt that its readings leave."""
    value, half = float(ledger.value(identity)), STATED_COVERAGE_FACTOR * standard
    ledger.amend(identity, doubt=Doubt(standard, value - half, value + half, 0.95, "linear"))


def _caution_beyond(ledger: Ledger, depths: Depths) -> None:
    """Say so where a depth cannot be, or leaves the flange below the deck."""
    deepest = float(depths.values.max())
    thick, deck = ledger.value("flange.thickness"), ledger.value(THICK.id)
    out = ledger.value("counterbore.stand_out")
    if thick is not None and out is not None and deepest > float(thick) and float(out) >= 0.0:
        ledger.caution(
            "beyond-flange:counterbore.depth",
            "The ledge reads deeper than the flange is thick: the flange would lie below the deck. "
            "Was the gauge on a burr, or the flange measured over its face and its radius?",
            "derived",
        )
    if deck is not None and deepest > float(deck):
        ledger.caution(
            "beyond-deck:counterbore.depth",
            "The ledge reads deeper than the deck is thick: one of both was read wrong. Cut "
            "nothing until it is found.",
            "derived",
        )


AT_DEPTH = (
    "The ledge is as deep as it may be: cut no more. If it is too deep the flange stands "
    "lower than planned; face the deck, or have a thicker flange, but put no shim under it."
)
UNSQUARE_AT_DEPTH = (
    "The deepest place of the ledge is at depth and the ledge is not square: no more depth. Square "
    "it by taking its high places down to the deepest one and no farther, then read it again. Too "
    "deep after that: face the deck, or have a thicker flange, but put no shim under it."
)


def _at_depth(ledger: Ledger, depths: Depths | None) -> str:
    """What is done at depth, by whether the ledge is square as the shop wants it."""
    if depths is None or depths.values.size < 2:
        return AT_DEPTH
    limit = ledger.default("ledge_spread").value
    return UNSQUARE_AT_DEPTH if float(np.ptp(depths.values)) > limit else AT_DEPTH


def _say_next(ledger: Ledger, depths: Depths | None) -> None:
    """Say so where nothing may be cut any more."""
    if not ledger.has(NEXT.id) or float(ledger.value(NEXT.id)) > 0.0:
        return
    to_go, held = float(ledger.value(TO_GO.id)), float(ledger.value(HELD.id))
    if to_go > 0.0 >= held and _at_depth(ledger, depths) == UNSQUARE_AT_DEPTH:
        ledger.advise(UNSQUARE_AT_DEPTH)
    elif to_go >= 0.0 and held <= 0.0:
        ledger.advise(
            "What is left to go is within the doubt of the depths: cut nothing on these readings. "
            "Read again with a gauge set on a master, or take the ledge as it is."
        )
    elif to_go < 0.0:
        ledger.advise(_at_depth(ledger, depths))
