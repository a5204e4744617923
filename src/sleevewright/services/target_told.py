"""Use case: which map is stock: what the ports of a cylinder are to become, and why.

Everything here comes from the job alone: its own maps, the manual's degrees, its other
cylinders.  What other jobs of the shop say is brought in on the page of the targets, where it is
written into the job; a target never changes because another job did.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from sleevewright.core.ports.mapped import EdgeDoubt, MappedPort, PortMap
from sleevewright.jobs.catalog_maps import CAST_MAP, EXHAUST, FOUND_MAP, TARGET_MAP, kind_of_name
from sleevewright.jobs.catalog_targets import (
    ALL_AGREEING,
    AS_FOUND,
    BY_TYPED,
    NOT_TOUCHED,
    TOUCHED,
    UNKNOWN,
)
from sleevewright.jobs.livingdoc import escaped
from sleevewright.jobs.portmaps import entry_of, told_map
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import beside, known_in, ledger_of
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.ledger import Ledger
from sleevewright.planning.port_manual import (
    ManualTold,
    enter_manuals,
    enter_pin,
    manual_offer,
)
from sleevewright.planning.port_sources import (
    Frame,
    Offer,
    OtherMap,
    casting_offer,
    cylinder_offer,
    exhaust_middle,
    library_offers,
    mirror_offer,
)
from sleevewright.planning.port_target import (
    PortTarget,
    TargetGiven,
    map_of_targets,
    port_targets,
)
from sleevewright.planning.port_target_said import enter_targets
from sleevewright.planning.port_target_said import has_stock as _has_stock
from sleevewright.planning.port_target_said import matched_words as _matched_words
from sleevewright.planning.port_target_said import target_title as _target_title
from sleevewright.planning.port_wish import PortWish
from sleevewright.planning.portmaps import Wall, read_map
from sleevewright.planning.ring_limits_said import ring_limit
from sleevewright.services import port_maps
from sleevewright.services.cut_told import CutTold


@dataclass(frozen=True)
class Targets:
    """Every port as it is to be, with all that it was chosen from."""

    given: TargetGiven
    ports: tuple[PortTarget, ...]
    ledger: Ledger  # the manual's heights stand in it
    problems: tuple[str, ...] = ()

    @property
    def map(self) -> PortMap | None:
        """All of them as one map."""
        return map_of_targets(self.ports, self.given)


def targets_of(
    plan: Plan,
    told: CutTold,
    *,
    others: Iterable[OtherMap] = (),
    library: Iterable[OtherMap] = (),
) -> Targets | None:
    """What every port is to become; nothing where no map was told.

    ``others`` and ``library`` are maps of other jobs, where they are asked for; without them
    the job's other cylinders stand for the former.
    """
    found = port_maps.map_of(plan, told, FOUND_MAP).read.map
    frozen = port_maps.map_of(plan, told, TARGET_MAP).read.map
    if found is None and frozen is None:
        return None
    ledger = ledger_of(plan)
    windows = port_maps.map_of(plan, told, CAST_MAP).read
    cast = windows.map
    frame = _frame(plan, told, ledger, Maps(found, cast, frozen))
    names = tuple(port.name for one in (found, frozen) if one is not None for port in one.ports)
    wishes = {name: wish_of(told, name) for name in dict.fromkeys(names)}
    enter_pin(ledger, told.length("found.pin_offset"))
    manuals = enter_manuals(ledger, plan, {name: manual_of(told, name) for name in wishes})
    touched = {name: wish.touched for name, wish in wishes.items()}
    every = (*others,) or own_cylinders(plan, told)
    shelf = tuple(library)
    offers: dict[str, tuple[Offer, ...]] = {}
    for name in wishes:
        made = (
            manual_offer(ledger, manuals.get(name)),
            None if found is None else mirror_offer(name, found, frame, touched),
            *(cylinder_offer(name, other, frame) for other in every),
            *library_offers(name, shelf, frame),
            casting_offer(name, cast, frame),
            None if _has(frozen, name) else _typed_offer(ledger, told, name),
        )
        offers[name] = tuple(one for one in made if one is not None)
    given = TargetGiven(
        found,
        frame,
        None if frozen is None else _in_doubt(frozen, told),
        wishes,
        offers,
        {name: _widest(ledger, told, name, frame.diameter) for name in wishes},
        {name: _tightest(told, name) for name in wishes},
    )
    lacking = (*windows.needs, *(f"{name}: {why}" for name, why in windows.refused))
    problems = tuple(f"Windows of the casting: {one}" for one in lacking)
    return Targets(given, port_targets(given), ledger, problems)


def _has(map_: PortMap | None, name: str) -> bool:
    """Whether a map has a port of this name."""
    return map_ is not None and map_.port(name) is not None


def _typed_offer(ledger: Ledger, told: CutTold, name: str) -> Offer | None:
    """Roof and floor that were typed of a target whose sizes are not told whole."""
    worth = ledger.default("port_height").value / STATED_COVERAGE_FACTOR
    edges = {}
    for edge in ("roof", "floor"):
        typed = told.length(f"port/{escaped(name)}/{TARGET_MAP}.{edge}")
        if typed is not None:
            edges[edge] = (typed.value, worth)
    return Offer(BY_TYPED, "typed at Choice", edges, origin="typed") if edges else None


def wish_of(told: CutTold, name: str) -> PortWish:
    """What was chosen for one port."""
    own = f"port/{escaped(name)}"
    return PortWish(
        told.text(f"{own}/target").strip() or AS_FOUND,
        told.text(f"{own}/target_from").strip() or ALL_AGREEING,
        told.text(f"{own}/touched").strip() or UNKNOWN,
        told.text(f"{own}/target_reason").strip(),
        told.text(f"{own}/target_by").strip(),
        told.text(f"{own}/target_source").strip(),
        next((title for end, title in CLASHING.items() if _clashes(told, f"{own}/{end}")), ""),
    )


CLASHING = {
    "target": "to be made",
    "target_from": "target taken from",
    "touched": "worked on by hand before",
}
"""Cells of a port that decide its target, as they are called."""


def _clashes(told: CutTold, cell: str) -> bool:
    """Whether two values stand in a cell."""
    return len(told.folded.heads(cell, cylinder=told.cylinder)) > 1


def manual_of(told: CutTold, name: str) -> ManualTold | None:
    """What the manual says of one port: its own figure, else its family's."""
    kind = told.text(f"port/{escaped(name)}/kind") or kind_of_name(name)
    if "inlet" in kind:
        return None
    family = "exhaust" if kind == EXHAUST else "transfer"
    for cell in (f"port/{escaped(name)}/manual_opens", f"choice.manual_{family}"):
        entry = entry_of(told.folded, cell, told.cylinder)
        if entry is not None:
            return ManualTold(
                entry,
                told.text("choice.manual_counted").strip(),
                told.text("choice.manual_at").strip(),
                told.length("choice.manual_lift"),
                told.text("choice.manual_name").strip(),
                told.length("found.pin_offset"),
            )
    return None


