"""What each port is to become, edge by edge: chosen from what its sources say.

A port that is to be as found stays as found.  One that is to be stock takes each edge from its
sources where they agree, and from none where they do not: then they stand side by side, and the
one that leaves most metal is drawn until somebody picks.  A pair gets one roof.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from sleevewright.core.ports.agree import (
    Agreement,
    agreement,
    careful_edge,
    kept_within,
    rounded_enough,
)
from sleevewright.core.ports.mapped import EDGES, EdgeDoubt, MappedPort, PortMap
from sleevewright.core.ports.mirror import EdgePlaces, brought_near, reshaped
from sleevewright.core.ports.outline import port_outline
from sleevewright.errors import InputError
from sleevewright.jobs.catalog_targets import (
    ALL_AGREEING,
    BY_FOUND,
    BY_TYPED,
    NOT_TOUCHED,
    STOCK,
)
from sleevewright.planning.port_sources import (
    Frame,
    Offer,
    brought_beside,
    edges_of,
    found_offer,
    twin_of,
)
from sleevewright.planning.port_wish import PortWish, needs_of

LEAST_DOUBT = 1e-6
"""A source without a doubt counts as known to a micrometre: nothing in the trade is better."""

FROZEN = "frozen"
MATCHED_ONE = "matched to as found"
"""What is written beside a target that was frozen as it was found."""


@dataclass(frozen=True)
class ChosenEdge:
    """One edge as it is to be, and what each source says of it.

    Attributes
    ----------
    place, standard : float
        Depth of a roof or floor, place of a side along the wall, and its doubt. [m]
    kinds : tuple[str, ...]
        Sources that it rests on.
    said : tuple[tuple[Offer, float, float], ...]
        Every source of it with place and doubt, the ones not taken too.
    taken : tuple[tuple[Offer, float, float], ...]
        Those that it rests on; of a roof its twin's are among them.
    agreed : Agreement | None
        How the sources that were taken agree; nothing where there is one.
    """

    edge: str
    place: float
    standard: float
    kinds: tuple[str, ...]
    said: tuple[tuple[Offer, float, float], ...] = ()
    agreed: Agreement | None = None
    taken: tuple[tuple[Offer, float, float], ...] = ()

    @property
    def is_decided(self) -> bool:
        """Whether its sources agree, or there is one."""
        return self.agreed is None or self.agreed.is_agreed


@dataclass(frozen=True)
class PortTarget:
    """One port as it is to be."""

    name: str
    wish: PortWish
    port: MappedPort
    edges: Mapping[str, ChosenEdge]
    is_frozen: bool = False
    problems: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()

    @property
    def is_decided(self) -> bool:
        """Whether every edge of it is settled."""
        return not self.problems and all(edge.is_decided for edge in self.edges.values())

    @property
    def is_as_found(self) -> bool:
        """Whether it is nothing but what was found on a port nobody vouched for."""
        if self.is_frozen:
            return self.wish.words == MATCHED_ONE
        if self.wish.touched == NOT_TOUCHED and self.wish.wanted == STOCK:
            return False
        return all(edge.kinds == (BY_FOUND,) for edge in self.edges.values())


@dataclass(frozen=True)
class TargetGiven:
    """Everything that targets are chosen from.

    Attributes
    ----------
    found, frozen : PortMap | None
        The cylinder as it came; what was frozen with the job.
    offers : Mapping[str, Sequence[Offer]]
        By port, without what was found.
    widest : Mapping[str, float]
        By port, the widest that the rings allow, along the wall. [m]
    least_radius : Mapping[str, float]
        By port, the least corner radius that they ask for. [m]
    """

    found: PortMap | None
    frame: Frame
    frozen: PortMap | None = None
    wishes: Mapping[str, PortWish] = field(default_factory=dict)
    offers: Mapping[str, Sequence[Offer]] = field(default_factory=dict)
    widest: Mapping[str, float] = field(default_factory=dict)
    least_radius: Mapping[str, float] = field(default_factory=dict)

    @property
    def names(self) -> tuple[str, ...]:
        """Every port that is found, frozen or told of by a whole outline."""
        found = [] if self.found is None else [port.name for port in self.found.ports]
        frozen = [] if self.frozen is None else [port.name for port in self.frozen.ports]
        return tuple(dict.fromkeys((*found, *frozen)))

    def base(self, name: str) -> MappedPort:
        """A port as it was found; as it was frozen where it is in no other map."""
        for one in (self.found, self.frozen):
            port = None if one is None else one.port(name)
            if port is not None:
                return port
        raise InputError("port", name, "", "a port that was found or frozen")

    def wish(self, name: str) -> PortWish:
        """What was chosen for a port."""
        return self.wishes.get(name, PortWish())


def port_targets(given: TargetGiven) -> tuple[PortTarget, ...]:
    """Every port as it is to be, in the order in which they were found."""
    given = _beside_found(given)
    made = {name: _target(name, given) for name in given.names}
    for name in given.names:
        twin = twin_of(name, given.names)
        if twin and name < twin:
            made[name], made[twin] = _one_roof(made[name], made[twin], given.frame)
    return tuple(made[name] for name in given.names)


def _beside_found(given: TargetGiven) -> TargetGiven:
    """Everything with its sides counted with as many turns as those of the port itself.

    A port at 178 degrees and its image at -176 lie 6 degrees apart and no turn.
    """
    bases = {name: given.base(name) for name in given.names}
    offers = {
        name: [brought_beside(one, bases[name], given.frame.diameter) for one in every]
        for name, every in given.offers.items()
        if name in bases
    }
    return replace(given, offers=offers)


def _target(name: str, given: TargetGiven) -> PortTarget:
    """One port, without its twin."""
    wish, frozen = given.wish(name), None if given.frozen is None else given.frozen.port(name)
    if frozen is not None:
        frozen = brought_near(frozen, near=given.base(name).middle)
        edges = {
            edge: ChosenEdge(edge, place, worth, (wish.words or FROZEN,), _said(name, edge, given))
            for edge, (place, worth) in edges_of(frozen, given.frame.diameter).items()
        }
        return PortTarget(name, wish, frozen, edges, is_frozen=True)
    found = given.base(name)
    edges = {edge: _edge(edge, name, given) for edge in EDGES}
    edges, problems = _capped(name, edges, given)
    needs = _needs(name, given)
    try:
        base, tight = _rounded(found, given)
        port, problems = _drawn(base, edges, given.frame), (*problems, *tight)
    except InputError as refused:
        own = {edge: _alone(edge, found_offer(found, given.frame), ()) for edge in EDGES}
        return PortTarget(name, wish, found, own, problems=(str(refused),), needs=needs)
    return PortTarget(name, wish, port, edges, problems=problems, needs=needs)


def _said(name: str, edge: str, given: TargetGiven) -> tuple[tuple[Offer, float, float], ...]:
    """What every source says of an edge, what was found first."""
    found = None if given.found is None else given.found.port(name)
    own = () if found is None else (found_offer(found, given.frame),)
    every = (*own, *given.offers.get(name, ()))
    return tuple((one, *one.edges[edge]) for one in every if edge in one.edges)


def _taken(name: str, edge: str, given: TargetGiven) -> tuple[Offer, ...]:
    """The sources that an edge rests on."""
    wish, every = given.wish(name), _said(name, edge, given)
    own = tuple(one for one, *_ in every if one.kind == BY_FOUND)
    typed = tuple(one for one, *_ in every if one.kind == BY_TYPED)
    if typed:
        return typed
    if wish.wanted != STOCK or wish.source in (BY_FOUND, BY_TYPED):
        return own
    others = tuple(one for one, *_ in every if one.kind != BY_FOUND)
    if wish.source != ALL_AGREEING:
        return tuple(one for one in others if one.kind == wish.source) or own
    mine = own if wish.touched == NOT_TOUCHED else others
    if edge == "roof":
        mine = (*mine, *_of_the_twin(name, given))
    return _once_each(mine, edge) or own


def _once_each(offers: Sequence[Offer], edge: str) -> tuple[Offer, ...]:
    """Each origin once: the mean of what it says of both of a pair, with the greatest doubt.

    Left and right of one cylinder share their deck and their gauge, and a port and its image are
    one reading: together they are worth no more than one.
    """
    same: dict[str, list[Offer]] = {}
    for one in offers:
        same.setdefault(one.origin, []).append(one)
    return tuple(_merged(same[origin], edge) for origin in sorted(same))


def _merged(same: Sequence[Offer], edge: str) -> Offer:
    """Offers of one origin as one."""
    place = float(np.mean([one.edges[edge][0] for one in same]))
    worth = max(one.edges[edge][1] for one in same)
    return replace(same[0], edges={**same[0].edges, edge: (place, worth)})


def _of_the_twin(name: str, given: TargetGiven) -> tuple[Offer, ...]:
    """What the twin's sources say of its roof: a pair gets one."""
    twin = twin_of(name, given.names)
    wish = given.wish(twin)
    frozen = given.frozen is not None and given.frozen.port(twin) is not None
    if not twin or frozen or wish.wanted != STOCK or wish.source != ALL_AGREEING:
        return ()
    every = [one for one, *_ in _said(twin, "roof", given)]
    is_own = wish.touched == NOT_TOUCHED
    return tuple(one for one in every if (one.kind == BY_FOUND) == is_own)


