"""What the areas are worth at a speed and by a volume, and what the passages let through.

The volume is named beside every figure: they differ by a factor of two and more.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from sleevewright.core.engine.volumes import swept_volume
from sleevewright.core.ports.breathing import (
    AT_OPENING,
    SWEPT,
    TRAPPED,
    effective_area,
    least_area,
    volume_at_opening,
)
from sleevewright.core.ports.curves import mid_angle_area
from sleevewright.core.ports.exposed import specific_time_area
from sleevewright.core.ports.mapped import arc_to_chord
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import known_in
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.port_timed import (
    STROKE,
    MapCurves,
    TimedMap,
    TimedPort,
    first_open,
    sum_id,
)

Q = Quantity
TURN = 2.0 * math.pi


@dataclass(frozen=True)
class Passage:
    """The way behind a port: lean in plan, angle to the deck [rad], narrowest area [m^2]."""

    plan_angle: float | None = None
    rise: float | None = None
    throat: float | None = None


@dataclass(frozen=True)
class Breathing:
    """What areas are compared with.

    Attributes
    ----------
    speed : float | None
        Turns of the crank by the second. [1/s]
    clearance : Entry | None
        Volume above the piston at top dead centre. [m^3]
    bore : float
        Diameter of the wall that the areas lie on. [m]
    passages : Mapping[str, Passage]
        Passages, port by port. [record]
    """

    speed: float | None = None
    clearance: Entry | None = None
    bore: float = 0.0
    passages: Mapping[str, Passage] = field(default_factory=dict)


def enter_breathing(
    ledger: Ledger, plan: Plan, one: TimedMap, made: MapCurves | None, told: Breathing
) -> None:
    """Enter specific time-areas at the speed that was told, and areas square to the flow."""
    if made is None:
        return
    if told.speed is not None:
        _enter_speed(ledger, plan, one, told)
        _enter_specific(ledger, one)
        _enter_by_hand(ledger, one, made)
    for port in one.ports:
        passage = told.passages.get(port.name)
        if passage is not None and port.is_of_crown and port.name in made.areas:
            opened = _open_at_bottom(made, port, told.bore)
            if opened is not None:
                _enter_passage(ledger, one, port, passage, opened)


def _enter_speed(ledger: Ledger, plan: Plan, one: TimedMap, told: Breathing) -> None:
    """Enter the speed and the volumes that time-areas are made with."""
    ledger.fact(Line("timing.speed", "Speed that areas are reckoned at", Q.TURNING, is_detail=True),
                Given((told.speed or 0.0), Kind.TYPED, "the job"))  # fmt: skip
    ledger.fact(Line("timing.pace", "The same in radians by the second", Q.RATIO, is_detail=True),
                Given(TURN * (told.speed or 0.0), Kind.COMPUTED, "derived"))  # fmt: skip
    bore = known_in(plan, "finish.bore")
    value = bore.value if bore is not None and isinstance(bore.value, float) else told.bore
    ledger.fact(Line("timing.bore", "Bore", Q.SIZE, "diametral", is_detail=True),
                Given(value or None, Kind.COMPUTED, "the plan", need="bore"))  # fmt: skip
    ledger.compute(Line("timing.swept", "Swept volume of one cylinder", Q.VOLUME, is_detail=True),
                   swept_volume, bore="timing.bore", stroke=STROKE)  # fmt: skip
    exhaust = first_open(ledger, one, is_exhaust=True)
    if exhaust is None:
        return
    for identity, label, clearance in (
        ("timing.trapped", "Volume swept above the exhaust's roof", 0.0),
        ("timing.at_opening", "All that is above the piston when the exhaust opens",
         None if told.clearance is None else told.clearance.value),
    ):  # fmt: skip
        ledger.fact(Line(f"{identity}_clearance", "volume above the piston", Q.VOLUME,
                         is_detail=True),
                    Given(clearance, Kind.MEASURED, "the job",
                          need="compression volume at top dead centre"))  # fmt: skip
        ledger.compute(
            Line(identity, label, Q.VOLUME, is_detail=True),
            volume_at_opening,
            clearance_volume=f"{identity}_clearance",
            bore="timing.bore",
            roof_depth=one.entry(exhaust.name, "roof"),
            deck_clearance=one.deck,
        )


def _enter_specific(ledger: Ledger, one: TimedMap) -> None:
    """Enter the specific time-areas, each with its volume in words."""
    blown = f"timing.{one.key}.blowdown_area"
    rows = [
        ("exhausts.sta", "Exhaust, specific time-area", sum_id(ledger, one, "exhausts"),
         "timing.swept", SWEPT),
        ("transfers.sta", "All transfers, specific time-area", sum_id(ledger, one, "transfers"),
         "timing.swept", SWEPT),
        ("blowdown_sta", "Blowdown, specific time-area", blown, "timing.swept", SWEPT),
        ("exhausts.sta_trapped", "Exhaust, specific time-area by another volume",
         sum_id(ledger, one, "exhausts"), "timing.trapped", TRAPPED),
        ("blowdown_sta_opening", "Blowdown, specific time-area by another volume", blown,
         "timing.at_opening", AT_OPENING),
    ]  # fmt: skip
    for what, label, area, volume, words in rows:
        if area and ledger.has(area) and ledger.has(volume):
            ledger.compute(
                Line(f"timing.{one.key}.{what}", label, Q.TIME_AREA, of=f"volume: {words}"),
                specific_time_area,
                CENTRALLY,
                angle_area=area,
                speed="timing.pace",
                volume=volume,
            )


def _enter_by_hand(ledger: Ledger, one: TimedMap, made: MapCurves) -> None:
    """Enter the exhaust by the tuner's own convention, beside the integral of the same port."""
    exhaust = first_open(ledger, one, is_exhaust=True)
    if exhaust is None or exhaust.name not in made.areas:
        return
    opens = float(ledger.value(one.entry(exhaust.name, "opens")))
    closes = TURN - opens - float(ledger.value(one.entry(exhaust.name, "lasts")))
    by_hand = mid_angle_area(made.areas[exhaust.name], crank=made.crank, opens=opens, closes=closes)
    ledger.fact(
        Line(f"timing.{one.key}.by_hand", f"{exhaust.name.capitalize()}, middle area times time",
             Q.RATIO,
             of="times its integral: a range that was reckoned with the area at the middle angle "
                "is divided by this before an integral is held against it"),
        Given(by_hand / made.angle_area(exhaust.name), Kind.COMPUTED, "from-memory"),
    )  # fmt: skip