@dataclass(frozen=True)
class Maps:
    """The cylinder's own maps that a target looks at."""

    found: PortMap | None
    cast: PortMap | None
    frozen: PortMap | None


def _frame(plan: Plan, told: CutTold, ledger: Ledger, maps: Maps) -> Frame:
    """What every source is brought to."""
    wall = maps.found or maps.frozen
    deck = told.length("engine.deck")
    known = known_in(plan, "engine.deck")
    doubt = 0.0 if known is None or known.doubt is None else known.doubt.standard
    spread, side, least = (
        ledger.default(name).value / STATED_COVERAGE_FACTOR
        for name in ("target_spread", "target_casting_side", "target_library_least")
    )
    return Frame(
        0.0 if wall is None else wall.diameter,
        exhaust_middle(maps.cast, maps.found),
        None if deck is None else deck.value,
        doubt,
        spread,
        side,
        least,
    )


def own_cylinders(plan: Plan, told: CutTold) -> tuple[OtherMap, ...]:
    """The other cylinders of this job whose map is asked for; all of them where none is named."""
    asked = told.text("choice.map_from").strip()
    made = []
    for cylinder in range(1, told.folded.cylinders + 1):
        names = ("", str(cylinder), f"{told.folded.job}/{cylinder}")
        if cylinder == told.cylinder or asked not in names:
            continue
        found = other_map(plan, replace(told, cylinder=cylinder), f"cylinder {cylinder}")
        if found is not None:
            made.append(found)
    return tuple(made)


