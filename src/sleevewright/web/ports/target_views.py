"""The page of the targets as a record: the sources of every edge side by side, what is taken."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import quote

from sleevewright.core.ports.mapped import EDGES
from sleevewright.jobs.catalog_targets import BY_FOUND, BY_TYPED, SOURCES_OF_TARGET
from sleevewright.planning.port_sources import Offer
from sleevewright.planning.port_target import PortTarget
from sleevewright.planning.port_target_said import apart_words, frozen_words, size_words
from sleevewright.planning.port_target_said import matched_words as words_of
from sleevewright.services.people import Person
from sleevewright.services.target_freeze import WANTED, SeenTargets
from sleevewright.web.stage.views import StepView

COLUMNS = ("roof", "floor", "left", "right")
"""Edges in the order in which they stand; left and right as seen from inside."""

COLUMN_WORDS = ("roof", "floor", "left side", "right side")


@dataclass(frozen=True)
class SourceLine:
    """One source of a port: a figure for each edge that it tells."""

    kind: str
    words: str
    figures: tuple[str, ...]
    is_taken: tuple[bool, ...]


@dataclass(frozen=True)
class PortView:
    """One port with all its sources."""

    name: str
    key: str
    wanted: str
    source: str
    reason: str
    by: str
    touched: str
    says: str
    lines: tuple[SourceLine, ...]
    chosen: tuple[str, ...]
    apart: tuple[str, ...]  # why no mean was taken, edge by edge
    remarks: tuple[str, ...]
    is_frozen: bool
    can_freeze: bool


@dataclass(frozen=True)
class TargetPage:
    """Everything that the page shows."""

    number: str
    cylinder: int
    title: str
    here: str
    back: str
    base: str
    steps: tuple[StepView, ...]
    matched: str
    ports: tuple[PortView, ...]
    maps: str
    problem: str
    wall: str
    wanted: tuple[str, ...]
    sources: tuple[str, ...]
    people: tuple[Person, ...]
    can_freeze: bool
    columns: tuple[str, ...] = COLUMN_WORDS


def target_page(
    seen: SeenTargets, *, title: str, base: str, steps: tuple[StepView, ...],
    people: tuple[Person, ...],
) -> TargetPage:  # fmt: skip
    """The page of one cylinder's targets."""
    cylinder, number = seen.told.cylinder, seen.told.folded.job
    ports = tuple(_port(target, seen.plan.units) for target in seen.targets.ports)
    wall = size_words(seen.targets.given.frame.diameter, 0.0, seen.plan.units)
    return TargetPage(
        number=number,
        cylinder=cylinder,
        title=title,
        here=f"{base}/{cylinder}/choice/targets",
        back=f"{base}/{cylinder}/choice",
        base=base,
        steps=steps,
        matched=words_of(seen.targets.ports),
        ports=ports,
        maps=_maps_words(seen.maps),
        problem=seen.problem,
        wall=wall,
        wanted=WANTED,
        sources=tuple(one for one in SOURCES_OF_TARGET if one != BY_TYPED),
        people=people,
        can_freeze=any(one.can_freeze for one in ports),
    )


def _maps_words(count: int) -> str:
    """How many of the shop's own maps stand behind the library."""
    if not count:
        return "The shop has no other map of this engine."
    return f"The shop has {count} other {'map' if count == 1 else 'maps'} of this engine."


def _port(target: PortTarget, system: str) -> PortView:
    """One port as it stands on the page."""
    rows: dict[str, list[Offer]] = {}
    for edge in EDGES:
        for offer, *_ in target.edges[edge].said:
            same = rows.setdefault(offer.kind + offer.origin, [])
            same.append(offer)
    undecided = [edge for edge in target.edges.values() if not edge.is_decided]
    remarks = (*target.problems, *target.needs)
    return PortView(
        name=target.name,
        key=quote(target.name, safe=""),
        wanted=target.wish.wanted,
        source=target.wish.source,
        reason=target.wish.reason,
        by=target.wish.by,
        touched=target.wish.touched,
        says=frozen_words(target),
        lines=tuple(_line(offers[0], target, system) for offers in rows.values()),
        chosen=tuple(
            size_words(target.edges[edge].place, target.edges[edge].standard, system)
            for edge in COLUMNS
        ),
        apart=tuple(apart_words(target.name, edge, system) for edge in undecided),
        remarks=tuple(f"{one[:1].upper()}{one[1:].rstrip('.')}." for one in remarks),
        is_frozen=target.is_frozen,
        can_freeze=not target.is_frozen and target.is_decided and not target.needs,
    )


def _line(offer: Offer, target: PortTarget, system: str) -> SourceLine:
    """One source with its figures."""
    figures, taken = [], []
    for name in COLUMNS:
        edge = target.edges[name]
        told = offer.edges.get(name)
        figures.append("–" if told is None else size_words(*told, system))
        rests = edge.is_decided and any(one.origin == offer.origin for one, *_ in edge.taken)
        taken.append(told is not None and rests)
    words = offer.words if offer.kind != BY_FOUND else "this cylinder, as it came"
    return SourceLine(offer.kind, words, tuple(figures), tuple(taken))
