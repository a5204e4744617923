"""Use case: what was told of the maps and of the ports since, handed to the grind list."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from sleevewright.core.engine.crank import chord_to_arc
from sleevewright.core.ports.clocking import PoseLimits, Turns
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
from sleevewright.services.clock_told import (
    limits_of,
    pose_of,
    stop_told,
    unposed_words,
    walls_told,
)
from sleevewright.services.cut_told import CutTold
from sleevewright.services.decks import cut_of
from sleevewright.services.port_corners import corners_taken
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
    cast = map_of(plan, told, CAST_MAP)
    said = told.text("sleeve.window_cut").strip()
    ledger = ledger_of(plan)
    roof, side = ledger.default("port_height").value, ledger.default("port_side").value
    roof = roof if left.told.roof_doubt is None else left.told.roof_doubt.value
    side = side if left.told.side_doubt is None else left.told.side_doubt.value
    half, skirt = STATED_COVERAGE_FACTOR, told.length("found.skirt")
    return GrindTold(
        target=target,
        supplied=supplied.read.map,
        found=found.read.map,
        cast=cast.read.map,
        cast_told=tuple(port.name for port in cast.told.ports),
        cast_needs=_needs(cast),
        pose=pose_told(plan, told),
        left={port.name: _left(port, left, target) for port in left.told.ports},
        left_doubt=EdgeDoubt(roof / half, side / half, roof / half),
        walls=walls_told(told),
        is_cut_told=said in WALLS_OF,
        needs=(*_needs(supplied, found), *_too_wide(left, target)),
        deck_cut=cut_of(told),
        taken=corners_taken(told, left.told),
        skirt=None if skirt is None else skirt.value,
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
        return PoseTold(0.0, 0.0, side, deep, lacking=unposed_words(plan, told))
    limits = limits_of(plan, told)
    words = "as its marks were found after the drop" if pose.is_set else "by its mark, as planned"
    return PoseTold(
        pose.turn,
        pose.down,
        side,
        deep,
        words,
        pose.is_set,
        0.0 if limits is None else max(0.0, limits.deeper - pose.down),
        _turns_from(pose.turn, limits),
    )


def _turns_from(turn: float, limits: PoseLimits | None) -> Turns:
    """Turns from where it lies that its limits leave: none where they leave none at all."""
    if limits is None:
        return ()
    return tuple((low - turn, high - turn) for low, high in limits.turns)


def _left(port: ToldPort, left: CylinderMap, target: PortMap | None) -> LeftPort:
    """What was measured of one port since, its depths from the deck of the maps."""
    drawn = None if left.read.map is None else left.read.map.port(port.name)
    if drawn is not None and (port.outline or port.angle is not None):
        return LeftPort(whole=replace(drawn, shape=None))
    return LeftPort(
        roof=None if port.roof is None else port.roof.value,
        floor=None if port.floor is None else port.floor.value,
        width=_along(port.width, left, target),
        bottom=_along(port.bottom, left, target),
        middle=_angle(port, left),
    )


def _angle(port: ToldPort, left: CylinderMap) -> float | None:
    """Where the middle lies, clockwise seen from the deck."""
    if port.angle is None:
        return None
    return port.angle.value if left.told.round == CLOCKWISE else -port.angle.value


def _along(entry: Entry | None, left: CylinderMap, target: PortMap | None) -> float | None:
    """A width along the wall, by chord or by arc as the map says; nothing that cannot be."""
    if entry is None or target is None:
        return None
    on = _wall(left, target)
    carried = target.diameter / on  # by the angle, which is the same on every wall
    if left.told.widths != BY_CHORD:
        return entry.value * carried
    if not 0.0 < entry.value <= on:
        return None
    return float(chord_to_arc(chord=entry.value, bore=on)) * carried


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
        for width in (port.width, port.bottom)
        if width is not None and _along(width, left, target) is None
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
            (name, one.roof, one.floor, one.width, one.bottom, one.middle,
             None if one.whole is None else _port_same(one.whole))
            for name, one in told.left.items()
        )  # fmt: skip
        more = (told.pose, told.left_doubt, told.walls, told.deck_cut, told.skirt)
        kinds = tuple(told.kinds.items())
        return (maps, left, more, kinds, self.rules, self.crank)

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
