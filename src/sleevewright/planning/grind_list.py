"""Stage Ports: what to grind at each edge, what is lost for good, and what to do now.

Metal is target less window, along the wall at the bore: more than zero is still there.  Roofs
come first, because a roof alone moves the timing and none can be put back.  All sides are
named as seen from the axis: left is counter-clockwise seen from the deck.
"""

from __future__ import annotations

from sleevewright.core.ports.corners import CORNERS as CORNER_ROW
from sleevewright.core.ports.corners import least_in_corners
from sleevewright.core.ports.grinding import edge_metal
from sleevewright.planning.answers import Doubt, Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, known_in, ledger_of
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.gauges import slug
from sleevewright.planning.grind_map import Crank, Rules
from sleevewright.planning.grind_said import (
    area_words,
    closing_words,
    counted,
    edge_words,
    first_words,
    lost_words,
    remedy_of,
)
from sleevewright.planning.grind_step import enter_steps
from sleevewright.planning.grind_told import CLOSE, TAKE, GrindEdge, GrindMap, GrindTold
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.ports import ENGINE_DECK, ENGINE_ROD, ENGINE_STROKE

Q = Quantity
MAP = Line("grind.map", "Three maps as they lie", Q.RECORD, is_detail=True)
FIRST = Line("grind.first", "Grind now", Q.TEXT, of="seen from inside")
LEFT = Line("grind.left", "Edges left to grind", Q.COUNT)
LOST = Line("grind.lost", "Cut too far", Q.TEXT, of="metal that cannot be put back")
POSE = Line("grind.pose", "Sleeve lies", Q.TEXT)

NEED_TARGET = "map of the ports as found, or as they are to be"
NEED_SLEEVE = "map of the sleeve as supplied"
UNPLACED = "angle of every port, in both maps: without it only heights could be compared"
NOT_TURNED = "as its own map says, neither turned nor lowered"
UNPOSED = (
    "How the sleeve lies is not known, {lacking}: the list is for the sleeve as its own map says. "
    "Grind nothing by it until that is told."
)
NO_CLOCKING = "since no clocking was found"
CORNERS = "Corners come after roof and sides: finish them to the outline with a file."
ROOFS = (
    "Roofs first, the odd one before the others. Grind up to the stop line, wash, measure by depth "
    "gauge from the deck, tell it here: the list then says what remains."
)


def grind_list(plan: Plan, told: GrindTold, found: GrindMap | None) -> StageAnswers:
    """The grind list of the maps as they lie, or what it wants."""
    ledger = ledger_of(plan)
    needs = _needs(told)
    if needs or found is None:
        for line in (FIRST, LEFT, LOST):
            ledger.fact(line, Given(None, Kind.COMPUTED, need="; ".join(needs) or NEED_SLEEVE))
        if told.stopped:
            ledger.caution(
                "stopped:grind.map", f"No grind list: {told.stopped}. Grind nothing.", "derived"
            )
        return beside(plan, "ports", "Grind list", ledger.result())
    _enter(ledger, plan, told, found)
    return beside(plan, "ports", "Grind list", ledger.result())


def _needs(told: GrindTold) -> tuple[str, ...]:
    """What is missing before anything can be compared."""
    lacking = []
    if told.target is None:
        lacking.append(NEED_TARGET)
    if told.supplied is None:
        lacking.append(NEED_SLEEVE)
    maps = [one for one in (told.target, told.supplied) if one is not None]
    if maps and not all(one.is_placed for one in maps):
        lacking.append(UNPLACED)
    if told.stopped:
        lacking.append(told.stopped)
    return tuple(lacking)


def rules_of(ledger: Ledger) -> Rules:
    """What the shop holds to."""
    names = ("grind_stop", "grind_gone", "grind_odd", "guard_factor")
    return Rules(*(ledger.default(name).value for name in names))


def crank_of(plan: Plan) -> Crank | None:
    """The crank, where the plan knows it."""
    values = [known_in(plan, one.id) for one in (ENGINE_STROKE, ENGINE_ROD, ENGINE_DECK)]
    sizes = [one.value for one in values if one is not None and isinstance(one.value, float)]
    return Crank(*sizes) if len(sizes) == len(values) else None


