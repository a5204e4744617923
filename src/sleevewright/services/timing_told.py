"""Use case: timing and areas of the ports, from the maps that were told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from sleevewright.core.ports.mapped import PortMap
from sleevewright.jobs.catalog_maps import FLANGE_SEAT, FOUND_MAP, LEFT_MAP, SUPPLIED_MAP
from sleevewright.jobs.livingdoc import escaped
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import known_in
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.port_breathing import Breathing, Passage
from sleevewright.planning.port_chamfer_timing import Chamfer
from sleevewright.planning.port_timed import TimedMap, TimedPort
from sleevewright.planning.port_timing import FOUND, NOW, WANTED, TimingTold, port_timing
from sleevewright.services.cut_told import CutTold
from sleevewright.services.kept import Kept
from sleevewright.services.port_maps import CylinderMap, map_of, target_of

NEW_DECK = "face.deck_after"
RESTS_ON = ("engine.stroke", "engine.rod", "engine.deck", NEW_DECK, "finish.bore")
KEPT = Kept(24)
"""Answers of cylinders that were looked at last: another reading leaves their ports alone."""

CLOCKED_DOWN = "clock.down"
"""Answer of the clocking: how much deeper the counterbore is to be; without it, nought."""

CUTS = ("face.cut", "face.base_cut", "face.base_gasket")


def found_timing(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Timing of the ports as the cylinder came; nothing where no map was told."""
    found = map_of(plan, told, FOUND_MAP)
    ports = _timed(found)
    if not ports:
        return None
    now = TimedMap(FOUND, "as found", ports, skirt=_skirt(told))
    return _kept(plan, _told(told, now, found, "found"))


def ports_timing(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Timing of the ports as they are now, against what they are to become."""
    left, supplied = map_of(plan, told, LEFT_MAP), map_of(plan, told, SUPPLIED_MAP)
    wanted = target_of(plan, told)
    done = {port.name: port for port in _timed(left)}
    down = _deeper(plan, supplied)
    brought = {port.name: _lowered(port, down) for port in _timed(supplied)}
    if not (done or brought):
        return None
    ports = tuple(done.get(name) or brought[name] for name in (*brought, *_more(done, brought)))
    title = "as left" if done else "sleeve as supplied"
    is_cut = any(told.text(cell) for cell in CUTS) and known_in(plan, NEW_DECK) is not None
    deck = NEW_DECK if is_cut else "timing.deck"
    now = TimedMap(NOW, title, ports, deck, skirt=_skirt(told))
    asked = _told(told, now, left if done else supplied, "left")
    if wanted is not None:
        kinds = {port.name: port.kind for port in ports}
        own = tuple(port for port in _of_map(wanted, kinds) if port.name in kinds)
        asked = replace(asked, wanted=TimedMap(WANTED, "to be", own, skirt=_skirt(told)))
    return _kept(plan, replace(asked, has_new_deck=is_cut))


def _kept(plan: Plan, asked: TimingTold) -> StageAnswers:
    """The answers of a stage, reckoned anew only where something that they rest on changed."""
    basis = (
        (plan.seed, plan.chosen, plan.units),
        *(_known(plan, name) for name in RESTS_ON),
        *(_of_ports(one) for one in (asked.now, asked.wanted) if one is not None),
        (asked.pin_offset, asked.breathing.speed, asked.breathing.clearance, asked.breathing.bore),
        tuple(asked.breathing.passages.items()),
        tuple(asked.chamfers.items()),
        (asked.needs, asked.refused, asked.has_new_deck),
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
        (p.name, p.kind, p.roof, p.standard, p.side,
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
    )


def _timed(made: CylinderMap) -> tuple[TimedPort, ...]:
    """The ports of a map: drawn where they can be, else by their roofs alone."""
    kinds = {port.name: port.kind for port in made.told.ports}
    drawn = () if made.read.map is None else _of_map(made.read.map, kinds)
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


def _of_map(drawn: PortMap, kinds: Mapping[str, str]) -> tuple[TimedPort, ...]:
    """Ports of a map along its wall."""
    return tuple(
        TimedPort(
            port.name,
            kinds.get(port.name, "transfer"),
            port.roof,
            port.doubt.roof,
            port.along(drawn.diameter),
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
