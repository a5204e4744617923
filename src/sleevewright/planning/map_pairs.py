"""Left and right of each pair of ports: what differs, and whether by more than the doubt of it."""

from __future__ import annotations

from sleevewright.core.ports.mapped import MappedPort, PortMap, side_difference
from sleevewright.core.ports.pairs import pairs_by_name
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.gauges import slug
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.units import shown

Q = Quantity
TWICE = 2.0
BEYOND = "left less right; beyond twice its doubt"
WITHIN = "left less right; within twice its doubt"


def pairs_of(port_map: PortMap) -> tuple[tuple[str, MappedPort, MappedPort], ...]:
    """Pairs whose names differ by left and right alone: what they share, the left, the right."""
    by_name = {port.name: port for port in port_map.ports}
    return tuple(
        (shared, by_name[left], by_name[right]) for shared, left, right in pairs_by_name(by_name)
    )


def enter_pairs(ledger: Ledger, port_map: PortMap, prefix: str, *, units: str) -> None:
    """Enter how the ports of each pair differ in roof and width.

    Parameters
    ----------
    ledger : Ledger
        Where the answers go. [record]
    port_map : PortMap
        The map. [record]
    prefix : str
        Beginning of the names of the answers: ``found.pair``.
    units : str
        System of the job.
    """
    for shared, left, right in pairs_of(port_map):
        key = f"{prefix}.{slug(shared)}"
        half = port_map.diameter / 2.0
        for edge, words, sense, value, doubt in (
            ("roof", "roofs", "axial", (left.roof, right.roof), left.doubt.roof),
            # A width has two sides, each with a doubt of its own.
            ("width", "widths by arc", "along the wall",
             (left.span * half, right.span * half), left.doubt.side * 2.0**0.5),
        ):  # fmt: skip
            names = []
            for port, size in zip((left, right), value, strict=True):
                line = Line(f"{key}.{edge}.{slug(port.name)}", f"{port.name}, {edge}", Q.SIZE,
                            sense, is_detail=True)  # fmt: skip
                ledger.fact(line, Given(size, Kind.MEASURED, "the map", standard=doubt))
                names.append(line.id)
            line = Line(f"{key}.{edge}", f"{shared.capitalize()} ports, {words} differ",
                        Q.DEVIATION, sense)  # fmt: skip
            entry = ledger.compute(line, side_difference, left_edge=names[0], right_edge=names[1])
            least = TWICE * 2.0**0.5 * doubt
            is_beyond = abs(entry.point) > least
            ledger.amend(line.id, of=BEYOND if is_beyond else WITHIN)
            if is_beyond and edge == "roof":
                ledger.advise(_uneven(left.name, right.name, entry.point, units))


def _uneven(left: str, right: str, difference: float, units: str) -> str:
    """What to do about roofs of a pair that lie unlike."""
    deeper, higher = (left, right) if difference > 0.0 else (right, left)
    by = shown(abs(difference), quantity="size", system=units).words
    return (
        f"The roof of {deeper} lies {by} lower than that of {higher}, more than twice the doubt. "
        f"Read both again; if it stays so, one of them was worked on or cut wrong."
    )
