"""What is said of the targets: roofs with what they rest on, and the words for every paper."""

from __future__ import annotations

from collections.abc import Sequence

from sleevewright.core.engine.crank import port_opens
from sleevewright.core.ports.agree import stop_line, weighted_mean
from sleevewright.core.ports.crank_offset import passes_down
from sleevewright.jobs.catalog_targets import (
    BY_CASTING,
    BY_CYLINDER,
    BY_FOUND,
    BY_LIBRARY,
    BY_MANUAL,
    BY_MIRROR,
    BY_TYPED,
    NOT_TOUCHED,
    OWN,
    STOCK,
)
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan
from sleevewright.planning.facing_told import tried
from sleevewright.planning.gauges import slug
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.port_manual import PIN
from sleevewright.planning.port_sources import UNSAID, Offer
from sleevewright.planning.port_target import LEAST_DOUBT, MATCHED_ONE, ChosenEdge, PortTarget
from sleevewright.planning.ports import ENGINE_DECK, ENGINE_ROD, ENGINE_STROKE
from sleevewright.units.figures import shown

Q = Quantity

MATCHED = (
    "Ports matched to this cylinder as found. No factory dimensions were available. Earlier hand "
    "work, if any, is reproduced and was not judged."
)
"""What every paper says of a cylinder of which nothing but itself is known."""

MATCHED_LINE = Line("target.matched", "Every paper says of the ports", Q.TEXT)
"""The answer that papers and the release take their words from."""

AS_FOUND_TITLE, STOCK_TITLE, TARGET_TITLE = (
    "as found, the target",
    "stock, the target",
    "the target",
)

_KINDS = {
    BY_MANUAL: "the manual's degrees",
    BY_MIRROR: "the mirror port",
    BY_CYLINDER: "another cylinder",
    BY_LIBRARY: "the shop's own maps",
    BY_CASTING: "the casting's window",
    BY_FOUND: "as found",
    BY_TYPED: "the size that was typed",
}


MAPS_APART = (
    " Of maps of the shop: mark the port as worked on by hand in the job where it was, or name "
    "one of them at Choice as the map of another cylinder."
)


def enter_targets(ledger: Ledger, plan: Plan, targets: Sequence[PortTarget]) -> None:
    """Enter every roof that is to be, with its sources, its stop line and its opening."""
    crank = (ENGINE_DECK, ENGINE_STROKE, ENGINE_ROD)
    if not all(ledger.has(line.id) for line in crank):
        for line in crank:
            from_plan(ledger, plan, line.id, need=line.label.lower())
    ledger.fact(
        MATCHED_LINE, Given(matched_words(targets), Kind.COMPUTED, "the choice of each port")
    )
    for target in targets:
        _enter_target(ledger, plan, target)


def _enter_target(ledger: Ledger, plan: Plan, target: PortTarget) -> None:
    """Enter one port's target."""
    key, name = f"target.{slug(target.name)}", target.name.capitalize()
    _enter_roof(ledger, target, plan.units)
    ledger.fact(
        Line(f"{key}.doubt", f"{name}, doubt of that roof", Q.DEVIATION, is_detail=True),
        Given(target.edges["roof"].standard, Kind.COMPUTED, "its sources"),
    )
    stop = Line(
        f"{key}.stop",
        f"{name}, stop line at",
        Q.SIZE,
        "axial",
        of="deeper than the target by its doubt: measure again there, then ask",
        is_detail=True,
    )
    ledger.compute(stop, stop_line, roof=f"{key}.roof", standard=f"{key}.doubt")
    opens = Line(f"{key}.opens", f"{name}, opens as it is to be", Q.ANGLE, is_detail=True,
                 of="after top dead centre")  # fmt: skip
    crank = {"deck_clearance": ENGINE_DECK.id, "stroke": ENGINE_STROKE.id, "rod": ENGINE_ROD.id}
    if ledger.has(PIN.id):
        tried(
            ledger, plan, opens, passes_down, edge_depth=f"{key}.roof", pin_offset=PIN.id, **crank
        )
    else:
        tried(ledger, plan, opens, port_opens, roof_depth=f"{key}.roof", **crank)
    for text in (*target.problems, *target.needs):
        ledger.advise(f"{text[:1].upper()}{text[1:].rstrip('.')}.")
    for edge in target.edges.values():
        if not edge.is_decided:
            words = apart_words(target.name, edge, plan.units)
            ledger.caution(f"{key}.{edge.edge}", words, "practice")


