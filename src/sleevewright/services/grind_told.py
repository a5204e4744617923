"""Use case: what was told of the maps and of the ports since, handed to the grind list."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from sleevewright.core.engine.crank import chord_to_arc
from sleevewright.core.ports.mapped import EdgeDoubt, MappedPort, PortMap
from sleevewright.jobs.catalog_maps import (
    BY_CHORD,
    CAST_MAP,
    CLOCKWISE,
    FOUND_MAP,
    LEFT_MAP,
    SUPPLIED_MAP,
)
from sleevewright.jobs.model import Entry
from sleevewright.jobs.portmaps import ToldPort
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import ledger_of
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.grind_list import crank_of, grind_list, rules_of
from sleevewright.planning.grind_map import Crank, Rules, grind_map
from sleevewright.planning.grind_told import (
    WALLS_OF,
    GrindMap,
    GrindTold,
    LeftPort,
    PoseTold,
)
from sleevewright.services.clock_told import pose_of, stop_told, walls_told
from sleevewright.services.cut_told import CutTold
from sleevewright.services.port_maps import CylinderMap, map_of, target_of


def grind_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The grind list; nothing where nothing was told of a sleeve's ports."""
    supplied = map_of(plan, told, SUPPLIED_MAP)
    if not supplied.told.ports:
        return None
    known = grind_told(plan, told, supplied)
    found = _kept(_Known(known, rules_of(ledger_of(plan)), crank_of(plan)))
    return grind_list(plan, known, found)


def grind_told(plan: Plan, told: CutTold, supplied: CylinderMap) -> GrindTold:
    """Everything that the list reads."""
    target = target_of(plan, told)
    left, found = map_of(plan, told, LEFT_MAP), map_of(plan, told, FOUND_MAP)
    cut = told.length("face.cut")
    deck_cut = 0.0 if cut is None else cut.value
    said = told.text("sleeve.window_cut").strip()
    ledger = ledger_of(plan)
    roof, side = ledger.default("port_height").value, ledger.default("port_side").value
    roof = roof if left.told.roof_doubt is None else left.told.roof_doubt.value
    side = side if left.told.side_doubt is None else left.told.side_doubt.value
    half = STATED_COVERAGE_FACTOR
    return GrindTold(
        target=target,
        supplied=supplied.read.map,
        found=found.read.map,
        cast=map_of(plan, told, CAST_MAP).read.map,
        pose=pose_told(plan, told),
        left={port.name: _left(port, left, target, deck_cut) for port in left.told.ports},
        left_doubt=EdgeDoubt(roof / half, side / half, roof / half),
        walls=walls_told(told),
        is_cut_told=said in WALLS_OF,
        needs=(*_needs(supplied, found), *_too_wide(left, target)),
        deck_cut=deck_cut,
        kinds={port.name: port.kind for port in supplied.told.ports},
        stopped=stop_told(target, supplied.read.map),
    )


def pose_told(plan: Plan, told: CutTold) -> PoseTold:
    """How the sleeve lies: as its marks were found after the drop, before it as planned."""
    ledger = ledger_of(plan)
    side = ledger.default("pose_side").value / STATED_COVERAGE_FACTOR
    deep = ledger.default("depth_micrometer_setting").value / STATED_COVERAGE_FACTOR
    pose = pose_of(plan, told)
    if pose is None:
        return PoseTold(0.0, 0.0, side, deep)
    deeper = told.length("ready.deeper")
    words = "as its marks were found after the drop" if pose.is_set else "by its mark, as planned"
    return PoseTold(
        pose.turn,
        pose.down,
        side,
        deep,
        words,
        pose.is_set,
        0.0 if deeper is None else deeper.value,
    )


def _left(port: ToldPort, left: CylinderMap, target: PortMap | None, deck_cut: float) -> LeftPort:
    """What was measured of one port since, its depths from the deck of the maps."""
    drawn = None if left.read.map is None else left.read.map.port(port.name)
    if drawn is not None and (port.outline or port.angle is not None):
        return LeftPort(whole=_lowered(drawn, deck_cut))
    return LeftPort(
        roof=_deep(port.roof, deck_cut),
        floor=_deep(port.floor, deck_cut),
        width=_along(port.width, left, target),
        middle=_angle(port, left),
    )


def _lowered(port: MappedPort, deck_cut: float) -> MappedPort:
    """A port that was measured from the new deck, from the old one."""
    return replace(port, points=port.points + np.array([0.0, deck_cut]), shape=None)


def _deep(entry: Entry | None, deck_cut: float) -> float | None:
    """A depth from the new deck, from the old one."""
    return None if entry is None else entry.value + deck_cut


def _angle(port: ToldPort, left: CylinderMap) -> float | None:
    """Where the middle lies, clockwise seen from the deck."""
    if port.angle is None:
        return None
    return port.angle.value if left.told.round == CLOCKWISE else -port.angle.value


def _along(entry: Entry | None, left: CylinderMap, target: PortMap | None) -> float | None:
    """A width along the wall, by chord or by arc as the map says; nothing that cannot be."""
    if entry is None or target is None:
        return None
    if left.told.widths != BY_CHORD:
        return entry.value
    on = _wall(left, target)
    if not 0.0 < entry.value <= on:
        return None
    return float(chord_to_arc(chord=entry.value, bore=on)) * target.diameter / on


def _wall(left: CylinderMap, target: PortMap) -> float:
    """Diameter of the wall on which the ports were measured since."""
    return target.diameter if left.told.on is None else left.told.on.value


def _too_wide(left: CylinderMap, target: PortMap | None) -> tuple[str, ...]:
    """Ports of which a chord was told that is wider than the bore."""
    if target is None:
        return ()
    return tuple(
        f"{port.name}: its width as left is a chord wider than the bore, or none"
        for port in left.told.ports
        if port.width is not None and _along(port.width, left, target) is None
    )


def _needs(*maps: CylinderMap) -> tuple[str, ...]:
    """Ports of the maps that cannot be drawn, in words."""
    said: list[str] = []
    for one in maps:
        said += [*one.read.needs, *(f"{name}: {why}" for name, why in one.read.refused)]
    return tuple(dict.fromkeys(said))


@dataclass(frozen=True, eq=False)
class _Known:
    """What a list is made of, alike where everything in it is alike."""

    told: GrindTold
    rules: Rules
    crank: Crank | None

    def _same(self) -> tuple[object, ...]:
        """What makes two of them alike."""
        told = self.told
        maps = tuple(
            None if one is None else (one.diameter, one.is_placed, *map(_port_same, one.ports))
            for one in (told.target, told.supplied, told.found)
        )
        left = tuple(
            (name, one.roof, one.floor, one.width, one.middle,
             None if one.whole is None else _port_same(one.whole))
            for name, one in told.left.items()
        )  # fmt: skip
        more = (told.pose, told.left_doubt, told.walls, told.deck_cut)
        return (maps, left, more, self.rules, self.crank)

    def __eq__(self, other: object) -> bool:
        """Whether both would come to the same list."""
        return isinstance(other, _Known) and self._same() == other._same()

    def __hash__(self) -> int:
        """By everything that makes them alike."""
        return hash(self._same())


def _port_same(port: MappedPort) -> tuple[object, ...]:
    """What makes two windows alike."""
    return (port.name, port.points.tobytes(), port.doubt)


@lru_cache(maxsize=64)
def _kept(known: _Known) -> GrindMap | None:
    """The list of three maps, worked out once."""
    return grind_map(known.told, known.rules, known.crank)