def _open_at_bottom(made: MapCurves, port: TimedPort, bore: float) -> tuple[float, float] | None:
    """Mean chord and height that are open at bottom dead centre, in m; nothing where none is."""
    area = made.areas[port.name]
    lowest = made.crank.deck_clearance + made.crank.stroke
    height = max(0.0, min(float(area.levels[-1]), lowest) - float(area.levels[0]))
    if not height or bore <= 0.0:
        return None
    arc = float(np.interp(lowest, area.levels, area.areas)) / height
    return arc_to_chord(arc=arc, bore=bore), height


def _enter_passage(
    ledger: Ledger,
    one: TimedMap,
    port: TimedPort,
    passage: Passage,
    opened: tuple[float, float],
) -> None:
    """Enter what one port shows to its flow at bottom dead centre, by window and by throat."""
    chord, height = opened
    title = port.name.capitalize()
    for what, label, quantity, value in (
        ("chord", "mean chord", Q.SIZE, chord),
        ("height", "height that opens", Q.SIZE, height),
        ("plan", "passage in plan", Q.ANGLE, passage.plan_angle or 0.0),
        ("rise", "passage to the deck", Q.ANGLE, passage.rise or 0.0),
    ):
        line = Line(one.entry(port.name, what), f"{title}, {label}", quantity, is_detail=True)
        ledger.fact(line, Given(value, Kind.COMPUTED, "the map"))
    square = Line(one.entry(port.name, "effective"), f"{title}, open square to its flow", Q.AREA,
                  of="at bottom dead centre: chord by height by both leans; no coefficient in it",
                  is_detail=passage.throat is not None)  # fmt: skip
    ledger.compute(square, effective_area, CENTRALLY,
                   **{name: one.entry(port.name, what) for name, what in (
                       ("chord", "chord"), ("open_height", "height"),
                       ("plan_angle", "plan"), ("elevation", "rise"))})  # fmt: skip
    if passage.throat is None:
        return
    throat = Line(one.entry(port.name, "throat"), f"{title}, throat", Q.AREA, is_detail=True)
    ledger.fact(throat, Given(passage.throat, Kind.MEASURED, "the job"))
    least = Line(one.entry(port.name, "lets_through"), f"{title} lets through", Q.AREA,
                 of="at bottom dead centre: its window square to the flow, or the throat where "
                    "that is less; no coefficient in it")  # fmt: skip
    ledger.compute(least, least_area, CENTRALLY, effective=square.id, throat=throat.id)
