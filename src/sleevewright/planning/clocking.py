"""Stage Make ready: how far to turn the sleeve from its mark before it is dropped, and its window.

A turn is clockwise seen from the deck, so a negative one is counter-clockwise.  Lengths along
the rim are those of the flange, or of the sleeve's own outside where it has no flange.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any

from sleevewright.core.ports.clocked import (
    chord_of_turn,
    closest_edge,
    pose_down,
    pose_left,
    pose_turn,
    pose_window,
    rim_apart,
    rim_of_turn,
    turn_as_set,
    turn_of_rim,
)
from sleevewright.core.ports.clocking import TOLERANCE, Pose, PoseLimits, clock
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.overcut import high_roof
from sleevewright.core.ports.residual import ROOF, STATION_EDGES, Walls
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, known_in, ledger_of, told_size
from sleevewright.planning.clock_words import (
    NOTHING,
    deeper_words,
    order_words,
    peg_cautions,
    way_words,
)
from sleevewright.planning.facts import assumed
from sleevewright.planning.judging import LimitJudge, against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line

Q = Quantity
SEEN = "clockwise seen from the deck; negative is counter-clockwise"
RIM = ("flange.od", "diameter of the flange")
TURN = Line("clock.turn", "Turn the sleeve from its mark by", Q.ANGLE, of=SEEN,
            would_change="measure roofs and sides of both maps closer")  # fmt: skip
ALONG = Line("clock.rim", "The same along the rim", Q.READING, "along the rim", of=SEEN)
ROTATE = Line("clock.rotate", "Set the mark to the scribe", Q.DEVIATION, "along the rim")
CHORD = Line("clock.chord", "The same by caliper", Q.SIZE, "chord", of="from scribe to mark")
LOW = Line("clock.window_low", "No edge is cut too far from", Q.READING, "along the rim", of=SEEN)
HIGH = Line("clock.window_high", "No edge is cut too far up to", Q.READING, "along the rim",
            of=SEEN)  # fmt: skip
DOWN = Line("clock.down", "Deepen the counterbore by", Q.DEVIATION, "axial",
            of="nought is the normal answer")  # fmt: skip
WOULD = Line("clock.would_down", "What a deeper counterbore would be", Q.DEVIATION, "axial",
             of="asked only where a roof stands too high")  # fmt: skip
LEFT = Line("clock.left", "Least metal left at an edge", Q.DEVIATION, "along the wall",
            would_change="a depth gauge on that edge, before anything is cut")  # fmt: skip
SAID = Line("clock.said", "Clocking", Q.TEXT)
SCRIBE = Line("clock.scribe", "Mark set off along the rim by", Q.DEVIATION, "along the rim",
              is_detail=True)  # fmt: skip
SCRIBE_TURN = Line("clock.scribe_turn", "A mark that much off turns it by", Q.ANGLE)
SCRIBE_WALL = Line("clock.scribe_wall", "and moves every side by", Q.DEVIATION, "along the wall")
WALL = Line("clock.wall", "Wall of the map that is wanted", Q.SIZE, "diametral", is_detail=True)
OFF = Line("clock.off", "Clocked off by", Q.READING, "along the rim", of=SEEN)
READ = Line("clock.off_read", "Marks apart, as told", Q.READING, "along the rim", of=SEEN,
            is_detail=True)  # fmt: skip
OFF_TURN = Line("clock.off_turn", "Marks apart, as a turn", Q.ANGLE, of=SEEN, is_detail=True)
AS_SET = Line("clock.as_set", "Turn as it was set", Q.ANGLE, of=SEEN)

GONE = "no turn saves it: another sleeve, or the customer's word for it"
GONE_ROOF = "no turn saves it: a deeper counterbore, another sleeve, or the customer's word for it"
GAUGE_IT = "measure this edge in both maps with a depth gauge before anything is cut"
MARKED = (
    "Scribe the deck and the flange cold, on the bench, and look again with the maps in hand. "
    "Seen from below every turn is the other way round."
)


NearPeg = tuple[str, str, float]
"""Number of a ring peg, name of a port, and the wall from a ring end to its edge. [m]"""


@dataclass(frozen=True)
class FoundPose:
    """A pose with its doubt, or why there is none.

    Attributes
    ----------
    pose : Pose | None
        The pose. [record]
    turn, down : float
        One standard uncertainty of turn [rad] and depth. [m]
    window : tuple[float, float]
        One standard uncertainty of both ends of the harmless turns. [rad]
    would : Pose | None
        The pose with a deeper counterbore, where a roof stands too high. [record]
    refused : str
        Why there is none.
    pegs : tuple[NearPeg, ...]
        Pegs that it brings too close to a port, where they were left aside to save an edge.
    """

    pose: Pose | None = None
    turn: float = 0.0
    down: float = 0.0
    window: tuple[float, float] = (0.0, 0.0)
    would: Pose | None = None
    refused: str = ""
    pegs: tuple[NearPeg, ...] = ()


@dataclass(frozen=True)
class ClockTold:
    """What the clocking rests on."""

    target: PortMap | None = None
    sleeve: PortMap | None = None
    limits: PoseLimits | None = None
    needs: tuple[str, ...] = ()
    is_plain: bool = False  # the sleeve has no flange
    unpegged: PoseLimits | None = None  # limits with no thought of ring pegs
    helpless: tuple[NearPeg, ...] = ()  # pegs too close to a port that is wanted
    walls: Walls = "radial"  # how the sides of its windows go outwards

    @property
    def rim(self) -> str:
        """The answer that is the diameter of the rim."""
        return _rim(is_plain=self.is_plain)[0]


def clock_stage(plan: Plan, told: ClockTold, found: FoundPose) -> StageAnswers:
    """How to clock the sleeve, the window of harmless turns, what a scribe's error is."""
    ledger = ledger_of(plan)
    from_plan(ledger, plan, told.rim, need=_rim(is_plain=told.is_plain)[1])
    _enter_scribe(ledger, told)
    for code, words in peg_cautions(told.helpless, found.pegs, plan.units):
        ledger.caution(code, words, "practice")
    if found.pose is None:
        _say_missing(ledger, told, found)
        return beside(plan, "ready", "Make ready", ledger.result())
    _enter_pose(ledger, plan, told, found)
    _enter_metal(ledger, plan, told, found)
    return beside(plan, "ready", "Make ready", ledger.result())


