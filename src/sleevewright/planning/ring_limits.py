"""What rings ask of a map's windows: widths, corners, bars between them, and the pegs.

Each map is held against the same limits: the one that was chosen, the sleeve as it came, the
ports as left.  A limit of common practice is called by the end of its range that every shop
accepts; the whole range stands beside the figure.  Widths are chords of single windows, bars
are along the wall.
"""

from __future__ import annotations

import math
from collections.abc import Hashable
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import combinations

from sleevewright.core.allowances import rest_of
from sleevewright.core.engine.ring_ends import ring_end_room, window_share
from sleevewright.core.ports.mapped import MappedPort, PortMap, arc_to_chord
from sleevewright.core.ports.ring_limits import ring_bow_ratio, wall_between
from sleevewright.jobs.catalog_maps import EXHAUST, MAP_TITLES
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.facing_told import tried
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, assumed
from sleevewright.planning.gauges import slug
from sleevewright.planning.judging import LimitJudge, against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line, StageResult
from sleevewright.planning.nearest_windows import nearest_pair
from sleevewright.planning.ring_limits_said import Said, ring_limit
from sleevewright.planning.ringports import NEVER

Q = Quantity
KEPT = 48
"""Maps whose answers are kept: three of every cylinder that is looked at in a day."""
DRAWS = 1000
"""Draws behind these doubts, which are one or two told ones: known to two digits."""

WIDER = "a ring bows into it: a bridge, or a narrower window"
THIN = "it cracks or burns away: leave more metal between them"
SHARP = "a ring snags at its corners: a larger radius"
OVER = "never fit it so: the ring end springs into the port; another place for it"
MOST_OF_BORE = 0.98


@dataclass(frozen=True)
class Windows:
    """One map to be held against what rings ask.

    Attributes
    ----------
    key : str
        Which map: ``target``, ``supplied`` or ``left``.
    map : PortMap
        Its windows, where they are or will be.
    kinds : dict[str, str]
        What each window is for, by its name.
    radii : dict[str, Entry]
        Corner radii that were told, by name.
    pegs : tuple[tuple[str, float], ...]
        Ring pegs by number, clockwise seen from the deck. [rad]
    gap : float
        Widest end gap of a ring. [m]
    before : PortMap | None
        The ports as found, to say how a wider window weighs.
    placed_by : str
        By which pose the windows lie where they lie, in words.
    lacking : tuple[str, ...]
        Ports that could not be drawn, each with what is missing.
    """

    key: str
    map: PortMap
    kinds: dict[str, str]
    radii: dict[str, Entry]
    pegs: tuple[tuple[str, float], ...] = ()
    gap: float = 0.0
    before: PortMap | None = None
    placed_by: str = ""
    lacking: tuple[str, ...] = ()

    @property
    def start(self) -> str:
        """Beginning of the names of its answers."""
        return f"portlimits.{self.key}"

    def is_exhaust(self, port: MappedPort) -> bool:
        """Whether a window is one of the exhaust's."""
        return self.kinds.get(port.name) == EXHAUST


@dataclass(frozen=True)
class Asked:
    """What is asked of a map; two are one where everything that was told is the same.

    Attributes
    ----------
    told : Hashable
        All that the answers rest on, as it was told.
    plan : Plan
        Whose units, seed and settings count; they are among what was told.
    windows : Windows
        The map, made of what was told.
    """

    told: Hashable
    plan: Plan = field(compare=False)
    windows: Windows = field(compare=False)


@lru_cache(maxsize=KEPT)
def windows_held(asked: Asked) -> StageResult:
    """Every window of a map against what rings ask of it, and the wall between them."""
    plan = asked.plan
    ledger = Ledger(count=DRAWS, seed=plan.seed, chosen=plan.chosen)
    enter_windows(ledger, plan, asked.windows)
    return ledger.result()


def asked_of(plan: Plan, windows: Windows, maps: Hashable) -> Asked:
    """What is asked of a map that was made of some told maps."""
    drawn = tuple(
        (one.diameter, one.is_placed, tuple((p.name, p.roof, p.floor, p.middle) for p in one.ports))
        for one in (windows.map, windows.before)
        if one is not None
    )
    told = (
        maps, drawn, windows.key, tuple(windows.kinds.items()), windows.pegs, windows.gap,
        windows.placed_by, plan.units, plan.seed, plan.chosen,
    )  # fmt: skip
    return Asked(told, plan, windows)