def _edge(edge: str, name: str, given: TargetGiven) -> ChosenEdge:
    """One edge from the sources that it rests on."""
    taken, said = _taken(name, edge, given), _said(name, edge, given)
    if len(taken) == 1:
        return _alone(edge, taken[0], said)
    places = np.array([one.edges[edge][0] for one in taken])
    doubts = np.array([max(one.edges[edge][1], LEAST_DOUBT) for one in taken])
    agreed = agreement(places, doubts)
    kinds = tuple(dict.fromkeys(one.kind for one in taken))
    rests = tuple((one, *one.edges[edge]) for one in taken)
    if agreed.is_agreed:
        return ChosenEdge(edge, agreed.value, agreed.standard, kinds, said, agreed, rests)
    careful = careful_edge(edge, places)
    worth = float(doubts[int(np.argmin(np.abs(places - careful)))])
    return ChosenEdge(edge, careful, worth, kinds, said, agreed, rests)


def _alone(edge: str, one: Offer, said: tuple[tuple[Offer, float, float], ...]) -> ChosenEdge:
    """An edge that rests on one source."""
    place, worth = one.edges[edge]
    return ChosenEdge(edge, place, worth, (one.kind,), said, None, ((one, place, worth),))


def _drawn(base: MappedPort, edges: Mapping[str, ChosenEdge], frame: Frame) -> MappedPort:
    """The outline that was found, brought to the chosen edges."""
    radius = frame.diameter / 2.0
    places = EdgePlaces(
        edges["roof"].place,
        edges["right"].place / radius,
        edges["floor"].place,
        edges["left"].place / radius,
    )
    side = max(edges["left"].standard, edges["right"].standard)
    doubt = EdgeDoubt(edges["roof"].standard, side, edges["floor"].standard)
    if all(edge.kinds == (BY_FOUND,) for edge in edges.values()) and places == _found_at(
        base, radius
    ):
        return replace(base, doubt=doubt)
    return replace(reshaped(base, places, name=base.name), doubt=doubt)


