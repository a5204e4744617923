"""What each source says of a port: its twin, another cylinder, the shop's maps, the casting.

Every offer stands in the frame of this cylinder: depths from this deck, by way of the crown's
edge at top dead centre; angles clockwise seen from the deck, by way of the middle of the exhaust.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.ports.agree import APART_ALLOWED, agreement
from sleevewright.core.ports.mapped import EDGES, EdgeDoubt, MappedPort, PortMap
from sleevewright.core.ports.mirror import (
    TURN,
    brought_near,
    depth_by_crown,
    mirrored,
    places_of,
    turns_to,
)
from sleevewright.core.ports.pairs import twin_name
from sleevewright.core.ports.signs import in_doubts
from sleevewright.jobs.catalog_maps import EXHAUST, kind_of_name
from sleevewright.jobs.catalog_targets import (
    BY_CASTING,
    BY_CYLINDER,
    BY_FOUND,
    BY_LIBRARY,
    BY_MIRROR,
    NOT_TOUCHED,
)

MIRROR_SHARE = math.sqrt(2.0)
"""Doubt of a mirrored edge over that of the edge itself: the axis and the maker have theirs."""

UNSAID = "not said whether worked on by hand"
"""What stands beside a map of which nobody said that its port was never touched."""

_FEW = 3


@dataclass(frozen=True)
class Offer:
    """What one source says of one port.

    Attributes
    ----------
    kind : str
        Which source, as the choice names it.
    words : str
        The document, the port or the jobs that it comes from.
    edges : Mapping[str, tuple[float, float]]
        Place and standard uncertainty of each edge that it tells: depth of roof and floor
        below this deck, place of a side along this wall. [m]
    port : MappedPort | None
        The outline, where it tells one.
    count : int
        How many cylinders stand behind it.
    origin : str
        What was measured: two offers of one origin are one source.
    unsaid : int
        Of how many of them nobody said whether the port was worked on by hand.
    """

    kind: str
    words: str
    edges: Mapping[str, tuple[float, float]]
    port: MappedPort | None = None
    count: int = 1
    origin: str = ""
    unsaid: int = 0


@dataclass(frozen=True)
class OtherMap:
    """The map of another cylinder, with what refers its depths to this one.

    Attributes
    ----------
    words : str
        Job and cylinder, as it is called.
    map : PortMap
        Its ports as found, from its own deck.
    deck : float | None
        Depth of its crown's edge below its deck at top dead centre; nothing where not told. [m]
    touched : frozenset[str]
        Ports of it that were worked on by hand.
    untouched : frozenset[str]
        Ports of it that were never worked on, as somebody said.
    """

    words: str
    map: PortMap
    deck: float | None = None
    deck_standard: float = 0.0
    touched: frozenset[str] = frozenset()
    untouched: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Frame:
    """What offers are brought to: this wall, this crown, this exhaust.

    Attributes
    ----------
    diameter : float
        Diameter of this cylinder's wall. [m]
    axis : float | None
        Middle of the exhaust, from the casting where its windows are told. [rad]
    deck : float | None
        Depth of this crown's edge below this deck; nothing where it was not told. [m]
    """

    diameter: float
    axis: float | None = None
    deck: float | None = None
    deck_standard: float = 0.0
    spread: float = 0.0  # from part to part, one standard uncertainty [m]
    casting: float = 0.0  # of a side of a casting's window, one standard uncertainty [m]
    least: float = 0.0  # the least doubt of a mean of the shop's maps [m]


def twin_of(name: str, names: Sequence[str]) -> str:
    """The name of a port's twin; empty where it has none.

    Examples
    --------
    >>> twin_of("rear left", ("rear left", "rear right", "boost"))
    'rear right'
    >>> twin_of("boost", ("boost",))
    ''
    """
    other = twin_name(name).casefold()
    return next((one for one in names if other and one.casefold() == other), "")


def exhaust_middle(*maps: PortMap | None) -> float | None:
    """Middle of the exhaust in the first map that has one: all its windows together.

    Windows on either side of half a turn are counted from the first one, the short way round.
    """
    for one in maps:
        if one is None or not one.is_placed:
            continue
        middles = [p.middle for p in one.ports if kind_of_name(p.name) == EXHAUST]
        if middles:
            first = middles[0]
            near = [one + TURN * turns_to(one, near=first) for one in middles]
            return first + float(np.mean([one - first for one in near]))
    return None


def edges_of(
    port: MappedPort, diameter: float, *, doubt: EdgeDoubt | None = None
) -> dict[str, tuple[float, float]]:
    """Places and doubts of all four edges, sides along the wall."""
    worth, at, radius = doubt or port.doubt, places_of(port), diameter / 2.0
    return {
        "roof": (at.roof, worth.roof),
        "right": (at.right * radius, worth.side),
        "floor": (at.floor, worth.floor),
        "left": (at.left * radius, worth.side),
    }


def found_offer(port: MappedPort, frame: Frame) -> Offer:
    """A port as it was found."""
    return Offer(
        BY_FOUND, "this cylinder as found", edges_of(port, frame.diameter), port,
        origin=f"found:{port.name}",
    )  # fmt: skip


def mirror_offer(
    name: str, found: PortMap, frame: Frame, touched: Mapping[str, str]
) -> Offer | None:
    """The twin, mirrored; only of a side that was never worked on, and about a known axis."""
    twin = twin_of(name, [port.name for port in found.ports])
    other = found.port(twin) if twin else None
    if other is None or touched.get(twin, "") != NOT_TOUCHED:
        return None
    worth = EdgeDoubt(*(MIRROR_SHARE * one for one in _doubts(other)))
    words, origin = f"{twin}, mirrored", f"found:{twin}"
    if frame.axis is None or not found.is_placed:
        edges = edges_of(other, frame.diameter, doubt=worth)
        return Offer(BY_MIRROR, words, {e: edges[e] for e in ("roof", "floor")}, origin=origin)
    image = replace(mirrored(other, axis=frame.axis, name=name), doubt=worth)
    return Offer(BY_MIRROR, words, edges_of(image, frame.diameter), image, origin=origin)


def _doubts(port: MappedPort) -> tuple[float, float, float]:
    """Doubts of roof, side and floor."""
    return port.doubt.roof, port.doubt.side, port.doubt.floor


def casting_offer(name: str, cast: PortMap | None, frame: Frame) -> Offer | None:
    """The window of the casting behind a port: its sides, never its roof."""
    window = None if cast is None or not cast.is_placed else cast.port(name)
    if window is None:
        return None
    edges = edges_of(window, frame.diameter, doubt=EdgeDoubt(side=frame.casting))
    sides = {edge: edges[edge] for edge in ("left", "right")}
    return Offer(BY_CASTING, "window of the casting", sides, origin=f"cast:{name}")


def referred(other: OtherMap, name: str, frame: Frame) -> MappedPort | None:
    """A port of another cylinder in this frame; nothing where it has none of this name.

    Its depths are referred to the crown's edge where both decks were told; sides are turned by
    the difference of both exhausts.
    """
    port = other.map.port(name)
    if port is None or name in other.touched:
        return None
    points = port.points.copy()
    axis = exhaust_middle(other.map)
    if axis is not None and frame.axis is not None:
        points[:, 0] += frame.axis - axis
    if other.deck is not None and frame.deck is not None:
        points[:, 1] = depth_by_crown(
            depth=points[:, 1], deck_there=other.deck, deck_here=frame.deck
        )
    decks = math.hypot(other.deck_standard, frame.deck_standard)
    roof, side, floor = _doubts(port)
    worth = EdgeDoubt(
        math.hypot(roof, decks, frame.spread),
        math.hypot(side, frame.spread),
        math.hypot(floor, decks, frame.spread),
    )
    return replace(port, points=points, doubt=worth, shape=None)


def _told_edges(port: MappedPort, other: OtherMap, frame: Frame) -> dict[str, tuple[float, float]]:
    """The edges of a referred port that may be used: depths by the crown, sides by the exhaust."""
    edges = edges_of(port, frame.diameter)
    if other.deck is None or frame.deck is None:
        edges = {edge: one for edge, one in edges.items() if edge in ("left", "right")}
    if frame.axis is None or exhaust_middle(other.map) is None:
        edges = {edge: one for edge, one in edges.items() if edge in ("roof", "floor")}
    return edges


def cylinder_offer(name: str, other: OtherMap, frame: Frame) -> Offer | None:
    """A port of another cylinder; its own left and right have to agree first."""
    port = referred(other, name, frame)
    if port is None or lopsided(other.map, name):
        return None
    edges = _told_edges(port, other, frame)
    if not edges:
        return None
    whole = port if len(edges) == len(edges_of(port, frame.diameter)) else None
    unsaid = int(name not in other.untouched)
    words = f"{other.words}, {UNSAID}" if unsaid else other.words
    return Offer(BY_CYLINDER, words, edges, whole, origin=other.words, unsaid=unsaid)


def brought_beside(offer: Offer, port: MappedPort, diameter: float) -> Offer:
    """An offer whose sides are counted with as many turns as those of the port it speaks of."""
    if not {"left", "right"} <= set(offer.edges):
        return offer
    left, right = offer.edges["left"], offer.edges["right"]
    turns = turns_to((left[0] + right[0]) / diameter, near=port.middle)
    if not turns:
        return offer
    by = turns * TURN * diameter / 2.0
    edges = {**offer.edges, "left": (left[0] + by, left[1]), "right": (right[0] + by, right[1])}
    whole = None if offer.port is None else brought_near(offer.port, near=port.middle)
    return replace(offer, edges=edges, port=whole)


def lopsided(map_: PortMap, name: str) -> bool:
    """Whether a port's roof lies apart from its twin's by more than twice both doubts."""
    twin = twin_of(name, [port.name for port in map_.ports])
    own, other = map_.port(name), map_.port(twin) if twin else None
    if own is None or other is None:
        return False
    one, two = own.doubt.roof, other.doubt.roof
    if math.hypot(one, two) == 0.0:
        return own.roof != other.roof
    apart = in_doubts(own.roof, other.roof, one_standard=one, other_standard=two)
    return abs(apart) > APART_ALLOWED


@dataclass(frozen=True)
class _Said:
    """What one map of the shop says of a port."""

    other: OtherMap
    edges: Mapping[str, tuple[float, float]]


def library_offers(name: str, others: Sequence[OtherMap], frame: Frame) -> tuple[Offer, ...]:
    """The mean of the shop's own maps of this engine; hand-ported ones are left out.

    Its doubt is the spread by the root of the count, never less than the least; of one or two
    maps the spread from part to part stands for it where that is more.  Where maps lie apart by
    more than twice their combined doubt no mean is taken of that edge: each stands for itself.
    """
    said = _maps_of(name, others, frame)
    means: dict[str, tuple[float, float]] = {}
    apart: set[str] = set()
    for edge in EDGES:
        told = [one.edges[edge] for one in said if edge in one.edges]
        if told and _are_alike(told):
            means[edge] = _mean(told, frame)
        elif told:
            apart.add(edge)
    made = []
    if means:
        behind = [one.other for one in said if means.keys() & one.edges.keys()]
        made.append(_of_library(name, behind, means, BY_LIBRARY))
    for one in said:
        own = {edge: one.edges[edge] for edge in EDGES if edge in apart and edge in one.edges}
        if own:
            made.append(_of_library(name, [one.other], own, f"{BY_LIBRARY} {one.other.words}"))
    return tuple(made)


def _maps_of(name: str, others: Sequence[OtherMap], frame: Frame) -> list[_Said]:
    """What each map says of a port, sides counted with as many turns as in the first of them."""
    said: list[_Said] = []
    first: MappedPort | None = None
    for other in others:
        port = None if lopsided(other.map, name) else referred(other, name, frame)
        if port is None:
            continue
        first = port if first is None else first
        edges = _told_edges(brought_near(port, near=first.middle), other, frame)
        if edges:
            said.append(_Said(other, edges))
    return said


def _are_alike(told: Sequence[tuple[float, float]]) -> bool:
    """Whether no two places lie apart by more than twice their combined doubt."""
    places, doubts = np.array(told).T
    if not doubts.all():
        return not float(np.ptp(places))
    return agreement(places, doubts).is_agreed


def _mean(told: Sequence[tuple[float, float]], frame: Frame) -> tuple[float, float]:
    """Mean of some places and what it is worth."""
    places, doubts = np.array(told).T
    count = len(places)
    spread = float(np.std(places, ddof=1)) if count > 1 else 0.0
    if count < _FEW:
        spread = max(spread, float(doubts.max()), frame.spread)
    return float(np.mean(places)), max(spread / math.sqrt(count), frame.least)


def _of_library(
    name: str, maps: Sequence[OtherMap], edges: Mapping[str, tuple[float, float]], origin: str
) -> Offer:
    """What maps of the shop say, with their names and of how many nobody said they are stock."""
    count, unsaid = len(maps), sum(name not in one.untouched for one in maps)
    who = ", ".join(sorted(one.words for one in maps))
    words = f"{count} {'map' if count == 1 else 'maps'}: {who}"
    if unsaid:
        words += f"; {UNSAID}" if count == unsaid else f"; {unsaid} of them {UNSAID}"
    return Offer(BY_LIBRARY, words, edges, None, count, origin, unsaid)