def enter_windows(ledger: Ledger, plan: Plan, told: Windows) -> None:
    """Enter widths, corners, bars and pegs of one map."""
    bore = Line(f"{told.start}.bore", f"Wall of the map {MAP_TITLES[told.key]}", Q.SIZE,
                "diametral", is_detail=True)  # fmt: skip
    ledger.fact(bore, Given(told.map.diameter, Kind.COMPUTED, "the map"))
    for port in told.map.ports:
        _enter_width(ledger, plan, told, port)
        _enter_corner(ledger, plan, told, port)
    _enter_groups(ledger, told)
    _enter_weight(ledger, plan, told)
    if told.map.is_placed:
        _enter_bars(ledger, plan, told)
        for peg in told.pegs:
            _enter_peg(ledger, plan, told, peg)
    if told.pegs:
        ledger.advise(NEVER)
    lacking = list(told.lacking)
    if not told.map.is_placed:
        lacking.append("places round the bore, for bars and pegs")
    if lacking:
        line = Line(f"{told.start}.lacks", "Not held against the limits", Q.TEXT)
        ledger.fact(line, Given("; ".join(lacking), Kind.COMPUTED, "the job"))


def _chord(port: MappedPort, diameter: float) -> float | None:
    """Width of a window as a caliper reads it; nothing where it goes half round."""
    arc = port.span * diameter / 2.0
    if arc >= math.asin(MOST_OF_BORE) * diameter:
        return None
    return arc_to_chord(arc=arc, bore=diameter)


def _enter_width(ledger: Ledger, plan: Plan, told: Windows, port: MappedPort) -> None:
    """Enter the width of one window by the bore, against the most of its kind."""
    chord = _chord(port, told.map.diameter)
    name, key = port.name.capitalize(), f"{told.start}.{slug(port.name)}"
    if chord is None:
        ledger.caution(f"portlimits:{key}", f"{name} is wider than half round the bore: arc and "
                       "chord, or the bore, may be mixed up.", "derived")  # fmt: skip
        return
    doubt = math.sqrt(2.0) * port.doubt.side
    line = Line(f"{key}.chord", f"{name}, width", Q.SIZE, "chord", is_detail=True)
    ledger.fact(line, Given(chord, Kind.COMPUTED, "the map", standard=doubt))
    most, words = _most_of(ledger, is_exhaust=told.is_exhaust(port))
    share = Line(f"{key}.share", f"{name}, width by the bore", Q.RATIO, "chord", of=words)
    judge = against_limit(most, "most", remedy=WIDER)
    tried(
        ledger,
        plan,
        share,
        window_share,
        How(judge=judge),
        chord=line.id,
        bore=f"{told.start}.bore",
    )


def _most_of(ledger: Ledger, *, is_exhaust: bool) -> tuple[float, str]:
    """Widest window of its kind, as a share of the bore, and who says so."""
    if not is_exhaust:
        said = ring_limit("transfer_width")
        return said.judged, f"one window, {said.words}"
    start, most = ledger.default("window_start"), ledger.default("window_most")
    words = f"one window, start at {100 * start.value:g} %, at most {100 * most.value:g} %"
    return most.value, f"{words} ({most.source})"


def _enter_corner(ledger: Ledger, plan: Plan, told: Windows, port: MappedPort) -> None:
    """Enter by how much the told corner radius of one window is over the least of its kind."""
    radius = told.radii.get(port.name)
    if radius is None:
        return
    said = ring_limit("exhaust_corner" if told.is_exhaust(port) else "transfer_corner")
    key, name = f"{told.start}.{slug(port.name)}", port.name.capitalize()
    # A radius gauge goes by half millimetres: it is known no better than the side.
    standard = radius.doubt / STATED_COVERAGE_FACTOR if radius.doubt else port.doubt.side
    own = Line(f"{key}.corner_radius", f"{name}, corner radius", Q.SIZE, is_detail=True)
    ledger.fact(own, Given(radius.value, Kind(radius.kind), "the job", radius.text, standard))
    over = Line(f"{key}.corner", f"{name}, corner radius over the least", Q.READING, of=said.words)
    enter_over(ledger, plan, over, own, (said, against_limit(0.0, "least", remedy=SHARP)))