def _enter_roof(ledger: Ledger, target: PortTarget, system: str) -> None:
    """Enter the roof that is to be: the mean of its sources, one after the other, or the one."""
    key, roof = f"target.{slug(target.name)}", target.edges["roof"]
    line = Line(f"{key}.roof", f"{target.name.capitalize()}, roof to be", Q.SIZE, "axial",
                of=_of(target))  # fmt: skip
    taken = [] if target.is_frozen else list(roof.taken)
    if len(taken) > 1 and roof.is_decided:
        _enter_mean(ledger, line, taken)
        return
    side_by_side = sources_words(roof, system)
    source = f"{edge_words(roof)}: {side_by_side}" if side_by_side else edge_words(roof)
    kind = Kind.CHOSEN if target.is_frozen else Kind.COMPUTED
    ledger.fact(line, Given(roof.place, kind, source, standard=roof.standard))


def _enter_mean(ledger: Ledger, line: Line, taken: Sequence[tuple[Offer, float, float]]) -> None:
    """Enter sources that agree, and their mean by what each is worth."""
    worth = 0.0
    for number, (one, place, standard) in enumerate(taken):
        name = f"{line.id}_{number}"
        kept = max(standard, LEAST_DOUBT)
        fact = Line(name, f"{line.label}: {one.kind}", Q.SIZE, "axial", one.words, is_detail=True)
        ledger.fact(fact, Given(place, Kind.COMPUTED, one.words, standard=kept))
        known = Line(f"{name}_u", f"{line.label}: {one.kind}, u", Q.DEVIATION, is_detail=True)
        ledger.fact(known, Given(kept, Kind.COMPUTED, one.words))
        if not number:
            last, last_u, worth = name, f"{name}_u", kept
            continue
        is_last = number == len(taken) - 1
        mean = line if is_last else Line(f"{name}_mean", f"{line.label}: so far", Q.SIZE,
                                         is_detail=True)  # fmt: skip
        ledger.compute(
            mean, weighted_mean, one=last, one_standard=last_u, other=name,
            other_standard=f"{name}_u",
        )  # fmt: skip
        worth = (worth**-2.0 + kept**-2.0) ** -0.5
        last, last_u = mean.id, f"{name}_mean_u"
        so_far = Line(last_u, f"{line.label}: so far, u", Q.DEVIATION, is_detail=True)
        ledger.fact(so_far, Given(worth, Kind.COMPUTED, "its sources"))


def _of(target: PortTarget) -> str:
    """What the target is, in a few words."""
    if target.is_frozen:
        return f"frozen with the job; {target.wish.words or 'as typed'}"
    if not target.is_decided:
        return "not decided: the one that leaves most metal, until one is taken"
    return _edge_says(target, "roof")


def edge_words(edge: ChosenEdge) -> str:
    """What an edge rests on."""
    return ", ".join(_KINDS.get(kind, kind) for kind in edge.kinds)


def sources_words(edge: ChosenEdge, system: str) -> str:
    """Every source of an edge with its figure and doubt, side by side."""
    return "; ".join(
        f"{one.kind} {size_words(place, worth, system)} ({one.words}{_count(one)})"
        for one, place, worth in edge.said
    )


def _count(one: Offer) -> str:
    return f", n {one.count}" if one.count > 1 else ""


def size_words(place: float, worth: float, system: str) -> str:
    """A place in the job's units with its doubt, the half-width of about 95 %."""
    doubt = 2.0 * worth if worth > 0.0 else None
    found = shown(place, quantity=Q.SIZE.value, system=system, doubt=doubt)
    half = f" ±{found.doubt}" if found.doubt else ""
    return f"{found.figure}{half} {found.unit}"