def _found_at(base: MappedPort, radius: float) -> EdgePlaces:
    """The places of an outline by the same way of rounding as the chosen ones."""
    at = edges_of(base, 2.0 * radius)
    return EdgePlaces(
        at["roof"][0], at["right"][0] / radius, at["floor"][0], at["left"][0] / radius
    )


def _capped(
    name: str, edges: dict[str, ChosenEdge], given: TargetGiven
) -> tuple[dict[str, ChosenEdge], tuple[str, ...]]:
    """Sides drawn in evenly where the port would be wider than the rings allow."""
    if given.wish(name).wanted != STOCK:
        return edges, ()
    width = edges["right"].place - edges["left"].place
    kept = width if width <= 0.0 else kept_within(width, widest=given.widest.get(name))
    if kept == width:
        return edges, ()
    by = 0.5 * (width - kept)
    drawn = dict(edges)
    drawn["left"] = replace(edges["left"], place=edges["left"].place + by)
    drawn["right"] = replace(edges["right"], place=edges["right"].place - by)
    return drawn, (f"{name}: its sources make it wider than the rings allow; it is held to that",)


def _rounded(found: MappedPort, given: TargetGiven) -> tuple[MappedPort, tuple[str, ...]]:
    """The outline that was found, its corners no tighter than the rings ask; with words for it."""
    least, shape = given.least_radius.get(found.name), found.shape
    if given.wish(found.name).wanted != STOCK or shape is None or least is None:
        return found, ()
    radii = tuple(rounded_enough(radius, least=least) for radius in shape.radii)
    if radii == shape.radii:
        return found, ()
    scale = np.array([given.frame.diameter / 2.0, 1.0])
    moved = found.points[0] - port_outline(shape)[0] / scale
    new = replace(shape, radii=(radii[0], radii[1], radii[2], radii[3]))
    points = port_outline(new) / scale + moved
    # The first point is the end of the first corner: a wider corner begins further in.
    points[:, 0] += found.middle - float(points[:, 0].min() + points[:, 0].max()) / 2.0
    points[:, 1] += found.floor - float(points[:, 1].max())
    words = f"{found.name}: its corners are tighter than the rings ask for; they are made rounder"
    return replace(found, points=points, shape=None), (words,)