def enter_over(
    ledger: Ledger, plan: Plan, line: Line, own: Line, limit: tuple[Said, LimitJudge]
) -> None:
    """Enter by how much a told size is over a limit of the table, and the verdict on it."""
    said, judge = limit
    least = Line(f"{own.id}_least", f"least, {own.label}", Q.SIZE, is_detail=True)
    ledger.fact(least, assumed(said.judged, source=said.source))
    tried(ledger, plan, line, rest_of, How(judge=judge), whole=own.id, part=least.id)


def _groups(told: Windows) -> dict[str, list[MappedPort]]:
    """Windows of bridged ports by the name of their port; single windows are not in it."""
    found: dict[str, list[MappedPort]] = {}
    for port in told.map.ports:
        found.setdefault(port.group or port.name, []).append(port)
    return {name: ports for name, ports in found.items() if len(ports) > 1}


def _enter_groups(ledger: Ledger, told: Windows) -> None:
    """Enter what bridged ports are for the flow: all their windows together."""
    for name, ports in _groups(told).items():
        chords = [_chord(port, told.map.diameter) for port in ports]
        known = [one for one in chords if one is not None]
        if len(known) < len(ports):
            continue
        line = Line(
            f"{told.start}.{slug(name)}.together",
            f"{name.capitalize()}, its windows together",
            Q.SIZE,
            "chord",
            of="for the flow; rings go by the widest single window",
        )
        standard = math.sqrt(sum(2.0 * port.doubt.side**2 for port in ports))
        ledger.fact(line, Given(sum(known), Kind.COMPUTED, "the map", standard=standard))


def _widest_exhaust(told: Windows, ports: PortMap) -> MappedPort | None:
    """The widest single window of the exhaust in a map."""
    found = [port for port in ports.ports if told.is_exhaust(port)]
    return max(found, key=lambda port: port.span, default=None)


def _enter_weight(ledger: Ledger, plan: Plan, told: Windows) -> None:
    """Enter how many times as far a ring bows into the widest exhaust window as it was found."""
    if told.before is None:
        return
    now, was = _widest_exhaust(told, told.map), _widest_exhaust(told, told.before)
    width = None if now is None else f"{told.start}.{slug(now.name)}.chord"
    before = None if was is None else _chord(was, told.before.diameter)
    if width is None or was is None or before is None or not ledger.has(width):
        return
    line = Line(f"{told.start}.before", "widest exhaust window as found", Q.SIZE, "chord",
                is_detail=True)  # fmt: skip
    standard = math.sqrt(2.0) * was.doubt.side
    ledger.fact(line, Given(before, Kind.COMPUTED, "the map", standard=standard))
    bows = Line(
        f"{told.start}.bows",
        "A ring bows into the widest exhaust window",
        Q.RATIO,
        of="times as far as into the one as found: by the fourth power of the width; a ratio only",
    )
    tried(ledger, plan, bows, ring_bow_ratio, width=width, reference_width=line.id)


def _enter_bars(ledger: Ledger, plan: Plan, told: Windows) -> None:
    """Enter the thinnest bridge of each bridged port, and the thinnest wall between the others."""
    for name, ports in _groups(told).items():
        is_exhaust = told.is_exhaust(ports[0])
        limit = "exhaust_bar" if is_exhaust else "transfer_bar"
        words = f"Bridge of {name}"
        _enter_bar(ledger, plan, told, list(combinations(ports, 2)), (f"{slug(name)}.bridge", words,
                   limit))  # fmt: skip
    pairs = [
        (one, other)
        for one, other in combinations(told.map.ports, 2)
        if (one.group or one.name) != (other.group or other.name)
    ]
    beside = [pair for pair in pairs if any(map(told.is_exhaust, pair))]
    others = [pair for pair in pairs if not any(map(told.is_exhaust, pair))]
    # Nobody tells a least for the wall beside an exhaust: it is taken as a bridge of one.
    words = "Thinnest wall beside the exhaust"
    _enter_bar(ledger, plan, told, beside, ("bar_exhaust", words, "exhaust_bar"))
    _enter_bar(
        ledger, plan, told, others, ("bar", "Thinnest wall between two others", "transfer_bar")
    )


