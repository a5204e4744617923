"""The concentricity chain beside a plan: finish bore, sleeve, parent bore, counterbore, wall.

The sleeve sits in the parent bore, so its outside and the parent bore are one axis.  The
finish bore is put on the sleeve's own bore, which carries the sleeve's run-out, or on the
datum, which the parent bore itself may miss; each centring misses a little more.  Radial.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.concentric import (
    eccentricity_at_most,
    finish_chain,
    moves_spread,
)
from sleevewright.core.cutting.walls import (
    chance_of_thin_wall,
    least_wall,
    radial_clearance,
    wall_eccentricity,
)
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, told_size
from sleevewright.planning.facts import assumed, given, given_or
from sleevewright.planning.judging import against_chance, against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.proofing import Frame

Q = Quantity

VARIATION = Line("chain.variation", "Sleeve's wall, thickest less thinnest", Q.DEVIATION, "radial")
RUNOUT = Line(
    "chain.runout",
    "Sleeve's bore off its outside",
    Q.DEVIATION,
    "radial",
    of="half of what its wall varies",
    would_change="gauge the wall round the sleeve's bore",
)
MOVES = Line("chain.moves", "Centred afresh since the parent bore", Q.RATIO, of="times")
RECENTRING = Line(
    "chain.recentring",
    "Centring afresh leaves",
    Q.DEVIATION,
    "radial",
    of="19 times in 20 at most",
    is_detail=True,
)
SPREAD = Line(
    "chain.spread", "spread of the settings, along each axis", Q.DEVIATION, "radial", is_detail=True
)
LEFT = Line("chain.left", "Left by the last sweep", Q.DEVIATION, "radial", of="half its swing")
SIZE_DOUBT = Line("chain.size_doubt", "doubt of the sizes", Q.DEVIATION, is_detail=True)
REFERENCE = Line(
    "chain.reference",
    "Axis it is centred by, off the sleeve",
    Q.DEVIATION,
    "radial",
    is_detail=True,
)
NOTHING = Line("chain.nothing", "nothing carried", Q.DEVIATION, "radial", is_detail=True)
CHAIN = Line("chain.sleeve_chain", "misses up to the sleeve", Q.RECORD, is_detail=True)
DATUM_CHAIN = Line("chain.datum_chain", "misses up to the datum", Q.RECORD, is_detail=True)
LIKELY = Line("chain.probability", "held with", Q.PROBABILITY, is_detail=True)
OFF_SLEEVE = Line(
    "chain.off_sleeve",
    "Finish bore off the sleeve's outside",
    Q.DEVIATION,
    "radial",
    of="19 times in 20 at most",
    would_change="sweep it once more on the machine, and tell what is left",
)
OFF_DATUM = Line(
    "chain.off_datum",
    "Finish bore off the datum",
    Q.DEVIATION,
    "radial",
    of="19 times in 20 at most; the datum of the set-up",
)
WALL = Line(
    "chain.wall",
    "Least wall of the sleeve",
    Q.SIZE,
    "radial",
    of="at its thinnest, 19 times in 20 at least",
    would_change="sweep it once more on the machine, or a sleeve with a truer wall",
)
LEAST = Line("chain.least_wall", "Wall at least", Q.SIZE, "radial", is_detail=True)
EVEN = Line("chain.even_wall", "Wall if all were concentric", Q.SIZE, "radial", is_detail=True)
EVEN_DOUBT = Line("chain.even_doubt", "doubt of the even wall", Q.DEVIATION, is_detail=True)
THIN = Line(
    "chain.thin", "Chance of too thin a wall", Q.PROBABILITY, of="somewhere round the sleeve"
)
LEDGE_SPREAD = Line("chain.ledge_spread", "spread of the counterbore", Q.DEVIATION, is_detail=True)
LEDGE_CHAIN = Line("chain.ledge_chain", "misses up to the counterbore", Q.RECORD, is_detail=True)
LEDGE_MOVES = Line("chain.ledge_moves", "counterbore set up again", Q.RATIO, is_detail=True)
OFF_LEDGE = Line(
    "chain.off_counterbore",
    "Counterbore off the parent bore",
    Q.DEVIATION,
    "radial",
    of="19 times in 20 at most",
)
ROOM = Line("chain.room", "flange's room all round", Q.DEVIATION, "radial", is_detail=True)
ROOM_LEFT = Line(
    "chain.room_left",
    "Room of the flange where it is closest",
    Q.DEVIATION,
    "radial",
    of="half its clearance less what the counterbore may lie off",
)


TIGHT = (
    "The flange is tight and its counterbore was set up again: where the two bores are not one "
    "axis the flange is pushed to one side and may stand proud there. Cut both in one setting."
)


@dataclass(frozen=True)
class ChainTold:
    """What was told of how sleeve and bores were centred."""

    variation: Entry | None = None  # of the sleeve's wall
    centred_by_datum: bool = False
    moves: Entry | None = None
    left: Entry | None = None  # half the swing of the last sweep
    counterbore_again: bool = False


def concentric(frame: Frame, told: ChainTold) -> StageAnswers:
    """How far finish bore and counterbore may lie off, and the least wall that leaves."""
    ledger = frame.ledger()
    _enter_settings(ledger, frame, told)
    _enter_finish(ledger, told)
    _enter_wall(ledger, frame)
    if told.counterbore_again:
        _enter_counterbore(ledger, frame)
    return beside(frame.plan, "piston", "Concentricity", ledger.result())


def _enter_settings(ledger: Ledger, frame: Frame, told: ChainTold) -> None:
    """Enter the sleeve's run-out, what was swept, and what the settings leave."""
    usual = ledger.default("wall_variation")
    reading = ledger.default("indicator_setting").value
    if told.variation is None:
        ledger.fact(VARIATION, given_or(None, usual))
    else:
        ledger.fact(VARIATION, told_size(told.variation, doubt=reading, need="the wall"))
    ledger.compute(RUNOUT, wall_eccentricity, variation="chain.variation")
    from_plan(ledger, frame.plan, "setup.offset", need="the set-up, swept")
    recentring = ledger.default("recentring")
    ledger.fact(
        RECENTRING, Given(recentring.value, Kind.ASSUMED, recentring.source, recentring.stated)
    )
    swept = assumed(0.0, source="practice", note="not swept: the settings count in full")
    if told.left is not None:
        swept = told_size(told.left, doubt=reading, need="the last sweep")
    ledger.fact(LEFT, swept)
    moves = assumed(1.0, source="practice", note="once, after the drop")
    ledger.fact(MOVES, moves if told.moves is None else given(told.moves, need="moves"))
    # The last setting was looked at where it was swept: what it left is known, not guessed.
    blind = max(float(ledger.value("chain.moves")) - (told.left is not None), 0.0)
    ledger.fact(
        Line("chain.blind", "settings that were not swept", Q.RATIO, is_detail=True),
        Given(blind, Kind.COMPUTED, "derived"),
    )
    ledger.compute(
        SPREAD, moves_spread, CENTRALLY, moves="chain.blind", recentring="chain.recentring"
    )
    ledger.fact(NOTHING, Given(0.0, Kind.CHOSEN, "derived"))
    ledger.fact(LIKELY, Given(0.95, Kind.CHOSEN, "practice"))