def _enter(ledger: Ledger, plan: Plan, told: GrindTold, found: GrindMap) -> None:
    """Enter every answer of a list that could be made."""
    ledger.fact(MAP, Given(found, Kind.COMPUTED, "derived"))
    text = f"{first_words(found, plan.units)}. Left and right seen from inside"
    ledger.fact(FIRST, Given(text, Kind.COMPUTED, "derived"))
    states = counted(found)
    ledger.fact(LEFT, Given(float(states[TAKE] + states[CLOSE]), Kind.COMPUTED, "derived"))
    ledger.fact(LOST, Given(lost_words(found, plan.units), Kind.COMPUTED, "derived"))
    ledger.fact(POSE, Given(told.pose.words or NOT_TURNED, Kind.COMPUTED, "derived"))
    for edge in found.edges:
        _enter_edge(ledger, plan, edge)
    for name, areas in found.areas.items():
        line = Line(f"grind.{slug(name)}.area", f"{name.capitalize()}, area", Q.TEXT,
                    of="along the wall at the bore")  # fmt: skip
        take, gone = (area_words(one, plan.units) for one in (areas.to_take, areas.gone))
        ledger.fact(line, Given(f"{take} to grind, {gone} gone", Kind.COMPUTED, "derived"))
    enter_steps(ledger, plan, told, found)
    _say(ledger, told, found, plan.units)
    _say_doubtful(ledger, told, found, plan.units)


def _enter_edge(ledger: Ledger, plan: Plan, edge: GrindEdge) -> None:
    """Enter one edge: its metal, its doubt and its verdict."""
    key = f"grind.{slug(edge.metal.port)}.{edge.metal.edge}"
    axial = edge.metal.edge in ("roof", "floor")
    stations = Line(f"{key}.stations", f"{edge.name}, metal at its stations", Q.RECORD,
                    is_detail=True)  # fmt: skip
    ledger.fact(stations, Given(edge.metal, Kind.COMPUTED, "derived"))
    line = Line(
        key,
        edge.name.capitalize(),
        Q.METAL,
        "axial" if axial else "along the wall",
        of=edge_words(edge, plan.units),
        would_change="measure this edge again: a depth gauge for a roof, a caliper for a side",
    )
    formula = least_in_corners if edge.metal.edge == CORNER_ROW else edge_metal
    ledger.compute(line, formula, CENTRALLY, port_edge=stations.id)
    judge = against_limit(
        -ledger.default("grind_gone").value, "least", remedy=remedy_of(edge.metal.edge, edge.kind)
    ).by(ledger.default("guard_factor").value)
    standard = edge.metal.doubt
    half = STATED_COVERAGE_FACTOR * standard
    doubt = Doubt(standard, edge.mean - half, edge.mean + half, 0.95, "linear")
    judgement = judge(edge.metal.least, None, standard)
    ledger.amend(key, doubt=doubt if standard > 0.0 else None, judgement=judgement)


def _say(ledger: Ledger, told: GrindTold, found: GrindMap, units: str) -> None:
    """Say how to go about it, and which ports could not be compared."""
    ledger.advise(ROOFS)
    ledger.advise(CORNERS)
    known = {port.name for port in found.target.ports}
    for words, maps in (("sleeve", told.supplied), ("wanted map", told.target)):
        other = told.target if maps is told.supplied else told.supplied
        names = () if other is None else tuple(p.name for p in other.ports if p.name not in known)
        if names:
            ledger.caution(
                f"unmatched:grind.{words}",
                f"The {words} has no port called {', '.join(names)}: not on the list. Give it "
                "the same name in both maps.",
                "derived",
            )
    if not told.pose.words:
        lacking = f"wanted {told.pose.lacking}" if told.pose.lacking else NO_CLOCKING
        ledger.caution("pose:grind.map", UNPOSED.format(lacking=lacking), "derived")
    if lost_words(found, units).startswith("none"):
        return
    ledger.advise("What is cut too far cannot be put back: tell the customer, and write it down.")


def _say_doubtful(ledger: Ledger, told: GrindTold, found: GrindMap, units: str) -> None:
    """Say which readings were left out, which cannot be true, and what was taken unread."""
    for reason in found.refused:
        ledger.caution("refused:grind.map", f"A new reading was left out. {reason}", "derived")
    for need in told.needs:
        ledger.caution(
            "needs:grind.map", f"Left out of the list: {need.removesuffix('.')}.", "derived"
        )
    for one in found.closed:
        key = f"closed:grind.{slug(one.port)}.{slug(one.what)}"
        ledger.caution(key, closing_words(one, units), "derived")
    for words in told.taken:
        ledger.advise(words)
    if found.sharp:
        ledger.advise(
            f"Corners of {', '.join(found.sharp)} are not judged: tell their radius, in the "
            "sleeve's map and in the map that is wanted."
        )