def clocked_stage(plan: Plan, off: Entry, *, is_plain: bool) -> StageAnswers:
    """How the sleeve came to lie after the drop, by what was measured at the rim."""
    ledger = ledger_of(plan)
    rim, need = _rim(is_plain=is_plain)
    from_plan(ledger, plan, "clock.turn", need="turn that was wanted")
    from_plan(ledger, plan, rim, need=need)
    most = ledger.default("clock_off").value
    ledger.fact(READ, told_size(off, doubt=most / 4.0, need="marks apart after the drop"))
    remedy = "map the ports again as it lies, and grind to that; it cannot be turned back cold"
    judge = LimitJudge(most, "most", remedy, is_distance=True)
    ledger.compute(OFF_TURN, turn_of_rim, rim=READ.id, diameter=rim)
    ledger.compute(OFF, rim_of_turn, How(judge=judge), turn=OFF_TURN.id, diameter=rim)
    ledger.compute(AS_SET, turn_as_set, turn="clock.turn", off=READ.id, diameter=rim)
    return beside(plan, "cool", "Cool and prove", ledger.result())


def _rim(*, is_plain: bool) -> tuple[str, str]:
    """The answer that is the diameter of the rim, and what it is called where it is missing."""
    return ("sleeve.od", "outside of the sleeve") if is_plain else RIM