def apart_words(name: str, edge: ChosenEdge, system: str) -> str:
    """Why no mean was taken, with every figure."""
    kinds = [one.kind for one, *_ in edge.taken]
    told = " and ".join(
        f"{one.kind if kinds.count(one.kind) == 1 else f'{one.kind}, {_map_words(one)},'} "
        f"{size_words(place, worth, system)}"
        for one, place, worth in edge.taken
    )
    which = MAPS_APART if kinds.count(BY_LIBRARY) > 1 else ""
    return (
        f"{name.capitalize()}, {edge.edge}: its sources do not agree within twice their doubt "
        f"({told}), so no mean is taken. Take one of them, with a reason.{which} Until then the "
        "one that leaves most metal is drawn."
    )


def _map_words(one: Offer) -> str:
    """The job of a map without what is said of it."""
    return one.words.split(";")[0].split(": ")[-1]


def has_stock(targets: Sequence[PortTarget]) -> bool:
    """Whether anything but this cylinder as found stands behind any port."""
    return any(not one.is_as_found for one in targets)


def matched_words(targets: Sequence[PortTarget]) -> str:
    """What every paper says the ports were made to; empty where there are none."""
    if not targets:
        return ""
    if not has_stock(targets):
        return MATCHED
    lines: dict[str, list[str]] = {}
    for one in targets:
        lines.setdefault(_port_says(one), []).append(one.name)
    told = "; ".join(f"{', '.join(names)}: {words}" for words, names in lines.items())
    return f"{told[:1].upper()}{told[1:]}."


def _port_says(target: PortTarget) -> str:
    """What one port was made to."""
    if target.is_frozen:
        return _frozen_says(target)
    if target.is_as_found:
        return MATCHED_ONE
    untouched = target.wish.touched == NOT_TOUCHED and target.wish.wanted == STOCK
    if untouched and all(edge.kinds == (BY_FOUND,) for edge in target.edges.values()):
        return "as found, never worked on"
    told = {edge: _edge_says(target, edge) for edge in ("roof", "floor", "left", "right")}
    if len(set(told.values())) == 1:
        return told["roof"]
    sides = told["left"] if told["left"] == told["right"] else f"{told['left']}, {told['right']}"
    rest = sides if sides == told["floor"] else f"{sides}, floor {told['floor']}"
    return f"roof {told['roof']}, sides and corners {rest}"


def _frozen_says(target: PortTarget) -> str:
    """What a frozen port was made to, by what was written when it was frozen."""
    if target.wish.words:
        return target.wish.words
    if target.wish.wanted == OWN:
        return "to the customer's own sizes"
    return "to the sizes that were typed"


def _edge_says(target: PortTarget, name: str) -> str:
    """What one edge was made to; the mirrored port by its name."""
    edge = target.edges[name]
    if not edge.is_decided:
        return "not decided"
    nouns = [_noun(edge, kind) for kind in edge.kinds]
    verb = "matched to" if edge.kinds[0] in (BY_MIRROR, BY_FOUND) else "to"
    if len(nouns) == 1:
        return f"{verb} {nouns[0]}"
    return f"{verb} {', '.join(nouns[:-1])} and {nouns[-1]}"


def _noun(edge: ChosenEdge, kind: str) -> str:
    """What a source is called; the mirrored port by its name, what nobody vouched for as such."""
    rows = [one for one, *_ in edge.said if one.kind == kind]
    own = rows[0].words if rows else ""
    if kind == BY_MIRROR and own:
        return f"the {own}" if edge.kinds == (kind,) else f"the mirrored {own.split(',')[0]}"
    unsaid, count = (sum(getattr(one, what) for one in rows) for what in ("unsaid", "count"))
    noun = _KINDS.get(kind, kind)
    if not unsaid:
        return noun
    return f"{noun} ({'' if unsaid == count else f'{unsaid} of {count} '}{UNSAID})"


def frozen_words(target: PortTarget) -> str:
    """What is written beside a target when it is frozen."""
    return _port_says(target)


def target_title(targets: Sequence[PortTarget]) -> str:
    """What the solid outline is called in a picture: stock only where every port is."""
    if not has_stock(targets):
        return AS_FOUND_TITLE
    every = all(one.wish.wanted == STOCK and not one.is_as_found for one in targets)
    return STOCK_TITLE if every else TARGET_TITLE
