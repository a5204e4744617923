"""Use cases of the target: seen beside the shop's maps, picked, frozen with the job, let go again.

What is frozen is written into the job as cells: what the shop measures later changes nothing of
it.  Everything is a record; what was frozen before stays in the history.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from sleevewright.core.ports.mapped import MappedPort, arc_to_chord
from sleevewright.errors import InputError, StateError, clipped
from sleevewright.jobs.catalog_maps import BY_CHORD, CLOCKWISE, INSIDE, TARGET_MAP
from sleevewright.jobs.catalog_targets import (
    ALL_AGREEING,
    AS_FOUND,
    OWN,
    SOURCES_OF_TARGET,
    STOCK,
)
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.livingdoc import escaped
from sleevewright.jobs.outlinetext import outline_text
from sleevewright.jobs.portmaps import ToldMap, told_map
from sleevewright.jobs.records import VALUE
from sleevewright.planning.answers import Plan
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.port_target import PortTarget, port_targets
from sleevewright.planning.port_target_said import apart_words, frozen_words
from sleevewright.services.bench import Bench
from sleevewright.services.cut_told import CutTold
from sleevewright.services.entry_bodies import LONGEST_WORDS, body_of
from sleevewright.services.jobs import look, server_draft
from sleevewright.services.people import people
from sleevewright.services.port_library import maps_of_engine, named_map
from sleevewright.services.port_maps import wall_of
from sleevewright.services.settings import shop_of_bench
from sleevewright.services.target_told import Targets, own_cylinders, targets_of

WANTED = (STOCK, AS_FOUND, OWN)
SHAPE_CELLS = ("roof", "floor", "width", "bottom", "radius", "arch", "angle", "outline")
BESIDE_CELLS = ("target_source", "target_roof_within", "target_side_within")
LEAST_WITHIN = 1e-6
"""Doubts are kept to a micrometre."""


@dataclass(frozen=True)
class Pick:
    """What one port is to become, from which source, why, and who says so."""

    port: str
    wanted: str = STOCK
    source: str = ALL_AGREEING
    reason: str = ""
    person: str = ""


@dataclass(frozen=True)
class SeenTargets:
    """The targets of a cylinder beside the maps of the whole shop."""

    plan: Plan
    told: CutTold
    targets: Targets
    maps: int  # of the shop, of this engine
    problem: str = ""  # why another cylinder that is named cannot be read

    def port(self, name: str) -> PortTarget:
        """The target of one port.

        Raises
        ------
        InputError
            If there is no such port.
        """
        found = next((one for one in self.targets.ports if one.name == name), None)
        if found is None:
            known = ", ".join(one.name for one in self.targets.ports)
            raise InputError("port", clipped(name), "", known or "a port that was mapped")
        return found


def seen_targets(bench: Bench, number: str, cylinder: int) -> SeenTargets:
    """What every port is to become, with the maps of other jobs beside it.

    Raises
    ------
    StateError
        If there is no plan or no map yet.
    """
    seen = look(bench, number, cylinder)
    if seen.plan is None:
        wanted = f"what contradicts itself put right: {seen.problem}"
        raise StateError(number, "without a plan", wanted)
    told = CutTold(seen.living.job, seen.folded, cylinder, shop_of_bench(bench))
    shelf = maps_of_engine(bench, seen.plan, seen.folded, cylinder)
    others, problem = own_cylinders(seen.plan, told), ""
    asked = told.text("choice.map_from").strip()
    if "/" in asked and not asked.startswith(f"{number}/"):
        try:
            others = (named_map(bench, seen.plan, asked),)
        except InputError as refused:
            problem = str(refused)
    named = {one.words for one in others}
    shelf = tuple(one for one in shelf if one.words not in named)
    targets = targets_of(seen.plan, told, others=others, library=shelf)
    if targets is None:
        wanted = "roofs, floors and widths at As found"
        raise StateError(number, "without a map of its ports", wanted)
    return SeenTargets(seen.plan, told, targets, len(shelf), problem)


def pick_target(bench: Bench, number: str, cylinder: int, pick: Pick) -> None:
    """Write what a port is to become and from which source.

    Raises
    ------
    InputError
        If port, source or person are not known, or a reason is missing where sources disagree.
    StateError
        If the port's target is frozen.
    """
    seen = seen_targets(bench, number, cylinder)
    target = seen.port(pick.port)
    _refuse_unknown(bench, pick)
    if target.is_frozen:
        raise StateError(pick.port, "frozen with the job", "its target let go first")
    if pick.source != ALL_AGREEING and not pick.reason.strip() and _is_disputed(seen, target):
        raise InputError(
            "reason", "nothing", "", "why this source and no other",
            f"The sources of {pick.port} do not agree.",
        )  # fmt: skip
    own = f"port/{escaped(pick.port)}"
    texts = {
        f"{own}/target": pick.wanted,
        f"{own}/target_from": pick.source,
        f"{own}/target_reason": pick.reason.strip(),
        f"{own}/target_by": pick.person,
    }
    _write(bench, seen.told.folded, cylinder, texts)


def _refuse_unknown(bench: Bench, pick: Pick) -> None:
    """A source, a wish and a person are those that there are."""
    if pick.wanted not in WANTED:
        raise InputError("to be made", clipped(pick.wanted), "", ", ".join(WANTED))
    if pick.source not in SOURCES_OF_TARGET:
        raise InputError("source", clipped(pick.source), "", ", ".join(SOURCES_OF_TARGET))
    known = [one.key for one in people(bench)]
    if pick.person and pick.person not in known:
        raise InputError("who says so", clipped(pick.person), "", "somebody who works here")


def _is_disputed(seen: SeenTargets, target: PortTarget) -> bool:
    """Whether the sources of a port do not agree when all of them are asked."""
    given = seen.targets.given
    wish = replace(target.wish, wanted=STOCK, source=ALL_AGREEING)
    asked = port_targets(replace(given, wishes={**given.wishes, target.name: wish}))
    return any(one.name == target.name and not one.is_decided for one in asked)


def freeze_targets(
    bench: Bench, number: str, cylinder: int, *, port: str = "", person: str = ""
) -> tuple[str, ...]:
    """Write the target of one port, or of every port that is decided, into the job.

    Returns the ports that were frozen.

    Raises
    ------
    InputError
        If there is no such port or person, or one port is asked for and is not decided.
    StateError
        If there is nothing to freeze.
    """
    seen = seen_targets(bench, number, cylinder)
    _refuse_unknown(bench, Pick(port, person=person))
    ports = [seen.port(port)] if port else list(seen.targets.ports)
    if port:
        _refuse_undecided(ports[0], seen.plan.units)
    texts: dict[str, str] = {}
    frozen = []
    for target in ports:
        if target.is_frozen or not target.is_decided or target.needs:
            continue
        texts |= _cells_of(target, seen, person)
        frozen.append(target.name)
    if not frozen:
        raise StateError(number, "without a target to freeze", "a port whose sources agree")
    texts |= _ways_untold(seen)
    _write(bench, seen.told.folded, cylinder, texts)
    return tuple(frozen)


def _refuse_undecided(target: PortTarget, system: str) -> None:
    """A port whose sources disagree, or that lacks something, is not frozen."""
    for edge in target.edges.values():
        if not edge.is_decided:
            raise _undecided(target, apart_words(target.name, edge, system))
    for text in (*target.needs, *(one for one in target.problems if "Take one" in one)):
        raise _undecided(target, text)


def _undecided(target: PortTarget, why: str) -> InputError:
    """Why a port cannot be frozen."""
    allowed = "sources that agree, or one of them that is taken"
    return InputError(f"target of {target.name}", "not decided", "", allowed, why)


def _cells_of(target: PortTarget, seen: SeenTargets, person: str) -> dict[str, str]:
    """The cells of one frozen port."""
    own, system = f"port/{escaped(target.name)}", seen.plan.units
    side = max(target.edges["left"].standard, target.edges["right"].standard)
    texts = {f"{own}/{TARGET_MAP}.{name}": text for name, text in _sizes(target.port, seen).items()}
    texts |= {
        f"{own}/target_source": frozen_words(target),
        f"{own}/target_roof_within": _within(target.edges["roof"].standard, system),
        f"{own}/target_side_within": _within(side, system),
    }
    return texts | ({f"{own}/target_by": person} if person else {})


def _ways_untold(seen: SeenTargets) -> dict[str, str]:
    """How the map is told, where no port of it was told yet; else every port would be read anew.

    What stands there already is kept, and the frozen sizes are written in that way.
    """
    said = told_map(seen.told.folded, TARGET_MAP, cylinder=seen.told.cylinder)
    if said.ports:
        return {}
    ways = {
        "on": _length(seen.targets.given.frame.diameter, seen.plan.units),
        "widths": BY_CHORD,
        "round": CLOCKWISE,
        "view": INSIDE,
    }
    cells = {f"ports.{TARGET_MAP}.{name}": text for name, text in ways.items()}
    return {cell: text for cell, text in cells.items() if not seen.told.text(cell).strip()}


def _wall_told(said: ToldMap, seen: SeenTargets) -> float:
    """Diameter of the wall on which the map of the targets is read, in metres."""
    if not said.ports and said.on is None:
        return seen.targets.given.frame.diameter
    wall, lacking = wall_of(seen.plan, seen.told, said)
    if wall is None:
        raise StateError(seen.told.folded.job, "without a wall for its targets", lacking)
    return wall.diameter if said.on is None else said.on.value


def _sizes(port: MappedPort, seen: SeenTargets) -> dict[str, str]:
    """Sizes of a port as texts: its outline too where it has a place round the bore.

    Widths and angle are written as the map of the targets is told: by chord or by arc of its
    wall, clockwise or counter-clockwise.
    """
    system, found = seen.plan.units, seen.targets.given.found
    said = told_map(seen.told.folded, TARGET_MAP, cylinder=seen.told.cylinder)
    wall, given = _wall_told(said, seen), seen.targets.given.frame.diameter
    told = {
        "roof": _length(port.roof, system),
        "floor": _length(port.floor, system),
    }
    if found is None or found.is_placed:
        told["width"] = _width(port.span * wall / 2.0, said, wall, system)
        sense = 1.0 if said.round == CLOCKWISE else -1.0
        told["angle"] = f"{sense * math.degrees(port.middle):.3f} deg"
        told["outline"] = _outline(port)
        return told
    base = found.port(port.name)
    if base is None or base.shape is None:
        raise InputError(port.name, "no sizes", "", "a map with angles, or ports by their sizes")
    shape, share = base.shape, port.span / base.span * wall / given
    told["width"] = _width(shape.top * share, said, wall, system)
    told["bottom"] = _width(shape.bottom * share, said, wall, system)
    told["radius"] = _length(shape.radii[0], system)
    told["arch"] = _length(shape.arch, system)
    return told


def _width(arc: float, said: ToldMap, wall: float, system: str) -> str:
    """A width along the wall as the map tells its widths: by chord, or as it is."""
    by_chord = said.widths == BY_CHORD
    return _length(arc_to_chord(arc=arc, bore=wall) if by_chord else arc, system)


def _outline(port: MappedPort) -> str:
    """The outline as text; to 10 um where the finer one is too long for a cell."""
    corners = [(float(angle), float(depth)) for angle, depth in port.points]
    text = outline_text(corners)
    if len(text) <= LONGEST_WORDS:
        return text
    return ", ".join(f"{math.degrees(angle):.2f} {depth * 1e3:.2f}" for angle, depth in corners)


def _length(value: float, system: str) -> str:
    """A length as it is keyed: to a micrometre, or to half a tenth."""
    return f"{value / 25.4e-3:.5f} in" if system == "inch" else f"{value * 1e3:.3f} mm"


def _within(standard: float, system: str) -> str:
    """A half-width of about 95 % as it is keyed."""
    return _length(max(STATED_COVERAGE_FACTOR * standard, LEAST_WITHIN), system)


def let_go(bench: Bench, number: str, cylinder: int, port: str) -> None:
    """Take a frozen target back: what was frozen stays in the history of the job.

    Raises
    ------
    InputError
        If there is no such port.
    StateError
        If it is not frozen.
    """
    seen = seen_targets(bench, number, cylinder)
    if not seen.port(port).is_frozen:
        raise StateError(port, "not frozen", "a port whose target is frozen")
    own, folded = f"port/{escaped(port)}", seen.told.folded
    cells = [f"{own}/{TARGET_MAP}.{name}" for name in SHAPE_CELLS]
    cells += [f"{own}/{name}" for name in BESIDE_CELLS]
    told = {cell: "" for cell in cells if folded.heads(cell, cylinder=cylinder)}
    _write(bench, folded, cylinder, told)


def _write(bench: Bench, folded: Folded, cylinder: int, texts: Mapping[str, str]) -> None:
    """Write cells in the place of what stood in them; what says the same is left alone."""
    drafts = []
    for cell, text in texts.items():
        heads = folded.heads(cell, cylinder=cylinder)
        if [head.text for head in heads] == [text] or (not heads and not text):
            continue
        body = {
            "cylinder": cylinder,
            "cell": cell,
            "text": text,
            "kind": "chosen",
            "replaces": [head.id for head in heads],
            "said": bench.now(),
        }
        drafts.append(server_draft(folded.job, VALUE, body_of(VALUE, body, folded)))
    if drafts:
        bench.store.append(drafts)