def _say_missing(ledger: Ledger, told: ClockTold, found: FoundPose) -> None:
    """Say what is missing, or why the maps cannot be laid over each other."""
    need = ", ".join(told.needs) or found.refused or "maps of the ports"
    for line in (TURN, SAID):
        ledger.fact(line, Given(None, Kind.COMPUTED, need=need))
    if found.refused:
        why = found.refused[0].upper() + found.refused[1:].removesuffix(".")
        text = f"Clocking: not worked out. {why}{'' if why.endswith('?') else '.'}"
        ledger.caution("clock.refused:clock.turn", text, "derived")


def _enter_pose(ledger: Ledger, plan: Plan, told: ClockTold, found: FoundPose) -> None:
    """Enter turn, rim, caliper, window and depth."""
    pose = found.pose
    for name, words, value in (
        ("target", "Ports as they are to become", told.target),
        ("sleeve", "Sleeve as supplied", told.sleeve),
        ("limits", "What the sleeve may do", told.unpegged if found.pegs else told.limits),
    ):
        line = Line(f"clock.{name}", words, Q.RECORD, is_detail=True)
        ledger.fact(line, Given(value, Kind.MEASURED, "the job", need=words))
    ledger.compute(
        Line("clock.pose", "pose of the sleeve", Q.RECORD, is_detail=True),
        known(clock, pose), CENTRALLY,
        target="clock.target", sleeve="clock.sleeve", limits="clock.limits",
    )  # fmt: skip
    for name, words, quantity, standard in (
        ("turn", "error of the turn", Q.ANGLE, found.turn),
        ("down", "error of the depth", Q.DEVIATION, found.down),
    ):
        line = Line(f"clock.{name}_error", words, quantity, is_detail=True,
                    of="every edge of both maps drawn within its doubt")  # fmt: skip
        ledger.fact(line, Given(0.0, Kind.COMPUTED, "jcgm-101", standard=standard))
    ledger.compute(TURN, pose_turn, pose="clock.pose", error="clock.turn_error")
    ledger.compute(ALONG, rim_of_turn, turn="clock.turn", diameter=told.rim)
    ledger.compute(ROTATE, rim_apart, turn="clock.turn", diameter=told.rim)
    ledger.compute(CHORD, chord_of_turn, turn="clock.turn", diameter=told.rim)
    ledger.compute(DOWN, pose_down, pose="clock.pose", error="clock.down_error")
    if pose is not None and pose.is_harmless:
        _enter_window(ledger, told, found)
    turn = float(ledger.value(TURN.id))
    of = ROTATE.of if abs(turn) < NOTHING else "from the scribe on the deck to the sleeve's mark"
    ledger.amend(ROTATE.id, label=f"Rotate {way_words(turn)}", of=of)
    words = order_words(
        (turn, ledger.value(ALONG.id), float(ledger.value(DOWN.id))),
        system=plan.units,
        is_plain=told.is_plain,
    )
    ledger.fact(SAID, Given(words, Kind.COMPUTED, "derived"))
    ledger.advise(MARKED)


def _enter_window(ledger: Ledger, told: ClockTold, found: FoundPose) -> None:
    """Enter both ends of the harmless turns, along the rim, as well as their edges are known."""
    for number, line in enumerate((LOW, HIGH)):
        end = Line(f"{line.id}_end", "which end", Q.COUNT, is_detail=True)
        ledger.fact(end, assumed(float(number), source="derived", note="counter-clockwise first"))
        turn = Line(f"{line.id}_turn", f"{line.label}, as a turn", Q.ANGLE, of=SEEN,
                    is_detail=True)  # fmt: skip
        error = Line(f"{line.id}_error", "edges that bound it", Q.ANGLE, is_detail=True,
                     of="every edge of both maps drawn within its doubt")  # fmt: skip
        standard = found.window[number]
        ledger.fact(error, Given(0.0, Kind.COMPUTED, "jcgm-101", standard=standard))
        ledger.compute(turn, pose_window, pose="clock.pose", end=end.id, error=error.id)
        ledger.compute(line, rim_of_turn, turn=turn.id, diameter=told.rim)