def other_map(plan: Plan, told: CutTold, words: str) -> OtherMap | None:
    """The map of another cylinder as found, from its own deck; nothing where it has none."""
    said = told_map(told.folded, FOUND_MAP, cylinder=told.cylinder)
    bore = told.length("engine.bore")
    diameter = said.on.value if said.on is not None else None if bore is None else bore.value
    if diameter is None:
        return None
    ledger = ledger_of(plan)
    wall = Wall(
        diameter,
        roof=ledger.default("port_height").value,
        side=ledger.default("port_side").value,
        units=plan.units,
    )
    read = read_map(said, wall).map
    if read is None:
        return None
    deck = told.length("engine.deck")
    seen = {one.name: told.text(f"port/{escaped(one.name)}/touched").strip() for one in read.ports}
    touched, untouched = (
        frozenset(name for name, answer in seen.items() if answer == asked)
        for asked in (TOUCHED, NOT_TOUCHED)
    )
    standard = ledger.default("depth_micrometer_setting").value / STATED_COVERAGE_FACTOR
    clearance = None if deck is None else deck.value
    return OtherMap(words, read, clearance, standard, touched, untouched)


def _in_doubt(frozen: PortMap, told: CutTold) -> PortMap:
    """A frozen map with the doubt that each port was frozen with."""
    ports = tuple(replace(port, doubt=_frozen_doubt(port, told)) for port in frozen.ports)
    return replace(frozen, ports=ports)


def _frozen_doubt(port: MappedPort, told: CutTold) -> EdgeDoubt:
    """What a frozen port's edges are worth; what the map says where nothing was written."""
    own = f"port/{escaped(port.name)}"
    roof, side = (told.length(f"{own}/target_{edge}_within") for edge in ("roof", "side"))
    worth = port.doubt
    if roof is not None:
        depth = roof.value / STATED_COVERAGE_FACTOR
        worth = replace(worth, roof=depth, floor=depth)
    return worth if side is None else replace(worth, side=side.value / STATED_COVERAGE_FACTOR)


def _is_exhaust(told: CutTold, name: str) -> bool:
    """Whether a port is the exhaust's, as told, else by its name."""
    return (told.text(f"port/{escaped(name)}/kind") or kind_of_name(name)) == EXHAUST


def _tightest(told: CutTold, name: str) -> float:
    """The least corner radius that rings ask of a port of this kind."""
    return ring_limit("exhaust_corner" if _is_exhaust(told, name) else "transfer_corner").judged


def _widest(ledger: Ledger, told: CutTold, name: str, diameter: float) -> float:
    """The widest arc whose chord the rings allow."""
    if _is_exhaust(told, name):
        share = ledger.default("window_most").value
    else:
        share = ring_limit("transfer_width").judged
    return diameter * math.asin(share)


def target_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Choice: what every port is to become, from which sources, and what is not decided."""
    targets = targets_of(plan, told)
    if targets is None:
        return None
    ledger = targets.ledger
    enter_targets(ledger, plan, targets.ports)
    for text in targets.problems:
        ledger.advise(f"{text.rstrip('.')}.")
    unseen = [
        port.name for port in targets.ports
        if not port.is_frozen and port.wish.wanted == "stock" and port.wish.touched == UNKNOWN
    ]  # fmt: skip
    if unseen:
        ledger.advise(
            f"Say at As found which ports were worked on by hand: {', '.join(unseen)}. Of a port "
            f"marked “{NOT_TOUCHED}”, what was found is stock."
        )
    asked = told.text("choice.map_from").strip()
    if "/" in asked and not asked.startswith(f"{told.folded.job}/"):
        ledger.advise(f"The map of {asked} is brought in on the page Which map is stock.")
    return beside(plan, "choice", "Choice", ledger.result())


def target_map(plan: Plan, told: CutTold) -> PortMap | None:
    """What the ports are to become, as one map with its doubt."""
    targets = targets_of(plan, told)
    return None if targets is None else targets.map


def matched_words(plan: Plan, told: CutTold) -> str:
    """What every paper says the ports were made to; empty where there is no map."""
    targets = targets_of(plan, told)
    return "" if targets is None else _matched_words(targets.ports)


def target_title(plan: Plan, told: CutTold) -> str:
    """What the solid outline is called in a picture; stock only where every port is."""
    targets = targets_of(plan, told)
    return _target_title(() if targets is None else targets.ports)


def has_stock(plan: Plan, told: CutTold) -> bool:
    """Whether anything but this cylinder as found stands behind any of its ports."""
    targets = targets_of(plan, told)
    return targets is not None and _has_stock(targets.ports)