def _needs(name: str, given: TargetGiven) -> tuple[str, ...]:
    """What is missing for the target that was chosen, a reason for a source among it."""
    wish = given.wish(name)
    is_disputed = False
    if wish.lacks_a_reason:
        every = replace(wish, source=ALL_AGREEING)
        asked = replace(given, wishes={**given.wishes, name: every})
        is_disputed = not all(_edge(edge, name, asked).is_decided for edge in EDGES)
    return needs_of(name, wish, given.offers.get(name, ()), is_disputed=is_disputed)


def _one_roof(one: PortTarget, other: PortTarget, frame: Frame) -> tuple[PortTarget, PortTarget]:
    """A pair with one roof where both targets agree; else both say that they do not."""
    both = (one, other)
    roofs = [target.edges["roof"] for target in both]
    if any(target.is_frozen or target.wish.wanted != STOCK for target in both):
        return one, other
    if not all(edge.is_decided for edge in roofs) or roofs[0].place == roofs[1].place:
        return one, other
    found = agreement(
        np.array([edge.place for edge in roofs]),
        np.array([max(edge.standard, LEAST_DOUBT) for edge in roofs]),
    )
    if not found.is_agreed:
        kinds = " and ".join(dict.fromkeys(", ".join(edge.kinds) for edge in roofs))
        text = (
            f"{one.name} and {other.name}: their roofs are to be apart by more than both are in "
            f"doubt by ({kinds}). Take one kind of source for the pair, or say why they differ."
        )
        return (
            replace(one, problems=(*one.problems, text)),
            replace(other, problems=(*other.problems, text)),
        )
    # Both may rest on the same deck and the same manual: no doubt is lessened by the pairing.
    worth = max(edge.standard for edge in roofs)
    return _with_roof(one, found.value, worth, frame), _with_roof(other, found.value, worth, frame)


def _with_roof(target: PortTarget, roof: float, standard: float, frame: Frame) -> PortTarget:
    """A target with the roof of its pair."""
    edge = replace(target.edges["roof"], place=roof, standard=standard, taken=())
    edges = {**target.edges, "roof": edge}
    return replace(target, edges=edges, port=_drawn(target.port, edges, frame))


def map_of_targets(targets: Sequence[PortTarget], given: TargetGiven) -> PortMap | None:
    """The targets as one map; nothing where there is no port."""
    if not targets:
        return None
    placed = all(one is None or one.is_placed for one in (given.found, given.frozen))
    return PortMap(tuple(one.port for one in targets), given.frame.diameter, is_placed=placed)