def _enter_metal(ledger: Ledger, plan: Plan, told: ClockTold, found: FoundPose) -> None:
    """Enter the metal at the closest edge against what is counted, and what would save it."""
    pose = found.pose
    if pose is None:
        return
    closest = closest_edge(pose)
    port, edge = closest.port, closest.edge
    error = Line("clock.edge_error", "error of that edge", Q.DEVIATION, is_detail=True,
                 of="both maps")  # fmt: skip
    ledger.fact(error, Given(0.0, Kind.MEASURED, "the job", standard=closest.doubt))
    gone = GONE_ROOF if edge == STATION_EDGES[ROOF] else GONE
    remedy = GAUGE_IT if pose.is_harmless else gone
    judge = against_limit(-TOLERANCE, "least", remedy=remedy)
    ledger.compute(LEFT, pose_left, How(judge=judge), pose="clock.pose", error=error.id)
    ledger.amend(LEFT.id, of=f"{port}, {edge}; below nought it is gone; floors not counted")
    if pose.is_harmless:
        return
    ledger.advise(f"No turn saves every edge: most is gone at {port}, {edge}.")
    if found.would is not None and found.would.down > 0.0:
        _enter_deeper(ledger, plan, told, found.would)


def _enter_deeper(ledger: Ledger, plan: Plan, told: ClockTold, would: Pose) -> None:
    """Enter the deeper counterbore that saves a roof, and what it costs the other ports."""
    if told.target is None or told.sleeve is None:
        return
    high = high_roof(told.target, told.sleeve)
    then = high_roof(told.target, told.sleeve, down=would.down)
    ledger.fact(WOULD, Given(would.down, Kind.COMPUTED, "derived"))
    ends = "is no longer too high" if then.gone <= TOLERANCE else "is less too high"
    ledger.advise(
        f"The roof of {high.port} stands too high, which no turn changes. "
        f"{deeper_words(would.down, plan.units).capitalize()}, and it {ends}; but every other "
        f"port then lies as much lower: its roof opens later and has that much more to grind, "
        f"its floor is that much deeper. It saves no side and no corner. What it does to the "
        f"ledge and the stand-out is at Counterbore."
    )


def _enter_scribe(ledger: Ledger, told: ClockTold) -> None:
    """Enter what a mark that is set off by the limit comes to."""
    most = ledger.default("clock_off")
    ledger.fact(SCRIBE, Given(most.value, Kind.ASSUMED, most.source))
    ledger.compute(SCRIBE_TURN, turn_of_rim, CENTRALLY, rim=SCRIBE.id, diameter=told.rim)
    wall = None if told.target is None else told.target.diameter
    ledger.fact(WALL, Given(wall, Kind.MEASURED, "the job", need="wall of the port map"))
    ledger.compute(SCRIBE_WALL, rim_of_turn, CENTRALLY, turn=SCRIBE_TURN.id, diameter=WALL.id)


def known(function: Callable[..., Any], value: object) -> Callable[..., Any]:
    """A function of the core whose value was worked out before: once per map, not per look."""

    @wraps(function)
    def told(**_: object) -> object:
        """What it came to."""
        return value

    return told


def limit_turn(length: Entry | None, diameter: float | None, usual: float) -> float:
    """How far it can turn one way, from a length at the rim; the usual where it was not told."""
    if length is None or diameter is None or not math.isfinite(diameter):
        return usual
    return turn_of_rim(rim=length.value, diameter=diameter)


def clocking_words(plan: Plan, *, system: str, is_plain: bool = False) -> str:
    """The order for the clocking in ``inch`` or ``metric`` words; empty where there is none."""
    turn, rim, down = (known_in(plan, f"clock.{name}") for name in ("turn", "rim", "down"))
    if turn is None or not isinstance(turn.value, float):
        return ""
    along = rim.value if rim is not None and isinstance(rim.value, float) else None
    deep = down.value if down is not None and isinstance(down.value, float) else 0.0
    return order_words((turn.value, along, deep), system=system, is_plain=is_plain)
