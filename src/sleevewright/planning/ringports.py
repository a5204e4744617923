"""Ring pegs and ports: whether a ring end runs over a window, and which wall is clear.

Angles are about the axis from the datum of the port map, one way all round, as the ports were
told; a window's width is its chord.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from sleevewright.core.engine.ring_ends import (
    clear_lands,
    ring_end_room,
    window_half_angle,
    window_share,
)
from sleevewright.planning.answers import Kind, Plan, Quantity, Verdict
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, assumed, enter_default
from sleevewright.planning.gauges import slug
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.units import Dimension, to_unit

Q = Quantity
ANGLES, CHORDS = "round_angle", "caliper_inside_setting"
"""What an angle round the bore and a chord are honestly worth, by the names of the defaults."""

WIDEST_CHORD = 0.98  # of the bore; wider is an arc, or another bore
NEVER = (
    "A ring end that runs over a window springs into it and breaks. The peg keeps it on plain "
    "wall all the way, and a ring is never turned to suit a port."
)
BRIDGE = (
    "Width as one window: a bridge makes two of it, and each is then held against the same "
    "limits. Relieve the bridge: it runs hot and swells inwards."
)


@dataclass(frozen=True)
class Window:
    """One port as far as its width and its place round the bore were told."""

    name: str
    chord: float | None = None
    angle: float | None = None


@dataclass(frozen=True)
class Placed:
    """One window round the bore: its middle and half of its angle, in rad."""

    name: str
    middle: float
    half: float


@dataclass(frozen=True)
class Pegged:
    """Pegs by their number, windows, and the widest gap of a ring."""

    pegs: tuple[tuple[str, float], ...] = ()
    windows: tuple[Window, ...] = ()
    gap: float = 0.0


def enter_pegs(ledger: Ledger, plan: Plan, told: Pegged, bore: str) -> None:
    """Enter widths against their limit, each peg against the windows, and the clear walls."""
    size = ledger.value(bore)
    if size is None or not told.windows:
        return
    for window in told.windows:
        _enter_width(ledger, window, bore)
    placed = tuple(
        one for one in told.windows if one.angle is not None and _is_chord(one.chord, size)
    )
    for peg in told.pegs:
        _enter_peg(ledger, peg, placed, told.gap, bore)
    lacking = ", ".join(one.name for one in told.windows if one not in placed)
    if lacking:
        _say_lacks(ledger, told, lacking)
    if placed:
        _enter_lands(ledger, plan, placed, size)
        if lacking:
            ledger.amend("rings.clear", of=f"as far as told: without {lacking}")
    if told.pegs or placed:
        ledger.advise(NEVER)


def _is_chord(chord: float | None, bore: float) -> bool:
    """Whether a width can be a chord of this bore, with room for what is not known of either."""
    return chord is not None and 0.0 < chord < WIDEST_CHORD * bore


def _enter_width(ledger: Ledger, window: Window, bore: str) -> None:
    """Enter the width of one window by the bore, against the most."""
    if window.chord is None or not _is_chord(window.chord, float(ledger.value(bore))):
        return
    key = f"rings.window.{slug(window.name)}"
    chord = Line(f"{key}.chord", f"{window.name}, width", Q.SIZE, "chord", is_detail=True)
    ledger.fact(chord, _measured(ledger, window.chord, CHORDS))
    most, start = ledger.default("window_most").value, ledger.default("window_start").value
    judge = against_limit(most, "most", remedy="a ring bows into it: a bridge, or a narrower port")
    line = Line(f"{key}.share", f"{window.name}, width by the bore", Q.RATIO, "chord")
    ledger.compute(line, window_share, How(judge=judge), chord=chord.id, bore=bore)
    if ledger.value(line.id) > start:
        ledger.advise(BRIDGE)


def _enter_peg(
    ledger: Ledger, peg: tuple[str, float], placed: tuple[Window, ...], gap: float, bore: str
) -> None:
    """Enter one peg, and the wall between its ring ends and the nearest window."""
    number, angle = peg
    key = f"rings.peg.{number}"
    at = Line(f"{key}.angle", f"Peg {number} at", Q.ANGLE, of="from the datum of the port map")
    ledger.fact(at, _measured(ledger, angle, ANGLES))
    if not placed:
        return
    size = float(ledger.value(bore))
    nearest = min(placed, key=lambda one: _room(one, angle, gap, size))
    for name, words, quantity, value, doubt in (
        ("window", f"{nearest.name} at", Q.ANGLE, nearest.angle, ANGLES),
        ("chord", f"{nearest.name}, width", Q.SIZE, nearest.chord, CHORDS),
        ("gap", "widest end gap", Q.DEVIATION, gap or None, "gap_feeler"),
    ):
        line = Line(f"{key}.{name}", words, quantity, is_detail=True)
        bare = assumed(0.0, source="practice", note="no gap was told: one of nothing")
        ledger.fact(line, bare if value is None else _measured(ledger, value, doubt))
    least = ledger.default("ring_end_room").value
    remedy = "never fit it so: the ring end snags; another peg, or turn the sleeve if it may be"
    ledger.compute(
        Line(
            f"{key}.room",
            f"Peg {number}: wall to the edge of {nearest.name}",
            Q.SIZE,
            "along the wall",
            of="from the nearer ring end; below nought it runs over the port",
        ),
        ring_end_room,
        How(judge=against_limit(least, "least", remedy=remedy)),
        peg=at.id,
        window=f"{key}.window",
        chord=f"{key}.chord",
        bore=bore,
        gap=f"{key}.gap",
    )


def _measured(ledger: Ledger, value: float, doubt: str) -> Given:
    """A figure of the job with what such a reading is honestly worth."""
    standard = ledger.default(doubt).value / STATED_COVERAGE_FACTOR
    return Given(value, Kind.MEASURED, "the job", standard=standard)


def _size(length: float, system: str) -> str:
    """A length along the wall with its unit, rounded down as far as it is worth."""
    unit, places = ("in", 2) if system == "inch" else ("mm", 0)
    told = to_unit(length, unit, dimension=Dimension.LENGTH)
    return f"{math.floor(told * 10**places) / 10**places:.{places}f} {unit}"


def _room(window: Window, angle: float, gap: float, bore: float) -> float:
    """Wall between a peg's ring end and one window."""
    told = {"window": window.angle or 0.0, "chord": window.chord or 0.0}
    return float(ring_end_room(peg=angle, bore=bore, gap=gap, **told))