def _enter_finish(ledger: Ledger, told: ChainTold) -> None:
    """Enter how far the finish bore may lie off the sleeve's outside, and off the datum."""
    own = "setup.offset" if told.centred_by_datum else "chain.runout"
    ledger.fact(SIZE_DOUBT, Given(_doubt(ledger, own, "chain.left"), Kind.COMPUTED, "derived"))
    ends = [(CHAIN, OFF_SLEEVE, own, "chain.nothing")]
    if told.centred_by_datum:
        ends.append((DATUM_CHAIN, OFF_DATUM, "chain.nothing", "chain.nothing"))
    elif ledger.has("setup.offset"):
        ends.append((DATUM_CHAIN, OFF_DATUM, "chain.runout", "setup.offset"))
    for line, answer, reference, also in ends:
        ledger.compute(
            line,
            finish_chain,
            CENTRALLY,
            swept_off=reference,
            carried=also,
            left="chain.left",
            size_doubt="chain.size_doubt",
            spread="chain.spread",
        )
        ledger.compute(
            answer, eccentricity_at_most, CENTRALLY, chain=line.id, probability="chain.probability"
        )


def _doubt(ledger: Ledger, *names: str) -> float:
    """Standard uncertainty of sizes together, of those that are known."""
    doubts = [ledger.entry(one).answer.doubt for one in names]
    return math.hypot(*(0.0 if one is None else one.standard for one in doubts))


