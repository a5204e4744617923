"""Signs that ports were worked on by hand, each with its figure.

What was found is held against its twin, the deck, the manual, its own other corner and the
casting behind it.  A sign is no proof.  The machinist looks at the edges and says which ports were
touched.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sleevewright.core.allowances import rest_of
from sleevewright.core.ports.agree import APART_ALLOWED
from sleevewright.core.ports.mapped import MappedPort, PortMap
from sleevewright.core.ports.mirror import brought_near
from sleevewright.core.ports.signs import beyond_window, corners_apart, in_doubts, roof_fall
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.gauges import slug
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.port_sources import twin_of

Q = Quantity
NONE_SEEN = "none by the figures; look at the edges all the same"


@dataclass(frozen=True)
class SignsTold:
    """What signs are looked for in.

    Attributes
    ----------
    found : PortMap
        The cylinder as it came.
    cast : PortMap | None
        The windows of the casting.
    manual : Mapping[str, float]
        By port, the opening after top dead centre that the manual gives. [rad]
    opens : Mapping[str, float]
        By port, its opening as found. [rad]
    bright : Mapping[str, str]
        By port, which edges were seen bright.
    side : float
        Doubt of a side of the casting's window, one standard uncertainty. [m]
    """

    found: PortMap
    cast: PortMap | None = None
    manual: Mapping[str, float] = field(default_factory=dict)
    opens: Mapping[str, float] = field(default_factory=dict)
    bright: Mapping[str, str] = field(default_factory=dict)
    side: float = 0.0


def enter_signs(ledger: Ledger, told: SignsTold) -> tuple[str, ...]:
    """Enter every sign with its figure; the ports that show one, in their order."""
    shown: list[str] = []
    names = tuple(port.name for port in told.found.ports)
    for port in told.found.ports:
        seen = (
            _unlike_twin(ledger, port, told.found, names),
            _falls(ledger, port, told.found),
            _off_manual(ledger, port, told),
            _corners(ledger, port, told.found),
            _beyond(ledger, port, told),
            _bright(ledger, port, told),
        )
        if any(seen):
            shown.append(port.name)
    line = Line("signs.ports", "Signs of hand work", Q.TEXT,
                of="a sign is no proof: say which ports were touched")  # fmt: skip
    ledger.fact(line, Given(", ".join(shown) or NONE_SEEN, Kind.COMPUTED, source="practice"))
    return tuple(shown)


def _key(port: MappedPort) -> str:
    return f"signs.{slug(port.name)}"


def _place(ledger: Ledger, line: Line, value: float, standard: float) -> str:
    """Enter a place that was measured; its name."""
    ledger.fact(line, Given(value, Kind.MEASURED, "the map as found", standard=standard))
    return line.id


def _unlike_twin(ledger: Ledger, port: MappedPort, found: PortMap, names: tuple[str, ...]) -> bool:
    """A pair's roofs apart by more than twice their combined doubt; said once, of the left one."""
    twin = found.port(twin_of(port.name, names))
    if twin is None or port.name > twin.name:
        return False
    doubts = {"one_standard": port.doubt.roof, "other_standard": twin.doubt.roof}
    if (
        max(doubts.values()) <= 0.0
        or abs(in_doubts(port.roof, twin.roof, **doubts)) <= APART_ALLOWED
    ):
        return False
    whole = _place(ledger, Line(f"{_key(port)}.roof", f"{port.name}, roof", Q.SIZE, "axial",
                                is_detail=True), port.roof, port.doubt.roof)  # fmt: skip
    part = _place(ledger, Line(f"{_key(twin)}.roof", f"{twin.name}, roof", Q.SIZE, "axial",
                               is_detail=True), twin.roof, twin.doubt.roof)  # fmt: skip
    line = Line(f"{_key(port)}.twin", f"{port.name.capitalize()}, roof deeper than {twin.name}",
                Q.READING, "axial", of="more than twice the doubt of both")  # fmt: skip
    ledger.compute(line, rest_of, whole=whole, part=part)
    return True


