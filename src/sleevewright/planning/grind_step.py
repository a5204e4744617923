"""Stage Ports: the shelf between the sleeve's windows and the casting's, edge by edge."""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.ports.grinding import edge_metal
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.shelf import EdgeStep, on_outside, shelf
from sleevewright.jobs.catalog_maps import EXHAUST
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import known_in
from sleevewright.planning.gauges import slug
from sleevewright.planning.grind_said import length_words
from sleevewright.planning.grind_told import GrindMap, GrindTold
from sleevewright.planning.ledger import Given, Ledger, Line

Q = Quantity
WORTH = 1.0e-4
"""A step below this is none: what a file leaves. [m]"""

NEED_OUTSIDE = "outside of the sleeve, where its windows meet those of the casting"
NEED_ANGLES = "angle of every window of the casting"

UNSAID = (
    "How the sleeve's windows were cut was not told: the shelf is reckoned for radial sides. "
    "Parallel ones come out narrower on the outside, by a millimetre or more a side."
)


def enter_steps(ledger: Ledger, plan: Plan, told: GrindTold, found: GrindMap) -> None:
    """Enter the shelf of every port whose window in the casting is known, or what it wants."""
    _enter_needs(ledger, plan, told, found)
    outside = known_in(plan, "sleeve.od")
    if told.cast is None or outside is None or not isinstance(outside.value, float):
        return
    there = {port.name for port in told.cast.ports}
    ports = tuple(port for port in found.now.ports if port.name in there)
    if not ports or not told.cast.is_placed:
        return
    windows = PortMap(ports, found.now.diameter, found.now.is_placed)
    names = {port.name for port in ports}
    kept = tuple(port for port in told.cast.ports if port.name in names)
    cast = replace(told.cast, ports=kept)
    out = on_outside(windows, outside_diameter=outside.value, walls=told.walls)
    exhausts = frozenset(n for n in names if told.kinds.get(n, "") == EXHAUST)
    steps = shelf(cast, out, exhausts=exhausts)
    for name in sorted(names, key=[port.name for port in ports].index):
        words = shelf_words([one for one in steps if one.metal.port == name], plan.units)
        ledger.fact(_line(name), Given(words, Kind.COMPUTED, "derived"))
    if not told.is_cut_told:
        ledger.advise(UNSAID)


def _line(name: str) -> Line:
    """The answer of one port."""
    return Line(f"grind.{slug(name)}.shelf", f"{name.capitalize()}, shelf", Q.TEXT,
                of="on the outside of the sleeve; seen from inside")  # fmt: skip


def _enter_needs(ledger: Ledger, plan: Plan, told: GrindTold, found: GrindMap) -> None:
    """Enter what the shelf of a port still wants, where its window in the casting was told."""
    outside = known_in(plan, "sleeve.od")
    needs = []
    if outside is None or not isinstance(outside.value, float):
        needs.append(NEED_OUTSIDE)
    if told.cast is not None and not told.cast.is_placed:
        needs.append(NEED_ANGLES)
    for name in (port.name for port in found.now.ports if port.name in told.cast_told):
        own = [
            f"window of the casting, {one.removeprefix(f'{name}: ')}"
            for one in told.cast_needs
            if told.cast is None or one.startswith(f"{name}: ")
        ]
        if own or needs:
            given = Given(None, Kind.COMPUTED, need="; ".join((*own, *needs)))
            ledger.fact(_line(name), given)


def shelf_words(steps: list[EdgeStep], units: str) -> str:
    """What stands out at which edge, what to grind, and whether the flow meets it."""
    said = []
    for one in sorted(steps, key=lambda step: (not step.is_facing, -abs(edge_metal(step.metal)))):
        size = abs(edge_metal(one.metal))
        if size < WORTH:
            continue
        what = (
            "iron over aluminium, grind iron"
            if one.is_iron
            else ("aluminium inside iron, grind the casting")
        )
        faces = "faces the flow" if one.is_facing else "flow leaves over it"
        said.append(f"{one.metal.edge} {length_words(size, units)} {what} ({faces})")
    return "; ".join(said) or "no step worth a file"
