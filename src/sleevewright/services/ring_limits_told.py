"""Use case: what rings ask of the ports, of the target, the sleeve in hand and the ports as left.

The sleeve is held against the pegs where it will stand: where it was set, else where it is to
be clocked, else as it came, and the words beside the figure say which.
"""

from __future__ import annotations

from sleevewright.core.ports.mapped import PortMap
from sleevewright.jobs.catalog_maps import (
    CLOCKWISE,
    FOUND_MAP,
    LEFT_MAP,
    SUPPLIED_MAP,
    TARGET_MAP,
    kind_of_name,
)
from sleevewright.jobs.livingdoc import escaped
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import beside
from sleevewright.planning.ledger import Ledger, StageResult
from sleevewright.planning.port_chamfers import Edged, enter_chamfers
from sleevewright.planning.ring_limits import (
    DRAWS,
    Windows,
    asked_of,
    windows_held,
    with_turned,
)
from sleevewright.services.clock_told import pose_of
from sleevewright.services.cut_told import CutTold
from sleevewright.services.port_maps import CylinderMap, map_of, target_of

LIES = {True: ", as it was set", False: ", clocked as is said"}
"""Words for how the sleeve lies, by whether its marks were measured after the drop."""

YES = "yes"


def target_limits(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Choice: the ports that are wanted, where any were told."""
    if not told.folded.cells("port/", cylinder=told.cylinder):
        return None
    own = map_of(plan, told, TARGET_MAP)
    if not own.told.ports:
        return None
    wanted = target_of(plan, told)
    if wanted is None:
        return None
    found = map_of(plan, told, FOUND_MAP)
    windows = _windows(told, own, wanted, before=found.read.map)
    held = windows_held(asked_of(plan, windows, (own.told, found.told)))
    return beside(plan, "choice", "Choice", held)


def supplied_limits(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Sleeve in hand: the windows that it brings, where they will stand."""
    own = map_of(plan, told, SUPPLIED_MAP)
    if own.read.map is None:
        return None
    turn, down, words = pose_in_words(plan, told) or (0.0, 0.0, ", before it is clocked")
    windows = with_turned(_windows(told, own, own.read.map), turn, words, down=down)
    held = windows_held(asked_of(plan, windows, (own.told, turn, down)))
    return beside(plan, "sleeve", "Sleeve in hand", held)


def pose_in_words(plan: Plan, told: CutTold) -> tuple[float, float, str] | None:
    """Turn and drop of the sleeve with words for them: as set, else as it is to be clocked."""
    pose = pose_of(plan, told)
    return None if pose is None else (pose.turn, pose.down, LIES[pose.is_set])


def left_limits(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Ports: the windows as they are handed back, their chamfers and bridges."""
    own = map_of(plan, told, LEFT_MAP)
    edges = _edges(told, own)
    if own.read.map is None and not any(one.depth or one.relief for one in edges):
        return None
    held = StageResult(())
    if own.read.map is not None:
        found = map_of(plan, told, FOUND_MAP)
        windows = _windows(told, own, own.read.map, before=found.read.map)
        held = windows_held(asked_of(plan, windows, (own.told, found.told)))
    ledger = Ledger(count=DRAWS, seed=plan.seed, chosen=plan.chosen)
    enter_chamfers(ledger, plan, edges)
    edged = ledger.result()
    both = StageResult(
        (*held.entries, *edged.entries),
        (*held.advice, *edged.advice),
        (*held.cautions, *edged.cautions),
    )
    return beside(plan, "ports", "Ports", both)


def _windows(
    told: CutTold,
    own: CylinderMap,
    windows: PortMap,
    before: PortMap | None = None,
) -> Windows:
    """The windows of a map with everything that they are held against."""
    radii = {one.name: one.radius for one in own.told.ports if one.radius is not None}
    return Windows(
        key=own.told.key,
        map=windows,
        kinds={one.name: kind_of(told, one.name) for one in windows.ports},
        radii=radii,
        pegs=pegs_of(told),
        gap=_gap(told),
        before=before,
        lacking=(*own.read.needs, *(f"{name}: cannot be drawn" for name, _ in own.read.refused)),
    )


def kind_of(told: CutTold, name: str) -> str:
    """What a port is for, as told, else by its name."""
    return told.text(f"port/{escaped(name)}/kind") or kind_of_name(name)


def pegs_of(told: CutTold) -> tuple[tuple[str, float], ...]:
    """Ring pegs by their number, clockwise seen from the deck.

    They were told the same way round as the angles of the map as found.
    """
    way = told.text(f"ports.{FOUND_MAP}.round") or CLOCKWISE
    sense = 1.0 if way == CLOCKWISE else -1.0
    pegs = ((one, told.number(f"rings.peg/{one}/angle")) for one in told.rows("rings.peg/"))
    return tuple((number, sense * angle) for number, angle in pegs if angle is not None)


def _gap(told: CutTold) -> float:
    """Widest end gap of a ring that was told."""
    gaps = (told.length(f"rings.{part}_gap") for part in ("top", "second"))
    return max((gap.value for gap in gaps if gap is not None), default=0.0)


def _edges(told: CutTold, own: CylinderMap) -> tuple[Edged, ...]:
    """How the edges of every port were left."""
    drawn = {} if own.read.map is None else {port.name: port for port in own.read.map.ports}
    groups = [port.group or name for name, port in drawn.items()]
    found = []
    for one in told.job.ports:
        start, port = f"port/{escaped(one.name)}", drawn.get(one.name)
        roof: Entry | None = told.length(f"{start}/left.roof")
        known = port.roof if port is not None else None if roof is None else roof.value
        found.append(
            Edged(
                one.name,
                roof=known,
                roof_doubt=0.0 if port is None else port.doubt.roof,
                depth=told.length(f"{start}/left.chamfer_width"),
                relief=told.length(f"{start}/left.relief"),
                is_chamfered=told.text(f"{start}/left.chamfer") == YES,
                is_bridged=port is not None and groups.count(port.group or one.name) > 1,
            )
        )
    return tuple(found)


RING_LIMIT_PARTS = (target_limits, supplied_limits, left_limits)
"""Parts in the order of the route."""
