"""Use case: timing and areas of the ports, from the maps that were told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.residual import Walls, on_wall
from sleevewright.jobs.catalog_maps import FLANGE_SEAT, FOUND_MAP, LEFT_MAP, SUPPLIED_MAP
from sleevewright.jobs.livingdoc import escaped
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import known_in
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.grind_told import WALLS_OF
from sleevewright.planning.port_breathing import Breathing, Passage
from sleevewright.planning.port_chamfer_timing import Chamfer
from sleevewright.planning.port_timed import TimedMap, TimedPort
from sleevewright.planning.port_timing import FOUND, NOW, WANTED, TimingTold, port_timing
from sleevewright.services.cut_told import CutTold
from sleevewright.services.decks import cut_of, is_deck_late
from sleevewright.services.kept import Kept
from sleevewright.services.port_maps import CylinderMap, map_of, target_of

NEW_DECK = "face.deck_after"
RESTS_ON = ("engine.stroke", "engine.rod", "engine.deck", NEW_DECK, "finish.bore")
KEPT = Kept(24)
"""Answers of cylinders that were looked at last: another reading leaves their ports alone."""

CLOCKED_DOWN = "clock.down"
"""Answer of the clocking: how much deeper the counterbore is to be; without it, nought."""

CUTS = ("face.cut", "face.base_cut")
BASE_GASKET, ASKED = "face.base_gasket", ("face.asked", "face.base_asked")
LEFT_TITLE, SUPPLIED_TITLE = "as left", "sleeve as supplied"
SAME_WALL = 1e-6
"""Walls that differ by less are one. [m]"""

LATE_DECK = (
    "Where the piston stands at top dead centre was told after the deck was cut, and is taken as "
    "it stood before it: tell it as it was, else every opening is wrong by the cut."
)


def found_timing(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Timing of the ports as the cylinder came; nothing where no map was told."""
    found = map_of(plan, told, FOUND_MAP)
    ports = _timed(found)
    if not ports:
        return None
    now = TimedMap(FOUND, "as found", ports, skirt=_skirt(told))
    return _kept(plan, _told(told, now, found, "found"))


