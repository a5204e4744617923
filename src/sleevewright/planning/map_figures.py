"""What one port of a map comes to, in figures: widths three ways, bridges, its opening."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from sleevewright.core.engine.crank import port_opens
from sleevewright.core.ports.mapped import MappedPort, PortMap, arc_to_chord
from sleevewright.core.ports.sound import Bridge, bridges
from sleevewright.errors import InputError
from sleevewright.jobs.model import Engine
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.units import shown

_TWO_SIDES = math.sqrt(2.0)
_SMALL = 1e-5


@dataclass(frozen=True)
class PortFigure:
    """One figure of a port: its name, figure, half-width of about 95 %, unit, and of what.

    ``basis`` says in words what it is computed from.
    """

    label: str
    figure: str
    doubt: str
    unit: str
    of: str
    basis: str


def port_figures(
    port_map: PortMap, name: str, engine: Engine, *, deck: float, units: str
) -> tuple[PortFigure, ...]:
    """The figures of one port.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]
    name : str
        The port.
    engine : Engine
        Stroke and rod, for the opening. [record]
    deck : float
        Piston below the deck at top dead centre. [m]
    units : str
        System of the job.

    Returns
    -------
    tuple[PortFigure, ...]
        Width by chord, arc and angle, the wall to each neighbour, the opening. [record]
    """
    port = port_map.port(name)
    if port is None:
        return ()
    return (
        *_widths(port, port_map.diameter, units),
        *_walls(port_map, port, units),
        *_opening(port, engine, deck, units),
    )


@dataclass(frozen=True)
class _Worth:
    """A value in SI, what kind of quantity it is, and one standard uncertainty of it."""

    value: float
    quantity: str
    doubt: float


def _figure(label: str, worth: _Worth, units: str, *, of: str, basis: str) -> PortFigure:
    """A figure as it is shown, with the half-width of about 95 % where it is in doubt."""
    half = STATED_COVERAGE_FACTOR * worth.doubt
    doubt = half if half > 0.0 else None
    said = shown(worth.value, quantity=worth.quantity, system=units, doubt=doubt)
    return PortFigure(label, said.figure, said.doubt, said.unit, of, basis)


def _widths(port: MappedPort, diameter: float, units: str) -> tuple[PortFigure, ...]:
    """The width three ways, each with its label."""
    arc, doubt = port.span * diameter / 2.0, _TWO_SIDES * port.doubt.side
    found = [
        _figure("Width by arc", _Worth(arc, "size", doubt), units,
                of="along the wall, at its widest", basis="angle times half the diameter"),
        _figure("Width by angle", _Worth(port.span, "angle", 2.0 * doubt / diameter), units,
                of="seen from the axis",
                basis="from side to side"),
    ]  # fmt: skip
    if arc <= math.pi * diameter / 2.0:
        chord = arc_to_chord(arc=arc, bore=diameter)
        said = _figure("Width by chord",
                       _Worth(chord, "size", doubt * math.cos(arc / diameter)), units,
                       of="straight, as a caliper reads",
                       basis="D sin(s/D)")  # fmt: skip
        found.insert(0, said)
    return tuple(found)


def _walls(port_map: PortMap, port: MappedPort, units: str) -> tuple[PortFigure, ...]:
    """The wall to the two nearest neighbours."""
    if not port_map.is_placed:
        return ()
    near = [
        bridge
        for other in port_map.ports
        if other is not port
        for bridge in bridges(
            replace(port_map, ports=(port, other)), less_than=math.pi * port_map.diameter
        )
    ]
    nearest = sorted(near, key=lambda bridge: bridge.wall)[:2]
    return tuple(_wall(one, port, units) for one in nearest)


def _wall(bridge: Bridge, port: MappedPort, units: str) -> PortFigure:
    other = next(name for name in bridge.names if name != port.name)
    return _figure(f"Wall to {other}", _Worth(bridge.wall, "size", _TWO_SIDES * port.doubt.side),
                   units, of="narrowest, along the wall",
                   basis="least distance of the two outlines")  # fmt: skip


def _opening(port: MappedPort, engine: Engine, deck: float, units: str) -> tuple[PortFigure, ...]:
    """When the roof opens, where stroke and rod are known."""
    if engine.stroke is None or engine.rod is None:
        return ()
    crank = {"deck_clearance": deck, "stroke": engine.stroke.value, "rod": engine.rod.value}
    try:
        opens = float(port_opens(roof_depth=port.roof, **crank))
        later = float(port_opens(roof_depth=port.roof + _SMALL, **crank))
    except InputError:
        return ()  # a port below the stroke, as an inlet under the skirt, has no such opening
    doubt = abs(later - opens) / _SMALL * port.doubt.roof
    said = _figure("Crown reaches the roof", _Worth(opens, "angle", doubt), units,
                   of="after top dead centre", basis="slider-crank, pin on the axis")  # fmt: skip
    return (said,)