def _points(ledger: Ledger, port: MappedPort, found: PortMap) -> str:
    """Enter the outline along the wall; its name."""
    line = Line(f"{_key(port)}.outline", f"{port.name}, outline", Q.RECORD, is_detail=True)
    along = port.along(found.diameter)
    ledger.fact(line, Given(along, Kind.MEASURED, "the map as found"))
    return line.id


def _falls(ledger: Ledger, port: MappedPort, found: PortMap) -> bool:
    """A roof that is not parallel to the deck; one that was told by its sizes is level."""
    if port.shape is not None:
        return False
    least = ledger.default("sign_fall").value + STATED_COVERAGE_FACTOR * port.doubt.roof
    if abs(roof_fall(port.along(found.diameter))) <= least:
        return False
    line = Line(f"{_key(port)}.fall", f"{port.name.capitalize()}, roof falls to the right",
                Q.READING, "axial", of="seen from inside, across its whole width")  # fmt: skip
    ledger.compute(line, roof_fall, CENTRALLY, points=_points(ledger, port, found))
    return True


def _corners(ledger: Ledger, port: MappedPort, found: PortMap) -> bool:
    """Left and right corners of one port unlike; of sizes all corners are one."""
    if port.shape is not None:
        return False
    least = ledger.default("sign_corners").value + STATED_COVERAGE_FACTOR * port.doubt.side
    if corners_apart(port.along(found.diameter)) <= least:
        return False
    line = Line(f"{_key(port)}.corners", f"{port.name.capitalize()}, corners unlike by", Q.SIZE,
                of="radius, left against right")  # fmt: skip
    ledger.compute(line, corners_apart, CENTRALLY, points=_points(ledger, port, found))
    return True


def _off_manual(ledger: Ledger, port: MappedPort, told: SignsTold) -> bool:
    """An opening off the manual's by more than a degree."""
    opens, manual = told.opens.get(port.name), told.manual.get(port.name)
    if opens is None or manual is None:
        return False
    if abs(opens - manual) <= ledger.default("sign_opening").value:
        return False
    whole = Line(f"{_key(port)}.opens", f"{port.name}, opens", Q.ANGLE, is_detail=True)
    part = Line(f"{_key(port)}.printed", f"{port.name}, by the manual", Q.ANGLE, is_detail=True)
    ledger.fact(whole, Given(opens, Kind.COMPUTED, "the map as found"))
    ledger.fact(part, Given(manual, Kind.TYPED, "the manual"))
    line = Line(
        f"{_key(port)}.manual",
        f"{port.name.capitalize()} opens later than the manual says",
        Q.ANGLE,
        of="after top dead centre; negative where earlier",
    )
    ledger.compute(line, rest_of, CENTRALLY, whole=whole.id, part=part.id)
    return True


def _beyond(ledger: Ledger, port: MappedPort, told: SignsTold) -> bool:
    """The old sleeve's window larger than the casting's window behind it."""
    window = None if told.cast is None or not told.cast.is_placed else told.cast.port(port.name)
    if window is None or not told.found.is_placed:
        return False
    wall = told.found.diameter
    window = brought_near(window, near=port.middle)
    by = beyond_window(port.along(wall), window.along(wall))
    edge = max(by, key=lambda one: by[one])
    if by[edge] <= STATED_COVERAGE_FACTOR * max(told.side, port.doubt.side):
        return False
    line = Line(f"{_key(port)}.beyond", f"{port.name.capitalize()}, {edge} beyond the casting's",
                Q.READING, of="along the wall, seen from inside")  # fmt: skip
    doubt = max(told.side, port.doubt.side)
    ledger.fact(line, Given(by[edge], Kind.MEASURED, "both maps", standard=doubt))
    return True


def _bright(ledger: Ledger, port: MappedPort, told: SignsTold) -> bool:
    """Edges that were seen bright beside cast skin."""
    text = told.bright.get(port.name, "").strip()
    if not text:
        return False
    line = Line(f"{_key(port)}.bright", f"{port.name.capitalize()}, seen bright", Q.TEXT)
    ledger.fact(line, Given(text, Kind.TYPED, "the job", text))
    return True