def ports_timing(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Timing of the ports as they are now, against what they are to become.

    Areas of both are those on one wall, and depths count from the deck as it is now.
    """
    left, supplied = map_of(plan, told, LEFT_MAP), map_of(plan, told, SUPPLIED_MAP)
    wanted = target_of(plan, told)
    wall = _wall(plan, wanted)
    is_cut = has_new_deck(plan, told)
    up = cut_of(told) if is_cut else 0.0
    done = {port.name: _lowered(port, -up) for port in _timed(left, wall)}
    down = _deeper(plan, supplied) - up
    sides = WALLS_OF.get(told.text("sleeve.window_cut").strip(), "radial")
    brought = {port.name: _lowered(port, down) for port in _timed(supplied, wall, sides)}
    if not (done or brought):
        return None
    ports, title = _as_it_is(done, brought)
    deck = NEW_DECK if is_cut else "timing.deck"
    now = TimedMap(NOW, title, ports, deck, skirt=_skirt(told))
    made = left if done else supplied
    asked = _told(told, now, made, "left")
    asked = replace(asked, said=(*asked.said, *_said(now, (made, wall), (done, brought))))
    if wall is not None:
        asked = replace(asked, breathing=replace(asked.breathing, bore=wall))
    if wanted is not None:
        kinds = {port.name: port.kind for port in ports}
        own = tuple(port for port in _of_map(wanted, kinds) if port.name in kinds)
        asked = replace(asked, wanted=TimedMap(WANTED, "to be", own, skirt=_skirt(told)))
    return _kept(plan, replace(asked, has_new_deck=is_cut))


def _as_it_is(
    done: Mapping[str, TimedPort], brought: Mapping[str, TimedPort]
) -> tuple[tuple[TimedPort, ...], str]:
    """Every port as it was measured last, and what their map is called."""
    names = (*brought, *_more(done, brought))
    ports = tuple(done.get(name) or brought[name] for name in names)
    if len(done) in (0, len(ports)):
        return ports, LEFT_TITLE if done else SUPPLIED_TITLE
    origins = {name: LEFT_TITLE if name in done else SUPPLIED_TITLE for name in names}
    marked = tuple(replace(port, origin=origins[port.name]) for port in ports)
    return marked, f"{LEFT_TITLE}, the others as supplied"


def _said(
    now: TimedMap,
    carried: tuple[CylinderMap, float | None],
    both: tuple[Mapping[str, TimedPort], Mapping[str, TimedPort]],
) -> tuple[str, ...]:
    """What is to be known of a map that was made of two, or measured on another wall."""
    made, wall = carried
    done, brought = both
    said = []
    rest = [port.name for port in now.ports if port.name not in done]
    if done and rest:
        said.append(
            f"Not measured since: {', '.join(rest)}. Timed as the sleeve was supplied, here and "
            "in every sum."
        )
    bare = [port.name for port in now.ports if port.name in done and port.points is None]
    if bare:
        said.append(
            f"Of {', '.join(bare)} the roof alone was told as left: no area of it, and none of "
            "it in the sums, until floor and width are told too."
        )
    own = None if made.read.map is None else made.read.map.diameter
    if brought and wall is not None and own is not None and abs(own - wall) > SAME_WALL:
        said.append(
            "Areas now are those in the finished bore, the windows carried there from the wall "
            "that they were measured on."
        )
    return tuple(said)


def has_new_deck(plan: Plan, told: CutTold) -> bool:
    """Whether deck or base were changed, so that the piston stands otherwise below the deck.

    Before a cut that is only asked Face answers what it would do: then nothing is new yet.
    """
    if known_in(plan, NEW_DECK) is None:
        return False
    if any(told.text(cell) for cell in CUTS):
        return True
    return bool(told.text(BASE_GASKET)) and not any(told.text(cell) for cell in ASKED)


def _wall(plan: Plan, wanted: PortMap | None) -> float | None:
    """The wall that areas are compared on: that of the wanted map, else the finished bore."""
    if wanted is not None:
        return wanted.diameter
    known = known_in(plan, "finish.bore")
    return known.value if known is not None and isinstance(known.value, float) else None


def _kept(plan: Plan, asked: TimingTold) -> StageAnswers:
    """The answers of a stage, reckoned anew only where something that they rest on changed."""
    basis = (
        (plan.seed, plan.chosen, plan.units),
        *(_known(plan, name) for name in RESTS_ON),
        *(_of_ports(one) for one in (asked.now, asked.wanted) if one is not None),
        (asked.pin_offset, asked.breathing.speed, asked.breathing.clearance, asked.breathing.bore),
        tuple(asked.breathing.passages.items()),
        tuple(asked.chamfers.items()),
        (asked.needs, asked.refused, asked.has_new_deck, asked.said),
    )
    return KEPT.get(basis, basis, lambda: port_timing(plan, asked))


def _known(plan: Plan, name: str) -> tuple[object, ...]:
    """What an answer of the plan enters with."""
    known = known_in(plan, name)
    if known is None or not isinstance(known.value, float):
        return (name,)
    doubt = None if known.doubt is None else known.doubt
    return (name, known.value, known.kind, known.source, known.typed, doubt)


def _of_ports(one: TimedMap) -> tuple[object, ...]:
    """Everything of a map, so that two can be held against each other."""
    ports = tuple(
        (p.name, p.kind, p.roof, p.standard, p.side, p.origin,
         None if p.points is None else p.points.tobytes())
        for p in one.ports
    )  # fmt: skip
    return (one.key, one.title, one.deck, one.skirt, ports)


def _more(done: Mapping[str, TimedPort], brought: Mapping[str, TimedPort]) -> tuple[str, ...]:
    """Ports that were left and never supplied: cut here."""
    return tuple(name for name in done if name not in brought)


def _told(told: CutTold, now: TimedMap, made: CylinderMap, key: str) -> TimingTold:
    """What stands beside the map: pin, speed, passages, chamfers, needs."""
    names = [port.name for port in now.ports]
    drawn = made.read.map
    return TimingTold(
        now,
        pin_offset=told.length("found.pin_offset"),
        breathing=Breathing(
            told.number("found.speed"),
            _volume(told, "found.volume"),
            0.0 if drawn is None else drawn.diameter,
            {name: way for name in names if (way := _passage(told, name)) is not None},
        ),
        chamfers={name: one for name in names if (one := _chamfer(told, name, key)) is not None},
        needs=made.read.needs,
        refused=made.read.refused,
        said=(LATE_DECK,) if is_deck_late(told) else (),
    )


def _timed(
    made: CylinderMap, wall: float | None = None, sides: Walls = "radial"
) -> tuple[TimedPort, ...]:
    """The ports of a map, on a wall: drawn where they can be, else by their roofs alone."""
    kinds = {port.name: port.kind for port in made.told.ports}
    drawn = () if made.read.map is None else _of_map(made.read.map, kinds, wall, sides)
    known = {port.name: port for port in drawn}
    refused = {name for name, _ in made.read.refused}
    spread = _spread(made)
    by_roof = {
        port.name: TimedPort(port.name, port.kind, port.roof.value, spread)
        for port in made.told.ports
        if port.name not in known
        and port.name not in refused
        and port.roof is not None
        and made.told.key != SUPPLIED_MAP  # its depths count from its own datum
    }
    order = [port.name for port in made.told.ports]
    both = {**by_roof, **known}
    return tuple(both[name] for name in order if name in both)


def _spread(made: CylinderMap) -> float:
    """Standard uncertainty of a roof that is told alone."""
    told = made.told.roof_doubt
    return 1e-4 / STATED_COVERAGE_FACTOR if told is None else told.value / STATED_COVERAGE_FACTOR


def _of_map(
    drawn: PortMap,
    kinds: Mapping[str, str],
    wall: float | None = None,
    sides: Walls = "radial",
) -> tuple[TimedPort, ...]:
    """Ports of a map along its own wall, or carried to another."""
    on = drawn.diameter if wall is None else wall
    return tuple(
        TimedPort(
            port.name,
            kinds.get(port.name, "transfer"),
            port.roof,
            port.doubt.roof,
            on_wall(port, drawn.diameter, on, near=port.middle, walls=sides),
            port.doubt.side,
        )
        for port in drawn.ports
    )


def _deeper(plan: Plan, supplied: CylinderMap) -> float:
    """How much deeper than it is told the clocking wants the sleeve to sit; mostly nought."""
    known = known_in(plan, CLOCKED_DOWN)
    if known is None or not isinstance(known.value, float):
        return 0.0
    return 0.0 if supplied.told.datum == FLANGE_SEAT else known.value


def _lowered(port: TimedPort, down: float) -> TimedPort:
    """The port of a sleeve that sits deeper."""
    if not down:
        return port
    points = None if port.points is None else port.points + np.array([0.0, down])
    return replace(port, roof=port.roof + down, points=points)


def _skirt(told: CutTold) -> float | None:
    """Length of the piston at the inlet."""
    entry = told.length("found.skirt")
    return None if entry is None else entry.value


def _volume(told: CutTold, cell: str) -> Entry | None:
    """A volume that was told; nothing where there is none."""
    value = told.number(cell)
    return None if value is None else Entry(value, told.text(cell), "measured")


def _passage(told: CutTold, name: str) -> Passage | None:
    """The passage behind a port, where anything of it was told."""
    own = f"port/{escaped(name)}/found."
    made = Passage(*(told.number(own + what) for what in ("plan_angle", "rise", "throat")))
    return None if made == Passage() else made


def _chamfer(told: CutTold, name: str, key: str) -> Chamfer | None:
    """The chamfer of a port's roof, where anything of it was told."""
    own = f"port/{escaped(name)}/{key}.chamfer"
    made = Chamfer(
        told.length(f"{own}_height"), told.length(f"{own}_width"), told.number(f"{own}_angle")
    )
    return None if made == Chamfer() else made