def _say_lacks(ledger: Ledger, told: Pegged, lacking: str) -> None:
    """Say which ports could not be counted; no peg is called good without them."""
    line = Line("rings.not_placed", "Ports not counted for the pegs", Q.TEXT)
    ledger.fact(line, Given(lacking, Kind.COMPUTED, source="the job"))
    ledger.advise(
        f"Not counted for the pegs: {lacking}. Tell width and middle round the bore at As found."
    )
    for number, _ in told.pegs:
        name = f"rings.peg.{number}.room"
        judged = ledger.entry(name).answer.judgement if ledger.has(name) else None
        if judged is not None and judged.verdict is Verdict.GOOD:
            remedy = f"it is not known where these lie: {lacking}"
            open_ = replace(judged, verdict=Verdict.TOO_CLOSE, remedy=remedy, chance_out=None)
            ledger.amend(name, judgement=open_)


def _enter_lands(ledger: Ledger, plan: Plan, placed: tuple[Window, ...], bore: float) -> None:
    """Enter the walls that are clear for a peg, widest first."""
    angles = [float(one.angle or 0.0) for one in placed]
    chords = [float(one.chord or 0.0) for one in placed]
    room = ledger.default("ring_end_room").value
    enter_default(
        ledger,
        Line("rings.end_room", "Wall that a ring end wants", Q.SIZE, "along the wall",
             is_detail=True),
        None,
        "ring_end_room",
    )  # fmt: skip
    clear = [
        f"{math.degrees(land.middle):.0f}° ({_size(land.width * bore / 2.0, plan.units)} wide)"
        for land in clear_lands(angles, chords, bore=bore)
        if land.width * bore / 2.0 > 2.0 * room
    ]
    line = Line(
        "rings.clear", "Wall clear for a peg, middle and width", Q.TEXT,
        of="between the ports that were told, widest first; along the wall",
    )  # fmt: skip
    seen = tuple(
        Placed(one.name, angle, float(window_half_angle(chord=chord, bore=bore)))
        for one, angle, chord in zip(placed, angles, chords, strict=True)
    )
    shape = Line("rings.around", "ports round the bore", Q.RECORD, is_detail=True)
    ledger.fact(shape, Given(seen, Kind.COMPUTED, source="the job"))
    words = ", ".join(clear[:4]) or "none wide enough"
    ledger.fact(line, Given(words, Kind.COMPUTED, source="derived"))