def _enter_wall(ledger: Ledger, frame: Frame) -> None:
    """Enter the least wall that is left, and the chance that it is too thin."""
    from_plan(ledger, frame.plan, "sleeve.od", need="outside of the sleeve")
    bore = "finish.as_gauged" if _is_known(frame, "finish.as_gauged") else "finish.bore"
    from_plan(ledger, frame.plan, bore, need="the finished bore")
    sizes = {"outside_diameter": "sleeve.od", "inside_diameter": bore}
    ledger.compute(WALL, least_wall, off_centre="chain.off_sleeve", **sizes)
    ledger.compute(EVEN, least_wall, off_centre="chain.nothing", **sizes)
    doubt = ledger.entry("chain.even_wall").answer.doubt
    ledger.fact(
        EVEN_DOUBT, Given(0.0 if doubt is None else doubt.standard, Kind.COMPUTED, "derived")
    )
    least, most = ledger.default("least_sleeve_wall"), ledger.default("thin_wall_chance").value
    ledger.fact(LEAST, Given(least.value, Kind.CHOSEN, least.source, least.stated))
    remedy = "sweep it again on the machine; else a sleeve with a thicker or a truer wall"
    ledger.compute(
        THIN,
        chance_of_thin_wall,
        How(judge=against_chance(most, 1.0 - most, remedy=remedy), is_sampled=False),
        even_wall="chain.even_wall",
        wall_standard="chain.even_doubt",
        least_wall="chain.least_wall",
        chain="chain.sleeve_chain",
    )


def _is_known(frame: Frame, identity: str) -> bool:
    """Whether the plan has a number of this name."""
    return any(one.id == identity and one.value is not None for one in frame.plan.answers())


def _enter_counterbore(ledger: Ledger, frame: Frame) -> None:
    """Enter how far a counterbore that was set up again may lie off, and the flange's room."""
    ledger.fact(LEDGE_MOVES, Given(1.0, Kind.CHOSEN, "the job"))
    ledger.compute(
        LEDGE_SPREAD,
        moves_spread,
        CENTRALLY,
        moves="chain.ledge_moves",
        recentring="chain.recentring",
    )
    ledger.compute(
        LEDGE_CHAIN,
        finish_chain,
        CENTRALLY,
        swept_off="chain.nothing",
        carried="chain.nothing",
        left="chain.nothing",
        size_doubt="chain.nothing",
        spread="chain.ledge_spread",
    )
    ledger.compute(
        OFF_LEDGE,
        eccentricity_at_most,
        CENTRALLY,
        chain="chain.ledge_chain",
        probability="chain.probability",
    )
    from_plan(ledger, frame.plan, "fit.flange", need="the flange in its counterbore")
    if (ledger.value("fit.flange") or 0.0) > 0.0:
        ledger.caution("off-centre:counterbore.chain", TIGHT, "practice")
        return
    ledger.compute(ROOM, radial_clearance, interference="fit.flange")
    remedy = "open the counterbore, or bore it in one setting with the parent bore"
    judge = against_limit(0.0, "least", remedy=remedy)
    ledger.compute(
        ROOM_LEFT, rest_of, How(judge=judge), whole="chain.room", part="chain.off_counterbore"
    )