def _enter_bar(
    ledger: Ledger,
    plan: Plan,
    told: Windows,
    pairs: list[tuple[MappedPort, MappedPort]],
    what: tuple[str, str, str],
) -> None:
    """Enter the thinnest of some walls between two windows."""
    if not pairs:
        return
    key, words, limit = what
    start, round_bore = f"{told.start}.{key}", math.pi * told.map.diameter
    one, other = nearest_pair(pairs, told.map.diameter)
    inputs = {}
    for name, value in (
        ("one", one.along(told.map.diameter)),
        ("other", other.along(told.map.diameter)),
        ("round_bore", round_bore),
    ):
        label = {"one": one.name, "other": other.name}.get(name, "wall all round")
        quantity = Q.SIZE if name == "round_bore" else Q.RECORD
        line = Line(f"{start}.{name}", label, quantity, is_detail=True)
        ledger.fact(line, Given(value, Kind.COMPUTED, "the map"))
        inputs[name] = line.id
    drawn = Line(f"{start}.drawn", f"{words}, as mapped", Q.SIZE, "along the wall", is_detail=True)
    tried(ledger, plan, drawn, wall_between, CENTRALLY, **inputs)
    missed = Line(f"{start}.missed", "sides of both, misread", Q.DEVIATION, is_detail=True)
    standard = math.hypot(one.doubt.side, other.doubt.side)
    ledger.fact(missed, assumed(0.0, source="the map", standard=standard))
    said = ring_limit(limit)
    between = f"{one.name} and {other.name}; {said.words}"
    line = Line(start, words, Q.SIZE, "along the wall", of=between)
    judge = against_limit(said.judged, said.side, remedy=THIN)
    tried(ledger, plan, line, rest_of, How(judge=judge), whole=drawn.id, part=missed.id)


def _enter_peg(ledger: Ledger, plan: Plan, told: Windows, peg: tuple[str, float]) -> None:
    """Enter the wall between the ends of a ring on its peg and the nearest window."""
    number, angle = peg
    bore = told.map.diameter
    rooms = []
    for port in told.map.ports:
        chord = _chord(port, bore)
        if chord is None:
            continue
        room = ring_end_room(peg=angle, window=port.middle, chord=chord, bore=bore, gap=told.gap)
        rooms.append((float(room), port, chord))
    if not rooms:
        return
    _, port, chord = min(rooms, key=lambda one: one[0])
    start = f"{told.start}.peg.{number}"
    half = ledger.default("round_angle").value / STATED_COVERAGE_FACTOR
    for name, words, quantity, given in (
        ("peg", f"peg {number} at", Q.ANGLE, Given(angle, Kind.MEASURED, "the job", "", half)),
        ("window", f"{port.name} at", Q.ANGLE,
         Given(port.middle, Kind.COMPUTED, "the map", "", 2.0 * port.doubt.side / bore)),
        ("chord", f"{port.name}, width", Q.SIZE,
         Given(chord, Kind.COMPUTED, "the map", "", math.sqrt(2.0) * port.doubt.side)),
        ("gap", "widest end gap", Q.DEVIATION,
         Given(told.gap, Kind.MEASURED if told.gap else Kind.ASSUMED, "the job")),
    ):  # fmt: skip
        ledger.fact(Line(f"{start}.{name}", words, quantity, is_detail=True), given)
    least = ledger.default("ring_end_room").value
    judge = against_limit(least, "least", remedy=OVER)
    line = Line(
        f"{start}.room",
        f"Peg {number}: wall to the edge of {port.name}",
        Q.SIZE,
        "along the wall",
        of=f"from the nearer ring end{told.placed_by}; below nought it runs over the port",
    )
    names = ("peg", "window", "chord", "gap")
    inputs = {name: f"{start}.{name}" for name in names}
    tried(ledger, plan, line, ring_end_room, How(judge=judge), bore=f"{told.start}.bore", **inputs)


def with_turned(told: Windows, angle: float, words: str, down: float = 0.0) -> Windows:
    """The same windows where a pose puts them, with the words for it."""
    return replace(told, map=told.map.turned(angle, down=down), placed_by=words)
